"""What new parts will make of a fit, before they are ordered: the calculator `fit-forecast`.

Each part is either measured, and counts at its face with its doubt in the odds, or a band that a new part may lie in.
The extremes are exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, exact_answer, plain_answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part
from tenthbook.faces.calculators.limit_pairs import LetterUnit, LimitPair, read_limits
from tenthbook.faces.calculators.quantities import answer_unit, decimals_in
from tenthbook.faces.calculators.working import conversions, figure_in, minus, number_text
from tenthbook.numbers.because import Fault
from tenthbook.numbers.limit import Band, bands
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.numbers.quantity.arrays import PICOMETRES, metres, picometres
from tenthbook.numbers.quantity.fields import LengthAboveZero, LengthZeroOrMore
from tenthbook.trade.fit.forecast import FitForecast, PartSize, forecast_fit, known_size, size_band

_BAND = "a pair [least, greatest] of a new part, such as ['1.3983 in', '1.3993 in']"


class OneSide(Part):
    """A part that is measured, or the band of a new one."""

    size: LengthAboveZero | None = None
    standard_uncertainty: LengthZeroOrMore | None = None
    band: Annotated[list[LengthAboveZero], Field(min_length=2, max_length=2, description=_BAND)] | None = None
    distribution: Literal["uniform", "normal at 6 sigma"] | None = Field(
        default=None, description='how new parts lie in their band: "uniform" (unless said) or "normal at 6 sigma"'
    )


class ForecastInput(Input):
    """Two parts, each measured or new, and the limits of their fit."""

    hole: OneSide = Field(description="the outer part: an object with size, or with band")
    shaft: OneSide = Field(description="the inner part: an object with size, or with band")
    new: LimitPair | None = None
    service: LimitPair | None = None
    unit: LetterUnit = None


class Odds(TypedDict):
    """How likely each outcome is; null where the row has no such limit."""

    new: float | None
    service: float | None
    reject: float | None


class ForecastAnswer(TypedDict):
    """The answer of `fit-forecast`."""

    clearance: list[Answer]
    odds: Odds


def _check_side(side: OneSide, path: str) -> list[Fault]:
    expected = "size, with standard_uncertainty or without; or band, with distribution or without"
    if (side.size is None) == (side.band is None):
        return [Fault(path, "neither size nor band" if side.size is None else "both size and band", expected)]
    if side.size is None and side.standard_uncertainty is not None:
        return [Fault(f"{path}.standard_uncertainty", "an uncertainty of a band", expected)]
    if side.band is None and side.distribution is not None:
        return [Fault(f"{path}.distribution", "a distribution of a measured size", expected)]
    if side.band is not None and side.band[0].exact > side.band[1].exact:
        return [Fault(f"{path}.band", f"{side.band[0]} to {side.band[1]}", "the least first, then the greatest")]
    return []


def _check(item: ForecastInput) -> list[Fault]:
    faults = _check_side(item.hole, "hole") + _check_side(item.shaft, "shaft")
    limits: list[Fault] = []
    read_limits(item, limits)
    return faults + limits


def _figures(side: OneSide) -> list[Quantity]:
    return [side.size] if side.size is not None else list(side.band or ())


def _parts(sides: Sequence[OneSide]) -> PartSize:
    """Put the sides of many items into one array, measured and new ones mixed [pm]."""
    least, greatest = (picometres([_figures(side)[end] for side in sides]) for end in (0, -1))
    doubts = [side.standard_uncertainty for side in sides]
    known = known_size(least, [float(u.exact * PICOMETRES) if u is not None else 0.0 for u in doubts])
    is_new = np.array([side.size is None for side in sides])
    is_even = is_new & np.array([side.distribution != "normal at 6 sigma" for side in sides])
    sigma = np.where(is_new, size_band(least, greatest, "normal at 6 sigma").sigma, known.sigma)
    return PartSize(least, greatest, np.where(is_even, 0.0, sigma), is_even)


def _extreme(value: Any) -> Fraction:
    return metres(value.item() if isinstance(value, np.ndarray) else value)


def _answer(item: ForecastInput, forecast: FitForecast, place: int) -> Document:
    figures = [*_figures(item.hole), *_figures(item.shaft)]
    unit = answer_unit(item.units, figures[0])
    ends = (_extreme(forecast.clearance.least[place]), _extreme(forecast.clearance.greatest[place]))
    odds = forecast.odds
    return {
        "clearance": [exact_answer(end, unit, decimals_in(unit, figures)) for end in ends],
        "odds": {
            "new": plain_answer(float(odds.new[place])),
            "service": plain_answer(float(odds.service[place])),
            "reject": plain_answer(float(odds.reject[place])),
        },
    }


def compute(items: Sequence[ForecastInput]) -> list[Document]:
    """Forecast many fits at once.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    holes, shafts = _parts([item.hole for item in items]), _parts([item.shaft for item in items])
    printed = [read_limits(item, []) for item in items]
    new, service = bands([limits.new for limits in printed]), bands([limits.service for limits in printed])
    forecast = forecast_fit(holes, shafts, new, service)
    return [_answer(item, forecast, place) for place, item in enumerate(items)]


