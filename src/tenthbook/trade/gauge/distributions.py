"""How likely is a deviation of so many standard uncertainties: normal and Student's distribution, both ways.

Not a statistics library: two distributions, each both ways, nothing fitted. In: arrays of any shape that broadcast
together. Out: float64 arrays of the broadcast shape (0-d for scalars). A few normal values are taken from the standard
library, so that one answer at the bench does not pay for loading a large numerical library; many values, and Student's
t, go to compiled functions. Sources: JCGM 100:2008, annex G (Student's t and its table G.2, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import NotAProbability, checked_dof, checked_probability

FEW = 64
"""Up to so many values are computed one by one [-]: cheaper than loading the compiled functions."""

_STANDARD = NormalDist()
_SQRT_HALF = math.sqrt(0.5)


def normal_cdf(z: ArrayLike) -> NDArray[np.float64]:
    """Say what share of a normal distribution lies below a point.

    Args:
        z: Distance from the mean in standard deviations [-]; any shape; infinite allowed.

    Returns:
        Share below [-], accurate relative to itself also far out on the low side.

    Source: definition of the normal distribution, JCGM 100:2008, C.2.14 (from memory). Checked in:
        tests/published/test_jcgm_106.py
    """
    points = np.asarray(z, dtype=np.float64)
    if points.size <= FEW:
        return _each(_below, points)
    from scipy.special import ndtr

    return np.asarray(ndtr(points), dtype=np.float64)


def normal_quantile(share: ArrayLike) -> NDArray[np.float64]:
    """Say below which point of a normal distribution a given share lies.

    Args:
        share: Share below [-], from 0 to 1; any shape. 0 and 1 give minus and plus infinity.

    Returns:
        Distance from the mean in standard deviations [-].

    Raises:
        NotAProbability: a share below 0, above 1 or not a number.

    Source: inverse of the normal distribution; JCGM 106:2012, table 1 (from memory). Checked in:
        tests/published/test_jcgm_106.py
    """
    shares = np.asarray(share, dtype=np.float64)
    if not ((shares >= 0.0) & (shares <= 1.0)).all():
        raise NotAProbability(
            found="a share outside 0 to 1", expected="a number from 0 to 1", todo="95 per cent is typed 0.95"
        )
    if shares.size <= FEW:
        return _each(_point, shares)
    from scipy.special import ndtri

    return np.asarray(ndtri(shares), dtype=np.float64)


def student_cdf(t: ArrayLike, dof: ArrayLike = np.inf) -> NDArray[np.float64]:
    """Say what share of Student's t distribution lies below a point.

    Args:
        t: Distance from the centre in scale units [-]; any shape.
        dof: Degrees of freedom [-], above 0, need not be whole; infinite means normal. Broadcasts with `t`.

    Returns:
        Share below [-].

    Raises:
        TooFewDegrees: degrees of freedom of zero or less.

    Source: JCGM 100:2008, G.3.2 (from memory). Checked in: tests/unit/gauge/test_distributions.py
    """
    degrees = checked_dof(dof)
    endless = np.isinf(degrees)
    if endless.all():
        return normal_cdf(
            np.broadcast_to(np.asarray(t, dtype=np.float64), np.broadcast_shapes(np.shape(t), degrees.shape))
        )
    from scipy.special import ndtr, stdtr

    points = np.asarray(t, dtype=np.float64)
    return np.asarray(np.where(endless, ndtr(points), stdtr(np.where(endless, 1.0, degrees), points)), dtype=np.float64)


def student_quantile(share: ArrayLike, dof: ArrayLike = np.inf) -> NDArray[np.float64]:
    """Say below which point of Student's t distribution a given share lies.

    Args:
        share: Share below [-], strictly between 0 and 1; any shape.
        dof: Degrees of freedom [-], above 0, need not be whole; infinite means normal. Broadcasts with `share`.

    Returns:
        Distance from the centre in scale units [-].

    Raises:
        NotAProbability: a share outside 0 to 1, ends excluded.
        TooFewDegrees: degrees of freedom of zero or less.

    Source: JCGM 100:2008, table G.2 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    shares = checked_probability(share, "share")
    degrees = checked_dof(dof)
    endless = np.isinf(degrees)
    if endless.all():
        return normal_quantile(np.broadcast_to(shares, np.broadcast_shapes(shares.shape, degrees.shape)))
    from scipy.special import ndtri, stdtrit

    return np.asarray(
        np.where(endless, ndtri(shares), stdtrit(np.where(endless, 1.0, degrees), shares)), dtype=np.float64
    )


def coverage_factor(confidence: ArrayLike, dof: ArrayLike = np.inf) -> NDArray[np.float64]:
    """Say how many standard uncertainties, to each side, hold a given confidence.

    Args:
        confidence: Two-sided confidence [-], such as 0.95; any shape.
        dof: Degrees of freedom [-]; infinite gives the normal factor (1.96 at 0.95).

    Returns:
        Coverage factor k [-].

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.
        TooFewDegrees: degrees of freedom of zero or less.

    Source: JCGM 100:2008, G.3.4 and table G.2 (from memory). Checked in: tests/published/test_jcgm_100.py
    """
    one_tail = 0.5 * (1.0 - checked_probability(confidence, "confidence"))
    return -student_quantile(one_tail, dof)


def _each(function: Callable[[float], float], values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Apply a scalar function to a few values [-], keeping their shape."""
    return np.array([function(value) for value in values.ravel().tolist()], dtype=np.float64).reshape(values.shape)


def _below(z: float) -> float:
    """Share of a standard normal below `z` [-]."""
    return 0.5 * math.erfc(-z * _SQRT_HALF)


def _point(share: float) -> float:
    """Point of a standard normal [-] below which `share` lies, the ends included."""
    if share <= 0.0:
        return -math.inf
    return math.inf if share >= 1.0 else _STANDARD.inv_cdf(share)
