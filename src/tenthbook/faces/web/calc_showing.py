"""From a form, what was typed, faults and an answer to finished strings: the template only sets them.

An answer is shown as it is: a quantity by its text, a verdict by the word and mark it has everywhere in this book, what
does not exist as "none".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tenthbook.faces.calculators.working import number_text
from tenthbook.faces.web.calc_form import BETWEEN, Slot, places
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
_TYPED = {
    "lines": "one a line",
    "table": f"a row a line, values with a semicolon ({BETWEEN}) between",
    "other": "written as JSON",
}


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


def _help(slot: Slot) -> str:
    """What belongs into a field, and how it is typed."""
    usual = f"{slot.usual} where nothing is typed" if slot.usual and not slot.choices else ""
    return "; ".join(part for part in (slot.help, _TYPED.get(slot.kind, ""), usual) if part)


@dataclass(frozen=True, slots=True)
class _Filled:
    """A form with all that stands in it."""

    typed: Mapping[str, str]
    rows: Mapping[str, int]
    beside: Mapping[str, list[str]]

    def fields(self, slots: tuple[Slot, ...], prefix: str = "", first: str = "") -> list[Shown]:
        """Show fields; those of a later row are explained by the first, whose path is `first`."""
        return [self.field(slot, prefix + slot.name, (first or prefix) + slot.name) for slot in slots]

    def field(self, slot: Slot, path: str, explained_at: str) -> Shown:
        """Show one field, or a set of fields."""
        value = self.typed.get(path, "")
        chosen = value or (slot.usual if slot.choices else "")
        return {
            "kind": "choice" if slot.choices else slot.kind,
            "path": path,
            "explained_at": explained_at,
            "is_explained": path == explained_at,
            "words": slot.words,
            "help": _help(slot),
            "value": value,
            "is_open": not slot.needed and not slot.usual,
            "choices": [{"word": one, "is_chosen": one == chosen} for one in slot.choices],
            "inner": self.members(slot, path, explained_at),
            "faults": self.beside.get(path, []),
        }

    def members(self, slot: Slot, path: str, explained_at: str) -> list[Shown]:
        """Show what is in a set of fields; of a set of rows, each row."""
        if slot.kind != "rows":
            return self.fields(slot.inner, f"{path}.", f"{explained_at}.")
        paths = {number: f"{path}.{number}" for number in range(1, self.rows[path] + 1)}
        return [
            {
                "path": row,
                "words": f"{slot.words}, {number}",
                "faults": self.beside.get(row, []),
                "inner": self.fields(slot.inner, f"{row}.", f"{path}.1."),
            }
            for number, row in paths.items()
        ]


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
    return {"fields": _Filled(typed, rows, beside).fields(slots), "faults": listed}


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
    shown["verdicts"].sort(key=lambda one: not one["words"].startswith("plain"))
    return shown
