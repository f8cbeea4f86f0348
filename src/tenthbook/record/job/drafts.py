"""From the filled-in fields of a kind of this job to a draft."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

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
