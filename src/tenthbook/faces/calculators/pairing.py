"""Which part goes with which: the calculator `pairing`.

By a table of costs, or by holes, shafts and the clearance wanted: the dearest pair as cheap as can be and then the sum
(worst), or the sum alone. Or masses that sit opposite each other, so that the largest difference in a pair is as small
as can be. Numbers count from 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any, Literal, NotRequired

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input
from tenthbook.faces.calculators.quantities import (
    AnyAboveZero,
    AnyQuantity,
    answer_unit,
    decimals_in,
    exact_or_plain,
    unlike,
)
from tenthbook.faces.calculators.working import (
    answer_text,
    digits_of,
    figure_in,
    minus,
    number_text,
    shortened,
    with_unit,
)
from tenthbook.numbers.because import Fault
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.trade.fit.pairing import Pairing, pair_by_cost, pair_by_size, pair_opposite

_MOST = 1000


class PairingInput(Input):
    """A table of costs, or holes and shafts with a target, or masses."""

    cost: list[list[float]] | None = Field(default=None, description="a square table of numbers, a row a part")
    holes: list[AnyQuantity] | None = Field(default=None, description="sizes of the outer parts")
    shafts: list[AnyQuantity] | None = Field(default=None, description="sizes of the inner parts, as many")
    target: AnyQuantity | None = None
    criterion: Literal["worst", "sum"] | None = Field(default=None, description='"worst" or "sum"')
    masses: list[AnyAboveZero] | None = Field(default=None, description="masses, an even number of them")


class PairingAnswer(TypedDict):
    """The answer of `pairing`: partner, worst and sum; or pairs and worst."""

    partner: NotRequired[list[int]]
    pairs: NotRequired[list[list[int]]]
    worst: Answer | float
    sum: NotRequired[Answer | float]


def _check_cost(cost: list[list[float]]) -> list[Fault]:
    rows = len(cost)
    if not 0 < rows <= _MOST:
        return [Fault("cost", f"{rows} rows", f"1 to {_MOST}")]
    return [
        Fault(f"cost.{place}", f"{len(row)} numbers", f"{rows}, as many as there are rows")
        for place, row in enumerate(cost, 1)
        if len(row) != rows
    ]


def _check_sizes(item: PairingInput) -> list[Fault]:
    holes, shafts = item.holes or [], item.shafts or []
    missing = [name for name in ("holes", "shafts", "target") if getattr(item, name) is None]
    if missing:
        return [Fault(name, "nothing", "holes, shafts and target together") for name in missing]
    if not holes or len(holes) != len(shafts):
        return [Fault("shafts", f"{len(shafts)} shafts for {len(holes)} holes", "as many of each, at least one")]
    named = [
        *((f"holes.{n}", one) for n, one in enumerate(holes, 1)),
        *((f"shafts.{n}", one) for n, one in enumerate(shafts, 1)),
    ]
    return unlike(holes[0], [*named, ("target", item.target)])


def _check(item: PairingInput) -> list[Fault]:
    ways = [
        item.cost is not None,
        any(one is not None for one in (item.holes, item.shafts, item.target)),
        item.masses is not None,
    ]
    if sum(ways) != 1:
        return [Fault("", f"{sum(ways)} of cost, holes with shafts, and masses", "one of the three")]
    if item.masses is not None:
        if item.criterion is not None:
            return [Fault("criterion", f"{item.criterion!r} beside masses", "nothing: masses are paired by the worst")]
        if len(item.masses) < 2 or len(item.masses) % 2:
            return [Fault("masses", f"{len(item.masses)} masses", "an even number, two or more")]
        return unlike(item.masses[0], [(f"masses.{n}", one) for n, one in enumerate(item.masses, 1)])
    faults = _check_cost(item.cost) if item.cost is not None else _check_sizes(item)
    return faults + ([Fault("criterion", "nothing", '"worst" or "sum"')] if item.criterion is None else [])


def _exact(figures: Sequence[Quantity]) -> Any:
    held = np.empty(len(figures), dtype=object)
    held[:] = [one.difference for one in figures]
    return held


def _paired(found: Pairing, shown: Any) -> Document:
    partner = [int(place) + 1 for place in found.partner]
    return {"partner": partner, "worst": shown(found.worst), "sum": shown(found.total)}


def _answer(item: PairingInput) -> Document:
    if item.cost is not None:
        table = np.array(item.cost)
        whole = table.astype(np.int64) if bool(np.all((table == np.rint(table)) & (np.abs(table) < 2**40))) else table
        return _paired(pair_by_cost(whole, item.criterion or "worst"), lambda value: value)
    figures = [*(item.holes or ()), *(item.shafts or ())] or list(item.masses or ())
    unit = answer_unit(item.units, figures[0])
    decimals = decimals_in(unit, [*figures, *([item.target] if item.target is not None else [])])

    def shown(value: Any) -> Any:
        return exact_or_plain(Fraction(value), unit, decimals)

    if item.masses is not None:
        opposite = pair_opposite(_exact(item.masses))
        return {"pairs": [[int(one) + 1 for one in pair] for pair in opposite.pairs], "worst": shown(opposite.worst)}
    assert item.target is not None, "checked before"
    return _paired(pair_by_size(_exact(item.holes or ()), _exact(item.shafts or ()), item.target.difference), shown)


def compute(items: Sequence[PairingInput]) -> list[Document]:
    """Pair the parts of each item.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


