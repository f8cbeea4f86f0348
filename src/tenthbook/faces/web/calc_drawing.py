"""Which picture goes with an answer: the gap of a fit, the edge of a length against its limits.

The doubt is drawn two standard uncertainties wide to either side, and the line under the picture says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from tenthbook.faces.calculators.answers import significant
from tenthbook.faces.calculators.working import figure_in
from tenthbook.faces.draw import CannotDraw, EdgeDrawing, GapDrawing, Mark, draw_edge, draw_gap
from tenthbook.numbers.quantity import Unit, quantity

Document = Mapping[str, Any]
Picture = dict[str, SafeString | str]
_GRADE_MARKS = {"new": "new", "service": "service", "reject": "beyond", "undecided": "undecided", "no limit": "none"}
_VERDICT_MARKS = {"within": "new", "outside": "beyond", "undecided": "undecided", "no limit": "none"}
# A picture has the words of a job; the limits of a value by itself are neither those of new parts nor of parts in
# service.
_NEITHER = {">IN NEW LIMITS<": ">WITHIN<", ">service": ">limit"}
_TWICE = 2


def _mark(answer: Mapping[str, Any] | None) -> Mark | None:
    return None if answer is None else Mark(float(answer["value"]), str(answer["text"]).split(" ")[0])


def _sides(pair: list[Any] | None) -> tuple[Mark | None, Mark | None]:
    least, greatest = pair or (None, None)
    return _mark(least), _mark(greatest)


def _under(doubt: float | None, unit: str) -> str:
    if doubt is None:
        return "No doubt is drawn, since none was stated."
    return f"The feathered edge is two standard uncertainties wide to either side, {significant(doubt, 2)} {unit}."


def _draw_fit(document: Document, answer: Document) -> Picture:  # noqa: ARG001 - every picture is drawn from both
    clearance, found = answer["clearance"], answer["standard_uncertainty"]
    doubt = _TWICE * float(found["value"]) if found else None
    limits = answer["limits"]
    said = "; ".join(
        f"{name} limits {' to '.join('none' if end is None else end['text'] for end in pair)}"
        for name, pair in limits.items()
        if pair
    )
    record = GapDrawing(
        inner="shaft",
        outer="hole",
        unit=clearance["unit"],
        reading=Mark(float(clearance["value"]), clearance["text"].split(" ")[0]),
        doubt=doubt,
        new=_sides(limits["new"]),
        service=_sides(limits["service"]),
        forecast=None,
        forecast_label="",
        verdict=_GRADE_MARKS[answer["grade"]],
        sentence=f"Clearance {clearance['text']}: {answer['grade']}; {said or 'no limits given'}.",
    )
    wide, narrow = draw_gap(record, name="fitw"), draw_gap(record, narrow=True, name="fitn")
    return {"wide": mark_safe(wide), "narrow": mark_safe(narrow), "under": _under(doubt, clearance["unit"])}


def _limit(text: Any, unit: Unit) -> Mark | None:
    if text is None:
        return None
    limit = quantity(text)
    return Mark(float(limit.into(unit)), figure_in(limit, unit))


def _neither(svg: str) -> SafeString:
    for of_a_job, by_itself in _NEITHER.items():
        svg = svg.replace(of_a_job, by_itself)
    return mark_safe(svg)


def _draw_verdict(document: Document, answer: Document) -> Picture | None:
    """Draw a value that is a length and has a limit."""
    stated = [document.get(name) for name in ("lower", "upper")]
    if not isinstance(document["value"], str) or stated == [None, None]:
        return None
    value = quantity(document["value"])
    unit = value.unit
    if unit.kind != "length":
        return None
    doubt = _TWICE * float(quantity(document["standard_uncertainty"]).into(unit))
    limits = (_limit(stated[0], unit), _limit(stated[1], unit))
    said = " and ".join(f"{name} limit {text}" for name, text in zip(("lower", "upper"), stated, strict=True) if text)
    record = EdgeDrawing(
        feature="value",
        unit=unit.name,
        reading=Mark(float(value.number), value.typed),
        doubt=doubt,
        new=(None, None),
        service=limits,
        verdict=_VERDICT_MARKS[answer["verdict"]],
        sentence=f"Value {value}, {said}: {answer['verdict']}.",
    )
    wide, narrow = draw_edge(record, name="edgew"), draw_edge(record, narrow=True, name="edgen")
    return {"wide": _neither(wide), "narrow": _neither(narrow), "under": _under(doubt, unit.name)}


_DRAWN: dict[str, Callable[[Document, Document], Picture | None]] = {"fit": _draw_fit, "verdict": _draw_verdict}


def picture_of(name: str, document: Document, answer: Document) -> Picture | None:
    """Draw an answer.

    Args:
        name: Name of the calculator.
        document: Its input, which it has read without a fault.
        answer: Its answer.

    Returns:
        `wide` and `narrow` drawings with the line `under` them; None where this calculator has no picture, or its
        numbers find no room on one.
    """
    draw = _DRAWN.get(name)
    try:
        return draw(document, answer) if draw else None
    except CannotDraw:
        return None
