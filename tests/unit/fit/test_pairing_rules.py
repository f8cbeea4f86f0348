"""What any pairing keeps: forbidden pairs, spare partners, exact sums, the same answer every time."""

from __future__ import annotations

import time
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays
from numpy.typing import NDArray

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.pairing import Criterion, least_worst_cost, pair_by_cost, pair_by_size, pair_opposite

INF = float("inf")
HALF_A_SECOND = 0.5

tables = arrays(np.int64, array_shapes(min_dims=2, max_dims=2, max_side=6), elements=st.integers(-20, 20)).map(
    lambda table: table if table.shape[0] <= table.shape[1] else table.T
)


@given(cost=tables)
def test_worst_first_is_never_worse_and_sum_first_never_dearer(cost: NDArray[Any]) -> None:
    """Each criterion is at least as good in its own measure as the other."""
    by_worst, by_sum = pair_by_cost(cost, "worst"), pair_by_cost(cost, "sum")
    assert by_worst.worst <= by_sum.worst
    assert by_sum.total <= by_worst.total
    assert by_worst.worst == least_worst_cost(cost)


@given(cost=tables, criterion=st.sampled_from(["worst", "sum"]), shift=st.integers(-50, 50), scale=st.integers(1, 9))
def test_a_change_of_unit_or_zero_changes_no_answer(
    cost: NDArray[Any], criterion: Criterion, shift: int, scale: int
) -> None:
    """Costs in another unit, counted from another zero, give the same worst and sum in that unit."""
    before, after = pair_by_cost(cost, criterion), pair_by_cost(cost * scale + shift, criterion)
    assert after.worst == before.worst * scale + shift
    assert after.total == before.total * scale + shift * len(cost)


@given(cost=tables, criterion=st.sampled_from(["worst", "sum"]))
def test_the_same_table_gives_the_same_partners(cost: NDArray[Any], criterion: Criterion) -> None:
    """Ties are broken the same way every time."""
    once, again = pair_by_cost(cost, criterion), pair_by_cost(cost.copy(), criterion)
    assert once.partner.tolist() == again.partner.tolist()
    assert len(set(once.partner.tolist())) == len(cost)


def test_a_forbidden_pair_is_never_made() -> None:
    """An infinite cost keeps two parts apart, however cheap the rest would be."""
    cost = [[INF, 1.0], [1.0, 100.0]]
    criteria: tuple[Criterion, ...] = ("worst", "sum")
    for criterion in criteria:
        assert pair_by_cost(cost, criterion).partner.tolist() == [1, 0]
    cost = [[1.0, 5.0], [INF, INF]]
    with pytest.raises(TenthbookError, match="row 2 has none"):
        pair_by_cost(cost, "sum")
    with pytest.raises(TenthbookError, match="row 2 has none"):
        pair_by_cost(cost, "worst")


@pytest.mark.parametrize("criterion", ["worst", "sum"])
def test_two_rows_that_want_one_partner_are_refused(criterion: Criterion) -> None:
    """Where forbidden pairs leave two parts one partner, that is said, not solved."""
    with pytest.raises(TenthbookError, match="some rows compete for too few"):
        pair_by_cost([[1.0, INF, INF], [2.0, INF, INF], [1.0, 1.0, 1.0]], criterion)


def test_nothing_allowed_at_all_is_refused() -> None:
    """A table of forbidden pairs has no answer."""
    with pytest.raises(TenthbookError, match="row 1 has none"):
        least_worst_cost([[INF]])


def test_spare_partners_stay_unused() -> None:
    """With more partners than parts the dear ones are left in the bin."""
    pairing = pair_by_cost([[9, 1, 7], [8, 1, 2]], "worst")
    assert (pairing.partner.tolist(), pairing.worst, pairing.total) == ([1, 2], 2, 3)


def test_whole_numbers_stay_whole_and_exact() -> None:
    """Costs of many picometres add up without rounding."""
    pairing = pair_by_cost([[10**15 + 1, 0], [0, 10**15 + 2]], "sum")
    assert (pairing.total, type(pairing.total)) == (0, int)
    far = pair_by_cost([[10**15 + 1]], "worst")
    assert (far.worst, far.total) == (10**15 + 1, 10**15 + 1)


@pytest.mark.parametrize(
    ("cost", "says"),
    [
        ([[1, 2], [3, 4], [5, 6]], "found costs of shape 3x2"),
        ([1, 2], "a table"),
        (np.empty((0, 0)), "at least one row"),
        ([["a"]], "whole numbers or floats"),
        ([[float("nan")]], "whole numbers or floats"),
        ([[-INF, 1.0]], "whole numbers or floats"),
        ([[2**60]], "2\\*\\*53"),
    ],
)
def test_a_table_that_cannot_be_paired_is_refused(cost: Any, says: str) -> None:
    """Shape, kind and size of the costs are checked before anything is paired."""
    with pytest.raises(TenthbookError, match=says):
        pair_by_cost(cost)


