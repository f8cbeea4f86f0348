"""Whether a value lies within its limits, and whether the gauge's doubt lets it be said: the calculator `verdict`.

The plain verdict takes the value at its face, exactly; on the limit is within. Under a rule the value keeps a guard's
distance from both sides of each limit, and between is undecided. The comparison with the guard is as exact as that with
the limit: a value that lies on the guard inside its limit is within, and one that lies on it beyond is undecided. An
uncertainty of nought has no guard, and the verdict is the plain one.

The standard uncertainty that would decide is the distance to the nearest limit over the width of the guard: under full
U half that distance, under the plain rule as under the guarded one.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input
from tenthbook.faces.calculators.quantities import (
    AnyQuantity,
    AnyUncertainty,
    answer_unit,
    decimals_in,
    float_or_plain,
    unlike,
)
from tenthbook.faces.calculators.working import (
    answer_text,
    conversions,
    digits_of,
    figure_in,
    guard_line,
    minus,
    number_text,
    reason_of_rule,
    standing,
    with_unit,
)
from tenthbook.numbers.because import Fault
from tenthbook.numbers.quantity import Unit
from tenthbook.trade.gauge.conformity import (
    DecisionRule,
    Verdict,
    guard_factor,
    plain_verdict,
    probability_within,
    verdict,
)
from tenthbook.trade.gauge.sizes import margins


class VerdictInput(Input):
    """A value, its doubt and its limits."""

    value: AnyQuantity
    standard_uncertainty: AnyUncertainty
    degrees_of_freedom: float | None = Field(
        default=None, ge=1, description="degrees of freedom of the standard uncertainty, 1 or more; infinite without"
    )
    lower: AnyQuantity | None = None
    upper: AnyQuantity | None = None
    rule: Literal["plain", "guarded", "full U"] = Field(description='"plain", "guarded" or "full U"')
    conformance: float = Field(
        default=0.95, gt=0.5, lt=1, description="least probability of being right, one-sided, above 0.5 and below 1"
    )


class VerdictAnswer(TypedDict):
    """The answer of `verdict`."""

    verdict: Literal["within", "outside", "undecided", "no limit"]
    plain: Literal["within", "outside", "no limit"]
    probability_within: float | None
    guard: Answer | float
    standard_uncertainty_needed: Answer | float | None


def _check(item: VerdictInput) -> list[Fault]:
    others = [(name, getattr(item, name)) for name in ("standard_uncertainty", "lower", "upper")]
    faults = unlike(item.value, others)
    if not faults and item.lower is not None and item.upper is not None and item.lower.exact > item.upper.exact:
        faults.append(Fault("lower", f"{item.lower}, above upper {item.upper}", "the lower limit below the upper"))
    return faults


def _objects(values: Sequence[Fraction | float]) -> NDArray[np.object_]:
    held = np.empty(len(values), dtype=object)
    held[:] = values
    return held


@lru_cache(maxsize=256)
def _factor(rule: str, conformance: float, dof: float) -> float:
    return float(guard_factor(DecisionRule(rule), conformance, dof))


def _factors(items: Sequence[VerdictInput], *, deciding: bool) -> NDArray[np.float64]:
    """Widths of the guards in standard uncertainties; for `deciding` the plain rule counts as the guarded one."""
    rules = ["guarded" if deciding and item.rule == "plain" else item.rule for item in items]
    dofs = [item.degrees_of_freedom or np.inf for item in items]
    return np.array([_factor(rule, item.conformance, dof) for rule, item, dof in zip(rules, items, dofs, strict=True)])


def _needed(value: Any, lower: Any, upper: Any, factors: NDArray[np.float64]) -> NDArray[np.float64]:
    """The largest standard uncertainty that decides; NaN on the limit and without one."""
    inside = [np.abs(np.asarray(margin, dtype=np.float64)) for margin in margins(value, lower, upper)]
    distance = np.minimum(*inside)
    return np.where((distance > 0) & np.isfinite(distance), distance / factors, np.nan)


def _guards(items: Sequence[VerdictInput], units: Sequence[Unit]) -> list[Fraction]:
    """Distances to keep from a limit, exact products: what lies on a guard must not depend on rounding."""
    doubts = [item.standard_uncertainty.into(unit, as_difference=True) for item, unit in zip(items, units, strict=True)]
    factors = _factors(items, deciding=False).tolist()
    return [Fraction(factor) * doubt for factor, doubt in zip(factors, doubts, strict=True)]


def compute(items: Sequence[VerdictInput]) -> list[Document]:
    """Judge many values at once.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    units = [answer_unit(item.units, item.value) for item in items]
    pairs = list(zip(items, units, strict=True))
    value = _objects([item.value.into(unit) for item, unit in pairs])
    lower = _objects([-np.inf if item.lower is None else item.lower.into(unit) for item, unit in pairs])
    upper = _objects([np.inf if item.upper is None else item.upper.into(unit) for item, unit in pairs])
    u = np.array([float(item.standard_uncertainty.into(unit, as_difference=True)) for item, unit in pairs])
    dof = np.array([item.degrees_of_freedom or np.inf for item in items])
    guards = _objects(_guards(items, units))
    columns = (
        plain_verdict(value, lower, upper),
        verdict(value, lower, upper, guards),
        probability_within(value, u, lower, upper, dof),
        guards,
        _needed(value, lower, upper, _factors(items, deciding=True)),
    )
    return [_answer(unit, *row) for unit, *row in zip(units, *columns, strict=True)]


