"""How sure a sum of uncertain inputs is: the calculator `uncertainty`.

The framework puts standard uncertainties together with degrees of freedom; Monte Carlo draws the inputs themselves,
which is the better answer where one error limit dominates. A standard uncertainty with finite degrees of freedom is
drawn as a scaled Student's t. The interval lies about nought, since the inputs are errors.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Annotated, Any, Literal, NotRequired

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part, Warned
from tenthbook.faces.calculators.quantities import PLAIN, AnyQuantity, AnyUncertainty, answer_unit, float_or_plain
from tenthbook.faces.calculators.uncertainty_working import write_working
from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.quantity import Quantity, Unit, find_unit
from tenthbook.trade.gauge.budget import Budget, draw_up
from tenthbook.trade.gauge.correlation import matrix_from_pairs
from tenthbook.trade.gauge.draws import Input as Drawn
from tenthbook.trade.gauge.montecarlo import Outcome, linear_sampler, propagate
from tenthbook.trade.gauge.settling import block_size, propagate_until_settled
from tenthbook.trade.gauge.shapes import Shape, standard_from_half_width

_MOST_TRIALS = 20_000_000
_PAIR = "a pair of input names and their correlation from -1 to 1, such as ['bore', 'shaft', 0.5]"


class OneInput(Part):
    """One uncertain input: a standard uncertainty, a half-width with its shape, or an expanded one with its factor."""

    name: str = Field(min_length=1, max_length=100, description="a name, once in the list")
    standard: AnyUncertainty | None = None
    half_width: AnyUncertainty | None = None
    shape: Literal["rectangular", "triangular", "arcsine"] | None = None
    expanded: AnyUncertainty | None = None
    coverage_factor: float | None = Field(default=None, gt=0, description="the factor that `expanded` was made with")
    sensitivity: AnyQuantity = Field(
        default=Quantity("1", PLAIN),
        description="change of the result a unit of this input: a plain number, or a quotient such as '575 nm/degC'",
    )
    degrees_of_freedom: float | None = Field(default=None, ge=1, description="1 or more; infinite without")


class UncertaintyInput(Input):
    """Uncertain inputs of a linear model."""

    inputs: list[OneInput] = Field(min_length=1, description="at least one input")
    correlations: list[Annotated[list[Any], Field(min_length=3, max_length=3, description=_PAIR)]] = Field(
        default=[], description="correlations of pairs of inputs"
    )
    confidence: float = Field(gt=0, lt=1, description="two-sided confidence, above 0 and below 1, such as 0.95")
    method: Literal["framework", "monte carlo"] = "framework"
    trials: int | None = Field(
        default=None, ge=10_000, le=_MOST_TRIALS, description="trials, 10000 or more; without, until the answer stands"
    )
    seed: int = Field(default=1, ge=0, lt=2**63, description="a whole number from 0")


class BudgetLine(TypedDict):
    """One line of the budget."""

    name: str
    contribution: Answer | float
    share: float


class UncertaintyAnswer(TypedDict):
    """The answer of `uncertainty`."""

    standard: Answer | float | None
    effective_degrees_of_freedom: float | None
    degrees_of_freedom_used: float | None
    coverage_factor: float | None
    expanded: Answer | float | None
    interval: list[Answer | float] | None
    half_width: Answer | float | None
    budget: list[BudgetLine]
    warnings: NotRequired[list[Warned]]


def _result_unit(one: OneInput) -> Unit | None:
    """The unit of an input times its sensitivity; None where that has no name here."""
    typed = _stated(one)
    unit, by = typed.unit, one.sensitivity.unit
    if not any(by.dimension):
        return unit
    above, _, below = by.name.partition("/")
    if below and find_unit(below).dimension == unit.dimension and above != "1":
        return find_unit(above)
    return None


def _stated(one: OneInput) -> Quantity:
    stated = one.standard or one.half_width or one.expanded
    assert stated is not None, "checked before"
    return stated


def _one_way(one: OneInput) -> str:
    ways = [name for name in ("standard", "half_width", "expanded") if getattr(one, name) is not None]
    if len(ways) != 1:
        return f"{' and '.join(ways) or 'none of them'}"
    if (one.half_width is None) != (one.shape is None):
        return "shape without half_width" if one.half_width is None else "half_width without shape"
    if (one.expanded is None) != (one.coverage_factor is None):
        return "coverage_factor without expanded" if one.expanded is None else "expanded without coverage_factor"
    return ""


def _check_inputs(item: UncertaintyInput) -> list[Fault]:
    expected = "standard, or half_width with shape, or expanded with coverage_factor"
    wrong = [(place, _one_way(one)) for place, one in enumerate(item.inputs, 1)]
    faults = [Fault(f"inputs.{place}", found, expected) for place, found in wrong if found]
    names = [one.name for one in item.inputs]
    faults += [
        Fault(f"inputs.{place}.name", f"{one.name!r} again", "each name once")
        for place, one in enumerate(item.inputs, 1)
        if one.name in names[: place - 1]
    ]
    if faults:
        return faults
    first = _result_unit(item.inputs[0])
    if first is None:
        return [
            Fault(
                "inputs.1.sensitivity",
                str(item.inputs[0].sensitivity),
                "a plain number, or a quotient over the input's unit",
            )
        ]
    for place, one in enumerate(item.inputs, 1):
        unit = _result_unit(one)
        if unit is None or unit.dimension != first.dimension:
            found = f"{_stated(one)} times {one.sensitivity.typed} {one.sensitivity.unit.name}"
            faults.append(Fault(f"inputs.{place}", found, f"a {first.kind}, like the first input's"))
    return faults


def _check_correlations(item: UncertaintyInput) -> list[Fault]:
    names = [one.name for one in item.inputs]
    faults = []
    for place, (left, right, r) in enumerate(item.correlations, 1):
        known = left in names and right in names and left != right
        known = known and isinstance(r, float | int) and not isinstance(r, bool)
        if not known or not -1 <= r <= 1:
            faults.append(
                Fault(f"correlations.{place}", f"{left!r}, {right!r}, {r!r}", f"{_PAIR}; names: {', '.join(names)}")
            )
    if faults or not item.correlations:
        return faults
    if item.method == "monte carlo" and any(one.half_width or one.degrees_of_freedom for one in item.inputs):
        return [Fault("correlations", "inputs that are not normal", "normal inputs where correlations are drawn")]
    try:
        _correlations(item)
    except TenthbookError as error:
        return [Fault("correlations", error.found, error.expected)]
    return []


def _check_trials(item: UncertaintyInput) -> list[Fault]:
    """Trials must leave some out of the interval; a confidence must leave room for a number of trials that ends."""
    if item.method == "framework":
        return []
    needed = 1 / (1 - item.confidence)
    if item.trials is not None and item.trials < needed:
        return [
            Fault("trials", str(item.trials), f"at least {math.ceil(needed)} for a confidence of {item.confidence:g}")
        ]
    if item.trials is None and block_size(item.confidence) > _MOST_TRIALS / 2:
        return [Fault("confidence", f"{item.confidence!r}", "one that two blocks of trials can show, or trials given")]
    return []


def _check(item: UncertaintyInput) -> list[Fault]:
    faults = _check_inputs(item)
    if faults:
        return faults
    faults = _check_correlations(item) + _check_trials(item)
    if faults:
        return faults
    try:
        _budget(item)
    except TenthbookError as error:
        return [Fault("inputs", error.found, error.expected)]
    return []


def _correlations(item: UncertaintyInput) -> Any:
    if not item.correlations:
        return None
    pairs = [(str(left), str(right), float(r)) for left, right, r in item.correlations]
    return matrix_from_pairs([one.name for one in item.inputs], pairs)


def _unit(item: UncertaintyInput) -> Unit:
    unit = _result_unit(item.inputs[0])
    assert unit is not None, "checked before"
    if item.units is not None:
        return answer_unit(item.units, Quantity("1", unit))
    return unit


def _sensitivities(item: UncertaintyInput) -> list[float]:
    """How much the result moves, in its unit, for one coherent unit of each input."""
    return [float(one.sensitivity.difference / _unit(item).factor) for one in item.inputs]


def _standards(item: UncertaintyInput) -> list[float]:
    """Standard uncertainties in coherent units."""
    found = []
    for one in item.inputs:
        size = float(_stated(one).difference)
        if one.half_width is not None:
            size = float(standard_from_half_width(size, Shape(str(one.shape))))
        elif one.expanded is not None:
            size /= one.coverage_factor or 1.0
        found.append(size)
    return found


def _degrees(item: UncertaintyInput) -> list[float]:
    return [one.degrees_of_freedom or math.inf for one in item.inputs]


def _budget(item: UncertaintyInput) -> Budget:
    return draw_up(_standards(item), _sensitivities(item), _degrees(item), _correlations(item), item.confidence)


def _trials(item: UncertaintyInput) -> Outcome:
    drawn = []
    for one, standard, dof in zip(item.inputs, _standards(item), _degrees(item), strict=True):
        if one.half_width is not None:
            drawn.append(Drawn(Shape(str(one.shape)), float(one.half_width.difference)))
        else:
            drawn.append(Drawn(Shape.NORMAL, standard, dof=dof))
    sampler = linear_sampler(drawn, _sensitivities(item), _correlations(item))
    if item.trials is None:
        return propagate_until_settled(sampler, item.confidence, seed=item.seed, most_trials=_MOST_TRIALS)
    return propagate(sampler, item.confidence, item.trials, item.seed)


def _answer(item: UncertaintyInput) -> Document:
    unit, budget = _unit(item), _budget(item)
    effective = float(budget.effective_dof)
    lines = zip(item.inputs, np.atleast_1d(budget.contributions), np.atleast_1d(budget.shares), strict=True)
    answer: Document = {
        "standard": float_or_plain(float(budget.combined), unit, 3),
        "effective_degrees_of_freedom": effective if math.isfinite(effective) else None,
        "degrees_of_freedom_used": float(budget.used_dof) if math.isfinite(effective) else None,
        "coverage_factor": float(budget.coverage_factor),
        "expanded": float_or_plain(float(budget.expanded), unit, 3),
        "interval": None,
        "half_width": None,
        "budget": [
            {"name": one.name, "contribution": float_or_plain(float(part), unit, 3), "share": float(share)}
            for one, part, share in lines
        ],
    }
    warnings: list[Warned] = []
    if not bool(budget.dof_valid):
        text = "correlated inputs with finite degrees of freedom: the formula does not hold; the least of them is used"
        warnings.append({"code": "correlated-degrees-of-freedom", "text": text})
    if item.method == "monte carlo":
        drawn, warnings = _drawn(item, unit)
        answer.update(drawn)
    return {**answer, "warnings": warnings} if warnings else answer


def _drawn(item: UncertaintyInput, unit: Unit) -> tuple[Document, list[Warned]]:
    """What the trials say, in place of what the framework says."""
    outcome = _trials(item)
    low, high = outcome.shortest
    warnings: list[Warned] = []
    if not outcome.settled:
        warnings.append({"code": "not-settled", "text": f"{outcome.trials} trials and still moving"})
    standard = outcome.standard
    if any(one.half_width is None and (one.degrees_of_freedom or 3) <= 2 for one in item.inputs):
        text = "an input with two degrees of freedom or fewer has no standard deviation; the interval stands"
        warnings.append({"code": "no-standard-deviation", "text": text})
        standard = math.nan
    absent = dict.fromkeys(("effective_degrees_of_freedom", "degrees_of_freedom_used", "coverage_factor", "expanded"))
    drawn = {
        "standard": float_or_plain(standard, unit, 3),
        "interval": [float_or_plain(low, unit, 3), float_or_plain(high, unit, 3)],
        "half_width": float_or_plain((high - low) / 2, unit, 3),
    }
    return {**absent, **drawn}, warnings


def compute(items: Sequence[UncertaintyInput]) -> list[Document]:
    """Put the doubts of each item together.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


