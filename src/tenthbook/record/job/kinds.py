"""The facts a job can hold: each kind in the past tense, with its version and its fields.

A number is text with its unit, digit for digit as it was typed. A kind's fields never change under one version; what
changes gets the next.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tenthbook.record.ledger import Fields, Kind


class Opened(Fields):
    """Entry 0 of a job."""

    stream: str = Field(
        description="id of the job, as it stands on its papers",
        min_length=1,
        max_length=60,
        pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$",
    )
    installation: str = Field(description="id of the installation that opened it", min_length=1, max_length=60)
    engine: str = Field(description="engine type and serial number", min_length=1, max_length=200)
    reason: str = Field(description="why the engine came in", min_length=1, max_length=2000)
    scope: str = Field(description="what was agreed, such as repair, to service limits", min_length=1, max_length=200)
    invented: bool = Field(description="true for a demonstration: every page and paper then says so")


class BookPinned(Fields):
    """Which book, and which rows of it, this job is judged by."""

    type: str = Field(description="engine type of the book", min_length=1)
    revision: str = Field(description="revision of the manual it was transcribed from", min_length=1)
    digest: str = Field(description="SHA-256 of the book's rows", pattern=r"^[0-9a-f]{64}$")


class RowTyped(Fields):
    """A row of the manual typed into the book of this job, because the job needed it."""

    table: str = Field(description="table of the book, such as sizes", min_length=1, max_length=40)
    cells: dict[str, str] = Field(description="filled cells of the row by column, as typed from the manual's page")
    digest: str = Field(description="SHA-256 of the book's rows with this one", pattern=r"^[0-9a-f]{64}$")


class PartRemoved(Fields):
    """A part on the bench, under its tag."""

    tag: str = Field(description="tag with its check digit, such as P-0212-6", min_length=1, max_length=20)
    part: str = Field(description="id of the part in the book", min_length=1, max_length=100)
    position: str = Field(default="", description="where it sat, where the position must be kept", max_length=200)


class GaugeSet(Fields):
    """A gauge on the bench: what it measures, how sure it is, and what it was set on."""

    gauge: str = Field(description="id of the gauge, as it is marked", min_length=1, max_length=40)
    name: str = Field(description="what it is, such as bore gauge", min_length=1, max_length=100)
    measures: str = Field(description="what it can measure, such as bore, outside, depth", min_length=1, max_length=40)
    expanded: str = Field(
        description="expanded uncertainty of a size read with it, with its unit, such as 0.00012 in", min_length=1
    )
    coverage_factor: str = Field(
        default="2", description="the factor it was expanded with", min_length=1, max_length=10
    )
    set_on: str = Field(default="", description="the master or ring it was set on", max_length=200)


class SettingsChosen(Fields):
    """How doubt is judged in this job from here on."""

    rule: Literal["plain", "guarded", "full U"] = Field(description="plain, guarded or full U")
    conformance: str = Field(default="0.95", description="least probability of being right, one-sided", max_length=10)


class ReadingTaken(Fields):
    """One reading of one feature of one part."""

    tag: str = Field(description="tag of the part measured", min_length=1, max_length=20)
    row: str = Field(description="id of the book's size row", min_length=1, max_length=100)
    row_digest: str = Field(description="SHA-256 of that row as it stood", pattern=r"^[0-9a-f]{64}$")
    value: str = Field(
        description="the reading with its unit, digit for digit as typed, such as 0.5094 in",
        min_length=1,
        max_length=80,
    )
    station: str = Field(default="", description="place along the part", max_length=100)
    direction: str = Field(default="", description="direction across the part", max_length=100)
    gauge: str = Field(default="", description="id of the gauge it was read with; empty: its doubt is not known")


class QuestionAsked(ReadingTaken):
    """A reading that may be a slip: kept as typed, asked about, and not counted until somebody answers."""

    asks: str = Field(description="the question", min_length=1, max_length=400)


class QuestionAnswered(Fields):
    """The answer to a question."""

    entry: int = Field(description="number of the entry that asked", ge=0)
    answer: Literal["stands", "read again"] = Field(description="stands, or read again")


class Withdrawn(Fields):
    """A reading, or a row typed into the book, that no longer counts; it stays visible."""

    entry: int = Field(description="number of the entry withdrawn", ge=0)
    reason: str = Field(description="why", min_length=1, max_length=2000)


class Noted(Fields):
    """Words for whoever comes next."""

    text: str = Field(description="the note", min_length=1, max_length=4000)


class PapersIssued(Fields):
    """A paper that left the book."""

    paper: str = Field(description="which paper", min_length=1, max_length=100)
    digest: str = Field(description="SHA-256 of its bytes", pattern=r"^[0-9a-f]{64}$")
    rests_on: str = Field(description="head of the stream it was made from", pattern=r"^[0-9a-f]{64}$")


KINDS: dict[str, Kind] = {
    "opened": Kind(1, Opened),
    "book pinned": Kind(1, BookPinned),
    "row typed": Kind(1, RowTyped),
    "part removed": Kind(1, PartRemoved),
    "settings chosen": Kind(1, SettingsChosen),
    "gauge set": Kind(1, GaugeSet),
    "reading taken": Kind(1, ReadingTaken),
    "question asked": Kind(1, QuestionAsked),
    "question answered": Kind(1, QuestionAnswered),
    "withdrawn": Kind(1, Withdrawn),
    "noted": Kind(1, Noted),
    "papers issued": Kind(1, PapersIssued),
}
