"""What the gauge's doubt makes of a plain verdict.

The plain verdict stands first. Beyond stays beyond, and no limit stays no limit, whatever the doubt. A value within
its limits is undecided where the rule of the job asks for more distance than it has; a gauge whose doubt is small
enough is named. Where no doubt is known the plain verdict is the answer.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from tenthbook.numbers.because import Register, Rule
from tenthbook.numbers.limit import Grade, Limits, Verdict, grade_one, judge, margins_of
from tenthbook.numbers.quantity import Unit, shown
from tenthbook.record.job import Gauge, JobState
from tenthbook.trade.gauge.conformity import DecisionRule, guard_factor

RULES = Register()
UNDECIDED = RULES.add(
    Rule(
        id="doubt.undecided",
        says="A value within its limits whose margin is smaller than the guard of its gauge is undecided, until it is "
        "read with a better one.",
        source="ISO 14253-1:2017: guard of 1.65 standard uncertainties by default (read in a public procedure)",
        holds=lambda margin, guard: margin >= guard,
        passes={"margin": 0.00045, "guard": 0.0001},
        fails={"margin": 0.0003, "guard": 0.00033},
        todo="read it again with a gauge that decides",
    )
)


@dataclass(frozen=True, slots=True)
class Ruling(Verdict):
    """A verdict after doubt.

    Attributes:
        plain: The grade at face value.
        standard_uncertainty: Of the value [m]; None where it is not known.
        guard: Distance the rule asks for [m]; nought under the plain rule.
    """

    plain: Grade
    standard_uncertainty: Fraction | None
    guard: Fraction


@lru_cache(maxsize=64)
def _factor(rule: str, conformance: str) -> Fraction:
    return Fraction(float(guard_factor(DecisionRule(rule), float(conformance))))


def rule_on(value: Fraction, u: Fraction | None, limits: Limits, state: JobState) -> Ruling:
    """Judge a value with its doubt.

    Args:
        value: The value [m], exact.
        u: Its standard uncertainty [m]; None where it is not known.
        limits: The row's limits.
        state: The job, which says how doubt is judged.

    Returns:
        The verdict after doubt, with the plain grade beside it.

    Source: ISO 14253-1:2017 (guarded), JCGM 106:2012, 8.3 (from memory).
    """
    margins = margins_of(value, limits)
    plain = judge(value, limits, margins)
    if u is None or plain.grade in (Grade.REJECT, Grade.NO_LIMIT):
        return Ruling(plain.grade, plain.side, plain.limit, plain.distance, plain.grade, u, Fraction(0))
    guard = _factor(state.rule, state.conformance) * u
    grade = grade_one(margins, guard)
    nearest = plain
    if grade is not plain.grade and limits.service.given:
        nearest = judge(value, Limits(service=limits.service_resolved))
    return Ruling(grade, None, nearest.limit, nearest.distance, plain.grade, u, guard)


@lru_cache(maxsize=1024)
def length_text(value: Fraction, unit: Unit) -> str:
    """Write a computed length with two significant figures.

    Args:
        value: The length [m].
        unit: The unit to write it in [in or mm].

    Returns:
        The number and its unit.
    """
    number = float(value / unit.factor)
    return f"{shown(Fraction(f'{number:.1e}'), 0)} {unit.name}" if number else f"0 {unit.name}"


@dataclass(frozen=True, slots=True)
class Way:
    """A way to read a value: with which gauges, and the standard uncertainty it would then have [m]."""

    gauges: tuple[Gauge, ...]
    standard_uncertainty: Fraction


def doubt_lines(ruling: Ruling, unit: Unit, gauges: Iterable[Gauge], ways: Iterable[Way], state: JobState) -> list[str]:
    """Write what the doubt was and what it made of the verdict.

    Args:
        ruling: The verdict after doubt.
        unit: Unit of the row [in or mm].
        gauges: Gauges the value was read with.
        ways: The ways it can be read with the gauges on the bench.
        state: The job.

    Returns:
        A line a gauge, then the guard, then which gauge would decide; nothing where no doubt is known.
    """
    if ruling.standard_uncertainty is None:
        return []
    lines = [f"gauge {one.id}, {one.name}: {one.expanded} at k = {one.coverage_factor}" for one in gauges]
    u = length_text(ruling.standard_uncertainty, unit)
    if not ruling.guard:
        return [*lines, f"standard uncertainty {u}; rule {state.rule}"]
    factor = _factor(state.rule, state.conformance)
    lines.append(f"rule {state.rule}: guard {float(factor):.3f} x {u} = {length_text(ruling.guard, unit)}")
    if ruling.grade is Grade.UNDECIDED:
        lines.append(f"the margin is smaller than the guard: undecided; {_would_decide(ruling, ways, factor)}")
    return lines


def _would_decide(ruling: Ruling, ways: Iterable[Way], factor: Fraction) -> str:
    """Name the least that decides: as few gauges as can be, then the one that asks least."""
    limit = ruling.limit
    margin = ruling.distance * limit.unit.factor if limit is not None else Fraction(0)
    able = [way for way in ways if way.standard_uncertainty * factor <= margin]
    if not able:
        return "no gauge on the bench would decide"
    best = min(able, key=lambda way: (len(way.gauges), -way.standard_uncertainty))
    named = [f"{one.name} {one.id} would decide ({one.expanded} at k = {one.coverage_factor})" for one in best.gauges]
    return named[0] if len(named) == 1 else " with ".join([f"{best.gauges[0].name} {best.gauges[0].id}", named[1]])
