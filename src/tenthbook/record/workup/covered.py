"""What is open behind a cover: its pieces that are not settled, and what was not counted.

A piece with a tag is settled by its tag. Those of a part that were not removed are settled together, by the part's id:
not disturbed, or looked at in place. A row that only names what other parts are sold in is no piece.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.numbers.because import Because, BookRow, Rule
from tenthbook.record.job.looks import covers_off
from tenthbook.record.job.state import Act, Disposition, JobState
from tenthbook.record.workup.deciding import refuse_disposition
from tenthbook.record.workup.deciding_rules import SERVICEABLE
from tenthbook.record.workup.gate_rules import (
    COUNTED,
    COUNTS,
    COVERS_BEHIND,
    DECIDED,
    DOUBT,
    HOLD,
    PIECE_THERE,
    QUESTION,
    STILL_HOLDS,
)
from tenthbook.record.workup.still_open import Facts, Undone, away_line, cited, looks_open, named
from tenthbook.record.workup.whole import WorkUp


def _line(facts: Facts, of: str, what: str, rule: Rule, *entries: int) -> Undone:
    state, rows = facts.state, facts.book.rows["parts"]
    part = state.parts[of].part if of in state.parts else of
    because = Because(rule.id, tuple(sorted(entries)), (cited(rows[part]),) if part in rows else ())
    return Undone(named(facts.book, state, of), what, because)


def pieces_behind(facts: Facts, cover: str) -> list[str]:
    """List the parts behind a cover.

    Args:
        facts: What is known.
        cover: Id of the cover.

    Returns:
        Ids of the book's parts, in its order; a row that other parts are sold in is none.
    """
    rows = facts.book.rows["parts"].values()
    sets = {row.text("sold_in") for row in rows}
    return [row.id for row in rows if row.text("behind") == cover and row.id not in sets]


def part_open(facts: Facts, work: WorkUp, part: str, *, demanded: bool) -> Iterator[Undone]:
    """List what is open on a part.

    Args:
        facts: What is known.
        work: The worked-up job.
        part: Its id.
        demanded: Whether something must be decided for the pieces that were not removed, too.

    Yields:
        A line each: by tag as removed, then for those in their place.
    """
    tags = facts.tags.get(part, ())
    for tag in tags:
        if tag not in facts.decided:
            yield _line(facts, tag, "nothing decided", DECIDED, facts.state.parts[tag].entry)
        yield from _piece_open(facts, work, part, tag)
    left = facts.book.parts[part].quantity - len(tags)
    if left > 0:
        if demanded and part not in facts.decided:
            yield _undecided_in_place(facts, part, left)
        yield from _piece_open(facts, work, part, part)


def _undecided_in_place(facts: Facts, part: str, left: int) -> Undone:
    whole = facts.book.parts[part].quantity
    pieces = f"{left} of {whole} " if whole > 1 else ""
    return _line(facts, part, f"{pieces}not removed, nothing decided", DECIDED)


def _piece_open(facts: Facts, work: WorkUp, part: str, of: str) -> Iterator[Undone]:
    decided = facts.decided.get(of)
    if decided is not None:
        yield from _decided_open(facts, work, of, decided)
    away = facts.state.away.get(of)
    if away is not None:
        yield away_line(facts.book, facts.state, of, away)
    for number, question in facts.state.questions.items():
        if question.reading.tag == of:
            size = facts.book.sizes.get(question.reading.row)
            what = f"{size.feature if size is not None else question.reading.row}: asked about, not answered"
            yield _line(facts, of, what, QUESTION, number)
    yield from looks_open(facts, part, of)


def _decided_open(facts: Facts, work: WorkUp, of: str, decided: Disposition) -> Iterator[Undone]:
    word, entry = decided.word, decided.entry
    if not HOLD.holds(word=word):
        yield _line(facts, of, f"on hold: {decided.reason}", HOLD, entry)
    by = facts.state.doubted.get(entry, ())
    if not DOUBT.holds(doubted_by=by):
        yield _line(facts, of, f"{word}: in doubt since entry {by[-1]}", DOUBT, entry, *by)
    if not PIECE_THERE.holds(word=word):
        what = f"{word}: nothing fitted in its place yet"
        yield _line(facts, of, what, PIECE_THERE, entry)
    yield from _still_holds(facts, work, of, decided)


def _still_holds(facts: Facts, work: WorkUp, of: str, decided: Disposition) -> Iterator[Undone]:
    if decided.word not in SERVICEABLE or of not in facts.state.parts:
        return
    data = {"tag": of, "part": "", "disposition": decided.word, "procedure": decided.procedure}
    against = list(refuse_disposition(facts.book, facts.state, work, data))
    if not STILL_HOLDS.holds(against=tuple(one.rule for one in against)):
        told = "; ".join(f"{one.found} (rule {one.rule})" for one in against)
        yield _line(facts, of, f"{decided.word}, and against it since: {told}", STILL_HOLDS, decided.entry)


def counts_open(facts: Facts, cover: str, removed: int) -> Iterator[Undone]:
    """List the counts that are missing or do not come out since a cover came off.

    Args:
        facts: What is known.
        cover: Id of the cover.
        removed: Number of the entry that took it off.

    Yields:
        A line each.
    """
    last = last_counts(facts.state, cover, removed)
    for what in dict.fromkeys((*COUNTED, *last)):
        count = last.get(what)
        out, back = (count.told["went_out"], count.told["came_back"]) if count is not None else (None, None)
        if not COUNTS.holds(went_out=out, came_back=back):
            entries = (removed, count.entry) if count is not None else (removed,)
            because = Because(COUNTS.id, entries, _cover_rows(facts, cover))
            yield Undone(cover_name(facts, cover), f"{what}: {_counted(out, back)}", because)


def last_counts(state: JobState, cover: str, removed: int) -> dict[str, Act]:
    """Give what was counted last since a cover came off.

    Args:
        state: The job.
        cover: Id of the cover.
        removed: Number of the entry that took it off.

    Returns:
        The act by what was counted.
    """
    counts = (act for act in state.acts_that_count("counted") if act.told["cover"] == cover and act.entry > removed)
    return {act.told["what"]: act for act in counts}


def _counted(out: int | None, back: int | None) -> str:
    if out is None or back is None:
        return "not counted"
    return (
        f"{out - back} of {out} missing" if out > back else f"{back - out} more came back than the {out} that went out"
    )


def cover_name(facts: Facts, cover: str) -> str:
    """Name a cover.

    Args:
        facts: What is known.
        cover: Its id.

    Returns:
        What the manual calls it; its id where the book has it no more.
    """
    row = facts.book.rows["access"].get(cover)
    return row.text("name") if row is not None else cover


def _cover_rows(facts: Facts, cover: str) -> tuple[BookRow, ...]:
    row = facts.book.rows["access"].get(cover)
    return (cited(row),) if row is not None else ()


def covers_open(facts: Facts, cover: str) -> Iterator[Undone]:
    """List the covers behind a cover that are off.

    Args:
        facts: What is known.
        cover: Its id.

    Yields:
        A line each.
    """
    for inner, entry in covers_off(facts.state).items():
        row = facts.book.rows["access"].get(inner)
        if row is not None and row.text("behind") == cover:
            because = Because(COVERS_BEHIND.id, (entry,), (cited(row),))
            yield Undone(row.text("name"), "behind it and off", because)
