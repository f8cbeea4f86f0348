"""How loose a fit is, cold and hot: the calculator `thermal-fit`.

Sizes are those at 20 degC; both parts have one
temperature.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, exact_answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part
from tenthbook.faces.calculators.quantities import answer_unit, decimals_in
from tenthbook.faces.calculators.working import conversions, digits_of, figure_in, minus, typed
from tenthbook.numbers.quantity import Quantity, Unit, find_unit
from tenthbook.numbers.quantity.fields import Expansion, LengthAboveZero, Temperature
from tenthbook.trade.fit.thermal import clearance_at, size_at
from tenthbook.trade.gauge.corrections import REFERENCE_DEGC


class Growing(Part):
    """A part and how it grows."""

    size: LengthAboveZero
    expansion: Expansion


class ThermalInput(Input):
    """Two parts at 20 degC and the temperatures asked about."""

    hole: Growing = Field(description="the outer part: an object with size and expansion")
    shaft: Growing = Field(description="the inner part: an object with size and expansion")
    at: list[Temperature] = Field(min_length=1, description="temperatures such as ['20 degC', '100 degC']")


class ThermalAnswer(TypedDict):
    """The answer of `thermal-fit`: a clearance for each temperature."""

    clearance: list[Answer]


def _answer(item: ThermalInput) -> Document:
    unit = answer_unit(item.units, item.hole.size)
    degc = find_unit("degC")
    decimals = decimals_in(unit, [item.hole.size, item.shaft.size])
    found = [
        clearance_at(
            item.hole.size.exact,
            item.hole.expansion.difference,
            item.shaft.size.exact,
            item.shaft.expansion.difference,
            temperature.into(degc),
        ).item()
        for temperature in item.at
    ]
    return {"clearance": [exact_answer(Fraction(one), unit, decimals) for one in found]}


def compute(items: Sequence[ThermalInput]) -> list[Document]:
    """Compute the clearances of each item.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


def _grown(part: Growing, at: Quantity, unit: Unit, decimals: int) -> tuple[str, str]:
    """Write how a part grows to a temperature, and its size there."""
    degc = find_unit("degC")
    size = size_at(part.size.into(unit), part.expansion.difference, at.into(degc)).item()
    warmer = digits_of(at.into(degc) - REFERENCE_DEGC, 0)
    change = f"({warmer})" if warmer.startswith("-") else warmer
    grown = digits_of(Fraction(size), decimals)
    rate = figure_in(part.expansion, find_unit("1/degC"))
    return f"{figure_in(part.size, unit)} x (1 + {rate} x {change}) = {grown}", grown


def _working(item: ThermalInput, answer: Document) -> list[str]:
    unit = answer_unit(item.units, item.hole.size)
    decimals = decimals_in(unit, [item.hole.size, item.shaft.size])
    lines = conversions((item.hole.size, item.shaft.size), unit)
    lines += conversions((item.hole.expansion, item.shaft.expansion), find_unit("1/degC"))
    lines += conversions(item.at, find_unit("degC"))
    for at, clearance in zip(item.at, answer["clearance"], strict=True):
        (hole_sum, hole), (shaft_sum, shaft) = (_grown(part, at, unit, decimals) for part in (item.hole, item.shaft))
        lines.append(f"hole at {typed(at)}: {hole_sum} {unit.name}")
        lines.append(f"shaft at {typed(at)}: {shaft_sum} {unit.name}")
        lines.append(f"clearance at {typed(at)}: {minus(hole, shaft)} = {clearance['text']}")
    return [*lines, "because: ISO 1:2016, sizes hold at 20 degC (read); each part has one temperature"]


CALCULATOR = Calculator(
    name="thermal-fit",
    input=ThermalInput,
    output=ThermalAnswer,
    compute=compute,
    working=_working,
    example=Example(
        id="M P6.1",
        source="derived: ISO 1 for 20 degC, expansion of steel and cast aluminium as printed in a textbook (read)",
        input={
            "hole": {"size": "40.025 mm", "expansion": "21.5e-6 1/degC"},
            "shaft": {"size": "39.991 mm", "expansion": "11.5e-6 1/degC"},
            "at": ["20 degC", "100 degC"],
        },
        published={"clearance": ["0.03400 mm", "0.06605 mm"]},
    ),
)
