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


def entry(kind: str, data: dict[str, Any], version: int = 1) -> Draft:
    """A draft of any kind, right or wrong."""
    return Draft(kind, version, "mechanic", "r", "", NOON, data)


def history() -> list[Entry]:
    """A job with a part, two readings of it, one withdrawn, and a note."""
    return chain(
        entry("opened", {"stream": "0417", **OPENED}),
        entry("book pinned", {"type": "t", "revision": "1", "digest": "cd"}),
        entry("part removed", {"tag": "P-0001-3", "part": "part.shaft", "position": "left"}),
        entry("reading taken", READING),
        entry("reading taken", {**READING, "value": "0.5111 in"}),
        entry("withdrawn", {"entry": 3, "reason": "misread"}),
        entry("noted", {"text": "look again"}),
        entry("papers issued", {"paper": "inspection report", "digest": "ef", "rests_on": "01"}),
    )


def test_a_job_stands_where_its_entries_put_it() -> None:
    """Heading, book, parts, readings and notes are those of the entries."""
    entries = history()
    state = fold(entries)
    assert (state.number, state.head, state.book) == (7, entries[-1].hash, "cd")
    assert (state.opened["engine"], state.notes, state.withdrawn) == (
        "Test engine 1",
        {6: "look again"},
        {3: "misread"},
    )
    assert (state.parts["P-0001-3"].position, state.parts["P-0001-3"].entry) == ("left", 2)
    assert (str(state.readings[3].value), state.readings[3].gauge, state.unknown) == (
        "0.5110 in",
        "M1",
        [],
    )


def test_a_withdrawn_reading_stays_visible_and_does_not_count() -> None:
    """It is kept by number, and left out of what stands."""
    state = fold(history())
    assert set(state.readings) == {3, 4}
    assert [reading.entry for reading in state.standing("P-0001-3", "size.shaft")] == [4]
    assert state.standing("P-0001-3", "size.slot") == []


def test_no_entries_are_the_start() -> None:
    """Before the first entry there is no number, no head and no book."""
    assert fold([]) == JobState()
    assert (JobState().number, JobState().head, JobState().book) == (-1, "", "")


@given(st.integers(0, 8))
@settings(deadline=None)
def test_folding_in_two_goes_is_folding_in_one(cut: int) -> None:
    """Where the fold stops and goes on leaves no trace."""
    entries = history()
    assert fold(entries[cut:], fold(entries[:cut])) == fold(entries)


def test_going_on_leaves_the_state_before_as_it_was() -> None:
    """Whoever holds a state keeps what it saw."""
    entries = history()
    before = fold(entries[:4])
    after = fold(entries[4:], before)
    assert (before.number, list(before.readings), before.withdrawn) == (3, [3], {})
    assert after.number == 7


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
    ],
)
def test_an_entry_that_this_version_cannot_read_is_kept_by_number(strange: Draft) -> None:
    """History is neither refused nor guessed at: the entry is counted, named as unknown, and changes nothing else."""
    before = history()
    entries = chain(*(one.draft for one in before), strange)
    state = fold(entries)
    assert (state.number, state.head) == (8, entries[-1].hash)
    if strange.kind != "opened":
        assert state.unknown == [8]
        assert (state.readings, state.parts, state.book) == (fold(before).readings, fold(before).parts, "cd")
