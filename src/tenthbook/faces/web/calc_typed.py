"""From what was typed into a calculator's form to its input, and back; the calculator alone judges.

What was typed is one flat table, path to text, as a form sends it. A number is read where a field takes numbers; text
that is none is handed on as it stands, so that the calculator names it. An empty field is left out.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.calculators.contract import parse
from tenthbook.faces.web.calc_form import BETWEEN, NO, YES, Slot
from tenthbook.numbers.because import WrongInput

Typed = Mapping[str, str]
Document = dict[str, Any]
_WHOLE = re.compile(r"[+-]?[0-9]{1,300}")
_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")


def read_number(text: str) -> Any:
    """Read a number where a field takes one.

    Args:
        text: What was typed.

    Returns:
        The number; the text itself where it is none.
    """
    if _WHOLE.fullmatch(text):
        return int(text)
    if _NUMBER.fullmatch(text) and math.isfinite(float(text)):
        return float(text)
    return text


def _value(slot: Slot, text: str) -> Any:
    return text if slot.is_text else read_number(text)


def _parsed(text: str) -> Any:
    """Read what is typed as JSON; the text itself where it is none."""
    try:
        return parse(text)
    except WrongInput:
        return text


def row_numbers(path: str, typed: Typed) -> list[int]:
    """Say which rows of a set of rows a form sent.

    Args:
        path: Path of the set.
        typed: What was typed.

    Returns:
        Their numbers, in order.
    """
    found = (re.match(rf"{re.escape(path)}\.([0-9]{{1,6}})\.", name) for name in typed)
    return sorted({int(match.group(1)) for match in found if match})


def _rows(slot: Slot, typed: Typed, path: str) -> list[Document]:
    read = (document_of(slot.inner, typed, f"{path}.{number}.") for number in row_numbers(path, typed))
    return [row for row in read if row]


def _read(slot: Slot, typed: Typed, path: str) -> Any:
    """Read one field; None where nothing stands in it."""
    text = typed.get(path, "").strip()
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    match slot.kind:
        case "group":
            inner = document_of(slot.inner, typed, f"{path}.")
            return inner if inner or slot.needed else None
        case "rows":
            return _rows(slot, typed, path)
        case "pair":
            ends = [typed.get(f"{path}.{one.name}", "").strip() for one in slot.inner]
            return [_value(slot.inner[0], end) if end else None for end in ends] if any(ends) else None
        case "lines":
            return [_value(slot, line) for line in lines] or None
        case "table":
            return [[_value(slot, cell.strip()) for cell in line.split(BETWEEN)] for line in lines] or None
        case "truth":
            return {YES: True, NO: False}.get(text, text or None)
        case "other":
            return _parsed(text) if text else None
        case _:
            return _value(slot, text) if text else None


def document_of(slots: tuple[Slot, ...], typed: Typed, prefix: str = "") -> Document:
    """Make the input that a calculator reads.

    Args:
        slots: The fields of its form.
        typed: What was typed, by path.
        prefix: Path the fields lie under, with its last dot.

    Returns:
        The object of its fields; whether it makes sense the calculator says.
    """
    read = {slot.name: _read(slot, typed, prefix + slot.name) for slot in slots}
    return {name: value for name, value in read.items() if value is not None}


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def _written(slot: Slot, value: Any, path: str) -> dict[str, str]:
    match slot.kind:
        case "group":
            return typed_of(slot.inner, value, f"{path}.")
        case "rows":
            rows = (typed_of(slot.inner, row, f"{path}.{number}.") for number, row in enumerate(value, 1))
            return {name: text for row in rows for name, text in row.items()}
        case "pair":
            return {f"{path}.{place}": _text(end) for place, end in enumerate(value, 1)}
        case "lines":
            return {path: "\n".join(_text(one) for one in value)}
        case "table":
            return {path: "\n".join(f"{BETWEEN} ".join(_text(cell) for cell in row) for row in value)}
        case "truth":
            return {path: YES if value else NO}
        case "other":
            return {path: to_json(value)}
        case _:
            return {path: _text(value)}


def typed_of(slots: tuple[Slot, ...], document: Document, prefix: str = "") -> dict[str, str]:
    """Write an input as it would be typed.

    Args:
        slots: The fields of the form.
        document: An object of the calculator's fields.
        prefix: Path the fields lie under, with its last dot.

    Returns:
        Text by path.
    """
    parts = (_written(slot, document[slot.name], prefix + slot.name) for slot in slots if slot.name in document)
    return {path: text for part in parts for path, text in part.items()}


def without_gaps(slots: tuple[Slot, ...], typed: Typed) -> dict[str, str]:
    """Number the rows in which something stands from 1, as the calculator counts them, and leave the others out.

    Args:
        slots: The fields of the form.
        typed: What was typed.

    Returns:
        The same text, every digit kept, under the paths that faults name.
    """
    kept = dict(typed)
    for slot in slots:
        if slot.kind != "rows":
            continue
        place = 0
        for number in row_numbers(slot.name, typed):
            was = f"{slot.name}.{number}."
            row = {name.removeprefix(was): kept.pop(name) for name in typed if name.startswith(was)}
            if document_of(slot.inner, typed, was):
                place += 1
                kept.update({f"{slot.name}.{place}.{name}": text for name, text in row.items()})
    return kept
