"""Where does a falling curve cross nought: many curves at once, each in its own bracket.

Only the search; what the curve means is the caller's (see `risk`). A step is an interpolation where three points allow
one, else a halving, so that it never leaves its bracket and ends for every curve. In: a function of an array, two ends.
Out: the crossing, in the unit of the ends. Sources: T. R. Chandrupatla, Advances in Engineering Software 28 (1997),
145-149 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_MOST_STEPS = 200


@dataclass(slots=True)
class _Points:
    """The newest point, the one across the crossing, and the one that was given up [mm]; and the curve there [-]."""

    new: Floats
    across: Floats
    old: Floats
    at_new: Floats
    at_across: Floats
    at_old: Floats

    def take(self, point: Floats, height: Floats) -> None:
        """Let a new point in, so that the crossing stays between it and the one across."""
        same = np.sign(height) == np.sign(self.at_new)
        self.old, self.at_old = np.where(same, self.new, self.across), np.where(same, self.at_new, self.at_across)
        self.across = np.where(same, self.across, self.new)
        self.at_across = np.where(same, self.at_across, self.at_new)
        self.new, self.at_new = point, height

    def best(self) -> tuple[Floats, Floats]:
        """The nearer of the two ends [mm], and the curve there [-]."""
        nearer = np.abs(self.at_new) < np.abs(self.at_across)
        return np.where(nearer, self.new, self.across), np.where(nearer, self.at_new, self.at_across)

    def share(self) -> Floats:
        """How far to go from the newest point to the one across, as a share of their distance [-]."""
        new, across, old = self.at_new, self.at_across, self.at_old
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            place = (self.new - self.across) / (self.old - self.across)
            height = (new - across) / (old - across)
            fits = (height**2 < place) & ((1.0 - height) ** 2 < 1.0 - place)
            curved = new / (across - new) * old / (across - old)
            curved += (self.old - self.new) / (self.across - self.new) * new / (old - new) * across / (old - across)
        return np.where(fits & np.isfinite(curved), curved, 0.5)


def crossing(curve: Callable[[Floats], Floats], above: Floats, below: Floats, near: Floats) -> Floats:
    """Find where a curve crosses nought.

    Args:
        curve: Heights [-] at points [mm, or any unit]; one for each point, of the same shape.
        above: Points where the curve is above nought [mm].
        below: Points where it is below nought or on it [mm]; same shape.
        near: How near is near enough [mm]; same shape.

    Returns:
        The crossing [mm]; a point of the bracket where its ends do not lie on two sides.

    Source: Chandrupatla 1997 (from memory). Checked in: tests/unit/gauge/test_crossing.py
    """
    at_above, at_below = curve(above), curve(below)
    points = _Points(below, above, above, at_below, at_above, at_above)
    one_sided = np.sign(at_above) == np.sign(at_below)
    share = np.full(above.shape, 0.5)
    for _ in range(_MOST_STEPS):
        point = points.new + share * (points.across - points.new)
        points.take(point, curve(point))
        place, height = points.best()
        width = np.abs(points.across - points.new)
        step = 0.5 * near + 2.0 * np.finfo(np.float64).eps * np.abs(place)
        if bool((one_sided | (height == 0.0) | (width <= 2.0 * step)).all()):
            break
        least = np.minimum(np.divide(step, width, out=np.full_like(width, 0.5), where=width > 0.0), 0.5)
        share = np.clip(points.share(), least, 1.0 - least)
    return points.best()[0]
