"""Which part goes with which, so that the worst pair is as good as it can be, or all pairs together are.

Three questions: a table of costs to pair freely; holes and shafts that all want one target clearance; masses that sit
opposite each other. It does not know positions that a manual fixes: forbid a pair by an infinite cost. In go costs,
sizes or masses, each in one unit; out come partners counted from 0. The same input always gives the same partners.

Sources: linear assignment and bottleneck assignment as general methods (scipy documentation; documentation of an R
assignment package, read); the sorting rules are derived here and held against brute force.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.fit.faults import NoPairing, NotANumber, OutOfRange
from tenthbook.trade.fit.lengths import Lengths, LengthsLike, as_lengths, plain

Criterion = Literal["worst", "sum"]
Costs = NDArray[Any]
Indices = NDArray[np.intp]

_EXACT_SUM = 2**53


@dataclass(frozen=True, slots=True)
class Pairing:
    """Who goes with whom.

    Attributes:
        partner: Column, or shaft, that each row, or hole, gets; counted from 0 [-].
        costs: What each of these pairs costs, unit of the input, for instance [mm].
        worst: The largest of them, same unit.
        total: Their sum, same unit.
    """

    partner: Indices
    costs: Lengths
    worst: Any
    total: Any


class OppositePairs(NamedTuple):
    """Masses that sit opposite each other.

    Attributes:
        pairs: Two places a row, the smaller number first, rows ascending; counted from 0 [-].
        differences: What the two of a pair differ by, unit of the masses, for instance [g].
        worst: The largest difference, same unit.
    """

    pairs: Indices
    differences: Lengths
    worst: Any


def pair_by_cost(cost: ArrayLike, criterion: Criterion = "worst") -> Pairing:
    """Pair rows with columns at least cost.

    Args:
        cost: A row a part, a column a partner; whole numbers or floats in one unit, for instance [mm]; infinite where
            a pair is forbidden. Never more rows than columns; spare columns stay unused.
        criterion: "worst" makes the dearest pair as cheap as possible and then the sum; "sum" only the sum.

    Returns:
        Partners from 0, their costs, the dearest and the sum, unit of `cost`. Whole numbers stay whole and exact.

    Raises:
        NoPairing: not a table, more rows than columns, or forbidden pairs that leave a row without a partner.
        NotANumber: a cost that is none.
        OutOfRange: another criterion, or whole numbers too large to add exactly.

    Valid for: whole numbers whose sum stays under 2**53.
    Source: scipy documentation (linear sum assignment); documentation of an R package for assignment (bottleneck).
        Checked in: tests/published/test_pairing.py
    """
    costs = _cost_table(cost)
    if criterion not in ("worst", "sum"):
        raise OutOfRange(found=f"criterion {criterion!r}", expected="worst or sum")
    weights = costs.astype(np.float64)
    if criterion == "worst":
        weights = np.where(costs <= _bottleneck(costs), weights, np.inf)
    partner = _least_sum_partners(weights)
    return _pairing(partner, costs[np.arange(len(costs)), partner])


def least_worst_cost(cost: ArrayLike) -> Any:
    """Say how cheap the dearest pair can be made.

    Args:
        cost: A row a part, a column a partner; one unit, for instance [mm]; infinite where a pair is forbidden.

    Returns:
        The smallest cost that still lets every row have a partner no dearer, unit of `cost`.

    Raises:
        NoPairing: as for `pair_by_cost`.

    Source: documentation of an R package for assignment (bottleneck assignment: threshold search with bipartite
        matching). Checked in: tests/published/test_pairing.py
    """
    return plain(_bottleneck(_cost_table(cost)))


def pair_by_size(holes: LengthsLike, shafts: LengthsLike, target: LengthsLike) -> Pairing:
    """Pair holes with shafts when every pair wants the same clearance.

    Args:
        holes: Sizes of the outer parts [pm] or any one unit, for instance [mm]; one axis.
        shafts: Sizes of the inner parts, as many, same unit.
        target: Clearance every pair should have, same unit; scalar.

    Returns:
        Shaft of each hole from 0; costs |hole - shaft - target|, same unit, exact. Best for the dearest pair and for
        the sum at once.

    Raises:
        NoPairing: not as many shafts as holes, or none at all.
        NotANumber: a size that is none.

    Valid for: one target for all. Equal sizes keep their order. A window of clearances common to all can be met only
        if these pairs meet it.
    Source: derived here (sorting both), held against brute force (60 random cases). Checked in:
        tests/published/test_pairing.py
    """
    outer, inner = as_lengths(holes, "hole size"), as_lengths(shafts, "shaft size")
    if outer.ndim != 1 or outer.shape != inner.shape or not outer.size:
        raise NoPairing(found=f"{outer.size} holes and {inner.size} shafts", expected="a list of each, equally long")
    partner = np.empty(outer.size, dtype=np.intp)
    partner[np.argsort(outer, kind="stable")] = np.argsort(inner, kind="stable")
    return _pairing(partner, np.abs(outer - inner[partner] - as_lengths(target, "target clearance")))


def pair_opposite(masses: LengthsLike) -> OppositePairs:
    """Put masses in opposite places so that the largest difference in a pair is as small as possible.

    Args:
        masses: Masses [g], or any one unit; one axis, an even number of them; whole numbers and objects stay exact.

    Returns:
        Pairs of places from 0, their differences and the largest, unit of `masses`.

    Raises:
        NoPairing: an odd number of masses, or fewer than two.
        NotANumber: a mass that is none.

    Valid for: any part may take any place; what difference is allowed, the manual says.
    Source: derived here (neighbours after sorting), held against brute force (60 random cases). Checked in:
        tests/published/test_pairing.py
    """
    weights = as_lengths(masses, "mass")
    if weights.ndim != 1 or weights.size < 2 or weights.size % 2:
        raise NoPairing(found=f"{weights.size} masses", expected="an even number, two or more, in one list")
    pairs = np.sort(np.argsort(weights, kind="stable").reshape(-1, 2), axis=1)
    pairs = pairs[np.argsort(pairs[:, 0])]
    differences = np.abs(weights[pairs[:, 0]] - weights[pairs[:, 1]])
    return OppositePairs(pairs, differences, plain(differences.max()))


def _pairing(partner: Indices, costs: Lengths) -> Pairing:
    return Pairing(partner, costs, plain(costs.max()), plain(costs.sum()))


def _cost_table(cost: ArrayLike) -> Costs:
    costs: Costs = np.asarray(cost)
    if costs.ndim != 2 or not costs.size or costs.shape[0] > costs.shape[1]:
        found = f"costs of shape {'x'.join(map(str, costs.shape))}"
        raise NoPairing(found=found, expected="a table with at least one row and no more rows than columns")
    if costs.dtype.kind not in "iuf" or bool(np.any(np.isnan(costs) | np.isneginf(costs))):
        raise NotANumber(
            found="a cost that is not a number", expected="whole numbers or floats; infinite for a forbidden pair"
        )
    if costs.dtype.kind != "f":
        costs = costs.astype(np.int64)
        if int(np.abs(costs).max()) * costs.shape[0] >= _EXACT_SUM:
            raise OutOfRange(
                found="costs too large to add exactly",
                expected="sums under 2**53",
                todo="give the costs in a coarser unit",
            )
    return costs


def _least_sum_partners(weights: NDArray[np.float64]) -> Indices:
    from scipy.optimize import linear_sum_assignment

    try:
        return np.asarray(linear_sum_assignment(weights)[1], dtype=np.intp)
    except ValueError as no_way:
        raise _nobody_left(weights) from no_way


def _bottleneck(costs: Costs) -> Any:
    """Start at the cheapest partner of the choosiest row, double the step upwards, then halve the span."""
    levels = np.unique(costs[np.isfinite(costs)])
    if not levels.size or not _all_paired(costs, levels[-1]):
        raise _nobody_left(costs)
    least = costs.min(axis=1).max()
    if costs.shape[0] == costs.shape[1]:
        least = max(least, costs.min(axis=0).max())
    low = high = int(np.searchsorted(levels, least))
    step = 1
    while not _all_paired(costs, levels[high]):
        low, high, step = high + 1, min(high + step, levels.size - 1), 2 * step
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if _all_paired(costs, levels[middle]) else (middle + 1, high)
    return levels[high]


def _all_paired(costs: Costs, threshold: Any) -> bool:
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import maximum_bipartite_matching

    partners = maximum_bipartite_matching(csr_matrix(costs <= threshold), perm_type="column")
    return bool(np.all(partners >= 0))


def _nobody_left(costs: Costs) -> NoPairing:
    alone = np.flatnonzero(~np.isfinite(costs).any(axis=1))
    where = f"row {alone[0] + 1} has none" if alone.size else "some rows compete for too few"
    return NoPairing(
        found=f"no allowed partner for every row ({where})", expected="enough pairs that are not forbidden"
    )
