"""From the filled-in fields of a kind of this job to a draft; from what was typed as text to fields."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_origin

from tenthbook.record.job.kinds import KINDS
from tenthbook.record.ledger import Draft, draft_of


def draft(kind: str, data: Mapping[str, Any], *, person: str, request: str, seen: str, acted_at: str) -> Draft:
    """Make a draft of a kind's fields.

    Args:
        kind: One of `KINDS`.
        data: Its fields as typed.
        person: Id of the person who acted.
        request: The client's id for this request.
        seen: Hash of the head the person saw; empty before the first entry.
        acted_at: When it was done, UTC.

    Returns:
        The draft, with the version written now.

    Raises:
        WrongInput: an unknown kind, or fields that do not fit it: all faults.
    """
    return draft_of(KINDS, kind, data, person=person, request=request, seen=seen, acted_at=acted_at)


def fields_from_text(kind: str, texts: Mapping[str, str]) -> dict[str, Any]:
    """Read fields that were typed as text: a whole number as one, a list with semicolons between.

    Args:
        kind: Kind of the act.
        texts: Its fields as typed, by name.

    Returns:
        The fields; what a form does not know, or cannot be read so, stays as it was typed for the draft to refuse.
    """
    forms = KINDS[kind].fields.model_fields if kind in KINDS else {}
    return {name: _read(forms[name].annotation, text) if name in forms else text for name, text in texts.items()}


def _read(annotation: Any, text: str) -> Any:
    if get_origin(annotation) is list:
        whole = annotation.__args__[0] is int
        return [_whole(one.strip()) if whole else one.strip() for one in text.split(";") if one.strip()]
    return _whole(text.strip()) if annotation is int else text


def _whole(text: str) -> int | str:
    figures = text.removeprefix("-")
    return int(text) if figures.isascii() and figures.isdigit() else text
