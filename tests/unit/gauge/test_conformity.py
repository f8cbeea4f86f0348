"""Verdicts: exact at the limit, in every kind of number, and the laws of doubt."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tenthbook.trade.gauge.conformity import (
    DecisionRule,
    Verdict,
    guard,
    guard_factor,
    plain_verdict,
    probability_within,
    uncertainty_needed,
    verdict,
)
from tenthbook.trade.gauge.faults import LimitsCrossed, NotAnUncertainty, NotAProbability, NotASize

SIZES = st.integers(-(10**9), 10**9)
DOUBTS = st.floats(0.0, 1e9)
STANDARDS = st.floats(1e-3, 1e9)


def judged(size: int, lower: int | None, upper: int | None, width: float) -> Verdict:
    """One verdict in picometres."""
    return Verdict(int(verdict(np.int64(size), lower, upper, width)))


@given(SIZES, SIZES, SIZES, DOUBTS, DOUBTS)
def test_more_doubt_never_turns_undecided_into_within(
    size: int, one: int, other: int, doubt: float, more: float
) -> None:
    """Whoever is undecided, or proven either way, is not proven further by a worse gauge."""
    lower, upper = min(one, other), max(one, other)
    before, after = judged(size, lower, upper, doubt), judged(size, lower, upper, doubt + more)
    assert after in (before, Verdict.UNDECIDED)


@given(SIZES, SIZES, SIZES, DOUBTS, st.integers(0, 10**9))
def test_a_wider_limit_never_turns_within_into_outside(
    size: int, one: int, other: int, doubt: float, wider: int
) -> None:
    """Moving limits apart never worsens a verdict."""
    lower, upper = min(one, other), max(one, other)
    assert judged(size, lower - wider, upper + wider, doubt) <= judged(size, lower, upper, doubt)


@given(SIZES, SIZES, SIZES, STANDARDS)
def test_mirrored_problem_mirrors_the_answer(size: int, one: int, other: int, standard: float) -> None:
    """A lower limit is an upper limit seen from the other side."""
    lower, upper = min(one, other), max(one, other)
    assert judged(size, lower, upper, standard) == judged(-size, -upper, -lower, standard)
    straight = probability_within(size, standard, lower, upper)
    assert float(straight) == pytest.approx(float(probability_within(-size, standard, -upper, -lower)), abs=1e-12)


@given(SIZES, SIZES, SIZES, STANDARDS, st.integers(0, 10**9))
def test_wider_limits_are_likelier_met(size: int, one: int, other: int, standard: float, wider: int) -> None:
    """Probability within grows with the span, and stays between 0 and 1."""
    lower, upper = min(one, other), max(one, other)
    narrow = float(probability_within(size, standard, lower, upper))
    wide = float(probability_within(size, standard, lower - wider, upper + wider))
    assert -1e-15 <= narrow <= wide + 1e-12 <= 1.0 + 2e-12


@given(SIZES, SIZES, st.floats(0.55, 0.999))
def test_the_gauge_asked_for_decides(size: int, limit: int, conformance: float) -> None:
    """A gauge slightly surer than needed decides, one slightly less sure does not."""
    needed = float(uncertainty_needed(size, upper=limit, conformance=conformance))
    if np.isnan(needed):
        assert size == limit
        return
    for factor, decided in ((0.999, True), (1.001, False)):
        width = guard(factor * needed, DecisionRule.GUARDED, conformance)
        assert (judged(size, None, limit, float(width)) is not Verdict.UNDECIDED) is decided


@pytest.mark.parametrize(
    "kind", [lambda text: Decimal(text), lambda text: Fraction(text), lambda text: int(Decimal(text) * 10**10 * 2540)]
)
def test_exactly_at_the_limit_is_within(kind: Callable[[str], Any]) -> None:
    """2.0045 less 2.0020 against 0.0025: within in exact numbers, where binary floats say outside."""
    size, limit = kind("2.0045") - kind("2.0020"), kind("0.0025")
    assert plain_verdict(size, None, limit) == Verdict.WITHIN
    assert plain_verdict(size + kind("0.0001"), None, limit) == Verdict.OUTSIDE
    assert plain_verdict(2.0045 - 2.0020, None, 0.0025) == Verdict.OUTSIDE
    assert np.isnan(uncertainty_needed(size, None, limit))


def test_missing_limits_in_every_kind_of_array() -> None:
    """None, infinity and an object array with None all mean that no limit is given, which is not zero."""
    sizes = np.array([1, 2, 3], dtype=np.int64)
    assert plain_verdict(sizes).tolist() == [Verdict.NO_LIMIT] * 3
    assert plain_verdict(sizes, None, [np.inf, 1.0, 3.0]).tolist() == [1, 3, 0]
    exact = np.array([Decimal(1), Decimal(2), Fraction(3)], dtype=object)
    assert plain_verdict(exact, [None, Decimal(1), None], [None, None, np.inf]).tolist() == [1, 0, 1]
    assert probability_within(exact[:2], 1.0, None, [None, Decimal(2)]).tolist() == [1.0, 0.5]
    assert np.isnan(uncertainty_needed(sizes)).all()


def test_guard_on_both_sides_of_each_limit() -> None:
    """With a guard of 2 about limits of 0 and 10: proven in, open at either limit, proven out."""
    sizes = np.array([5, 2, 1, 0, -2, -3, 8, 9, 12, 13])
    words = [Verdict(code).word for code in verdict(sizes, 0, 10, 2.0)]
    near = ["within", "within", "undecided", "undecided", "undecided", "outside"]
    assert words == [*near, "within", "undecided", "undecided", "outside"]


def test_a_span_narrower_than_its_guards_proves_nothing() -> None:
    """Where the guards meet no size can be proven within."""
    assert verdict(np.arange(-1, 3), 0, 1, 3.0).tolist() == [Verdict.UNDECIDED] * 4


def test_no_doubt_decides_exactly() -> None:
    """With an uncertainty of zero the probability is 1 on the limit and 0 beyond it."""
    assert probability_within([0, 1, 2], 0.0, None, 1).tolist() == [1.0, 1.0, 0.0]


def test_far_outside_keeps_its_digits() -> None:
    """A size far above its upper limit has a small probability that is right, not zero by cancellation."""
    found = float(probability_within(15.0, 1.0, -1.0, 1.0))
    assert found == pytest.approx(float(stats.norm.cdf(-14.0) - stats.norm.cdf(-16.0)), rel=1e-9)


def test_few_readings_use_students_distribution() -> None:
    """With finite degrees of freedom both probability and guard are Student's."""
    found = float(probability_within(9.0, 1.0, 8.0, 11.0, dof=3))
    assert found == pytest.approx(float(stats.t.cdf(2.0, 3) - stats.t.cdf(-1.0, 3)), rel=1e-9)
    assert guard_factor(DecisionRule.GUARDED, 0.95, 3) == pytest.approx(float(stats.t.ppf(0.95, 3)), rel=1e-9)
    assert guard_factor(DecisionRule.FULL_U, 0.95, [3, 4]).tolist() == [2.0, 2.0]
    assert float(guard_factor(DecisionRule.PLAIN)) == 0.0


