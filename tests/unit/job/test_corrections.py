"""Corrections count at the original's place, the original stays visible, and what rested on it turns doubted."""

from __future__ import annotations

import pytest

from tenthbook.record.job import fold
from tenthbook.record.workup import headline
from tests.builders import STREAM, Workplace, chain, noted, small_book

REASON = "misread"


@pytest.fixture
def place() -> Workplace:
    """A shaft (entry 2) and a housing (3) on the bench, gauge M1 set (4); the shaft read (5) and disposed on it (6)."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.remove("part.housing")
    place.set_gauge("M1", "0.0001 in")
    place.read("P-0001-3", "size.shaft", "0.5110 in", "M1")
    place.record("disposed", {"tag": "P-0001-3", "disposition": "in new limits", "reason": "measured", "rests_on": [5]})
    return place


def corrected(place: Workplace, entry: int, **fields: str) -> None:
    """Correct an entry."""
    place.record("corrected", {"entry": entry, "fields": fields, "reason": REASON})


def test_a_correction_counts_at_the_originals_place(place: Workplace) -> None:
    """The reading has its own number, person and time, and the corrected value; the entry itself is as it was."""
    corrected(place, 5, value="0.5112 in")
    reading = place.state.readings[5]
    assert (reading.entry, str(reading.value)) == (5, "0.5112 in")
    assert place.store.entries(STREAM)[5].data["value"] == "0.5110 in"
    (made,) = place.state.corrections[5]
    assert (made.entry, made.fields, made.reason) == (7, {"value": "0.5112 in"}, REASON)
    assert headline(place.work_up().sizes[0].verdict).startswith("IN NEW LIMITS")


def test_a_second_correction_counts_over_the_first(place: Workplace) -> None:
    """Both stay visible, the last counts."""
    corrected(place, 5, value="0.5112 in")
    corrected(place, 5, value="0.5113 in", station="middle")
    reading = place.state.readings[5]
    assert (str(reading.value), reading.station, len(place.state.corrections[5])) == ("0.5113 in", "middle", 2)


def test_what_rested_on_it_turns_doubted(place: Workplace) -> None:
    """The disposition made on the old value is in doubt by the entry that corrected, and no reading is."""
    corrected(place, 5, value="0.5090 in")
    assert place.state.doubted == {6: (7,)}


def test_doubt_spreads_by_more_than_one_step(place: Workplace) -> None:
    """A gauge's doubt corrected puts in doubt the disposition that rested on a reading taken with it."""
    corrected(place, 4, expanded="0.0004 in")
    assert place.state.doubted == {6: (7,)}
    assert str(place.state.gauges["M1"].expanded) == "0.0004 in"


def test_what_does_not_rest_on_it_stays(place: Workplace) -> None:
    """A reading of another part and its disposition know nothing of the correction."""
    place.read("P-0002-1", "size.bore", "0.5126 in")
    place.record("disposed", {"tag": "P-0002-1", "disposition": "in new limits", "reason": "measured", "rests_on": [7]})
    corrected(place, 5, value="0.5112 in")
    assert place.state.doubted == {6: (9,)}


def test_a_withdrawal_doubts_as_a_correction_does(place: Workplace) -> None:
    """What rested on a withdrawn reading is in doubt."""
    place.record("withdrawn", {"entry": 5, "reason": "the wrong journal"})
    assert place.state.doubted == {6: (7,)}
    assert not place.state.counts(5)


def test_looked_at_again_it_stands(place: Workplace) -> None:
    """A second look ends the doubt; another correction opens it again."""
    corrected(place, 5, value="0.5112 in")
    place.record("re-verified", {"entry": 6, "says": "still in new limits"})
    assert place.state.doubted == {}
    corrected(place, 5, value="0.5090 in")
    assert place.state.doubted == {6: (9,)}


def test_what_is_not_in_doubt_is_not_looked_at_again(place: Workplace) -> None:
    """The rule is named."""
    assert place.refused("re-verified", {"entry": 6, "says": "x"}) == ["verified.in-doubt"]


