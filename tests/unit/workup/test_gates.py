"""What is still open before a cover closes and before a release: each rule broken once and mended once."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import Refused
from tenthbook.record.bench.rules import all_rules
from tenthbook.record.ledger import Draft, Sign, public_key_of
from tenthbook.record.workup.admitting import SHOWN
from tenthbook.record.workup.gates import RELEASE, Gate, gates_of
from tests.builders import FITS_CSV, NOON, STREAM, Workplace, small_book
from tests.intake import SCOPE, take_in
from tests.signing import SECRETS, signing

ACCESS = """id,name,behind,part,hours,disturbs,counts_as,page
access.housing,accessory housing,,,,,,3-1
access.pump,pump cover,access.housing,,,,case split,3-1
"""
PARTS = """id,name,where_used,quantity,behind,sold_in,mandatory_when,page
part.housing,pump housing,accessory housing,1,access.housing,,,2-1
part.shaft,pump shaft,oil pump,1,access.pump,set.pump,,2-2
part.cover,pump cover,oil pump,1,,,,2-3
part.plug,cover plug,oil pump,2,access.pump,,,2-3
part.cooler,oil cooler,oil system,1,,,metal found,2-5
set.pump,pump set,oil pump,1,access.pump,,,2-2
"""
INSPECTIONS = """id,part,what,method,looks_for,when,demagnetise,page
inspection.shaft-look,part.shaft,look,by eye,,removal,,2-9
inspection.plug-look,part.plug,look,by eye,,metal found,,2-9
"""
PUMP, SHAFT, PLUG = "cover:access.pump", "P-0001-3", "P-0002-1"
HELD = {"tag": SHAFT, "disposition": "hold", "reason": "step in the slot"}
LOOKED = {"tag": SHAFT, "inspection": "inspection.shaft-look", "result": "nothing found", "says": "by eye"}
METAL = {"term": "metal", "place": "suction screen", "says": "bright flakes"}


def workplace() -> Workplace:
    """An engine taken in (2 to 13), both covers off (14, 15), the shaft on the bench (16)."""
    book = small_book(access=ACCESS, inspections=INSPECTIONS, parts=PARTS, fits=FITS_CSV.splitlines()[0])
    place = take_in(Workplace().open(book))
    for cover in ("access.housing", "access.pump"):
        place.record("cover removed", {"cover": cover})
    place.remove("part.shaft")
    return place


@pytest.fixture
def place() -> Workplace:
    """The engine with both covers off."""
    return workplace()


def gate(place: Workplace, gate_id: str = PUMP) -> Gate:
    """One gate."""
    (found,) = [one for one in gates_of(place.bench.book(STREAM), place.state, place.work_up()) if one.id == gate_id]
    return found


def open_by(place: Workplace, rule: str, gate_id: str = PUMP) -> list[str]:
    """Lines of a gate that one rule opened; each names rule and entries that exist."""
    opens = gate(place, gate_id).opens
    known = all_rules()
    for line in opens:
        assert known.find(line.because.rule) is not None, line.because.rule
        assert all(0 <= entry <= place.state.number for entry in line.because.entries)
    return [line.text for line in opens if line.because.rule == rule]


def count(place: Workplace, what: str, out: int, back: int, cover: str = "access.pump") -> None:
    """Count under a cover."""
    place.record("counted", {"cover": cover, "what": what, "went_out": out, "came_back": back})


def count_all(place: Workplace, cover: str = "access.pump") -> None:
    """Count all that is counted, and let all of it come back."""
    for what in ("hardware", "blanks", "wipes"):
        count(place, what, 4, 4, cover)


def settle_pump(place: Workplace) -> None:
    """Settle all that is behind the pump cover."""
    place.record("inspected", LOOKED)
    place.read(SHAFT, "size.shaft", "0.5110 in")
    place.record("disposed", {"tag": SHAFT, "disposition": "in new limits", "reason": "measured"})
    place.record("disposed", {"part": "part.plug", "disposition": "not disturbed", "reason": "tight"})
    count_all(place)


def lay_in(place: Workplace, kind: str, data: dict[str, Any], sign: Sign | None = None) -> int:
    """Put an entry into the stream that nobody judged; its number."""
    state = place.state
    draft = Draft(kind, 1, "mechanic", f"laid-in-{state.number}", state.head, NOON, data)
    return place.store.append(STREAM, draft, lambda _since: None, sign=sign).number


def override(place: Workplace, gate_id: str) -> int:
    """Override a gate, with a signature."""
    key = public_key_of(SECRETS["mechanic"]).hex()
    data = {"gate": gate_id, "opens": ["all of it"], "reason": "ferry", "rests_on": place.state.head, "key": key}
    return lay_in(place, "gate overridden", data, signing("mechanic"))


def test_one_gate_for_each_cover_that_is_off_and_one_for_the_release(place: Workplace) -> None:
    """They come in the order the covers came off; a cover that is on has none."""
    gates = gates_of(place.bench.book(STREAM), place.state, place.work_up())
    assert [one.id for one in gates] == ["cover:access.housing", PUMP, RELEASE]
    settle_pump(place)
    place.record("cover closed", {"cover": "access.pump"})
    gates = gates_of(place.bench.book(STREAM), place.state, place.work_up())
    assert [one.id for one in gates] == ["cover:access.housing", RELEASE]


def test_covers_behind_it_are_closed_first(place: Workplace) -> None:
    """The housing waits for the pump cover, and does not once that is on."""
    assert open_by(place, "gate.covers-behind", "cover:access.housing") == ["pump cover: behind it and off"]
    settle_pump(place)
    place.record("cover closed", {"cover": "access.pump"})
    assert open_by(place, "gate.covers-behind", "cover:access.housing") == []


def test_every_piece_behind_it_has_a_word(place: Workplace) -> None:
    """Tagged ones by tag, the others together by their id; a set is no piece."""
    assert open_by(place, "gate.decided") == [
        "cover plug: 2 of 2 not removed, nothing decided",
        "P-0001-3 pump shaft: nothing decided",
    ]
    place.remove("part.plug")
    assert open_by(place, "gate.decided")[:2] == [
        "P-0002-1 cover plug: nothing decided",
        "cover plug: 1 of 2 not removed, nothing decided",
    ]
    place.record("disposed", {"part": "part.plug", "disposition": "not disturbed", "reason": "tight"})
    place.record("disposed", {"tag": PLUG, "disposition": "scrap", "reason": "burred"})
    place.record("disposed", HELD)
    assert open_by(place, "gate.decided") == []


def test_a_hold_keeps_it_open(place: Workplace) -> None:
    """On hold is no decision to close over; another word ends it."""
    place.record("disposed", HELD)
    assert open_by(place, "gate.hold") == ["P-0001-3 pump shaft: on hold: step in the slot"]
    place.record("disposed", {**HELD, "disposition": "scrap"})
    assert open_by(place, "gate.hold") == []


def test_a_disposition_in_doubt_keeps_it_open(place: Workplace) -> None:
    """What it rested on was withdrawn; looked at again it stands."""
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    decided = place.record("disposed", {**HELD, "disposition": "scrap", "rests_on": [found.number]})
    by = place.record("withdrawn", {"entry": found.number, "reason": "dirt"})
    assert open_by(place, "gate.doubt") == [f"P-0001-3 pump shaft: scrap: in doubt since entry {by.number}"]
    assert len(open_by(place, "gate.doubt", RELEASE)) == 1
    place.record("re-verified", {"entry": decided.number, "says": "cracked all the same"}, person="inspector")
    assert open_by(place, "gate.doubt") == open_by(place, "gate.doubt", RELEASE) == []


@pytest.mark.parametrize("word", ["replace", "mandatory replace", "scrap", "repair", "rework to size"])
def test_a_part_that_goes_or_is_mended_leaves_its_place_open(place: Workplace, word: str) -> None:
    """Nothing is there in its place yet."""
    data = {"tag": SHAFT, "disposition": word, "reason": "worn", "procedure": "page 4"}
    decided = place.record("disposed", data)
    assert open_by(place, "gate.piece-there") == [f"P-0001-3 pump shaft: {word}: nothing fitted in its place yet"]
    place.record("withdrawn", {"entry": decided.number, "reason": "the wrong tag"})
    assert open_by(place, "gate.piece-there") == []


def test_a_part_that_is_away_keeps_it_open(place: Workplace) -> None:
    """Until it is back."""
    sent = place.record("sent out", {"tag": SHAFT, "to": "a grinder", "work": "grind", "due": "2026-10-20"})
    assert open_by(place, "undone.away") == ["P-0001-3 pump shaft: away at a grinder, promised for 2026-10-20"]
    place.record("returned", {"entry": sent.number, "document": "form 17"})
    assert open_by(place, "undone.away") == []


def test_a_question_keeps_it_open(place: Workplace) -> None:
    """A reading that was asked about is answered first, before the cover and before the release."""
    asked = place.read(SHAFT, "size.shaft", "0.4844 in")
    assert asked.kind == "question asked"
    assert open_by(place, "gate.question") == ["P-0001-3 pump shaft: diameter: asked about, not answered"]
    assert len(open_by(place, "gate.question", RELEASE)) == 1
    place.answer(asked.number, "read again")
    assert open_by(place, "gate.question") == open_by(place, "gate.question", RELEASE) == []


def test_looks_that_are_due_keep_it_open(place: Workplace) -> None:
    """Until done; a part that goes is looked at no more."""
    due = ["P-0001-3 pump shaft: look, by eye: due, not done"]
    assert open_by(place, "undone.looks") == due
    scrapped = place.record("disposed", {**HELD, "disposition": "scrap"})
    assert open_by(place, "undone.looks") == []
    place.record("withdrawn", {"entry": scrapped.number, "reason": "the wrong tag"})
    assert open_by(place, "undone.looks") == due
    place.record("inspected", LOOKED)
    assert open_by(place, "undone.looks") == []


def test_what_was_measured_since_a_disposition_is_held_against_it(place: Workplace) -> None:
    """In limits when it was decided, beyond when read again: open until decided anew."""
    settle_pump(place)
    assert open_by(place, "gate.still-holds") == []
    place.read(SHAFT, "size.shaft", "0.4900 in")
    (line,) = open_by(place, "gate.still-holds")
    assert "in new limits, and against it since" in line
    assert "decide.worst-verdict" in line
    place.record("disposed", {**HELD, "disposition": "scrap"})
    assert open_by(place, "gate.still-holds") == []


def test_everything_is_counted_back_since_the_cover_came_off(place: Workplace) -> None:
    """A missing count and a missing piece are open; what else was counted must come out, too."""
    assert open_by(place, "gate.counted") == [
        f"pump cover: {one}: not counted" for one in ("hardware", "blanks", "wipes")
    ]
    count_all(place)
    assert open_by(place, "gate.counted") == []
    count(place, "blanks", 4, 3)
    count(place, "tools", 2, 3)
    assert open_by(place, "gate.counted") == [
        "pump cover: blanks: 1 of 4 missing",
        "pump cover: tools: 1 more came back than the 2 that went out",
    ]
    assert open_by(place, "gate.counted", "cover:access.housing") != []


def test_a_cover_taken_off_again_is_counted_again(place: Workplace) -> None:
    """What was counted before it closed counts no more."""
    settle_pump(place)
    place.record("cover closed", {"cover": "access.pump"})
    place.record("cover removed", {"cover": "access.pump"})
    assert len(open_by(place, "gate.counted")) == 3


def test_a_cover_does_not_close_over_open_work(place: Workplace) -> None:
    """The refusal names the first lines and how many more; settled, it closes."""
    opens = gate(place).opens
    with pytest.raises(Refused) as caught:
        place.record("cover closed", {"cover": "access.pump"})
    (refusal,) = caught.value.refusals
    assert refusal.rule == "cover.settled"
    assert all(line.text in refusal.found for line in opens[:SHOWN])
    assert refusal.found.endswith(f"; and {len(opens) - SHOWN} more")
    assert refusal.todo
    settle_pump(place)
    assert gate(place).opens == ()
    place.record("cover closed", {"cover": "access.pump"})


def test_an_override_keeps_the_list_and_lets_the_cover_close(place: Workplace) -> None:
    """Overridden since the cover came off, the gate still shows all that is open, and the cover closes over it."""
    count(place, "blanks", 4, 3)
    before = gate(place)
    assert before.overridden_by == -1
    number = override(place, PUMP)
    now = gate(place)
    assert (now.overridden_by, now.opens) == (number, before.opens)
    place.record("cover closed", {"cover": "access.pump"})


def test_what_stayed_open_behind_a_closed_cover_is_open_before_the_release(place: Workplace) -> None:
    """A part on hold and a missing blank are not lost when a cover closes over them."""
    place.record("disposed", HELD)
    count(place, "blanks", 4, 3)
    override(place, PUMP)
    place.record("cover closed", {"cover": "access.pump"})
    assert open_by(place, "gate.hold", RELEASE) == ["P-0001-3 pump shaft: on hold: step in the slot"]
    assert "pump cover: blanks: 1 of 4 missing" in open_by(place, "gate.counted", RELEASE)
    assert open_by(place, "gate.decided", RELEASE) == ["cover plug: 2 of 2 not removed, nothing decided"]


def test_an_override_from_before_the_cover_came_off_counts_no_more(place: Workplace) -> None:
    """It was for another closing."""
    override(place, PUMP)
    place.record("cover closed", {"cover": "access.pump"})
    place.record("cover removed", {"cover": "access.pump"})
    assert gate(place).overridden_by == -1
    assert place.refused("cover closed", {"cover": "access.pump"}) == ["cover.settled"]


def test_a_release_is_never_overridden(place: Workplace) -> None:
    """An entry that says so changes nothing."""
    override(place, RELEASE)
    assert gate(place, RELEASE).overridden_by == -1


def test_the_release_names_covers_scope_and_events() -> None:
    """A job that was only opened has no scope and asked about nothing; a cover that is off is named."""
    place = Workplace().open(small_book(access=ACCESS, parts=PARTS))
    assert [line.text for line in gate(place, RELEASE).opens] == [
        "scope: not agreed",
        "events that force a scope: not asked: none of them",
    ]
    place.record("event answered", {"event": "fire", "answer": "no", "says": "the owner's word"})
    (line,) = open_by(place, "undone.events-asked", RELEASE)
    assert "propeller strike" in line
    assert "fire" not in line
    take_in(place)
    assert gate(place, RELEASE).opens == ()
    place.record("cover removed", {"cover": "access.housing"})
    assert open_by(place, "gate.covers-on", RELEASE) == ["accessory housing: off, 4 open before it closes"]


def test_an_event_that_the_scope_does_not_hold_is_open(place: Workplace) -> None:
    """A smaller job does not close a forced inspection."""
    place.record("event answered", {"event": "overspeed", "answer": "not known", "says": "the log has a gap"})
    (line,) = open_by(place, "gate.events-covered", RELEASE)
    assert line == "overspeed: answered not known, the scope does not hold its inspection"
    place.record("scope agreed", {**SCOPE, "covers": ["overspeed"]})
    assert open_by(place, "gate.events-covered", RELEASE) == []


@pytest.mark.parametrize("applies", ["yes", "not known"])
def test_a_directive_waits_for_its_answer(place: Workplace, applies: str) -> None:
    """Where it applies or nobody knows; one that does not apply needs none."""
    listed = {"document": "directive", "number": "D-1", "subject": "gears", "why": "by serial number"}
    entry = place.record("document listed", {**listed, "applies": applies})
    place.record("document listed", {**listed, "number": "D-2", "applies": "no"})
    (line,) = open_by(place, "undone.documents", RELEASE)
    assert line.startswith("directive D-1: ")
    place.record("document answered", {"entry": entry.number, "answer": "done", "method": "paragraph c"})
    assert open_by(place, "undone.documents", RELEASE) == []


def test_priced_work_waits_for_the_owner(place: Workplace) -> None:
    """Until the yes or the no."""
    found = place.record("finding seen", {"tag": SHAFT, "term": "step", "place": "slot"})
    data = {"entry": found.number, "work": "new gears", "price": "340.00 EUR"}
    entry = place.record("finding priced", data)
    assert open_by(place, "undone.priced", RELEASE) == ["extra work, new gears: 340.00 EUR: the owner has not answered"]
    place.record("look declined", {"entry": entry.number, "by": "the owner", "reason": "not now"})
    assert open_by(place, "undone.priced", RELEASE) == []


def test_work_laid_down_is_taken_up_before_a_release(place: Workplace) -> None:
    """Put down on purpose it waits for hands."""
    laid = place.record("put down", {"stands": "pump apart"})
    assert open_by(place, "gate.taken-up", RELEASE) == ["put down by mechanic: not taken up"]
    place.record("taken up", {"entry": laid.number})
    assert open_by(place, "gate.taken-up", RELEASE) == []


def test_an_entry_that_cannot_be_read_is_open(place: Workplace) -> None:
    """A newer version's entry may say anything."""
    assert open_by(place, "gate.readable", RELEASE) == []
    number = lay_in(place, "engine repainted", {})
    assert open_by(place, "gate.readable", RELEASE) == [f"entry {number}: this version cannot read it"]


