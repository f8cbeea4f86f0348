"""From filled-in fields to a draft, every fault at once."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.numbers.because import WrongInput
from tenthbook.record.job import KINDS, draft
from tenthbook.record.ledger import Draft
from tests.builders import NOON, OPENED

DIGEST = "a" * 64
GOOD: dict[str, dict[str, Any]] = {
    "opened": {"stream": "0417", **OPENED},
    "book pinned": {"type": "Test engine", "revision": "1", "digest": DIGEST},
    "row typed": {"table": "sizes", "cells": {"id": "size.key", "page": "2-3"}, "digest": DIGEST},
    "part removed": {"tag": "P-0001-3", "part": "part.shaft"},
    "reading taken": {"tag": "P-0001-3", "row": "size.shaft", "row_digest": DIGEST, "value": "0.5110 in"},
    "settings chosen": {"rule": "full U", "conformance": "0.99"},
    "gauge set": {
        "gauge": "B2",
        "name": "bore gauge",
        "measures": "bore",
        "expanded": "0.00012 in",
        "coverage_factor": "2",
        "set_on": "ring, 1.4000 in",
    },
    "question asked": {
        "tag": "P-0001-3",
        "row": "size.shaft",
        "row_digest": DIGEST,
        "value": "0.4844 in",
        "gauge": "B2",
        "asks": "was a turn missed?",
    },
    "question answered": {"entry": 8, "answer": "read again"},
    "withdrawn": {"entry": 4, "reason": "misread"},
    "noted": {"text": "a note"},
    "corrected": {"entry": 4, "fields": {"value": "0.5112 in"}, "reason": "misread"},
    "re-verified": {"entry": 9, "says": "measured again, as before"},
    "photographed": {"says": "the slot", "photograph_detached": DIGEST, "media_type": "image/jpeg"},
    "disposed": {"tag": "P-0001-3", "disposition": "replace", "reason": "beyond", "rests_on": [4]},
    "put down": {"stands": "nut 1 final, the others finger tight"},
    "taken up": {"entry": 12, "says": "as left"},
    "handed over": {
        "to": "inspector",
        "stands": "pump open",
        "unfinished": "none",
        "open_ports": "gallery, capped",
        "parts_out": "none",
        "warnings": "none",
    },
    "hand-over received": {"entry": 12, "says": "looked at together"},
    "signed": {
        "as_what": "own work",
        "statement_kept": DIGEST,
        "rests_on": DIGEST,
        "binds": [{"entry": 4, "hash": DIGEST}],
        "key": DIGEST,
    },
    "papers issued": {"paper": "inspection report", "digest": DIGEST, "rests_on": DIGEST},
}


def propose(kind: str, data: dict[str, Any]) -> Draft:
    """A draft by the mechanic at noon."""
    return draft(kind, data, person="mechanic", request="r-1", seen="", acted_at=NOON)


def faults(kind: str, data: dict[str, Any]) -> list[str]:
    """All that is wrong with a kind's fields."""
    with pytest.raises(WrongInput) as caught:
        propose(kind, data)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_becomes_a_draft_of_its_version(kind: str) -> None:
    """What was filled in stands in the draft unchanged, with the version written now."""
    proposal = propose(kind, GOOD[kind])
    assert (proposal.kind, proposal.version, proposal.person, proposal.request, proposal.acted_at) == (
        kind,
        KINDS[kind].version,
        "mechanic",
        "r-1",
        NOON,
    )
    assert {name: proposal.data[name] for name in GOOD[kind]} == GOOD[kind]


@pytest.mark.parametrize("kind", list(KINDS))
def test_no_kind_takes_an_unknown_field(kind: str) -> None:
    """A field that the kind does not have is refused by name."""
    (fault,) = faults(kind, {**GOOD[kind], "colour": "red"})
    assert fault.startswith("colour: found an unknown field; expected ")


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_needed_field_that_is_missing_is_named(kind: str) -> None:
    """An empty form shows all its needed fields at once."""
    needed = [name for name, field in KINDS[kind].fields.model_fields.items() if field.is_required()]
    assert [fault.partition(":")[0] for fault in faults(kind, {})] == needed


def test_what_is_left_out_has_its_usual_value() -> None:
    """A gauge was expanded with 2 unless said, a job asks for 0.95, a reading without a gauge has no known doubt."""
    needed = {name: GOOD["gauge set"][name] for name in ("gauge", "name", "measures", "expanded")}
    assert propose("gauge set", needed).data["coverage_factor"] == "2"
    assert propose("settings chosen", {"rule": "plain"}).data["conformance"] == "0.95"
    assert propose("reading taken", GOOD["reading taken"]).data["gauge"] == ""


def test_an_unknown_kind_is_answered_with_the_nearest() -> None:
    """A slip in the kind is answered with what was meant; anything else with all kinds."""
    assert faults("reading took", {}) == ["kind: found 'reading took'; expected did you mean 'reading taken'?"]
    assert "opened, book pinned" in faults("zzz", {})[0]


@pytest.mark.parametrize(
    ("kind", "field", "value"),
    [
        ("opened", "stream", "../0417"),
        ("opened", "stream", ""),
        ("opened", "invented", "true"),
        ("book pinned", "digest", "A" * 64),
        ("withdrawn", "entry", "4"),
        ("withdrawn", "entry", -1),
        ("withdrawn", "entry", True),
        ("reading taken", "value", 0.511),
        ("reading taken", "gauge", 2),
        ("settings chosen", "rule", "lenient"),
        ("settings chosen", "conformance", 0.95),
        ("gauge set", "gauge", ""),
        ("gauge set", "expanded", 0.00012),
        ("gauge set", "coverage_factor", 2),
        ("question asked", "asks", ""),
        ("question answered", "answer", "maybe"),
        ("question answered", "entry", "8"),
        ("noted", "text", ""),
    ],
)
def test_a_field_of_the_wrong_form_is_refused(kind: str, field: str, value: object) -> None:
    """Nothing is turned into what it might have meant."""
    (fault,) = faults(kind, {**GOOD[kind], field: value})
    assert fault.startswith(f"{field}: found ")
