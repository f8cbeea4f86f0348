"""A row of the book as the rest of the house uses it."""

from __future__ import annotations

from dataclasses import dataclass

from tenthbook.numbers.limit import Limits
from tenthbook.numbers.quantity import Unit


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the engine type."""

    id: str
    name: str
    where_used: str
    quantity: int
    sold_in: str
    page: str
    note: str


@dataclass(frozen=True, slots=True)
class LimitRow:
    """What a size row and a fit row share: limits as printed, their unit, their page."""

    id: str
    unit: Unit
    limits: Limits
    safety: bool
    page: str
    note: str
    digest: str


@dataclass(frozen=True, slots=True)
class Size(LimitRow):
    """Limits of one feature of one part [unit as printed]."""

    part: str
    feature: str


@dataclass(frozen=True, slots=True)
class Fit(LimitRow):
    """Limits of a clearance: the size `hole` less the size `shaft` [unit as printed]."""

    name: str
    hole: str
    shaft: str