def test_metal_opens_a_list_that_a_note_does_not_close(place: Workplace) -> None:
    """Each place that metal goes to is named until a part of it is cleaned, looked into or decided on."""
    place.record("inspected", {"part": "part.housing", "result": "nothing found", "says": "hoses flushed, filtered"})
    assert open_by(place, "gate.metal-group", RELEASE) == []
    place.record("finding seen", METAL)
    place.record("noted", {"text": "cooler, hoses, governor, tappets: all clean"})
    groups = [line.partition(":")[0] for line in open_by(place, "gate.metal-group", RELEASE)]
    assert groups == [
        "cooler",
        "hoses",
        "governor",
        "hollow shaft and hub",
        "relief and bypass valves",
        "plugged galleries",
        "tappets",
    ]


@pytest.mark.parametrize(
    ("says", "gone", "left"),
    [
        ("hoses flushed, filtered", "hoses", ""),
        ("governor pad: none on this type", "governor", ""),
        ("crankshaft bore", "", "hub: not cleaned"),
        ("hub and hollow shaft by lamp", "hollow shaft and hub", ""),
        ("relief valve seat", "", "bypass valve: not cleaned"),
        ("tappets, all eight", "tappets", ""),
        ("galleries rodded", "plugged galleries", ""),
    ],
)
def test_a_look_since_metal_was_found_closes_its_place(place: Workplace, says: str, gone: str, left: str) -> None:
    """In its own words or by its part; with nothing found; a group of two is closed by both."""
    place.record("finding seen", METAL)
    before = open_by(place, "gate.metal-group", RELEASE)
    look = {"part": "part.housing", "result": "found", "says": says}
    place.record("inspected", look)
    assert open_by(place, "gate.metal-group", RELEASE) == before
    place.record("inspected", {**look, "result": "nothing found"})
    after = open_by(place, "gate.metal-group", RELEASE)
    closed = [line.partition(":")[0] for line in before if line not in after and not left]
    assert closed == ([gone] if gone else [])
    assert any(left in line for line in after)


