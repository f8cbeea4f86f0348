"""Is it within its limits, and would the gauge's own doubt change the answer.

Compares; computes no uncertainty (see `budget`) and knows no part. The plain verdict takes the reading at face value;
the guarded one also asks whether the margin to the limit is larger than the doubt. On the limit is within. In: sizes
and limits exact (int64 picometres or objects such as Decimal) or floats, a missing limit as None or as infinity;
uncertainties as floats in the same unit. Out: arrays of verdicts, probabilities, lengths. Sources: JCGM 106:2012 (from
memory); ISO 14253-1:2017 (its default of 95 % read in a public calibration procedure, the rest from memory);
ILAC-G8:09/2019 (from memory).
"""

from __future__ import annotations

from enum import IntEnum, StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.distributions import student_cdf, student_quantile
from tenthbook.trade.gauge.faults import checked_probability, checked_uncertainty
from tenthbook.trade.gauge.sizes import Limit, Size, margins


class Verdict(IntEnum):
    """What a comparison says, in order of worry: the greatest of several rules.

    Source: JCGM 106:2012, 8.2 and 8.3 (from memory); the order is this book's own.
    """

    WITHIN = 0
    NO_LIMIT = 1
    UNDECIDED = 2
    OUTSIDE = 3

    @property
    def word(self) -> str:
        """The verdict in words.

        Returns:
            "within", "no limit", "undecided" or "outside".

        Source: common practice, no source.
        """
        return self.name.lower().replace("_", " ")


class DecisionRule(StrEnum):
    """How much of the gauge's doubt a part must clear.

    Source: ISO 14253-1:2017 (guarded), ISO 14253-1:1998 (full U), JCGM 106:2012, 8.2.1 (plain) (from memory).
    """

    PLAIN = "plain"
    GUARDED = "guarded"
    FULL_U = "full U"


def guard_factor(rule: DecisionRule, conformance: ArrayLike = 0.95, dof: ArrayLike = np.inf) -> NDArray[np.float64]:
    """Say how many standard uncertainties wide the guard at each limit is.

    Args:
        rule: Plain 0; guarded the one-sided factor for `conformance`; full U 2.
        conformance: Least probability [-] with which a verdict must be right, one-sided.
        dof: Degrees of freedom [-] of the uncertainty; finite makes the guarded factor Student's.

    Returns:
        Factor [-]; 1.645 for the guarded rule at 0.95. Negative, that is lenient, for a conformance below 0.5.

    Raises:
        NotAProbability: a conformance outside 0 to 1, ends excluded.
        TooFewDegrees: degrees of freedom of zero or less.

    Source: ISO 14253-1:2017 (95 % by default); JCGM 106:2012, table 1 (from memory). Checked in:
        tests/published/test_iso_14253.py
    """
    if rule is DecisionRule.GUARDED:
        return student_quantile(conformance, dof)
    factor = 2.0 if rule is DecisionRule.FULL_U else 0.0
    return np.full(np.broadcast_shapes(np.shape(conformance), np.shape(dof)), factor)


def guard(
    standard_uncertainty: ArrayLike, rule: DecisionRule, conformance: ArrayLike = 0.95, dof: ArrayLike = np.inf
) -> NDArray[np.float64]:
    """Say how far inside its limit a size must lie to be proven.

    Args:
        standard_uncertainty: Standard uncertainty of the size [mm]; any shape.
        rule: Which rule.
        conformance: Least probability [-] with which a verdict must be right, one-sided.
        dof: Degrees of freedom [-].

    Returns:
        Guard [mm], in the unit of the uncertainty.

    Raises:
        NotAnUncertainty: a negative uncertainty.
        NotAProbability: a conformance outside 0 to 1, ends excluded.

    Source: JCGM 106:2012, 8.3.2 (from memory). Checked in: tests/published/test_iso_14253.py
    """
    return checked_uncertainty(standard_uncertainty) * guard_factor(rule, conformance, dof)


def plain_verdict(value: Size, lower: Limit = None, upper: Limit = None) -> NDArray[np.int8]:
    """Judge at face value.

    Args:
        value: Sizes [mm], [pm] or objects; any shape.
        lower: Lower limits, same unit [mm]; broadcasts.
        upper: Upper limits, same unit [mm]; broadcasts.

    Returns:
        `Verdict` numbers [-]: within, outside or no limit.

    Raises:
        NotASize: a size that is not a number.
        LimitsCrossed: a lower limit above its upper limit.

    Source: JCGM 106:2012, 8.2.1, simple acceptance (from memory). Checked in: tests/published/test_iso_14253.py
    """
    return verdict(value, lower, upper, 0.0)


