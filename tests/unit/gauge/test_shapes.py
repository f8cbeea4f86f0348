"""Standard uncertainties from what is stated: laws and misuse."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import NotAnUncertainty, NotAProbability, TooFewDegrees
from tenthbook.trade.gauge.rectangulars import interval_half_width
from tenthbook.trade.gauge.shapes import (
    Shape,
    dof_from_reliability,
    standard_from_expanded,
    standard_from_half_width,
    standard_from_level,
    standard_from_repeats,
    standard_from_step,
    trapezoid_factor,
)

WIDTHS = st.floats(1e-6, 1e3)


@given(WIDTHS)
def test_a_step_is_a_rectangle_of_half_its_width(step: float) -> None:
    """A step of the display equals bounds of half a step to each side."""
    assert standard_from_step(step) == pytest.approx(float(standard_from_half_width(0.5 * step)), rel=1e-14)


@given(WIDTHS)
def test_shapes_in_order_of_doubt(half_width: float) -> None:
    """Between the same bounds a cycle is more in doubt than a rectangle, a rectangle more than a triangle."""
    cycle, flat, peaked = (
        float(standard_from_half_width(half_width, shape))
        for shape in (Shape.ARCSINE, Shape.RECTANGULAR, Shape.TRIANGULAR)
    )
    assert cycle > flat > peaked


@settings(max_examples=25, deadline=None)
@given(WIDTHS, WIDTHS, st.floats(0.05, 0.999))
def test_trapezoid_factor_is_that_of_the_exact_sum(first: float, second: float, confidence: float) -> None:
    """The factor of two rectangles gives the width of their exact sum, in either order, on slope and plateau alike."""
    found = float(trapezoid_factor(first, second, confidence))
    assert found == pytest.approx(float(trapezoid_factor(second, first, confidence)), rel=1e-12)
    standard = float(np.hypot(*standard_from_half_width([first, second])))
    assert found * standard == pytest.approx(interval_half_width([first, second], confidence), rel=1e-7)


def test_one_rectangle_alone() -> None:
    """A rectangle alone has the factor root three times the confidence."""
    assert trapezoid_factor(1.0, 0.0, 0.95) == pytest.approx(0.95 * 3.0**0.5, rel=1e-12)


def test_certain_uncertainty_has_endless_degrees() -> None:
    """An uncertainty that is exactly known has infinite degrees of freedom."""
    assert dof_from_reliability(0.0) == np.inf


@pytest.mark.parametrize(
    "call",
    [
        lambda: standard_from_half_width(-1.0),
        lambda: standard_from_step(np.nan),
        lambda: standard_from_expanded(1.0, 0.0),
        lambda: standard_from_expanded(-1.0, 2.0),
    ],
)
def test_negative_doubt_is_refused(call: Callable[[], object]) -> None:
    """A doubt below zero or missing is misuse and named."""
    with pytest.raises(NotAnUncertainty):
        call()


def test_other_misuse_is_named() -> None:
    """A level of 100 per cent and a mean of no readings are refused."""
    with pytest.raises(NotAProbability):
        standard_from_level(1.0, 1.0)
    with pytest.raises(TooFewDegrees, match="at least one reading"):
        standard_from_repeats(1.0, 0)
