"""Many lengths at once, in whole picometres or in exact fractions."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.quantity import quantity
from tenthbook.numbers.quantity.arrays import exact_picometres, metres, picometres


@pytest.mark.parametrize(
    ("typed", "pm"),
    [("1e-8 in", 254), ("1e-9 mm", 1), ("1 in", 25_400_000_000), ("0.0001 in", 2_540_000), ("-1 mm", -(10**9))],
)
def test_bench_lengths_are_whole_picometres(typed: str, pm: int) -> None:
    """A hundred-millionth of an inch is 254 pm."""
    array = picometres([quantity(typed)])
    assert array.dtype == np.int64
    assert array.tolist() == [pm]


@pytest.mark.parametrize("typed", ["1e-10 mm", "1e-9 in", "1e9 m"])
def test_a_finer_or_larger_length_falls_back_to_fractions(typed: str) -> None:
    """Where whole picometres do not do, the array is of exact fractions, all of it."""
    array = picometres([quantity("1 in"), quantity(typed)])
    assert array.dtype == object
    assert metres(array[0]) == quantity("1 in").exact
    assert metres(array[1]) == quantity(typed).exact


def test_no_lengths_are_no_array_entries() -> None:
    """An empty list is an empty array."""
    assert picometres([]).shape == (0,)


@given(st.lists(st.fractions(min_value=-10, max_value=10), max_size=5))
@settings(deadline=None)
def test_there_and_back_is_exact(lengths: list[Fraction]) -> None:
    """Metres to picometres to metres changes nothing, for every fraction."""
    assert [metres(value) for value in exact_picometres(lengths)] == lengths