def test_needed_uncertainty_follows_the_rule() -> None:
    """The full rule asks half the distance, the guarded one the distance over its factor; plain answers as guarded."""
    assert uncertainty_needed(9.0, 0.0, 10.0, DecisionRule.FULL_U) == 0.5
    guarded = float(uncertainty_needed(9.0, 0.0, 10.0))
    assert guarded == pytest.approx(1.0 / 1.644_853_627, rel=1e-9)
    assert float(uncertainty_needed(9.0, 0.0, 10.0, DecisionRule.PLAIN)) == guarded


def test_worst_verdict_is_the_greatest() -> None:
    """Of several verdicts the greatest rules: outside before undecided before no limit before within."""
    assert max(Verdict) is Verdict.OUTSIDE
    assert sorted(Verdict) == [Verdict.WITHIN, Verdict.NO_LIMIT, Verdict.UNDECIDED, Verdict.OUTSIDE]


def test_misuse_is_named() -> None:
    """Crossed limits, missing sizes, negative doubts and a conformance of half are refused."""
    with pytest.raises(LimitsCrossed):
        plain_verdict(1, 3, 2)
    with pytest.raises(NotASize):
        plain_verdict([1.0, np.nan], 0.0, 2.0)
    with pytest.raises(NotAnUncertainty):
        probability_within(1.0, -1.0, 0.0, 2.0)
    with pytest.raises(NotAProbability, match="twice the conformance"):
        uncertainty_needed(1.0, 0.0, 2.0, conformance=0.5)
