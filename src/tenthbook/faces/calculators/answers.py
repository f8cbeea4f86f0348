"""An answer as it is printed: value, unit and text, with no digit lost that the arithmetic has.

Where the arithmetic is exact the value is printed as the exact decimal number; else as the shortest that gives the
same float back.
"""

from __future__ import annotations

import json
import math
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from json.encoder import encode_basestring_ascii
from typing import Any

from typing_extensions import TypedDict

from tenthbook.numbers.quantity import Unit, exact_decimal, shown


class Answer(TypedDict):
    """A quantity in an answer."""

    value: float
    unit: str
    text: str


def exact_answer(value: Fraction, unit: Unit, decimals: int) -> Answer:
    """Answer with an exact value.

    Args:
        value: The value in the coherent SI unit, exact.
        unit: The unit to answer in.
        decimals: Decimals of the figures it came from, in that unit.

    Returns:
        Value (an exact decimal number where its digits end), unit, and text with at least so many decimals.
    """
    in_unit = value / unit.factor
    exact = exact_decimal(in_unit)
    number: Any = exact if exact is not None else float(in_unit)
    text = shown(in_unit if exact is None else exact, decimals)
    return {"value": number, "unit": unit.name, "text": f"{text} {unit.name}"}


def significant(value: float, figures: int) -> str:
    """Print a float with so many significant figures, in plain digits.

    Args:
        value: The number [-].
        figures: How many figures.

    Returns:
        Its text, no exponent.
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    return format(Decimal(f"{value:.{figures - 1}e}"), "f")


def float_answer(value: float, unit: Unit, figures: int = 2) -> Answer | None:
    """Answer with a computed value.

    Args:
        value: The value in `unit`; NaN where there is none.
        unit: Its unit.
        figures: Significant figures of the text; the value is not rounded.

    Returns:
        The answer; None where there is none.
    """
    if math.isnan(value):
        return None
    return {"value": value, "unit": unit.name, "text": f"{significant(value, figures)} {unit.name}"}


def plain_answer(value: float) -> float | None:
    """Answer with a plain number.

    Args:
        value: The number [-]; NaN where there is none.

    Returns:
        The number, or None.
    """
    return None if math.isnan(value) else float(value)


def to_json(value: Any) -> str:
    """Write an answer as JSON, decimal numbers with all their digits.

    Args:
        value: Objects, lists, text, numbers (Decimal included), true, false and None.

    Returns:
        One line of JSON.
    """
    kind = type(value)
    if kind is str:
        return encode_basestring_ascii(value)
    if kind is float and math.isfinite(value):
        return float.__repr__(value)
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, dict):
        return f"{{{', '.join([_name(str(name)) + to_json(item) for name, item in value.items()])}}}"
    if isinstance(value, list | tuple):
        return f"[{', '.join([to_json(item) for item in value])}]"
    return json.dumps(value, allow_nan=False)


@lru_cache(maxsize=1024)
def _name(name: str) -> str:
    return f"{encode_basestring_ascii(name)}: "
