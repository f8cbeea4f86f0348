"""Where the job stands, as values: parts on the bench, gauges, readings, what was corrected and what is in doubt.

Nothing here judges; `fold` alone writes a state, and what it holds is what was recorded.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
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
    mated_with: str = ""
    as_found: str = ""
    bin: str = ""


@dataclass(frozen=True, slots=True)
class Act:
    """An act that is what it says and no more: a cover off, a part cleaned, an event answered.

    Attributes:
        entry: Number of its entry.
        kind: Its kind.
        person: Who acted.
        acted_at: When, UTC.
        told: Its fields as they count.
    """

    entry: int
    kind: str
    person: str
    acted_at: str
    told: Mapping[str, Any]


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
    gauge_set: int  # number of the entry that set the gauge as it then was; -1 without one
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
    certificate: str = ""
    due: str = ""
    calibration: str = ""

    @property
    def standard_uncertainty(self) -> Fraction:
        """Standard uncertainty of a size read with it [m], exact."""
        return self.expanded.exact / Fraction(self.coverage_factor)


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that may be a slip, and what was asked about it."""

    reading: Reading
    asks: str


@dataclass(frozen=True, slots=True)
class Correction:
    """Other fields for an act, which count in its place."""

    entry: int
    fields: Mapping[str, str]
    reason: str
    person: str


@dataclass(frozen=True, slots=True)
class Disposition:
    """What becomes of a part."""

    entry: int
    tag: str  # empty for a part that was not removed
    part: str  # empty for a part with a tag
    word: str
    reason: str
    procedure: str
    rests_on: tuple[int, ...]
    person: str

    @property
    def of(self) -> str:
        """Tag, or id of the part where it has none."""
        return self.tag or self.part


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph beside the entries, by the commitment to its bytes."""

    entry: int
    tag: str
    row: str
    says: str
    commitment: str
    media_type: str
    taken_at: str
    person: str


@dataclass(frozen=True, slots=True)
class LaidDown:
    """Work put down, or handed over; `ended` is the entry that took it up or received it, -1 while none did."""

    entry: int
    kind: str
    person: str
    to: str
    told: Mapping[str, str]
    ended: int = -1


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper that left the book, and the number of the entry it was made at."""

    entry: int
    paper: str
    digest: str
    made_at: int


@dataclass(frozen=True, slots=True)
class Signature:
    """A signed statement; `superseded_by` is -1 while no other took its place."""

    entry: int
    person: str
    as_what: str
    statement: str
    binds: tuple[int, ...]
    key: str
    superseded_by: int = -1


