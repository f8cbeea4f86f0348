"""How a size came out of its readings: the working of the calculator `size`.

It takes the input as it was read and the answer as it was computed, and writes the sums between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from tenthbook.faces.calculators.answers import significant
from tenthbook.faces.calculators.quantities import decimals_in
from tenthbook.faces.calculators.working import (
    answer_text,
    answer_unit_of,
    conversions,
    digits_of,
    figure_in,
    fine_digits,
    minus,
    number_text,
    root_of_squares,
    shortened,
)
from tenthbook.numbers.quantity import Quantity, Unit, find_unit
from tenthbook.trade.gauge.corrections import REFERENCE_DEGC, temperature_factor

_TERMS = 12
_DIVISORS = {"resolution": "sqrt(12)", "error limit": "sqrt(3)"}


def _zero(item: Any, unit: Unit) -> tuple[str, list[str]]:
    """Digits of the gauge's zero, and the line that finds it; empty without a master."""
    if item.master is None:
        return "", []
    nominal, before = (figure_in(one, unit) for one in (item.master.nominal, item.master.before))
    given, read = [item.master.nominal, item.master.before], before
    zero = item.master.before.exact - item.master.nominal.exact
    if item.master.after is not None:
        given.append(item.master.after)
        read = f"({before} + {figure_in(item.master.after, unit)}) / 2"
        zero = (item.master.before.exact + item.master.after.exact) / 2 - item.master.nominal.exact
    found = digits_of(zero / unit.factor, decimals_in(unit, given))
    return found, [f"zero of the gauge = {minus(read, nominal)} = {found} {unit.name}, to be taken off"]


def _factor(item: Any) -> tuple[str, list[str]]:
    """Digits of the factor to 20 degC, and the line that finds it; empty without temperatures."""
    if item.temperatures is None or item.expansion is None:
        return "", []
    degc, per_degc = find_unit("degC"), find_unit("1/degC")
    sums, warmth, growth = [], [], []
    for side in ("part", "instrument"):
        warm, grow = getattr(item.temperatures, side), getattr(item.expansion, side)
        above = digits_of(warm.into(degc) - REFERENCE_DEGC, 0)
        sums.append(f"(1 + {figure_in(grow, per_degc)} x {f'({above})' if above.startswith('-') else above})")
        warmth.append(warm.into(degc))
        growth.append(grow.difference)
    found = significant(float(temperature_factor(*warmth, *growth)), 9)
    return found, [f"factor to 20 degC = {sums[1]} / {sums[0]} = {found}"]


def _mean_lines(figures: Sequence[Quantity], unit: Unit, answer: dict[str, Any], zero: str, factor: str) -> list[str]:
    count, size = len(figures), answer_text(answer["size"])
    total = " + ".join(figure_in(one, unit) for one in figures)
    exact = Fraction(sum(one.exact for one in figures)) / unit.factor
    if count > _TERMS:
        total = f"the sum of {count} readings, {digits_of(exact, decimals_in(unit, figures))}"
    over = f"({total}) / {count}" if count > 1 else total
    if not zero and not factor:
        return [f"size = {over} = {size}"]
    mean = digits_of(exact / count, decimals_in(unit, figures))
    less = minus(mean, zero) if zero else mean
    lines = [f"mean = {over} = {mean} {unit.name}"] if count > 1 else []
    return [*lines, f"size = ({less}) x {factor} = {size}" if factor else f"size = {less} = {size}"]


def _form_lines(item: Any, unit: Unit, answer: dict[str, Any], factor: str) -> list[str]:
    """Largest less smallest, at each station and along each direction."""
    if item.stations is None:
        return []
    lines = []
    columns = [list(column) for column in zip(*item.stations, strict=True)]
    for name, word, groups in (("out_of_round", "station", item.stations), ("taper", "direction", columns)):
        for place, (group, found) in enumerate(zip(groups, answer[name] or (), strict=False), 1):
            ends = [max(group, key=lambda one: one.exact), min(group, key=lambda one: one.exact)]
            difference = minus(*(figure_in(one, unit) for one in ends))
            scaled = f"({difference}) x {factor}" if factor else difference
            lines.append(f"{name.replace('_', '-')}, {word} {place}: {scaled} = {answer_text(found)}")
    return shortened(lines)


def _doubt_lines(item: Any, figures: Sequence[Quantity], answer: dict[str, Any]) -> list[str]:
    if answer["standard_uncertainty"] is None:
        return ["no error limit and no step of the gauge: nothing is known of the doubt"]
    stated = item.instrument
    typed_as = {"resolution": stated and stated.resolution, "error limit": stated and stated.error_limit}
    lines, unit = [], answer_unit_of(answer["size"])
    for part in answer["budget"]:
        figure, found = typed_as.get(part["name"]), f"{fine_digits(part['contribution'])} {unit.name}"
        if figure is not None:
            by = _DIVISORS[part["name"]]
            lines += conversions([figure], unit)
            lines.append(f"{part['name']}: {figure_in(figure, unit)} / {by} = {found}")
        else:
            lines.append(f"readings: their standard deviation / sqrt({len(figures)}) = {found}")
    u, expanded = fine_digits(answer["standard_uncertainty"]), answer["expanded"]
    factor = number_text(expanded["value"] / answer["standard_uncertainty"]["value"], 4)
    parts = [fine_digits(part["contribution"]) for part in answer["budget"]]
    return [
        *lines,
        f"u = {root_of_squares(parts)} = {u} {unit.name}",
        f"expanded = {factor} x {u} = {answer_text(expanded)}, at a confidence of {number_text(item.confidence)}",
    ]


def write_working(item: Any, answer: dict[str, Any]) -> list[str]:
    """Write how a size came out of its readings.

    Args:
        item: The input as read.
        answer: Its answer.

    Returns:
        Lines in the user's own numbers [in or mm], the sources last.
    """
    figures = [one for row in item.stations for one in row] if item.stations else list(item.readings)
    unit = answer_unit_of(answer["size"])
    (zero, zero_lines), (factor, factor_lines) = _zero(item, unit), _factor(item)
    master = [item.master.nominal, item.master.before, item.master.after] if item.master else []
    warmth = [item.temperatures.part, item.temperatures.instrument] if factor else []
    return [
        *shortened(conversions([*figures, *master], unit)),
        *conversions(warmth, find_unit("degC")),
        *zero_lines,
        *factor_lines,
        *_mean_lines(figures, unit, answer, zero, factor),
        *_form_lines(item, unit, answer, factor),
        *_doubt_lines(item, figures, answer),
        *(["because: ISO 1:2022, sizes are those at 20 degC (abstract read)"] if factor else []),
        "because: JCGM 100:2008, 4.2, 4.3.7 and F.2, spread, error limit and step (from memory)",
    ]