@pytest.mark.parametrize(
    ("entry", "fields", "rules"),
    [
        (0, {"scope": "overhaul"}, ["corrected.field"]),
        (1, {"digest": "b" * 64}, ["withdrawn.stands"]),
        (5, {"person": "inspector"}, ["corrected.field"]),
        (5, {"value": "0.5110 in"}, ["corrected.field"]),
        (5, {"value": "0,5110 in"}, ["reading.kind"]),
        (5, {"value": "5110 in"}, ["reading.point-or-sign"]),
        (5, {"tag": "P-0002-1"}, ["reading.own-feature"]),
        (5, {"gauge": "B9"}, ["reading.gauge-set"]),
        (4, {"expanded": "0"}, ["gauge.doubt-stated"]),
        (99, {"value": "0.5112 in"}, ["withdrawn.stands"]),
    ],
)
def test_a_correction_is_judged_as_the_act_is(
    place: Workplace, entry: int, fields: dict[str, str], rules: list[str]
) -> None:
    """What could not have been recorded cannot be corrected to."""
    assert place.refused("corrected", {"entry": entry, "fields": fields, "reason": REASON}) == rules


def test_a_corrected_slip_is_asked_about_and_waits(place: Workplace) -> None:
    """A correction that is one turn off does not count until somebody answers."""
    entry = place.record("corrected", {"entry": 5, "fields": {"value": "0.4860 in"}, "reason": REASON})
    assert "a turn" in entry.data["asks"]
    assert (5 in place.state.questions, 5 in place.state.readings) == (True, False)
    place.answer(5, "stands")
    assert str(place.state.readings[5].value) == "0.4860 in"


def test_an_asked_reading_corrected_needs_no_answer(place: Workplace) -> None:
    """Who finds the slip at once corrects it, and the question is gone."""
    place.read("P-0001-3", "size.shaft", "0.4861 in")
    corrected(place, 7, value="0.5111 in")
    assert (place.state.questions, str(place.state.readings[7].value)) == ({}, "0.5111 in")


def test_a_reading_moved_to_its_own_feature(place: Workplace) -> None:
    """A reading noted on the wrong part is corrected with its tag and row; each feature has what is its own."""
    place.read("P-0002-1", "size.bore", "0.5126 in")
    place.remove("part.shaft")
    digest = small_book().sizes["size.shaft"].digest
    place.read("P-0003-0", "size.shaft", "0.5112 in")
    corrected(place, 9, tag="P-0001-3")
    readings = place.state.standing("P-0001-3", "size.shaft"), place.state.standing("P-0003-0", "size.shaft")
    assert [[one.entry for one in found] for found in readings] == [[9], []]
    corrected(place, 9, tag="P-0002-1", row="size.bore", row_digest=small_book().sizes["size.bore"].digest)
    assert digest != place.state.readings[9].row_digest
    assert [one.entry for one in place.state.standing("P-0002-1", "size.bore")] == [7, 9]


def test_the_text_of_a_note_and_the_engines_name(place: Workplace) -> None:
    """Other acts are corrected too: a note, the serial number on entry 0, a part's position."""
    place.record("noted", {"text": "spring 18.1 lbf"})
    corrected(place, 7, text="spring 11.8 lbf")
    corrected(place, 0, engine="Test engine 2")
    corrected(place, 2, position="accessory housing")
    state = place.state
    assert (state.notes[7], state.opened["engine"]) == ("spring 11.8 lbf", "Test engine 2")
    assert state.parts["P-0001-3"].position == "accessory housing"


def test_a_paper_is_stale_once_what_it_shows_changed(place: Workplace) -> None:
    """A note leaves a paper as it is, a correction outdates it."""
    place.record("papers issued", {"paper": "report", "digest": "a" * 64, "rests_on": place.state.head})
    place.record("noted", {"text": "sent to the owner"})
    assert place.state.stale_papers == {}
    corrected(place, 5, value="0.5112 in")
    assert list(place.state.stale_papers) == [7]


