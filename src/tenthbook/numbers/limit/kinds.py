"""The twelve ways a manual states a limit.

What a row says is kept as it is printed: a wear allowance is not turned into a size when it is typed, since people who
compute first transcribe the sum. Each statement knows how it resolves against a part (see `resolving`).

Kinds 1 to 12 in order: a least and greatest for new parts; service limits alone; wear from new; a rate per inch of
diameter; a rate per inch of length or travel; a share of the original; a multiple of another row; the feel of a ribbon;
a condition; no limit given; one of a list; not applicable.

Source: kinds seen in US Army TM 10-3930-647-14&P, TM 5-6115-545-34, TM 5-6115-584-34 and TM 10-3930-653-14&P (read).
Checked in: tests/published/test_limit_kinds.py
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from tenthbook.numbers.limit.bands import Band, Limits
from tenthbook.numbers.quantity import Quantity


class Side(StrEnum):
    """On which side wear moves a size, or a rate limits it."""

    GREATEST = "greatest"
    LEAST = "least"


class Reference(StrEnum):
    """From where wear is counted."""

    NEW_GREATEST = "new greatest"
    NEW_LEAST = "new least"
    ORIGINAL = "this part when new"


@dataclass(frozen=True, slots=True)
class Absolute:
    """Kinds 1 and 2: sizes as printed, new, service, or one of the two."""

    limits: Limits


@dataclass(frozen=True, slots=True)
class WearFromNew:
    """Kind 3: "0.005 over high limit", "under low limit", "0.001 total wear".

    Attributes:
        amount: Wear allowed [in or mm], above nought.
        side: Which way wear moves the size.
        reference: From where it is counted; the row's own words decide, and blank words are asked about.
        new: New limits of the same row [in or mm].
    """

    amount: Quantity
    side: Side
    reference: Reference
    new: Band


@dataclass(frozen=True, slots=True)
class PerDiameter:
    """Kind 4: "0.0005 per inch of diameter".

    Attributes:
        amount: What one `per` of diameter allows [in or mm].
        per: The length it is stated for [in or mm], such as 1 in or 100 mm.
        side: Which side it limits.
    """

    amount: Quantity
    per: Quantity
    side: Side = Side.GREATEST


@dataclass(frozen=True, slots=True)
class PerLength:
    """Kind 5: a rate per inch of length or travel; the same as `PerDiameter`, of another length."""

    amount: Quantity
    per: Quantity
    side: Side = Side.GREATEST


@dataclass(frozen=True, slots=True)
class ShareOfOriginal:
    """Kind 6: "original width + 15 %".

    Attributes:
        per_cent: Change allowed, signed [%].
    """

    per_cent: Decimal


@dataclass(frozen=True, slots=True)
class MultipleOf:
    """Kind 7: "2 times the allowable taper of a new shaft".

    Attributes:
        factor: The multiple, above nought [-].
        row: Id of the other row.
    """

    factor: Decimal
    row: str


@dataclass(frozen=True, slots=True)
class Feel:
    """Kind 8: a pull felt on a ribbon of stated thickness [in or mm]."""

    ribbon: Quantity


@dataclass(frozen=True, slots=True)
class Condition:
    """Kind 9: a condition in the row's own words, such as "replace if disturbed after 50 h"."""

    words: str


@dataclass(frozen=True, slots=True)
class NoneGiven:
    """Kind 10: dashes or a blank. No limit, and not nought."""


@dataclass(frozen=True, slots=True)
class OneOf:
    """Kind 11: a list of sizes to choose from: undersizes, shims.

    Attributes:
        sizes: The listed sizes [in or mm], at least one.
        within: How far from a listed size still counts as it [in or mm].
    """

    sizes: tuple[Quantity, ...]
    within: Quantity


@dataclass(frozen=True, slots=True)
class NotApplicable:
    """Kind 12: the row does not apply to this part."""


Statement = (
    Absolute
    | WearFromNew
    | PerDiameter
    | PerLength
    | ShareOfOriginal
    | MultipleOf
    | Feel
    | Condition
    | NoneGiven
    | OneOf
    | NotApplicable
)
