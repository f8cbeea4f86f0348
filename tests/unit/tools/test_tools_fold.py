"""The instruments stand where the entries put them, and the fold never refuses history."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.ledger import Draft, Entry, seal
from tenthbook.record.tools import TOOL_KINDS, ToolsState, fold_tools
from tests.unit.tools.crib import CALIBRATED, OPENED, REGISTERED, Shelf, shelf

NOON = "2026-10-02T12:00:00Z"
EARLIER = "2026-10-02T11:59:59Z"


def told() -> Shelf:
    """A shelf about which every kind of entry was recorded once at least."""
    one = shelf()
    one.calibrate("2024-03-11", "2025-03-31")
    one.calibrate("2026-03-09", "2027-03-31", "out of tolerance", certificate="C-2")
    one.withdraw("2026-10-01", since="2026-09-14")
    one.put_back("2026-10-02")
    one.record("instrument registered", **{**REGISTERED, "instrument": "D1", "resolution": "0.01 mm"})
    one.withdraw("2026-10-02")
    one.record("noted", text="a new cabinet")
    return one


TOLD = told().entries
ODD: list[tuple[str, dict[str, Any]]] = [
    ("tools opened", OPENED),
    ("instrument registered", {**REGISTERED, "resolution": ""}),
    ("instrument registered", {"instrument": "M3"}),
    ("calibrated", {**CALIBRATED, "instrument": "M3"}),
    ("calibrated", {**CALIBRATED, "expanded": "0 in"}),
    ("calibrated", {**CALIBRATED, "expanded": "0.0001 furlong"}),
    ("calibrated", {**CALIBRATED, "coverage_factor": "0"}),
    ("calibrated", {**CALIBRATED, "calibrated_on": "2026-02-30"}),
    ("calibrated", {**CALIBRATED, "due": "2027-02-29"}),
    ("calibrated", {**CALIBRATED, "as_found": "fair"}),
    ("instrument withdrawn", {"instrument": "M1", "reason": "again", "since": ""}),
    ("instrument withdrawn", {"instrument": "D1", "reason": "a", "since": "2026-02-30"}),
    ("instrument withdrawn", {"instrument": "M3", "reason": "a", "since": ""}),
    ("instrument returned to use", {"instrument": "D1", "reason": "never out"}),
    ("instrument painted", {"instrument": "M1", "colour": "red"}),
    ("noted", {"text": 4}),
]


def anyhow(one: Shelf, kind: str, data: dict[str, Any], version: int = 1) -> Entry:
    """Write an entry past the forms and the rules."""
    return one.write(Draft(kind, version, "inspector", "r", "", NOON, data))


def test_every_kind_is_told_of() -> None:
    """The history of these tests leaves no kind out."""
    assert {entry.kind for entry in TOLD} == set(TOOL_KINDS)


def test_the_instruments_stand_where_the_entries_put_them() -> None:
    """Number, head, instruments, calibrations, withdrawals and notes are those of the entries."""
    state = fold_tools(TOLD)
    assert (state.number, state.head, state.recorded_at) == (len(TOLD) - 1, TOLD[-1].hash, NOON)
    assert (state.unknown, state.clock_findings, state.notes) == ([], [], {8: "a new cabinet"})
    assert state.opened == OPENED
    micrometer, dial = state.instruments["M1"], state.instruments["D1"]
    assert (micrometer.name, micrometer.measures, micrometer.range, micrometer.resolution, micrometer.entry) == (
        "micrometer",
        "outside",
        "0 in to 1 in",
        "",
        1,
    )
    assert (dial.resolution, dial.calibrations, dial.withdrawn) == ("0.01 mm", (), None)
    assert [(one.entry, one.hash, one.as_found, one.laboratory) for one in micrometer.calibrations] == [
        (2, TOLD[2].hash, "in tolerance", "Test house"),
        (3, TOLD[3].hash, "out of tolerance", "Test house"),
    ]
    first, second = micrometer.withdrawals
    assert (first.on, first.since, first.returned_on, first.reason) == (
        "2026-10-01",
        "2026-09-14",
        "2026-10-02",
        "dropped",
    )
    assert micrometer.withdrawn == second
    assert (second.entry, second.returned_on) == (7, "")


@pytest.mark.parametrize(("kind", "data"), ODD)
def test_what_fits_nothing_is_kept_by_number_and_changes_nothing(kind: str, data: dict[str, Any]) -> None:
    """History is never refused, nor guessed at."""
    one = told()
    before = one.state
    entry = anyhow(one, kind, data)
    after = one.state
    assert after.unknown == [entry.number]
    assert replace(after, number=before.number, head=before.head, unknown=[]) == before


@pytest.mark.parametrize("version", [0, 2])
def test_another_version_is_not_read(version: int) -> None:
    """A version this book does not write waits for one that does."""
    one = shelf()
    entry = anyhow(one, "noted", {"text": "a"}, version)
    assert (one.state.unknown, one.state.notes) == ([entry.number], {})


def test_a_clock_that_ran_backward_is_found_and_kept() -> None:
    """The entry stands in its place, and its number is a finding."""
    one = shelf()
    one.recorded_at = EARLIER
    one.record("noted", text="a")
    one.record("noted", text="b")
    assert (one.state.clock_findings, one.state.recorded_at, list(one.state.notes)) == ([2], EARLIER, [2, 3])


def test_folding_nothing_gives_the_state_back() -> None:
    """An empty stream has no instrument; nothing more leaves a state as it was."""
    assert fold_tools([]) == ToolsState()
    state = fold_tools(TOLD)
    assert fold_tools([], state) is state


def test_a_state_that_was_handed_out_stays() -> None:
    """Going on from a state makes another one."""
    state = fold_tools(TOLD[:3])
    kept = repr(state)
    fold_tools(TOLD[3:], state)
    assert repr(state) == kept


acts = st.lists(st.sampled_from([entry.draft for entry in TOLD]), max_size=12)


@settings(max_examples=60, deadline=None)
@given(cut=st.integers(0, len(TOLD)), acts=acts, late=st.booleans())
def test_in_two_pieces_is_as_at_once(cut: int, acts: list[Draft], late: bool) -> None:
    """Wherever the stream is cut, and whatever of it comes again in any order."""
    entries = list(TOLD)
    for draft in acts:
        entries.append(seal(draft, len(entries), EARLIER if late else NOON, entries[-1].hash))
    assert fold_tools(entries[cut:], fold_tools(entries[:cut])) == fold_tools(entries)
