"""Quantities as fields of a form: what kind each must be, its schema, and its fault in the words of this book.

A field's type is `Annotated[Quantity, Kind(...)]`. A number without a unit is refused, and so is a unit that measures
something else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from tenthbook.numbers.because import TenthbookError, as_typed
from tenthbook.numbers.quantity.typed import Quantity, quantity
from tenthbook.numbers.quantity.units import find_unit

ABOVE_ZERO = "above zero"
ZERO_OR_MORE = "zero or more"


def wrong(found: str, expected: str) -> PydanticCustomError:
    """Make the fault of one field.

    Args:
        found: What stands there.
        expected: What belongs there.

    Returns:
        An error that a form collects with its path.
    """
    return PydanticCustomError("quantity", "{expected}", {"found": found, "expected": expected})


def too_small(number: Quantity, least: str) -> bool:
    """Say whether a number lies below what makes sense.

    Args:
        number: The quantity [any unit].
        least: "above zero", "zero or more", or nothing.

    Returns:
        True where it does.
    """
    return (least == ABOVE_ZERO and number.number <= 0) or (least == ZERO_OR_MORE and number.number < 0)


@dataclass(frozen=True, slots=True)
class Kind:
    """What a field takes: a quantity that measures the same as `like`.

    Attributes:
        like: A unit of the kind wanted [any unit of the bench].
        example: What a person might type, with its unit.
        least: "above zero" or "zero or more" where only such numbers make sense.
    """

    like: str
    example: str
    least: str = ""

    @property
    def expected(self) -> str:
        """What to say when something else stands there."""
        kind = find_unit(self.like).kind
        article = "an" if kind[0] in "aeiou" else "a"
        return f"{article} {kind}{' ' + self.least if self.least else ''} such as {self.example!r}"

    def read(self, value: Any) -> Quantity:
        """Read the field.

        Args:
            value: What stands in it.

        Returns:
            The quantity, every digit kept [its own unit].

        Raises:
            PydanticCustomError: found and expected, for the form's list of faults.
        """
        if not isinstance(value, str):
            raise wrong(as_typed(value), self.expected)
        try:
            found = quantity(value)
        except TenthbookError as error:
            raise wrong(error.found, f"{self.expected}; {error.expected}") from error
        if found.unit.dimension != find_unit(self.like).dimension:
            raise wrong(f"{value!r} (a {found.unit.kind})", self.expected)
        if too_small(found, self.least) or (found.unit.kind == "temperature" and found.exact < 0):
            raise wrong(repr(value), self.expected)
        return found

    def __get_pydantic_core_schema__(self, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "description": self.expected, "examples": [self.example]}


Length = Annotated[Quantity, Kind("in", "1.2497 in")]
LengthAboveZero = Annotated[Quantity, Kind("in", "1.2497 in", ABOVE_ZERO)]
LengthZeroOrMore = Annotated[Quantity, Kind("in", "0.0001 in", ZERO_OR_MORE)]
Temperature = Annotated[Quantity, Kind("degC", "22 degC")]
Expansion = Annotated[Quantity, Kind("1/degC", "11.5e-6 1/degC", ZERO_OR_MORE)]