def test_a_part_that_the_book_names_for_metal_is_decided_on(place: Workplace) -> None:
    """The cooler is replaced where metal was found, the plugs are looked at; the event opens it as a finding does."""
    asked = place.record("event answered", {"event": "metal found", "answer": "not known", "says": "no filter kept"})
    assert open_by(place, "gate.metal-part", RELEASE) == [
        "oil cooler: replaced where metal was found: not decided so",
        "cover plug: look for metal: not done",
    ]
    cooler = place.remove("part.cooler")
    place.record("disposed", {"tag": cooler, "disposition": "mandatory replace", "reason": "metal"})
    look = {"part": "part.plug", "inspection": "inspection.plug-look", "result": "nothing found", "says": "by eye"}
    place.record("inspected", look)
    assert open_by(place, "gate.metal-part", RELEASE) == []
    assert not any(line.startswith("cooler") for line in open_by(place, "gate.metal-group", RELEASE))
    assert gate(place, RELEASE).opens[-1].because.entries == (asked.number,)


WORDS = ("in new limits", "in service limits", "not disturbed", "looked at in place")
STEPS = st.lists(
    st.tuples(st.sampled_from((SHAFT, PLUG, "part.plug", "part.housing")), st.sampled_from(WORDS)), max_size=6
)


@settings(max_examples=25, deadline=None)
@given(readings=st.lists(st.sampled_from(("0.5110 in", "0.5105 in", "0.5090 in")), max_size=2), steps=STEPS)
def test_a_settled_disposition_never_opens_anything(readings: list[str], steps: list[tuple[str, str]]) -> None:
    """Whatever was measured, recording more settled dispositions adds no line to a cover's gate."""
    place = workplace()
    place.remove("part.plug")
    place.record("inspected", LOOKED)
    for value in readings:
        place.read(SHAFT, "size.shaft", value)
    before = {one.text for one in gate(place).opens}
    for of, word in steps:
        named = {"tag": of} if of in (SHAFT, PLUG) else {"part": of}
        try:
            place.record("disposed", {**named, "disposition": word, "reason": "settled"})
        except Refused:
            continue
        after = {one.text for one in gate(place).opens}
        assert after <= before
        before = after


def test_a_gate_never_says_more_than_what_is_open(place: Workplace) -> None:
    """No gate, settled or not, says that anything may be done."""
    settle_pump(place)
    for one in gates_of(place.bench.book(STREAM), place.state, place.work_up()):
        told = " ".join([one.title, *(line.text for line in one.opens)]).lower()
        assert not any(word in told for word in ("may start", "clear", "airworthy", "approved"))
