"""The budget against two independent programs, its shares, its degrees of freedom and its laws."""

from __future__ import annotations

import numpy as np
import pytest
import uncertainties
from GTC import dof as gtc_dof
from GTC import uncertainty as gtc_uncertainty
from GTC import ureal
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from tenthbook.trade.gauge.budget import combined_standard, draw_up, effective_dof, truncated
from tenthbook.trade.gauge.faults import ImpossibleCorrelation, NotAnUncertainty, NotASize, TooFewDegrees

ROUNDING = 1e-12
STANDARDS = arrays(np.float64, 4, elements=st.floats(1e-3, 1e3))
SLOPES = arrays(np.float64, 4, elements=st.floats(-10.0, 10.0))
DEGREES = arrays(np.float64, 4, elements=st.floats(1.0, 100.0))


@given(STANDARDS, SLOPES)
def test_combined_against_the_uncertainties_package(
    standards: NDArray[np.float64], slopes: NDArray[np.float64]
) -> None:
    """The combined uncertainty equals that of the `uncertainties` package."""
    other = sum(slope * uncertainties.ufloat(0.0, one) for slope, one in zip(slopes, standards, strict=True))
    assert float(draw_up(standards, slopes).combined) == pytest.approx(other.std_dev, rel=ROUNDING)


@given(STANDARDS, st.lists(st.floats(0.1, 10.0), min_size=4, max_size=4), DEGREES)
def test_degrees_against_gtc(
    standards: NDArray[np.float64], slopes: NDArray[np.float64], degrees: NDArray[np.float64]
) -> None:
    """Combined uncertainty and effective degrees of freedom equal those of GTC."""
    other = sum(slope * ureal(0.0, u, df) for slope, u, df in zip(slopes, standards, degrees, strict=True))
    found = draw_up(standards, slopes, degrees)
    assert float(found.combined) == pytest.approx(gtc_uncertainty(other), rel=ROUNDING)
    assert float(found.effective_dof) == pytest.approx(gtc_dof(other), rel=1e-9)


@given(STANDARDS, SLOPES)
def test_shares_sum_to_one(standards: NDArray[np.float64], slopes: NDArray[np.float64]) -> None:
    """Shares of the variance are the squares of the contributions over their sum, and sum to 1."""
    found = draw_up(standards, slopes)
    total = np.square(found.contributions).sum()
    if total > 0.0:
        assert found.shares.sum() == pytest.approx(1.0, rel=ROUNDING)
        assert found.shares == pytest.approx(np.square(found.contributions) / total, rel=1e-9)


@given(STANDARDS, st.floats(-1.0, 1.0))
def test_correlated_pair_by_hand(standards: NDArray[np.float64], coefficient: float) -> None:
    """A correlated pair adds twice the product of its contributions times the coefficient."""
    matrix = np.eye(4)
    matrix[0, 1] = matrix[1, 0] = coefficient
    by_hand = np.square(standards).sum() - 2.0 * standards[0] * standards[1] * coefficient
    found = draw_up(standards, [1.0, -1.0, 1.0, 1.0], correlations=matrix)
    assert float(found.combined) ** 2 == pytest.approx(by_hand, rel=1e-9)
    assert found.shares.sum() == pytest.approx(1.0, rel=1e-9)


@given(STANDARDS, DEGREES, st.floats(1.0, 10.0))
def test_more_doubt_never_makes_the_result_surer(
    standards: NDArray[np.float64], degrees: NDArray[np.float64], more: float
) -> None:
    """Raising one uncertainty never lowers the combined one."""
    raised = standards * np.array([more, 1.0, 1.0, 1.0])
    assert combined_standard(raised) >= combined_standard(standards) * (1.0 - ROUNDING)
    assert effective_dof(standards, degrees) >= degrees.min() * (1.0 - ROUNDING)


def test_many_budgets_at_once_equal_one_by_one() -> None:
    """Budgets on leading axes give the same as each alone."""
    rng = np.random.default_rng(4)
    standards, dof = rng.uniform(0.1, 3.0, (5, 7, 3)), rng.uniform(2.0, 40.0, (5, 7, 3))
    together = draw_up(standards, [1.0, -2.0, 0.5], dof, confidence=0.99)
    alone = draw_up(standards[2, 4], [1.0, -2.0, 0.5], dof[2, 4], confidence=0.99)
    assert together.expanded.shape == (5, 7)
    assert together.expanded[2, 4] == pytest.approx(float(alone.expanded), rel=ROUNDING)
    assert combined_standard(standards, [1.0, -2.0, 0.5]) == pytest.approx(together.combined, rel=ROUNDING)


@pytest.mark.parametrize("dof", [1.0, 3.0, 7.0, 49.0, 93.0])
def test_a_single_input_keeps_its_degrees(dof: float) -> None:
    """One input alone has its own degrees of freedom, not one fewer by rounding."""
    assert draw_up([0.3], 1.0, dof).used_dof == dof


def test_correlated_inputs_with_finite_degrees_are_flagged() -> None:
    """Ten readings off one master do not earn more degrees of freedom than the master has; the answer says so."""
    found = draw_up(np.full(10, 0.1), 1.0, 5.0, np.ones((10, 10)))
    assert not bool(found.dof_valid)
    assert float(found.effective_dof) == pytest.approx(5.0, rel=ROUNDING)
    assert bool(draw_up(np.full(10, 0.1), 1.0, np.inf, np.ones((10, 10))).dof_valid)


def test_degrees_of_inputs_outside_the_correlation_count() -> None:
    """Correlated inputs without stated degrees of freedom leave the formula valid for the others."""
    matrix = np.eye(3)
    matrix[0, 1] = matrix[1, 0] = 0.5
    found = draw_up([1.0, 1.0, 2.0], 1.0, [np.inf, np.inf, 4.0], matrix)
    assert bool(found.dof_valid)
    assert float(found.effective_dof) == pytest.approx((3.0 + 4.0) ** 2 / (16.0 / 4.0), rel=ROUNDING)


def test_no_doubt_at_all() -> None:
    """A budget of zeros is zero, with nothing to share and no finite degrees of freedom."""
    found = draw_up([0.0, 0.0], 1.0, [3.0, 4.0])
    assert float(found.expanded) == 0.0
    assert found.shares.tolist() == [0.0, 0.0]
    assert float(found.effective_dof) == np.inf


def test_less_than_one_degree_of_freedom_is_refused() -> None:
    """Student's table has no row below 1: the message says what to do."""
    with pytest.raises(TooFewDegrees, match=r"found 0\.5 effective degrees of freedom.*more readings"):
        draw_up([1.0], 1.0, 0.5)
    assert truncated([16.9, np.inf]).tolist() == [16.0, np.inf]


def test_misuse_is_named() -> None:
    """Negative uncertainties, missing sensitivities and impossible coefficients are refused."""
    with pytest.raises(NotAnUncertainty, match="found standard uncertainty -1"):
        draw_up([-1.0])
    with pytest.raises(NotASize, match="sensitivity"):
        draw_up([1.0], [np.nan])
    with pytest.raises(ImpossibleCorrelation, match="of 1 with 2"):
        draw_up([1.0, 1.0], correlations=[[1.0, 2.0], [2.0, 1.0]])
