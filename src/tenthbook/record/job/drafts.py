"""From filled-in fields to a draft: every fault at once, nothing changed on the way."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from tenthbook.numbers.because import Fault, WrongInput, as_typed, faults_of
from tenthbook.record.job.kinds import KINDS
from tenthbook.record.ledger import Draft

_HEAD = re.compile(r"([0-9a-f]{64})?")


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
    if kind not in KINDS:
        near = difflib.get_close_matches(kind, KINDS, n=1)
        expected = f"did you mean {near[0]!r}?" if near else "one of " + ", ".join(KINDS)
        raise WrongInput([Fault("kind", repr(kind), expected)])
    if not _HEAD.fullmatch(seen):
        raise WrongInput([Fault("seen", as_typed(seen), "the hash of the head that was seen, 64 figures, or nothing")])
    form = KINDS[kind].fields
    try:
        held = form.model_validate(dict(data))
    except ValidationError as error:
        raise WrongInput(faults_of(error.errors(), form.model_json_schema())) from error
    return Draft(kind, KINDS[kind].version, person, request, seen, acted_at, held.model_dump())
