"""Readings to one size: exact where they are, and the doubt of their mean."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from statistics import mean, stdev

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import NoReadings, NotAnUncertainty, NotASize
from tenthbook.trade.gauge.readings import form, repeats, spread_of_mean, standard_of_size

PICOMETRES = st.lists(st.integers(-(10**12), 10**12), min_size=2, max_size=12)


@given(PICOMETRES)
def test_sum_is_exact_and_spread_is_that_of_the_textbook(readings: list[int]) -> None:
    """Sum and count give the exact mean; the deviation equals that of exact fractions (JCGM 100:2008, 4.2.2)."""
    found = repeats(np.array(readings, dtype=np.int64))
    assert Fraction(int(found.total), found.count) == mean(map(Fraction, readings))
    assert float(found.mean) == pytest.approx(float(mean(map(Fraction, readings))), rel=1e-12, abs=1e-3)
    assert float(found.deviation) == pytest.approx(float(stdev(map(Fraction, readings))), rel=1e-9, abs=1e-6)
    assert (int(found.smallest), int(found.largest)) == (min(readings), max(readings))


def test_spread_keeps_its_digits_at_large_sizes() -> None:
    """A picometre of spread on a metre is not lost."""
    found = repeats(np.array([10**12, 10**12 + 1, 10**12 + 2], dtype=np.int64))
    assert float(found.deviation) == 1.0


def test_decimals_stay_decimals() -> None:
    """Typed decimals are added and compared as decimals, many parts at once."""
    table = np.array([[Decimal("1.10"), Decimal("1.20")], [Decimal("0.1"), Decimal("0.3")]], dtype=object)
    found = repeats(table)
    assert found.total.tolist() == [Decimal("2.30"), Decimal("0.4")]
    assert found.largest.tolist() == [Decimal("1.20"), Decimal("0.3")]
    shape = form(table)
    assert shape.out_of_round.tolist() == [Decimal("0.10"), Decimal("0.2")]
    assert shape.worst_taper.item() == Decimal("1.00")


def test_one_reading_has_no_spread() -> None:
    """A single reading says nothing of its scatter; the step of the gauge stands in."""
    found = repeats([1.25])
    assert np.isnan(found.deviation)
    assert spread_of_mean(found.deviation, 1) == 0.0
    assert standard_of_size(found.deviation, 1, 0.001) == pytest.approx(0.001 / 12**0.5, rel=1e-12)


def test_scatter_or_step_whichever_says_more() -> None:
    """The spread of the mean and the step do not add, the error limit does (JCGM 100:2008, F.2.2.1 and 4.3.7)."""
    limit = 0.004 / 3**0.5
    assert standard_of_size(0.01, 4, 0.001, 0.004) == pytest.approx(np.hypot(0.005, limit), rel=1e-12)
    assert standard_of_size(0.0001, 4, 0.001, 0.004) == pytest.approx(np.hypot(0.001 / 12**0.5, limit), rel=1e-12)


@given(st.lists(st.lists(st.integers(0, 10**9), min_size=2, max_size=2), min_size=2, max_size=5))
def test_turning_the_table_swaps_taper_and_roundness(stations: list[list[int]]) -> None:
    """Out-of-round of a table is the taper of the turned one."""
    table = np.array(stations, dtype=np.int64)
    assert form(table).out_of_round.tolist() == form(table.T).taper.tolist()
    assert int(form(table).size.largest) == int(table.max())


def test_many_parts_at_once() -> None:
    """Parts on a leading axis each get their own form."""
    table = np.arange(24).reshape(2, 4, 3)
    found = form(table)
    assert found.out_of_round.shape == (2, 4)
    assert found.taper.tolist() == [[9, 9, 9], [9, 9, 9]]
    assert found.size.count == 12


def test_misuse_is_named() -> None:
    """No readings, a missing one, a row without stations and a negative step are refused."""
    with pytest.raises(NoReadings, match="take one"):
        repeats([])
    with pytest.raises(NotASize):
        repeats([1.0, np.nan])
    with pytest.raises(NoReadings, match="row for each station"):
        form([1.0, 2.0])
    with pytest.raises(NotAnUncertainty):
        standard_of_size(0.0, 1, -0.001)
