"""A reading that may be a slip, from the question to the answer, each recorded exactly once."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Refused, WrongInput
from tenthbook.record.bench import Bench
from tenthbook.record.ledger import RequestReused
from tests.builders import STREAM, Workplace, small_book

SHAFT = ("P-0001-3", "size.shaft")


@pytest.fixture
def place() -> Workplace:
    """A shaft on the bench, and the gauge for it, entry 3."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    return place


def test_a_missed_turn_is_recorded_as_a_question(place: Workplace) -> None:
    """The reading is kept as typed, with its row, gauge and the question, and nothing is judged by it."""
    entry = place.read(*SHAFT, "0.4844 in", "M1")
    assert (entry.kind, entry.data["value"], entry.data["gauge"]) == ("question asked", "0.4844 in", "M1")
    assert entry.data["row_digest"] == small_book().sizes["size.shaft"].digest
    assert entry.data["asks"].endswith("was a turn missed?")
    assert place.work_up().sizes == ()
    assert place.bench.state(STREAM).readings == {}


def test_an_open_question_is_undone_first(place: Workplace) -> None:
    """It stands before everything else, with the feature, what was asked, and its entry."""
    place.read(*SHAFT, "0.4844 in", "M1")
    first, *rest = place.work_up().undone
    assert (first.place, first.because.rule, first.because.entries) == ("P-0001-3 diameter", "undone.question", (4,))
    assert first.what.endswith("was a turn missed?")
    assert rest[0].what == "diameter: not measured", "what does not count is not measured"


def test_read_again_drops_it(place: Workplace) -> None:
    """The question is closed and nothing of it counts; the next reading does."""
    place.read(*SHAFT, "0.4844 in", "M1")
    place.answer(4, "read again")
    assert (place.bench.state(STREAM).questions, place.work_up().sizes) == ({}, ())
    place.read(*SHAFT, "0.5094 in", "M1")
    (size,) = place.work_up().sizes
    assert (size.text, size.because.entries) == ("0.5094", (3, 6))


def test_stands_counts_under_the_questions_number(place: Workplace) -> None:
    """It is a reading from then on, and verdicts name the entry in which it was typed."""
    place.read(*SHAFT, "0.4844 in", "M1")
    place.answer(4, "stands")
    (size,) = place.work_up().sizes
    assert (size.text, size.because.entries) == ("0.4844", (3, 4))
    assert not any(one.because.rule == "undone.question" for one in place.work_up().undone)


def test_each_of_two_questions_has_its_own_answer(place: Workplace) -> None:
    """Answering one leaves the other open."""
    place.read(*SHAFT, "0.4844 in", "M1")
    place.read(*SHAFT, "0.4846 in", "M1")
    place.answer(4, "stands")
    state = place.bench.state(STREAM)
    assert (list(state.questions), list(state.readings)) == ([5], [4])


def test_a_question_sent_twice_is_asked_once(place: Workplace) -> None:
    """A tablet that sends again after a lost answer gets the same question."""
    first = place.read(*SHAFT, "0.4844 in", "M1", "read-1")
    assert place.read(*SHAFT, "0.4844 in", "M1", "read-1") == first
    assert list(place.bench.state(STREAM).questions) == [first.number]
    with pytest.raises(RequestReused):
        place.read(*SHAFT, "0.4845 in", "M1", "read-1")


@pytest.mark.parametrize("answer", ["stands", "read again"])
def test_sent_again_after_the_answer_it_is_still_that_question(place: Workplace, answer: str) -> None:
    """What was expected has changed since, the request has not: nothing is recorded anew."""
    first = place.read(*SHAFT, "0.4844 in", "M1", "read-1")
    place.answer(4, answer)
    before = place.store.entries(STREAM)
    assert place.read(*SHAFT, "0.4844 in", "M1", "read-1") == first
    assert place.store.entries(STREAM) == before


def test_a_reading_sent_again_is_not_asked_about_later(place: Workplace) -> None:
    """Taken once without a question, the same request is the same reading, whatever is expected by now."""
    slot = ("P-0001-3", "size.slot")
    first = place.read(*slot, "0.0100 in", "M1", "read-1")
    place.read(*slot, "0.0350 in", "M1")
    place.record("withdrawn", {"entry": first.number, "reason": "misread"})
    again = place.read(*slot, "0.0100 in", "M1", "read-1")
    assert (again, again.kind) == (first, "reading taken")


def test_sent_again_to_another_process_it_is_that_question(place: Workplace) -> None:
    """Another bench over the same store answers the doubled request the same."""
    first = place.read(*SHAFT, "0.4844 in", "M1", "read-1")
    data = {"tag": "P-0001-3", "row": "size.shaft", "value": "0.4844 in", "gauge": "M1"}
    assert Bench(place.store).record(STREAM, "reading taken", data, **place.act("read-1")) == first


def test_an_answer_sent_twice_is_recorded_once(place: Workplace) -> None:
    """The doubled press of a button is one answer; a second answer of its own is refused by rule."""
    place.read(*SHAFT, "0.4844 in", "M1")
    first = place.answer(4, "stands", "answer-1")
    assert place.answer(4, "stands", "answer-1") == first
    with pytest.raises(RequestReused):
        place.answer(4, "read again", "answer-1")
    with pytest.raises(Refused, match=r"question\.open"):
        place.answer(4, "stands")


def test_a_request_of_another_act_is_not_taken_for_a_reading(place: Workplace) -> None:
    """A request id that stands on a note is refused as used, not as a note with wrong fields."""
    place.record("noted", {"text": "shaft polished"}, "shared")
    with pytest.raises(RequestReused):
        place.read(*SHAFT, "0.5094 in", "M1", "shared")


def test_what_a_rule_refuses_is_not_asked_about_either(place: Workplace) -> None:
    """A slip with a gauge that is not on the bench, or with a field too many, leaves nothing behind."""
    before = place.store.entries(STREAM)
    with pytest.raises(Refused, match=r"reading\.gauge-set"):
        place.read(*SHAFT, "0.4844 in", "M9")
    with pytest.raises(WrongInput, match="colour"):
        place.record("reading taken", {"tag": "P-0001-3", "row": "size.shaft", "value": "0.4844 in", "colour": "red"})
    assert place.store.entries(STREAM) == before
