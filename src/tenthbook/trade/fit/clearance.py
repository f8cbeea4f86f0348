"""How two measured parts go together, and what the doubt of both gauges makes of the verdict.

Clearance is hole less shaft; a tight fit is negative. Exact in whole picometres (or fractions); only uncertainties and
probabilities are floats. It measures nothing and forecasts nothing. In: arrays of sizes, their standard uncertainties,
new and service limits. Out: arrays.

Sources: JCGM 100:2008, 5.2.2 for a common instrument; ISO 14253-1 for the guard (both from memory). Checked in:
tests/published/test_trade_letters.py
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.limit import Bands, grade_plainly, grade_with_doubt
from tenthbook.trade.gauge.conformity import probability_within


class TooMuchInCommon(TenthbookError):
    """A common part of two uncertainties that is larger than one of them."""


@dataclass(frozen=True, slots=True)
class GradedFits:
    """Fits with their grades.

    Attributes:
        clearance: Hole less shaft [pm], exact.
        standard_uncertainty: Of the clearance [pm]; NaN where neither size has one.
        plain: Grade at face value, codes of `tenthbook.numbers.limit.Grade`.
        grade: Grade under the decision rule.
        probability_new: Chance of lying in new limits [-]; NaN without uncertainty or limit.
        probability_service: Chance of lying in service limits [-]; NaN the same way.
    """

    clearance: NDArray[Any]
    standard_uncertainty: NDArray[np.float64]
    plain: NDArray[np.int8]
    grade: NDArray[np.int8]
    probability_new: NDArray[np.float64]
    probability_service: NDArray[np.float64]


def clearance_uncertainty(hole: ArrayLike, shaft: ArrayLike, common: ArrayLike = 0.0) -> NDArray[np.float64]:
    """Combine the doubts of hole and shaft.

    Args:
        hole: Standard uncertainty of the hole [pm]; NaN where none is stated; any shape.
        shaft: Standard uncertainty of the shaft [pm]; NaN where none is stated; broadcasts.
        common: Part of both that comes from one instrument and so cancels [pm]; broadcasts.

    Returns:
        Standard uncertainty of hole less shaft [pm]; a size without one counts as exact, NaN where neither has one.

    Raises:
        TooMuchInCommon: the common part is larger than either uncertainty.

    Source: JCGM 100:2008, 5.2.2, eq. (13), with one fully correlated component (from memory).
    Checked in: tests/published/test_jcgm_100.py
    """
    u_hole, u_shaft, shared = np.broadcast_arrays(*(np.asarray(one, dtype=np.float64) for one in (hole, shaft, common)))
    neither = np.isnan(u_hole) & np.isnan(u_shaft)
    known_hole, known_shaft = np.nan_to_num(u_hole), np.nan_to_num(u_shaft)
    if np.any(shared > np.minimum(known_hole, known_shaft)):
        raise TooMuchInCommon(
            found="a common part larger than one of the two uncertainties", expected="at most the smaller of the two"
        )
    variance = (known_hole - shared) * (known_hole + shared) + (known_shaft - shared) * (known_shaft + shared)
    return np.asarray(np.where(neither, np.nan, np.sqrt(variance)), dtype=np.float64)


def _chance(clearance: NDArray[Any], u: NDArray[np.float64], band: Bands) -> NDArray[np.float64]:
    chance = probability_within(clearance, np.nan_to_num(u), band.lower, band.upper)
    return np.asarray(np.where(band.given & ~np.isnan(u), chance, np.nan), dtype=np.float64)


def grade_fits(
    clearance: NDArray[Any], standard_uncertainty: ArrayLike, guard_factor: ArrayLike, new: Bands, service: Bands
) -> GradedFits:
    """Grade clearances at face value and under a decision rule.

    Args:
        clearance: Hole less shaft [pm], shape (n,), exact.
        standard_uncertainty: Of the clearance [pm], shape (n,); NaN where unknown.
        guard_factor: Width of the guard in standard uncertainties [-], shape (n,): 0 plain, 2 full U.
        new: New limits [pm], shape (n,).
        service: Service limits as they apply [pm], shape (n,).

    Returns:
        Grades and probabilities, shape (n,).

    Source: ISO 14253-1 (from memory); the grades are a rule of this book. Checked in: tests/published/test_iso_14253.py
    """
    u = np.asarray(standard_uncertainty, dtype=np.float64)
    guard = np.asarray(guard_factor, dtype=np.float64) * np.nan_to_num(u)
    return GradedFits(
        clearance,
        u,
        grade_plainly(clearance, new, service),
        grade_with_doubt(clearance, guard, new, service),
        _chance(clearance, u, new),
        _chance(clearance, u, service),
    )
