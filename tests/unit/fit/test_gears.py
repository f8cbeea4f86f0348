"""Backlash at the pitch line and by the centre distance: laws and refusals."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.gears import backlash_at_pitch, backlash_change, centre_distance_change

positive = st.integers(1, 10**6)


@given(reading=st.integers(0, 10**6), arm=positive, pitch=positive)
def test_whole_numbers_and_fractions_agree(reading: int, arm: int, pitch: int) -> None:
    """Picometres give the rounded exact ratio that fractions give."""
    exact = Fraction(reading) * pitch / arm
    assert backlash_at_pitch(Fraction(reading), Fraction(arm), Fraction(pitch)) == exact
    assert backlash_at_pitch(reading, arm, pitch) == pytest.approx(float(exact), rel=4e-16, abs=0)


def test_large_radii_in_picometres_do_not_overflow() -> None:
    """A metre-long arm in picometres multiplies without running over."""
    assert backlash_at_pitch(300_000_000, 10**12, 10**12 - 1) == pytest.approx(300_000_000, rel=1e-11)


def test_arrays_broadcast() -> None:
    """Several readings on one arm come out together."""
    assert backlash_at_pitch([0.1, 0.2], 60.0, 45.0) == pytest.approx([0.075, 0.15])


@given(change=st.floats(-1.0, 1.0), angle=st.floats(10.0, 35.0))
def test_centre_distance_and_backlash_undo_each_other(change: float, angle: float) -> None:
    """The centre distance found from the backlash it made is the one it came from."""
    assert centre_distance_change(backlash_change(change, angle), angle) == pytest.approx(change, abs=1e-15)


def test_closer_centres_take_backlash_away() -> None:
    """A negative change of the centre distance gives a negative change of backlash, of equal size."""
    assert backlash_change(-0.05, 20.0) == -backlash_change(0.05, 20.0)


def test_steeper_teeth_make_more_backlash() -> None:
    """The same move brings more backlash at 25 than at 20 than at 14.5 degrees."""
    assert np.all(np.diff(backlash_change(0.05, [14.5, 20.0, 25.0])) > 0)


@pytest.mark.parametrize("angle", [0.0, 90.0, -20.0, float("nan")])
def test_an_impossible_angle_is_refused(angle: float) -> None:
    """Pressure angles lie between 0 and 90 degrees."""
    with pytest.raises(TenthbookError, match="pressure angle"):
        backlash_change(0.05, angle)


@pytest.mark.parametrize(("arm", "pitch"), [(0, 45), (60, 0), (-60, 45)])
def test_an_impossible_radius_is_refused(arm: int, pitch: int) -> None:
    """Radii are above zero."""
    with pytest.raises(TenthbookError, match="both radii above zero"):
        backlash_at_pitch(1, arm, pitch)
