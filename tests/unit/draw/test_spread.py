"""Labels are kept apart, in order, and as near as they can be."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.faces.draw.spread import fits, spread

labels = st.lists(st.tuples(st.floats(0, 900), st.floats(5, 120)), min_size=1, max_size=6)


@given(labels)
def test_labels_keep_order_distance_and_room(made: list[tuple[float, float]]) -> None:
    """No two labels come nearer than the space, none leaves the room, and their order stays."""
    places, sizes = sorted(place for place, _ in made), [size for _, size in made]
    centres = spread(places, sizes, 0, 900, 10)
    for (left, wide), (right, broad) in pairwise(zip(centres, sizes, strict=True)):
        assert right - left >= (wide + broad) / 2 + 10 - 1e-6
    assert centres[0] - sizes[0] / 2 >= -1e-6
    assert centres[-1] + sizes[-1] / 2 <= 900 + 1e-6


def test_labels_with_room_stay_where_they_belong() -> None:
    """Labels that are far enough apart are not moved."""
    assert spread([100, 300, 500], [60, 60, 60], 0, 900, 10) == [100, 300, 500]


def test_labels_at_one_place_part_evenly() -> None:
    """Two labels of one place move aside by the same amount."""
    assert spread([400, 400], [60, 60], 0, 900, 10) == [365, 435]


@given(st.lists(st.floats(100, 800), min_size=1, max_size=5))
def test_mirrored_places_give_mirrored_labels(made: list[float]) -> None:
    """Seen in a mirror, labels are placed as in a mirror: left and right are alike."""
    places, sizes = sorted(made), [50.0] * len(made)
    there = spread(places, sizes, 0, 900, 10)
    back = spread([900 - place for place in reversed(places)], sizes, 0, 900, 10)
    assert back == pytest.approx([900 - centre for centre in reversed(there)], abs=1e-6)


def test_nothing_to_spread() -> None:
    """No label needs no place and always fits."""
    assert spread([], [], 0, 100, 10) == []
    assert fits([], 0, 10)
    assert fits([40, 50], 100, 10)
    assert not fits([40, 51], 100, 10)
