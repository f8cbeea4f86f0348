"""Where a falling curve crosses nought."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.crossing import Floats, crossing

NEAR = 1e-12


@given(st.lists(st.floats(-0.99, 0.99), min_size=1, max_size=5), st.sampled_from([1.0, 3.0, 0.2]), st.floats(0.1, 40.0))
def test_many_curves_at_once_cross_where_they_should(roots: list[float], bend: float, steep: float) -> None:
    """Straight, flat and bent curves are each followed to their own crossing."""
    at = np.array(roots)

    def curve(point: Floats) -> Floats:
        return np.asarray(np.tanh(steep * (at - point)) + 0.1 * np.sign(at - point) * np.abs(at - point) ** bend)

    found = crossing(curve, np.full(at.shape, -1.0), np.full(at.shape, 1.0), np.full(at.shape, NEAR))
    assert found == pytest.approx(at, abs=1e-11)


def test_a_crossing_is_found_in_few_looks() -> None:
    """A smooth curve in a wide bracket takes a third of the looks that halving takes."""
    looks = 0

    def curve(point: Floats) -> Floats:
        nonlocal looks
        looks += 1
        return np.asarray(1.0 - np.exp(point))

    assert float(crossing(curve, np.array(-50.0), np.array(60.0), np.array(NEAR))) == pytest.approx(0.0, abs=NEAR)
    assert looks <= 25


def test_ends_on_one_side_end_the_search() -> None:
    """A curve that nowhere rises above nought gives a point of its bracket, and does not search for ever."""
    found = float(crossing(lambda point: np.full(point.shape, -1.0), np.array(0.0), np.array(1.0), np.array(NEAR)))
    assert 0.0 <= found <= 1.0
