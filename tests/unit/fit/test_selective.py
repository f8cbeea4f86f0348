"""Sorting into groups: where a part goes, and what matched groups make."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.selective import group_spread, matched_group_extremes, size_group

widths = st.integers(1, 60)
counts = st.integers(1, 8)


def test_edges_between_groups() -> None:
    """An inner edge goes to the group above, the largest size to the last group."""
    assert size_group([0, 5, 6, 11, 12, 24], 0, 24, 4).tolist() == [0, 0, 1, 1, 2, 3]
    assert size_group(Decimal("1.2503"), Decimal("1.2500"), Decimal("1.2509"), 3) == 1


@given(hole_width=widths, shaft_width=widths, groups=counts, data=st.data())
def test_matched_parts_stay_inside_their_group(
    hole_width: int, shaft_width: int, groups: int, data: st.DataObject
) -> None:
    """Any hole and shaft of one group make a clearance between that group's extremes."""
    hole, shaft = data.draw(st.integers(1000, 1000 + hole_width)), data.draw(st.integers(950, 950 + shaft_width))
    group = int(size_group(hole, 1000, 1000 + hole_width, groups))
    extremes = matched_group_extremes((1000, 1000 + hole_width), (950, 950 + shaft_width), groups)
    if group == int(size_group(shaft, 950, 950 + shaft_width, groups)):
        assert extremes[group][0] <= hole - shaft <= extremes[group][1]


@given(hole_width=widths, shaft_width=widths, groups=counts)
def test_each_group_spreads_by_the_rule(hole_width: int, shaft_width: int, groups: int) -> None:
    """Within a group the clearance spreads over both widths divided by the number of groups."""
    for least, greatest in matched_group_extremes((1000, 1000 + hole_width), (950, 950 + shaft_width), groups):
        assert greatest - least == Fraction(hole_width + shaft_width, groups)
    assert group_spread(Fraction(hole_width), Fraction(shaft_width), groups) == Fraction(
        hole_width + shaft_width, groups
    )


def test_equal_widths_share_one_clearance() -> None:
    """With equal widths every group has the same extremes; with unlike widths they drift."""
    assert len(set(matched_group_extremes((100, 124), (60, 84), 4))) == 1
    assert len(set(matched_group_extremes((100, 124), (60, 72), 4))) == 4


def test_one_group_is_no_sorting() -> None:
    """One group gives the plain extremes of the two bands."""
    assert matched_group_extremes((100, 124), (60, 84), 1) == [(Fraction(16), Fraction(64))]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: size_group(25, 0, 24, 4), "set that part aside"),
        (lambda: size_group(5, 5, 5, 4), "a band with nothing in it"),
        (lambda: size_group(5, 0, 24, 0), "0 groups"),
        (lambda: matched_group_extremes((5, 4), (0, 1), 2), "the smaller limit first"),
        (lambda: group_spread(-1, 2, 2), "a negative width"),
    ],
)
def test_misuse_is_named(call: Callable[[], object], says: str) -> None:
    """What cannot be sorted is refused with the reason."""
    with pytest.raises(TenthbookError, match=says):
        call()
