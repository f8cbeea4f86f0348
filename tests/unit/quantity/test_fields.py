"""Quantities as fields of a form: the fault and the schema of each."""

from __future__ import annotations

from typing import Annotated, Any

import pytest
from pydantic import BaseModel, ConfigDict, ValidationError

from tenthbook.numbers.because import Fault, faults_of
from tenthbook.numbers.quantity import Quantity
from tenthbook.numbers.quantity.fields import ZERO_OR_MORE, Kind, Length, LengthAboveZero


class Sheet(BaseModel):
    """A form with quantities."""

    model_config = ConfigDict(extra="forbid", strict=True)
    at: Length | None = None
    size: LengthAboveZero | None = None
    turn: Annotated[Quantity, Kind("lbf.in", "112 lbf.in", ZERO_OR_MORE)] | None = None


def fault(**fields: Any) -> Fault:
    """The one thing wrong with a form."""
    with pytest.raises(ValidationError) as caught:
        Sheet.model_validate(fields)
    records: Any = caught.value.errors()
    (found,) = faults_of(records, Sheet.model_json_schema())
    return found


def test_a_field_keeps_its_digits() -> None:
    """What was typed is what the form holds."""
    assert str(Sheet.model_validate({"at": "-1.2490 in"}).at) == "-1.2490 in"


@pytest.mark.parametrize(
    ("fields", "found"),
    [
        ({"at": 1.2497}, "1.2497"),
        ({"at": None, "size": "0.0000 in"}, "'0.0000 in'"),
        ({"size": "-1 in"}, "'-1 in'"),
        ({"size": "1 lb"}, "'1 lb' (a mass)"),
        ({"turn": "-1 lbf.in"}, "'-1 lbf.in'"),
        ({"turn": "1 lbf"}, "'1 lbf' (a force)"),
        ({"size": "1,25 mm"}, "'1,25 mm'"),
        ({"size": "1.25 mmm"}, "unit 'mmm'"),
    ],
)
def test_a_field_says_what_it_found(fields: dict[str, object], found: str) -> None:
    """A bare number, another kind, a sign that makes no sense and a comma are shown as they stood."""
    assert fault(**fields).found == found


def test_a_field_says_what_belongs_there() -> None:
    """The expectation has a kind, a range and an example."""
    assert fault(size="1 lb").expected == "a length above zero such as '1.2497 in'"
    assert fault(turn="x y").expected.startswith("a torque zero or more such as '112 lbf.in'; ")


def test_nought_is_allowed_where_the_field_says_so() -> None:
    """A torque of nought is a torque."""
    assert str(Sheet.model_validate({"turn": "0 lbf.in"}).turn) == "0 lbf.in"


def test_the_schema_of_a_quantity_is_text_with_an_example() -> None:
    """A machine that fills the form is told that it is text, and how it looks."""
    shapes = Sheet.model_json_schema()["properties"]["size"]["anyOf"]
    assert {
        "type": "string",
        "description": "a length above zero such as '1.2497 in'",
        "examples": ["1.2497 in"],
    } in shapes
