"""Roots of exact numbers: exact where they can be, else nearer than any typed figure can tell."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import NotAnUncertainty
from tenthbook.trade.gauge.roots import exact_root

lengths = st.fractions(0, 10**6, max_denominator=10**12)


@given(lengths)
def test_the_root_of_a_square_is_its_side(side: Fraction) -> None:
    """A square that is one has its side for a root, to the last digit."""
    assert exact_root(side**2) == side


@given(lengths.filter(bool))
def test_any_root_squared_is_the_number_to_a_hundred_digits(square: Fraction) -> None:
    """A root that is no fraction is too small by less than one part in 10 to the 100, and never too large."""
    root = exact_root(square)
    assert root**2 <= square < (root * (1 + Fraction(1, 10**100))) ** 2


def test_three_and_four_make_five() -> None:
    """0.3 and 0.4 thousandths make 0.5, where floats in metres make it a hair more or less."""
    assert exact_root(Fraction("0.0003") ** 2 + Fraction("0.0004") ** 2) == Fraction("0.0005")


def test_no_root_below_nought() -> None:
    """A square below nought is misuse."""
    with pytest.raises(NotAnUncertainty):
        exact_root(Fraction(-1))
