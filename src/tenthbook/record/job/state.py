"""Where the job stands: the fold of its entries.

`fold` never refuses: history is history. An entry of a kind or version this book does not know is kept by number in
`unknown`, so that a newer book's entry is neither lost nor guessed at.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import Quantity, quantity
from tenthbook.record.ledger import Entry


@dataclass(frozen=True, slots=True)
class PartOnBench:
    """A part with its tag."""

    tag: str
    part: str
    position: str
    entry: int


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading that was taken; `value` keeps its digits [in or mm]."""

    entry: int
    tag: str
    row: str
    row_digest: str
    value: Quantity
    station: str
    direction: str
    instrument: str
    person: str
    acted_at: str


@dataclass(slots=True)
class JobState:
    """The job after its last entry. Read it; only `fold` writes it.

    Attributes:
        number: Number of the last entry, -1 before the first.
        head: Hash of the last entry, empty before the first.
        opened: Fields of entry 0; empty before it.
        book: Digest of the pinned book, empty before one is.
        parts: Parts on the bench by tag.
        readings: Readings by entry number, withdrawn ones included.
        withdrawn: Reason by number of the entry withdrawn.
        notes: Notes by entry number.
        unknown: Numbers of entries this version cannot read.
    """

    number: int = -1
    head: str = ""
    opened: Mapping[str, Any] = field(default_factory=dict)
    book: str = ""
    parts: dict[str, PartOnBench] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    withdrawn: dict[int, str] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    unknown: list[int] = field(default_factory=list)

    def copy(self) -> JobState:
        """Give a state of its own, so that whoever holds this one keeps what it saw.

        Returns:
            The same state in containers of its own.
        """
        return replace(
            self,
            parts=dict(self.parts),
            readings=dict(self.readings),
            withdrawn=dict(self.withdrawn),
            notes=dict(self.notes),
            unknown=list(self.unknown),
        )

    def standing(self, tag: str, row: str) -> list[Reading]:
        """List the readings that count for one feature.

        Args:
            tag: Tag of the part.
            row: Id of the size row.

        Returns:
            Readings [in or mm] by entry number, withdrawn ones left out.
        """
        taken = (reading for reading in self.readings.values() if (reading.tag, reading.row) == (tag, row))
        return [reading for reading in taken if reading.entry not in self.withdrawn]


def _opened(state: JobState, entry: Entry) -> None:
    state.opened = entry.data


def _book_pinned(state: JobState, entry: Entry) -> None:
    state.book = entry.data["digest"]


def _part_removed(state: JobState, entry: Entry) -> None:
    data = entry.data
    state.parts[data["tag"]] = PartOnBench(data["tag"], data["part"], data["position"], entry.number)


def _reading_taken(state: JobState, entry: Entry) -> None:
    data = entry.data
    places = (data["station"], data["direction"], data["instrument"])
    read = quantity(data["value"])
    state.readings[entry.number] = Reading(
        entry.number,
        data["tag"],
        data["row"],
        data["row_digest"],
        read,
        *places,
        entry.draft.person,
        entry.draft.acted_at,
    )


def _withdrawn(state: JobState, entry: Entry) -> None:
    state.withdrawn[entry.data["entry"]] = entry.data["reason"]


def _noted(state: JobState, entry: Entry) -> None:
    state.notes[entry.number] = entry.data["text"]


def _nothing(state: JobState, entry: Entry) -> None:
    """An entry that leaves the job where it stands."""


_STEPS: dict[tuple[str, int], Callable[[JobState, Entry], None]] = {
    ("opened", 1): _opened,
    ("book pinned", 1): _book_pinned,
    ("part removed", 1): _part_removed,
    ("reading taken", 1): _reading_taken,
    ("withdrawn", 1): _withdrawn,
    ("noted", 1): _noted,
    ("papers issued", 1): _nothing,
}


def fold(entries: Sequence[Entry], state: JobState | None = None) -> JobState:
    """Take entries in, one after the other.

    Args:
        entries: Entries by number, from where `state` stopped.
        state: Where to go on from; None for the start. It is not changed.

    Returns:
        The state after the last of them.
    """
    state = state or JobState()
    if not entries:
        return state
    state = state.copy()
    for entry in entries:
        step = _STEPS.get((entry.kind, entry.draft.version))
        try:
            if step is None:
                raise KeyError(entry.kind)
            step(state, entry)
        except (KeyError, TypeError, AttributeError, ValueError, TenthbookError):
            state.unknown.append(entry.number)
        state.number, state.head = entry.number, entry.hash
    return state
