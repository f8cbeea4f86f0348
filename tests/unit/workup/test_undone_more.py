"""Looks that are due, parts nobody decided on, and what is open from intake: undone, each with its rule."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.record.bench.rules import all_rules
from tests.builders import PARTS_CSV, SIZES_CSV, Workplace, small_book
from tests.intake import SCOPE, TIMES, take_in

INSPECTIONS = """id,part,what,method,looks_for,when,demagnetise,page
inspection.shaft-clean,part.shaft,clean,,,,,2-9
inspection.shaft-crack,part.shaft,crack test,magnetic particle,,propeller strike,yes,2-9
inspection.plug-clean,part.plug,clean,,,,,2-9
"""
SIZES = "\n".join(SIZES_CSV.splitlines()[:3])
FITS = "id,name,hole,shaft,kind,unit,new_min,new_max,service_min,service_max,safety,page,note"
PARTS = PARTS_CSV.replace(",set.pump,", ",,")
SHAFT = "P-0001-3"
LISTED = {"document": "directive", "number": "D-1", "subject": "gears", "applies": "yes", "why": "by serial number"}
STRIKE = {"event": "propeller strike", "answer": "not known", "says": "the log has a gap"}


def workplace(**tables: str) -> Workplace:
    """A shaft with one size, alone in its book; nothing else is measured."""
    return Workplace().open(small_book(**{"sizes": SIZES, "fits": FITS, "parts": PARTS, **tables}))


@pytest.fixture
def place() -> Workplace:
    """The engine taken in (2 to 13), the shaft on the bench (14)."""
    place = take_in(workplace())
    place.remove("part.shaft")
    return place


def undone_by(place: Workplace, rule: str) -> list[str]:
    """Undone lines of one rule, which the register knows."""
    assert all_rules().find(rule) is not None
    return [line.text for line in place.work_up().undone if line.because.rule == rule]


def decide(place: Workplace, word: str, **more: Any) -> None:
    """Decide what becomes of the shaft."""
    place.record("disposed", {"tag": SHAFT, "disposition": word, "reason": "told", **more})


def test_a_job_without_intake_says_so_in_three_short_lines() -> None:
    """Scope, events and times, a line each, until each is recorded."""
    place = workplace()
    assert [line.text for line in place.work_up().undone] == [
        "scope: not agreed",
        "events that force a scope: not asked: none of them",
        "times of the engine: not stated",
    ]
    place.record("scope agreed", SCOPE)
    place.record("times stated", {**TIMES, "of": "propeller"})
    assert [line.text for line in place.work_up().undone][1:] == ["times of the engine: not stated"]
    take_in(place)
    assert place.work_up().undone == ()


def test_events_not_asked_are_named_in_one_line() -> None:
    """Once one was asked about, the others are named."""
    place = workplace()
    place.record("event answered", {"event": "fire", "answer": "no", "says": "the owner's word"})
    (line,) = undone_by(place, "undone.events-asked")
    assert line.startswith("events that force a scope: not asked: propeller strike, sudden stoppage")
    assert "fire" not in line


def test_a_part_within_is_to_be_decided_on(place: Workplace) -> None:
    """Measured whole and within, it still wants its word; with nothing against it, the line says so."""
    assert undone_by(place, "undone.without-a-word") == []
    place.read(SHAFT, "size.shaft", "0.5110 in")
    assert undone_by(place, "undone.without-a-word") == [
        "P-0001-3 pump shaft: decide what becomes of it: nothing against in new limits"
    ]
    decide(place, "in new limits")
    assert place.work_up().undone == ()


def test_what_stands_against_it_is_told() -> None:
    """A part for a single use is told as such; in service limits does not meet a scope to new limits."""
    parts = "\n".join(f"{line},{'single_use' if not at else 'yes'}" for at, line in enumerate(PARTS.splitlines()))
    place = take_in(workplace(parts=parts))
    place.remove("part.shaft")
    place.read(SHAFT, "size.shaft", "0.5100 in")
    (line,) = undone_by(place, "undone.without-a-word")
    assert line.endswith("decide what becomes of it: for a single use")
    place.record("scope agreed", {**SCOPE, "standard": "to new limits"})
    (line,) = undone_by(place, "undone.without-a-word")
    assert line.endswith("for a single use; in service limits, and the scope says to new limits")


def test_a_question_stands_before_the_decision(place: Workplace) -> None:
    """While a reading is asked about, nothing is said of a decision."""
    place.read(SHAFT, "size.shaft", "0.5110 in")
    asked = place.read(SHAFT, "size.shaft", "0.4860 in")
    assert asked.kind == "question asked"
    assert undone_by(place, "undone.without-a-word") == []
    place.answer(asked.number, "read again")
    assert len(undone_by(place, "undone.without-a-word")) == 1


def test_looks_and_tests_that_are_due_are_undone() -> None:
    """Always-due ones of parts on the bench; those an event asks for of every part; a part that goes is left out."""
    place = take_in(workplace(inspections=INSPECTIONS))
    assert undone_by(place, "undone.looks") == []
    place.record("event answered", STRIKE)
    assert undone_by(place, "undone.looks") == ["pump shaft: crack test, magnetic particle: due, not done"]
    place.remove("part.shaft")
    due = undone_by(place, "undone.looks")
    assert due == [
        "P-0001-3 pump shaft: clean: due, not done",
        "P-0001-3 pump shaft: crack test, magnetic particle: due, not done",
    ]
    place.read(SHAFT, "size.shaft", "0.5110 in")
    assert undone_by(place, "undone.without-a-word") == [], "the looks stand before it"
    place.record("cleaned", {"tag": SHAFT, "inspection": "inspection.shaft-clean", "process": "solvent"})
    assert undone_by(place, "undone.looks") == due[1:]
    decide(place, "scrap")
    assert undone_by(place, "undone.looks") == []


def test_a_part_that_goes_is_not_measured_any_more(place: Workplace) -> None:
    """Scrapped, it is not undone that it was not measured."""
    assert undone_by(place, "undone.not-measured") == ["P-0001-3 pump shaft: diameter: not measured"]
    decide(place, "scrap")
    assert undone_by(place, "undone.not-measured") == []


def test_what_was_decided_after_the_verdict_is_not_asked_for_again(place: Workplace) -> None:
    """Beyond and then repaired: decided; on hold it is not; read again it is asked for anew."""
    place.read(SHAFT, "size.shaft", "0.5090 in")
    beyond = ["P-0001-3 pump shaft: BEYOND: decide what becomes of it"]
    assert undone_by(place, "limit.worst") == beyond
    decide(place, "hold")
    assert undone_by(place, "limit.worst") == beyond
    decide(place, "repair", procedure="page 4")
    assert undone_by(place, "limit.worst") == []
    place.read(SHAFT, "size.shaft", "0.5090 in")
    assert undone_by(place, "limit.worst") == beyond


@pytest.mark.parametrize(
    ("applies", "says"), [("yes", "applies, not answered"), ("not known", "not known whether it applies, not answered")]
)
def test_a_directive_without_an_answer_is_undone(place: Workplace, applies: str, says: str) -> None:
    """Where it applies, or where nobody knows; one that does not apply is not."""
    place.record("document listed", {**LISTED, "number": "D-2", "applies": "no"})
    listed = place.record("document listed", {**LISTED, "applies": applies})
    assert undone_by(place, "undone.documents") == [f"directive D-1: {says}"]
    place.record("document answered", {"entry": listed.number, "answer": "deferred", "method": "due in 50 h"})
    assert undone_by(place, "undone.documents") == []


def test_priced_work_and_parts_away_are_undone(place: Workplace) -> None:
    """Until the owner answered, and until the part is back; with the day it is promised."""
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    extra = place.record("finding priced", {"entry": found.number, "work": "new gears", "price": "340.00 EUR"})
    sent = place.record("sent out", {"tag": SHAFT, "to": "a grinder", "work": "grind", "due": "2026-10-20"})
    assert undone_by(place, "undone.priced") == ["extra work, new gears: 340.00 EUR: the owner has not answered"]
    assert undone_by(place, "undone.away") == ["P-0001-3 pump shaft: away at a grinder, promised for 2026-10-20"]
    place.record("extra finding approved", {"entry": extra.number, "by": "the owner", "how": "in writing"})
    place.record("returned", {"entry": sent.number, "document": "form 17"})
    assert undone_by(place, "undone.priced") == undone_by(place, "undone.away") == []


def test_the_present_order_stays_first(place: Workplace) -> None:
    """Questions, decisions, measurements, mates; then what was added."""
    place.record("document listed", LISTED)
    place.read(SHAFT, "size.shaft", "0.4860 in")
    rules = [line.because.rule for line in place.work_up().undone]
    assert rules == ["undone.question", "undone.not-measured", "undone.documents"]
