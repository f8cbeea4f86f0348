"""Where the job stands, as values: parts on the bench, gauges, readings, questions, notes.

Nothing here judges; `fold` alone writes a state, and what it holds is what was recorded.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from tenthbook.numbers.quantity import Quantity
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
    gauge: str
    person: str
    acted_at: str


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge on the bench; `expanded` keeps its digits [in or mm]."""

    id: str
    name: str
    measures: str
    expanded: Quantity
    coverage_factor: str
    set_on: str
    entry: int

    @property
    def standard_uncertainty(self) -> Fraction:
        """Standard uncertainty of a size read with it [m], exact."""
        return self.expanded.exact / Fraction(self.coverage_factor)


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that may be a slip, and what was asked about it."""

    reading: Reading
    asks: str


@dataclass(slots=True)
class JobState:
    """The job after its last entry. Read it; only `fold` writes it.

    Attributes:
        number: Number of the last entry, -1 before the first.
        head: Hash of the last entry, empty before the first.
        opened: Fields of entry 0; empty before it.
        book: Digest of the pinned book, empty before one is.
        typed: Rows typed into the book since, by entry number: table and cells; withdrawn ones included.
        parts: Parts on the bench by tag.
        readings: Readings by entry number, withdrawn ones included.
        gauges: Gauges on the bench by id, as last set.
        questions: Open questions by entry number.
        rule: How doubt is judged: plain, guarded or full U.
        conformance: Least probability of being right, one-sided, as typed [-].
        withdrawn: Reason by number of the entry withdrawn.
        notes: Notes by entry number.
        by_request: Entries by the request that made them.
        unknown: Numbers of entries this version cannot read.
    """

    number: int = -1
    head: str = ""
    opened: Mapping[str, Any] = field(default_factory=dict)
    book: str = ""
    typed: dict[int, tuple[str, Mapping[str, str]]] = field(default_factory=dict)
    parts: dict[str, PartOnBench] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    gauges: dict[str, Gauge] = field(default_factory=dict)
    questions: dict[int, Question] = field(default_factory=dict)
    rule: str = "guarded"
    conformance: str = "0.95"
    withdrawn: dict[int, str] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    by_request: dict[str, Entry] = field(default_factory=dict)
    unknown: list[int] = field(default_factory=list)

    def copy(self) -> JobState:
        """Give a state of its own, so that whoever holds this one keeps what it saw.

        Returns:
            The same state in containers of its own.
        """
        return replace(
            self,
            typed=dict(self.typed),
            parts=dict(self.parts),
            readings=dict(self.readings),
            gauges=dict(self.gauges),
            questions=dict(self.questions),
            withdrawn=dict(self.withdrawn),
            notes=dict(self.notes),
            by_request=dict(self.by_request),
            unknown=list(self.unknown),
        )

    @property
    def typed_rows(self) -> dict[int, tuple[str, Mapping[str, str]]]:
        """Rows typed into the book that count, by entry number."""
        return {number: row for number, row in self.typed.items() if number not in self.withdrawn}

    def standing(self, tag: str, row: str) -> list[Reading]:
        """List the readings that count for one feature: those with the gauge it was last read with.

        Args:
            tag: Tag of the part.
            row: Id of the size row.

        Returns:
            Readings [in or mm] by entry number, withdrawn ones left out.
        """
        taken = (reading for reading in self.readings.values() if (reading.tag, reading.row) == (tag, row))
        counting = sorted((one for one in taken if one.entry not in self.withdrawn), key=lambda one: one.entry)
        return [reading for reading in counting if reading.gauge == counting[-1].gauge]
