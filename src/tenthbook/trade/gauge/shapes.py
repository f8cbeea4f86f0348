"""What a stated limit is worth as a standard uncertainty: an error limit, a step, a certificate, an even chance.

Says nothing about readings (see `readings`) and adds nothing up (see `budget`). In: half-widths and steps in any one
unit, arrays of any shape. Out: standard uncertainties in the same unit. Sources: JCGM 100:2008, 4.3, F.2.2.1 and G.4.2;
EA-4/02, example S10 (all from memory).
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.distributions import coverage_factor
from tenthbook.trade.gauge.faults import NotAnUncertainty, TooFewDegrees, checked_probability, checked_uncertainty


class Shape(StrEnum):
    """How a quantity may lie between its bounds.

    Source: JCGM 101:2008, 6.4 (from memory).
    """

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    ARCSINE = "arcsine"
    CURVED = "curvilinear trapezoid"


_DIVISOR = {
    Shape.RECTANGULAR: np.sqrt(3.0),
    Shape.TRIANGULAR: np.sqrt(6.0),
    Shape.ARCSINE: np.sqrt(2.0),
}


def standard_from_half_width(half_width: ArrayLike, shape: Shape = Shape.RECTANGULAR) -> NDArray[np.float64]:
    """Turn bounds of plus or minus a half-width into a standard uncertainty.

    Args:
        half_width: Half the distance between the bounds [mm, or any unit]; any shape.
        shape: Rectangular (anywhere alike), triangular (the middle likelier) or arcsine (a cycle: the ends likelier).

    Returns:
        Standard uncertainty [mm], in the unit given: a/sqrt(3), a/sqrt(6) or a/sqrt(2).

    Raises:
        NotAnUncertainty: a negative half-width.
        KeyError: a shape that has no bounds.

    Source: JCGM 100:2008, 4.3.7 and 4.3.9 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    return np.asarray(checked_uncertainty(half_width, "half-width") / _DIVISOR[shape])


def standard_from_step(step: ArrayLike) -> NDArray[np.float64]:
    """Turn the last step of a scale or display into a standard uncertainty.

    Args:
        step: Distance between two neighbouring indications [mm, or any unit]; any shape.

    Returns:
        Standard uncertainty [mm]: step/sqrt(12), that is 0.29 of the step.

    Raises:
        NotAnUncertainty: a negative step.

    Source: JCGM 100:2008, F.2.2.1 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    return np.asarray(checked_uncertainty(step, "step") / np.sqrt(12.0))


def standard_from_expanded(expanded: ArrayLike, factor: ArrayLike) -> NDArray[np.float64]:
    """Turn the expanded uncertainty of a certificate into a standard uncertainty.

    Args:
        expanded: Expanded uncertainty [mm, or any unit]; any shape.
        factor: Coverage factor k [-] printed beside it, above 0; broadcasts.

    Returns:
        Standard uncertainty [mm].

    Raises:
        NotAnUncertainty: a negative uncertainty, or a factor of zero or less.

    Source: JCGM 100:2008, 4.3.3 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    factors = checked_uncertainty(factor, "coverage factor")
    if (factors == 0.0).any():
        raise NotAnUncertainty(found="a coverage factor of 0", expected="the k printed beside it", todo="it is often 2")
    return checked_uncertainty(expanded, "expanded uncertainty") / factors


def standard_from_level(half_width: ArrayLike, level: ArrayLike = 0.5) -> NDArray[np.float64]:
    """Turn "an even chance that it lies within so much" into a standard uncertainty.

    Args:
        half_width: Half the width of the stated interval [mm, or any unit]; any shape.
        level: Probability [-] of lying inside it; an even chance is 0.5; broadcasts.

    Returns:
        Standard uncertainty [mm]; 1.48 half-widths for an even chance.

    Raises:
        NotAnUncertainty: a negative half-width.
        NotAProbability: a level outside 0 to 1, ends excluded.

    Valid for: a value that is likeliest in the middle (normal).
    Source: JCGM 100:2008, 4.3.4 and 4.3.5 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    return checked_uncertainty(half_width, "half-width") / coverage_factor(level)


def dof_from_reliability(relative: ArrayLike) -> NDArray[np.float64]:
    """Say what degrees of freedom a judged uncertainty deserves.

    Args:
        relative: How far the uncertainty itself may be wrong, as a share of it [-]; 0.25 for a quarter; any shape. 0
            means exactly known.

    Returns:
        Degrees of freedom [-]: half the inverse square (0.25 gives 8); infinite for 0.

    Raises:
        NotAnUncertainty: a negative share.

    Source: JCGM 100:2008, G.4.2, equation G.3 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    with np.errstate(divide="ignore"):
        return 0.5 / np.square(checked_uncertainty(relative, "reliability"))


def standard_from_repeats(deviation: ArrayLike, count: ArrayLike) -> NDArray[np.float64]:
    """Turn the spread of single readings into the standard uncertainty of their mean.

    Args:
        deviation: Experimental standard deviation of one reading [mm, or any unit]; any shape.
        count: How many readings the mean was taken from [-]; at least 1; broadcasts.

    Returns:
        Standard uncertainty of the mean [mm].

    Raises:
        NotAnUncertainty: a negative deviation.
        TooFewDegrees: no readings.

    Source: JCGM 100:2008, 4.2.3 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    counts = np.asarray(count, dtype=np.float64)
    if not (counts >= 1.0).all():
        raise TooFewDegrees(found="a mean of no readings", expected="at least one reading", todo="take one")
    return checked_uncertainty(deviation, "standard deviation") / np.sqrt(counts)


def trapezoid_factor(first: ArrayLike, second: ArrayLike, confidence: ArrayLike) -> NDArray[np.float64]:
    """Say the coverage factor where two rectangular doubts rule a budget.

    Two of like size make a triangle, one alone a rectangle, everything between a trapezoid; for all of them k = 2
    claims too much.

    Args:
        first: Half-width of one [mm, or any unit]; any shape.
        second: Half-width of the other [mm], same unit; broadcasts; not both zero.
        confidence: Two-sided confidence [-]; broadcasts.

    Returns:
        Coverage factor k [-] of the sum: 1.65 for one rectangle at 0.95, 1.83 at an edge ratio of 1/3.

    Raises:
        NotAnUncertainty: a negative half-width.
        NotAProbability: a confidence outside 0 to 1, ends excluded.

    Valid for: all else in the budget being small beside the two.
    Source: EA-4/02, section S10, the trapezoidal distribution (from memory). Checked in:
        tests/published/test_ea_4_02.py
    """
    one = checked_uncertainty(first, "half-width")
    other = checked_uncertainty(second, "half-width")
    level = checked_probability(confidence, "confidence")
    edge = np.abs(one - other) / (one + other)
    on_slope = 1.0 - np.sqrt((1.0 - level) * (1.0 - np.square(edge)))
    on_plateau = 0.5 * level * (1.0 + edge)
    half = np.where(on_plateau > edge, on_slope, on_plateau)
    return np.asarray(half / np.sqrt((1.0 + np.square(edge)) / 6.0), dtype=np.float64)
