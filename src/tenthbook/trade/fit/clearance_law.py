"""How likely a clearance lies below a value, when a part may be anywhere in its band or is known only within a doubt.

Closed forms only, no sampling: two bands make a trapezoid, a band and a normal doubt make a rounded band, two normal
doubts stay normal, two known sizes are one known clearance. It knows no limits and no parts; `forecast` does. In go
distances in one length unit, out come probabilities.

Sources: JCGM 101:2008, 6.4 (rectangular, trapezoidal and Gaussian distributions; clause numbers from memory); the
convolutions are derived here.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from tenthbook.trade.fit.faults import OutOfRange
from tenthbook.trade.fit.lengths import Flags, Floats, as_floats
from tenthbook.trade.gauge.distributions import normal_cdf

_NARROW = 1.0  # half-width of a band, in standard deviations, under which the closed form would lose digits
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


def probability_below(distance: ArrayLike, wide: ArrayLike, narrow: ArrayLike, sigma: ArrayLike) -> Floats:
    """Say how likely a clearance lies strictly below a value.

    Args:
        distance: The value less the middle of the clearance [mm], or any one length unit; broadcasts with the others.
        wide: Half-width of the wider band of the two parts, same unit; 0 for none.
        narrow: Half-width of the other band, same unit, at most `wide`; 0 for none.
        sigma: Standard deviation of the normal part of the doubt, same unit; 0 for none.

    Returns:
        Probability [-]. For two known sizes it is 1 above the clearance and 0 at it and below.

    Raises:
        OutOfRange: a negative width, `narrow` above `wide`, or two bands and a normal doubt together.

    Valid for: independent parts; absolute error under 1e-14.
    Source: JCGM 101:2008, 6.4 (from memory); convolutions derived here.
    Checked in: tests/unit/fit/test_clearance_law.py
    """
    t, a, b, s = np.broadcast_arrays(
        as_floats(distance, "distance to the limit"),
        as_floats(wide, "half-width", least=0.0),
        as_floats(narrow, "half-width", least=0.0),
        as_floats(sigma, "standard uncertainty", least=0.0),
    )
    if np.any(b > a):
        raise OutOfRange(found="narrow half-width above the wide one", expected="the wider band first")
    if np.any((b > 0) & (s > 0)):
        found = "two bands and a normal doubt on one clearance"
        raise OutOfRange(found=found, expected="each part a band or a known size, not both")
    result = np.asarray(t > 0, dtype=np.float64)
    _fill(result, (s > 0) & (a > 0), _band_and_normal, t, a, s)
    _fill(result, (s > 0) & (a == 0), _normal, t, s)
    _fill(result, (s == 0) & (a > 0), _two_bands, t, a, b)
    return result


def _fill(result: Floats, where: Flags, law: Callable[..., Floats], *values: Floats) -> None:
    if where.any():
        result[where] = law(*(value[where] for value in values))


def _normal(t: Floats, s: Floats) -> Floats:
    return normal_cdf(t / s)


def _two_bands(t: Floats, a: Floats, b: Floats) -> Floats:
    """Sum of two rectangular laws: a quadratic foot, a straight middle, a quadratic head."""
    inside = np.clip(a + b - np.abs(t), 0.0, None)
    foot = np.divide(inside**2, 8.0 * a * b, out=np.zeros_like(inside), where=b > 0)
    tail = np.where(inside < 2.0 * b, foot, 0.5 - np.abs(t) / (2.0 * a))
    tail = np.where(inside > 0.0, tail, 0.0)
    return np.where(t < 0.0, tail, 1.0 - tail)


def _band_and_normal(t: Floats, a: Floats, s: Floats) -> Floats:
    """Mean of the normal law over the band, from the lower side; the upper side is its mirror."""
    z, h = -np.abs(t) / s, a / s
    tail = np.empty_like(z)
    flat = h < _NARROW
    shifted = z[flat, None] + h[flat, None] * _NODES
    tail[flat] = normal_cdf(shifted) @ _WEIGHTS / 2.0
    tail[~flat] = (_summed_normal(z[~flat] + h[~flat]) - _summed_normal(z[~flat] - h[~flat])) / (2.0 * h[~flat])
    return np.where(t < 0.0, tail, 1.0 - tail)


def _summed_normal(z: Floats) -> Floats:
    """Integral of the normal law from far below up to z."""
    return np.asarray(z * normal_cdf(z) + np.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi), dtype=np.float64)
