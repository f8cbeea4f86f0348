"""The reading's digits stand in the gap where they can, and clear of the posts where possible."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tenthbook.faces.draw.plate import Plate, place_plate

ENDS = (20.0, 900.0)


def test_in_the_longest_free_stretch_of_the_gap() -> None:
    """Of the stretches between posts the longest is taken, in its middle."""
    assert place_plate(100, (150, 800), ENDS, [700]) == Plate((150 + 16 + 700 - 7) / 2, True)


def test_over_a_post_only_when_no_stretch_holds_them() -> None:
    """A gap just long enough holds the digits, though a post runs behind them."""
    assert place_plate(100, (150, 300), ENDS, [225]) == Plate(225, True)


def test_beside_a_small_gap_and_near_to_it() -> None:
    """Digits longer than the gap stand beside it, as near as an arrow allows."""
    assert place_plate(100, (400, 420), ENDS, []) == Plate(400 - 26 - 50, False)


def test_digits_that_would_hide_a_post_go_beside_the_gap() -> None:
    """Where digits cover a post for all its length, a clear place outside is taken first."""
    assert not place_plate(100, (400, 560), ENDS, [480], hides=True).inside


@given(
    st.floats(20, 400),
    st.tuples(st.floats(60, 860), st.floats(60, 860)),
    st.lists(st.floats(60, 860), max_size=4),
    st.booleans(),
)
def test_digits_never_leave_the_strip(length: float, gap: tuple[float, float], posts: list[float], hides: bool) -> None:
    """Wherever edges and posts are, the digits stand inside the strip."""
    plate = place_plate(length, gap, ENDS, posts, hides=hides)
    assert plate.centre - length / 2 >= ENDS[0] - 1e-6
    assert plate.centre + length / 2 <= ENDS[1] + 1e-6


@given(st.floats(20, 400), st.tuples(st.floats(60, 860), st.floats(60, 860)), st.lists(st.floats(60, 860), max_size=4))
def test_the_order_of_edges_and_posts_is_nothing(length: float, gap: tuple[float, float], posts: list[float]) -> None:
    """Edges and ends may be given either way round, posts in any order."""
    there = place_plate(length, gap, ENDS, posts)
    assert there == place_plate(length, gap[::-1], ENDS[::-1], posts[::-1])
