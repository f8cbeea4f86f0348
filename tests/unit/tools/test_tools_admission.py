"""What may be recorded of an instrument."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import WrongInput
from tenthbook.record.ledger import Draft
from tenthbook.record.tools import admit_tools
from tests.unit.tools.crib import CALIBRATED, DAY, OPENED, REGISTERED, Shelf, shelf

NOON = f"{DAY}T12:00:00Z"


def test_entry_nought_opens_the_stream_and_nothing_else_does() -> None:
    """A stream begins with its opening, once."""
    assert Shelf().refused("instrument registered", **REGISTERED) == ["tools.first-opens"]
    assert Shelf().refused("tools opened", **OPENED) == []
    assert shelf().refused("tools opened", **OPENED) == ["tools.first-opens"]
    assert shelf().refused("noted", text="a new cabinet") == []


@pytest.mark.parametrize(("kind", "version"), [("instrument painted", 1), ("calibrated", 2)])
def test_a_kind_or_version_that_is_not_known_is_refused(kind: str, version: int) -> None:
    """What this book could not read back is not written."""
    draft = Draft(kind, version, "inspector", "r", "", NOON, dict(CALIBRATED))
    assert [refusal.rule for refusal in admit_tools(shelf().state, draft)] == ["tools.known-kind"]


@pytest.mark.parametrize("instrument", ["M1", "m1"])
def test_an_instrument_has_an_id_of_its_own(instrument: str) -> None:
    """A capital letter makes no other instrument."""
    assert shelf().refused("instrument registered", **{**REGISTERED, "instrument": instrument}) == ["instrument.id-new"]
    assert shelf().refused("instrument registered", **{**REGISTERED, "instrument": "M2"}) == []


@pytest.mark.parametrize("instrument", ["", " M1", "M  1", "M1\n"])
def test_an_id_is_written_as_it_is_marked(instrument: str) -> None:
    """No blank at an end, none doubled."""
    with pytest.raises(WrongInput, match="instrument"):
        shelf().draft("instrument registered", {**REGISTERED, "instrument": instrument})


@pytest.mark.parametrize(
    ("resolution", "rules"),
    [
        ("", []),
        ("0.0001 in", []),
        ("0.01 N.m", []),
        ("0.0001", ["instrument.resolution"]),
        ("0 in", ["instrument.resolution"]),
        ("fine", ["instrument.resolution"]),
    ],
)
def test_a_resolution_has_its_unit(resolution: str, rules: list[str]) -> None:
    """Stated with a unit and above nought, or left out."""
    data = {**REGISTERED, "instrument": "M2", "resolution": resolution}
    assert shelf().refused("instrument registered", **data) == rules


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("calibrated", CALIBRATED),
        ("instrument withdrawn", {"reason": "dropped"}),
        ("instrument returned to use", {"reason": "checked"}),
    ],
)
def test_an_entry_names_a_registered_instrument(kind: str, data: dict[str, str]) -> None:
    """As it is marked, to the letter."""
    for name in ("M2", "m1"):
        assert shelf().refused(kind, **{**data, "instrument": name}) == ["instrument.registered"]


@pytest.mark.parametrize(
    ("calibrated_on", "due", "good"),
    [
        (DAY, "", True),
        (DAY, DAY, True),
        ("2026-03-09", "2027-03-31", True),
        ("2028-02-29", "", False),
        ("2026-10-03", "2027-03-31", False),
        ("2026-03-09", "2026-03-08", False),
        ("2026-02-30", "", False),
        ("2024-02-29", "2026-13-01", False),
        ("0000-01-01", "", False),
    ],
)
def test_the_days_of_a_calibration_are_real_and_in_order(calibrated_on: str, due: str, good: bool) -> None:
    """Not after the day it is recorded, due no earlier than it was made."""
    days = {"calibrated_on": calibrated_on, "due": due}
    found = shelf().refused("calibrated", **{**CALIBRATED, **days})
    assert found == ([] if good else ["calibration.dates-in-order"])


@pytest.mark.parametrize(
    ("expanded", "factor", "good"),
    [
        ("0.00012 in", "2", True),
        ("0.003 mm", "2.00", True),
        ("1.5 lbf.in", "1.96", True),
        ("0.4 degC", "2", True),
        ("0 in", "2", False),
        ("-0.0001 in", "2", False),
        ("0.0001", "2", False),
        ("0,0001 in", "2", False),
        ("0.00012 in", "0", False),
        ("0.00012 in", "-2", False),
        ("0.00012 in", "two", False),
        ("0.00012 in", "nan", False),
    ],
)
def test_a_calibration_states_its_doubt_and_factor(expanded: str, factor: str, good: bool) -> None:
    """Of any unit that measures; above nought, both of them."""
    data = {**CALIBRATED, "expanded": expanded, "coverage_factor": factor}
    assert shelf().refused("calibrated", **data) == ([] if good else ["calibration.doubt-stated"])


def test_out_of_tolerance_says_what_was_found() -> None:
    """Earlier readings are judged by it; a blank says nothing."""
    out = {**CALIBRATED, "as_found": "out of tolerance"}
    assert shelf().refused("calibrated", **out) == ["calibration.reason-stated"]
    assert shelf().refused("calibrated", **{**out, "reason": "  "}) == ["calibration.reason-stated"]
    assert shelf().refused("calibrated", **{**out, "reason": "reads 0.0004 in small"}) == []
    assert shelf().refused("calibrated", **{**CALIBRATED, "as_found": "not stated"}) == []


def test_an_instrument_is_withdrawn_once_and_returned_once() -> None:
    """In use, withdrawn, in use again; calibrated in between."""
    one = shelf()
    out = {"instrument": "M1", "reason": "dropped", "since": "2026-09-14"}
    back = {"instrument": "M1", "reason": "checked"}
    assert one.refused("instrument returned to use", **back) == ["instrument.in-use"]
    one.withdraw(DAY)
    assert one.refused("instrument withdrawn", **out) == ["instrument.in-use"]
    assert one.refused("calibrated", **CALIBRATED) == []
    one.put_back(DAY)
    assert one.refused("instrument returned to use", **back) == ["instrument.in-use"]
    assert one.refused("instrument withdrawn", **out) == []


@pytest.mark.parametrize(("since", "good"), [("", True), (DAY, True), ("2026-10-03", False), ("2026-09-31", False)])
def test_doubt_begins_on_a_real_day_that_has_come(since: str, good: bool) -> None:
    """From no day, or from one up to the withdrawal."""
    found = shelf().refused("instrument withdrawn", instrument="M1", reason="dropped", since=since)
    assert found == ([] if good else ["instrument.since-past"])


def test_every_broken_rule_is_named_at_once_with_what_was_found() -> None:
    """Days, doubt and reason together, each in its own words."""
    bad = {"calibrated_on": "2026-10-03", "expanded": "0 in", "as_found": "out of tolerance"}
    refusals = admit_tools(shelf().state, shelf().draft("calibrated", {**CALIBRATED, **bad}))
    assert [(one.rule, one.found) for one in refusals] == [
        ("calibration.dates-in-order", f"calibrated on 2026-10-03, due 2027-03-31, recorded on {DAY}"),
        ("calibration.doubt-stated", "0 in at k = 2"),
        ("calibration.reason-stated", "out of tolerance, no reason given"),
    ]
