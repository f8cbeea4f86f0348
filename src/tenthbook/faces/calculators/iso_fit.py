"""What sizes a class such as 25 H7/g6 allows: the calculator `iso-fit`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, exact_answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input
from tenthbook.faces.calculators.working import answer_digits, digits_of, minus, typed
from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.quantity import Quantity, find_unit
from tenthbook.numbers.quantity.arrays import metres, picometres
from tenthbook.numbers.quantity.fields import LengthAboveZero
from tenthbook.trade.fit.iso286 import Deviations, hole_deviations, shaft_deviations

_SOURCE = "ISO 286-2 (values from memory, compared cell by cell with an open data set that was read)"


class IsoFitInput(Input):
    """A nominal size and the classes of hole and shaft."""

    size: LengthAboveZero
    hole: str | None = Field(
        default=None, description='class of the hole, such as "H7": D E F G H JS K N P R S and a grade'
    )
    shaft: str | None = Field(
        default=None, description='class of the shaft, such as "g6": d e f g h js k m n p r s and a grade'
    )


class IsoFitAnswer(TypedDict):
    """The answer of `iso-fit`; what was not asked for is null."""

    hole: list[Answer] | None
    shaft: list[Answer] | None
    clearance: list[Answer] | None


@lru_cache(maxsize=65_536)
def _looked_up(side: str, named: str, size: Quantity) -> Deviations:
    look_up: Callable[[str, Any], Deviations] = hole_deviations if side == "hole" else shaft_deviations
    return look_up(named, picometres([size])[0])


def _deviations(item: IsoFitInput, side: str) -> Deviations | None:
    named = getattr(item, side)
    return None if named is None else _looked_up(side, named, item.size)


def _check(item: IsoFitInput) -> list[Fault]:
    if item.hole is None and item.shaft is None:
        return [Fault("hole", "neither hole nor shaft", "a class for one of them, or both")]
    faults = []
    for side in ("hole", "shaft"):
        try:
            _deviations(item, side)
        except TenthbookError as error:
            faults.append(Fault(side, f"{getattr(item, side)!r} at {item.size}: {error.found}", error.expected))
    return faults


@lru_cache(maxsize=4096)
def _in_um(end_pm: int) -> Answer:
    return exact_answer(metres(end_pm), find_unit("um"), 0)


def _shown(lower_pm: Any, upper_pm: Any) -> list[Answer]:
    return [_in_um(int(end)).copy() for end in (lower_pm, upper_pm)]


def _answer(item: IsoFitInput) -> Document:
    hole, shaft = _deviations(item, "hole"), _deviations(item, "shaft")
    clearance = None
    if hole is not None and shaft is not None:
        clearance = _shown(hole.lower_pm - shaft.upper_pm, hole.upper_pm - shaft.lower_pm)
    return {
        "hole": None if hole is None else _shown(hole.lower_pm, hole.upper_pm),
        "shaft": None if shaft is None else _shown(shaft.lower_pm, shaft.upper_pm),
        "clearance": clearance,
    }


def compute(items: Sequence[IsoFitInput]) -> list[Document]:
    """Look the classes of each item up.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


def _class_line(item: IsoFitInput, side: str, ends: Sequence[Answer]) -> str:
    """Write a class with the sizes it allows, in the unit of the nominal size."""
    unit, low, high = item.size.unit, answer_digits(ends[0]), answer_digits(ends[1])
    deviations = _deviations(item, side)
    assert deviations is not None, "asked for"
    sizes = [item.size.exact + metres(np.int64(end)) for end in (deviations.lower_pm, deviations.upper_pm)]
    least, greatest = (digits_of(size / unit.factor, max(item.size.decimals, 3)) for size in sizes)
    name = getattr(item, side)
    return f"{side} {name} at {typed(item.size)}: {low} to {high} um, that is {least} to {greatest} {unit.name}"


def _working(item: IsoFitInput, answer: Document) -> list[str]:
    hole, shaft, clearance = (answer[name] for name in ("hole", "shaft", "clearance"))
    lines = [_class_line(item, side, ends) for side, ends in (("hole", hole), ("shaft", shaft)) if ends]
    if clearance:
        least = minus(answer_digits(hole[0]), answer_digits(shaft[1]))
        greatest = minus(answer_digits(hole[1]), answer_digits(shaft[0]))
        lines.append(f"least clearance = {least} = {clearance[0]['text']}")
        lines.append(f"greatest clearance = {greatest} = {clearance[1]['text']}")
    return [*lines, f"because: {_SOURCE}"]


CALCULATOR = Calculator(
    name="iso-fit",
    input=IsoFitInput,
    output=IsoFitAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="M P5.3",
        source=_SOURCE,
        input={"size": "25 mm", "hole": "H7", "shaft": "g6"},
        published={"clearance": ["7 um", "41 um"]},
    ),
)
