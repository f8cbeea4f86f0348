"""From the fields of a kind to the form that records it: how each is asked for, what is known, what was typed.

The form is made from the kind's own fields, so that a field that is added to a kind is asked for without a change here.
What needs more than fields (a photograph, a signature, a correction, a reading) has a page of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal, get_args, get_origin

from django.http import QueryDict
from pydantic.fields import FieldInfo

from tenthbook.faces.web.do_known import Known
from tenthbook.record.job import KINDS
from tenthbook.record.job.kinds_of_intake import DAY

GROUPS: dict[str, tuple[str, ...]] = {
    "Coming in": (
        "scope agreed",
        "event answered",
        "times stated",
        "component listed",
        "document listed",
        "document answered",
        "owner approved",
        "task taken on",
    ),
    "Covers and parts": ("cover removed", "part removed", "bagged", "cover closed"),
    "Cleaning, looks and tests": ("cleaned", "inspected", "crack-tested", "gauge set", "settings chosen"),
    "Findings and decisions": (
        "finding seen",
        "finding priced",
        "extra finding approved",
        "look declined",
        "disposed",
        "re-verified",
        "noted",
    ),
    "Away, kept, counted": ("sent out", "returned", "preserved", "counted"),
    "Handing over": ("put down", "taken up", "handed over", "hand-over received"),
}
"""The kinds that are recorded by their fields alone, in the order of the work."""

ELSEWHERE = {
    "reading taken": ("job", "on the measuring page"),
    "question answered": ("job", "on the measuring page, where it is asked"),
    "photographed": ("record", "on the page of the record"),
    "corrected": ("record", "on the page of the record, at its entry"),
    "withdrawn": ("record", "on the page of the record, at its entry"),
    "signed": ("record", "on the page of the record"),
}
"""The kinds that have a page of their own: its name, and where it is, in words."""

_BY_ITSELF = {"gauge set": ("calibration",)}
_FILLED = {
    ("part removed", "tag"): "empty: the next free tag",
    ("gauge set", "name"): "empty: as registered",
    ("gauge set", "measures"): "empty: as registered",
    ("gauge set", "expanded"): "empty: as calibrated",
    ("gauge set", "coverage_factor"): "empty: as calibrated, else 2",
    ("disposed", "rests_on"): "empty: all that is known of the part",
}
_MOST_BUTTONS = 4
_LONG = 400  # signs a field may hold from which on it is asked for in more than one line


def address_of(kind: str) -> str:
    """Write a kind as it stands in an address.

    Args:
        kind: The kind, or such an address.

    Returns:
        The same with hyphens for blanks.
    """
    return kind.replace(" ", "-")


KIND_AT = {address_of(kind): kind for kinds in GROUPS.values() for kind in kinds}
"""The kind of each address."""


def says(kind: str) -> str:
    """Say what a kind is.

    Args:
        kind: The kind.

    Returns:
        Its one line.
    """
    return (KINDS[kind].fields.__doc__ or "").splitlines()[0]


def fields_of(kind: str) -> dict[str, FieldInfo]:
    """List the fields that are asked for.

    Args:
        kind: The kind.

    Returns:
        Each by name, without those that are filled in always.
    """
    fields = KINDS[kind].fields.model_fields
    return {name: field for name, field in fields.items() if name not in _BY_ITSELF.get(kind, ())}


def _shape(field: FieldInfo) -> tuple[str, tuple[str, ...]]:
    """What a field is asked as, and the words to choose from."""
    form = field.annotation
    inner = get_args(form)
    if get_origin(form) is Literal:
        return ("buttons" if len(inner) <= _MOST_BUTTONS else "select"), inner
    if get_origin(form) is list:
        return ("boxes", get_args(inner[0])) if get_origin(inner[0]) is Literal else ("list", ())
    if form is int:
        return "number", ()
    held = {name: value for one in field.metadata for name, value in _limits(one)}
    if held.get("pattern") == DAY:
        return "day", ()
    return ("long" if held.get("max_length", _LONG) > _LONG else "text"), ()


def _limits(one: Any) -> list[tuple[str, Any]]:
    found = ((name, getattr(one, name, None)) for name in ("max_length", "pattern"))
    return [(name, value) for name, value in found if value is not None]


def texts_of(kind: str, posted: QueryDict) -> dict[str, str]:
    """Read what was typed into the form of a kind, as text.

    Args:
        kind: The kind.
        posted: What was sent.

    Returns:
        Each field that holds anything, by name; boxes that were ticked with semicolons between.
    """
    read = {name: "; ".join(posted.getlist(name)).replace("\r\n", "\n").strip() for name in fields_of(kind)}
    return {name: text for name, text in read.items() if text}


def _help(kind: str, name: str, field: FieldInfo, shape: str) -> str:
    more = [_FILLED.get((kind, name), "")]
    more += ["a semicolon between two"] if shape == "list" else []
    said = [str(field.description), *(one for one in more if one and one not in str(field.description))]
    return "; ".join(said)


def _value(field: FieldInfo, known: Sequence[Known], name: str) -> str:
    """What stands in a field that nobody typed into: its own default, or the one entry that can be meant."""
    if name == "entry" and len(known) == 1:
        return known[0].id
    return field.default if isinstance(field.default, str) else ""


def form_of(
    kind: str, typed: Mapping[str, str], known: Mapping[str, Sequence[Known]], is_sent: bool
) -> list[dict[str, Any]]:
    """Make the form of a kind.

    Args:
        kind: The kind.
        typed: What stands in it already, by field.
        known: The ids that are offered, by field.
        is_sent: Whether somebody sent it before: what they left empty stays empty.

    Returns:
        Its fields in order, each with its label, its help, what it is asked as, and what stands in it.
    """
    slots = []
    for name, field in fields_of(kind).items():
        shape, words = _shape(field)
        offered = known.get(name, ())
        value = typed.get(name, "" if is_sent else _value(field, offered, name))
        chosen = [one.strip() for one in value.split(";")] if shape == "boxes" else [value]
        slots.append(
            {
                "name": name,
                "words": name.replace("_", " "),
                "help": _help(kind, name, field, shape),
                "shape": shape,
                "choices": [{"word": one, "is_chosen": one in chosen} for one in words],
                "value": value,
                "is_open": not field.is_required() or (kind, name) in _FILLED,
                "known": offered,
                "is_wrong": False,
            }
        )
    return slots