def _side_line(side: OneSide, name: str, unit: Unit) -> str:
    if side.size is None:
        least, greatest = (figure_in(one, unit) for one in side.band or ())
        return f"{name}: new, {least} to {greatest} {unit.name}, {side.distribution or 'uniform'} between them"
    doubt = side.standard_uncertainty
    sure = "taken as it reads" if doubt is None else f"with a standard uncertainty of {figure_in(doubt, unit)}"
    return f"{name}: measured, {figure_in(side.size, unit)} {unit.name}, {sure}"


def _band_line(name: str, band: Band, item: ForecastInput) -> str:
    """Say where the extremes lie against a band, exactly."""
    hole, shaft = _figures(item.hole), _figures(item.shaft)
    least, greatest = hole[0].exact - shaft[-1].exact, hole[-1].exact - shaft[0].exact
    below = band.lower is not None and least < band.lower.exact
    above = band.upper is not None and greatest > band.upper.exact
    where = {
        (False, False): "both extremes lie within",
        (True, False): "the least lies below",
        (False, True): "the greatest lies above",
        (True, True): "the least lies below, the greatest above",
    }[below, above]
    return f"{name} limits {band}: {where}"


def _working(item: ForecastInput, answer: Document) -> list[str]:
    hole, shaft = _figures(item.hole), _figures(item.shaft)
    unit, limits, ends = answer_unit(item.units, hole[0]), read_limits(item, []), answer["clearance"]
    doubts = [side.standard_uncertainty for side in (item.hole, item.shaft)]
    odds = {name: chance for name, chance in answer["odds"].items() if chance is not None}
    bands_given = [
        (name, band) for name, band in (("new", limits.new), ("service", limits.service_resolved)) if band.given
    ]
    return [
        *conversions((*hole, *shaft, *doubts), unit),
        _side_line(item.hole, "hole", unit),
        _side_line(item.shaft, "shaft", unit),
        f"least clearance = {minus(figure_in(hole[0], unit), figure_in(shaft[-1], unit))} = {ends[0]['text']}",
        f"greatest clearance = {minus(figure_in(hole[-1], unit), figure_in(shaft[0], unit))} = {ends[1]['text']}",
        *(_band_line(name, band, item) for name, band in bands_given),
        *(f"odds of {name}: {number_text(chance)}" for name, chance in odds.items()),
        "because: the extremes are differences of the extremes, exact; the odds are those of two independent parts",
    ]


CALCULATOR = Calculator(
    name="fit-forecast",
    input=ForecastInput,
    output=ForecastAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="L T2",
        source="US Army TM 5-4310-354-14, table 5-2, gear in body bore (read): new 0.0020 to 0.0040 in",
        input={
            "hole": {"band": ["1.5005 in", "1.5015 in"], "distribution": "uniform"},
            "shaft": {"band": ["1.4975 in", "1.4985 in"], "distribution": "uniform"},
            "new": ["0.0020 in", "0.0040 in"],
            "service": [None, "0.0070 in"],
        },
        published={"clearance": ["0.0020 in", "0.0040 in"]},
    ),
)
