"""How labels that stand in one row are kept apart, each as near to its own place as the others allow.

The order is kept, so the thin lines from the places to their labels never cross. Works along either direction of the
paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def spread(places: Sequence[float], sizes: Sequence[float], low: float, high: float, space: float) -> list[float]:
    """Move labels apart as little as possible (least squares), inside the room.

    Args:
        places: Where each label would stand, ascending [px].
        sizes: How long each label is [px].
        low: Where the room begins [px].
        high: Where it ends [px]; with `low` it holds all labels and the spaces.
        space: Least space between two labels [px].

    Returns:
        Centres of the labels, in the given order [px].

    Source: isotonic regression by pooling adjacent violators; common practice, no source.
    """
    if not places:
        return []
    offsets = [0.0]
    for before, after in pairwise(sizes):
        offsets.append(offsets[-1] + (before + after) / 2 + space)
    pools: list[tuple[float, int]] = []
    for place, offset in zip(places, offsets, strict=True):
        pools.append((place - offset, 1))
        while len(pools) > 1 and pools[-2][0] >= pools[-1][0]:
            (late, many), (early, few) = pools.pop(), pools.pop()
            pools.append(((early * few + late * many) / (few + many), few + many))
    least, most = low + sizes[0] / 2, high - sizes[-1] / 2 - offsets[-1]
    level = [min(max(centre, least), most) for centre, count in pools for _ in range(count)]
    return [base + offset for base, offset in zip(level, offsets, strict=True)]


def fits(sizes: Sequence[float], room: float, space: float) -> bool:
    """Ask whether labels stand side by side.

    Args:
        sizes: How long each label is [px].
        room: Room for all [px].
        space: Least space between two labels [px].

    Returns:
        Whether they do.
    """
    return sum(sizes) + space * max(0, len(sizes) - 1) <= room
