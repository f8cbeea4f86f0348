"""How sure a sum of uncertain inputs is: the calculator `uncertainty`.

The framework puts standard uncertainties together with degrees of freedom; Monte Carlo draws the inputs themselves,
which is the better answer where one error limit dominates. A standard uncertainty with finite degrees of freedom is
drawn as a scaled Student's t. The interval lies about nought, since the inputs are errors.

An input is multiplied by its sensitivity, and every product measures the same thing as the first; an input with a
sensitivity of nought counts for nothing, whatever it measures. An uncertainty of nought is taken at its word.

The share of a line is its part of the variance, half of what its correlations add or take away included: shares sum
to 1, and one is below nought where a correlation helps. With correlated inputs of finite degrees of freedom the formula
for the effective ones does not hold: the correlated inputs count as one, with the least of theirs, and a warning says
so.

Without a number of trials at least a million are made, and more until the answer stands.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import Annotated, Any, Literal, NotRequired

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part, Warned
from tenthbook.faces.calculators.products import Sensitivity, times
from tenthbook.faces.calculators.quantities import PLAIN, AnyUncertainty, answer_unit, float_or_plain
from tenthbook.faces.calculators.uncertainty_working import write_working
from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.trade.gauge.budget import Budget, draw_up
from tenthbook.trade.gauge.correlation import matrix_from_pairs
from tenthbook.trade.gauge.coverage import least_trials
from tenthbook.trade.gauge.draws import Input as Drawn
from tenthbook.trade.gauge.montecarlo import Outcome, linear_sampler, propagate
from tenthbook.trade.gauge.settling import block_size, propagate_until_settled
from tenthbook.trade.gauge.shapes import Shape, standard_from_half_width

_MOST_TRIALS = 20_000_000
_USUAL_TRIALS = 1_000_000
_PAIR = "a pair of input names and their correlation from -1 to 1, such as ['bore', 'shaft', 0.5]"


class OneInput(Part):
    """One uncertain input: a standard uncertainty, a half-width with its shape, or an expanded one with its factor."""

    name: str = Field(min_length=1, max_length=100, description="a name, once in the list")
    standard: AnyUncertainty | None = None
    half_width: AnyUncertainty | None = None
    shape: Literal["rectangular", "triangular", "arcsine"] | None = None
    expanded: AnyUncertainty | None = None
    coverage_factor: float | None = Field(default=None, gt=0, description="the factor that `expanded` was made with")
    sensitivity: Sensitivity = Field(
        default=Quantity("1", PLAIN),
        json_schema_extra={"default": 1},
        description="change of the result a unit of this input: a plain number, a quotient such as '575 nm/degC', or "
        "a product such as '5e6 nm.degC'",
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
        default=None,
        ge=1,
        le=_MOST_TRIALS,
        description="trials, as many as the confidence needs at least; without, a million or more until the answer "
        "stands",
    )
    seed: int = Field(default=1, ge=0, lt=2**63, description="a whole number from 0")

    @cached_property
    def budget(self) -> Budget:
        """Its budget, drawn up once: reading asks whether there is one, answering what it says."""
        dof = _degrees(self)
        return draw_up(_standards(self), _sensitivities(self), dof, _correlations(self), self.confidence)


class BudgetLine(TypedDict):
    """One line of the budget."""

    name: str
    contribution: Answer | float
    share: float


class UncertaintyAnswer(TypedDict):
    """The answer of `uncertainty`."""

    standard: Answer | float | None
    effective_degrees_of_freedom: float | None
    degrees_of_freedom_used: int | None
    coverage_factor: float | None
    expanded: Answer | float | None
    interval: list[Answer | float] | None
    half_width: Answer | float | None
    budget: list[BudgetLine]
    warnings: NotRequired[list[Warned]]


def _counts(one: OneInput) -> bool:
    """Whether an input counts at all: a plain nought as sensitivity takes it out, whatever it measures."""
    return one.sensitivity.number != 0 or any(one.sensitivity.unit.dimension)


def _lead(inputs: Sequence[OneInput]) -> OneInput:
    """The input whose product the answer measures: the first that counts, unless the first of all measures the same."""
    first, counting = inputs[0], next((one for one in inputs if _counts(one)), inputs[0])
    alike = _stated(first).unit.dimension == getattr(_result_unit(counting), "dimension", None)
    return first if _counts(first) or alike else counting


def _result_unit(one: OneInput) -> Unit | None:
    """The unit of an input times its sensitivity; None where that has no name here."""
    unit = _stated(one).unit
    if one.sensitivity.unit is PLAIN and any(unit.dimension):
        return unit
    return times(unit, one.sensitivity.unit)


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
    lead = _lead(item.inputs)
    first = _result_unit(lead)
    if first is None:
        path = f"inputs.{names.index(lead.name) + 1}.sensitivity"
        expected = "a plain number, or a unit that makes a unit of the bench with the input's"
        return [Fault(path, f"{lead.sensitivity}, times {_stated(lead)}", expected)]
    for place, one in enumerate(item.inputs, 1):
        unit = _result_unit(one)
        if _counts(one) and (unit is None or unit.dimension != first.dimension):
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
    """Trials must make an interval; a confidence must leave room for a number of trials that ends."""
    if item.method == "framework":
        return []
    needed = least_trials(item.confidence)
    if item.trials is not None and item.trials < needed:
        found = f"{item.trials} trials for a confidence of {item.confidence!r}"
        return [Fault("trials", found, f"at least {needed} trials for that confidence, better a hundred times as many")]
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
        _ = item.budget
    except TenthbookError as error:
        return [Fault("inputs", error.found, error.expected)]
    return []


def _correlations(item: UncertaintyInput) -> Any:
    if not item.correlations:
        return None
    pairs = [(str(left), str(right), float(r)) for left, right, r in item.correlations]
    return matrix_from_pairs([one.name for one in item.inputs], pairs)


def _unit(item: UncertaintyInput) -> Unit:
    unit = _result_unit(_lead(item.inputs))
    assert unit is not None, "checked before"
    if item.units is not None:
        return answer_unit(item.units, Quantity("1", unit))
    return unit


def _sensitivities(item: UncertaintyInput) -> list[float]:
    """How much the result moves, in its unit, for one coherent unit of each input."""
    factor = _unit(item).factor
    return [float(one.sensitivity.difference / factor) for one in item.inputs]


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


def _trials(item: UncertaintyInput) -> Outcome:
    drawn = []
    for one, standard, dof in zip(item.inputs, _standards(item), _degrees(item), strict=True):
        if one.half_width is not None:
            drawn.append(Drawn(Shape(str(one.shape)), float(one.half_width.difference)))
        else:
            drawn.append(Drawn(Shape.NORMAL, standard, dof=dof))
    sampler = linear_sampler(drawn, _sensitivities(item), _correlations(item))
    if item.trials is None:
        return propagate_until_settled(
            sampler, item.confidence, seed=item.seed, most_trials=_MOST_TRIALS, least_trials=_USUAL_TRIALS
        )
    return propagate(sampler, item.confidence, item.trials, item.seed)


def _answer(item: UncertaintyInput) -> Document:
    unit, budget = _unit(item), item.budget
    effective = float(budget.effective_dof)
    lines = zip(item.inputs, np.atleast_1d(budget.contributions), np.atleast_1d(budget.shares), strict=True)
    answer: Document = {
        "standard": float_or_plain(float(budget.combined), unit, 3),
        "effective_degrees_of_freedom": effective if math.isfinite(effective) else None,
        "degrees_of_freedom_used": int(budget.used_dof) if math.isfinite(effective) else None,
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
    parts = zip(item.inputs, _standards(item), _sensitivities(item), strict=True)
    if any(one.half_width is None and (one.degrees_of_freedom or 3) <= 2 and u * by for one, u, by in parts):
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
