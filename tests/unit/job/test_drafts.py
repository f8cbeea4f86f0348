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
    "scope agreed": {
        "work": "repair",
        "standard": "to service limits",
        "manual": "Manual of the test engine",
        "revision": "1",
        "checked_current": "asked the holder",
        "agreed_with": "the owner",
        "covers": ["propeller strike"],
    },
    "event answered": {"event": "propeller strike", "answer": "no", "says": "the owner says so"},
    "times stated": {"of": "engine", "total": "1840.5 h", "since_overhaul": "640 h", "read_from": "the log"},
    "component listed": {"item": "magneto, left", "where": "stays here"},
    "document listed": {
        "document": "directive",
        "number": "T-1",
        "subject": "pump shafts",
        "applies": "yes",
        "why": "serial number in its range",
    },
    "document answered": {"entry": 3, "answer": "done", "method": "part 2, replaced"},
    "owner approved": {"work": "pump", "ceiling": "1200.00 EUR", "by": "the owner", "how": "in writing"},
    "finding priced": {"entry": 3, "work": "new bush", "price": "340.00 EUR", "days": "2"},
    "extra finding approved": {"entry": 4, "by": "the owner", "how": "by telephone"},
    "look declined": {"entry": 4, "by": "the owner", "reason": "next winter"},
    "task taken on": {"task": "pump overhaul", "before": "done before"},
    "cover removed": {"cover": "access.cover"},
    "cover closed": {"cover": "access.cover"},
    "bagged": {"bag": "B-1", "place": "pump cover", "what": "nuts", "count": 4},
    "cleaned": {"tag": "P-0001-3", "process": "solvent", "plugs_out": 2, "plugs_in": 2},
    "inspected": {"tag": "P-0001-3", "result": "nothing found", "says": "by eye"},
    "crack-tested": {
        "tag": "P-0001-3",
        "method": "dye penetrant",
        "procedure": "P-7, revision 2",
        "operator": "a tester",
        "level": "2",
        "equipment": "kit 4, due 2027-01-31",
        "result": "no indication",
        "cleaned_after": "yes",
    },
    "finding seen": {"tag": "P-0001-3", "term": "step", "place": "drive slot", "photograph": 3},
    "preserved": {"what": "crankcase", "preserved_with": "preserving oil", "until": "2026-10-16"},
    "sent out": {"tag": "P-0001-3", "to": "a grinder", "work": "grind"},
    "returned": {"entry": 5, "document": "release form 17"},
    "counted": {"cover": "access.cover", "what": "blanks", "went_out": 3, "came_back": 3},
    "book moved": {"type": "Test engine", "revision": "2", "digest": "0" * 64, "reason": "revision 2 is current"},
    "gate overridden": {
        "gate": "cover:access.cover",
        "opens": ["shaft: not measured"],
        "reason": "to ship it",
        "rests_on": "0" * 64,
        "key": "0" * 64,
    },
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
