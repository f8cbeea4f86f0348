"""What is still open before a cover closes, and before a release: the gates of a job, each with its reasons.

A gate lists what is open in this book, from recorded entries alone. It approves nothing and never says that anything
may be done. Where a cover closed over open things by somebody's signature, what stayed open stands before the release,
which nobody overrides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tenthbook.numbers.because import Because
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.looks import covers_off, happened, scope_of
from tenthbook.record.workup.covered import counts_open, cover_name, covers_open, part_open, pieces_behind
from tenthbook.record.workup.gate_rules import (
    COVERS_ON,
    DOUBT,
    EVENTS_COVERED,
    QUESTION,
    READABLE,
    RULES,
    TAKEN_UP,
)
from tenthbook.record.workup.metal import metal_open
from tenthbook.record.workup.still_open import (
    Facts,
    Undone,
    cited,
    documents_open,
    events_open,
    facts_of,
    named,
    priced_open,
    scope_open,
)
from tenthbook.record.workup.whole import WorkUp

__all__ = ["RELEASE", "RULES", "Gate", "gate_of_cover", "gates_of"]

RELEASE = "release"


@dataclass(frozen=True, slots=True)
class Gate:
    """Something that is not done while anything is open.

    Attributes:
        id: `cover:` and the id of the cover, or `release`.
        title: What it stands before, in words.
        opens: What is open, each with its reason.
        overridden_by: Number of the entry that overrode it since the cover came off; -1 without one.
    """

    id: str
    title: str
    opens: tuple[Undone, ...]
    overridden_by: int = -1


def _cover_opens(facts: Facts, work: WorkUp, cover: str, removed: int) -> Iterator[Undone]:
    yield from covers_open(facts, cover)
    for part in pieces_behind(facts, cover):
        yield from part_open(facts, work, part, demanded=True)
    yield from counts_open(facts, cover, removed)


def _overridden(state: JobState, gate: str, since: int) -> int:
    acts = (act for act in state.acts_that_count("gate overridden") if act.told["gate"] == gate)
    return max((act.entry for act in acts if act.entry > since), default=-1)


def _cover_gate(facts: Facts, work: WorkUp, cover: str, removed: int) -> Gate:
    gate, opens = f"cover:{cover}", tuple(_cover_opens(facts, work, cover, removed))
    title = f"{cover_name(facts, cover)}, before it closes"
    return Gate(gate, title, opens, _overridden(facts.state, gate, removed))


def gate_of_cover(book: Book, state: JobState, work: WorkUp, cover: str) -> Gate | None:
    """Give the gate of one cover.

    Args:
        book: The pinned book.
        state: The job.
        work: The same, worked up.
        cover: Id of the cover.

    Returns:
        The gate; None where the cover is on.
    """
    removed = covers_off(state).get(cover)
    return _cover_gate(facts_of(book, state), work, cover, removed) if removed is not None else None


def gates_of(book: Book, state: JobState, work: WorkUp) -> tuple[Gate, ...]:
    """List the gates of a job.

    Args:
        book: The pinned book.
        state: The job.
        work: The same, worked up.

    Returns:
        One for each cover that is off, in the order they came off, then that of the release.
    """
    facts = facts_of(book, state)
    covers = {cover: _cover_gate(facts, work, cover, entry) for cover, entry in covers_off(state).items()}
    release = Gate(RELEASE, "the whole engine, before its release", tuple(_release_opens(facts, work, covers)))
    return (*covers.values(), release)


def _release_opens(facts: Facts, work: WorkUp, gates: dict[str, Gate]) -> Iterator[Undone]:
    state = facts.state
    for cover, entry in covers_off(state).items():
        yield _off(facts, cover, entry, len(gates[cover].opens))
    yield from scope_open(state)
    yield from events_open(state)
    yield from _events_left(state)
    yield from documents_open(state)
    yield from priced_open(state)
    yield from _elsewhere(facts, work, gates)
    yield from _doubted(facts)
    yield from _questions(facts)
    yield from _unreadable(state)
    yield from _laid_down(state)
    yield from metal_open(facts)


def _off(facts: Facts, cover: str, entry: int, opens: int) -> Undone:
    row = facts.book.rows["access"].get(cover)
    because = Because(COVERS_ON.id, (entry,), (cited(row),) if row is not None else ())
    return Undone(cover_name(facts, cover), f"off, {opens or 'nothing'} open before it closes", because)


def _events_left(state: JobState) -> Iterator[Undone]:
    scope, events = scope_of(state), happened(state)
    covers = scope.told["covers"] if scope is not None else []
    for event, act in events.items():
        if event not in covers and not EVENTS_COVERED.holds(left=(event,)):
            entries = tuple(sorted({act.entry, *([scope.entry] if scope is not None else [])}))
            what = f"answered {act.told['answer']}, the scope does not hold its inspection"
            yield Undone(event, what, Because(EVENTS_COVERED.id, entries))


def _elsewhere(facts: Facts, work: WorkUp, gates: dict[str, Gate]) -> Iterator[Undone]:
    """What is open on parts that are behind no cover now off: nowhere, or behind one that closed over them."""
    behind = {part for cover in gates for part in pieces_behind(facts, cover)}
    opened = {act.told["cover"]: act.entry for act in facts.state.acts_that_count("cover removed")}
    demanded = {part for cover in opened for part in pieces_behind(facts, cover)}
    for part in facts.book.parts:
        if part not in behind:
            lines = part_open(facts, work, part, demanded=part in demanded)
            yield from (line for line in lines if line.because.rule not in (DOUBT.id, QUESTION.id))
    for cover, removed in opened.items():
        yield from counts_open(facts, cover, removed) if cover not in gates else ()


def _doubted(facts: Facts) -> Iterator[Undone]:
    state = facts.state
    for number, by in state.doubted.items():
        if number not in state.withdrawn:
            kind = state.entries[number].kind
            yield Undone(f"entry {number}, {kind}", f"in doubt since entry {by[-1]}", Because(DOUBT.id, (number, *by)))


def _questions(facts: Facts) -> Iterator[Undone]:
    for number, one in facts.state.questions.items():
        because = Because(QUESTION.id, (number,))
        yield Undone(
            named(facts.book, facts.state, one.reading.tag), f"entry {number}: asked about, not answered", because
        )


def _unreadable(state: JobState) -> Iterator[Undone]:
    for number in state.unknown:
        yield Undone(f"entry {number}", "this version cannot read it", Because(READABLE.id, (number,)))


def _laid_down(state: JobState) -> Iterator[Undone]:
    laid = state.laid_down
    if laid is not None and not TAKEN_UP.holds(ended=laid.ended):
        left = "not received" if laid.kind == "handed over" else "not taken up"
        to = f" to {laid.to}" if laid.to else ""
        yield Undone(f"{laid.kind}{to} by {laid.person}", left, Because(TAKEN_UP.id, (laid.entry,)))
