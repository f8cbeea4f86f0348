"""How two measured parts go together: the calculator `fit`.

Clearance is hole less shaft, exact. The plain grade takes it at face value, the grade under a rule asks that a band be
proven; what lies on the guard is decided exactly. The doubt of a size that states none counts as nought where the other
size states one; where neither does, there is no doubt to guard against, and only the plain rule can be used. A doubt
stated as nought is taken at its word, and the grade is the plain one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from typing import Any, Literal

import numpy as np
from pydantic import Field
from typing_extensions import TypedDict

from tenthbook.faces.calculators.answers import Answer, exact_answer, float_answer, plain_answer
from tenthbook.faces.calculators.contract import Calculator, Document, Example, Input, Part
from tenthbook.faces.calculators.limit_pairs import LetterUnit, LimitPair, read_limits
from tenthbook.faces.calculators.quantities import answer_unit, decimals_in
from tenthbook.faces.calculators.working import (
    answer_text,
    answer_unit_of,
    conversions,
    digits_of,
    figure_in,
    fine_digits,
    guard_line,
    minus,
    reason_of_rule,
    root_of_squares,
    standing,
)
from tenthbook.numbers.because import Fault
from tenthbook.numbers.limit import Band, Grade, Limits, bands, grade_with_doubt, service_bands
from tenthbook.numbers.quantity import Quantity, Unit, letter_of
from tenthbook.numbers.quantity.arrays import PICOMETRES, metres, picometres
from tenthbook.numbers.quantity.fields import LengthAboveZero, LengthZeroOrMore
from tenthbook.trade.fit.clearance import GradedFits, clearance_uncertainty, grade_fits
from tenthbook.trade.gauge.conformity import DecisionRule, guard_factor
from tenthbook.trade.gauge.roots import exact_root


class SizedPart(Part):
    """A measured size and how sure it is."""

    size: LengthAboveZero
    standard_uncertainty: LengthZeroOrMore | None = None


class FitInput(Input):
    """Two measured parts and the limits of their fit."""

    hole: SizedPart = Field(description="the outer part: an object with size and, if known, standard_uncertainty")
    shaft: SizedPart = Field(description="the inner part: an object with size and, if known, standard_uncertainty")
    common: LengthZeroOrMore | None = Field(
        default=None,
        description="part of both standard uncertainties that comes from one instrument, such as '0.0001 in'",
    )
    new: LimitPair | None = None
    service: LimitPair | None = None
    unit: LetterUnit = None
    rule: Literal["plain", "guarded", "full U"] = Field(
        description='"plain", "guarded" or "full U"; the last two need a standard uncertainty of hole or shaft'
    )
    conformance: float = Field(
        default=0.95, ge=0.5, lt=1, description="least probability of being right, one-sided, from 0.5 to below 1"
    )


class LimitsAnswer(TypedDict):
    """Limits as they apply; a pair is null where the row gives none, a side is null where nothing limits it."""

    new: list[Answer | None] | None
    service: list[Answer | None] | None


class FitAnswer(TypedDict):
    """The answer of `fit`."""

    clearance: Answer
    letter: Literal["T", "L"] | None
    standard_uncertainty: Answer | None
    limits: LimitsAnswer
    plain_grade: Literal["new", "service", "reject", "no limit"]
    grade: Literal["new", "service", "reject", "undecided", "no limit"]
    probability_new: float | None
    probability_service: float | None


def _check(item: FitInput) -> list[Fault]:
    faults: list[Fault] = []
    read_limits(item, faults)
    stated = [part.standard_uncertainty for part in (item.hole, item.shaft)]
    if item.rule != "plain" and stated == [None, None]:
        expected = f"a standard uncertainty of hole or shaft, since rule is {item.rule!r}; without one only 'plain'"
        faults.append(Fault("hole.standard_uncertainty", "nothing", expected))
    if item.common is not None and item.common.exact > min(u.exact if u is not None else Fraction(0) for u in stated):
        faults.append(Fault("common", repr(str(item.common)), "at most the smaller of the two standard uncertainties"))
    return faults


def _uncertainties(items: Sequence[FitInput]) -> Any:
    def in_pm(one: Quantity | None, missing: float) -> float:
        return float(one.exact * PICOMETRES) if one is not None else missing

    hole = [in_pm(item.hole.standard_uncertainty, np.nan) for item in items]
    shaft = [in_pm(item.shaft.standard_uncertainty, np.nan) for item in items]
    return clearance_uncertainty(hole, shaft, [in_pm(item.common, 0.0) for item in items])


@lru_cache(maxsize=256)
def _factor(rule: str, conformance: float) -> float:
    return float(guard_factor(DecisionRule(rule), conformance))


def _guard_pm(item: FitInput) -> Fraction:
    """Distance to keep from a limit, exact where the root of the squares is [pm]."""
    stated = [item.hole.standard_uncertainty, item.shaft.standard_uncertainty]
    if item.rule == "plain" or stated == [None, None]:
        return Fraction(0)
    squares = [one.exact**2 for one in stated if one is not None]
    shared = item.common.exact**2 if item.common is not None else Fraction(0)
    return Fraction(_factor(item.rule, item.conformance)) * exact_root(sum(squares) - 2 * shared) * PICOMETRES


@lru_cache(maxsize=4096)
def _side_answer(side: Quantity, unit: Unit) -> Answer:
    return exact_answer(side.exact, unit, decimals_in(unit, [side]))


def _band_answer(band: Band, unit: Unit) -> list[Answer | None] | None:
    if not band.given:
        return None
    return [None if side is None else _side_answer(side, unit).copy() for side in (band.lower, band.upper)]


def _answer(item: FitInput, limits: Limits, graded: GradedFits, place: int) -> Document:
    unit = answer_unit(item.units, item.hole.size)
    clearance = metres(graded.clearance[place])
    in_unit = float(unit.factor * PICOMETRES)
    return {
        "clearance": exact_answer(clearance, unit, decimals_in(unit, [item.hole.size, item.shaft.size])),
        "letter": letter_of(clearance),
        "standard_uncertainty": float_answer(float(graded.standard_uncertainty[place]) / in_unit, unit),
        "limits": {"new": _band_answer(limits.new, unit), "service": _band_answer(limits.service_resolved, unit)},
        "plain_grade": Grade(int(graded.plain[place])).word,
        "grade": Grade(int(graded.grade[place])).word,
        "probability_new": plain_answer(float(graded.probability_new[place])),
        "probability_service": plain_answer(float(graded.probability_service[place])),
    }


def compute(items: Sequence[FitInput]) -> list[Document]:
    """Grade many fits at once.

    Args:
        items: Inputs that were read and checked.

    Returns:
        One answer an input, in order.
    """
    printed = [read_limits(item, []) for item in items]
    new = bands([limits.new for limits in printed])
    service = service_bands(new, bands([limits.service for limits in printed]))
    clearance = picometres([item.hole.size for item in items]) - picometres([item.shaft.size for item in items])
    guards = np.array([*(_guard_pm(item) for item in items), None], dtype=object)[:-1]
    graded = grade_fits(clearance, _uncertainties(items), 0.0, new, service)
    graded = replace(graded, grade=grade_with_doubt(clearance, guards, new, service))
    return [
        _answer(item, limits, graded, place) for place, (item, limits) in enumerate(zip(items, printed, strict=True))
    ]


_GRADES = {
    "new": "in new limits",
    "service": "in service limits",
    "reject": "beyond",
    "undecided": "undecided",
    "no limit": "no limit judges it, which is not passed",
}


def _doubt_line(item: FitInput, answer: Document, unit: Unit) -> list[str]:
    found = answer["standard_uncertainty"]
    if found is None:
        return []
    parts = [figure_in(u, unit) for u in (item.hole.standard_uncertainty, item.shaft.standard_uncertainty) if u]
    shared = f" - 2 x {figure_in(item.common, unit)}^2" if item.common is not None else ""
    return [f"u = {root_of_squares(parts, shared)} = {fine_digits(found)} {unit.name}"]


def _side_lines(item: FitInput, limits: Limits, unit: Unit, guard_pm: Fraction) -> list[str]:
    """Hold the clearance against each side of each band, exactly."""
    clearance = item.hole.size.exact - item.shaft.size.exact
    decimals = decimals_in(unit, [item.hole.size, item.shaft.size])
    lines = []
    for name, band in (("new", limits.new), ("service", limits.service_resolved)):
        for side, limit in (("tightest", band.lower), ("loosest", band.upper)):
            if limit is not None:
                margin = (limit.exact - clearance) * (1 if side == "loosest" else -1)
                ends = [digits_of(clearance / unit.factor, decimals), figure_in(limit, unit)]
                sum_text = minus(*(ends if side == "tightest" else ends[::-1]))
                found = digits_of(margin / unit.factor, max(decimals, decimals_in(unit, [limit])))
                words = standing(margin * PICOMETRES, guard_pm)
                lines.append(f"{name}, {side}: {sum_text} = {found} {unit.name}, {words}")
    return lines


def _working(item: FitInput, answer: Document) -> list[str]:
    unit, limits = answer_unit_of(answer["clearance"]), read_limits(item, [])
    factor, guard_pm = _factor(item.rule, item.conformance), _guard_pm(item)
    doubt = answer["standard_uncertainty"]
    guard = float_answer(float(guard_pm / (unit.factor * PICOMETRES)), unit)
    sizes, doubts = (item.hole.size, item.shaft.size), (item.hole.standard_uncertainty, item.shaft.standard_uncertainty)
    word = {"L": ", loose (L)", "T": ", tight (T)", None: ", neither loose nor tight"}[answer["letter"]]
    sides = _side_lines(item, limits, unit, guard_pm)
    proven = ", proven" if guard_pm and answer["grade"] in ("new", "service", "reject") else ""
    return [
        *conversions((*sizes, *doubts, item.common), unit),
        f"{figure_in(sizes[0], unit)} {unit.name} - {figure_in(sizes[1], unit)} {unit.name} = "
        f"{answer_text(answer['clearance'])}{word}",
        *_doubt_line(item, answer, unit),
        guard_line(item.rule, factor, fine_digits(doubt) if doubt else "", answer_text(guard), item.conformance),
        *(sides or ["no limit given: nothing to hold the clearance against"]),
        f"grade: {_GRADES[answer['grade']]}{proven}",
        reason_of_rule(item.rule),
        *(["because: JCGM 100:2008, 5.2.2, for the doubt of a difference (from memory)"] if doubt else []),
    ]


CALCULATOR = Calculator(
    name="fit",
    input=FitInput,
    output=FitAnswer,
    compute=compute,
    check=_check,
    working=_working,
    example=Example(
        id="M P9.2",
        source="derived: a clearance that lies on its limit, which binary floating point rejects; no published value",
        input={
            "hole": {"size": "2.0045 in"},
            "shaft": {"size": "2.0020 in"},
            "service": [None, "0.0025 in"],
            "rule": "plain",
        },
        published={"plain_grade": "service", "grade": "service", "letter": "L"},
    ),
)
