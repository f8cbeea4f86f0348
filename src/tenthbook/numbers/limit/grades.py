"""What a value is called against its limits: new, service, reject, undecided or no limit.

The plain grade takes the value at its face. The grade under doubt asks that a band be proven: the value keeps a
guard's distance from its limits. The guard comes from outside (how sure the gauge is belongs to another room). Margins
are exact; only the guard is a float.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.numbers.limit.bands import BLANK, Band, Bands, Limits
from tenthbook.numbers.quantity import Quantity


class Grade(IntEnum):
    """The grades, from best to worst: the worst of several rules."""

    NEW = 0
    SERVICE = 1
    NO_LIMIT = 2
    UNDECIDED = 3
    REJECT = 4

    @property
    def word(self) -> str:
        """The grade as the calculators print it."""
        return self.name.lower().replace("_", " ")


@dataclass(frozen=True, slots=True)
class Verdict:
    """One value against its limits.

    Attributes:
        grade: The plain grade.
        side: "below" or "above" where the value lies beyond a service limit, else None.
        limit: The limit nearest to the value in the band that decided, as printed; None where there is none.
        distance: From the value to that limit in its unit [in or mm], exact, never negative.
    """

    grade: Grade
    side: str | None
    limit: Quantity | None
    distance: Fraction


def _margins(value: NDArray[Any], band: Bands) -> tuple[NDArray[Any], NDArray[Any]]:
    """How far inside each side a value lies, exact; infinitely far where the side is blank."""
    lower, upper = band.lower, band.upper
    if value.dtype == object and lower.dtype != object:
        lower = np.where(lower == -BLANK, -np.inf, lower.astype(object))
        upper = np.where(upper == BLANK, np.inf, upper.astype(object))
    return np.asarray(value - lower), np.asarray(upper - value)


def _proven_within(value: NDArray[Any], guard: ArrayLike, band: Bands) -> NDArray[np.bool_]:
    above, below = _margins(value, band)
    return np.asarray(band.given & (above >= guard) & (below >= guard), dtype=np.bool_)


def _proven_outside(value: NDArray[Any], guard: ArrayLike, band: Bands) -> NDArray[np.bool_]:
    above, below = _margins(value, band)
    return np.asarray(band.given & ((-above > guard) | (-below > guard)), dtype=np.bool_)


def grade_with_doubt(value: NDArray[Any], guard: ArrayLike, new: Bands, service: Bands) -> NDArray[np.int8]:
    """Grade values that must keep a distance from their limits before a band is proven.

    Args:
        value: Values [pm], shape (n,), int64 or exact fractions.
        guard: Distance to keep [pm], shape (n,) or scalar, not negative.
        new: New limits [pm], shape (n,).
        service: Service limits as they apply [pm], shape (n,) (see `service_bands`).

    Returns:
        `Grade` codes, shape (n,): the best band proven (new, else service), reject if proven, else undecided. Outside
        new limits with no service limit: no limit. Doubt at the new limit alone only lowers new to service.

    Source: the decision rule with a guard band on both sides of a limit, ISO 14253-1. Checked in:
        tests/published/test_iso_14253.py
    """
    in_new, out_of_new = _proven_within(value, guard, new), _proven_outside(value, guard, new)
    in_service, out_of_service = _proven_within(value, guard, service), _proven_outside(value, guard, service)
    grade = np.full(np.shape(in_new), Grade.UNDECIDED, dtype=np.int8)
    grade[~service.given & (out_of_new | ~new.given)] = Grade.NO_LIMIT
    grade[out_of_service & (out_of_new | ~new.given)] = Grade.REJECT
    grade[in_service] = Grade.SERVICE
    grade[in_new] = Grade.NEW
    return grade


def grade_plainly(value: NDArray[Any], new: Bands, service: Bands) -> NDArray[np.int8]:
    """Grade values at their face.

    Args:
        value: Values [pm], shape (n,), int64 or exact fractions.
        new: New limits [pm], shape (n,).
        service: Service limits as they apply [pm], shape (n,).

    Returns:
        `Grade` codes, shape (n,); on the limit is within it, so nothing is undecided.

    Source: a value equal to its limit is accepted, common practice (read in a published repair manual's general rules).
    Checked in: tests/published/test_trade_letters.py
    """
    return grade_with_doubt(value, 0, new, service)


def _margin(value: Fraction, band: Band) -> Fraction | None:
    """How far inside the nearer side a value lies, exact [m]; negative outside, None where the band is blank."""
    sides = [value - band.lower.exact] if band.lower is not None else []
    sides += [band.upper.exact - value] if band.upper is not None else []
    return min(sides, default=None)


Margins = tuple[Fraction | None, Fraction | None]


def margins_of(value: Fraction, limits: Limits) -> Margins:
    """Say how far inside its limits a value lies.

    Args:
        value: The value [m], exact.
        limits: New and service limits as printed.

    Returns:
        Distance to the nearer new limit and to the nearer service limit as it applies [m], exact; negative outside,
        None where there is none.
    """
    return _margin(value, limits.new), _margin(value, limits.service_resolved)


def grade_one(margins: Margins, guard: Fraction) -> Grade:
    """Grade one value that must keep a distance from its limits before a band is proven.

    Args:
        margins: How far inside its limits it lies [m], exact (see `margins_of`).
        guard: Distance to keep [m], exact, not negative; nought for the plain grade.

    Returns:
        The grade, as `grade_with_doubt` gives it for many at once.

    Source: as `grade_with_doubt`; that the two agree is checked in tests/unit/limit/test_grades.py
    """
    new, service = margins
    if new is not None and new >= guard:
        return Grade.NEW
    if service is not None and service >= guard:
        return Grade.SERVICE
    if new is not None and -new <= guard:
        return Grade.UNDECIDED
    if service is None:
        return Grade.NO_LIMIT
    return Grade.REJECT if -service > guard else Grade.UNDECIDED


def _nearest(value: Fraction, band: Band, side: str | None) -> tuple[Quantity | None, Fraction]:
    sides = {"below": band.lower, "above": band.upper}
    candidates = [sides[side]] if side else [band.lower, band.upper]
    distances = [(abs(value - limit.exact) / limit.unit.factor, limit) for limit in candidates if limit is not None]
    if not distances:
        return None, Fraction(0)
    distance, limit = min(distances, key=lambda pair: pair[0])
    return limit, distance


def judge(value: Fraction, limits: Limits, margins: Margins | None = None) -> Verdict:
    """Judge one value at its face, and say by how much.

    Args:
        value: The value [m], exact.
        limits: New and service limits as printed.
        margins: How far inside them it lies [m], where that is known already.

    Returns:
        The grade with the limit that matters and the distance to it, in that limit's printed unit [in or mm].

    Source: comparison in the printed unit, exact; rule of this book.
    """
    service = limits.service_resolved
    grade = grade_one(margins if margins is not None else margins_of(value, limits), Fraction(0))
    if grade is Grade.REJECT:
        side = "below" if service.lower is not None and value < service.lower.exact else "above"
        limit, distance = _nearest(value, service, side)
        return Verdict(grade, side, limit, distance)
    band = {Grade.NEW: limits.new, Grade.SERVICE: service}.get(grade, Band())
    limit, distance = _nearest(value, band, None)
    return Verdict(grade, None, limit, distance)


def worst(grades: Iterable[Grade]) -> Grade:
    """Say which of several grades rules.

    Args:
        grades: At least one.

    Returns:
        The worst: reject, undecided, no limit, service, new, in that order.
    """
    return max(grades)
