"""How the arithmetic behind an answer is written: the user's own numbers, a line a step, its sources last.

Nothing is computed here that the answer does not rest on; these are the words and the digits. A figure typed in
another unit than the answer's is first written in the answer's unit. Lines that begin with "because:" name the rule or
the document.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from tenthbook.faces.calculators.answers import significant
from tenthbook.faces.calculators.quantities import PLAIN
from tenthbook.numbers.quantity import Quantity, Unit, exact_decimal, find_unit, shown
from tenthbook.trade.gauge.conformity import DecisionRule

_MOST = 40
_BECAUSE = {
    "plain": "because: a value is taken at its face, and on the limit is within it (common practice)",
    "guarded": "because: ISO 14253-1:2017, the guard lies on both sides of each limit (from memory)",
    "full U": "because: ISO 14253-1:1998, the guard is the expanded uncertainty, factor 2 (from memory)",
}


def with_unit(text: str, unit: Unit) -> str:
    """Write a number with its unit.

    Args:
        text: The number's digits.
        unit: Its unit.

    Returns:
        Both; the digits alone for a plain number.
    """
    return text if unit == PLAIN else f"{text} {unit.name}"


def typed(figure: Quantity) -> str:
    """Write a figure as it was typed.

    Args:
        figure: The figure [any unit].

    Returns:
        Its digits and unit.
    """
    return with_unit(figure.typed, figure.unit)


def digits_of(value: Fraction, decimals: int) -> str:
    """Write an exact number.

    Args:
        value: The number [-].
        decimals: Decimals it has at least.

    Returns:
        All its digits where they end, else nine significant ones.
    """
    return significant(float(value), 9) if exact_decimal(value) is None else shown(value, decimals)


def figure_in(figure: Quantity, unit: Unit, *, as_difference: bool = False) -> str:
    """Write a figure's digits in the unit of the answer.

    Args:
        figure: The figure [any unit of the same kind].
        unit: The unit of the answer.
        as_difference: True for an uncertainty or a change of temperature [degC or degF].

    Returns:
        The digits typed where it was typed in that unit, else those of the converted figure; no unit.
    """
    if figure.unit == unit:
        return figure.typed
    return digits_of(figure.into(unit, as_difference=as_difference), 0)


def conversions(figures: Iterable[Quantity | None], unit: Unit, *, as_difference: bool = False) -> list[str]:
    """Write the figures that were typed in another unit in the answer's.

    Args:
        figures: Figures of the input [any unit of the same kind]; None where a field is empty.
        unit: The unit of the answer.
        as_difference: True for uncertainties or changes of temperature [degC or degF].

    Returns:
        A line for each different one, such as "35.7 mm = 1.40551181 in".
    """
    foreign = dict.fromkeys(one for one in figures if one is not None and one.unit != unit)
    return [f"{typed(one)} = {with_unit(figure_in(one, unit, as_difference=as_difference), unit)}" for one in foreign]


def answer_text(answer: Any) -> str:
    """Write a number of an answer.

    Args:
        answer: A quantity of an answer, or a plain number.

    Returns:
        Its text.
    """
    return str(answer["text"]) if isinstance(answer, dict) else number_text(answer)


def answer_digits(answer: Any) -> str:
    """Write a number of an answer without its unit.

    Args:
        answer: A quantity of an answer, or a plain number.

    Returns:
        Its digits.
    """
    return answer_text(answer).split(" ")[0]


def fine_digits(answer: Any) -> str:
    """Write a computed number so finely that the next sum comes out as printed.

    Args:
        answer: A quantity of an answer, or a plain number.

    Returns:
        Four significant figures, without its unit.
    """
    return significant(float(answer["value"] if isinstance(answer, dict) else answer), 4)


def answer_unit_of(answer: Any) -> Unit:
    """Say in which unit a number of an answer stands.

    Args:
        answer: A quantity of an answer, or a plain number.

    Returns:
        The unit.
    """
    return find_unit(answer["unit"]) if isinstance(answer, dict) else PLAIN


def number_text(value: float | Decimal, figures: int = 5) -> str:
    """Write a plain number.

    Args:
        value: The number [-].
        figures: Significant figures of a float that has more.

    Returns:
        Whole numbers and decimals with all their digits; a float with so many figures, without idle noughts, and one
        that only rounds to 1 as what it is: below it.
    """
    if isinstance(value, Decimal | int) or float(value).is_integer():
        return format(Decimal(value), "f") if isinstance(value, Decimal | int) else str(int(value))
    if 1 - 10.0**-figures < value < 1:
        return f"above {1 - Decimal(10) ** -figures}"
    if abs(value) < 1e-6:
        return f"{value:.2g}"
    text = significant(value, figures)
    return text.rstrip("0").rstrip(".") if "." in text else text


def minus(large: str, small: str) -> str:
    """Write a difference.

    Args:
        large: Digits of what is taken from.
        small: Digits of what is taken away.

    Returns:
        "a - b"; a number below nought stands in brackets.
    """
    return f"{large} - ({small})" if small.startswith("-") else f"{large} - {small}"


def root_of_squares(parts: Sequence[str], more: str = "") -> str:
    """Write a root of a sum of squares.

    Args:
        parts: Digits of the parts.
        more: What else stands under the root.

    Returns:
        For instance "sqrt(0.00006^2 + 0.00005^2)".
    """
    return f"sqrt({' + '.join(f'{part}^2' for part in parts)}{more})"


def shortened(lines: list[str]) -> list[str]:
    """Keep a long working readable.

    Args:
        lines: Lines of one kind.

    Returns:
        The first of them, and how many more there are.
    """
    if len(lines) <= _MOST:
        return lines
    return [*lines[:_MOST], f"and {len(lines) - _MOST} more in the same way"]


def guard_line(rule: str, factor: float, doubt: str, guard: str, conformance: float) -> str:
    """Write how far a value must keep from its limits.

    Args:
        rule: "plain", "guarded" or "full U".
        factor: Width of the guard in standard uncertainties [-].
        doubt: Digits of the standard uncertainty; empty where there is none.
        guard: The guard with its unit.
        conformance: Least probability of being right [-], one-sided.

    Returns:
        One line.
    """
    if rule == DecisionRule.PLAIN or not doubt:
        return "plain rule: taken at its face, no guard"
    chance = f", to be right with a probability of {number_text(conformance)}" if rule == DecisionRule.GUARDED else ""
    return f"guard = {significant(factor, 4) if chance else '2'} x {doubt} = {guard}{chance}"


def standing(margin: Fraction, guard: Fraction | float) -> str:
    """Say what a margin to a limit proves.

    Args:
        margin: How far inside the limit, exact; below zero beyond it [the guard's unit].
        guard: Distance to keep [the same unit]; 0 for the plain rule.

    Returns:
        A few words.
    """
    if margin == 0 and guard == 0:
        return "on the limit, which is within"
    if guard == 0:
        return "inside" if margin > 0 else "beyond"
    if margin >= guard:
        return "inside by the guard or more: proven"
    return "beyond by more than the guard: proven" if -margin > guard else "nearer than the guard: not proven"


def reason_of_rule(rule: str) -> str:
    """Name the source of a decision rule.

    Args:
        rule: "plain", "guarded" or "full U".

    Returns:
        One line.
    """
    return _BECAUSE[rule]
