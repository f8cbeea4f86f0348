"""What is settled when the engine comes in: scope, events, times, what came with it, papers that apply, who pays.

A number is text with its unit, digit for digit as it was typed; a day is written 2026-10-02.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tenthbook.record.ledger import Fields

Event = Literal[
    "propeller strike",
    "sudden stoppage",
    "overspeed",
    "over-temperature",
    "run without oil",
    "immersion",
    "fire",
    "lightning",
    "metal found",
    "long storage",
]
DAY = r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"


class ScopeAgreed(Fields):
    """How far the work goes, by which manual, and with whom it was agreed."""

    work: Literal["inspection", "repair", "overhaul"] = Field(description="inspection, repair or overhaul")
    standard: Literal["to service limits", "to new limits"] = Field(description="to service limits, or to new limits")
    manual: str = Field(description="the manual that rules", min_length=1, max_length=300)
    revision: str = Field(description="its revision", min_length=1, max_length=200)
    checked_current: str = Field(description="how the revision was checked to be the current one", min_length=1)
    agreed_with: str = Field(description="with whom it was agreed", min_length=1, max_length=200)
    covers: list[Event] = Field(default=[], description="events whose inspection the work holds")


class EventAnswered(Fields):
    """Whether something happened that forces a scope."""

    event: Event = Field(description="the event asked about")
    answer: Literal["no", "yes", "not known"] = Field(description="no, yes, or not known")
    says: str = Field(description="who said so, and what is known of it", min_length=1, max_length=2000)


class TimesStated(Fields):
    """Running times, as somebody read them somewhere."""

    of: Literal["engine", "aircraft", "propeller"] = Field(description="whose times they are")
    total: str = Field(description="total time in service, with its unit, such as 1840.5 h", min_length=1)
    since_overhaul: str = Field(default="", description="time since overhaul, with its unit; empty: not known")
    read_from: str = Field(description="where they were read", min_length=1, max_length=300)


class ComponentListed(Fields):
    """Something that came with the engine."""

    item: str = Field(description="what it is", min_length=1, max_length=200)
    number: str = Field(default="", description="part number as found", max_length=100)
    serial: str = Field(default="", description="serial number as found", max_length=100)
    condition: str = Field(default="", description="as found", max_length=500)
    where: Literal["stays here", "sent elsewhere", "with the owner", "missing on arrival"] = Field(
        description="where it is"
    )


class DocumentListed(Fields):
    """A directive or a bulletin, and whether it applies to this engine."""

    document: Literal["directive", "bulletin", "other"] = Field(description="directive, bulletin or other")
    number: str = Field(description="its number with amendment or revision", min_length=1, max_length=100)
    effective: str = Field(default="", description="day it took effect", pattern=DAY)
    subject: str = Field(description="what it is about", min_length=1, max_length=500)
    applies: Literal["yes", "no", "not known"] = Field(description="whether it applies to this engine")
    why: str = Field(description="why it applies, or why not", min_length=1, max_length=1000)
    due: str = Field(default="", description="when it is due, in its own words", max_length=200)


class DocumentAnswered(Fields):
    """How a directive or a bulletin was complied with, or why it waits."""

    entry: int = Field(description="number of the entry that listed it", ge=0)
    answer: Literal["done", "not due", "deferred"] = Field(description="done, not due or deferred")
    method: str = Field(description="the part of it and the method chosen, or why it waits", min_length=1)
    rests_on: list[int] = Field(default=[], description="numbers of the entries that show it")


class OwnerApproved(Fields):
    """What the owner approved, and up to which price."""

    work: str = Field(description="what is approved", min_length=1, max_length=2000)
    ceiling: str = Field(default="", description="price not to be passed, such as 1200.00 EUR; empty: none named")
    by: str = Field(description="who approved it", min_length=1, max_length=200)
    how: str = Field(description="how it was given, such as in writing", min_length=1, max_length=300)


class FindingPriced(Fields):
    """Extra work that a finding asks for, with its price, before anybody is asked."""

    entry: int = Field(description="number of the entry that shows why", ge=0)
    work: str = Field(description="what would be done", min_length=1, max_length=2000)
    price: str = Field(description="its price, such as 340.00 EUR", min_length=1, max_length=40)
    days: str = Field(default="", description="days it adds", max_length=20)


class ExtraFindingApproved(Fields):
    """The owner's yes to extra work."""

    entry: int = Field(description="number of the entry that priced it", ge=0)
    by: str = Field(description="who approved it", min_length=1, max_length=200)
    how: str = Field(description="how it was given, such as in writing", min_length=1, max_length=300)


class LookDeclined(Fields):
    """The owner's no to extra work, for now."""

    entry: int = Field(description="number of the entry that priced it", ge=0)
    by: str = Field(description="who declined it", min_length=1, max_length=200)
    reason: str = Field(description="why, and what would open the question again", min_length=1, max_length=2000)


class TaskTakenOn(Fields):
    """Whether whoever does a task has done it before, and who stands beside them where not."""

    task: str = Field(description="the task", min_length=1, max_length=200)
    before: Literal["done before", "first time"] = Field(description="done before, or first time")
    supervised_by: str = Field(default="", description="who supervises it, experienced in that task", max_length=60)
