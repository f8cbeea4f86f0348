"""SciPy reference guide, scipy.optimize.linear_sum_assignment, docstring example (read).

Bottleneck assignment as in the documentation of an R package for assignment (read: threshold search with bipartite
matching). Costs and masses are whole numbers: every comparison is exact.
"""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from tenthbook.faces.calculators import load
from tenthbook.trade.fit.pairing import least_worst_cost, pair_by_cost, pair_by_size, pair_opposite

DOCSTRING_COSTS = [[4, 1, 3], [2, 0, 5], [3, 2, 2]]
CASES = 60


def brute_force(cost: NDArray[Any]) -> tuple[int, int, int]:
    """Least sum; least worst; least sum among those with the least worst."""
    rows = np.arange(len(cost))
    columns = itertools.permutations(range(cost.shape[1]), len(cost))
    seen = [(int(chosen.max()), int(chosen.sum())) for chosen in (cost[rows, list(order)] for order in columns)]
    return min(total for _, total in seen), *min(seen)


def all_pairings(places: list[int]) -> list[list[tuple[int, int]]]:
    """Every way to split the places into pairs."""
    if not places:
        return [[]]
    first, rest = places[0], places[1:]
    return [[(first, other), *more] for other in rest for more in all_pairings([p for p in rest if p != other])]


def test_least_sum_of_the_docstring() -> None:
    """P10.1: the example of the SciPy reference guide (read) costs 5 in all."""
    assert pair_by_cost(DOCSTRING_COSTS, "sum").total == 5


def test_least_worst_of_the_docstring() -> None:
    """P10.2: in the SciPy example no pairing keeps every pair under 2; derived."""
    pairing = pair_by_cost(DOCSTRING_COSTS, "worst")
    assert (pairing.worst, least_worst_cost(DOCSTRING_COSTS)) == (2, 2)


def test_least_sum_and_least_worst_can_differ() -> None:
    """P10.3: [[0, 5], [5, 9]] costs 9 (worst 9) by sum and 10 (worst 5) by worst; derived from both methods."""
    by_sum, by_worst = pair_by_cost([[0, 5], [5, 9]], "sum"), pair_by_cost([[0, 5], [5, 9]], "worst")
    assert (by_sum.total, by_sum.worst) == (9, 9)
    assert (by_worst.worst, by_worst.total) == (5, 10)


@pytest.mark.parametrize("case", range(CASES))
def test_cost_table_against_brute_force(case: int) -> None:
    """P10.4: in 60 random tables, ties among them, both criteria find what trying every pairing finds."""
    random = np.random.default_rng(case)
    rows = int(random.integers(1, 7))
    cost = random.integers(-9, 10, size=(rows, rows + int(random.integers(0, 2))))
    least_sum, least_worst, its_sum = brute_force(cost)
    by_sum, by_worst = pair_by_cost(cost, "sum"), pair_by_cost(cost, "worst")
    assert by_sum.total == least_sum
    assert (by_worst.worst, by_worst.total) == (least_worst, its_sum)
    for pairing in (by_sum, by_worst):
        assert len(set(pairing.partner.tolist())) == rows
        assert pairing.costs.tolist() == cost[np.arange(rows), pairing.partner].tolist()


@pytest.mark.parametrize("case", range(CASES))
def test_sorted_sizes_against_brute_force(case: int) -> None:
    """P10.4: with one target, sorting both lists is best for worst and sum at once, in 60 random cases."""
    random = np.random.default_rng(1000 + case)
    count = int(random.integers(1, 7))
    holes, shafts = random.integers(0, 30, size=count), random.integers(0, 30, size=count)
    target = int(random.integers(-10, 11))
    least_sum, least_worst, _ = brute_force(np.abs(holes[:, None] - shafts[None, :] - target))
    pairing = pair_by_size(holes, shafts, target)
    assert (pairing.total, pairing.worst) == (least_sum, least_worst)
    assert sorted(pairing.partner.tolist()) == list(range(count))


@pytest.mark.parametrize("case", range(CASES))
def test_opposite_masses_against_brute_force(case: int) -> None:
    """P10.4: neighbours after sorting give the least worst difference of opposite pairs, in 60 random cases."""
    random = np.random.default_rng(2000 + case)
    masses = random.integers(600, 620, size=2 * int(random.integers(1, 5)))
    found = pair_opposite(masses)
    ways = all_pairings(list(range(masses.size)))
    assert found.worst == min(max(abs(int(masses[i]) - int(masses[j])) for i, j in way) for way in ways)
    assert sorted(found.pairs.ravel().tolist()) == list(range(masses.size))


def test_four_masses_in_two_pairs() -> None:
    """P10.5: 612, 605, 609 and 617 g pair as 612 with 617 and 605 with 609, 5 g apart at worst; derived."""
    found = pair_opposite([612, 605, 609, 617])
    assert found.pairs.tolist() == [[0, 3], [1, 2]]
    assert found.differences.tolist() == [5, 4]
    assert found.worst == 5


# Through the calculator `pairing`.


def test_docstring_asked_of_the_calculator() -> None:
    """P10.1, P10.2: the SciPy example (read) has least sum 5; no pairing of it keeps every pair under 2 (derived)."""
    by_sum = load("pairing").run({"cost": DOCSTRING_COSTS, "criterion": "sum"})
    assert by_sum == {"partner": [2, 1, 3], "worst": 2, "sum": 5}
    assert load("pairing").run({"cost": DOCSTRING_COSTS, "criterion": "worst"})["worst"] == 2


def test_sum_and_worst_differ_asked_of_the_calculator() -> None:
    """P10.3: [[0, 5], [5, 9]] costs 9 (worst 9) by sum and 10 (worst 5) by worst (derived)."""
    cost = [[0, 5], [5, 9]]
    assert load("pairing").run({"cost": cost, "criterion": "sum"}) == {"partner": [1, 2], "worst": 9, "sum": 9}
    assert load("pairing").run({"cost": cost, "criterion": "worst"}) == {"partner": [2, 1], "worst": 5, "sum": 10}


def test_brute_force_asked_of_the_calculator() -> None:
    """P10.4: in 60 random cases the calculator finds what trying every pairing finds (derived)."""
    random = np.random.default_rng(3000)
    tables = [random.integers(-9, 10, size=(count, count)) for count in random.integers(1, 7, size=CASES)]
    for criterion, place in (("sum", 0), ("worst", 1)):
        batch = [{"cost": table.tolist(), "criterion": criterion} for table in tables]
        answers = load("pairing").run({"batch": batch})["batch"]
        expected = [brute_force(table) for table in tables]
        assert [answer[criterion] for answer in answers] == [found[place] for found in expected]
        if criterion == "worst":
            assert [answer["sum"] for answer in answers] == [found[2] for found in expected]


def test_masses_asked_of_the_calculator() -> None:
    """P10.5: 612, 605, 609 and 617 g make two pairs 5 g apart at worst (derived)."""
    answer = load("pairing").run({"masses": ["612 g", "605 g", "609 g", "617 g"]})
    assert answer == {"pairs": [[1, 4], [2, 3]], "worst": {"value": 5, "unit": "g", "text": "5 g"}}
