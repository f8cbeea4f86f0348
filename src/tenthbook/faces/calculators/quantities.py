"""Quantities of any kind in a calculator: read, held against each other, answered in one unit.

A plain number is a quantity without a unit. Figures that are compared or added must measure the same thing; which one
does not is named. An answer comes in the unit of the first figure, or in that of the family asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from tenthbook.faces.calculators.answers import Answer, exact_answer, float_answer, plain_answer
from tenthbook.numbers.because import Fault, TenthbookError, as_typed
from tenthbook.numbers.quantity import Quantity, Unit, exact_decimal, find_unit, plain, quantity
from tenthbook.numbers.quantity.fields import ABOVE_ZERO, ZERO_OR_MORE, too_small, wrong
from tenthbook.numbers.quantity.units import Dimension

PLAIN = Unit("1", (0, 0, 0, 0, 0), Fraction(1))
_FAMILIES = {
    "inch": ("in", "lbf.in", "psi", "lbf", "lb", "in3", "degF", "qt/h", "hp"),
    "metric": ("mm", "N.m", "kPa", "N", "g", "cm3", "degC", "L/h", "kW"),
}
_MOST_BITS = 132  # forty decimal digits
_SMALL = frozenset({"um", "nm", "thou"})
_INCH_NAMES = frozenset({"in", "lbf", "lb", "psi", "ksi", "inHg", "kip", "oz", "qt", "gal", "hp", "degF", "ureyn"})


@dataclass(frozen=True, slots=True)
class AnyKind:
    """What a field takes: a quantity of any kind, or a plain number.

    Attributes:
        least: "above zero" or "zero or more" where only such numbers make sense.
    """

    least: str = ""

    @property
    def expected(self) -> str:
        """What to say when something else stands there."""
        return f"a quantity {self.least + ' ' if self.least else ''}such as '0.0012 in', or a plain number"

    def read(self, value: Any) -> Quantity:
        """Read the field.

        Args:
            value: What stands in it.

        Returns:
            The quantity, every digit kept [its own unit, or none].

        Raises:
            PydanticCustomError: found and expected, for the form's list of faults.
        """
        if isinstance(value, int | float) and not isinstance(value, bool):
            found = self._plain(value)
        elif isinstance(value, str):
            try:
                found = self.typed(value)
            except TenthbookError as error:
                raise wrong(error.found, f"{self.expected}; {error.expected}") from error
        else:
            raise wrong(as_typed(value), self.expected)
        if too_small(found, self.least):
            raise wrong(repr(value), self.expected)
        return found

    def typed(self, text: str) -> Quantity:
        """Read "NUMBER UNIT".

        Args:
            text: What was typed.

        Returns:
            The quantity, every digit kept [its own unit].

        Raises:
            TenthbookError: no number and unit, or a unit that is not known.
        """
        return quantity(text)

    def _plain(self, value: float) -> Quantity:
        if isinstance(value, int) and value.bit_length() > _MOST_BITS:
            raise wrong("a whole number of more than 40 digits", self.expected)
        try:
            return Quantity(plain(repr(value)), PLAIN)
        except TenthbookError as error:
            raise wrong(error.found, f"{self.expected}; {error.expected}") from error

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [{"type": "string"}, {"type": "number"}], "description": self.expected}


AnyQuantity = Annotated[Quantity, AnyKind()]
AnyAboveZero = Annotated[Quantity, AnyKind(ABOVE_ZERO)]
AnyUncertainty = Annotated[Quantity, AnyKind(ZERO_OR_MORE)]


def unlike(first: Quantity, others: Iterable[tuple[str, Quantity | None]]) -> list[Fault]:
    """Name the figures that measure something else than the first.

    Args:
        first: The first figure [any unit].
        others: Path and figure of the others; None where a field is empty.

    Returns:
        A fault for each that cannot be compared with the first.
    """
    wrong = [(path, one) for path, one in others if one is not None and one.unit.dimension != first.unit.dimension]
    return [Fault(path, f"{one} (a {one.unit.kind})", f"a {first.unit.kind}, like {first}") for path, one in wrong]


def is_inch(unit: Unit) -> bool:
    """Say whether a unit belongs to the inch family.

    Args:
        unit: Any unit of the bench.

    Returns:
        True for inches, pounds and what is made of them.
    """
    words = unit.name.replace("/", " ").replace(".", " ").split()
    return any(word.rstrip("23") in _INCH_NAMES or word in ("ft", "thou") for word in words)


def answer_unit(units: str | None, first: Quantity) -> Unit:
    """Choose the unit of an answer.

    Args:
        units: "inch", "metric", or None for the family of the first figure.
        first: The first figure [any unit].

    Returns:
        The family's unit of the same kind; a small length keeps its own unless a family is asked for, and a kind that
        the families do not name keeps the unit it was typed in. A quotient of two of a kind ("um/um") is a plain
        number.
    """
    return _answer_unit(units, first.unit)


@lru_cache(maxsize=512)
def _answer_unit(units: str | None, first: Unit) -> Unit:
    if not any(first.dimension):
        return PLAIN
    if units is None and first.name in _SMALL:
        return first
    family = units or ("inch" if is_inch(first) else "metric")
    return _of_family(family, first.dimension) or first


def _of_family(family: str, dimension: Dimension) -> Unit | None:
    return next((one for one in map(find_unit, _FAMILIES[family]) if one.dimension == dimension), None)


def family_unit(dimension: Dimension, like: Unit) -> Unit | None:
    """Find the unit that a family names for a kind.

    Args:
        dimension: What is measured.
        like: A unit of the family wanted [any unit].

    Returns:
        The family's unit of that kind; None where it names none.
    """
    return _of_family("inch" if is_inch(like) else "metric", dimension)


def decimals_in(unit: Unit, figures: Iterable[Quantity]) -> int:
    """Count the decimals that the finest figure has in a unit.

    Args:
        unit: The unit of the answer.
        figures: Figures of the input [any unit of the same kind].

    Returns:
        The most decimals. A figure typed in that unit has those typed; one typed in another has the decimals whose
        step comes nearest to its own step, in ratio (0.001 mm is 0.00004 in, and counts as four decimals of an inch).
    """
    return max((_decimals(one.unit, unit, one.decimals) for one in figures), default=0)


@lru_cache(maxsize=1024)
def _decimals(typed: Unit, unit: Unit, decimals: int) -> int:
    if typed == unit:
        return decimals
    step = math.log10(typed.factor / unit.factor) - decimals
    return max(0, round(-step))


def exact_number(value: Fraction) -> Any:
    """Give an exact number where its digits end.

    Args:
        value: The number [-].

    Returns:
        The exact decimal number, else the nearest float.
    """
    exact = exact_decimal(value)
    return float(value) if exact is None else exact


def exact_or_plain(value: Fraction, unit: Unit, decimals: int) -> Answer | Any:
    """Answer with an exact value, as a plain number where it has no unit.

    Args:
        value: The value in the coherent SI unit, exact; a difference.
        unit: The unit to answer in.
        decimals: Decimals of the figures it came from.

    Returns:
        The answer.
    """
    return exact_number(value) if unit == PLAIN else exact_answer(value, unit, decimals)


def float_or_plain(value: float, unit: Unit, figures: int = 2) -> Answer | float | None:
    """Answer with a computed value, as a plain number where it has no unit.

    Args:
        value: The value in `unit`; NaN where there is none.
        unit: The unit to answer in.
        figures: Significant figures of the text.

    Returns:
        The answer; None where there is none.
    """
    return plain_answer(value) if unit == PLAIN else float_answer(value, unit, figures)
