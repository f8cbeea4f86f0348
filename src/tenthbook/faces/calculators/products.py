"""Units multiplied: what a sensitivity is typed in, and in what unit its product with an input comes out.

A sensitivity is a quotient of two units ("575 nm/degC"), and for an input that is itself a quotient it is a product
("5e6 nm.degC") or a quotient of a quotient ("5e6 nm/(1/degC)"). A temperature inside either counts as a difference.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from tenthbook.faces.calculators.quantities import PLAIN, AnyKind, family_unit
from tenthbook.numbers.quantity import Quantity, Unit, UnknownUnit, find_unit, plain, quantity
from tenthbook.numbers.quantity.units import Dimension

_MOST_SIGNS = 5
_Parts = tuple[tuple[str, ...], tuple[str, ...]]


def _splits(name: str) -> Iterator[tuple[str, str, str]]:
    """Every way to part a name at a stroke, then at a point, outside brackets; the last sign first."""
    for sign in "/.":
        for place in range(len(name) - 1, 0, -1):
            left, right = name[:place], name[place + 1 :]
            if name[place] == sign and left.count("(") == left.count(")"):
                yield left, sign, right


@lru_cache(maxsize=512)
def _parts(name: str) -> _Parts | None:
    """Names of the single units above and below the line; None where one of them is not known."""
    if name.startswith("(") and name.endswith(")") and "(" not in name[1:]:
        return _parts(name[1:-1])
    if "/" not in name and "(" not in name:
        try:
            return (find_unit(name).name,), ()
        except UnknownUnit:
            pass
    for left, sign, right in _splits(name):
        first = ((), ()) if (left, sign) == ("1", "/") else _parts(left)
        second = _parts(right) if first is not None else None
        if first is not None and second is not None:
            above, below = second if sign == "." else second[::-1]
            return (*first[0], *above), (*first[1], *below)
    return None


def _sum(left: Dimension, right: Dimension, sign: int = 1) -> Dimension:
    powers = [one + sign * other for one, other in zip(left, right, strict=True)]
    return powers[0], powers[1], powers[2], powers[3], powers[4]


@lru_cache(maxsize=512)
def find_product(name: str) -> Unit:
    """Look up a unit, a product of units, or a quotient of either.

    Args:
        name: For instance "nm", "nm/degC", "nm.degC" or "nm/(1/degC)".

    Returns:
        The unit [any dimension], under the name typed.

    Raises:
        UnknownUnit: a part of it is no unit of the bench; the nearest names are offered.
    """
    try:
        return find_unit(name)
    except UnknownUnit:
        parts = _parts(name) if name.count("/") + name.count(".") <= _MOST_SIGNS else None
        if parts is None:
            raise
    dimension, factor = PLAIN.dimension, PLAIN.factor
    for power, names in ((1, parts[0]), (-1, parts[1])):
        for one in map(find_unit, names):
            dimension, factor = _sum(dimension, one.dimension, power), factor * one.factor**power
    return Unit(name, dimension, factor)


def _cancelled(left: Unit, right: Unit) -> _Parts:
    """Names above and below the line of a product, less what measures the same on both sides."""
    (above_left, below_left), (above_right, below_right) = (
        _parts(one.name) or ((one.name,), ()) for one in (left, right)
    )
    above, below = [*above_right, *above_left], []
    for name in (*below_right, *below_left):
        alike = [one for one in above if find_unit(one).dimension == find_unit(name).dimension]
        if alike:
            above.remove(alike[-1] if name in below_right else alike[0])
        else:
            below.append(name)
    return tuple(above), tuple(below)


@lru_cache(maxsize=512)
def times(left: Unit, right: Unit) -> Unit | None:
    """Say in which unit a product comes out.

    Args:
        left: Unit of an input [any unit].
        right: Unit of its sensitivity [any unit].

    Returns:
        The unit: the sensitivity's own where the input's cancels, a plain number where nothing is left; None where
        the product has no name here.
    """
    dimension = _sum(left.dimension, right.dimension)
    if not any(dimension):
        return PLAIN
    if not any(right.dimension):
        return left
    if any(left.dimension):
        above, below = _cancelled(left, right)
        if len(above) > 1 or len(below) > 1:
            return family_unit(dimension, left)
        return find_unit("/".join([*(above or ("1",)), *below]))
    return right if _is_named(right) else None


def _is_named(unit: Unit) -> bool:
    try:
        return find_unit(unit.name) == unit
    except UnknownUnit:
        return False


@dataclass(frozen=True, slots=True)
class SensitivityKind(AnyKind):
    """What a sensitivity takes: what `AnyKind` takes, and products and quotients of its units."""

    def typed(self, text: str) -> Quantity:
        """Read "NUMBER UNIT".

        Args:
            text: For instance "575 nm/degC" or "5e6 nm.degC".

        Returns:
            The quantity, every digit kept [its own unit].

        Raises:
            TenthbookError: no number and unit, or a unit that is not known.
        """
        number, _, name = text.strip().partition(" ")
        try:
            return quantity(text)
        except UnknownUnit:
            return Quantity(plain(number), find_product(name.strip()))


Sensitivity = Annotated[Quantity, SensitivityKind()]
