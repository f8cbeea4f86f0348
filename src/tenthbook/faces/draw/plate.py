"""Where the reading's digits find room: in the gap if they can, beside it if they must, clear of the posts if possible.

It decides places along the drawing only; `reading` draws them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_STUB = 16.0
_TAIL = 26.0
_CLEAR = 7.0


@dataclass(frozen=True, slots=True)
class Plate:
    """Where the digits stand along the drawing.

    Attributes:
        centre: Middle of the digits [px].
        inside: Whether they stand between the two edges, with the line's arrows pointing outward to them.
    """

    centre: float
    inside: bool


def place_plate(
    length: float, gap: tuple[float, float], ends: tuple[float, float], posts: Sequence[float], *, hides: bool = False
) -> Plate:
    """Find room for the reading's digits.

    Args:
        length: How long the digits are along the drawing [px].
        gap: Both edges, in any order; the same twice for a single size [px].
        ends: Both ends of the strip, in any order [px].
        posts: Where limits stand [px].
        hides: Whether digits over a post hide it, so that a place outside the gap but clear of posts is better.

    Returns:
        The place. Posts are covered only where no better stretch is long enough.
    """
    low, high = min(gap), max(gap)
    walls = [(post - _CLEAR, post + _CLEAR) for post in posts]
    clear = _longest(_free(low + _STUB, high - _STUB, walls))
    if clear[1] - clear[0] >= length:
        return Plate(sum(clear) / 2, True)
    across = [Plate((low + high) / 2, True)] if high - low - 2 * _STUB >= length else []
    free = _free(min(ends) + _CLEAR, max(ends) - _CLEAR, [*walls, (low - _TAIL, high + _TAIL)])
    outer = [_nearest(stretch, length, low) for stretch in free if stretch[1] - stretch[0] >= length]
    aside = [Plate(min(outer, key=lambda centre: max(low - centre, centre - high)), False)] if outer else []
    best = aside + across if hides else across + aside
    return best[0] if best else Plate(_nearest((min(ends), max(ends)), length, sum(_longest(free)) / 2), False)


def _longest(stretches: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The longest stretch."""
    return max(stretches, key=lambda stretch: stretch[1] - stretch[0])


def _free(begin: float, end: float, walls: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Stretches from begin to end that no wall touches."""
    stretches = []
    for left, right in sorted(walls):
        if left > begin:
            stretches.append((begin, min(left, end)))
        begin = max(begin, right)
    stretches.append((begin, end))
    return [(left, right) for left, right in stretches if right > left] or [(begin, begin)]


def _nearest(stretch: tuple[float, float], length: float, edge: float) -> float:
    """The centre that lies nearest to the edge, with all of the length inside the stretch."""
    return min(max(edge, stretch[0] + length / 2), stretch[1] - length / 2)
