"""From a form, what was typed, faults and an answer to finished strings: the template only sets them.

An answer is shown as it is: a quantity by its text, a verdict by the word and mark it has everywhere in this book, what
does not exist as "none".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from tenthbook.faces.calculators.working import number_text
from tenthbook.faces.web.calc_form import Slot, places
from tenthbook.faces.web.calc_typed import row_numbers
from tenthbook.numbers.because import Fault
from tenthbook.numbers.limit import Grade
from tenthbook.record.workup import mark_of
from tenthbook.record.workup.words import word

Shown = dict[str, Any]
_VERDICTS = {grade.word: (mark_of(grade), word(grade)) for grade in Grade} | {
    "within": ("within", "WITHIN"),
    "outside": (mark_of(Grade.REJECT), word(Grade.REJECT)),
}
_NOTHING = "none"


def _called(path: str) -> str:
    return ", ".join(step.replace("_", " ") for step in path.split("."))


def _at_fields(faults: Iterable[Fault], paths: Sequence[str]) -> tuple[dict[str, list[str]], list[Shown]]:
    """Put each fault to the field that it lies in; and list them all, each with the way to its field."""
    beside: dict[str, list[str]] = {}
    listed = []
    for fault in faults:
        homes = [path for path in paths if f"{fault.path}.".startswith(f"{path}.")]
        home = max(homes, key=len, default="")
        rest = _called(fault.path.removeprefix(home).lstrip("."))
        text = f"found {fault.found}; expected {fault.expected}"
        beside.setdefault(home, []).append(f"{rest}: {text}" if rest else text)
        listed.append({"path": home, "words": _called(fault.path) or "the whole", "text": text})
    return beside, listed


def _show_slot(slot: Slot, path: str, typed: Mapping[str, str], rows: Mapping[str, int], beside: Shown) -> Shown:
    value = typed.get(path, "")
    if slot.kind == "rows":
        numbers = [str(number) for number in range(1, rows[path] + 1)]
        inner: list[Shown] = [
            {
                "path": f"{path}.{number}",
                "words": f"{slot.words}, {number}",
                "faults": beside.get(f"{path}.{number}", []),
                "inner": _show_slots(slot.inner, f"{path}.{number}.", typed, rows, beside),
            }
            for number in numbers
        ]
    else:
        inner = _show_slots(slot.inner, f"{path}.", typed, rows, beside)
    chosen = value or (slot.usual if slot.choices else "")
    return {
        "kind": "choice" if slot.choices else slot.kind,
        "path": path,
        "words": slot.words,
        "help": slot.help,
        "needed": slot.needed,
        "usual": slot.usual,
        "value": value,
        "is_open": not slot.needed and not slot.usual,
        "choices": [{"word": one, "chosen": one == chosen, "place": at} for at, one in enumerate(slot.choices, 1)],
        "inner": inner,
        "faults": beside.get(path, []),
    }


def _show_slots(
    slots: tuple[Slot, ...], prefix: str, typed: Mapping[str, str], rows: Mapping[str, int], beside: Shown
) -> list[Shown]:
    return [_show_slot(slot, prefix + slot.name, typed, rows, beside) for slot in slots]


def show_form(slots: tuple[Slot, ...], typed: Mapping[str, str], faults: Sequence[Fault], empty: int) -> Shown:
    """Show a form with what was typed, and with each fault at its field.

    Args:
        slots: The fields.
        typed: What was typed, rows numbered from 1 without gaps.
        faults: What the calculator found wrong.
        empty: How many empty rows stand behind the filled ones.

    Returns:
        `fields` and `faults` for the template.
    """
    rows = {slot.name: len(row_numbers(slot.name, typed)) + empty for slot in slots if slot.kind == "rows"}
    beside, listed = _at_fields(faults, [path for path, _ in places(slots, rows)])
    return {"fields": _show_slots(slots, "", typed, rows, beside), "faults": listed}


def _pieces(value: Any) -> list[Shown]:
    """Cut a value into numbers, which stand in the digits' letters, and words."""
    match value:
        case None:
            return [{"digits": "", "rest": _NOTHING}]
        case {"text": text}:
            digits, _, unit = str(text).partition(" ")
            return [{"digits": digits, "rest": unit}]
        case list():
            return [piece for one in value for piece in _pieces(one)] or [{"digits": "", "rest": _NOTHING}]
        case str():
            return [{"digits": "", "rest": value}]
        case _:
            return [{"digits": number_text(value), "rest": ""}]


def _lines(words: str, value: Any) -> list[Shown]:
    """Name a value, and each part of an object by itself."""
    if isinstance(value, dict) and "text" not in value:
        return [line for name, part in value.items() for line in _lines(f"{words}, {name.replace('_', ' ')}", part)]
    if isinstance(value, list) and value and isinstance(value[0], list):
        return [{"words": f"{words}, {place}", "pieces": _pieces(part)} for place, part in enumerate(value, 1)]
    return [{"words": words, "pieces": _pieces(value)}]


def _table(words: str, rows: list[Shown]) -> Shown:
    heads = [name.replace("_", " ") for name in rows[0]]
    cells = [
        [{"head": head, "pieces": _pieces(row[name])} for head, name in zip(heads, row, strict=True)] for row in rows
    ]
    return {"caption": words, "heads": heads, "rows": cells}


def show_answer(answer: Mapping[str, Any], schema: Mapping[str, Any]) -> Shown:
    """Show an answer.

    Args:
        answer: The calculator's answer.
        schema: JSON Schema of its answers.

    Returns:
        `verdicts`, `lines`, `tables` and `cautions` for the template.
    """
    shown: Shown = {"verdicts": [], "lines": [], "tables": [], "cautions": []}
    for name, value in answer.items():
        words, allowed = name.replace("_", " "), schema["properties"][name].get("enum", ())
        if allowed and set(allowed) <= set(_VERDICTS):
            mark, said = _VERDICTS[value]
            shown["verdicts"].append({"words": words, "mark": mark, "verdict": said})
        elif name == "warnings":
            shown["cautions"] += [warning["text"] for warning in value]
        elif isinstance(value, list) and value and isinstance(value[0], dict) and "text" not in value[0]:
            shown["tables"].append(_table(words, value))
        else:
            shown["lines"] += _lines(words, value)
    return shown
