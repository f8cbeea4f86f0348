"""The two distributions: few values and many agree, both ways round, and misuse is named."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tenthbook.trade.gauge.distributions import (
    FEW,
    coverage_factor,
    normal_cdf,
    normal_quantile,
    student_cdf,
    student_quantile,
)
from tenthbook.trade.gauge.faults import NotAProbability, TooFewDegrees

ROUNDING = 1e-13
DEGREES = st.floats(1.0, 1e6)


def test_few_and_many_agree() -> None:
    """A value is the same whether it comes alone or in a long array."""
    z = np.linspace(-9.0, 9.0, FEW + 1)
    alone = np.array([float(normal_cdf(one)) for one in z])
    assert normal_cdf(z) == pytest.approx(alone, rel=ROUNDING)
    share = np.linspace(0.0, 1.0, FEW + 1)
    assert normal_quantile(share)[1:-1] == pytest.approx(
        [float(normal_quantile(one)) for one in share[1:-1]], abs=1e-12
    )


def test_ends_of_the_scale() -> None:
    """Nothing lies below minus infinity, everything below infinity, and back."""
    assert normal_cdf([-np.inf, np.inf]).tolist() == [0.0, 1.0]
    assert normal_quantile([0.0, 1.0]).tolist() == [-np.inf, np.inf]


def test_low_tail_keeps_its_digits() -> None:
    """Far below the mean the share is accurate relative to itself."""
    assert float(normal_cdf(-20.0)) == pytest.approx(float(stats.norm.cdf(-20.0)), rel=1e-12)


@given(st.floats(-30.0, 30.0), DEGREES)
def test_student_against_an_independent_implementation(t: float, dof: float) -> None:
    """Student's distribution equals that of a general statistics library."""
    assert float(student_cdf(t, dof)) == pytest.approx(float(stats.t.cdf(t, dof)), rel=1e-9, abs=1e-300)


@given(st.floats(0.001, 0.999), DEGREES)
def test_quantile_undoes_cdf(share: float, dof: float) -> None:
    """Going to a point and back gives the share again."""
    assert float(student_cdf(student_quantile(share, dof), dof)) == pytest.approx(share, rel=1e-9)


def test_infinite_degrees_are_normal() -> None:
    """Finite and infinite degrees of freedom stand side by side in one array."""
    found = student_quantile(0.975, [5.0, np.inf])
    assert found == pytest.approx([2.570_581_836, 1.959_963_985], abs=1e-9)
    assert student_cdf([1.0, 1.0], [5.0, np.inf])[1] == pytest.approx(float(normal_cdf(1.0)), rel=ROUNDING)
    assert student_cdf(1.0, [np.inf, np.inf]).shape == (2,)


@given(st.floats(0.5, 0.99), st.floats(1.0, 100.0))
def test_fewer_degrees_want_a_larger_factor(confidence: float, dof: float) -> None:
    """The fewer the degrees of freedom, the larger the coverage factor; never below the normal one."""
    assert coverage_factor(confidence, dof) > coverage_factor(confidence, dof + 1.0) > coverage_factor(confidence)


@pytest.mark.parametrize("share", [-0.1, 1.1, np.nan])
def test_a_share_outside_its_range_is_named(share: float) -> None:
    """A share below 0, above 1 or missing is refused."""
    with pytest.raises(NotAProbability, match="expected a number from 0 to 1"):
        normal_quantile(share)


@pytest.mark.parametrize("confidence", [0.0, 1.0, 95.0])
def test_a_confidence_of_95_is_refused_with_a_hint(confidence: float) -> None:
    """Whoever types 95 is told to type 0.95."""
    with pytest.raises(NotAProbability, match=r"typed 0\.95"):
        coverage_factor(confidence)


def test_no_degrees_of_freedom_are_refused() -> None:
    """Zero degrees of freedom have no distribution."""
    with pytest.raises(TooFewDegrees, match="found 0 degrees"):
        student_cdf(0.0, 0.0)
