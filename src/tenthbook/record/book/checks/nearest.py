"""Which id was perhaps meant: one a single slip away, or one that differs only in its first word.

A slip is a sign left out, put in, changed, or changed over with its neighbour. Ids further off are not named, nor ids
that differ in their figures alone: a wrong suggestion costs more than none.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

_LEAST = 4  # signs two ids must share
_FIGURES = re.compile(r"[0-9]+")


def _shortened(text: str) -> Iterator[str]:
    yield text
    for place in range(len(text)):
        yield text[:place] + text[place + 1 :]


def _tail(text: str) -> str:
    return text.partition(".")[2] or text


def _only_figures_differ(one: str, other: str) -> bool:
    return _FIGURES.sub("", one) == _FIGURES.sub("", other)


class Nearest:
    """Ids by what one slip makes of them; worked out when it is first asked."""

    def __init__(self, ids: Collection[str]) -> None:
        """Take the ids.

        Args:
            ids: Every id that is there.
        """
        self._ids = ids
        self._by_slip: dict[str, str] = {}
        self._by_tail: dict[str, str] = {}

    def _fill(self) -> None:
        for one in self._ids:
            self._by_tail.setdefault(_tail(one), one)
            for short in _shortened(one):
                self._by_slip.setdefault(short, one)

    def to(self, name: str) -> str:
        """Give the id that was perhaps meant.

        Args:
            name: An id that is not there.

        Returns:
            The nearest id; empty where none is near.

        Source: common practice, no source.
        """
        if self._ids and not self._by_tail:
            self._fill()
        for short in _shortened(name):
            near = self._by_slip.get(short, "") if len(short) >= _LEAST else ""
            if near and not _only_figures_differ(name, near):
                return near
        return self._by_tail.get(_tail(name), "")
