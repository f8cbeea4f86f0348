"""What shape must a book have, for an editor that helps while it is typed?

The answer is JSON Schema (draft 2020-12), written from the tables themselves: a book as one object with its head and
the rows of each table. It knows the words of a column, how a number is written, and which columns each kind of limit
fills. It does not know whether an id leads anywhere, or whether two numbers agree; the checker does.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.explaining import say_column
from tenthbook.record.book.statements import FIELDS
from tenthbook.record.book.tables import HEAD, HOLDS, TABLES

DIALECT = "https://json-schema.org/draft/2020-12/schema"
# A number as it is read: one that begins with nought has a point, since a point was lost where it has none.
_FIGURES = r"([0-9]+\.[0-9]*|\.[0-9]+|0|[1-9][0-9]*)"
_NUMBER = rf"[+-]?({_FIGURES})"
_LETTERED = rf"({_NUMBER}|{_FIGURES}[ \t]*[TL])"
_ID = r"[a-z0-9]+([._-][a-z0-9]+)*"
_BLANKS = r"[ \t]*"
_OF_ROW = (Form.NUMBER, Form.LETTERED, Form.NUMBERS)
_LIMIT_COLUMNS = ("new_min", "new_max", "service_min", "service_max")


def _list_of(one: str) -> str:
    return rf"^{_BLANKS}({one})({_BLANKS};{_BLANKS}({one}))*{_BLANKS};?{_BLANKS}$"


def _words(column: Column) -> str:
    return "|".join(re.escape(word).replace(r"\ ", " ").replace(r"\-", "-") for word in column.of)


def _form(column: Column) -> dict[str, Any]:
    patterns = {
        Form.NUMBER: f"^{_NUMBER}$",
        Form.PLAIN: f"^{_NUMBER}$",
        Form.LETTERED: f"^{_LETTERED}$",
        Form.NUMBERS: _list_of(_NUMBER),
        Form.PLAINS: _list_of(_NUMBER),
        Form.WORDS: _list_of(_words(column)),
        Form.IDS: _list_of(_ID),
        Form.ID: f"^{_ID}$",
        Form.UNIT: r"^\S+$",
        Form.QUANTITY: rf"^{_NUMBER}[ \t]+\S+$",
        Form.WHOLE: "^0*[1-9][0-9]*$",
    }
    if column.form is Form.WORD:
        return {"enum": list(column.of)}
    if column.form is Form.YES:
        return {"enum": ["yes"]}
    if column.name == "id":
        return {"pattern": f"^{_ID}$", "maxLength": 80}
    if column.form is Form.WHOLE:
        return {"pattern": patterns[column.form], "maxLength": 5}
    return {"pattern": patterns[column.form]} if column.form in patterns else {"minLength": 1}


def _needs(columns: tuple[Column, ...]) -> dict[str, list[str]]:
    """A number is printed in a unit: where the one stands the other must."""
    return {column.name: [column.of[0]] for column in columns if column.form in _OF_ROW}


def _kinds() -> list[dict[str, Any]]:
    """For each kind of limit: the columns it must fill, and those of other kinds that must stay blank."""
    owned = dict.fromkeys(name for needed, others in FIELDS.values() for name in (*needed, *others))
    rules = []
    for kind, (needed, others) in FIELDS.items():
        strange = [name for name in owned if name not in needed and name not in others]
        then: dict[str, Any] = {"properties": dict.fromkeys(strange, False)}
        if needed:
            then["required"] = list(needed)
        if kind == "absolute":
            then["anyOf"] = [{"required": [name]} for name in _LIMIT_COLUMNS]
        rules.append({"if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]}, "then": then})
    return rules


def _row(name: str) -> dict[str, Any]:
    columns = TABLES[name]
    schema: dict[str, Any] = {
        "title": name,
        "description": f"{HOLDS[name]}; a blank cell is left out",
        "type": "object",
        "properties": {
            column.name: {"description": say_column(column), "type": "string", **_form(column)} for column in columns
        },
        "required": [column.name for column in columns if column.needed],
        "additionalProperties": False,
    }
    if needs := _needs(columns):
        schema["dependentRequired"] = needs
    if any(column.name == "kind" for column in columns):
        schema["allOf"] = _kinds()
    return schema


def _head() -> dict[str, Any]:
    def form(column: Column) -> Mapping[str, Any]:
        return {"type": "boolean"} if column.form is Form.YES else {"type": "string", "minLength": 1}

    return {
        "type": "object",
        "properties": {column.name: {"description": column.says, **form(column)} for column in HEAD},
        "required": [column.name for column in HEAD if column.needed],
        "additionalProperties": False,
    }


def table_schema(name: str) -> dict[str, Any]:
    """Describe one table.

    Args:
        name: A table of the book.

    Returns:
        JSON Schema of a list of its rows; every cell is text.

    Source: JSON Schema, draft 2020-12, from memory.
    """
    return {"$schema": DIALECT, "title": name, "description": HOLDS[name], "type": "array", "items": _row(name)}


def book_schema() -> dict[str, Any]:
    """Describe a whole book.

    Returns:
        JSON Schema of one object: `head`, and `tables` with a list of rows each; a table without rows may be left out.

    Source: JSON Schema, draft 2020-12, from memory.
    """
    tables = {name: {"type": "array", "items": {"$ref": f"#/$defs/{name}"}} for name in TABLES}
    return {
        "$schema": DIALECT,
        "title": "book",
        "description": "what the manual of one engine type and revision says",
        "type": "object",
        "properties": {
            "head": _head(),
            "tables": {"type": "object", "properties": tables, "additionalProperties": False},
        },
        "required": ["head", "tables"],
        "additionalProperties": False,
        "$defs": {name: _row(name) for name in TABLES},
    }
