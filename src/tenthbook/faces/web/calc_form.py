"""Which fields the form of a calculator has, read from the calculator's own JSON Schema.

It fills in nothing and judges nothing. A property becomes one of these kinds: `text` (a quantity, a word or a number),
`choice` (one of several words), `pair` (two values, either may stay empty), `lines` (a value a line), `table` (a row a
line, values with ";" between), `group` (an object) and `rows` (objects, as many as wanted).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

Schema = Mapping[str, Any]
BETWEEN = ";"
_LISTED = re.compile(r"\[([^\[\]]*)\]")
_OBJECT = re.compile(r"(: )?an object with .*")


@dataclass(frozen=True, slots=True)
class Slot:
    """One field of a form, or a set of fields.

    Attributes:
        name: The property's name.
        kind: text, choice, pair, lines, table, group or rows.
        help: What belongs there, in words.
        needed: Whether the calculator cannot do without it.
        is_text: Whether a number typed here stays text.
        usual: What counts where nothing is chosen or typed; may be empty.
        choices: The words of a choice.
        inner: The fields of a group, of a row of rows, or of a pair.
    """

    name: str
    kind: str
    help: str = ""
    needed: bool = False
    is_text: bool = True
    usual: str = ""
    choices: tuple[str, ...] = ()
    inner: tuple[Slot, ...] = ()

    @property
    def words(self) -> str:
        """What the field is called on the page."""
        return self.name.replace("_", " ")


def form_of(schema: Schema) -> tuple[Slot, ...]:
    """Read the fields of a form.

    Args:
        schema: JSON Schema of a calculator's input.

    Returns:
        The fields in the schema's order, those every calculator has last.
    """
    slots = _properties(schema, schema)
    return tuple(sorted(slots, key=lambda slot: slot.name == "units"))


def places(slots: tuple[Slot, ...], rows: Mapping[str, int], prefix: str = "") -> Iterator[tuple[str, Slot]]:
    """Walk a form.

    Args:
        slots: The fields.
        rows: How many rows stand at the path of each set of rows.
        prefix: Path the fields lie under, with its last dot.

    Yields:
        Path, as faults name it, and field; a set of fields before its members.
    """
    for slot in slots:
        path = prefix + slot.name
        yield path, slot
        if slot.kind == "rows":
            for number in range(1, rows.get(path, 0) + 1):
                yield f"{path}.{number}", slot
                yield from places(slot.inner, rows, f"{path}.{number}.")
        else:
            yield from places(slot.inner, rows, f"{path}.")


def _properties(schema: Schema, node: Schema) -> tuple[Slot, ...]:
    needed = node.get("required", ())
    return tuple(_slot(schema, name, held, name in needed) for name, held in node["properties"].items())


def _resolved(schema: Schema, node: Schema) -> dict[str, Any]:
    """Follow a reference, and take away that a field may be null; what stands outermost counts."""
    outer = {name: held for name, held in node.items() if name not in ("anyOf", "$ref")}
    if "$ref" in node:
        return {**_resolved(schema, schema["$defs"][node["$ref"].rpartition("/")[2]]), **outer}
    kinds = [kind for kind in node.get("anyOf", ()) if kind.get("type") != "null"]
    if len(kinds) == 1:
        return {**_resolved(schema, kinds[0]), **outer}
    return {**outer, "anyOf": kinds} if kinds else outer


def _slot(schema: Schema, name: str, node: Schema, needed: bool) -> Slot:
    held = _resolved(schema, node)
    usual = held.get("default")
    usual = usual.get("typed") if isinstance(usual, dict) else usual
    slot = Slot(name, "text", _words(held.get("description", "")), needed, usual="" if usual is None else str(usual))
    if "properties" in held:
        shortened = _OBJECT.sub("", slot.help) or _words(_resolved(schema, {"$ref": node["$ref"]})["description"])
        return replace(slot, kind="group", help=shortened, inner=_properties(schema, held))
    if "enum" in held:
        return replace(slot, kind="choice", help=_choice_help(slot.help), choices=tuple(held["enum"]))
    if held.get("type") == "array":
        return _listed(schema, replace(slot, usual=""), held)
    return replace(slot, is_text=held.get("type") == "string")


def _choice_help(text: str) -> str:
    """Leave out a mere list of the words that stand there to be chosen."""
    return text.partition("; ")[2] if text.startswith('"') else text


def _listed(schema: Schema, slot: Slot, held: Schema) -> Slot:
    item = _resolved(schema, held["items"])
    is_text = item.get("type") == "string"
    if "properties" in item:
        return replace(slot, kind="rows", inner=_properties(schema, item))
    if held.get("minItems") == held.get("maxItems") == 2:
        words = _LISTED.search(held.get("description", ""))
        names = words.group(1).split(", ") if words and "'" not in words.group(1) else ["first", "second"]
        inner = tuple(Slot(str(place), "text", help=name, is_text=is_text) for place, name in enumerate(names, 1))
        return replace(slot, kind="pair", inner=inner)
    if item.get("type") == "array":
        cells = _resolved(schema, item["items"])
        help_text = "; ".join(filter(None, (slot.help, _words(item.get("description", "")))))
        return replace(slot, kind="table", help=help_text, is_text=cells.get("type") == "string")
    return replace(slot, kind="lines", is_text=is_text)


def _words(text: str) -> str:
    """Write a description for someone who fills in a page: no brackets, no quotes, no underscores."""
    names = re.sub(r" ?\[(\w+), (\w+)\]", "", text)
    lists = _LISTED.sub(lambda found: found.group(1).replace(", ", f"{BETWEEN} "), names)
    plain = re.sub(r"(?<!\w)'([^']*)'", r"\1", lists).replace("`", "").replace("null", "empty")
    return re.sub(r"(?<=\w)_(?=\w)", " ", plain)
