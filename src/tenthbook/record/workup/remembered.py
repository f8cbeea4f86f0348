"""Verdicts that are kept while what they were drawn from stays the same: one reading changes one neighbourhood.

A verdict is kept beside everything it was drawn from. It is taken again only where all of that is equal, so that a
work-up with a memory is the same as one without.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

Inputs = tuple[object, ...]
Place = tuple[str, ...]
_Drawn = TypeVar("_Drawn")


class Remembered:
    """What was drawn, by its place, beside what it was drawn from."""

    def __init__(self, before: Remembered | None = None) -> None:
        """Begin.

        Args:
            before: An earlier memory to take from; it is not changed.
        """
        self._before: dict[Place, tuple[Inputs, Inputs, Any]] = {} if before is None else before._held
        self._held: dict[Place, tuple[Inputs, Inputs, Any]] = {}

    def draw(self, place: Place, sign: Inputs, inputs: Callable[[], Inputs], anew: Callable[[], _Drawn]) -> _Drawn:
        """Take what was drawn before from the same, or draw it anew.

        Args:
            place: Where it belongs.
            sign: What is the same only where all that it is drawn from is the same; cheap to give.
            inputs: Gives all that it is drawn from; asked where the sign differs.
            anew: Draws it.

        Returns:
            What is drawn.
        """
        known = self._before.get(place)
        if known is not None and known[0] == sign:
            self._held[place] = known
            return cast(_Drawn, known[2])
        wanted = inputs()
        drawn = cast(_Drawn, known[2]) if known is not None and known[1] == wanted else anew()
        self._held[place] = (sign, wanted, drawn)
        return drawn

    def close(self) -> Remembered:
        """Forget what was taken from.

        Returns:
            The memory itself, to be kept.
        """
        self._before = {}
        return self