def verdict(value: Size, lower: Limit, upper: Limit, guarded_by: ArrayLike) -> NDArray[np.int8]:
    """Judge with a guard at each limit.

    Args:
        value: Sizes [mm], [pm] or objects; any shape.
        lower: Lower limits, same unit [mm]; broadcasts.
        upper: Upper limits, same unit [mm]; broadcasts.
        guarded_by: Guard, same unit [mm]; broadcasts.

    Returns:
        `Verdict` numbers [-]. Within: at least the guard inside every limit given. Outside: more than the guard beyond
        one of them. Between: undecided. No limit: neither is given.

    Raises:
        NotASize: a size that is not a number.
        LimitsCrossed: a lower limit above its upper limit.

    Valid for: guards of zero or more.
    Source: ISO 14253-1:2017, proof of conformity and of nonconformity (from memory); JCGM 106:2012, 8.3.
        Checked in: tests/published/test_iso_14253.py
    """
    above_lower, below_upper = margins(value, lower, upper)
    width = np.asarray(guarded_by)
    inside = np.asarray((above_lower >= width) & (below_upper >= width), dtype=np.bool_)
    beyond = np.asarray((above_lower < -width) | (below_upper < -width), dtype=np.bool_)
    unlimited = np.asarray((above_lower == np.inf) & (below_upper == np.inf), dtype=np.bool_)
    answer = np.where(inside, Verdict.WITHIN, np.where(beyond, Verdict.OUTSIDE, Verdict.UNDECIDED))
    return np.where(unlimited, Verdict.NO_LIMIT, answer).astype(np.int8)


def probability_within(
    value: Size,
    standard_uncertainty: ArrayLike,
    lower: Limit = None,
    upper: Limit = None,
    dof: ArrayLike = np.inf,
) -> NDArray[np.float64]:
    """Say how likely the true size lies within its limits.

    Args:
        value: Sizes [mm], [pm] or objects; any shape.
        standard_uncertainty: Their standard uncertainty, same unit [mm]; broadcasts; 0 makes it certain.
        lower: Lower limits, same unit [mm]; broadcasts.
        upper: Upper limits, same unit [mm]; broadcasts.
        dof: Degrees of freedom [-]; finite means Student's t about the size.

    Returns:
        Probability [-]; 1 where no limit is given.

    Raises:
        NotASize: a size that is not a number.
        NotAnUncertainty: a negative uncertainty.
        LimitsCrossed: a lower limit above its upper limit.

    Valid for: nothing known beforehand of the part but the reading.
    Source: JCGM 106:2012, 7.2 and 7.4 (from memory). Checked in: tests/published/test_jcgm_106.py
    """
    above_lower, below_upper = (np.asarray(margin, dtype=np.float64) for margin in margins(value, lower, upper))
    standard = checked_uncertainty(standard_uncertainty)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        nearer = np.minimum(above_lower, below_upper) / standard
        farther = np.maximum(above_lower, below_upper) / standard
    # Zero over zero: on the limit and without doubt, which is within.
    nearer, farther = (np.where(np.isnan(z), np.inf, z) for z in (nearer, farther))
    if np.isposinf(farther).all():
        return student_cdf(nearer, dof)
    # The tail beyond the far limit, taken from the near one: keeps its digits when the size lies far outside.
    return np.asarray(student_cdf(nearer, dof) - student_cdf(-farther, dof), dtype=np.float64)


def uncertainty_needed(
    value: Size,
    lower: Limit = None,
    upper: Limit = None,
    rule: DecisionRule = DecisionRule.GUARDED,
    conformance: ArrayLike = 0.95,
    dof: ArrayLike = np.inf,
) -> NDArray[np.float64]:
    """Say how sure a gauge must be so that the same reading would decide.

    Args:
        value: Sizes [mm], [pm] or objects; any shape.
        lower: Lower limits, same unit [mm]; broadcasts.
        upper: Upper limits, same unit [mm]; broadcasts.
        rule: Under which rule; the plain rule is answered like the guarded one.
        conformance: Least probability [-] with which a verdict must be right, one-sided, above 0.5.
        dof: Degrees of freedom [-] of the better gauge; infinite where not known.

    Returns:
        Largest standard uncertainty [mm] that decides; NaN on the limit (none does) and where no limit is given.

    Raises:
        NotASize: a size that is not a number.
        NotAProbability: a conformance of 0.5 or less, or of 1 or more.
        LimitsCrossed: a lower limit above its upper limit.

    Source: JCGM 106:2012, 8.3 solved for u (derived). Checked in: tests/published/test_iso_14253.py
    """
    checked_probability(2.0 * np.asarray(conformance, dtype=np.float64) - 1.0, "twice the conformance less one")
    above_lower, below_upper = (np.asarray(margin, dtype=np.float64) for margin in margins(value, lower, upper))
    distance = np.minimum(np.abs(above_lower), np.abs(below_upper))
    asked = DecisionRule.GUARDED if rule is DecisionRule.PLAIN else rule
    needed = distance / guard_factor(asked, conformance, dof)
    return np.where((distance > 0.0) & np.isfinite(distance), needed, np.nan)