def _difference(first: Quantity, second: Quantity, unit: Unit, target: Quantity | None = None) -> tuple[str, str]:
    """Write how far two figures differ, less a target; and the digits of that distance."""
    ends = [figure_in(one, unit, as_difference=True) for one in (first, second)]
    given = [one for one in (first, second, target) if one is not None]
    wanted = Fraction(0) if target is None else target.difference
    apart = digits_of(abs(first.difference - second.difference - wanted) / unit.factor, decimals_in(unit, given))
    less = "" if target is None else f" - {figure_in(target, unit, as_difference=True)}".replace("- -", "+ ")
    return f"|{minus(*ends)}{less}| = {with_unit(apart, unit)}", apart


def _pair_lines(item: PairingInput, answer: Document) -> tuple[list[str], list[str]]:
    """Write each pair, and collect the digits of its cost."""
    lines, costs = [], []
    if item.masses is not None:
        unit = answer_unit(item.units, item.masses[0])
        for left, right in answer["pairs"]:
            sum_text, apart = _difference(item.masses[left - 1], item.masses[right - 1], unit)
            lines.append(f"mass {left} opposite mass {right}: {sum_text}")
            costs.append(apart)
        return lines, costs
    for place, partner in enumerate(answer["partner"], 1):
        if item.cost is not None:
            apart = number_text(item.cost[place - 1][partner - 1])
            lines.append(f"row {place} with column {partner}: {apart}")
        else:
            hole, shaft = (item.holes or [])[place - 1], (item.shafts or [])[partner - 1]
            unit = answer_unit(item.units, (item.holes or [])[0])
            sum_text, apart = _difference(hole, shaft, unit, item.target)
            lines.append(f"hole {place} with shaft {partner}: {sum_text} off the target")
        costs.append(apart)
    return lines, costs


def _working(item: PairingInput, answer: Document) -> list[str]:
    lines, costs = _pair_lines(item, answer)
    closing = [f"worst: the largest of them, {answer_text(answer['worst'])}"]
    if "sum" in answer:
        terms = " + ".join(costs) if len(costs) <= 12 else f"the {len(costs)} of them"
        closing.append(f"sum = {terms} = {answer_text(answer['sum'])}")
    if item.masses is not None or item.cost is None:
        reason = "neighbours after sorting by size are the best partners (derived, held against brute force)"
    elif item.criterion == "sum":
        reason = "linear sum assignment: no other choice of pairs has a smaller sum"
    else:
        reason = "bottleneck assignment: no other choice has a smaller worst pair; among those the smallest sum"
    return [*shortened(lines), *closing, f"because: {reason}"]


CALCULATOR = Calculator(
    name="pairing",
    input=PairingInput,
    output=PairingAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="M P10.1",
        source="documentation of scipy, linear sum assignment (read)",
        input={"cost": [[4, 1, 3], [2, 0, 5], [3, 2, 2]], "criterion": "sum"},
        published={"sum": 5},
    ),
)
