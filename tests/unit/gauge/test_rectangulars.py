"""Sums of error limits, exactly: against sampling, against known shapes, and the laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import NotAnUncertainty
from tenthbook.trade.gauge.rectangulars import interval_half_width, probability_beyond

WIDTHS = st.lists(st.floats(1e-3, 10.0), min_size=1, max_size=4)


@given(WIDTHS, st.floats(0.0, 1.0))
def test_mirrored_distance_mirrors_the_answer(widths: list[float], share: float) -> None:
    """The sum is symmetric: beyond plus x and below minus x are equally likely."""
    distance = share * sum(widths)
    assert probability_beyond(distance, widths) + probability_beyond(-distance, widths) == pytest.approx(1.0, abs=1e-12)


@settings(max_examples=25, deadline=None)
@given(WIDTHS, st.floats(0.5, 0.999))
def test_interval_holds_what_it_says(widths: list[float], confidence: float) -> None:
    """Outside the interval lies what the confidence leaves out."""
    half = interval_half_width(widths, confidence)
    assert 2.0 * probability_beyond(half, widths) == pytest.approx(1.0 - confidence, abs=1e-9)
    assert half <= sum(widths)


def test_one_rectangle_and_two_alike() -> None:
    """One limit alone is a rectangle, two alike a triangle."""
    assert probability_beyond(0.5, [1.0]) == 0.25
    assert probability_beyond(1.0, [1.0, 1.0]) == 0.125
    assert interval_half_width([2.0, 0.0], 0.95) == pytest.approx(1.9, rel=1e-12)


def test_against_sampling() -> None:
    """Five unlike limits agree with a million draws within their scatter."""
    widths = [0.2, 1.0, 3.0, 0.5, 2.0]
    draws = np.random.default_rng(7).uniform(-1.0, 1.0, (1_000_000, 5)) @ np.array(widths)
    assert (draws > 2.5).mean() == pytest.approx(probability_beyond(2.5, widths), abs=0.002)


@pytest.mark.parametrize("widths", [[], [0.0], [1.0] * 9, [-1.0, 2.0]])
def test_misuse_is_named(widths: list[float]) -> None:
    """No limit above zero, more than eight, or one below zero is refused."""
    with pytest.raises(NotAnUncertainty):
        interval_half_width(widths, 0.95)
