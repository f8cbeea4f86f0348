"""May this be recorded? `admit` tries every rule of `rules` on a proposed act.

Every broken rule is named at once, with what was found, what is expected and the way on. Nothing is written on a
refusal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule, WrongInput
from tenthbook.record.book import Book, Size, book_digest, book_of, hindering, with_rows
from tenthbook.record.book.checks import check
from tenthbook.record.book.findings import Weight
from tenthbook.record.book.form_rules import COLUMN_KNOWN
from tenthbook.record.job.rules import (
    ABOVE_ZERO,
    BOOK_FIRST,
    BOOK_ONCE,
    CONFORMANCE,
    DOUBT_STATED,
    FIRST_OPENS,
    GAUGE_SET,
    KNOWN_KIND,
    OF_KIND,
    ON_BENCH,
    OWN_FEATURE,
    PART_IN_BOOK,
    POINT_OR_SIGN,
    QUESTION_OPEN,
    ROW_AS_PINNED,
    ROW_DIGEST,
    ROW_ID_NEW,
    ROW_UNUSED,
    STANDS,
    TAG_NEW,
    TAG_WRITTEN,
)
from tenthbook.record.job.state import JobState
from tenthbook.record.job.tags import next_tag
from tenthbook.record.ledger import Draft


def _broken(rule: Rule, found: str, expected: str = "", **case: Any) -> Iterator[Refusal]:
    if not rule.holds(**case):
        yield Refusal(rule.id, found, expected or rule.says, rule.todo)


def _admit_part(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    tag = data["tag"]
    yield from _broken(TAG_WRITTEN, f"tag {tag!r}", f"a tag such as {next_tag(state.parts)}", tag=tag)
    yield from _broken(
        TAG_NEW, f"tag {tag} on another part", f"the next free tag, {next_tag(state.parts)}", tag=tag, tags=state.parts
    )
    yield from _broken(
        PART_IN_BOOK, f"part {data['part']!r}", "one of " + ", ".join(book.parts), part=data["part"], parts=book.parts
    )


def _admit_row(state: JobState, data: Mapping[str, Any], book: Book, size: Size) -> Iterator[Refusal]:
    part = state.parts[data["tag"]].part
    own = ", ".join(row.id for row in book.sizes_of(part)) or "no row at all"
    yield from _broken(
        OWN_FEATURE, f"{size.id} on {data['tag']} ({part})", f"one of {own}", part=part, row_part=size.part
    )
    found = f"row {size.id} as {data['row_digest'][:12]}"
    yield from _broken(
        ROW_AS_PINNED,
        found,
        f"the pinned row, {size.digest[:12]}",
        digest=data["row_digest"],
        pinned_digest=size.digest,
    )


def _admit_reading(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    size = book.sizes.get(data["row"])
    tags = ", ".join(state.parts) or "no part yet"
    yield from _broken(ON_BENCH, f"tag {data['tag']!r}", f"one of {tags}", tag=data["tag"], tags=state.parts)
    if size is None:
        yield Refusal(OWN_FEATURE.id, f"row {data['row']!r}", "a size row of the pinned book", OWN_FEATURE.todo)
    elif data["tag"] in state.parts:
        yield from _admit_row(state, data, book, size)
    kind = size.unit.kind if size is not None else "length"
    if not OF_KIND.holds(value=data["value"], kind=kind):
        such = f"a {kind} such as 0.5094 in, with a point" if kind == "length" else f"a {kind} with its unit"
        yield Refusal(OF_KIND.id, repr(data["value"]), such, OF_KIND.todo)
    else:
        measure = size.measure if size is not None else ""
        yield from _broken(POINT_OR_SIGN, repr(data["value"]), "a decimal point or a sign", value=data["value"])
        yield from _broken(ABOVE_ZERO, repr(data["value"]), "a size above nought", value=data["value"], measure=measure)
    able = [one.id for one in state.gauges.values() if one.expanded.unit.kind == kind]
    expected = "one of " + (", ".join(able) or f"no gauge for a {kind} yet")
    yield from _broken(GAUGE_SET, f"gauge {data['gauge']!r}", expected, gauge=data["gauge"], gauges=able)


def _admit_row_typed(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    table, cells = data["table"], data["cells"]
    row = cells.get("id", "")
    given = [typed.get("id", "") for name, typed in state.typed.values() if name == table]
    ids = [*book.rows.get(table, ()), *given]
    yield from _broken(ROW_ID_NEW, f"id {row!r} in {table}", "an id of its own", row=row, ids=ids)
    try:
        draft = with_rows(book, [(table, cells)])
    except WrongInput as wrong:
        yield from (Refusal(COLUMN_KNOWN.id, f"{one.path} {one.found}", one.expected) for one in wrong.faults)
        return
    closed = hindering(draft, row)
    if row not in ids:
        yield from (Refusal(one.rule, f"{one.column} {one.found}", one.expected, one.todo) for one in closed)
    own = () if closed else tuple(one for one in check(draft) if one.row == row and one.weight is Weight.WRONG)
    yield from (Refusal(one.rule, f"{one.column} {one.found}", one.expected, one.todo) for one in own)
    if not closed and not own:
        with_it = book_digest(book_of(draft, kept=True))
        found = f"the book as {data['digest'][:12]}"
        yield from _broken(ROW_DIGEST, found, f"as {with_it[:12]}", digest=data["digest"], with_it=with_it)


def _rests_on(state: JobState, table: str, row: str, book: Book) -> list[str]:
    """What would be left without ground if a typed row were withdrawn."""
    readings = [one for one in state.readings.values() if one.entry not in state.withdrawn]
    readings += [question.reading for question in state.questions.values()]
    rests = [f"entry {one.entry}" for one in readings if table == "sizes" and one.row == row]
    rests += [f"part {one.tag}" for one in state.parts.values() if table == "parts" and one.part == row]
    return rests + [f"row {one.row}" for one in hindering(with_rows(book, (), {(table, row)}), row)]


def _admit_withdrawal(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    entry = data["entry"]
    readings = [number for number in state.readings if number not in state.withdrawn]
    standing = [*readings, *state.typed_rows]
    expected = "an entry that counts: " + (", ".join(map(str, sorted(standing))) or "none")
    yield from _broken(STANDS, f"entry {entry}", expected, entry=entry, standing=standing)
    if entry in state.typed_rows:
        table, cells = state.typed_rows[entry]
        rests = _rests_on(state, table, cells["id"], book)
        found = f"{cells['id']}, on which rests {', '.join(rests)}"
        yield from _broken(ROW_UNUSED, found, "a row on which nothing rests", rests=rests)


def _admit_gauge(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    found = f"{data['expanded']} at k = {data['coverage_factor']}"
    case = {"expanded": data["expanded"], "factor": data["coverage_factor"]}
    yield from _broken(DOUBT_STATED, found, "a doubt with its unit above nought, and a factor above nought", **case)


def _admit_settings(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    expected = "a number from 0.5 to below 1, such as 0.95"
    yield from _broken(CONFORMANCE, repr(data["conformance"]), expected, conformance=data["conformance"])


def _admit_answer(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:  # noqa: ARG001 - same shape
    questions = ", ".join(map(str, state.questions)) or "none"
    found, expected = f"entry {data['entry']}", f"an open question: {questions}"
    yield from _broken(QUESTION_OPEN, found, expected, entry=data["entry"], questions=state.questions)


_OF_KIND: dict[str, Callable[[JobState, Mapping[str, Any], Book], Iterator[Refusal]]] = {
    "row typed": _admit_row_typed,
    "part removed": _admit_part,
    "reading taken": _admit_reading,
    "question asked": _admit_reading,
    "question answered": _admit_answer,
    "gauge set": _admit_gauge,
    "settings chosen": _admit_settings,
    "withdrawn": _admit_withdrawal,
}


def admit(state: JobState, draft: Draft, book: Book | None) -> tuple[Refusal, ...]:
    """Judge a proposed act at the head that `state` stands for.

    Args:
        state: The job as it stands.
        draft: What is proposed.
        book: The pinned book; None before one is pinned.

    Returns:
        Every rule it would break; empty where it may be recorded.
    """
    number, kind = state.number + 1, draft.kind
    refusals = [
        *_broken(FIRST_OPENS, f"{kind!r} as entry {number}", number=number, kind=kind),
        *_broken(KNOWN_KIND, f"{kind!r}, version {draft.version}", kind=kind, version=draft.version),
        *_broken(BOOK_FIRST, f"{kind!r} before a book is pinned", kind=kind, pinned=bool(state.book)),
    ]
    if kind == "book pinned":
        refusals += _broken(BOOK_ONCE, "a second book", "the book pinned first", pinned=bool(state.book))
    if book is not None and not refusals and kind in _OF_KIND:
        refusals += _OF_KIND[kind](state, draft.data, book)
    return tuple(refusals)
