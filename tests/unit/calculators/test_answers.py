"""An answer as it is printed: value, unit and text."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest

from tenthbook.faces.calculators.answers import exact_answer, float_answer, plain_answer, significant
from tenthbook.faces.calculators.quantities import answer_unit
from tenthbook.numbers.quantity import find_unit, quantity

INCH, MM = find_unit("in"), find_unit("mm")


def test_an_exact_value_is_an_exact_decimal_number() -> None:
    """0.0025 in stays 0.0025."""
    answer = exact_answer(Fraction("0.0025") * INCH.factor, INCH, 4)
    assert answer == {"value": Decimal("0.0025"), "unit": "in", "text": "0.0025 in"}


def test_a_value_whose_digits_never_end_is_the_nearest_float() -> None:
    """One millimetre in inches is not a decimal number, and its text is rounded two places further."""
    answer = exact_answer(Fraction(1, 1000), INCH, 3)
    assert isinstance(answer["value"], float)
    assert answer["value"] == pytest.approx(1 / 25.4, rel=1e-15)
    assert answer["text"] == "0.03937 in"


def test_where_there_is_no_number_there_is_no_answer() -> None:
    """Not-a-number becomes null, never nought."""
    assert float_answer(math.nan, INCH) is None
    assert plain_answer(math.nan) is None
    assert plain_answer(0.0) == 0.0


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [(0.000123456, 2, "0.00012"), (1234.5, 2, "1200"), (0.0, 3, "0"), (-0.0456, 1, "-0.05"), (math.inf, 2, "inf")],
)
def test_a_float_is_shown_with_its_figures(value: float, figures: int, text: str) -> None:
    """Significant figures, never an exponent."""
    assert significant(value, figures) == text


@pytest.mark.parametrize(
    ("units", "first", "unit"),
    [
        ("inch", "1 mm", "in"),
        ("metric", "1 in", "mm"),
        (None, "1 in", "in"),
        (None, "1 ft", "in"),
        (None, "1 mm", "mm"),
        (None, "1 m", "mm"),
        (None, "1 thou", "thou"),
        (None, "1 um", "um"),
        ("inch", "1 um", "in"),
        (None, "1 lbf.in", "lbf.in"),
        ("metric", "1 psi", "kPa"),
        (None, "90 degF", "degF"),
        ("metric", "1 lbf/in", "lbf/in"),
    ],
)
def test_the_unit_follows_the_wish_or_the_first_quantity(units: str | None, first: str, unit: str) -> None:
    """Inch or metric as asked, else as the first quantity was typed; a small length keeps its own unit."""
    assert answer_unit(units, quantity(first)).name == unit
