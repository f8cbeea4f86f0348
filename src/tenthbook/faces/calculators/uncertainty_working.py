"""How several doubts became one: the working of the calculator `uncertainty`.

It takes the input as it was read and the answer as it was computed, and writes the sums between them.
"""

from __future__ import annotations

from typing import Any

from tenthbook.faces.calculators.working import (
    answer_text,
    answer_unit_of,
    fine_digits,
    number_text,
    root_of_squares,
    shortened,
    typed,
    with_unit,
)

_DIVISORS = {"rectangular": "sqrt(3)", "triangular": "sqrt(6)", "arcsine": "sqrt(2)"}


def _input_line(one: Any, contribution: Any) -> str:
    """Write how one stated doubt became its part of the whole."""
    if one.half_width is not None:
        stated = f"{typed(one.half_width)} / {_DIVISORS[one.shape]}"
    elif one.expanded is not None:
        stated = f"{typed(one.expanded)} / {number_text(one.coverage_factor)}"
    else:
        stated = typed(one.standard)
    plain = one.sensitivity.difference == 1 and not any(one.sensitivity.unit.dimension)
    if plain and one.standard is not None and one.standard.unit == answer_unit_of(contribution):
        return f"{one.name}: {stated}, as stated"
    moved = stated if plain else f"{stated} x {typed(one.sensitivity)}"
    if one.sensitivity.number < 0:
        moved = f"|{moved}|"
    unit = answer_unit_of(contribution)
    return f"{one.name}: {moved} = {with_unit(fine_digits(contribution), unit)}"


def _correlation_terms(item: Any, digits: dict[str, str]) -> str:
    """Write what correlations add under the root; the sign of a sensitivity turns that of its term."""
    terms = ""
    for left, right, r in item.correlations:
        signs = [one.sensitivity.number < 0 for one in item.inputs if one.name in (left, right)]
        turned = -r if signs[0] != signs[1] else r
        terms += f" {'-' if turned < 0 else '+'} 2 x {number_text(abs(turned))} x {digits[left]} x {digits[right]}"
    return terms


def _framework_lines(item: Any, answer: dict[str, Any], digits: dict[str, str]) -> list[str]:
    standard, used = fine_digits(answer["standard"]), answer["degrees_of_freedom_used"]
    lines = [
        f"standard = {root_of_squares(list(digits.values()), _correlation_terms(item, digits))} = "
        f"{with_unit(standard, answer_unit_of(answer['standard']))}"
    ]
    if used is not None and not item.correlations:
        terms = " + ".join(
            f"{digits[one.name]}^4 / {number_text(one.degrees_of_freedom)}"
            for one in item.inputs
            if one.degrees_of_freedom is not None
        )
        found = number_text(answer["effective_degrees_of_freedom"])
        lines.append(f"degrees of freedom = {standard}^4 / ({terms}) = {found}, cut down to {number_text(used)}")
    elif used is not None:
        lines.append(
            "correlated inputs count as one, with the least degrees of freedom among them: "
            f"{number_text(answer['effective_degrees_of_freedom'])} in all, cut down to {number_text(used)}"
        )
    if item.correlations:
        lines.append("share of each: its own square and half of what its correlations add or take away, over u^2")
    factor, confidence = number_text(answer["coverage_factor"], 4), number_text(item.confidence)
    law = "the normal factor" if used is None else f"Student's factor for {number_text(used)} degrees of freedom"
    lines.append(f"coverage factor {factor}: {law} at a confidence of {confidence}")
    lines.append(f"expanded = {factor} x {standard} = {answer_text(answer['expanded'])}")
    return [*lines, "because: JCGM 100:2008, 5.1, 5.2 and annex G (from memory)"]


def _drawn_lines(item: Any, answer: dict[str, Any]) -> list[str]:
    low, high = (answer_text(end) for end in answer["interval"])
    trials = "a million trials, or more until the answer stands" if item.trials is None else f"{item.trials} trials"
    return [
        f"{trials}, seed {item.seed}: standard deviation {answer_text(answer['standard'])}",
        f"shortest interval that holds {number_text(item.confidence)} of them: {low} to {high}",
        f"half of its width = ({high} - ({low})) / 2 = {answer_text(answer['half_width'])}",
        "because: JCGM 101:2008, propagation of distributions by Monte Carlo (from memory)",
    ]


def write_working(item: Any, answer: dict[str, Any]) -> list[str]:
    """Write how several doubts became one.

    Args:
        item: The input as read.
        answer: Its answer.

    Returns:
        Lines in the user's own numbers [the unit of the first input], the sources last.
    """
    contributions = {part["name"]: part["contribution"] for part in answer["budget"]}
    lines = shortened([_input_line(one, contributions[one.name]) for one in item.inputs])
    if item.method == "monte carlo":
        return [*lines, *_drawn_lines(item, answer)]
    digits = {name: fine_digits(part) for name, part in contributions.items()}
    return [*lines, *_framework_lines(item, answer, digits)]
