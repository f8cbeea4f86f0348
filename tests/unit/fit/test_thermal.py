"""Sizes and clearances at temperature: exactness, laws, and the inverse for assembling."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.thermal import clearance_at, first_order_change, hole_temperature_for, size_at

sizes = st.floats(1.0, 500.0)
rates = st.floats(5e-6, 3e-5)
temperatures = st.floats(-60.0, 300.0)
DOUBLE = 1e-15  # relative rounding of a few operations on doubles, per unit of size


@given(hole=sizes, loose=st.floats(-0.1, 0.3), outer=rates, inner=rates, at=temperatures)
def test_clearance_is_the_difference_of_the_two_sizes(
    hole: float, loose: float, outer: float, inner: float, at: float
) -> None:
    """The clearance at temperature is the hole there less the shaft there."""
    shaft = hole - loose
    apart = size_at(hole, outer, at) - size_at(shaft, inner, at)
    assert clearance_at(hole, outer, shaft, inner, at) == pytest.approx(apart, abs=8 * DOUBLE * hole)


@given(size=sizes, rate=rates, there=temperatures, back=temperatures)
def test_warming_and_cooling_again_changes_nothing(size: float, rate: float, there: float, back: float) -> None:
    """A size carried to another temperature and back is the size."""
    carried = size_at(size_at(size, rate, there, from_degc=back), rate, back, from_degc=there)
    assert carried == pytest.approx(size, rel=8 * DOUBLE)


@given(hole=sizes, shaft=sizes, outer=rates, inner=rates, at=temperatures)
def test_turning_hole_and_shaft_round_turns_the_sign(
    hole: float, shaft: float, outer: float, inner: float, at: float
) -> None:
    """Exchanging the parts gives the same clearance with its sign turned."""
    assert clearance_at(hole, outer, shaft, inner, at) == -clearance_at(shaft, inner, hole, outer, at)


@given(hole=sizes, loose=st.floats(-0.1, 0.3), outer=rates, inner=rates, at=temperatures)
def test_inch_and_millimetre_agree(hole: float, loose: float, outer: float, inner: float, at: float) -> None:
    """The same parts in inches give the same clearance, converted."""
    metric = clearance_at(hole, outer, hole - loose, inner, at)
    inch = clearance_at(hole / 25.4, outer, (hole - loose) / 25.4, inner, at)
    assert inch * 25.4 == pytest.approx(metric, abs=8 * DOUBLE * hole)


def test_at_20_degrees_the_clearance_is_exact() -> None:
    """Picometres at 20 degC are the plain difference, whatever the expansions."""
    assert clearance_at(40_025_000_000, 21.5e-6, 39_991_000_000, 11.5e-6, 20) == 34_000_000


def test_decimals_stay_exact_at_any_temperature() -> None:
    """With everything given as decimals the answer is the exact decimal."""
    clearance = clearance_at(Decimal("40.025"), Decimal("21.5e-6"), Decimal("39.991"), Decimal("11.5e-6"), Decimal(100))
    assert clearance == Decimal("0.06605128")


def test_parts_may_differ_in_temperature() -> None:
    """A shaft chilled while the housing is warm gains both ways."""
    both = clearance_at(50.0, 2e-5, 50.05, 1e-5, 120.0, shaft_at_degc=-30.0)
    assert both == pytest.approx(-0.05 + 50 * 2e-5 * 100 + 50.05 * 1e-5 * 50, abs=1e-13)


def test_temperatures_broadcast_against_parts() -> None:
    """Two fits at three temperatures give two by three clearances."""
    table = clearance_at(np.array([[40.0], [50.0]]), 2e-5, np.array([[39.9], [49.9]]), 1e-5, [20.0, 60.0, 100.0])
    assert table.shape == (2, 3)
    assert np.all(np.diff(table, axis=1) > 0)


@given(tight=st.floats(0.0, 0.1), wanted=st.floats(0.0, 0.1), shaft_at=st.floats(-70.0, 20.0))
def test_the_wanted_clearance_is_there_at_the_answer(tight: float, wanted: float, shaft_at: float) -> None:
    """At the temperature found, the fit has the clearance asked for."""
    hole, shaft = 50.0, 50.0 + tight
    at = hole_temperature_for(wanted, hole, 2.15e-5, shaft, 1.15e-5, shaft_at)
    assert clearance_at(hole, 2.15e-5, shaft, 1.15e-5, at, shaft_at_degc=shaft_at) == pytest.approx(wanted, abs=1e-12)


def test_a_part_that_does_not_grow_is_refused() -> None:
    """No temperature opens a hole that does not expand."""
    with pytest.raises(TenthbookError, match="does not grow"):
        hole_temperature_for(0.02, 50.0, 0.0, 50.1, 1e-5)


@pytest.mark.parametrize("bad", [None, "40", float("nan")])
def test_a_size_must_be_a_number(bad: Any) -> None:
    """What is not a number is refused by name."""
    with pytest.raises(TenthbookError, match="hole size"):
        clearance_at(bad, 1e-5, 40.0, 1e-5, 100.0)
    with pytest.raises(TenthbookError, match="diameter"):
        first_order_change(bad, 1e-5, 80.0)