Linked = tuple[int, "Linked | None"]


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
        tags: Number of the entry that gave each tag; never given again, even where the part was withdrawn.
        readings: Readings by entry number as they count, withdrawn ones included.
        features: Numbers of the readings of each feature, by tag and row, ascending.
        gauges: Gauges on the bench by id, as last set.
        gauge_sets: Every setting of a gauge by entry number.
        questions: Open questions by entry number.
        rule: How doubt is judged: plain, guarded or full U.
        conformance: Least probability of being right, one-sided, as typed [-].
        corrections: What counts in the place of an entry, by its number, oldest first.
        withdrawn: Reason by number of the entry withdrawn.
        doubted: For an act that rested on what was corrected or withdrawn later: the entries that did so.
        decided: Every disposition by entry number, withdrawn ones included.
        photographs: Photographs by entry number.
        papers: Papers that left the book by entry number.
        signatures: Signed statements by entry number.
        laid_down: The work as last put down or handed over; None where it never was.
        notes: Notes by entry number.
        acts: Acts that are what they say, by entry number, withdrawn ones included.
        acts_of_kind: Their numbers by kind.
        book_moved: Number of the entry that moved the job to another book last; -1 where none did.
        conflicts: For an entry whose person had not seen them: the entries by others that changed what it looked at.
        clock_findings: Entries recorded earlier, by the store's clock, than the one before.
        last_mended: Number of the last entry that changed what earlier readings are: a correction, a withdrawal, a part
            that came back, a setting of a gauge; -1 before one.
        last_fact: Number of the last entry that papers show; -1 before one.
        resting: For each entry the later ones that rest on it, newest first, each linked to the one before it.
        entries: Every entry by number.
        by_request: Entries by the request that made them.
        unknown: Numbers of entries this version cannot read.
    """

    number: int = -1
    head: str = ""
    opened: Mapping[str, Any] = field(default_factory=dict)
    book: str = ""
    typed: dict[int, tuple[str, Mapping[str, str]]] = field(default_factory=dict)
    parts: dict[str, PartOnBench] = field(default_factory=dict)
    tags: dict[str, int] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    features: dict[tuple[str, str], tuple[int, ...]] = field(default_factory=dict)
    gauges: dict[str, Gauge] = field(default_factory=dict)
    gauge_sets: dict[int, Gauge] = field(default_factory=dict)
    questions: dict[int, Question] = field(default_factory=dict)
    rule: str = "guarded"
    conformance: str = "0.95"
    corrections: dict[int, tuple[Correction, ...]] = field(default_factory=dict)
    withdrawn: dict[int, str] = field(default_factory=dict)
    doubted: dict[int, tuple[int, ...]] = field(default_factory=dict)
    decided: dict[int, Disposition] = field(default_factory=dict)
    photographs: dict[int, Photograph] = field(default_factory=dict)
    papers: dict[int, Paper] = field(default_factory=dict)
    signatures: dict[int, Signature] = field(default_factory=dict)
    laid_down: LaidDown | None = None
    notes: dict[int, str] = field(default_factory=dict)
    acts: dict[int, Act] = field(default_factory=dict)
    acts_of_kind: dict[str, tuple[int, ...]] = field(default_factory=dict)
    book_moved: int = -1
    conflicts: dict[int, tuple[int, ...]] = field(default_factory=dict)
    clock_findings: list[int] = field(default_factory=list)
    last_mended: int = -1
    last_fact: int = -1
    resting: dict[int, Linked] = field(default_factory=dict)
    entries: list[Entry] = field(default_factory=list)
    by_request: dict[str, Entry] = field(default_factory=dict)
    unknown: list[int] = field(default_factory=list)

    def copy(self) -> JobState:
        """Give a state of its own, so that whoever holds this one keeps what it saw.

        Returns:
            The same state in containers of its own.
        """
        twin = replace(self)
        for one in fields(self):
            held = getattr(self, one.name)
            if isinstance(held, dict | list):
                setattr(twin, one.name, held.copy())
        return twin

    @property
    def typed_rows(self) -> dict[int, tuple[str, Mapping[str, str]]]:
        """Rows typed into the book that count, by entry number; a book the job was moved to holds its own."""
        counting = (number for number in self.typed if number not in self.withdrawn and number > self.book_moved)
        return {number: self.typed[number] for number in counting}

    @property
    def dispositions(self) -> dict[str, Disposition]:
        """What becomes of each part by tag, or by its id where it has none, as last decided."""
        return {one.of: one for number, one in sorted(self.decided.items()) if number not in self.withdrawn}

    @property
    def stale_papers(self) -> dict[int, Paper]:
        """Papers made before the last entry that papers show, by entry number."""
        return {number: paper for number, paper in self.papers.items() if paper.made_at < self.last_fact}

    def acts_that_count(self, kind: str) -> list[Act]:
        """List the acts of a kind.

        Args:
            kind: The kind.

        Returns:
            Those not withdrawn, by entry number.
        """
        return [self.acts[number] for number in self.acts_of_kind.get(kind, ()) if number not in self.withdrawn]

    @property
    def away(self) -> dict[str, Act]:
        """Parts that are elsewhere: the act that sent each out, by tag."""
        sent = {act.entry: act for act in self.acts_that_count("sent out")}
        for act in self.acts_that_count("returned"):
            sent.pop(act.told["entry"], None)
        return {act.told["tag"]: act for act in sent.values()}

    def came_back(self, tag: str) -> int:
        """Say since when a part is here again.

        Args:
            tag: Its tag.

        Returns:
            Number of the entry with which it came back last; -1 where it never was away.
        """
        back = [act for act in self.acts_that_count("returned") if self.acts[act.told["entry"]].told["tag"] == tag]
        return max((act.entry for act in back), default=-1)

    def standing(self, tag: str, row: str) -> list[Reading]:
        """List the readings that count for one feature: those with the gauge it was last read with.

        Args:
            tag: Tag of the part.
            row: Id of the size row.

        Returns:
            Readings [in or mm] by entry number, withdrawn ones left out, and those from before the part was away.
        """
        numbers = self.features.get((tag, row), ())
        if "returned" in self.acts_of_kind:
            back = self.came_back(tag)
            numbers = tuple(one for one in numbers if one > back)
        readings, gone = self.readings, self.withdrawn
        counting = [readings[one] for one in numbers if one in readings and one not in gone]
        return [reading for reading in counting if reading.gauge == counting[-1].gauge]

    def resting_on(self, number: int) -> Iterator[int]:
        """List the later acts that rest on an entry.

        Args:
            number: Its number.

        Yields:
            Numbers of the acts, newest first.
        """
        link = self.resting.get(number)
        while link is not None:
            yield link[0]
            link = link[1]

    def gauge_of(self, reading: Reading) -> Gauge | None:
        """Give the gauge a reading was taken with, as it was then set.

        Args:
            reading: The reading.

        Returns:
            The gauge; None where the reading names none.
        """
        return self.gauge_sets.get(reading.gauge_set)

    def counts(self, number: int) -> bool:
        """Ask whether an entry counts.

        Args:
            number: Its number.

        Returns:
            False for what was withdrawn, what this version cannot read, and a reading asked about and not answered.
        """
        return number not in self.withdrawn and number not in self.questions and number not in self.unknown