def _answer(unit: Unit, at_face: Any, under_rule: Any, chance: Any, guard: Any, needed: Any) -> Document:
    unlimited = Verdict(int(at_face)) is Verdict.NO_LIMIT
    return {
        "verdict": Verdict(int(under_rule)).word,
        "plain": Verdict(int(at_face)).word,
        "probability_within": None if unlimited else float(chance),
        "guard": float_or_plain(float(guard), unit, 3),
        "standard_uncertainty_needed": float_or_plain(float(needed), unit, 3),
    }


def _margins(item: VerdictInput, unit: Unit) -> dict[str, tuple[Fraction, str, str]]:
    """How far inside each limit the value lies, exactly, with its sum and its digits."""
    value, found = item.value.into(unit), {}
    for name, limit, sign in (("lower", item.lower, 1), ("upper", item.upper, -1)):
        if limit is not None:
            margin = (value - limit.into(unit)) * sign
            ends = [figure_in(item.value, unit), figure_in(limit, unit)]
            found[name] = (margin, minus(*ends[::sign]), digits_of(margin, decimals_in(unit, [item.value, limit])))
    return found


def _closing_lines(item: VerdictInput, answer: Document, unit: Unit) -> list[str]:
    margins = _margins(item, unit)
    if not margins:
        return ["no limit given: nothing to hold the value against, and that is not passed"]
    lines = []
    if answer["standard_uncertainty_needed"] is not None:
        nearest = min(margins.values(), key=lambda one: abs(one[0]))[2].removeprefix("-")
        factor, needed = float(_factors([item], deciding=True)[0]), answer_text(answer["standard_uncertainty_needed"])
        lines.append(f"a u of {nearest} / {number_text(factor, 4)} = {needed} or less would decide")
    digits = with_unit(figure_in(item.standard_uncertainty, unit, as_difference=True), unit)
    chance = number_text(answer["probability_within"])
    return [
        *lines,
        f"the true value, spread about the reading with u = {digits}, lies within with probability {chance}",
    ]


def _working(item: VerdictInput, answer: Document) -> list[str]:
    unit = answer_unit(item.units, item.value)
    [factor] = _factors([item], deciding=False)
    [guard] = _guards([item], [unit])
    digits = figure_in(item.standard_uncertainty, unit, as_difference=True)
    word, finite = answer["verdict"], item.degrees_of_freedom is not None and item.rule == "guarded"
    student = f"Student's factor for {number_text(item.degrees_of_freedom or 0.0)} degrees of freedom"
    return [
        *conversions((item.value, item.lower, item.upper), unit),
        *conversions((item.standard_uncertainty,), unit, as_difference=True),
        guard_line(item.rule, float(factor), digits, answer_text(answer["guard"]), item.conformance),
        *([f"{number_text(float(factor), 4)} is {student}"] if finite else []),
        *(
            f"{name} limit: {sum_text} = {with_unit(found, unit)}, {standing(margin, guard)}"
            for name, (margin, sum_text, found) in _margins(item, unit).items()
        ),
        *_closing_lines(item, answer, unit),
        f"verdict: {word}{', proven' if guard and word in ('within', 'outside') else ''}",
        reason_of_rule(item.rule),
        "because: JCGM 106:2012, 7.2 and 8.3, for the probability and the guard (from memory)",
    ]


CALCULATOR = Calculator(
    name="verdict",
    input=VerdictInput,
    output=VerdictAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="M P3.3",
        source="JCGM 106:2012, the example of a container proved at a pressure (from memory)",
        input={"value": "509.7 kPa", "standard_uncertainty": "8.6 kPa", "lower": "490 kPa", "rule": "guarded"},
        published={"verdict": "within", "probability_within": 0.99},
    ),
)
