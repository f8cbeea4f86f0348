"""What is still to do on the bench, in the book's order, each line with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tenthbook.numbers.because import Because, BookRow, Register, Rule
from tenthbook.numbers.limit import Grade
from tenthbook.numbers.limit.kinds import NoneGiven, NotApplicable
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.workup.verdicts import PartVerdict
from tenthbook.record.workup.words import word

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


@dataclass(frozen=True, slots=True)
class Undone:
    """One thing still to do: where, what, why."""

    place: str
    what: str
    because: Because


def _unmeasured(book: Book, state: JobState) -> Iterator[Undone]:
    for part in state.parts.values():
        for size in book.sizes_of(part.part):
            if isinstance(size.said, NotApplicable):
                continue
            if not NOT_MEASURED.holds(readings=len(state.standing(part.tag, size.id))):
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


def list_undone(book: Book, state: JobState, parts: Sequence[PartVerdict]) -> list[Undone]:
    """List what is still to do.

    Args:
        book: The pinned book.
        state: The job.
        parts: Verdicts on the parts.

    Returns:
        What was asked, then what is to be decided, then what is to be measured, then what lacks its mate, then what
        cannot be read.
    """
    undone = [
        Undone(f"{one.reading.tag} {book.sizes[one.reading.row].feature}", one.asks, Because(ANSWER.id, (number,)))
        for number, one in state.questions.items()
    ]
    undone += [
        Undone(f"{part.part.tag} {part.name}", f"{word(part.grade)}: {_next(part.grade)}", part.because)
        for part in parts
        if not TO_DECIDE.holds(grade=part.grade)
    ]
    undone += _unmeasured(book, state)
    undone += _unmated(book, state)
    undone += [
        Undone(f"entry {number}", "this version cannot read it", Because(UNREADABLE.id, (number,)))
        for number in state.unknown
    ]
    return undone