def test_an_unknown_criterion_is_refused() -> None:
    """Only the worst pair or the sum can be asked for."""
    another: Any = "mean"
    with pytest.raises(TenthbookError, match="worst or sum"):
        pair_by_cost([[1]], another)


@given(holes=st.lists(st.integers(0, 40), min_size=1, max_size=7), target=st.integers(-5, 5), data=st.data())
def test_sorting_gives_what_the_general_way_gives(holes: list[int], target: int, data: st.DataObject) -> None:
    """One target for all: sorting finds the worst and the sum that the full table of costs gives."""
    shafts = data.draw(st.lists(st.integers(0, 40), min_size=len(holes), max_size=len(holes)))
    cost = np.abs(np.subtract.outer(np.array(holes), np.array(shafts)) - target)
    sorted_way = pair_by_size(holes, shafts, target)
    assert sorted_way.worst == pair_by_cost(cost, "worst").worst
    assert sorted_way.total == pair_by_cost(cost, "sum").total


def test_inch_and_millimetre_pair_alike() -> None:
    """Decimal inches and whole picometres give the same partners and the same costs."""
    holes, shafts = ["1.2510", "1.2502", "1.2506"], ["1.2485", "1.2481", "1.2490"]
    inch = pair_by_size([Decimal(h) for h in holes], [Decimal(s) for s in shafts], Decimal("0.0020"))
    pm = pair_by_size(
        [int(Decimal(h) * 25_400_000_000) for h in holes],
        [int(Decimal(s) * 25_400_000_000) for s in shafts],
        50_800_000,
    )
    assert inch.partner.tolist() == pm.partner.tolist() == [2, 1, 0]
    assert [int(cost * 25_400_000_000) for cost in inch.costs] == pm.costs.tolist()
    assert inch.worst == Decimal("0.0001")


@given(
    sizes=st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=1, max_size=7), target=st.integers(-5, 5)
)
def test_turning_holes_and_shafts_round_changes_no_answer(sizes: list[tuple[int, int]], target: int) -> None:
    """Exchanging the lists and the sign of the target gives the same worst and sum."""
    holes, shafts = zip(*sizes, strict=True)
    straight, turned = pair_by_size(holes, shafts, target), pair_by_size(shafts, holes, -target)
    assert (straight.worst, straight.total) == (turned.worst, turned.total)


def test_equal_sizes_keep_their_order() -> None:
    """Parts of one size are paired first with first."""
    assert pair_by_size([5, 5, 5], [3, 3, 3], 2).partner.tolist() == [0, 1, 2]
    assert pair_opposite([7, 7, 7, 7]).pairs.tolist() == [[0, 1], [2, 3]]


@pytest.mark.parametrize(("holes", "shafts"), [([1, 2], [1]), ([], []), ([[1]], [[1]])])
def test_lists_that_do_not_match_are_refused(holes: list[int], shafts: list[int]) -> None:
    """As many shafts as holes, and at least one."""
    with pytest.raises(TenthbookError, match="a list of each, equally long"):
        pair_by_size(holes, shafts, 0)


@pytest.mark.parametrize("masses", [[], [1], [1, 2, 3], [[1, 2]]])
def test_masses_must_come_in_pairs(masses: list[int]) -> None:
    """An odd number of masses has no opposite places."""
    with pytest.raises(TenthbookError, match="an even number"):
        pair_opposite(masses)


def test_masses_in_tenths_of_a_gram_are_exact() -> None:
    """Typed decimals differ by exactly what was typed."""
    found = pair_opposite([Decimal("612.3"), Decimal("612.1"), Decimal("609.8"), Decimal("609.9")])
    assert found.differences.tolist() == [Decimal("0.2"), Decimal("0.1")]


@pytest.mark.parametrize("kind", ["random", "few values", "one bad corner"])
def test_200_by_200_worst_first_takes_under_half_a_second(kind: str) -> None:
    """A whole rack of parts is paired while one waits, whatever the table looks like."""
    random = np.random.default_rng(5)
    cost = random.integers(0, 10**6, size=(200, 200))
    if kind == "few values":
        cost = cost % 7
    if kind == "one bad corner":
        cost[:150, 60:] += 10**7
    pair_by_cost(cost[:2, :2], "worst")  # the first call loads the solver
    began = time.perf_counter()
    pairing = pair_by_cost(cost, "worst")
    assert time.perf_counter() - began < HALF_A_SECOND
    assert len(set(pairing.partner.tolist())) == 200
