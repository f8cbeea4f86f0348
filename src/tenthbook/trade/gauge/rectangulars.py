"""How wide is the sum of a few error limits, exactly: no sampling and no coverage factor.

A shop's budget is mostly error limits, each anywhere between its bounds. Their sum has a closed distribution, worked
out here in exact fractions. Not for budgets with repeat readings or correlations (see `budget` and `montecarlo`). In:
half-widths in any one unit. Out: a probability or a half-width in that unit. Sources: the density of a sum of uniform
variables (W. Feller, An Introduction to Probability Theory and Its Applications, volume 2, section I.9, from memory);
JCGM 101:2008, 9.2.3 and 9.2.4 (from memory) as check.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import factorial, prod

from tenthbook.trade.gauge.faults import NotAnUncertainty, checked_probability, checked_uncertainty

MOST = 8
"""Most error limits that are summed exactly [-]; every further one doubles the work."""

_FINER = 40
"""Binary digits [-] by which the unit is finer than the half-widths need."""


def probability_beyond(distance: float, half_widths: Sequence[float]) -> float:
    """Say how likely the sum of several rectangular errors exceeds a distance, to one side.

    Args:
        distance: Distance from the centre [mm, or any unit]; negative allowed.
        half_widths: Half-widths of the errors [mm], same unit; one to eight, zeros are left out.

    Returns:
        Probability [-] that the sum is greater than `distance`; exact up to its last rounding.

    Raises:
        NotAnUncertainty: a negative half-width, none above zero, or more than eight.

    Valid for: independent errors.
    Source: Feller (1971), volume 2, section I.9 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    total = _Sum.of(half_widths)
    return float(total.beyond(Fraction(distance) * total.scale) / total.volume)


def interval_half_width(half_widths: Sequence[float], confidence: float) -> float:
    """Say within which distance of the centre the sum of several rectangular errors lies.

    Args:
        half_widths: Half-widths of the errors [mm, or any unit]; one to eight, zeros are left out.
        confidence: Two-sided confidence [-].

    Returns:
        Half-width of the interval [mm]; symmetric and at the same time the shortest.

    Raises:
        NotAnUncertainty: a negative half-width, none above zero, or more than eight.
        NotAProbability: a confidence outside 0 to 1, ends excluded.

    Valid for: independent errors.
    Source: JCGM 101:2008, 9.2.3.3 for four equal errors (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    one_tail = (1 - Fraction(float(checked_probability(confidence, "confidence")))) / 2
    total = _Sum.of(half_widths)
    wanted = one_tail * total.volume
    inner, outer = 0, total.corners[-1][0]
    while outer - inner > 1:
        middle = (inner + outer) // 2
        if total.beyond(middle) > wanted:
            inner = middle
        else:
            outer = middle
    return float(Fraction(inner + outer, 2 * total.scale))


@dataclass(frozen=True, slots=True)
class _Sum:
    """A sum of rectangular errors in whole numbers of a fine unit.

    Attributes:
        scale: How many fine units make one [-].
        corners: Where all errors are at an end, and the sign of that corner [fine units], in rising order.
        count: How many errors [-].
        volume: What the alternating sum is divided by to give a probability.
    """

    scale: int
    corners: tuple[tuple[int, int], ...]
    count: int
    volume: int

    @classmethod
    def of(cls, half_widths: Sequence[float]) -> _Sum:
        """Check the half-widths [mm] and choose a unit in which all are whole."""
        widths = [Fraction(float(one)) for one in checked_uncertainty(half_widths, "half-width").ravel() if one > 0.0]
        if not 1 <= len(widths) <= MOST:
            raise NotAnUncertainty(
                found=f"{len(widths)} half-widths above zero", expected=f"one to {MOST}", todo="use trials for more"
            )
        scale = max(width.denominator for width in widths) << _FINER
        whole = [int(width * scale) for width in widths]
        corners = sorted(
            (sum(sign * width for sign, width in zip(signs, whole, strict=True)), prod(signs))
            for signs in product((1, -1), repeat=len(whole))
        )
        return cls(scale, tuple(corners), len(whole), factorial(len(whole)) * prod(2 * width for width in whole))

    def beyond(self, distance: Fraction | int) -> Fraction | int:
        """Probability times `volume` above a distance [fine units], the sum taken on the side with fewer terms."""
        if distance < 0:
            return self.volume - self.beyond(-distance)
        return sum(sign * (corner - distance) ** self.count for corner, sign in self.corners if corner > distance)
