"""What is still to do on the bench, in the book's order, each line with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tenthbook.numbers.because import Because, BookRow, Register, Rule
from tenthbook.numbers.limit import Grade
from tenthbook.numbers.limit.kinds import NoneGiven, NotApplicable
from tenthbook.record.book import Book, Size
from tenthbook.record.job import JobState, PartOnBench
from tenthbook.record.job.looks import scope_of
from tenthbook.record.workup.consequences import Consequence
from tenthbook.record.workup.deciding_rules import GONE
from tenthbook.record.workup.still_open import (
    Facts,
    Undone,
    away_open,
    documents_open,
    events_open,
    facts_of,
    looks_open,
    priced_open,
    scope_open,
    tasks_open,
    times_open,
)
from tenthbook.record.workup.verdicts import PartVerdict, SizeVerdict
from tenthbook.record.workup.words import word

__all__ = ["RULES", "Undone", "list_undone"]

_LESS = "in service limits, and the scope says to new limits"
RULES = Register()
NOT_MEASURED = RULES.add(
    Rule(
        id="undone.not-measured",
        says="A feature that the book has a row for is measured on every part on the bench.",
        source="rule of this book",
        holds=lambda readings: readings > 0,
        passes={"readings": 1},
        fails={"readings": 0},
    )
)
NO_MATE = RULES.add(
    Rule(
        id="undone.no-mate",
        says="A fit is judged on both of its parts.",
        source="rule of this book",
        holds=lambda hole_on_bench, shaft_on_bench: hole_on_bench and shaft_on_bench,
        passes={"hole_on_bench": True, "shaft_on_bench": True},
        fails={"hole_on_bench": True, "shaft_on_bench": False},
    )
)
TO_DECIDE = RULES.add(
    Rule(
        id="undone.to-decide",
        says="What becomes of a part is decided where its verdict is beyond, undecided or no limit.",
        source="rule of this book",
        holds=lambda grade: grade in (Grade.NEW, Grade.SERVICE),
        passes={"grade": Grade.SERVICE},
        fails={"grade": Grade.REJECT},
        todo="the engine's manual and the licensed person decide",
    )
)
ANSWER = RULES.add(
    Rule(
        id="undone.question",
        says="A question about a reading is answered before the reading counts.",
        source="rule of this book",
        holds=lambda questions: questions == 0,
        passes={"questions": 0},
        fails={"questions": 1},
        todo="read it again, or say that it stands",
    )
)
WITHOUT_A_WORD = RULES.add(
    Rule(
        id="undone.without-a-word",
        says="A part on the bench that is measured whole and within is decided on too.",
        source="rule of this book",
        holds=lambda decided: decided,
        passes={"decided": True},
        fails={"decided": False},
        todo="record its disposition",
    )
)
UNREADABLE = RULES.add(
    Rule(
        id="undone.unreadable",
        says="An entry that this version cannot read is looked at with a newer one.",
        source="rule of this book",
        holds=lambda readable: readable,
        passes={"readable": True},
        fails={"readable": False},
    )
)


def _gaps(facts: Facts, sizes: Sequence[SizeVerdict]) -> list[tuple[PartOnBench, Size]]:
    """Features that the book has a row for and that no reading counts for; a part that goes has none."""
    measured = {(one.part.tag, one.size.id) for one in sizes}
    found = []
    for part in facts.state.parts.values():
        decided = facts.decided.get(part.tag)
        if decided is None or decided.word not in GONE:
            for size in facts.book.sizes_of(part.part):
                asked = not isinstance(size.said, NotApplicable)
                if asked and not NOT_MEASURED.holds(readings=int((part.tag, size.id) in measured)):
                    found.append((part, size))
    return found


def _unmeasured(book: Book, gaps: Sequence[tuple[PartOnBench, Size]]) -> Iterator[Undone]:
    for part, size in gaps:
        rows = (BookRow(size.id, size.page, size.digest),)
        none = "; no limit in the book" if isinstance(size.said, NoneGiven) else ""
        because = Because(NOT_MEASURED.id, (part.entry,), rows)
        yield Undone(f"{part.tag} {book.parts[part.part].name}", f"{size.feature}: not measured{none}", because)


def _unmated(book: Book, state: JobState) -> Iterator[Undone]:
    on_bench = {part.part for part in state.parts.values()}
    for fit in book.fits.values():
        hole, shaft = book.sizes[fit.hole].part, book.sizes[fit.shaft].part
        here = {"hole_on_bench": hole in on_bench, "shaft_on_bench": shaft in on_bench}
        if any(here.values()) and not NO_MATE.holds(**here):
            missing = book.parts[shaft if here["hole_on_bench"] else hole].name
            because = Because(NO_MATE.id, (), (BookRow(fit.id, fit.page, fit.digest),))
            yield Undone(fit.name, f"{missing} not on the bench", because)


def _next(grade: Grade) -> str:
    return "read it again with a gauge that decides" if grade is Grade.UNDECIDED else "decide what becomes of it"


def _is_decided(facts: Facts, part: PartVerdict) -> bool:
    """Whether something was decided after all that the verdict rests on, and stands."""
    decided, fixed = facts.decided.get(part.part.tag), facts.state.corrections
    if decided is None or decided.word == "hold" or decided.entry in facts.state.doubted:
        return False
    entries = part.because.entries
    rests_on = (*entries, *(one.entry for number in entries for one in fixed.get(number, ())))
    return decided.entry > max(rests_on, default=-1)


def _beyond(facts: Facts, parts: Sequence[PartVerdict]) -> Iterator[Undone]:
    for part in parts:
        if not TO_DECIDE.holds(grade=part.grade) and not _is_decided(facts, part):
            what = f"{word(part.grade)}: {_next(part.grade)}"
            yield Undone(f"{part.part.tag} {part.name}", what, part.because)


def _without_a_word(
    facts: Facts, parts: Sequence[PartVerdict], follows: Sequence[Consequence], busy: frozenset[str]
) -> Iterator[Undone]:
    """Parts within their limits that nobody decided on, where nothing else stands before that."""
    against: dict[str, list[str]] = {}
    for one in follows:
        if one.force != "caution":
            against.setdefault(one.of, []).append(one.says)
    to_new = _to_new_limits(facts.state)
    for verdict in parts:
        tag, within = verdict.part.tag, verdict.grade in (Grade.NEW, Grade.SERVICE)
        if within and tag not in busy and not WITHOUT_A_WORD.holds(decided=tag in facts.decided):
            less = [_LESS] if to_new and verdict.grade is Grade.SERVICE else []
            yield _to_be_decided(verdict, [*against.get(tag, ()), *less])


def _to_new_limits(state: JobState) -> bool:
    scope = scope_of(state)
    return scope is not None and scope.told["standard"] == "to new limits"


def _to_be_decided(verdict: PartVerdict, against: Sequence[str]) -> Undone:
    limits = "new limits" if verdict.grade is Grade.NEW else "service limits"
    told = "; ".join(against) or f"nothing against in {limits}"
    entries = tuple(sorted({verdict.part.entry, *verdict.because.entries}))
    because = Because(WITHOUT_A_WORD.id, entries, verdict.because.rows, verdict.because.arithmetic)
    return Undone(f"{verdict.part.tag} {verdict.name}", f"decide what becomes of it: {told}", because)


def _looks(facts: Facts) -> dict[str, list[Undone]]:
    """Looks and tests due and open: of the pieces on the bench first, then of those in their place."""
    pieces = [(one.part, one.tag) for one in facts.state.parts.values()]
    for part, one in facts.book.parts.items():
        if part in facts.looked_at and len(facts.tags.get(part, ())) < one.quantity:
            pieces.append((part, part))
    return {of: list(looks_open(facts, part, of)) for part, of in pieces if part in facts.looked_at}


def list_undone(
    book: Book,
    state: JobState,
    sizes: Sequence[SizeVerdict],
    parts: Sequence[PartVerdict],
    follows: Sequence[Consequence],
) -> list[Undone]:
    """List what is still to do.

    Args:
        book: The pinned book.
        state: The job.
        sizes: Verdicts on what is measured.
        parts: Verdicts on the parts.
        follows: What follows for the parts.

    Returns:
        What was asked, then what is to be decided, then what is to be measured, then what lacks its mate, then what
        cannot be read; then looks that are due, parts within that nobody decided on, and what is open from intake.
    """
    facts = facts_of(book, state)
    undone = [
        Undone(f"{one.reading.tag} {book.sizes[one.reading.row].feature}", one.asks, Because(ANSWER.id, (number,)))
        for number, one in state.questions.items()
    ]
    undone += _beyond(facts, parts)
    gaps = _gaps(facts, sizes)
    undone += _unmeasured(book, gaps)
    undone += _unmated(book, state)
    undone += [
        Undone(f"entry {number}", "this version cannot read it", Because(UNREADABLE.id, (number,)))
        for number in state.unknown
    ]
    looks = _looks(facts)
    undone += [line for lines in looks.values() for line in lines]
    busy = {of for of, lines in looks.items() if lines} | {one.reading.tag for one in state.questions.values()}
    busy |= {part.tag for part, size in gaps if not isinstance(size.said, NoneGiven)} | set(state.away)
    undone += _without_a_word(facts, parts, follows, frozenset(busy))
    undone += [*scope_open(state), *events_open(state), *times_open(state), *tasks_open(state)]
    undone += [*documents_open(state), *priced_open(state), *away_open(book, state)]
    return undone
