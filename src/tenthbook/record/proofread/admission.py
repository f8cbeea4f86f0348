"""May this second reading be recorded?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal, Rule
from tenthbook.record.book import Book
from tenthbook.record.ledger import Draft, person_name
from tenthbook.record.proofread.blind import compare_again, compared_columns
from tenthbook.record.proofread.overlay import Overlay
from tenthbook.record.proofread.rules import ANOTHER_DAY, BLIND, DISPUTE_ENDS, FIRST_OPENS, ROW_STANDS, SOMETHING_READ


def _broken(rule: Rule, found: str, **case: Any) -> Iterator[Refusal]:
    if not rule.holds(**case):
        yield Refusal(rule.id, found, rule.says, rule.todo)


def _admit_row(draft: Draft, data: Mapping[str, Any], book: Book, overlay: Overlay) -> Iterator[Refusal]:
    row = book.rows.get(data["table"], {}).get(data["row"])
    digests = (row.digest,) if row is not None else ()
    found = f"row {data['row']} as {data['row_digest'][:12]}"
    yield from _broken(ROW_STANDS, found, digest=data["row_digest"], digests=digests)
    if row is None:
        return
    compared = {column.name for column in compared_columns(row.table)}
    strange = tuple(name for name in data["cells"] if name not in compared)
    read = sum(1 for text in data["cells"].values() if text.strip())
    found = ", ".join(strange) or "nothing read"
    yield from _broken(SOMETHING_READ, found, strange=strange, read=read)
    differs = [one.column for one in compare_again(row, data["cells"])]
    said = list(data.get("differs", ()))
    if said != differs or not BLIND.holds(kind=draft.kind, differs=differs):
        yield Refusal(BLIND.id, f"{draft.kind}; differing: {', '.join(differs) or 'nothing'}", BLIND.says, BLIND.todo)
    same, day = person_name(data["typed_by"]) == person_name(draft.person), draft.acted_at[:10]
    found = f"{draft.person}, who typed it on {data['typed_on'] or 'a day not known'}, reading on {day}"
    yield from _broken(ANOTHER_DAY, found, same_person=same, typed_on=data["typed_on"], read_on=day)
    last = overlay.readings.get(data["row_digest"])
    if draft.kind == "row verified" and last is not None and last.differs:
        facts = {"disputed_by": person_name(last.person), "disputed_on": last.read_at[:10]}
        found = f"{draft.person}, who disputed it on {last.read_at[:10]}"
        yield from _broken(DISPUTE_ENDS, found, **facts, person=person_name(draft.person), read_on=day)


def admit_reading(overlay: Overlay, draft: Draft, book: Book | None) -> tuple[Refusal, ...]:
    """Judge a proposed entry of a book's stream.

    Args:
        overlay: What was read again up to the last entry.
        draft: What is proposed.
        book: The book whose rows are read; None for an entry that is about none.

    Returns:
        Every rule it would break; empty where it may be recorded.
    """
    number = overlay.number + 1
    refusals = list(_broken(FIRST_OPENS, f"{draft.kind!r} as entry {number}", number=number, kind=draft.kind))
    if book is not None and not refusals and draft.kind in ("row verified", "row disputed"):
        refusals += _admit_row(draft, draft.data, book, overlay)
    return tuple(refusals)
