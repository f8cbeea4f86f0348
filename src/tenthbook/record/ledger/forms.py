"""From filled-in fields to a draft: every fault at once, nothing changed on the way.

Each kind of entry is a form with a version. A kind's fields never change under one version; what changes gets the next,
and a step that lifts the data of the version before, so that whoever reads history reads one form. What was recorded
stays as it is: lifting happens on the way out.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from tenthbook.numbers.because import Fault, WrongInput, as_typed, faults_of
from tenthbook.record.ledger.entry import Draft

_HEAD = re.compile(r"([0-9a-f]{64})?")


Lift = Callable[[Mapping[str, Any]], Mapping[str, Any]]


class Fields(BaseModel):
    """What every kind shares: nothing unknown, nothing changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry.

    Attributes:
        version: Version of its fields that is written now.
        fields: The form of its data.
        lifts: For each older version, what makes its data those of the next.
    """

    version: int
    fields: type[Fields]
    lifts: Mapping[int, Lift] = field(default_factory=dict)


def lifted(kinds: Mapping[str, Kind], kind: str, version: int, data: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """Give an entry's data in the form that is written now.

    Args:
        kinds: The kinds this stream can hold.
        kind: The entry's kind.
        version: The version it was written in.
        data: Its data as recorded.

    Returns:
        The data of the present version; None for a kind or a version that is not known.
    """
    known = kinds.get(kind)
    while known is not None and version != known.version:
        step = known.lifts.get(version)
        if step is None:
            return None
        data, version = step(data), version + 1
    return None if known is None else data


def draft_of(
    kinds: Mapping[str, Kind],
    kind: str,
    data: Mapping[str, Any],
    *,
    person: str,
    request: str,
    seen: str,
    acted_at: str,
) -> Draft:
    """Make a draft of a kind's fields.

    Args:
        kinds: The kinds this stream can hold.
        kind: One of them.
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
    if kind not in kinds:
        near = difflib.get_close_matches(kind, kinds, n=1)
        expected = f"did you mean {near[0]!r}?" if near else "one of " + ", ".join(kinds)
        raise WrongInput([Fault("kind", repr(kind), expected)])
    if not _HEAD.fullmatch(seen):
        raise WrongInput([Fault("seen", as_typed(seen), "the hash of the head that was seen, 64 figures, or nothing")])
    form = kinds[kind].fields
    try:
        held = form.model_validate(dict(data))
    except ValidationError as error:
        raise WrongInput(faults_of(error.errors(), form.model_json_schema())) from error
    return Draft(kind, kinds[kind].version, person, request, seen, acted_at, held.model_dump())
