"""Two people at one job: what was done across is recorded and shown; who judges must have seen it."""

from __future__ import annotations

import pytest

from tests.builders import Workplace

OTHER = "inspector"
SHAFT = {"tag": "P-0001-3", "row": "size.shaft"}


@pytest.fixture
def place() -> Workplace:
    """A shaft (entry 2) and a housing (3) on the bench, gauge M1 set (4), the shaft read once (5)."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.remove("part.housing")
    place.set_gauge("M1", "0.0001 in")
    place.read("P-0001-3", "size.shaft", "0.5110 in", "M1")
    return place


def test_a_reading_taken_across_another_is_recorded_and_shown(place: Workplace) -> None:
    """A measurement is a fact: it stands, with the entries beside it that its person had not seen."""
    seen = place.state.head
    place.record("reading taken", {**SHAFT, "value": "0.5111 in"}, person=OTHER)
    entry = place.record("reading taken", {**SHAFT, "value": "0.5112 in"}, seen=seen)
    assert place.state.conflicts == {entry.number: (6,)}
    assert str(place.state.readings[entry.number].value) == "0.5112 in"


def test_what_others_do_elsewhere_is_no_conflict(place: Workplace) -> None:
    """A reading of another part, a note, a photograph meanwhile: nothing met."""
    seen = place.state.head
    place.record("reading taken", {"tag": "P-0002-1", "row": "size.bore", "value": "0.5126 in"}, person=OTHER)
    place.record("noted", {"text": "lunch"}, person=OTHER)
    place.record("reading taken", {**SHAFT, "value": "0.5112 in"}, seen=seen)
    assert place.state.conflicts == {}


def test_ones_own_acts_are_no_conflict(place: Workplace) -> None:
    """Two readings sent late from one tablet, both on the head it last saw, are the same person's."""
    seen = place.state.head
    place.record("reading taken", {**SHAFT, "value": "0.5111 in"}, seen=seen)
    place.record("reading taken", {**SHAFT, "value": "0.5112 in"}, seen=seen)
    assert place.state.conflicts == {}


def test_a_gauge_set_anew_meanwhile_meets_a_reading(place: Workplace) -> None:
    """Whoever read with the gauge as it was is told that it was set anew."""
    seen = place.state.head
    gauge = {"gauge": "M1", "name": "micrometer", "measures": "outside", "expanded": "0.0004 in"}
    place.record("gauge set", gauge, person=OTHER)
    entry = place.record("reading taken", {**SHAFT, "value": "0.5112 in", "gauge": "M1"}, seen=seen)
    assert place.state.conflicts == {entry.number: (6,)}


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("corrected", {"entry": 5, "fields": {"value": "0.5112 in"}, "reason": "misread"}),
        ("withdrawn", {"entry": 5, "reason": "misread"}),
        ("disposed", {"tag": "P-0001-3", "disposition": "replace", "reason": "worn"}),
    ],
)
def test_who_judges_has_seen_what_changed(place: Workplace, kind: str, data: dict[str, object]) -> None:
    """A judgement on a page older than a correction of what it is about is refused, and said of whose."""
    seen = place.state.head
    correction = {"entry": 5, "fields": {"value": "0.5090 in"}, "reason": "read again"}
    place.record("corrected", correction, person=OTHER)
    assert place.refused(kind, data, seen=seen) == ["entry.seen-what-it-rests-on"]


def test_a_disposition_has_seen_every_reading_of_its_part(place: Workplace) -> None:
    """One more reading of the part meanwhile, and the part is looked at again first."""
    seen = place.state.head
    place.record("reading taken", {**SHAFT, "value": "0.5101 in"}, person=OTHER)
    disposed = {"tag": "P-0001-3", "disposition": "in service limits", "reason": "measured"}
    assert place.refused("disposed", disposed, seen=seen) == ["entry.seen-what-it-rests-on"]
    place.record("disposed", disposed)


def test_a_head_of_another_copy_is_refused(place: Workplace) -> None:
    """An act on a head that is not of this job is not recorded."""
    assert place.refused("noted", {"text": "x"}, seen="e" * 64) == ["entry.seen-known"]


@pytest.mark.parametrize("kind", ["corrected", "withdrawn"])
def test_who_says_to_have_seen_nothing_judges_nothing_that_changed(place: Workplace, kind: str) -> None:
    """An empty head is no way round: whoever saw nothing has not seen the correction."""
    told = {"entry": 5, "fields": {"value": "0.5090 in"}, "reason": "read again"}
    place.record("corrected", told, person=OTHER)
    data = {"entry": 5, "reason": "x", **({"fields": {"value": "0.5112 in"}} if kind == "corrected" else {})}
    assert place.refused(kind, data, seen="") == ["entry.seen-what-it-rests-on"]


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("corrected", {"entry": 4, "fields": {"expanded": "0.0100 in"}, "reason": "misread"}),
        ("settings chosen", {"rule": "plain", "conformance": "0.95"}),
        ("corrected", {"entry": 2, "fields": {"position": "2"}, "reason": "misread"}),
    ],
)
def test_a_disposition_has_seen_what_its_verdict_rests_on(place: Workplace, kind: str, data: dict[str, object]) -> None:
    """The gauge's doubt, the settings, the part itself: changed by another meanwhile, the part is looked at again."""
    seen = place.state.head
    place.record(kind, data, person=OTHER)
    disposed = {"tag": "P-0001-3", "disposition": "in service limits", "reason": "measured", "rests_on": [5]}
    assert place.refused("disposed", disposed, seen=seen) == ["entry.seen-what-it-rests-on"]


def test_a_reading_corrected_onto_a_part_meets_who_judges_it(place: Workplace) -> None:
    """A correction changes what the act was about, and what it is about now."""
    place.read("P-0002-1", "size.bore", "0.5126 in")
    seen = place.state.head
    moved = {
        "entry": 5,
        "fields": {"tag": "P-0002-1", "row": "size.bore", "value": "0.5125 in"},
        "reason": "other part",
    }
    place.record("corrected", moved, person=OTHER)
    disposed = {"tag": "P-0002-1", "disposition": "replace", "reason": "worn", "rests_on": [6]}
    assert place.refused("disposed", disposed, seen=seen) == ["entry.seen-what-it-rests-on"]
