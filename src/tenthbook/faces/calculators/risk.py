"""How often a gauge errs over a whole stream of parts: the calculator `risk`.

Consumer's risk: outside and accepted; producer's risk: within and refused; both as shares of all parts. With a wanted
consumer's risk it answers how far up to accept. Where both limits are given, acceptance stops equally far inside each;
where there is a lower limit, a warning says from where up to accept.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, significant
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part, Warned
from tenthbook.faces.calculators.quantities import (
    AnyAboveZero,
    AnyQuantity,
    answer_unit,
    float_or_plain,
    unlike,
)
from tenthbook.faces.calculators.working import answer_text, figure_in, minus, number_text, typed, with_unit
from tenthbook.numbers.because import Fault
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.trade.gauge.process import GammaProcess, NormalProcess
from tenthbook.trade.gauge.risk import global_risk, guard_for_consumer_risk


class Gamma(Part):
    """A gamma distribution of true values from nought up."""

    shape: float = Field(ge=1e-6, le=1e6, description="shape, from 1e-6 to 1e6")
    rate: AnyAboveZero


class ProcessInput(Part):
    """How the true values lie: normal by mean and standard deviation, or gamma."""

    mean: AnyQuantity | None = None
    standard_deviation: AnyAboveZero | None = None
    gamma: Gamma | None = None


class RiskInput(Input):
    """A stream of parts, a gauge, limits, and up to where readings are accepted."""

    process: ProcessInput = Field(description="an object with mean and standard_deviation, or with gamma")
    standard_uncertainty: AnyAboveZero
    lower: AnyQuantity | None = None
    upper: AnyQuantity | None = None
    accept_lower: AnyQuantity | None = None
    accept_upper: AnyQuantity | None = None
    wanted_consumer_risk: float | None = Field(
        default=None,
        gt=0,
        lt=1,
        description="a share above 0 and below 1; it moves acceptance equally far from both limits",
    )


class RiskAnswer(TypedDict):
    """The answer of `risk`."""

    nonconforming: float
    consumer_risk: float
    producer_risk: float
    accept_upper: Answer | float | None
    warnings: NotRequired[list[Warned]]


_LIMITS = ("lower", "upper", "accept_lower", "accept_upper")


def _check_process(item: RiskInput) -> list[Fault]:
    process, expected = item.process, "mean and standard_deviation, or gamma"
    normal = [process.mean is not None, process.standard_deviation is not None]
    if all(normal) == (process.gamma is not None) or any(normal) != all(normal):
        return [Fault("process", "both, neither, or half of one", expected)]
    if process.gamma is not None:
        rate, u = process.gamma.rate.unit, item.standard_uncertainty
        if tuple(-power for power in rate.dimension) != u.unit.dimension:
            return [Fault("process.gamma.rate", str(process.gamma.rate), f"one over a {u.unit.kind}, such as '4 1/um'")]
    return []


def _check(item: RiskInput) -> list[Fault]:
    named = [(name, getattr(item, name)) for name in _LIMITS]
    process = [("process.mean", item.process.mean), ("process.standard_deviation", item.process.standard_deviation)]
    faults = _check_process(item) + unlike(item.standard_uncertainty, [*process, *named])
    if faults:
        return faults
    if item.lower is None and item.upper is None:
        faults.append(Fault("upper", "no limit", "a lower or an upper limit"))
    for low, high in (("lower", "upper"), ("accept_lower", "accept_upper")):
        below, above = getattr(item, low), getattr(item, high)
        if below is not None and above is not None and below.exact > above.exact:
            faults.append(Fault(low, f"{below}, above {high} {above}", "the lower of the two"))
    if item.wanted_consumer_risk is not None and (item.accept_lower is not None or item.accept_upper is not None):
        faults.append(
            Fault("wanted_consumer_risk", "beside accept limits", "one of the two: the wanted risk sets the limits")
        )
    return faults


def _process(item: RiskInput, unit: Unit) -> NormalProcess | GammaProcess:
    held = item.process
    if held.gamma is not None:
        return GammaProcess(held.gamma.shape, float(held.gamma.rate.difference * unit.factor))
    assert held.mean is not None, "checked before"
    assert held.standard_deviation is not None, "checked before"
    return NormalProcess(float(held.mean.into(unit)), float(held.standard_deviation.into(unit, as_difference=True)))


def _first(item: RiskInput) -> Quantity:
    """The figure whose family the answer follows."""
    return item.process.mean or item.upper or item.lower or item.standard_uncertainty


def _answer(item: RiskInput) -> Document:
    unit = answer_unit(item.units, _first(item))
    process, u = _process(item, unit), float(item.standard_uncertainty.into(unit, as_difference=True))

    def number(one: Quantity | None, missing: float) -> float:
        return missing if one is None else float(one.into(unit))

    low, high = number(item.lower, -math.inf), number(item.upper, math.inf)
    take_low, take_high = number(item.accept_lower, low), number(item.accept_upper, high)
    warnings: list[Warned] = []
    if item.wanted_consumer_risk is not None:
        guard = float(guard_for_consumer_risk(process, u, item.wanted_consumer_risk, low, high))
        take_low, take_high = low + guard, high - guard
        if math.isfinite(take_low):
            text = f"accept from {significant(take_low, 6)} {unit.name}".removesuffix(" 1")
            warnings.append({"code": "accept-from", "text": text})
        if math.isinf(guard):
            text = "fewer parts than wanted are bad at all: nothing need be refused"
            warnings.append({"code": "nothing-to-refuse", "text": text})
    risk = global_risk(process, u, low, high, take_low, take_high)
    answer: Document = {
        "nonconforming": float(risk.nonconforming),
        "consumer_risk": float(risk.consumer),
        "producer_risk": float(risk.producer),
        "accept_upper": float_or_plain(take_high if math.isfinite(take_high) else math.nan, unit, 6),
    }
    return {**answer, "warnings": warnings} if warnings else answer


def compute(items: Sequence[RiskInput]) -> list[Document]:
    """Compute the risks of each item.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    return [_answer(item) for item in items]


