"""The reference of the calculators, written from the registry and their own forms."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from inspect import cleandoc
from typing import Any

from tenthbook.faces.calculators.contract import Calculator
from tenthbook.faces.calculators.registry import NAMES, load

_HEAD = """# Calculators

Every computation by itself: `tenthbook calc NAME` reads one JSON object and prints one; `POST /api/calc/NAME` does the
same, and `/calc/NAME` is a form. An object `{"batch": [...]}` computes many at once. A quantity is text with its unit
("1.2497 in"); a plain number has none. What is wrong is named by its path, all at once.

This page is written from the calculators themselves.
"""


def _resolved(schema: Mapping[str, Any], node: Mapping[str, Any]) -> Mapping[str, Any]:
    if "$ref" in node:
        return dict(schema["$defs"][str(node["$ref"]).rpartition("/")[2]])
    return node


def _forms(schema: Mapping[str, Any], node: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [_resolved(schema, one) for one in (node, *node.get("anyOf", ()), *node.get("allOf", ()))]


def _fields(schema: Mapping[str, Any], node: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, str, bool]]:
    """Path, meaning and whether it is needed, of every field, the outer ones first."""
    needed = set(node.get("required", ()))
    for name, child in node.get("properties", {}).items():
        forms = _forms(schema, child)
        says = next((str(form["description"]) for form in forms if "description" in form), _choices(forms))
        yield f"{prefix}{name}", says, name in needed
        for form in forms:
            inner = _resolved(schema, form.get("items", {})) if form.get("type") == "array" else form
            step = f"{prefix}{name}[]." if form.get("type") == "array" else f"{prefix}{name}."
            if "properties" in inner:
                yield from _fields(schema, inner, step)


def _choices(forms: Sequence[Mapping[str, Any]]) -> str:
    words = [f'"{word}"' for form in forms for word in form.get("enum", ())]
    return " or ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _notes(calculator: Calculator) -> list[str]:
    """What the calculator's own module says of it, below its first line."""
    _, _, said = cleandoc(sys.modules[calculator.compute.__module__].__doc__ or "").partition("\n\n")
    return [said, ""] if said else []


def _section(name: str) -> str:
    calculator = load(name)
    schema, example = calculator.schema(), calculator.example
    fields = _fields(schema["input"], schema["input"])
    answers = ", ".join(f"`{field}`" for field in schema["output"]["properties"])
    return "\n".join(
        [
            f"## {name}",
            "",
            f"{NAMES[name].answers[0].upper()}{NAMES[name].answers[1:]}.",
            "",
            *_notes(calculator),
            "| input | what belongs there | needed |",
            "| --- | --- | --- |",
            *(f"| `{path}` | {says} | {'yes' if needed else ''} |" for path, says, needed in fields),
            "",
            f"Answers: {answers}.",
            "",
            f"Example {example.id}, from {example.source}; the second line is what was published:",
            "",
            "```json",
            json.dumps(example.input),
            json.dumps(example.published),
            "```",
            "",
        ]
    )


def reference() -> str:
    """Write the reference.

    Returns:
        Markdown: a section a calculator, with its fields, its answer's fields and its published example.
    """
    return "\n".join([_HEAD, *(_section(name) for name in NAMES)])