CALCULATOR = Calculator(
    name="uncertainty",
    input=UncertaintyInput,
    output=UncertaintyAnswer,
    compute=compute,
    check=_check,
    working=write_working,
    example=Example(
        id="M P1.3",
        source="JCGM 100:2008, example H.1, end gauge (inputs read in a library's documentation, the rest from memory)",
        input={
            "inputs": [
                {"name": "standard", "standard": "25 nm", "degrees_of_freedom": 18},
                {"name": "repeat observations", "standard": "5.8 nm", "degrees_of_freedom": 24},
                {"name": "comparator, random", "standard": "3.9 nm", "degrees_of_freedom": 5},
                {"name": "comparator, systematic", "standard": "6.7 nm", "degrees_of_freedom": 8},
                {
                    "name": "difference of expansions",
                    "half_width": "5.0000623 nm",
                    "shape": "rectangular",
                    "degrees_of_freedom": 50,
                },
                {
                    "name": "difference of temperatures",
                    "half_width": "0.05 degC",
                    "shape": "rectangular",
                    "sensitivity": "575.0071645 nm/degC",
                    "degrees_of_freedom": 2,
                },
            ],
            "confidence": 0.99,
        },
        published={"standard": "32 nm", "degrees_of_freedom_used": 16},
    ),
)
