"""Where was I: the last certain act, what is uncertain, the clocks, the covers, what waits."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.record.ledger import Entry
from tenthbook.record.workup import NOTHING_OPEN
from tenthbook.record.workup.last_act import ACTS
from tenthbook.record.workup.whereabouts import Whereabouts, where_was_i
from tests.builders import FITS_CSV, STREAM, Workplace, small_book
from tests.intake import take_in

ACCESS = """id,name,behind,part,hours,disturbs,counts_as,page
access.housing,accessory housing,,,,,,3-1
access.pump,pump cover,access.housing,,,,,3-1
access.relief,relief valve cap,,,,,,3-1
"""
PARTS = """id,name,where_used,quantity,behind,page
part.housing,pump housing,accessory housing,1,access.housing,2-1
part.shaft,pump shaft,oil pump,1,access.pump,2-2
part.cover,pump cover,oil pump,1,,2-3
part.plug,cover plug,oil pump,1,access.pump,2-3
"""
INSPECTIONS = """id,part,what,method,looks_for,when,demagnetise,page
inspection.shaft-look,part.shaft,look,by eye,,metal found,,2-9
"""
SHAFT = "P-0001-3"
EVENING, LATER = "2026-10-02T20:00:00Z", "2026-10-02T20:00:01Z"  # eight hours after noon, and a second more
OILED = {"what": "bores", "preserved_with": "oil"}
DOUBT = {"expanded": "0.0001 in", "coverage_factor": "2"}
SENT = {"tag": SHAFT, "to": "a grinder", "work": "grind", "due": "2026-10-20"}
HANDED = {
    "to": "inspector",
    "stands": "pump apart",
    "unfinished": "none",
    "open_ports": "both capped",
    "parts_out": "none",
    "warnings": "none",
}


@pytest.fixture
def place() -> Workplace:
    """An engine taken in (2 to 14), both covers off (15, 16), the shaft on the bench (17); all of it at noon."""
    book = small_book(access=ACCESS, parts=PARTS, inspections=INSPECTIONS, fits=FITS_CSV.splitlines()[0])
    place = take_in(Workplace().open(book))
    for cover in ("access.housing", "access.pump"):
        place.record("cover removed", {"cover": cover})
    place.remove("part.shaft", position="rear")
    return place


def ask(place: Workplace, as_of: str = EVENING) -> Whereabouts:
    """Where was I?"""
    return where_was_i(place.bench.book(STREAM), place.state, place.work_up(), as_of)


def last(place: Workplace) -> str:
    """The last certain act in one line."""
    found = ask(place).last
    assert found is not None
    return found.text


def price(place: Workplace) -> Entry:
    """Find a step and price what it asks for."""
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    return place.record("finding priced", {"entry": found.number, "work": "new gears", "price": "340.00 EUR"})


def test_the_last_certain_act_is_told_in_words(place: Workplace) -> None:
    """Kind, what, value, time, person; where it was measured stands beside."""
    assert last(place) == "part removed: P-0001-3 pump shaft, rear; 2026-10-02T12:00:00Z, mechanic"
    data = {"tag": SHAFT, "row": "size.shaft", "value": "0.5110 in", "station": "rear", "direction": "A"}
    place.record("reading taken", data)
    assert last(place).startswith("reading taken: P-0001-3 pump shaft, diameter (rear, A), 0.5110 in; ")


def test_what_is_not_certain_is_not_the_last_act(place: Workplace) -> None:
    """A question, a withdrawal, a note and a putting down leave the act before them; answered, the reading stands."""
    before = last(place)
    asked = place.read(SHAFT, "size.shaft", "0.4844 in")
    place.record("noted", {"text": "tea"})
    place.record("put down", {"stands": "pump apart"})
    assert last(place) == before
    place.answer(asked.number, "stands")
    assert last(place).startswith("reading taken: P-0001-3 pump shaft, diameter, 0.4844 in")
    place.record("withdrawn", {"entry": asked.number, "reason": "slipped"})
    assert last(place) == before


def test_a_corrected_act_is_told_as_it_counts(place: Workplace) -> None:
    """The correction stands in its place."""
    place.record("corrected", {"entry": 17, "fields": {"position": "front"}, "reason": "slip"})
    assert "pump shaft, front" in last(place)


@pytest.mark.parametrize(
    ("kind", "data", "told"),
    [
        ("cover removed", {"cover": "access.relief", "says": "stuck"}, "relief valve cap, stuck"),
        ("counted", {"cover": "access.pump", "what": "wipes", "went_out": 4, "came_back": 3}, "3 of 4 came back"),
        ("cleaned", {"tag": SHAFT, "process": "solvent"}, "P-0001-3 pump shaft, solvent"),
        (
            "inspected",
            {"tag": SHAFT, "inspection": "inspection.shaft-look", "result": "nothing found", "says": "by eye"},
            "P-0001-3 pump shaft, look, nothing found",
        ),
        ("inspected", {"part": "part.plug", "result": "found", "says": "burr"}, "cover plug, found"),
        ("finding seen", {"tag": SHAFT, "term": "step", "place": "slot", "extent": "0.2 mm"}, "slot, step 0.2 mm"),
        ("finding seen", {"term": "metal", "place": "screen"}, "engine, screen, metal"),
        ("bagged", {"bag": "7", "place": "pump", "what": "nuts", "count": 4}, "bag 7, pump, 4 nuts"),
        ("disposed", {"tag": SHAFT, "disposition": "hold", "reason": "step"}, "P-0001-3 pump shaft, hold"),
        ("sent out", SENT, "P-0001-3 pump shaft, to a grinder"),
        (
            "gauge set",
            {
                "gauge": "M1",
                "name": "micrometer",
                "measures": "outside",
                "expanded": "0.0001 in",
                "coverage_factor": "2",
            },
            "M1 micrometer, 0.0001 in",
        ),
        (
            "preserved",
            {**OILED, "until": "2026-10-20"},
            "bores, oil, until 2026-10-20",
        ),
        (
            "component listed",
            {"item": "oil cooler", "where": "with the owner"},
            "oil cooler, with the owner",
        ),
        (
            "document listed",
            {"document": "directive", "number": "D-1", "subject": "x", "applies": "no", "why": "y"},
            "directive D-1, no",
        ),
        ("owner approved", {"work": "pump", "ceiling": "900.00 EUR", "by": "o", "how": "in writing"}, "900.00 EUR"),
        ("task taken on", {"task": "pump", "before": "done before"}, "pump, done before"),
    ],
)
def test_every_kind_of_act_has_its_words(place: Workplace, kind: str, data: dict[str, Any], told: str) -> None:
    """What it was done to, and its value."""
    number = place.record(kind, data).number
    found = ask(place).last
    assert found is not None
    assert (found.entry, found.kind) == (number, kind)
    assert told in found.text


def test_answers_name_what_they_answer(place: Workplace) -> None:
    """A part back is named; approval, refusal, directive and closing are told by what they are about."""
    sent = place.record("sent out", SENT)
    place.record("returned", {"entry": sent.number, "document": "form 17"})
    assert "returned: P-0001-3 pump shaft, form 17" in last(place)
    for answer in ("extra finding approved", "look declined"):
        priced = price(place)
        assert "finding priced: new gears, 340.00 EUR" in last(place)
        more = {"how": "in writing"} if answer == "extra finding approved" else {"reason": "later"}
        place.record(answer, {"entry": priced.number, "by": "the owner", **more})
        assert f"{answer}: entry {priced.number}, the owner" in last(place)
    assert {"crack-tested", "cover closed", "document answered", "times stated"} <= ACTS


def test_work_left_for_more_than_eight_hours_was_put_down(place: Workplace) -> None:
    """At eight hours nothing is said; a second later it was left, until it is put down."""
    assert ask(place, EVENING).uncertain == ()
    (line,) = ask(place, LATER).uncertain
    assert line.text == "work of mechanic: left without being put down"
    assert (line.because.rule, line.because.entries) == ("whereabouts.put-down", (17,))
    assert "part removed" in line.because.arithmetic[0]
    place.record("put down", {"stands": "pump apart"})
    assert ask(place, LATER).uncertain == ()


def test_work_taken_up_and_left_again_is_uncertain(place: Workplace) -> None:
    """What was put down before does not cover what was in hand since; handed over, it does."""
    laid = place.record("put down", {"stands": "pump apart"})
    place.record("taken up", {"entry": laid.number})
    assert len(ask(place, LATER).uncertain) == 1
    place.record("handed over", HANDED)
    assert ask(place, LATER).uncertain == ()


def test_doubt_and_questions_are_uncertain(place: Workplace) -> None:
    """Each with the entry it is about."""
    asked = place.read(SHAFT, "size.shaft", "0.4844 in")
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    hold = {"tag": SHAFT, "disposition": "hold", "reason": "step", "rests_on": [found.number]}
    decided = place.record("disposed", hold)
    by = place.record("withdrawn", {"entry": found.number, "reason": "dirt"})
    doubted, question = ask(place).uncertain
    assert doubted.text == f"entry {decided.number}, disposed: in doubt since entry {by.number}"
    assert (question.because.rule, question.because.entries) == ("gate.question", (asked.number,))
    place.record("re-verified", {"entry": decided.number, "says": "still there"}, person="inspector")
    place.answer(asked.number, "read again")
    assert ask(place).uncertain == ()


@pytest.mark.parametrize(
    ("as_of", "days"), [(EVENING, 0), ("2026-10-14T11:59:59Z", 11), ("2026-10-14", 11), ("2026-10-14T12:00:00Z", 12)]
)
def test_days_away_are_whole_days_since_the_last_act(place: Workplace, as_of: str, days: int) -> None:
    """A day alone is its beginning; a clock that is behind counts as no time."""
    assert ask(place, as_of).days_away == days
    assert ask(place, "2026-10-01T12:00:00Z").days_away == 0


def test_clocks_run_to_their_last_day(place: Workplace) -> None:
    """On it they run, the day after they are over; the next one stands first, and preserving again sets it anew."""
    place.record("sent out", SENT)
    place.record("preserved", {**OILED, "until": "2026-10-12"})
    on, after = ask(place, "2026-10-12T23:59:59Z"), ask(place, "2026-10-13T00:00:00Z")
    assert [(one.what, one.until, one.overdue) for one in on.clocks] == [
        ("bores, preserved", "2026-10-12", False),
        ("P-0001-3 pump shaft, promised by a grinder", "2026-10-20", False),
    ]
    assert [one.overdue for one in after.clocks] == [True, False]
    place.record("preserved", {**OILED, "until": "2026-11-12"})
    assert [one.until for one in ask(place).clocks] == ["2026-10-20", "2026-11-12"]


def test_covers_lie_behind_each_other(place: Workplace) -> None:
    """Nested as the book nests them, each with its count and first lines."""
    place.record("cover removed", {"cover": "access.relief"})
    housing, relief = ask(place).covers
    assert [one.gate.id for one in (housing, *housing.inside, relief)] == [
        "cover:access.housing",
        "cover:access.pump",
        "cover:access.relief",
    ]
    (pump,) = housing.inside
    assert pump.count == len(pump.gate.opens) == 5
    assert pump.first == pump.gate.opens[:3]
    assert relief.inside == pump.inside == ()


def test_what_waits_is_elsewhere_or_with_somebody_else(place: Workplace) -> None:
    """A part away, an answer of the owner, a hand-over; gone once answered."""
    sent = place.record("sent out", SENT)
    priced = price(place)
    over = place.record("handed over", HANDED)
    assert [line.text for line in ask(place).waits] == [
        "P-0001-3 pump shaft: away at a grinder, promised for 2026-10-20",
        "extra work, new gears: 340.00 EUR: the owner has not answered",
        "handed over to inspector: not received",
    ]
    place.record("hand-over received", {"entry": over.number, "says": "seen"}, person="inspector")
    place.record("returned", {"entry": sent.number, "document": "none"})
    place.record("look declined", {"entry": priced.number, "by": "the owner", "reason": "later"})
    assert ask(place).waits == ()


def test_the_state_of_the_hand_over_is_told(place: Workplace) -> None:
    """In hand nothing is said; put down, handed over, and in hand again once received."""
    assert ask(place).hand_over == ""
    laid = place.record("put down", {"stands": "pump apart"})
    assert ask(place).hand_over == "put down by mechanic, 2026-10-02T12:00:00Z: pump apart"
    place.record("taken up", {"entry": laid.number})
    assert ask(place).hand_over == ""
    over = place.record("handed over", HANDED)
    assert ask(place).hand_over == (
        "handed over by mechanic to inspector, not received, 2026-10-02T12:00:00Z: pump apart"
    )
    place.record("hand-over received", {"entry": over.number, "says": "seen"}, person="inspector")
    assert ask(place).hand_over == ""


def test_nothing_open_is_the_most_it_says(place: Workplace) -> None:
    """Only with nothing undone, no gate open, nothing uncertain, waiting or overdue."""
    assert ask(place).says == "Open in this book"
    quiet = take_in(Workplace().open())
    assert ask(quiet).says == NOTHING_OPEN
    assert ask(quiet, LATER).says == "Open in this book", "left without being put down"
    quiet.record("preserved", {**OILED, "until": "2026-10-02"})
    assert ask(quiet).says == NOTHING_OPEN
    quiet.record("preserved", {**OILED, "until": "2026-10-01"})
    assert ask(quiet).says == "Open in this book", "overdue"


def test_before_the_first_act_there_is_nothing_to_tell() -> None:
    """A job that was only opened has no last act and no days away."""
    found = ask(Workplace().open(), "2027-01-01")
    assert (found.last, found.days_away, found.uncertain) == (None, 0, ())
