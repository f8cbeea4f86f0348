"""Where the job stands: the fold never refuses history."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.job import JobState, fold
from tenthbook.record.ledger import Draft, Entry
from tests.builders import NOON, OPENED, chain

READING = {
    "tag": "P-0001-3",
    "row": "size.shaft",
    "row_digest": "ab",
    "value": "0.5110 in",
    "station": "end",
    "direction": "a",
    "gauge": "M1",
}
GAUGE = {
    "gauge": "M1",
    "name": "micrometer",
    "measures": "outside",
    "expanded": "0.0001 in",
    "coverage_factor": "2",
    "set_on": "standard",
}
ASKED = {**READING, "value": "0.4860 in", "asks": "was a turn missed?"}


def entry(kind: str, data: dict[str, Any], version: int = 1) -> Draft:
    """A draft of any kind, right or wrong."""
    return Draft(kind, version, "mechanic", "r", "", NOON, data)


def history() -> list[Entry]:
    """A part, two readings, one withdrawn, a gauge, chosen settings, and questions: stands, read again, open."""
    return chain(
        entry("opened", {"stream": "0417", **OPENED}),
        entry("book pinned", {"type": "t", "revision": "1", "digest": "cd"}),
        entry("part removed", {"tag": "P-0001-3", "part": "part.shaft", "position": "left"}),
        entry("reading taken", READING),
        entry("reading taken", {**READING, "value": "0.5111 in"}),
        entry("withdrawn", {"entry": 3, "reason": "misread"}),
        entry("noted", {"text": "look again"}),
        entry("papers issued", {"paper": "inspection report", "digest": "ef", "rests_on": "01"}),
        entry("gauge set", GAUGE),
        entry("settings chosen", {"rule": "full U", "conformance": "0.99"}),
        entry("question asked", ASKED),
        entry("question answered", {"entry": 10, "answer": "stands"}),
        entry("question asked", {**ASKED, "value": "0.4861 in"}),
        entry("question answered", {"entry": 12, "answer": "read again"}),
        entry("question asked", {**ASKED, "value": "0.4862 in"}),
    )


LAST = len(history()) - 1


def test_a_job_stands_where_its_entries_put_it() -> None:
    """Heading, book, parts, readings and notes are those of the entries."""
    entries = history()
    state = fold(entries)
    assert (state.number, state.head, state.book) == (LAST, entries[-1].hash, "cd")
    assert (state.opened["engine"], state.notes, state.withdrawn) == (
        "Test engine 1",
        {6: "look again"},
        {3: "misread"},
    )
    assert (state.parts["P-0001-3"].position, state.parts["P-0001-3"].entry) == ("left", 2)
    assert (str(state.readings[3].value), state.readings[3].gauge, state.unknown) == ("0.5110 in", "M1", [])


def test_gauges_and_settings_stand_as_last_recorded() -> None:
    """A gauge keeps its digits; set again, the later doubt counts; guarded at 0.95 is the rule until one is chosen."""
    state = fold(history())
    gauge = state.gauges["M1"]
    assert (str(gauge.expanded), gauge.coverage_factor, gauge.measures, gauge.entry) == ("0.0001 in", "2", "outside", 8)
    assert gauge.standard_uncertainty == gauge.expanded.exact / 2
    assert (state.rule, state.conformance) == ("full U", "0.99")
    assert (JobState().rule, JobState().conformance) == ("guarded", "0.95")
    again = entry("gauge set", {**GAUGE, "expanded": "0.00030 in", "coverage_factor": "3"})
    later = fold(chain(*(one.draft for one in history()), again))
    assert later.gauges["M1"].standard_uncertainty == gauge.expanded.exact
    assert (len(later.gauges), later.gauges["M1"].entry) == (1, LAST + 1)


def test_a_question_counts_as_its_answer_says() -> None:
    """It stands under its own number, or is dropped; one that is open waits with what was asked, and does not count."""
    state = fold(history())
    assert set(state.readings) == {3, 4, 10}
    assert (str(state.readings[10].value), state.readings[10].entry) == ("0.4860 in", 10)
    assert {number: str(one.reading.value) for number, one in state.questions.items()} == {14: "0.4862 in"}
    assert state.questions[14].asks == "was a turn missed?"
    assert [reading.entry for reading in state.standing("P-0001-3", "size.shaft")] == [4, 10]


def test_a_withdrawn_reading_stays_visible_and_does_not_count() -> None:
    """It is kept by number, and left out of what stands."""
    state = fold(history()[:8])
    assert set(state.readings) == {3, 4}
    assert [reading.entry for reading in state.standing("P-0001-3", "size.shaft")] == [4]
    assert state.standing("P-0001-3", "size.slot") == []


def test_no_entries_are_the_start() -> None:
    """Before the first entry there is no number, no head and no book."""
    assert fold([]) == JobState()
    assert (JobState().number, JobState().head, JobState().book) == (-1, "", "")


@given(st.integers(0, LAST + 1))
@settings(deadline=None)
def test_folding_in_two_goes_is_folding_in_one(cut: int) -> None:
    """Where the fold stops and goes on leaves no trace."""
    entries = history()
    assert fold(entries[cut:], fold(entries[:cut])) == fold(entries)


@pytest.mark.parametrize("cut", range(1, LAST + 1))
def test_going_on_leaves_the_state_before_as_it_was(cut: int) -> None:
    """Whoever holds a state keeps what it saw, wherever the fold went on."""
    entries = history()
    before = fold(entries[:cut])
    after = fold(entries[cut:], before)
    assert before == fold(entries[:cut])
    assert (before.number, after.number) == (cut - 1, LAST)


@pytest.mark.parametrize(
    "strange",
    [
        entry("engine repainted", {"colour": "red"}),
        entry("noted", {"text": "from a newer book"}, version=2),
        entry("reading taken", {"tag": "P-0001-3"}),
        entry("reading taken", {**READING, "value": "0,5110 in"}),
        entry("reading taken", {**READING, "value": "0.5110 inn"}),
        entry("reading taken", {**READING, "value": 5}),
        entry("reading taken", {**READING, "value": ["0.5110 in"]}),
        entry("part removed", {"tag": ["P-0001-3"], "part": "p", "position": ""}),
        entry("withdrawn", {"entry": {}, "reason": "x"}),
        entry("opened", {}),
        entry("book pinned", {}),
        entry("gauge set", {"gauge": "M1"}),
        entry("gauge set", {**GAUGE, "expanded": "0,0001 in"}),
        entry("gauge set", {**GAUGE, "coverage_factor": "two"}),
        entry("gauge set", {**GAUGE, "coverage_factor": "0"}),
        entry("settings chosen", {"rule": "plain"}),
        entry("settings chosen", {"rule": "lenient", "conformance": "0.95"}),
        entry("settings chosen", {"rule": "guarded", "conformance": "ninety"}),
        entry("question asked", READING),
        entry("question asked", {**ASKED, "value": "0,4860 in"}),
        entry("question answered", {"entry": 3, "answer": "stands"}),
        entry("question answered", {"entry": [], "answer": "stands"}),
        entry("question answered", {"entry": 14}),
        entry("question answered", {"entry": 14, "answer": "maybe"}),
    ],
    ids=lambda one: f"{one.kind} {list(one.data.values())[-2:]}",
)
def test_an_entry_that_this_version_cannot_read_is_kept_by_number(strange: Draft) -> None:
    """History is neither refused nor guessed at: the entry is counted, named as unknown, and changes nothing else."""
    before = history()
    entries = chain(*(one.draft for one in before), strange)
    state, was = fold(entries), fold(before)
    assert (state.number, state.head) == (LAST + 1, entries[-1].hash)
    if strange.kind != "opened":
        assert state.unknown == [LAST + 1]
        assert (state.readings, state.parts, state.book) == (was.readings, was.parts, "cd")
        assert (state.gauges, state.questions) == (was.gauges, was.questions)
        assert (state.rule, state.conformance) == (was.rule, was.conformance)
