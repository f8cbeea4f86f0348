"""Which fields the form of a calculator has, read from the calculator's own JSON Schema.

It fills in nothing and judges nothing. A property becomes one of these kinds: `text` (a quantity, a word or a number),
`choice` (one of several words), `pair` (two values, either may stay empty), `lines` (a value a line), `table` (a row a
line, values with ";" between), `group` (an object), `rows` (objects, as many as wanted), `truth` (yes or no). What is
none of these is `other`, and is typed as JSON.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

Schema = Mapping[str, Any]
BETWEEN = ";"
YES, NO = "yes", "no"
_SCALARS = {"string", "number", "integer"}
_LISTED = re.compile(r"\[([^\[\]]*)\]")
_OBJECT = re.compile(r"(: )?an object with .*")


@dataclass(frozen=True, slots=True)
class Slot:
    """One field of a form, or a set of fields.

    Attributes:
        name: The property's name.
        kind: text, choice, pair, end (of a pair), lines, table, group, rows, truth or other.
        called: What the field is called on the page, where that is not its name.
        help: What belongs there, in words.
        needed: Whether the calculator cannot do without it.
        is_text: Whether a number typed here stays text.
        usual: What counts where nothing is chosen or typed; may be empty.
        choices: The words of a choice.
        inner: The fields of a group, of a row of rows, or of a pair.
    """

    name: str
    kind: str
    called: str = ""
    help: str = ""
    needed: bool = False
    is_text: bool = True
    usual: str = ""
    choices: tuple[str, ...] = ()
    inner: tuple[Slot, ...] = ()

    @property
    def words(self) -> str:
        """What the field is called on the page."""
        return self.called or self.name.replace("_", " ")


def form_of(schema: Schema) -> tuple[Slot, ...]:
    """Read the fields of a form.

    Args:
        schema: JSON Schema of a calculator's input.

    Returns:
        The fields in the schema's order, those every calculator has last.
    """
    slots = _properties(schema, schema, outermost=True)
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


def _properties(schema: Schema, node: Schema, *, outermost: bool = False) -> tuple[Slot, ...]:
    needed = node.get("required", ())
    slots = (_slot(schema, name, held, name in needed) for name, held in node["properties"].items())
    return tuple(slot if outermost or slot.kind != "rows" else replace(slot, kind="other", inner=()) for slot in slots)


def _resolved(schema: Schema, node: Schema) -> dict[str, Any]:
    """Follow a reference, and take away that a field may be null; what stands outermost counts."""
    outer = {name: held for name, held in node.items() if name not in ("anyOf", "$ref")}
    if "$ref" in node:
        return {**_resolved(schema, schema["$defs"][node["$ref"].rpartition("/")[2]]), **outer}
    kinds = [kind for kind in node.get("anyOf", ()) if kind.get("type") != "null"]
    if len(kinds) == 1:
        return {**_resolved(schema, kinds[0]), **outer}
    return {**outer, "anyOf": kinds} if kinds else outer


def _usual(held: Schema) -> str:
    usual = held.get("default")
    if isinstance(usual, bool):
        return YES if usual else NO
    usual = usual.get("typed") if isinstance(usual, dict) else usual
    return str(usual) if isinstance(usual, str | int | float) else ""


def _slot(schema: Schema, name: str, node: Schema, needed: bool) -> Slot:
    held = _resolved(schema, node)
    slot = Slot(name, "text", help=_words(held.get("description", "")), needed=needed, usual=_usual(held))
    kinds = {kind.get("type") for kind in held.get("anyOf", (held,))}
    if "properties" in held:
        return _group(schema, slot, node, held)
    if "enum" in held:
        return replace(slot, kind="choice", help=_choice_help(slot.help), choices=tuple(held["enum"]))
    if kinds == {"boolean"}:
        return replace(slot, kind="truth", choices=(YES, NO))
    if kinds == {"array"}:
        return _listed(schema, slot, held)
    return replace(slot, kind="text" if kinds <= _SCALARS else "other", is_text=kinds == {"string"})


def _group(schema: Schema, slot: Slot, node: Schema, held: Schema) -> Slot:
    """A set of fields; what it is, without a list of the fields that stand there anyway."""
    about = _OBJECT.sub("", slot.help)
    referred = [kind for kind in (node, *node.get("anyOf", ())) if "$ref" in kind]
    if not about and referred:
        about = _words(_resolved(schema, {"$ref": referred[0]["$ref"]}).get("description", ""))
    return replace(slot, kind="group", help=about, inner=_properties(schema, held))


def _choice_help(text: str) -> str:
    """Leave out a mere list of the words that stand there to be chosen."""
    return text.partition("; ")[2] if text.startswith('"') else text


def _listed(schema: Schema, slot: Slot, held: Schema) -> Slot:
    item = _resolved(schema, held["items"])
    kinds = {kind.get("type") for kind in item.get("anyOf", (item,))}
    if "properties" in item:
        return replace(slot, kind="rows", inner=tuple(map(_unchosen, _properties(schema, item))))
    if kinds == {"array"}:
        cell = _resolved(schema, item["items"])
        kinds = {kind.get("type") for kind in cell.get("anyOf", (cell,))} if cell else _SCALARS
        help_text = "; ".join(filter(None, (slot.help, _words(item.get("description", ""), f"{BETWEEN} "))))
        slot = replace(slot, kind="table", help=help_text, is_text=kinds == {"string"})
    elif held.get("minItems") == held.get("maxItems") == 2:
        slot = replace(slot, kind="pair", inner=_ends(held.get("description", ""), is_text=kinds == {"string"}))
    else:
        slot = replace(slot, kind="lines", is_text=kinds == {"string"})
    return slot if kinds <= _SCALARS else replace(slot, kind="other", inner=())


def _unchosen(slot: Slot) -> Slot:
    """In a row nothing is chosen beforehand, or an empty row would not be empty."""
    if not slot.choices or not slot.usual:
        return slot
    return replace(slot, usual="", help="; ".join(filter(None, (slot.help, f"{slot.usual} where nothing is said"))))


def _ends(about: str, *, is_text: bool) -> tuple[Slot, ...]:
    """The two fields of a pair, called as its description calls them: "a pair [tightest, loosest]"."""
    words = _LISTED.search(about)
    names = words.group(1).split(", ") if words and "'" not in words.group(1) else ["first", "second"]
    return tuple(Slot(str(place), "end", called=name, is_text=is_text) for place, name in enumerate(names, 1))


def _words(text: str, between: str = ", ") -> str:
    """Write a description for someone who fills in a page: no brackets, no quotes, no underscores."""
    names = re.sub(r" ?\[\w+, \w+\]", "", text).removeprefix("a pair: ")
    lists = _LISTED.sub(lambda found: found.group(1).replace(", ", between), names)
    plain = re.sub(r"(?<!\w)'([^']*)'", r"\1", lists).replace("`", "").replace("null", "empty")
    return re.sub(r"(?<=\w)_(?=\w)", " ", plain)
