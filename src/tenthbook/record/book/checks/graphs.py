"""What must come before what, and where that runs in a circle.

Goes in: names, and what each of them waits for. Comes out: every circle once, as the names on it, and what lies before
each name. One walk, without recursion; a circle does not stop it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

Name = TypeVar("Name", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Walk(Generic[Name]):
    """What one walk found.

    Attributes:
        order: The names, each behind those it waits for; on a circle behind all but the one that closes it.
        circles: The circles; each name waits for the next one, the last for the first.
    """

    order: tuple[Name, ...]
    circles: tuple[tuple[Name, ...], ...]


def walk(waits_for: Mapping[Name, Iterable[Name]]) -> Walk[Name]:
    """Walk from each name to those it waits for.

    Args:
        waits_for: What each name waits for; names that have no entry, and a name's own, are passed over.

    Returns:
        An order and the circles. There is none exactly where nothing waits for itself by way of others; without the
        step that closes each of those found, there is none left.

    Source: depth-first search, common practice, no source.
    """
    order: list[Name] = []
    circles: list[tuple[Name, ...]] = []
    done: set[Name] = set()
    for first in waits_for:
        if first in done:
            continue
        path, place, todo = [first], {first: 0}, [iter(waits_for[first])]
        while path:
            for name in todo[-1]:
                if name in place:
                    if name != path[-1]:
                        circles.append(tuple(path[place[name] :]))
                elif name in waits_for and name not in done:
                    place[name] = len(path)
                    path.append(name)
                    todo.append(iter(waits_for[name]))
                    break
            else:
                todo.pop()
                left = path.pop()
                del place[left]
                done.add(left)
                order.append(left)
    return Walk(tuple(order), tuple(circles))


class Before(Generic[Name]):
    """Asks whether one name comes before another."""

    def __init__(
        self, waits_for: Mapping[Name, Iterable[Name]], order: Iterable[Name], ranks: Mapping[Name, int]
    ) -> None:
        """Work out what lies before each name, in one pass.

        Args:
            waits_for: What each name waits for.
            order: The names as `walk` orders them.
            ranks: Names of a lower rank come before all of a higher one; names without a rank are ordered by nothing
                else than what waits for them.
        """
        self._bit = {name: 1 << place for place, name in enumerate(waits_for)}
        of_rank: dict[int, int] = {}
        for name, rank in ranks.items():
            of_rank[rank] = of_rank.get(rank, 0) | self._bit[name]
        below: dict[int, int] = {}
        so_far = 0
        for rank in sorted(of_rank):
            below[rank] = so_far
            so_far |= of_rank[rank]
        self._before: dict[Name, int] = {}
        for name in order:
            before = below[ranks[name]] if name in ranks else 0
            for other in waits_for[name]:
                before |= self._bit.get(other, 0) | self._before.get(other, 0)
            self._before[name] = before

    def is_before(self, first: Name, second: Name) -> bool:
        """Ask whether one name comes before another.

        Args:
            first: A name of the walk.
            second: A name of the walk.

        Returns:
            Whether `second` waits for `first`, by itself or by way of others, or is of a higher rank.
        """
        return bool(self._before[second] & self._bit[first])
