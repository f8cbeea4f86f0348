"""A least and a greatest, either of which may be blank, one pair or many at once.

A blank side lies beyond every value: in an int64 array two to the power of 62, in an array of fractions infinity. So
that no comparison can mistake a blank for nought, `given` says whether a pair states anything at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import Quantity
from tenthbook.numbers.quantity.arrays import picometres

BLANK = 2**62


class NotABand(TenthbookError):
    """A least above its greatest."""


def _above(one: Quantity, other: Quantity) -> bool:
    """Compare exactly; in one unit the numbers as typed decide, which is quicker."""
    if one.unit == other.unit:
        return one.number > other.number
    return one.exact > other.exact


@dataclass(frozen=True, slots=True)
class Band:
    """A least and a greatest as printed; None where the book leaves the side blank."""

    lower: Quantity | None = None
    upper: Quantity | None = None

    def __post_init__(self) -> None:
        """Refuse a pair that stands upside down.

        Raises:
            NotABand: the least is above the greatest.
        """
        if self.lower is not None and self.upper is not None and _above(self.lower, self.upper):
            raise NotABand(found=f"{self.lower} to {self.upper}", expected="the least first, then the greatest")

    @property
    def given(self) -> bool:
        """Whether the book states either side."""
        return self.lower is not None or self.upper is not None

    def __str__(self) -> str:
        if self.lower is not None and self.upper is not None:
            return (
                f"{self.lower.typed} to {self.upper}"
                if self.lower.unit == self.upper.unit
                else f"{self.lower} to {self.upper}"
            )
        if self.lower is not None:
            return f"{self.lower} or more"
        return f"{self.upper} or less" if self.upper is not None else "no limit"


@dataclass(frozen=True, slots=True)
class Limits:
    """The new and the service limits of one row, as printed."""

    new: Band = Band()
    service: Band = Band()

    @property
    def service_resolved(self) -> Band:
        """The service limits, a blank side taken from the new ones; blank where none is given at all."""
        if not self.service.given:
            return self.service
        return Band(self.service.lower or self.new.lower, self.service.upper or self.new.upper)


@dataclass(frozen=True, slots=True)
class Bands:
    """Many bands at once.

    Attributes:
        lower: Least values [pm], shape (n,); a blank lies below every value.
        upper: Greatest values [pm], shape (n,); a blank lies above every value.
        given: Whether either side is stated, shape (n,).
    """

    lower: NDArray[Any]
    upper: NDArray[Any]
    given: NDArray[np.bool_]


def _side(values: Sequence[Quantity | None], blank: int) -> NDArray[Any]:
    stated = [value for value in values if value is not None]
    known = picometres(stated)
    if known.dtype == object:
        side = np.full(len(values), np.inf if blank > 0 else -np.inf, dtype=object)
    else:
        side = np.full(len(values), blank, dtype=np.int64)
    side[[value is not None for value in values]] = known
    return side


def bands(rows: Sequence[Band]) -> Bands:
    """Turn printed bands into arrays.

    Args:
        rows: One band a value; lengths in any unit [in, mm, ...].

    Returns:
        The same bands in picometres [pm].
    """
    lower = _side([row.lower for row in rows], -BLANK)
    upper = _side([row.upper for row in rows], BLANK)
    return Bands(lower, upper, np.array([row.given for row in rows], dtype=np.bool_))


def _alike(*sides: NDArray[Any]) -> list[NDArray[Any]]:
    """Bring sides to one kind: where one is of exact fractions, a blank of all of them is infinity."""
    if all(side.dtype != object for side in sides):
        return list(sides)
    exact = []
    for side in sides:
        held = np.asarray(side, dtype=object).copy()
        if side.dtype != object:
            held[side >= BLANK], held[side <= -BLANK] = np.inf, -np.inf
        exact.append(held)
    return exact


def service_bands(new: Bands, service: Bands) -> Bands:
    """Complete the service limits: a blank side of a given pair keeps the new limit of that side.

    Args:
        new: New limits [pm], shape (n,).
        service: Service limits as printed [pm], shape (n,).

    Returns:
        Service limits as they apply [pm]; pairs not given stay blank.
    """
    new_lower, new_upper, lower, upper = _alike(new.lower, new.upper, service.lower, service.upper)
    blank = np.inf if lower.dtype == object else BLANK
    return Bands(
        np.where(service.given & (lower == -blank), new_lower, lower),
        np.where(service.given & (upper == blank), new_upper, upper),
        service.given,
    )
