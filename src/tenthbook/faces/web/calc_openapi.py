"""What the calculators' API takes and gives, as an OpenAPI document made of their own JSON Schemas.

Nothing is described a second time: a calculator that joins the registry stands here.
Source: OpenAPI Specification 3.1.0, whose schemas are JSON Schema of 2020-12 (from memory).
"""

from __future__ import annotations

from functools import cache
from typing import Any

from tenthbook import __version__
from tenthbook.faces.calculators import NAMES, load

Described = dict[str, Any]
_TEXT = {"type": "string"}
_FAULT: Described = {
    "type": "object",
    "description": "where it stands, what stood there, and what belongs there",
    "properties": {"path": _TEXT, "found": _TEXT, "expected": _TEXT},
    "required": ["path", "found", "expected"],
}
_FAULTS: Described = {
    "type": "object",
    "properties": {
        "faults": {"type": "array", "items": {"$ref": "#/components/schemas/Fault"}, "minItems": 1},
        "nearest": {"type": "array", "items": _TEXT, "description": "names like the one that was asked for"},
    },
    "required": ["faults"],
}
_REFUSALS = {
    404: "no calculator of that name",
    405: "a method that this address does not answer",
    413: "more than 2 MB",
    415: "a content type that is not JSON",
    422: "an input that does not fit its form: every fault at once",
}


def _moved(node: Any, name: str) -> Any:
    """Point the references inside a calculator's schema at where its parts stand in the document."""
    if isinstance(node, dict):
        return {key: _pointed(held, name) if key == "$ref" else _moved(held, name) for key, held in node.items()}
    return [_moved(held, name) for held in node] if isinstance(node, list) else node


def _pointed(reference: str, name: str) -> str:
    return reference.replace("#/$defs/", f"#/components/schemas/{name}.")


def _parts(name: str) -> Described:
    """The schemas of one calculator, each part under a name of its own."""
    parts: Described = {}
    for side, schema in load(name).schema().items():
        whole = dict(schema)
        for part, held in whole.pop("$defs", {}).items():
            parts[f"{name}.{part}"] = _moved(held, name)
        parts[f"{name}.{side}"] = _moved(whole, name)
    return parts


def _one_or_batch(part: str) -> Described:
    one = {"$ref": f"#/components/schemas/{part}"}
    batch = {
        "type": "object",
        "properties": {"batch": {"type": "array", "items": one}},
        "required": ["batch"],
        "additionalProperties": False,
    }
    return {"oneOf": [one, batch]}


def _json(schema: Described) -> Described:
    return {"application/json": {"schema": schema}}


def _refused(*statuses: int) -> Described:
    faults = {"$ref": "#/components/schemas/Faults"}
    return {str(status): {"description": _REFUSALS[status], "content": _json(faults)} for status in statuses}


def _read(about: str, content: Described, named: str) -> Described:
    answer = {"200": {"description": about, "content": _json(content)}}
    return {"get": {"operationId": named, "summary": about, "responses": {**answer, **_refused(405)}}}


def _posted(name: str) -> Described:
    taken: Described = {"required": True, "content": _json(_one_or_batch(f"{name}.input"))}
    taken["content"]["application/json"]["example"] = load(name).example.input
    given = {"200": {"description": "the answer", "content": _json(_one_or_batch(f"{name}.output"))}}
    responses = {**given, **_refused(405, 413, 415, 422)}
    told = NAMES[name].answers
    return {"post": {"operationId": name, "summary": told, "requestBody": taken, "responses": responses}}


def _paths_of(name: str) -> Described:
    one_example: Described = {"type": "object", "required": ["id", "source", "input", "output"]}
    forms: Described = {"type": "object", "required": ["input", "output"]}
    return {
        f"/api/calc/{name}": _posted(name),
        f"/api/calc/{name}/schema": _read("the forms of input and answer", forms, f"{name}.schema"),
        f"/api/calc/{name}/example": _read("the published example and its answer", one_example, f"{name}.example"),
    }


@cache
def describe() -> Described:
    """Describe the whole API.

    Returns:
        An OpenAPI 3.1 document.
    """
    row = {"type": "object", "properties": {"name": _TEXT, "answers": _TEXT}, "required": ["name", "answers"]}
    paths = {"/api/calc": _read("the calculators there are", {"type": "array", "items": row}, "list")}
    schemas: Described = {"Fault": _FAULT, "Faults": _FAULTS}
    for name in NAMES:
        paths |= _paths_of(name)
        schemas |= _parts(name)
    paths["/api/openapi.json"] = _read("this document", {"type": "object"}, "openapi")
    about = "One computation by itself, as `tenthbook calc` does it: the same input, the same answer, the same faults."
    return {
        "openapi": "3.1.0",
        "info": {"title": "Calculators of the bench book", "version": __version__, "description": about},
        "paths": paths,
        "components": {"schemas": schemas},
    }
