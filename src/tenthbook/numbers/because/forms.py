"""What is wrong with a filled-in form, in the words of this book: path, found, expected.

Takes the error records of pydantic as plain data (this room does not import it) and the form's JSON Schema, from which
it tells what a place expects. Unknown names are answered with the nearest known one.
"""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from tenthbook.numbers.because.errors import Fault

_LONGEST = 60
_SAID_BY_THE_FIELD = (
    "missing",
    "none_required",
    "too_short",
    "too_long",
    "string_too_short",
    "string_pattern_mismatch",
)
ErrorRecord = Mapping[str, Any]


def as_typed(value: Any) -> str:
    """Write what stood in a field the way it was typed.

    Args:
        value: Anything that JSON can hold.

    Returns:
        Its JSON, cut short where it is long; an object or a list by its kind.
    """
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    try:
        text = json.dumps(value, ensure_ascii=True)
    except (TypeError, ValueError):
        text = repr(value)
    return text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."


def _inside(schema: Mapping[str, Any], node: Mapping[str, Any], step: Any) -> Mapping[str, Any]:
    """Follow one step of a path into a schema; an empty schema where it cannot be followed."""
    options = [node, *node.get("anyOf", ()), *node.get("oneOf", ())]
    for option in options:
        if "$ref" in option:
            option = schema.get("$defs", {}).get(str(option["$ref"]).rpartition("/")[2], {})
        if isinstance(step, int) and "items" in option:
            return dict(option["items"])
        if isinstance(step, int) and step < len(option.get("prefixItems", ())):
            return dict(option["prefixItems"][step])
        if step in option.get("properties", {}):
            return dict(option["properties"][step])
    return {}


def _resolve(schema: Mapping[str, Any], node: Mapping[str, Any]) -> Mapping[str, Any]:
    if "$ref" in node:
        found: Mapping[str, Any] = schema.get("$defs", {}).get(str(node["$ref"]).rpartition("/")[2], {})
        return {**found, **{name: value for name, value in node.items() if name != "$ref"}}
    return node


def _options(schema: Mapping[str, Any], node: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    node = _resolve(schema, node)
    return [node, *(_resolve(schema, option) for option in node.get("anyOf", ()))]


def _at(schema: Mapping[str, Any], path: Iterable[Any]) -> list[Mapping[str, Any]]:
    """Every form that may stand at a place."""
    node = schema
    for step in path:
        node = _inside(schema, node, step)
    return _options(schema, node)


def _words(schema: Mapping[str, Any], path: Sequence[Any]) -> str:
    """What belongs at a place, or in the list it stands in."""
    for length in (len(path), len(path) - 1):
        for option in _at(schema, path[: max(length, 0)]):
            if "description" in option and path:
                return str(option["description"])
    return ""


def _expected(schema: Mapping[str, Any], error: ErrorRecord) -> str:
    message = str(error["msg"]).removeprefix("Input should be ").removeprefix("Value error, ")
    plain = error["type"] in _SAID_BY_THE_FIELD or message.startswith("a valid ")
    return (_words(schema, error["loc"]) if plain else "") or message


def _known_names(schema: Mapping[str, Any], path: Sequence[Any]) -> list[str]:
    return [name for option in _at(schema, path) for name in option.get("properties", {})]


def faults_of(errors: Iterable[ErrorRecord], schema: Mapping[str, Any]) -> list[Fault]:
    """Say every fault of a form.

    Args:
        errors: Records with `loc`, `type`, `msg`, `input` and `ctx`; a record whose `ctx` has `found` and `expected`
            speaks for itself.
        schema: JSON Schema of the form.

    Returns:
        One fault a record; indices in paths count from 1.
    """
    faults = []
    for error in errors:
        steps = error["loc"]
        path = ".".join(str(step + 1) if isinstance(step, int) else str(step) for step in steps)
        context = error.get("ctx") or {}
        if "expected" in context and "found" in context:
            fault = Fault(path, str(context["found"]), str(context["expected"]))
        elif error["type"] == "extra_forbidden":
            known = _known_names(schema, steps[:-1])
            near = difflib.get_close_matches(str(steps[-1]), known, n=1)
            fault = Fault(path, "an unknown field", f"{near[0]}, perhaps" if near else "one of " + ", ".join(known))
        elif error["type"] == "missing":
            fault = Fault(path, "nothing", _expected(schema, error))
        else:
            fault = Fault(path, as_typed(error.get("input")), _expected(schema, error))
        faults.append(fault)
    return faults
