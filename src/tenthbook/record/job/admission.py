"""May this be recorded? `admit` tries every rule of `rules` on a proposed act.

Every broken rule is named at once, with what was found, what is expected and the way on. Nothing is written on a
refusal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from pydantic import ValidationError

from tenthbook.numbers.because import Refusal, WrongInput, faults_of
from tenthbook.record.book import Book, Size, book_digest, book_of, hindering, with_rows
from tenthbook.record.book.checks import check
from tenthbook.record.book.findings import Weight
from tenthbook.record.book.form_rules import COLUMN_KNOWN
from tenthbook.record.job.aftermath import as_it_counts
from tenthbook.record.job.disposing import admit_disposition
from tenthbook.record.job.handling import OF_HANDLING, admit_in_hand, admit_removed
from tenthbook.record.job.handling_rules import CLEANED_FIRST, PART_HERE, PART_NOT_SCRAPPED, ROW_SHOWN
from tenthbook.record.job.intake import OF_INTAKE
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.job.rules import (
    ABOVE_ZERO,
    BOOK_FIRST,
    BOOK_ONCE,
    CONFORMANCE,
    DOUBT_STATED,
    FIRST_OPENS,
    GAUGE_SET,
    IN_CALIBRATION,
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
    TAG_NEW,
    TAG_WRITTEN,
)
from tenthbook.record.job.standing import (
    admit_correction,
    admit_laying_down,
    admit_override,
    admit_re_verified,
    admit_seen,
    admit_signature,
    admit_withdrawal,
    broken,
)
from tenthbook.record.job.standing_rules import CORRECTABLE_FIELD
from tenthbook.record.job.state import JobState
from tenthbook.record.job.tags import next_tag
from tenthbook.record.ledger import Draft


def _admit_part(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    tag = data["tag"]
    yield from broken(TAG_WRITTEN, f"tag {tag!r}", f"a tag such as {next_tag(state.tags)}", tag=tag)
    yield from broken(
        TAG_NEW, f"tag {tag} on another part", f"the next free tag, {next_tag(state.tags)}", tag=tag, tags=state.tags
    )
    yield from broken(
        PART_IN_BOOK, f"part {data['part']!r}", "one of " + ", ".join(book.parts), part=data["part"], parts=book.parts
    )
    yield from admit_removed(state, data, book)


def _admit_row(state: JobState, data: Mapping[str, Any], book: Book, size: Size) -> Iterator[Refusal]:
    part = state.parts[data["tag"]].part
    own = ", ".join(row.id for row in book.sizes_of(part)) or "no row at all"
    yield from broken(
        OWN_FEATURE, f"{size.id} on {data['tag']} ({part})", f"one of {own}", part=part, row_part=size.part
    )
    found = f"row {size.id} as {data['row_digest'][:12]}"
    yield from broken(
        ROW_AS_PINNED,
        found,
        f"the pinned row, {size.digest[:12]}",
        digest=data["row_digest"],
        pinned_digest=size.digest,
    )


def _admit_reading(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    size = book.sizes.get(data["row"])
    tags = ", ".join(state.parts) or "no part yet"
    yield from broken(ON_BENCH, f"tag {data['tag']!r}", f"one of {tags}", tag=data["tag"], tags=state.parts)
    yield from admit_in_hand(state, data["tag"])
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
        yield from broken(POINT_OR_SIGN, repr(data["value"]), "a decimal point or a sign", value=data["value"])
        yield from broken(ABOVE_ZERO, repr(data["value"]), "a size above nought", value=data["value"], measure=measure)
    able = [one.id for one in state.gauges.values() if one.expanded.unit.kind == kind]
    expected = "one of " + (", ".join(able) or f"no gauge for a {kind} yet")
    yield from broken(GAUGE_SET, f"gauge {data['gauge']!r}", expected, gauge=data["gauge"], gauges=able)


def _admit_row_typed(state: JobState, data: Mapping[str, Any], book: Book) -> Iterator[Refusal]:
    table, cells = data["table"], data["cells"]
    row = cells.get("id", "")
    given = [typed.get("id", "") for name, typed in state.typed.values() if name == table]
    ids = [*book.rows.get(table, ()), *given]
    yield from broken(ROW_ID_NEW, f"id {row!r} in {table}", "an id of its own", row=row, ids=ids)
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
        yield from broken(ROW_DIGEST, found, f"as {with_it[:12]}", digest=data["digest"], with_it=with_it)


def _admit_due(state: JobState, draft: Draft, gauge: str) -> Iterator[Refusal]:
    held = state.gauges.get(gauge)
    due = draft.data["due"] if draft.kind == "gauge set" else held.due if held else ""
    found = f"{gauge}, in calibration until {due}, used on {draft.acted_at[:10]}"
    yield from broken(IN_CALIBRATION, found, due=due, day=draft.acted_at[:10])


def _admit_gauge(state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    data = draft.data
    found = f"{data['expanded']} at k = {data['coverage_factor']}"
    case = {"expanded": data["expanded"], "factor": data["coverage_factor"]}
    yield from broken(DOUBT_STATED, found, "a doubt with its unit above nought, and a factor above nought", **case)
    yield from _admit_due(state, draft, data["gauge"])


def _admit_settings(_state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    conformance = draft.data["conformance"]
    expected = "a number from 0.5 to below 1, such as 0.95"
    yield from broken(CONFORMANCE, repr(conformance), expected, conformance=conformance)


def _admit_answer(state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    questions = ", ".join(map(str, state.questions)) or "none"
    found, expected = f"entry {draft.data['entry']}", f"an open question: {questions}"
    yield from broken(QUESTION_OPEN, found, expected, entry=draft.data["entry"], questions=state.questions)


def _admit_taken(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    yield from _admit_reading(state, draft.data, book)
    yield from _admit_due(state, draft, draft.data["gauge"])


def _admit_photograph(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    tag, row = draft.data["tag"], draft.data["row"]
    yield from broken(ROW_SHOWN, f"row {row!r}", "a size row of the book, or none", row=row, rows=book.sizes)
    tags = ", ".join(state.parts) or "no part yet"
    if tag:
        yield from broken(ON_BENCH, f"tag {tag!r}", f"one of {tags}, or none", tag=tag, tags=state.parts)


_JUDGED_ANEW = (
    "reading taken",
    "question asked",
    "gauge set",
    "photographed",
    "times stated",
    "owner approved",
    "finding priced",
    "task taken on",
    "cleaned",
    "inspected",
    "crack-tested",
    "finding seen",
)
_OF_THE_MOMENT = (PART_HERE.id, PART_NOT_SCRAPPED.id, CLEANED_FIRST.id)  # what held when it was done, held then


def _fits_form(kind: str, data: Mapping[str, Any]) -> Iterator[Refusal]:
    try:
        KINDS[kind].fields.model_validate(dict(data))
    except ValidationError as error:
        for fault in faults_of(error.errors(), KINDS[kind].fields.model_json_schema()):
            yield Refusal(CORRECTABLE_FIELD.id, f"{fault.path} {fault.found}", fault.expected, CORRECTABLE_FIELD.todo)


def _admit_corrected(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    """A correction, and then the act as it would count, judged as if it were recorded now."""
    own = list(admit_correction(state, draft))
    yield from own
    if own:
        return
    act = state.entries[draft.data["entry"]].draft
    as_corrected = {**as_it_counts(state, draft.data["entry"]), **draft.data["fields"]}
    wrong = list(_fits_form(act.kind, as_corrected))
    yield from wrong
    if not wrong and act.kind in _JUDGED_ANEW:
        anew = replace(act, data=as_corrected)
        found = OF_INTAKE[act.kind](state, anew) if act.kind in OF_INTAKE else _OF_KIND[act.kind](state, anew, book)
        yield from (one for one in found if one.rule not in _OF_THE_MOMENT)


_OF_KIND: dict[str, Callable[[JobState, Draft, Book], Iterator[Refusal]]] = {
    **OF_HANDLING,
    "row typed": lambda state, draft, book: _admit_row_typed(state, draft.data, book),
    "part removed": lambda state, draft, book: _admit_part(state, draft.data, book),
    "reading taken": _admit_taken,
    "question asked": _admit_taken,
    "question answered": _admit_answer,
    "gauge set": _admit_gauge,
    "settings chosen": _admit_settings,
    "photographed": _admit_photograph,
    "corrected": _admit_corrected,
    "withdrawn": admit_withdrawal,
    "disposed": admit_disposition,
    "signed": lambda state, draft, _book: admit_signature(state, draft),
    "gate overridden": lambda state, draft, _book: admit_override(state, draft),
    "re-verified": lambda state, draft, _book: admit_re_verified(state, draft),
    "handed over": lambda state, draft, _book: admit_laying_down(state, draft),
    "hand-over received": lambda state, draft, _book: admit_laying_down(state, draft),
    "taken up": lambda state, draft, _book: admit_laying_down(state, draft),
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
        *broken(FIRST_OPENS, f"{kind!r} as entry {number}", number=number, kind=kind),
        *broken(KNOWN_KIND, f"{kind!r}, version {draft.version}", kind=kind, version=draft.version),
        *broken(BOOK_FIRST, f"{kind!r} before a book is pinned", kind=kind, pinned=bool(state.book)),
    ]
    if number > 0 and not refusals:
        refusals += admit_seen(state, draft)
    if kind == "book pinned":
        refusals += broken(BOOK_ONCE, "a second book", "the book pinned first", pinned=bool(state.book))
    if kind in OF_INTAKE and not refusals:
        refusals += OF_INTAKE[kind](state, draft)
    if book is not None and not refusals and kind in _OF_KIND:
        refusals += _OF_KIND[kind](state, draft, book)
    return tuple(refusals)
