"""From filled-in fields to a draft: every fault at once, nothing changed on the way.

Each kind of entry is a form with a version. A kind's fields never change under one version; what changes gets the next.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from tenthbook.numbers.because import Fault, WrongInput, as_typed, faults_of
from tenthbook.record.ledger.entry import Draft

_HEAD = re.compile(r"([0-9a-f]{64})?")


class Fields(BaseModel):
    """What every kind shares: nothing unknown, nothing changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry.

    Attributes:
        version: Version of its fields that is written now.
        fields: The form of its data.
    """

    version: int
    fields: type[Fields]


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
