"""Which gauge in the crib would decide.

Chooses among given uncertainties; where they come from is told by `readings` and `budget`. Before any reading the gauge
ratio serves, for two-sided limits only; after a reading the distance to the limit says more. In: uncertainties and
distances of one unit, floats. Out: which are enough. Sources: ANSI/NCSL Z540.3:2006, the ratio's definition (read as
quoted on a quality society's page); two rules of ten (both read, they differ by two).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import LimitsCrossed, NotAnUncertainty, NotASize, checked_uncertainty

NONE = -1
"""Stands in `Choice.first` where no gauge in the crib can decide [-]."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Which of the gauges would decide.

    Attributes:
        decides: True for each gauge that is sure enough; gauges on the last axis.
        first: Index of the first that is, in the order given [-]; `NONE` where none can decide.

    Source: JCGM 106:2012, 8.3 (from memory), solved for u.
    """

    decides: NDArray[np.bool_]
    first: NDArray[np.int64]


class RuleOfTen(StrEnum):
    """Two rules of one name, a factor of two apart: an answer must say which it used.

    Source: a quality inspection handbook, chapter 9 (half the tolerance, read); a summary of GB/T 3177 (the whole,
        read).
    """

    HALF_TOLERANCE = "a tenth of the half tolerance"
    WHOLE_TOLERANCE = "a tenth of the whole tolerance"


def choose(needed: ArrayLike, standards: ArrayLike) -> Choice:
    """Find the gauges that are sure enough.

    Args:
        needed: Largest standard uncertainty that decides [mm]; NaN where none does (on the limit); any shape.
        standards: Combined standard uncertainty of a size taken with each gauge [mm], cheapest first; gauges on the
            last axis.

    Returns:
        Which decide, and the first that does [-]. A gauge exactly at the need decides.

    Raises:
        NotAnUncertainty: a negative uncertainty, or an empty crib.

    Source: JCGM 106:2012, 8.3 (from memory), solved for u. Checked in: tests/unit/gauge/test_choice.py
    """
    crib = np.atleast_1d(checked_uncertainty(standards))
    if crib.shape[-1] == 0:
        raise NotAnUncertainty(found="an empty crib", expected="at least one gauge", todo="register one")
    wanted = np.asarray(needed, dtype=np.float64)[..., np.newaxis]
    decides = np.asarray(crib <= wanted, dtype=np.bool_)
    return Choice(decides, np.asarray(np.where(decides.any(axis=-1), decides.argmax(axis=-1), NONE), dtype=np.int64))


def gauge_ratio(lower: ArrayLike, upper: ArrayLike, expanded: ArrayLike) -> NDArray[np.float64]:
    """Say how many times the gauge's doubt goes into the tolerance.

    Args:
        lower: Lower limit [mm]; any shape.
        upper: Upper limit [mm]; broadcasts.
        expanded: Expanded uncertainty at 95 per cent, to either side [mm]; above zero; broadcasts.

    Returns:
        Ratio [-]: the span over twice the expanded uncertainty.

    Raises:
        LimitsCrossed: limits that cross, or one that is missing: the ratio of a one-sided limit does not exist.
        NotAnUncertainty: an expanded uncertainty of zero or less.

    Valid for: two-sided limits.
    Source: ANSI/NCSL Z540.3:2006, as quoted (read); section 8. Checked in: tests/published/test_ncsl_z540_3.py
    """
    doubt = checked_uncertainty(expanded, "expanded uncertainty")
    if (doubt == 0.0).any():
        raise NotAnUncertainty(
            found="an expanded uncertainty of 0", expected="a number above 0", todo="state the gauge's"
        )
    return _span(lower, upper) / (2.0 * doubt)


def expanded_for_ratio(lower: ArrayLike, upper: ArrayLike, ratio: ArrayLike) -> NDArray[np.float64]:
    """Say how sure a gauge must be for a wanted ratio.

    Args:
        lower: Lower limit [mm]; any shape.
        upper: Upper limit [mm]; broadcasts.
        ratio: Wanted ratio [-], above zero; 4 is usual; broadcasts.

    Returns:
        Largest expanded uncertainty at 95 per cent [mm].

    Raises:
        LimitsCrossed: limits that cross, or one that is missing.
        NotAnUncertainty: a ratio of zero or less.

    Valid for: two-sided limits.
    Source: ANSI/NCSL Z540.3:2006, as quoted (read), solved for U. Checked in: tests/published/test_ncsl_z540_3.py
    """
    wanted = checked_uncertainty(ratio, "ratio")
    if (wanted == 0.0).any():
        raise NotAnUncertainty(found="a ratio of 0", expected="a number above 0", todo="4 is usual")
    return _span(lower, upper) / (2.0 * wanted)


def ten_to_one(lower: ArrayLike, upper: ArrayLike, rule: RuleOfTen) -> NDArray[np.float64]:
    """Say what the rule of ten allows a gauge, by the one reading of it or by the other.

    Args:
        lower: Lower limit [mm]; any shape.
        upper: Upper limit [mm]; broadcasts.
        rule: Which of the two.

    Returns:
        Largest allowed doubt or step of the gauge [mm].

    Raises:
        LimitsCrossed: limits that cross, or one that is missing.

    Valid for: two-sided limits.
    Source: quality inspection handbook, chapter 9 (read); GB/T 3177 summary (read). Checked in:
        tests/published/test_ncsl_z540_3.py
    """
    return _span(lower, upper) / (20.0 if rule is RuleOfTen.HALF_TOLERANCE else 10.0)


def _span(lower: ArrayLike, upper: ArrayLike) -> NDArray[np.float64]:
    """Upper less lower limit [mm]; both must be there."""
    low, high = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    if np.isnan(low).any() or np.isnan(high).any():
        raise NotASize(found="a limit that is not a number", expected="two numbers", todo="type both limits")
    if np.isinf(low).any() or np.isinf(high).any() or (low > high).any():
        raise LimitsCrossed(
            found="a span without two ends", expected="a lower and an upper limit", todo="use the margin instead"
        )
    return np.asarray(high - low, dtype=np.float64)
