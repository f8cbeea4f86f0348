"""Draws of one input have the spread and the bounds their shape says."""

from __future__ import annotations

import numpy as np
import pytest

from tenthbook.trade.gauge.draws import Input
from tenthbook.trade.gauge.faults import NotAnUncertainty, TooFewDegrees
from tenthbook.trade.gauge.shapes import Shape

TRIALS = 200_000
# Standard deviation of a sample standard deviation is below one part in 300 here, also for the heaviest tail used.
SCATTER = 0.02

INPUTS = [
    Input(Shape.NORMAL, 2.0),
    Input(Shape.NORMAL, 2.0, dof=12.0),
    Input(Shape.RECTANGULAR, 2.0),
    Input(Shape.TRIANGULAR, 2.0),
    Input(Shape.ARCSINE, 2.0),
    Input(Shape.CURVED, 2.0, edge=1.0),
]


def draw(one: Input) -> np.ndarray:
    """Draws in the input's own unit."""
    out, spare = np.empty(TRIALS), np.empty(TRIALS)
    one.draw(np.random.default_rng(11), out, spare)
    return out * one.scale


@pytest.mark.parametrize("one", INPUTS, ids=lambda one: f"{one.shape.value} {one.dof:g}")
def test_draws_have_the_stated_spread(one: Input) -> None:
    """Mean zero, and the standard deviation that follows from scale, degrees of freedom and edge."""
    found = draw(one)
    assert found.mean() == pytest.approx(0.0, abs=0.02)
    assert found.std() == pytest.approx(one.standard, rel=SCATTER)


@pytest.mark.parametrize("one", INPUTS[2:5], ids=lambda one: one.shape.value)
def test_bounded_draws_stay_within_and_fill_their_bounds(one: Input) -> None:
    """No draw leaves the bounds, and some come close to them."""
    found = np.abs(draw(one))
    assert found.max() <= one.scale
    assert found.max() > 0.98 * one.scale


def test_curved_bounds_move() -> None:
    """A curvilinear trapezoid reaches beyond its half-width, by no more than its edge (JCGM 101:2008, 6.4.3)."""
    found = np.abs(draw(INPUTS[5]))
    assert 2.8 < found.max() <= 3.0
    assert np.abs(draw(Input(Shape.CURVED, 0.0))).max() == 0.0


def test_student_draws_follow_students_distribution() -> None:
    """Draws of a scaled t leave the share outside that its table says."""
    found = draw(Input(Shape.NORMAL, 1.0, dof=4.0))
    assert (np.abs(found) > 2.776).mean() == pytest.approx(0.05, abs=0.003)
    assert Input(Shape.NORMAL, 1.0, dof=2.0).standard == np.inf


def test_misuse_is_named() -> None:
    """A negative scale or edge and zero degrees of freedom are refused."""
    with pytest.raises(NotAnUncertainty, match="scale"):
        Input(Shape.NORMAL, -1.0)
    with pytest.raises(NotAnUncertainty, match="edge"):
        Input(Shape.CURVED, 1.0, edge=-1.0)
    with pytest.raises(TooFewDegrees):
        Input(Shape.NORMAL, 1.0, dof=0.0)
