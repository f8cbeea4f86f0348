"""May what is done with covers and parts be recorded? Off and on, tags, cleaning, looks, tests, away and back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from tenthbook.numbers.because import Refusal
from tenthbook.record.book import Book
from tenthbook.record.job.handling_rules import (
    BOOK_HOLDS,
    BOOK_SAME_TYPE,
    CLEANED_AFTER,
    CLEANED_FIRST,
    COVER_IN_BOOK,
    COVER_ORDER,
    COVER_STATE,
    DEMAGNETISED,
    INDICATION_TOLD,
    KIND_OF_LOOK,
    LOOK_OF_PART,
    MATE_TAGGED,
    ONE_PLACE,
    PART_HERE,
    PART_NOT_SCRAPPED,
    PART_REACHED,
    PLUGS_BACK,
)
from tenthbook.record.job.intake_rules import ANSWERED_ONCE
from tenthbook.record.job.looks import covers_off, looks_due
from tenthbook.record.job.rules import ON_BENCH, PART_IN_BOOK
from tenthbook.record.job.standing import broken
from tenthbook.record.job.state import JobState
from tenthbook.record.ledger import Draft

Data = Mapping[str, Any]


def _cover(state: JobState, book: Book, cover: str, wants_off: bool) -> Iterator[Refusal]:
    covers, off = book.rows["access"], covers_off(state)
    yield from broken(COVER_IN_BOOK, f"cover {cover!r}", "one of " + ", ".join(covers), cover=cover, covers=covers)
    is_off = cover in off
    lies = f"{cover}, which is {'off' if is_off else 'on'}"
    yield from broken(COVER_STATE, lies, wants_off=wants_off, is_off=is_off)


def _cover_removed(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    cover = draft.data["cover"]
    yield from _cover(state, book, cover, wants_off=False)
    row = book.rows["access"].get(cover)
    before = row.text("behind") if row is not None else ""
    in_the_way = (before,) if before and before not in covers_off(state) else ()
    yield from broken(COVER_ORDER, f"{cover} behind {before}, which is on", in_the_way=in_the_way)


def _cover_closed(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    cover = draft.data["cover"]
    yield from _cover(state, book, cover, wants_off=True)
    behind = {row.id for row in book.rows["access"].values() if row.text("behind") == cover}
    in_the_way = tuple(one for one in covers_off(state) if one in behind)
    yield from broken(COVER_ORDER, f"{cover} over {', '.join(in_the_way)}, off", in_the_way=in_the_way)


def _counted(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    yield from _cover(state, book, draft.data["cover"], wants_off=True)


def admit_removed(state: JobState, data: Data, book: Book) -> Iterator[Refusal]:
    """Judge whether a part could be reached, and what it runs with.

    Args:
        state: The job as it stands.
        data: Fields of the act.
        book: The pinned book.

    Yields:
        What the act would break.
    """
    row = book.rows["parts"].get(data["part"])
    behind, off = row.text("behind") if row is not None else "", tuple(covers_off(state))
    yield from broken(PART_REACHED, f"{data['part']} behind {behind}, which is on", behind=behind, off=off)
    mate = data["mated_with"]
    yield from broken(MATE_TAGGED, f"mated with {mate!r}", mate=mate, tags=tuple(state.parts))


def admit_in_hand(state: JobState, tag: str) -> Iterator[Refusal]:
    """Judge whether a part is here and still to be worked on.

    Args:
        state: The job as it stands.
        tag: Its tag.

    Yields:
        What the act would break.
    """
    sent = state.away.get(tag)
    where = f"{tag}, sent to {sent.told['to']} by entry {sent.entry}" if sent else tag
    yield from broken(PART_HERE, where, away=tag if sent else "")
    decided = state.dispositions.get(tag)
    word = decided.word if decided is not None else ""
    entry = f" by entry {decided.entry}" if decided is not None else ""
    yield from broken(PART_NOT_SCRAPPED, f"{tag}: {word}{entry}", word=word)


def _on_bench(state: JobState, tag: str) -> Iterator[Refusal]:
    tags = ", ".join(state.parts) or "no part yet"
    yield from broken(ON_BENCH, f"tag {tag!r}", f"one of {tags}", tag=tag, tags=state.parts)


def admit_place(state: JobState, data: Data, book: Book) -> Iterator[Refusal]:
    """Judge how an act names its part: by the tag, or by the book's id where it was not removed.

    Args:
        state: The job as it stands.
        data: Fields of the act.
        book: The pinned book.

    Yields:
        What the act would break.
    """
    tag, part = data["tag"], data.get("part", "")
    yield from broken(ONE_PLACE, f"tag {tag!r} and part {part!r}", tag=tag, part=part)
    if tag:
        yield from _on_bench(state, tag)
    if part:
        yield from broken(PART_IN_BOOK, f"part {part!r}", "one of the book's parts", part=part, parts=book.parts)


def _part_id(state: JobState, data: Data) -> str:
    on_bench = state.parts.get(data["tag"])
    return on_bench.part if on_bench is not None else str(data.get("part", ""))


def _look(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    data = draft.data
    yield from admit_place(state, data, book)
    yield from admit_in_hand(state, data["tag"])
    part, named = _part_id(state, data), data["inspection"]
    row = book.rows["inspections"].get(named)
    of_row = (row.text("part"), KIND_OF_LOOK[row.text("what")]) if row is not None else ("", "")
    case = {"inspection": named, "part": part, "kind": draft.kind, "row_part": of_row[0], "row_kind": of_row[1]}
    own = [one.id for one in book.rows["inspections"].values() if one.text("part") == part]
    yield from broken(LOOK_OF_PART, f"{named!r} for {part}, {draft.kind}", "one of " + ", ".join(own), **case)
    if draft.kind != "cleaned":
        due = looks_due(state, book, part, data["tag"] or part)
        dirty = tuple(one.row.id for one in due if one.kind == "cleaned" and one.closed_by < 0)
        yield from broken(CLEANED_FIRST, f"{', '.join(dirty)} open", dirty=dirty)


def _cleaned(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    yield from _look(state, draft, book)
    case = {name: draft.data[name] for name in ("plugs_out", "plugs_in")}
    yield from broken(PLUGS_BACK, f"{case['plugs_in']} plugs in, {case['plugs_out']} out", **case)


def _told(draft: Draft, word: str) -> Iterator[Refusal]:
    case = {"indicated": draft.data["result"] == word, "says": draft.data["says"]}
    yield from broken(INDICATION_TOLD, f"{word}, and no word of it", **case)


def _inspected(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    yield from _look(state, draft, book)
    yield from _told(draft, "found")


def _crack_tested(state: JobState, draft: Draft, book: Book) -> Iterator[Refusal]:
    yield from _look(state, draft, book)
    yield from _told(draft, "indication")
    row = book.rows["inspections"].get(draft.data["inspection"])
    asked = row is not None and row.says_yes("demagnetise")
    yield from broken(DEMAGNETISED, "no residual field", asked=asked, residual=draft.data["residual"])
    yield from broken(CLEANED_AFTER, "not cleaned afterwards", cleaned_after=draft.data["cleaned_after"])


def _finding(state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    if draft.data["tag"]:
        yield from _on_bench(state, draft.data["tag"])


def _sent_out(state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    yield from _on_bench(state, draft.data["tag"])
    yield from admit_in_hand(state, draft.data["tag"])


def _returned(state: JobState, draft: Draft, _book: Book) -> Iterator[Refusal]:
    entry, waiting = draft.data["entry"], tuple(act.entry for act in state.away.values())
    expected = "one that is away: " + (", ".join(map(str, waiting)) or "none is")
    yield from broken(ANSWERED_ONCE, f"entry {entry}", expected, entry=entry, waiting=waiting)


OF_HANDLING: dict[str, Callable[[JobState, Draft, Book], Iterator[Refusal]]] = {
    "cover removed": _cover_removed,
    "cover closed": _cover_closed,
    "counted": _counted,
    "cleaned": _cleaned,
    "inspected": _inspected,
    "crack-tested": _crack_tested,
    "finding seen": _finding,
    "sent out": _sent_out,
    "returned": _returned,
}


def admit_move(state: JobState, data: Data, pinned: Book, book: Book) -> Iterator[Refusal]:
    """Judge a move to another revision of the book.

    Args:
        state: The job as it stands.
        data: Fields of the act.
        pinned: The book it is judged by now.
        book: The book it would be judged by.

    Yields:
        What the act would break.
    """
    yield from broken(BOOK_SAME_TYPE, f"a book of {data['type']}", type=data["type"], pinned=pinned.type)
    used = {one.row for one in state.readings.values()} | {one.reading.row for one in state.questions.values()}
    missing = sorted(used - set(book.sizes)) + sorted({one.part for one in state.parts.values()} - set(book.parts))
    yield from broken(BOOK_HOLDS, f"a book without {', '.join(missing)}", missing=tuple(missing))
