"""How much tighter a fit becomes when holes and shafts are sorted into size groups and matched group to group.

It counts on equal groups, the smallest holes with the smallest shafts. It does not say how many parts fall in each
group. In go exact numbers in one length unit; out come exact numbers or fractions of them.

Sources: selective assembly as in manufacturing textbooks (from memory); the general form for unlike bands is derived
here.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.fit.faults import CrossedLimits, OutOfRange
from tenthbook.trade.fit.lengths import Lengths, LengthsLike, as_lengths


def size_group(size: LengthsLike, least: LengthsLike, greatest: LengthsLike, groups: int) -> NDArray[np.intp]:
    """Say into which group a part goes.

    Args:
        size: Measured size [pm] or any one unit, for instance [mm]; scalar or array.
        least: Smallest size of the band, same unit.
        greatest: Largest size of the band, same unit, above `least`.
        groups: How many equal groups [-].

    Returns:
        Group from 0; a size on an inner edge goes to the group above, the largest size to the last group.

    Raises:
        OutOfRange: a size outside the band, or no groups.
        CrossedLimits: an empty band.

    Valid for: whole numbers of picometres and exact objects; exact at the edges.
    Source: selective assembly, manufacturing textbook rule, from memory. Checked in: tests/unit/fit/test_selective.py
    """
    sizes, low, high = as_lengths(size, "size"), as_lengths(least, "least size"), as_lengths(greatest, "greatest size")
    _check_groups(groups)
    if bool(np.any(low >= high)):
        raise CrossedLimits(found="a band with nothing in it", expected="a least size under the greatest")
    if bool(np.any((sizes < low) | (sizes > high))):
        raise OutOfRange(found="a size outside the band", expected="sizes within it", todo="set that part aside first")
    rank = (sizes - low) * groups // (high - low)
    return np.minimum(np.asarray(rank).astype(np.intp), groups - 1)


def matched_group_extremes(
    hole_band: tuple[int, int], shaft_band: tuple[int, int], groups: int
) -> list[tuple[Fraction, Fraction]]:
    """Say what clearances each pair of groups can make.

    Args:
        hole_band: Least and greatest hole [pm], or whole numbers of any one unit; 1 pm is 1e-9 mm.
        shaft_band: Least and greatest shaft, same unit.
        groups: How many equal groups [-].

    Returns:
        Least and greatest clearance of each group, smallest sizes first, same unit; exact.

    Raises:
        CrossedLimits: a band the wrong way round.
        OutOfRange: no groups.

    Source: derived here from the textbook rule of selective assembly. Checked in: tests/unit/fit/test_selective.py
    """
    _check_groups(groups)
    if hole_band[0] > hole_band[1] or shaft_band[0] > shaft_band[1]:
        raise CrossedLimits(found="a band the wrong way round", expected="the smaller limit first")
    hole_edges, shaft_edges = _edges(hole_band, groups), _edges(shaft_band, groups)
    return [(hole_edges[g] - shaft_edges[g + 1], hole_edges[g + 1] - shaft_edges[g]) for g in range(groups)]


def group_spread(hole_tolerance: LengthsLike, shaft_tolerance: LengthsLike, groups: int) -> Lengths:
    """Say how far apart the clearances within one pair of groups can lie.

    Args:
        hole_tolerance: Width of the holes' band [pm] or any one unit, for instance [mm]; scalar or array.
        shaft_tolerance: Width of the shafts' band, same unit.
        groups: How many equal groups [-].

    Returns:
        Spread of the clearance in a group: both widths together over the number of groups, same unit.

    Raises:
        OutOfRange: a negative width, or no groups.

    Valid for: any two widths within one group; the groups share one middle clearance only when the widths are equal.
    Source: selective assembly, manufacturing textbook rule, from memory. Checked in: tests/published/test_trade_fits.py
    """
    holes, shafts = as_lengths(hole_tolerance, "tolerance"), as_lengths(shaft_tolerance, "tolerance")
    _check_groups(groups)
    if bool(np.any(holes < 0) or np.any(shafts < 0)):
        raise OutOfRange(found="a negative width", expected="widths of zero or more")
    return np.asarray((holes + shafts) / groups)


def _edges(band: tuple[int, int], groups: int) -> list[Fraction]:
    width: Any = band[1] - band[0]
    return [band[0] + Fraction(width * group, groups) for group in range(groups + 1)]


def _check_groups(groups: int) -> None:
    if groups < 1:
        raise OutOfRange(found=f"{groups} groups", expected="one or more")
