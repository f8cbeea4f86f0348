"""What a gauge ratio is worth: how bad false acceptance can get, and by how much to draw the limits in.

For limits to both sides of a process centred between them; other cases go to `risk`. In: ratios (span over twice the
expanded uncertainty, k = 2). Out: shares of parts, and factors by which to shrink the limits. Sources: ANSI/NCSL
Z540.3:2006, 5.3 (at most 2 % falsely accepted; read as quoted); M. Dobbert, guard band by method 6 (read in public
notebooks of a national laboratory).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.distributions import normal_quantile
from tenthbook.trade.gauge.faults import NotAnUncertainty, checked_probability
from tenthbook.trade.gauge.process import NormalProcess
from tenthbook.trade.gauge.risk import Risk, global_risk

_GRID = 33
_ZOOMS = 5


class DrawnIn(StrEnum):
    """Three published ways to draw acceptance limits in.

    Source: Dobbert, guard band strategies (read, as quoted).
    """

    METHOD_6 = "method 6"
    ROOT_DIFFERENCE = "root difference of squares"
    FULL_U = "full U"


@dataclass(frozen=True, slots=True)
class Worst:
    """The process that a gauge ratio serves worst.

    Attributes:
        in_tolerance: Share of that process's parts within limits [-].
        false_accept: Share of all its parts bad and accepted [-].

    Source: Dobbert (2008), as quoted (read).
    """

    in_tolerance: float
    false_accept: float


def centred_risk(ratio: ArrayLike, in_tolerance: ArrayLike, acceptance: ArrayLike = 1.0) -> Risk:
    """Say the risks of a gauge ratio for a process centred between its limits.

    Args:
        ratio: Gauge ratio [-], above zero; any shape.
        in_tolerance: Share of the parts within limits [-]; broadcasts.
        acceptance: By what the limits are multiplied to accept [-]; broadcasts.

    Returns:
        Share of bad parts, consumer's and producer's risk [-].

    Raises:
        NotAProbability: a share outside 0 to 1, ends excluded.
        NotAnUncertainty: a ratio of zero or less.

    Valid for: normal process and error, expanded uncertainty with k = 2.
    Source: ANSI/NCSL Z540.3:2006, 5.3, as quoted (read). Checked in: tests/published/test_ncsl_z540_3.py
    """
    ratios = _positive(ratio)
    outside = 0.5 * (1.0 - checked_probability(in_tolerance, "share in tolerance"))
    factor = np.asarray(acceptance, dtype=np.float64)
    process = NormalProcess(0.0, -1.0 / normal_quantile(outside))
    return global_risk(process, 0.5 / ratios, -1.0, 1.0, -factor, factor)


def worst_false_accept(ratio: float, acceptance: float = 1.0) -> Worst:
    """Find the process for which a gauge ratio lets most bad parts through.

    Args:
        ratio: Gauge ratio [-], above zero.
        acceptance: By what the limits are multiplied to accept [-].

    Returns:
        The worst share and where it occurs [-].

    Raises:
        NotAnUncertainty: a ratio of zero or less.

    Valid for: normal process centred between its limits, normal error, k = 2; the worst lies between 1 % and 99.9 % in
        tolerance.
    Source: Dobbert (2008), as quoted (read). Checked in: tests/published/test_ncsl_z540_3.py
    """
    low, high = 0.01, 0.999
    for _ in range(_ZOOMS):
        grid = np.linspace(low, high, _GRID)
        risks = centred_risk(ratio, grid, acceptance).consumer
        best = int(np.argmax(risks))
        low, high = float(grid[max(best - 1, 0)]), float(grid[min(best + 1, _GRID - 1)])
    return Worst(float(grid[best]), float(risks[best]))


def acceptance_factor(ratio: ArrayLike, way: DrawnIn) -> NDArray[np.float64]:
    """Say by what to multiply limits so that few enough bad parts are accepted.

    Args:
        ratio: Gauge ratio [-], above zero; for the root difference at least 1; any shape.
        way: Which of the published ways.

    Returns:
        Factor [-]; at most 1 for the ratios met in a shop. Method 6 gives more than 1 above a ratio of about 4.6.

    Raises:
        NotAnUncertainty: a ratio of zero or less, or below 1 for the root difference.

    Source: Dobbert (2008), method 6, and two older ways, as quoted (read). Checked in:
        tests/published/test_ncsl_z540_3.py
    """
    ratios = _positive(ratio)
    if way is DrawnIn.METHOD_6:
        return np.asarray(1.0 - method_6_multiplier(ratios) / ratios, dtype=np.float64)
    if way is DrawnIn.FULL_U:
        return np.asarray(1.0 - 1.0 / ratios, dtype=np.float64)
    if (ratios < 1.0).any():
        raise NotAnUncertainty(found="a gauge ratio below 1", expected="1 or more", todo="take a better gauge")
    return np.asarray(np.sqrt(1.0 - 1.0 / np.square(ratios)), dtype=np.float64)


def method_6_multiplier(ratio: ArrayLike) -> NDArray[np.float64]:
    """Say what share of the expanded uncertainty method 6 draws a limit in.

    Args:
        ratio: Gauge ratio [-], above zero; any shape.

    Returns:
        Multiplier of the expanded uncertainty [-].

    Raises:
        NotAnUncertainty: a ratio of zero or less.

    Source: Dobbert (2008), method 6, as quoted (read). Checked in: tests/published/test_ncsl_z540_3.py
    """
    return np.asarray(1.04 - np.exp(0.38 * np.log(_positive(ratio)) - 0.54), dtype=np.float64)


def _positive(ratio: ArrayLike) -> NDArray[np.float64]:
    """Refuse a ratio [-] of zero or less."""
    ratios = np.asarray(ratio, dtype=np.float64)
    if not ((ratios > 0.0) & (ratios < np.inf)).all():
        raise NotAnUncertainty(found="a gauge ratio of zero or less", expected="a number above 0", todo="4 is usual")
    return ratios
