"""Which gauge decides, gauge ratios and their misuse."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.choice import NONE, RuleOfTen, choose, expanded_for_ratio, gauge_ratio, ten_to_one
from tenthbook.trade.gauge.conformity import DecisionRule, Verdict, guard, uncertainty_needed, verdict
from tenthbook.trade.gauge.faults import LimitsCrossed, NotAnUncertainty, NotAProbability, NotASize
from tenthbook.trade.gauge.gauge_ratio import DrawnIn, acceptance_factor, centred_risk, worst_false_accept

CRIB_MM = [0.010, 0.003, 0.001]


def test_first_that_decides() -> None:
    """In the order given, cheapest first, the first gauge that is sure enough is named; on the limit none is."""
    found = choose([0.02, 0.003, 0.0005, np.nan], CRIB_MM)
    assert found.first.tolist() == [0, 1, NONE, NONE]
    assert found.decides.tolist() == [[True] * 3, [False, True, True], [False] * 3, [False] * 3]


@given(st.floats(-0.05, 0.05), st.sampled_from([0.9, 0.95, 0.99]))
def test_the_gauge_chosen_decides_the_same_reading(distance: float, conformance: float) -> None:
    """If the reading stays, the chosen gauge decides it and every gauge not chosen leaves it open."""
    needed = uncertainty_needed(distance, upper=0.0, conformance=conformance)
    found = choose(needed, CRIB_MM)
    for standard, decides in zip(CRIB_MM, found.decides, strict=True):
        width = guard(standard, DecisionRule.GUARDED, conformance)
        if not np.isclose(standard, needed, rtol=1e-9):
            assert (verdict(distance, None, 0.0, width) != Verdict.UNDECIDED) == decides


@given(st.floats(0.1, 100.0), st.floats(1.0, 20.0))
def test_ratio_and_its_inverse(span: float, ratio: float) -> None:
    """The uncertainty for a wanted ratio has that ratio."""
    assert gauge_ratio(0.0, span, expanded_for_ratio(0.0, span, ratio)) == pytest.approx(ratio, rel=1e-12)


def test_the_rules_of_ten_differ_by_two() -> None:
    """The whole tolerance over ten is twice the half tolerance over ten."""
    assert ten_to_one(1.0, 3.0, RuleOfTen.WHOLE_TOLERANCE) == 2.0 * ten_to_one(1.0, 3.0, RuleOfTen.HALF_TOLERANCE)


@pytest.mark.parametrize("limits", [(-np.inf, 1.0), (0.0, np.inf), (2.0, 1.0)])
def test_one_sided_limits_have_no_ratio(limits: tuple[float, float]) -> None:
    """A ratio needs both limits, in order; the message points to the margin."""
    with pytest.raises(LimitsCrossed, match="use the margin"):
        gauge_ratio(*limits, 0.1)


def test_three_ways_to_draw_limits_in() -> None:
    """At four to one the full U draws in most, method 6 least between them; all stay below 1."""
    full, root, method = (
        float(acceptance_factor(4.0, way)) for way in (DrawnIn.FULL_U, DrawnIn.ROOT_DIFFERENCE, DrawnIn.METHOD_6)
    )
    assert (full, root) == pytest.approx((0.75, 0.9375**0.5), rel=1e-12)
    assert full < root < method < 1.0


@pytest.mark.parametrize("ratio", [1.0, 2.0, 4.0, 10.0])
def test_a_better_ratio_is_never_worse(ratio: float) -> None:
    """The worst false acceptance falls as the ratio rises."""
    assert worst_false_accept(ratio * 1.2).false_accept < worst_false_accept(ratio).false_accept


def test_misuse_is_named() -> None:
    """Empty cribs, zero doubts and ratios, missing limits and senseless shares are refused."""
    with pytest.raises(NotAnUncertainty, match="empty crib"):
        choose(1.0, [])
    with pytest.raises(NotAnUncertainty, match="expanded uncertainty of 0"):
        gauge_ratio(0.0, 1.0, 0.0)
    with pytest.raises(NotAnUncertainty, match="ratio of 0"):
        expanded_for_ratio(0.0, 1.0, 0.0)
    with pytest.raises(NotASize):
        ten_to_one(np.nan, 1.0, RuleOfTen.HALF_TOLERANCE)
    with pytest.raises(NotAnUncertainty, match="below 1"):
        acceptance_factor(0.5, DrawnIn.ROOT_DIFFERENCE)
    with pytest.raises(NotAnUncertainty, match="zero or less"):
        worst_false_accept(0.0)
    with pytest.raises(NotAProbability):
        centred_risk(4.0, 1.0)
