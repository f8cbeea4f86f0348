"""The stack of shims that lands nearest the middle of the wanted play, and the plain answer when none lands."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import combinations_with_replacement
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.shims import choose_shims

LIST = [Decimal("0.005"), Decimal("0.010"), Decimal("0.015"), Decimal("0.031")]


def test_one_shim_lands() -> None:
    """0.022 in of play with no shim, 0.005 to 0.011 wanted: the 0.015 leaves 0.007, nearest the middle of 0.008."""
    choice = choose_shims(Decimal("0.022"), (Decimal("0.005"), Decimal("0.011")), LIST)
    assert (choice.pieces, choice.thickness, choice.play, choice.lands) == (
        (2,),
        Decimal("0.015"),
        Decimal("0.007"),
        True,
    )


def test_a_trial_shim_comes_out_again() -> None:
    """Play read over a trial shim counts that shim as play."""
    with_trial = choose_shims(Decimal("0.012"), (Decimal("0.005"), Decimal("0.011")), LIST, trial_shim=Decimal("0.010"))
    without = choose_shims(Decimal("0.022"), (Decimal("0.005"), Decimal("0.011")), LIST)
    assert with_trial == without


def test_several_pieces_together() -> None:
    """Two pieces land where no single one does, and the thinner comes first."""
    wanted = (Decimal("0.005"), Decimal("0.007"))
    single = choose_shims(Decimal("0.042"), wanted, LIST)
    assert not single.lands
    assert single.pieces == (3,)
    double = choose_shims(Decimal("0.042"), wanted, LIST, most=2)
    assert (double.pieces, double.thickness, double.play, double.lands) == (
        (0, 3),
        Decimal("0.036"),
        Decimal("0.006"),
        True,
    )


def test_none_lands_is_said() -> None:
    """When no stack reaches the band the nearest is named and does not land."""
    choice = choose_shims(100, (5, 10), [10, 20], most=2)
    assert (choice.thickness, choice.play, choice.lands) == (40, 60, False)


def test_the_ends_of_the_band_land() -> None:
    """On the limit is within, at both ends."""
    assert choose_shims(20, (5, 9), [11]).lands
    assert choose_shims(20, (9, 14), [11]).lands
    assert not choose_shims(20, (10, 14), [11]).lands


def test_each_piece_once() -> None:
    """With pieces counted one by one, a thickness in the list once is used once."""
    assert choose_shims(30, (9, 11), [10, 7], most=2).pieces == (0, 0)
    assert choose_shims(30, (9, 11), [10, 7], most=2, each_once=True).pieces == (1, 0)
    assert choose_shims(30, (9, 11), [10, 10], most=2, each_once=True).pieces == (0, 1)


def test_no_shim_only_when_allowed() -> None:
    """No shim at all is an answer only if a stack of none is allowed."""
    assert choose_shims(8, (7, 9), [1, 2]).pieces == (0,)
    bare = choose_shims(8, (7, 9), [1, 2], fewest=0)
    assert (bare.pieces, bare.thickness, bare.play) == ((), 0, 8)
    assert choose_shims(8, (7, 9), [], fewest=0).lands


def test_under_a_cover_a_thicker_shim_opens_the_play() -> None:
    """Where the shim holds the cover off, more shim is more play."""
    choice = choose_shims(2, (9, 11), [4, 8, 12], trial_shim=0, thicker_is_looser=True)
    assert (choice.thickness, choice.play) == (8, 10)


def test_ties_go_to_fewer_pieces_then_to_the_thinner() -> None:
    """Equally near stacks: fewer pieces first, then less thickness."""
    assert choose_shims(20, (10, 10), [4, 6, 10], most=2).pieces == (2,)
    assert choose_shims(20, (10, 10), [4, 12], most=2).pieces == (1,)
    assert choose_shims(20, (10, 10), [8, 12]).pieces == (0,)


@given(
    play=st.integers(0, 200),
    low=st.integers(0, 50),
    width=st.integers(0, 20),
    listed=st.lists(st.integers(1, 60), min_size=1, max_size=5),
    most=st.integers(1, 3),
)
def test_no_stack_is_nearer(play: int, low: int, width: int, listed: list[int], most: int) -> None:
    """Trying every stack finds none nearer the middle, and it lands whenever any stack does."""
    choice = choose_shims(play, (low, low + width), listed, most=most)
    stacks = [stack for count in range(1, most + 1) for stack in combinations_with_replacement(listed, count)]
    middle = Fraction(2 * low + width, 2)
    assert abs(choice.play - middle) == min(abs(play - sum(stack) - middle) for stack in stacks)
    assert choice.lands == any(low <= play - sum(stack) <= low + width for stack in stacks)
    assert choice.thickness == sum(listed[piece] for piece in choice.pieces)


def test_inch_and_millimetre_choose_alike() -> None:
    """The same shims in picometres are chosen as in inches."""
    inch = choose_shims(Decimal("0.042"), (Decimal("0.005"), Decimal("0.007")), LIST, most=2)
    pm = choose_shims(1_066_800_000, (127_000_000, 177_800_000), [int(t * 25_400_000_000) for t in LIST], most=2)
    assert (inch.pieces, inch.lands) == (pm.pieces, pm.lands)
    assert inch.play * 25_400_000_000 == pm.play


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"wanted": (9, 5), "thicknesses": [1]}, "the smaller play first"),
        ({"wanted": (5, 9), "thicknesses": [1, 0]}, "thicknesses above zero"),
        ({"wanted": (5, 9), "thicknesses": []}, "0 stacks from 0 thicknesses"),
        ({"wanted": (5, 9), "thicknesses": [1], "fewest": 2}, "a count from 0 up"),
        ({"wanted": (5, 9), "thicknesses": [1], "fewest": 2, "most": 3, "each_once": True}, "0 stacks from 1"),
        ({"wanted": (5, 9), "thicknesses": list(range(1, 60)), "most": 5}, "allow few pieces"),
        ({"wanted": (5, 9), "thicknesses": ["thick"]}, "shim thickness"),
    ],
)
def test_what_makes_no_stack_is_refused(arguments: dict[str, Any], says: str) -> None:
    """A list that makes no stack, or far too many, is refused with what to do."""
    with pytest.raises(TenthbookError, match=says):
        choose_shims(20, **arguments)
