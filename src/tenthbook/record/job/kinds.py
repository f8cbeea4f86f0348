"""The facts a job can hold: each kind in the past tense, with its version and its fields.

A number is text with its unit, digit for digit as it was typed. A kind's fields never change under one version; what
changes gets the next.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import Field

from tenthbook.record.job.kinds_of_handling import (
    Bagged,
    BookMoved,
    Cleaned,
    Counted,
    CoverClosed,
    CoverRemoved,
    CrackTested,
    FindingSeen,
    GateOverridden,
    Inspected,
    PartRemoved,
    Preserved,
    Returned,
    SentOut,
    lift_part,
)
from tenthbook.record.job.kinds_of_intake import (
    ComponentListed,
    DocumentAnswered,
    DocumentListed,
    EventAnswered,
    ExtraFindingApproved,
    FindingPriced,
    LookDeclined,
    OwnerApproved,
    ScopeAgreed,
    TaskTakenOn,
    TimesStated,
)
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


class GaugeSet(Fields):
    """A gauge on the bench: what it measures, how sure it is, what it was set on, and its calibration as then known."""

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
    certificate: str = Field(default="", description="number of its calibration certificate", max_length=100)
    due: str = Field(
        default="",
        description="last day of its calibration, such as 2027-03-31",
        pattern=r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$",
    )
    calibration: str = Field(
        default="",
        description="hash of the entry in the tools' stream that it was taken from; empty: typed by hand",
        pattern=r"^([0-9a-f]{64})?$",
    )


def _lift_gauge(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """A gauge set before calibrations were pinned: none is known."""
    return {**data, "certificate": "", "due": "", "calibration": ""}


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


class Corrected(Fields):
    """Other fields for an act that was recorded wrongly; they count in its place, and the act stays visible."""

    entry: int = Field(description="number of the entry corrected", ge=0)
    fields: dict[str, str] = Field(description="the fields that were wrong, as they should be", min_length=1)
    reason: str = Field(description="why", min_length=1, max_length=2000)
    asks: str = Field(default="", description="what is asked where the corrected reading may be a slip", max_length=400)


class Withdrawn(Fields):
    """An act that no longer counts; it stays visible."""

    entry: int = Field(description="number of the entry withdrawn", ge=0)
    reason: str = Field(description="why", min_length=1, max_length=2000)


class ReVerified(Fields):
    """An act in doubt that was looked at again and stands."""

    entry: int = Field(description="number of the entry in doubt", ge=0)
    says: str = Field(description="what was looked at, and what was seen", min_length=1, max_length=2000)


class Photographed(Fields):
    """A photograph, as it came from the camera; it lies beside the entries."""

    tag: str = Field(default="", description="tag of the part it shows; empty for the engine", max_length=20)
    row: str = Field(default="", description="id of the book's row it shows", max_length=100)
    says: str = Field(description="what it shows", min_length=1, max_length=2000)
    photograph_detached: str = Field(description="commitment to its bytes", pattern=r"^[0-9a-f]{64}$")
    media_type: str = Field(description="what kind of file it is, such as image/jpeg", min_length=1, max_length=40)
    taken_at: str = Field(default="", description="when, as the camera claims", max_length=40)


class Noted(Fields):
    """Words for whoever comes next."""

    text: str = Field(description="the note", min_length=1, max_length=4000)


class Disposed(Fields):
    """What becomes of a part."""

    tag: str = Field(default="", description="tag of the part", max_length=20)
    part: str = Field(default="", description="id of a part that was not removed", max_length=100)
    disposition: Literal[
        "in new limits",
        "in service limits",
        "repair",
        "rework to size",
        "replace",
        "mandatory replace",
        "scrap",
        "hold",
        "not disturbed",
        "looked at in place",
    ] = Field(description="the disposition")
    reason: str = Field(description="why", min_length=1, max_length=2000)
    procedure: str = Field(default="", description="the procedure, for a repair or rework", max_length=200)
    rests_on: list[int] = Field(default=[], description="numbers of the entries it rests on")


def _lift_disposed(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """A disposition of a time when only parts with a tag had one."""
    return {**data, "part": ""}


class PutDown(Fields):
    """Work laid down on purpose: how it stands."""

    stands: str = Field(description="what is in hand, and how it stands", min_length=1, max_length=2000)


class HandedOver(Fields):
    """Work given into other hands."""

    to: str = Field(description="id of the person who takes it over", min_length=1, max_length=60)
    stands: str = Field(description="how it stands", min_length=1, max_length=2000)
    unfinished: str = Field(description="fasteners and steps not finished; none is said as none", min_length=1)
    open_ports: str = Field(description="ports and lines open, and how they are covered", min_length=1)
    parts_out: str = Field(description="parts that are elsewhere", min_length=1)
    warnings: str = Field(description="what the next person must know", min_length=1)


class HandOverReceived(Fields):
    """Work taken over from other hands."""

    entry: int = Field(description="number of the entry that handed it over", ge=0)
    says: str = Field(description="what was looked at together, and what was seen", min_length=1, max_length=2000)


class TakenUp(Fields):
    """Work gone on with after it was put down."""

    entry: int = Field(description="number of the entry that put it down", ge=0)
    says: str = Field(default="", description="what was found as left, or otherwise", max_length=2000)


class Bound(Fields):
    """An act that a signature binds."""

    entry: int = Field(description="number of the entry", ge=0)
    hash: str = Field(description="its hash", pattern=r"^[0-9a-f]{64}$")


class Signed(Fields):
    """A statement that somebody signed."""

    as_what: Literal["own work", "second look"] = Field(description="own work, or second look")
    statement_kept: str = Field(description="SHA-256 of the statement as it was shown", pattern=r"^[0-9a-f]{64}$")
    rests_on: str = Field(description="head of the stream it rests on", pattern=r"^[0-9a-f]{64}$")
    binds: list[Bound] = Field(description="the acts it binds", min_length=1)
    gauges: list[Bound] = Field(default=[], description="the gauges as then set, with their calibration as then known")
    supersedes: int = Field(default=-1, description="number of the signature it takes the place of", ge=-1)
    key: str = Field(description="public key of the signer", pattern=r"^[0-9a-f]{64}$")


class PapersIssued(Fields):
    """A paper that left the book."""

    paper: str = Field(description="which paper", min_length=1, max_length=100)
    digest: str = Field(description="SHA-256 of its bytes", pattern=r"^[0-9a-f]{64}$")
    rests_on: str = Field(description="head of the stream it was made from", pattern=r"^[0-9a-f]{64}$")


KINDS: dict[str, Kind] = {
    "opened": Kind(1, Opened),
    "book pinned": Kind(1, BookPinned),
    "row typed": Kind(1, RowTyped),
    "scope agreed": Kind(1, ScopeAgreed),
    "event answered": Kind(1, EventAnswered),
    "times stated": Kind(1, TimesStated),
    "component listed": Kind(1, ComponentListed),
    "document listed": Kind(1, DocumentListed),
    "document answered": Kind(1, DocumentAnswered),
    "owner approved": Kind(1, OwnerApproved),
    "finding priced": Kind(1, FindingPriced),
    "extra finding approved": Kind(1, ExtraFindingApproved),
    "look declined": Kind(1, LookDeclined),
    "task taken on": Kind(1, TaskTakenOn),
    "cover removed": Kind(1, CoverRemoved),
    "cover closed": Kind(1, CoverClosed),
    "part removed": Kind(2, PartRemoved, {1: lift_part}),
    "bagged": Kind(1, Bagged),
    "cleaned": Kind(1, Cleaned),
    "inspected": Kind(1, Inspected),
    "crack-tested": Kind(1, CrackTested),
    "finding seen": Kind(1, FindingSeen),
    "preserved": Kind(1, Preserved),
    "sent out": Kind(1, SentOut),
    "returned": Kind(1, Returned),
    "counted": Kind(1, Counted),
    "settings chosen": Kind(1, SettingsChosen),
    "gauge set": Kind(2, GaugeSet, {1: _lift_gauge}),
    "reading taken": Kind(1, ReadingTaken),
    "question asked": Kind(1, QuestionAsked),
    "question answered": Kind(1, QuestionAnswered),
    "corrected": Kind(1, Corrected),
    "withdrawn": Kind(1, Withdrawn),
    "re-verified": Kind(1, ReVerified),
    "photographed": Kind(1, Photographed),
    "disposed": Kind(2, Disposed, {1: _lift_disposed}),
    "noted": Kind(1, Noted),
    "put down": Kind(1, PutDown),
    "taken up": Kind(1, TakenUp),
    "handed over": Kind(1, HandedOver),
    "hand-over received": Kind(1, HandOverReceived),
    "book moved": Kind(1, BookMoved),
    "gate overridden": Kind(1, GateOverridden),
    "papers issued": Kind(1, PapersIssued),
    "signed": Kind(1, Signed),
}
PLAIN_ACTS = (
    "scope agreed",
    "event answered",
    "times stated",
    "component listed",
    "document listed",
    "document answered",
    "owner approved",
    "finding priced",
    "extra finding approved",
    "look declined",
    "task taken on",
    "cover removed",
    "cover closed",
    "bagged",
    "cleaned",
    "inspected",
    "crack-tested",
    "finding seen",
    "preserved",
    "sent out",
    "returned",
    "counted",
    "gate overridden",
)
"""Kinds that are what they say and no more: a state keeps their fields as they count."""
