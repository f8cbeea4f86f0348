"""How large a feature is, from its readings, and how sure that is: the calculator `size`.

Readings of one place, or a table with a row for each station along the part and a column for each direction across it.
The zero of the gauge comes off by its master, then the size is brought to 20 degC; all of it exact. The doubt is the
spread of the mean or the step of the gauge, whichever says more, and the gauge's error limit. A table's spread is
form, not repeatability, and enters no doubt. An error limit or a step stated as nought is taken at its word.

Readings that are all alike show no scatter: it lies below the step of the gauge and could not be seen, which a warning
says. The size at 20 degC is the reading times (1 + gauge's expansion x its warmth) / (1 + part's expansion x its
warmth), warmth counted from 20 degC; a ratio, not the difference that comes near it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Annotated, Any, NotRequired

import numpy as np
from numpy.typing import NDArray
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, exact_answer, float_answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part, Warned
from tenthbook.faces.calculators.quantities import answer_unit, decimals_in
from tenthbook.faces.calculators.size_working import write_working
from tenthbook.numbers.because import Fault
from tenthbook.numbers.quantity import Quantity, Unit, find_unit
from tenthbook.numbers.quantity.fields import Expansion, Length, LengthAboveZero, LengthZeroOrMore, Temperature
from tenthbook.trade.gauge.budget import draw_up
from tenthbook.trade.gauge.corrections import temperature_factor, zero_from_master
from tenthbook.trade.gauge.readings import form, repeats, spread_of_mean
from tenthbook.trade.gauge.shapes import standard_from_half_width, standard_from_step

# A spread that equals the step but for rounding counts as the spread: it has fewer degrees of freedom.
_ALIKE = 1 - 1e-12
_ROW = "a row of diameters, one a direction, such as ['1.4050 in', '1.4051 in']"


class Master(Part):
    """A master of known size, read before and after."""

    nominal: LengthAboveZero
    before: Length
    after: Length | None = None


class Instrument(Part):
    """What the gauge promises."""

    error_limit: LengthZeroOrMore | None = None
    resolution: LengthZeroOrMore | None = None


class Temperatures(Part):
    """How warm part and gauge are."""

    part: Temperature
    instrument: Temperature


class Expansions(Part):
    """How part and gauge grow."""

    part: Expansion
    instrument: Expansion


class SizeInput(Input):
    """Readings of a feature, or a table of stations and directions."""

    readings: list[Length] | None = Field(default=None, min_length=1, description="readings such as ['0.5094 in']")
    stations: list[Annotated[list[Length], Field(min_length=1, description=_ROW)]] | None = Field(
        default=None, min_length=1, description="rows of diameters, one a station, each with one a direction"
    )
    master: Master | None = None
    instrument: Instrument | None = None
    temperatures: Temperatures | None = None
    expansion: Expansions | None = None
    confidence: float = Field(default=0.95, gt=0, lt=1, description="two-sided confidence, above 0 and below 1")


class SizeLine(TypedDict):
    """One line of the budget."""

    name: str
    contribution: Answer
    share: float


class SizeAnswer(TypedDict):
    """The answer of `size`."""

    size: Answer
    standard_uncertainty: Answer | None
    expanded: Answer | None
    smallest: Answer
    largest: Answer
    out_of_round: list[Answer] | None
    taper: list[Answer] | None
    worst_out_of_round: Answer | None
    worst_taper: Answer | None
    budget: list[SizeLine]
    warnings: NotRequired[list[Warned]]


def _figures(item: SizeInput) -> list[Quantity]:
    return [one for row in item.stations for one in row] if item.stations else list(item.readings or ())


def _check(item: SizeInput) -> list[Fault]:
    if (item.readings is None) == (item.stations is None):
        found = "neither" if item.readings is None else "both"
        return [Fault("readings", f"{found} of readings and stations", "one of the two")]
    faults = []
    for place, row in enumerate(item.stations or (), 1):
        if len(row) != len((item.stations or [[]])[0]):
            faults.append(Fault(f"stations.{place}", f"{len(row)} directions", "as many as at the first station"))
    if (item.temperatures is None) != (item.expansion is None):
        missing = "expansion" if item.expansion is None else "temperatures"
        faults.append(Fault(missing, "nothing", "both temperatures and expansion, or neither"))
    if faults:
        return faults
    return _check_growth(item) or _check_sizes(item)


def _check_growth(item: SizeInput) -> list[Fault]:
    """A part or a gauge that would shrink to nothing has another expansion."""
    if item.temperatures is None or item.expansion is None:
        return []
    degc = find_unit("degC")
    for side in ("part", "instrument"):
        warmer = getattr(item.temperatures, side).into(degc) - 20
        if 1 + getattr(item.expansion, side).difference * warmer <= 0:
            found = f"{getattr(item.expansion, side)} at {getattr(item.temperatures, side)}"
            return [Fault(f"expansion.{side}", found, "an expansion that leaves something of the length")]
    return []


def _check_sizes(item: SizeInput) -> list[Fault]:
    corrected = _corrected(item)
    path = "stations" if item.stations is not None else "readings"
    low = [str(one) for one in _figures(item) if corrected(one.exact) <= 0]
    return [Fault(path, f"{low[0]}, a size of nought or less", "sizes above zero, after the master")] if low else []


def _corrected(item: SizeInput) -> Any:
    """Make the function that takes a reading to its size at 20 degC, exactly [m]."""
    zero = Fraction(0)
    if item.master is not None:
        after = item.master.after.exact if item.master.after is not None else None
        zero = Fraction(zero_from_master(item.master.nominal.exact, item.master.before.exact, after).error.item())
    factor = Fraction(1)
    if item.temperatures is not None and item.expansion is not None:
        degc = find_unit("degC")
        warm = [one.into(degc) for one in (item.temperatures.part, item.temperatures.instrument)]
        grow = [one.difference for one in (item.expansion.part, item.expansion.instrument)]
        factor = temperature_factor(*warm, *grow)
    if not zero and factor == 1:
        return lambda reading: reading
    return lambda reading: (reading - zero) * factor


def _table(item: SizeInput) -> NDArray[Any]:
    """Sizes at 20 degC [m], exact: one row of readings, or a row a station."""
    corrected = _corrected(item)
    rows = item.stations or [item.readings or []]
    table = np.empty((len(rows), len(rows[0])), dtype=object)
    for place, row in enumerate(rows):
        table[place] = [corrected(one.exact) for one in row]
    return table


def _doubts(item: SizeInput, table: NDArray[Any]) -> list[tuple[str, float, float]]:
    """Name, standard uncertainty [m] and degrees of freedom of each part of the doubt."""
    stated = item.instrument or Instrument()
    step, limit = (float(one.exact) if one is not None else 0.0 for one in (stated.resolution, stated.error_limit))
    count = table.size
    spread = 0.0
    if item.readings is not None and count > 1:
        spread = float(spread_of_mean(repeats(table[0]).deviation, count))
    stepped = float(standard_from_step(step))
    scatter = ("readings", spread, count - 1.0) if spread >= stepped * _ALIKE else ("resolution", stepped, math.inf)
    parts = (scatter, ("error limit", float(standard_from_half_width(limit)), math.inf))
    nought = {"resolution": stated.resolution, "error limit": stated.error_limit}
    return [part for part in parts if part[1] > 0] or [
        (name, 0.0, math.inf) for name, one in nought.items() if one is not None
    ]


def _form(item: SizeInput, table: NDArray[Any], unit: Unit, decimals: int) -> Document:
    def shown(values: Any) -> list[Answer]:
        return [exact_answer(Fraction(value), unit, decimals) for value in np.atleast_1d(values)]

    if item.stations is None:
        return dict.fromkeys(("out_of_round", "taper", "worst_out_of_round", "worst_taper"))
    found, (along, across) = form(table), table.shape
    return {
        "out_of_round": shown(found.out_of_round) if across > 1 else None,
        "taper": shown(found.taper) if along > 1 else None,
        "worst_out_of_round": shown(found.worst_out_of_round)[0] if across > 1 else None,
        "worst_taper": shown(found.worst_taper)[0] if along > 1 else None,
    }


def _warnings(item: SizeInput, unit: Unit) -> list[Warned]:
    warnings: list[Warned] = []
    if item.master is not None and item.master.after is not None:
        drift = item.master.after.exact - item.master.before.exact
        if drift:
            text = exact_answer(drift, unit, decimals_in(unit, [item.master.before, item.master.after]))["text"]
            warnings.append(
                {"code": "drift", "text": f"the master read {text} more after than before; the middle is used"}
            )
    if item.readings is not None and len(item.readings) == 1:
        warnings.append({"code": "one-reading", "text": "one reading is not a measurement: its spread is not known"})
    if len(item.readings or ()) > 1 and len({one.exact for one in item.readings or ()}) == 1:
        text = "the readings are all alike: their scatter lies below the step of the gauge and could not be seen"
        warnings.append({"code": "no-scatter", "text": text})
    return warnings


def _answer(item: SizeInput) -> Document:
    figures = _figures(item)
    unit = answer_unit(item.units, figures[0])
    decimals, table = decimals_in(unit, figures), _table(item)
    doubts = _doubts(item, table)
    budget = (
        draw_up([u for _, u, _ in doubts], 1.0, [dof for _, _, dof in doubts], None, item.confidence)
        if doubts
        else None
    )
    in_unit = float(unit.factor)
    answer: Document = {
        "size": exact_answer(Fraction(sum(table.flat)) / table.size, unit, decimals),
        "standard_uncertainty": float_answer(float(budget.combined) / in_unit, unit) if budget else None,
        "expanded": float_answer(float(budget.expanded) / in_unit, unit) if budget else None,
        "smallest": exact_answer(min(table.flat), unit, decimals),
        "largest": exact_answer(max(table.flat), unit, decimals),
        **_form(item, table, unit, decimals),
        "budget": [
            {"name": name, "contribution": float_answer(u / in_unit, unit), "share": float(share)}
            for (name, u, _), share in zip(doubts, budget.shares if budget else (), strict=True)
        ],
    }
    warnings = _warnings(item, unit)
    return {**answer, "warnings": warnings} if warnings else answer


def compute(items: Sequence[SizeInput]) -> list[Document]:
    """Turn readings into sizes.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


CALCULATOR = Calculator(
    name="size",
    input=SizeInput,
    output=SizeAnswer,
    compute=compute,
    check=_check,
    working=write_working,
    example=Example(
        id="M P7.1",
        source="derived: out-of-round and taper as service manuals define them; no published value",
        input={
            "stations": [["50.012 mm", "50.006 mm"], ["50.009 mm", "50.008 mm"], ["50.021 mm", "50.010 mm"]],
            "instrument": {"error_limit": "4 um", "resolution": "1 um"},
        },
        published={"worst_out_of_round": "0.011 mm", "worst_taper": "0.012 mm"},
    ),
)