def test_a_part_with_readings_is_not_withdrawn(place: Workplace) -> None:
    """A part, or a gauge, on which a reading rests stays; with nothing on it, it goes."""
    assert place.refused("withdrawn", {"entry": 2, "reason": "x"}) == ["withdrawn.nothing-rests"]
    assert place.refused("withdrawn", {"entry": 4, "reason": "x"}) == ["withdrawn.nothing-rests"]
    place.record("withdrawn", {"entry": 3, "reason": "another housing"})
    assert list(place.state.parts) == ["P-0001-3"]
    assert place.remove("part.housing") == "P-0003-0", "a tag is never given again"


def test_a_disposition_withdrawn_gives_way_to_the_one_before(place: Workplace) -> None:
    """The last that stands counts."""
    place.record("disposed", {"tag": "P-0001-3", "disposition": "replace", "reason": "step in the slot"})
    assert place.state.dispositions["P-0001-3"].word == "replace"
    place.record("withdrawn", {"entry": 7, "reason": "another shaft"})
    assert place.state.dispositions["P-0001-3"].word == "in new limits"


def test_a_disposition_names_its_procedure_and_what_counts(place: Workplace) -> None:
    """A repair without procedure, and a disposition on what was withdrawn, are refused."""
    repair = {"tag": "P-0001-3", "disposition": "repair", "reason": "worn"}
    assert place.refused("disposed", repair) == ["disposed.procedure"]
    place.record("withdrawn", {"entry": 5, "reason": "x"})
    gone = {"tag": "P-0001-3", "disposition": "replace", "reason": "worn", "rests_on": [5]}
    assert place.refused("disposed", gone) == ["disposed.rests-on-standing"]


def test_a_gauge_past_its_day_is_neither_set_nor_read(place: Workplace) -> None:
    """The last day counts; the day after it is refused, for the setting and for a reading."""
    gauge = {"gauge": "B2", "name": "bore gauge", "measures": "bore", "expanded": "0.0001 in"}
    assert place.refused("gauge set", {**gauge, "due": "2026-10-01"}) == ["gauge.in-calibration"]
    place.record("gauge set", {**gauge, "due": "2026-10-02"})
    reading = {"tag": "P-0002-1", "row": "size.bore", "value": "0.5126 in", "gauge": "B2"}
    place.record("reading taken", reading)
    late = {**place.act(), "acted_at": "2026-10-03T08:00:00Z"}
    with pytest.raises(Exception, match=r"gauge\.in-calibration"):
        place.bench.record(STREAM, "reading taken", reading, **late)


def test_a_clock_that_ran_backward_is_a_finding() -> None:
    """The entry is named and nothing is smoothed: the order is by number."""
    place = Workplace().open()
    place.clock.now = "2026-10-01T12:00:00Z"
    place.record("noted", {"text": "earlier by the clock"})
    place.clock.now = "2026-10-03T12:00:00Z"
    place.record("noted", {"text": "later"})
    assert place.state.clock_findings == [2]
    assert [entry.number for entry in place.store.entries(STREAM)] == [0, 1, 2, 3]


def test_history_that_cannot_be_is_kept_by_number() -> None:
    """A correction of what is not there is neither lost nor guessed at."""
    entries = chain(noted(), noted("x", kind="corrected", request="r-2"))
    assert fold(entries).unknown == [1]


def test_a_corrected_reading_rests_on_the_gauge_it_names_now() -> None:
    """Corrected to another gauge, it is doubted with that gauge, and so is what was decided on it since."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    place.set_gauge("M2", "0.0001 in")
    place.read("P-0001-3", "size.shaft", "0.5110 in", "M1")
    corrected(place, 5, gauge="M2")
    place.record("disposed", {"tag": "P-0001-3", "disposition": "in new limits", "reason": "measured", "rests_on": [5]})
    corrected(place, 4, expanded="0.0004 in")
    assert place.state.doubted == {7: (8,)}
    assert fold(place.store.entries(STREAM)).doubted == {7: (8,)}
