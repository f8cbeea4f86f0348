"""A ring's gap where the bore is smaller: the circumference rules."""

from __future__ import annotations

from decimal import Decimal
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.rings import bore_change_for_gap, gap_at, smallest_gap

bores = st.integers(1, 10**12)
gaps = st.integers(0, 10**10)
ROUNDING_PM = 1e-3


def test_three_thousandths_of_choke_close_the_gap_by_more_than_nine() -> None:
    """0.003 in less bore closes the gap by pi times as much, 0.0094 in."""
    there = gap_at(Decimal("0.030"), Decimal("5.125"), Decimal("5.122"))
    assert there == pytest.approx(0.030 - 0.003 * pi, abs=1e-15)
    assert 0.030 - float(there) == pytest.approx(0.0094, abs=5e-5)


@given(gap=gaps, here=bores, there=bores)
def test_carried_there_and_back_it_is_the_gap(gap: int, here: int, there: int) -> None:
    """A gap carried to another depth and back is what was read."""
    carried = gap_at(gap_at(gap, here, there), there, here)
    assert carried == pytest.approx(gap, abs=ROUNDING_PM)


@given(gap=gaps, here=bores, way=st.lists(bores, min_size=1, max_size=6))
def test_nowhere_on_the_way_is_the_gap_smaller(gap: int, here: int, way: list[int]) -> None:
    """The smallest gap is the least of the gaps at the stations, and at the station named."""
    found = smallest_gap(gap, here, way)
    at_stations = gap_at(gap, here, way)
    assert found.gap == at_stations.min()
    assert way[int(found.station)] == min(way)
    assert bool(found.butts) == bool(found.gap < 0)


def test_ends_that_would_meet_are_said() -> None:
    """A choke deeper than the gap allows makes the ends meet."""
    found = smallest_gap(0.005, 5.125, [5.125, 5.122])
    assert found.butts
    assert found.station == 1
    assert found.gap == pytest.approx(0.005 - 0.003 * pi, abs=1e-15)


def test_several_barrels_at_once() -> None:
    """A row a barrel, a column a station."""
    found = smallest_gap([20, 30], [1000, 1000], [[1000, 998, 999], [997, 1001, 1000]])
    assert found.station.tolist() == [1, 0]
    assert found.gap == pytest.approx([20 - 2 * pi, 30 - 3 * pi])


@given(gap=gaps, here=bores, more=st.integers(0, 10**9))
def test_the_bore_is_found_from_the_gap(gap: int, here: int, more: int) -> None:
    """A gap that grew says by how much the bore did."""
    grown = gap_at(gap, here, here + more) - gap
    assert bore_change_for_gap(grown) == pytest.approx(more, abs=ROUNDING_PM)


@given(gap=gaps, here=st.integers(1, 10**7), there=st.integers(1, 10**7))
def test_inch_and_millimetre_agree(gap: int, here: int, there: int) -> None:
    """Hundred-thousandths of an inch as picometres and as decimal millimetres give one gap."""
    metric = gap_at(
        Decimal(gap) * Decimal("0.000254"), Decimal(here) * Decimal("0.000254"), Decimal(there) * Decimal("0.000254")
    )
    assert gap_at(gap * 254_000, here * 254_000, there * 254_000) == pytest.approx(
        float(metric) * 1e9, rel=1e-12, abs=1e-2
    )


@pytest.mark.parametrize(
    ("here", "way", "says"),
    [(0, [5], "diameters above zero"), (5, [5, -1], "diameters above zero"), (5, [], "one station or more")],
)
def test_an_impossible_bore_is_refused(here: int, way: list[int], says: str) -> None:
    """Bores are above zero, and there is at least one station."""
    with pytest.raises(TenthbookError, match=says):
        smallest_gap(1, here, way)
