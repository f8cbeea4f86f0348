"""What is done with covers and parts: off, tagged, bagged, cleaned, looked at, tested, kept, sent out, counted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import Field

from tenthbook.record.job.kinds_of_intake import DAY
from tenthbook.record.ledger import Fields

Defect = Literal[
    "abrasion",
    "brinelling",
    "burning",
    "burnishing",
    "burr",
    "chafing",
    "chipping",
    "corrosion",
    "crack",
    "cut",
    "dent",
    "elongation",
    "erosion",
    "fretting",
    "galling",
    "gouge",
    "groove",
    "inclusion",
    "metal",
    "nick",
    "peening",
    "pick-up",
    "pitting",
    "scoring",
    "scratch",
    "spalling",
    "stain",
    "step",
    "upsetting",
    "warping",
]


class CoverRemoved(Fields):
    """A cover, or an assembly, that came off."""

    cover: str = Field(description="id of the cover in the book", min_length=1, max_length=100)
    says: str = Field(default="", description="how it was found", max_length=1000)


class CoverClosed(Fields):
    """A cover that went back, over work that is settled."""

    cover: str = Field(description="id of the cover in the book", min_length=1, max_length=100)
    rests_on: list[int] = Field(default=[], description="numbers of the entries it rests on")


class PartRemoved(Fields):
    """A part on the bench, under its tag."""

    tag: str = Field(description="tag with its check digit, such as P-0212-6", min_length=1, max_length=20)
    part: str = Field(description="id of the part in the book", min_length=1, max_length=100)
    position: str = Field(default="", description="where it sat, where the position must be kept", max_length=200)
    mated_with: str = Field(default="", description="tag of the part it runs with", max_length=20)
    as_found: str = Field(default="", description="how it was found", max_length=1000)
    bin: str = Field(default="", description="where it is kept", max_length=60)


def lift_part(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """Lift a part removed from the first version to the second.

    Args:
        data: Its fields of the first version.

    Returns:
        The same; what it runs with, how it was found and where it is kept were not recorded.
    """
    return {**data, "mated_with": "", "as_found": "", "bin": ""}


class Bagged(Fields):
    """Hardware that came off, counted into a bag with a name."""

    bag: str = Field(description="what is written on the bag", min_length=1, max_length=40)
    place: str = Field(description="where it came from, such as the joint", min_length=1, max_length=200)
    what: str = Field(description="what it is", min_length=1, max_length=200)
    count: int = Field(description="how many", ge=1)


class Cleaned(Fields):
    """A part that was cleaned."""

    tag: str = Field(description="tag of the part", min_length=1, max_length=20)
    inspection: str = Field(
        default="", description="id of the inspection in the book; empty: none of the book's", max_length=100
    )
    process: str = Field(description="how, and with what, by specification", min_length=1, max_length=500)
    plugs_out: int = Field(default=0, description="plugs of passages taken out", ge=0)
    plugs_in: int = Field(default=0, description="plugs of passages put back", ge=0)
    preserved_with: str = Field(default="", description="what it was wetted with afterwards", max_length=200)


class Inspected(Fields):
    """A part that was looked at, or tested for anything but cracks."""

    tag: str = Field(default="", description="tag of the part", max_length=20)
    part: str = Field(default="", description="id of a part that was not removed, looked at in place", max_length=100)
    inspection: str = Field(
        default="", description="id of the inspection in the book; empty: none of the book's", max_length=100
    )
    result: Literal["nothing found", "found"] = Field(description="nothing found, or found")
    says: str = Field(description="how it was looked at, and what was seen", min_length=1, max_length=2000)
    rests_on: list[int] = Field(default=[], description="numbers of the findings")


class CrackTested(Fields):
    """A part that was tested for cracks."""

    tag: str = Field(description="tag of the part", min_length=1, max_length=20)
    inspection: str = Field(
        default="", description="id of the inspection in the book; empty: none of the book's", max_length=100
    )
    method: str = Field(description="method, such as magnetic particle", min_length=1, max_length=200)
    procedure: str = Field(description="procedure with its revision", min_length=1, max_length=200)
    operator: str = Field(description="who tested", min_length=1, max_length=100)
    level: str = Field(description="the operator's level and scheme", min_length=1, max_length=100)
    equipment: str = Field(description="equipment and its due day", min_length=1, max_length=200)
    result: Literal["no indication", "indication"] = Field(description="no indication, or indication")
    says: str = Field(default="", description="what was indicated, and where", max_length=2000)
    residual: str = Field(default="", description="residual field after demagnetising, as read", max_length=40)
    cleaned_after: Literal["yes", "no"] = Field(description="whether it was cleaned afterwards")


class FindingSeen(Fields):
    """Something seen on a part, or in the engine."""

    tag: str = Field(default="", description="tag of the part; empty: on the engine", max_length=20)
    term: Defect = Field(description="what it is called")
    place: str = Field(description="where on it", min_length=1, max_length=300)
    extent: str = Field(default="", description="how large, with its unit, or in words", max_length=200)
    says: str = Field(default="", description="what was seen", max_length=2000)
    photograph: int = Field(default=-1, description="number of the entry with its photograph; -1: none", ge=-1)


class Preserved(Fields):
    """Something wetted or closed against rust, and until when that holds."""

    what: str = Field(description="what was preserved", min_length=1, max_length=200)
    preserved_with: str = Field(description="with what", min_length=1, max_length=200)
    until: str = Field(description="day by which it is done again", min_length=10, pattern=DAY)


class SentOut(Fields):
    """A part that went elsewhere."""

    tag: str = Field(description="tag of the part", min_length=1, max_length=20)
    to: str = Field(description="where to", min_length=1, max_length=200)
    work: str = Field(description="what is done to it there", min_length=1, max_length=1000)
    due: str = Field(default="", description="day it is promised back", pattern=DAY)


class Returned(Fields):
    """A part that came back; what was measured before it went counts no more."""

    entry: int = Field(description="number of the entry that sent it out", ge=0)
    document: str = Field(description="the release document that came with it, or none", min_length=1, max_length=300)
    says: str = Field(default="", description="what was done, and how it looks", max_length=2000)


class Counted(Fields):
    """A count before a cover closes."""

    cover: str = Field(description="id of the cover in the book", min_length=1, max_length=100)
    what: Literal["hardware", "blanks", "wipes", "plugs", "tools"] = Field(description="what was counted")
    went_out: int = Field(description="how many went out", ge=0)
    came_back: int = Field(description="how many came back", ge=0)
    says: str = Field(default="", description="where the last one was", max_length=500)


class BookMoved(Fields):
    """The job goes on by another revision of its book."""

    type: str = Field(description="engine type of the book", min_length=1)
    revision: str = Field(description="revision of the manual it was transcribed from", min_length=1)
    digest: str = Field(description="SHA-256 of the book's rows", pattern=r"^[0-9a-f]{64}$")
    reason: str = Field(description="why, and how the revision was checked to be the current one", min_length=1)


class GateOverridden(Fields):
    """A cover closed, or a start made, while something is open, by somebody who signs for it."""

    gate: str = Field(description="id of the gate, such as cover:access.pump-cover", min_length=1, max_length=120)
    opens: list[str] = Field(description="what was open, as it was shown", min_length=1)
    reason: str = Field(description="why", min_length=1, max_length=2000)
    rests_on: str = Field(description="head of the stream it rests on", pattern=r"^[0-9a-f]{64}$")
    key: str = Field(description="public key of the signer", pattern=r"^[0-9a-f]{64}$")
