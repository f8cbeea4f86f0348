"""Which cleanings, looks and tests the book asks for on a part of this job, and which entry closed each.

An inspection whose `when` is blank is always due. Otherwise it is due once one of its conditions holds: the scope is an
overhaul, the part was removed, a cover came off that counts as a cylinder removal or a case split, or an event was
answered with yes or not known. An indication that was not settled by a disposition keeps a test open.

Source: rule of this book; that nothing is measured before it is cleaned and looked at is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tenthbook.record.book import Book
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.job.handling_rules import KIND_OF_LOOK
from tenthbook.record.job.state import Act, JobState

EVENT_CONDITIONS = ("propeller strike", "metal found")
_KINDS = ("cleaned", "inspected", "crack-tested")


@dataclass(frozen=True, slots=True)
class LookDue:
    """An inspection of the book that is due on a part.

    Attributes:
        row: The book's row.
        of: Tag of the part, or its id where it was not removed.
        kind: Kind of the entry that closes it.
        closed_by: Number of the entry that closed it; -1 while none did.
        because: Numbers of the entries that make it due; empty where it always is.
    """

    row: TypedRow
    of: str
    kind: str
    closed_by: int
    because: tuple[int, ...]


def scope_of(state: JobState) -> Act | None:
    """Give the scope as last agreed.

    Args:
        state: The job.

    Returns:
        The act; None before one was agreed.
    """
    agreed = state.acts_that_count("scope agreed")
    return agreed[-1] if agreed else None


def events_of(state: JobState) -> dict[str, Act]:
    """Give each event as last answered.

    Args:
        state: The job.

    Returns:
        The act by event.
    """
    return {act.told["event"]: act for act in state.acts_that_count("event answered")}


def happened(state: JobState) -> dict[str, Act]:
    """Give the events that happened, or that nobody can rule out.

    Args:
        state: The job.

    Returns:
        The act by event.
    """
    return {event: act for event, act in events_of(state).items() if act.told["answer"] != "no"}


def covers_off(state: JobState) -> dict[str, int]:
    """Give the covers that are off.

    Args:
        state: The job.

    Returns:
        Number of the entry that took each off, by its id.
    """
    off: dict[str, int] = {}
    moved = [*state.acts_that_count("cover removed"), *state.acts_that_count("cover closed")]
    for act in sorted(moved, key=lambda one: one.entry):
        if act.kind == "cover removed":
            off[act.told["cover"]] = act.entry
        else:
            off.pop(act.told["cover"], None)
    return off


def conditions(state: JobState, book: Book) -> dict[str, int]:
    """Say which of the book's conditions hold for the whole job.

    Args:
        state: The job.
        book: The pinned book.

    Returns:
        Number of the entry that made each hold, by condition; "removal" is a part's own.
    """
    held = {event: act.entry for event, act in happened(state).items() if event in EVENT_CONDITIONS}
    scope = scope_of(state)
    if scope is not None and scope.told["work"] == "overhaul":
        held["overhaul"] = scope.entry
    for act in state.acts_that_count("cover removed"):
        row = book.rows["access"].get(act.told["cover"])
        for counted in row.several("counts_as") if row is not None else ():
            held.setdefault(counted, act.entry)
    return held


def _closing(state: JobState, of: str, inspection: str) -> int:
    done = (act for kind in _KINDS for act in state.acts_that_count(kind) if act.told["inspection"] == inspection)
    numbers = [act.entry for act in done if of in (act.told["tag"], act.told.get("part", ""))]
    back = state.came_back(of)
    return max((one for one in numbers if one > back), default=-1)


def _makes_due(row: TypedRow, holding: dict[str, int], removed: int) -> tuple[int, ...] | None:
    when = row.several("when")
    if not when:
        return ()
    found = [holding[one] for one in when if one in holding]
    found += [removed] if "removal" in when and removed >= 0 else []
    return tuple(sorted(found)) if found else None


def looks_due(state: JobState, book: Book, part: str, of: str) -> list[LookDue]:
    """List the inspections that are due on a part.

    Args:
        state: The job.
        book: The pinned book.
        part: Id of the part in the book.
        of: Its tag; its id again where it was not removed.

    Returns:
        Each inspection, closed or not: cleaning first, then by id.
    """
    holding = conditions(state, book)
    found = (_due(state, row, of, holding) for row in _rows_of(book, part))
    return sorted((due for due in found if due is not None), key=lambda due: (due.kind != "cleaned", due.row.id))


def _rows_of(book: Book, part: str) -> Iterable[TypedRow]:
    return (row for row in book.rows["inspections"].values() if row.text("part") == part)


def _due(state: JobState, row: TypedRow, of: str, holding: dict[str, int]) -> LookDue | None:
    on_bench = state.parts.get(of)
    because = _makes_due(row, holding, on_bench.entry if on_bench is not None else -1)
    if because is None:
        return None
    return LookDue(row, of, KIND_OF_LOOK[row.text("what")], _closing(state, of, row.id), because)