def _process_lines(item: RiskInput, unit: Unit) -> list[str]:
    held = item.process
    if held.gamma is not None:
        shape, rate = held.gamma.shape, float(held.gamma.rate.difference * unit.factor)
        middle, spread = number_text(shape / rate), number_text(math.sqrt(shape) / rate)
        digits = number_text(shape)
        return [
            f"true values: gamma, shape {digits}, rate {typed(held.gamma.rate)}",
            f"mean = {digits} / {number_text(rate)} = {with_unit(middle, unit)}",
            f"standard deviation = sqrt({digits}) / {number_text(rate)} = {with_unit(spread, unit)}",
        ]
    assert held.mean is not None, "checked before"
    assert held.standard_deviation is not None, "checked before"
    mean, spread = figure_in(held.mean, unit), figure_in(held.standard_deviation, unit, as_difference=True)
    lines = [f"true values: normal, mean {with_unit(mean, unit)}, standard deviation {with_unit(spread, unit)}"]
    for name, limit, sign in (("lower", item.lower, -1), ("upper", item.upper, 1)):
        if limit is not None:
            far = float((limit.into(unit) - held.mean.into(unit)) * sign)
            steps = number_text(far / float(held.standard_deviation.into(unit, as_difference=True)))
            difference = minus(*[figure_in(limit, unit), mean][::sign])
            lines.append(f"to the {name} limit: ({difference}) / {spread} = {steps} standard deviations")
    return lines


def _between(low: str, high: str) -> str:
    return f"{low} to {high}" if low and high else f"{low} or more" if low else f"{high} or less"


def _accepted(item: RiskInput, answer: Document, unit: Unit) -> str:
    """Say which readings are accepted; the lower end under a wanted risk lies as far inside as the upper."""
    if item.wanted_consumer_risk is not None:
        upper = answer["accept_upper"]
        end = f": up to {answer_text(upper)}" if upper is not None else ""
        return f"readings accepted so that the consumer's risk is {number_text(item.wanted_consumer_risk)}{end}"
    low, high = item.accept_lower or item.lower, item.accept_upper or item.upper
    ends = ["" if one is None else with_unit(figure_in(one, unit), unit) for one in (low, high)]
    return f"readings accepted: {_between(*ends)}"


def _working(item: RiskInput, answer: Document) -> list[str]:
    unit = answer_unit(item.units, _first(item))
    good = ["" if one is None else with_unit(figure_in(one, unit), unit) for one in (item.lower, item.upper)]
    bad, consumer, producer = (answer[name] for name in ("nonconforming", "consumer_risk", "producer_risk"))
    taken = 1 - bad - producer + consumer
    shares = " ".join((f"1 - {number_text(bad)} - {number_text(producer)}", f"+ {number_text(consumer)}"))
    u = with_unit(figure_in(item.standard_uncertainty, unit, as_difference=True), unit)
    return [
        *_process_lines(item, unit),
        f"readings: spread about the true value with u = {u}",
        f"good parts: {_between(*good)}; {_accepted(item, answer, unit)}",
        f"not good, of all parts: {number_text(bad)}",
        f"not good and accepted, of all parts: {number_text(consumer)} (consumer's risk)",
        f"good and refused, of all parts: {number_text(producer)} (producer's risk)",
        f"accepted in all = {shares} = {number_text(taken)}",
        *(
            [
                f"not good among the accepted = {number_text(consumer)} / {number_text(taken)} = "
                f"{number_text(consumer / taken)}"
            ]
            if taken > 0
            else []
        ),
        "because: JCGM 106:2012, clause 9, joint probabilities (clause read in public notebooks, the rest from memory)",
    ]


CALCULATOR = Calculator(
    name="risk",
    input=RiskInput,
    output=RiskAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="M P3.9",
        source="JCGM 106:2012, 9.5.4, ball bearing (read, as quoted in the notebooks of a metrology library)",
        input={
            "process": {"gamma": {"shape": 4, "rate": "4 1/um"}},
            "standard_uncertainty": "0.25 um",
            "upper": "2 um",
        },
        published={"nonconforming": 0.042, "consumer_risk": 0.0080},
    ),
)
