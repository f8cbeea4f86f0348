"""One thing still to do, and the lines that the undone list and the gates share: intake, looks, parts elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import get_args

from tenthbook.numbers.because import Because, BookRow
from tenthbook.record.book import Book
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.job import JobState
from tenthbook.record.job.intake import priced, unanswered
from tenthbook.record.job.kinds_of_intake import Event
from tenthbook.record.job.looks import events_of, looks_due, scope_of
from tenthbook.record.job.state import Act, Disposition
from tenthbook.record.ledger import person_name
from tenthbook.record.workup.deciding_rules import GONE
from tenthbook.record.workup.gate_rules import DOCUMENTS, EVENTS_ASKED, HERE, LOOKS, PRICED, SCOPE, TASK_ASKED, TIMES

EVENTS: tuple[str, ...] = get_args(Event)


@dataclass(frozen=True, slots=True)
class Facts:
    """What the lines are drawn from, gathered once.

    Attributes:
        book: The pinned book.
        state: The job.
        decided: What becomes of each part, by its tag or its id.
        tags: Tags of the pieces on the bench, by part.
        looked_at: Parts that the book has an inspection for.
    """

    book: Book
    state: JobState
    decided: Mapping[str, Disposition]
    tags: Mapping[str, tuple[str, ...]]
    looked_at: frozenset[str]


def facts_of(book: Book, state: JobState) -> Facts:
    """Gather what the lines are drawn from.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        The facts.
    """
    tags: dict[str, tuple[str, ...]] = {}
    for one in state.parts.values():
        tags[one.part] = (*tags.get(one.part, ()), one.tag)
    looked_at = frozenset(row.text("part") for row in book.rows["inspections"].values())
    return Facts(book, state, state.dispositions, tags, looked_at)


@dataclass(frozen=True, slots=True)
class Undone:
    """One thing still to do: where, what, why."""

    place: str
    what: str
    because: Because

    @property
    def text(self) -> str:
        """Where and what, in one line."""
        return f"{self.place}: {self.what}"


def cited(row: TypedRow) -> BookRow:
    """Cite a row of the book.

    Args:
        row: The row.

    Returns:
        Its id, page and digest.
    """
    return BookRow(row.id, row.page, row.digest)


def name_of_part(book: Book, state: JobState, of: str) -> str:
    """Say what the manual calls a part.

    Args:
        book: The pinned book.
        state: The job.
        of: Its tag, or its id where it was not removed.

    Returns:
        The name; the id where the book does not have it.
    """
    part = state.parts[of].part if of in state.parts else of
    return book.parts[part].name if part in book.parts else part


def named(book: Book, state: JobState, of: str) -> str:
    """Name a part.

    Args:
        book: The pinned book.
        state: The job.
        of: Its tag, or its id where it was not removed.

    Returns:
        Tag and what the manual calls it; the tag alone where it is on the bench no more.
    """
    part = state.parts[of].part if of in state.parts else of
    name = book.parts[part].name if part in book.parts else ""
    return " ".join(one for one in (of if of != part else "", name) if one) or of


def scope_open(state: JobState) -> Iterator[Undone]:
    """Say whether the scope is still to be agreed.

    Args:
        state: The job.

    Yields:
        The line.
    """
    if not SCOPE.holds(agreed=scope_of(state) is not None):
        yield Undone("scope", "not agreed", Because(SCOPE.id))


def events_open(state: JobState) -> Iterator[Undone]:
    """Say which events nobody was asked about, in one line.

    Args:
        state: The job.

    Yields:
        The line.
    """
    answered = events_of(state)
    left = [event for event in EVENTS if event not in answered]
    if not EVENTS_ASKED.holds(not_asked=tuple(left)):
        asked = tuple(sorted(act.entry for act in answered.values()))
        told = "none of them" if not answered else ", ".join(left)
        yield Undone(
            "events that force a scope", f"not asked: {told}", Because(EVENTS_ASKED.id, asked, (), tuple(left))
        )


def times_open(state: JobState) -> Iterator[Undone]:
    """Say whether the times of the engine are still to be stated.

    Args:
        state: The job.

    Yields:
        The line.
    """
    stated = any(act.told["of"] == "engine" for act in state.acts_that_count("times stated"))
    if not TIMES.holds(stated=stated):
        yield Undone("times of the engine", "not stated", Because(TIMES.id))


_WORK = frozenset({"part removed", "cleaned", "disposed", "reading taken", "question asked"})


def tasks_open(state: JobState) -> Iterator[Undone]:
    """Say who works on the engine and was not asked whether they have done it before.

    Args:
        state: The job.

    Yields:
        A line a person.
    """
    said = {person_name(act.person) for act in state.acts_that_count("task taken on")}
    worked = {reading.person for reading in state.readings.values()} | {one.person for one in state.decided.values()}
    worked |= {state.entries[part.entry].draft.person for part in state.parts.values()}
    worked |= {act.person for act in state.acts_that_count("cleaned")}
    for person in sorted(one for one in worked if not TASK_ASKED.holds(said=person_name(one) in said)):
        first = next(entry.number for entry in state.entries if entry.kind in _WORK and entry.draft.person == person)
        yield Undone(person, "not asked whether this work was done before", Because(TASK_ASKED.id, (first,)))


def documents_open(state: JobState) -> Iterator[Undone]:
    """List the directives and bulletins that wait for an answer.

    Args:
        state: The job.

    Yields:
        A line each.
    """
    waiting = unanswered(state, "document listed", "document answered")
    for act in state.acts_that_count("document listed"):
        applies = act.told["applies"]
        if not DOCUMENTS.holds(applies=applies, answered=act.entry not in waiting):
            says = "applies" if applies == "yes" else "not known whether it applies"
            place = f"{act.told['document']} {act.told['number']}"
            yield Undone(place, f"{says}, not answered", Because(DOCUMENTS.id, (act.entry,)))


def priced_open(state: JobState) -> Iterator[Undone]:
    """List the extra work that waits for the owner's answer.

    Args:
        state: The job.

    Yields:
        A line each.
    """
    waiting = priced(state)
    for act in state.acts_that_count("finding priced"):
        if not PRICED.holds(answered=act.entry not in waiting):
            place = f"extra work, {act.told['work']}"
            because = Because(PRICED.id, tuple(sorted({act.told["entry"], act.entry})))
            yield Undone(place, f"{act.told['price']}: the owner has not answered", because)


def away_line(book: Book, state: JobState, tag: str, sent: Act) -> Undone:
    """Say that a part is elsewhere.

    Args:
        book: The pinned book.
        state: The job.
        tag: Its tag.
        sent: The act that sent it out.

    Returns:
        The line, with the day it is promised.
    """
    due = sent.told["due"]
    what = f"away at {sent.told['to']}, {f'promised for {due}' if due else 'no day promised'}"
    return Undone(named(book, state, tag), what, Because(HERE.id, (sent.entry,)))


def away_open(book: Book, state: JobState) -> list[Undone]:
    """List the parts that are elsewhere.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        A line each.
    """
    return [away_line(book, state, tag, sent) for tag, sent in state.away.items()]


def looks_open(facts: Facts, part: str, of: str) -> Iterator[Undone]:
    """List the cleanings, looks and tests of one part that are due and open.

    One that is always due is asked of a part that was disturbed; of one in its place only what a condition asks for,
    and where some of its pieces were removed, of those alone. A part that goes is looked at no more.

    Args:
        facts: What is known.
        part: Id of the part.
        of: Its tag; its id again where it was not removed.

    Yields:
        A line each.
    """
    decided = facts.decided.get(of)
    left_in_place = of == part and bool(facts.tags.get(part))
    if part not in facts.looked_at or left_in_place or (decided is not None and decided.word in GONE):
        return
    for due in looks_due(facts.state, facts.book, part, of):
        asked = bool(due.because) or of in facts.state.parts
        if asked and not LOOKS.holds(closed_by=due.closed_by):
            how = f", {due.row.text('method')}" if due.row.text("method") else ""
            because = Because(LOOKS.id, due.because, (cited(due.row),))
            what = f"{due.row.text('what')}{how}: due, not done"
            yield Undone(named(facts.book, facts.state, of), what, because)
