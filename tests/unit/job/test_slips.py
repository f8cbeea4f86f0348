"""Whether a reading looks like a missed turn: it asks, and never proposes a number."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.job import question_about
from tests.builders import STREAM, Workplace, small_book

SHAFT = ("P-0001-3", "size.shaft")


def at_the_bench(*readings: tuple[str, str]) -> Workplace:
    """A shaft and a cover on the bench, and what was read of the shaft before: row, value."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.remove("part.cover")
    for row, value in readings:
        place.read("P-0001-3", row, value)
    return place


def asked(value: str, row: str = "size.shaft", place: Workplace | None = None) -> str:
    """The question about one more reading; empty where nothing is asked."""
    state = (place or FRESH).bench.state(STREAM)
    tag = "P-0002-1" if row == "size.flange" else "P-0001-3"
    return question_about(state, small_book(), {"tag": tag, "row": row, "value": value}) or ""


FRESH = at_the_bench()


@pytest.mark.parametrize(
    ("value", "row", "turn"),
    [
        ("0.4844 in", "size.shaft", "one turn more of the thimble, 0.025 in,"),
        ("0.5363 in", "size.shaft", "one turn less of the thimble, 0.025 in,"),
        ("0.4110 in", "size.shaft", "one turn more of the dial, 0.100 in,"),
        ("0.6110 in", "size.shaft", "one turn less of the dial, 0.100 in,"),
        ("12.479 mm", "size.shaft", "one turn more of the thimble, 0.5 mm,"),
        ("11.979 mm", "size.shaft", "one turn more of the dial, 1 mm,"),
        ("5.550 mm", "size.flange", "one turn more of the thimble, 0.5 mm,"),
        ("7.050 mm", "size.flange", "one turn less of the dial, 1 mm,"),
        ("0.2112 in", "size.flange", "one turn more of the thimble, 0.025 in,"),
    ],
)
def test_a_reading_one_turn_off_is_asked_about(value: str, row: str, turn: str) -> None:
    """The question says which turn, of the gauge that shows the unit that was typed, and which way."""
    assert asked(value, row) == (f"{value} lies far from what was expected; {turn} would not: was a turn missed?")


@pytest.mark.parametrize(
    ("value", "row"),
    [
        ("0.5110 in", "size.shaft"),
        ("0.5094 in", "size.shaft"),
        ("0.5088 in", "size.shaft"),
        ("0.5040 in", "size.shaft"),
        ("0.4950 in", "size.shaft"),
        ("6.050 mm", "size.flange"),
        ("0.0010 in", "size.slot"),
        ("0.4844 in", "size.slot"),
    ],
)
def test_a_reading_that_a_turn_does_not_explain_is_not_asked_about(value: str, row: str) -> None:
    """Within limits, worn beyond them, nowhere near after a turn, or nothing known to expect: it is simply taken."""
    assert asked(value, row) == ""


@pytest.mark.parametrize(
    ("value", "is_asked"), [("0.4838 in", True), ("0.4837 in", False), ("0.4874 in", True), ("0.4875 in", False)]
)
def test_a_thimble_turn_lands_within_a_thousandth_of_the_limits(value: str, is_asked: bool) -> None:
    """Limits from 0.5098 to 0.5114: a turn that lands 0.0010 outside them is asked about, a tenth further is not."""
    assert bool(asked(value)) is is_asked


def test_the_last_reading_is_expected_too() -> None:
    """A feature without limits is asked about once there is a reading before it; one withdrawn expects nothing."""
    place = at_the_bench(("size.slot", "0.0350 in"))
    assert "one turn more of the thimble" in asked("0.0100 in", "size.slot", place)
    place.record("withdrawn", {"entry": 4, "reason": "wrong slot"})
    assert asked("0.0100 in", "size.slot", place) == ""


def test_near_the_last_reading_nothing_is_asked() -> None:
    """What was read a turn off and stands is expected the next time."""
    place = at_the_bench(("size.shaft", "0.4844 in"))
    place.answer(4, "stands")
    assert asked("0.4845 in", place=place) == ""


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"row": "size.shaft"},
        {"row": "size.nothing", "value": "0.4844 in"},
        {"row": "size.shaft", "value": "0,4844 in"},
        {"row": "size.shaft", "value": "0.4844"},
        {"row": "size.shaft", "value": "0.4844 lb"},
        {"row": "size.shaft", "value": 0.4844},
        {"row": None, "value": None},
    ],
)
def test_what_cannot_be_read_is_left_to_the_rules(data: dict[str, object]) -> None:
    """Nothing is asked about what is no length of a known row; it is refused or told by name elsewhere."""
    assert question_about(FRESH.bench.state(STREAM), small_book(), {"tag": "P-0001-3", **data}) is None


@given(st.integers(1, 9999))
@settings(deadline=None)
def test_the_question_is_that_of_a_second_reckoning_in_tenths(tenths: int) -> None:
    """In whole tenths: far from 5098 to 5114, and 250 or 1000 more or less is near (10 a thimble, 20 a dial)."""

    def near(value: int, by: int) -> bool:
        return 5098 - by <= value <= 5114 + by

    turns = [("thimble", 250, 10), ("dial", 1000, 20)]
    expected = [
        (name, way)
        for name, turn, by in turns
        for way, value in (("more", tenths + turn), ("less", tenths - turn))
        if near(value, by) and not near(tenths, by)
    ]
    found = re.search(r"one turn (\w+) of the (\w+),", asked(f"0.{tenths:04d} in"))
    assert [(found[2], found[1])] == expected[:1] if found else expected == []


@given(st.integers(1, 9999), st.sampled_from(["size.shaft", "size.slot"]))
@settings(deadline=None)
def test_a_question_holds_no_number_but_the_one_typed_and_the_turn(tenths: int, row: str) -> None:
    """It never says what the reading should have been."""
    typed = f"0.{tenths:04d}"
    numbers = re.findall(r"[0-9]+\.?[0-9]*", asked(f"{typed} in", row, SECOND))
    assert numbers in ([], [typed], [typed, "0.025"], [typed, "0.100"])


@pytest.mark.parametrize(
    ("value", "row", "is_asked"),
    [
        ("0.5094 mm", "size.shaft", True),
        ("5.094 in", "size.shaft", True),
        ("0.05094 in", "size.shaft", True),
        ("12.9387 mm", "size.shaft", False),
        ("0.5094 in", "size.shaft", False),
        ("0.9000 in", "size.shaft", False),
        ("0.0350 in", "size.slot", False),
    ],
)
def test_a_reading_of_another_order_of_size_is_asked_about(value: str, row: str, is_asked: bool) -> None:
    """Millimetres for inches, a point one place out: asked, where the row's limits lie close together."""
    assert bool(asked(value, row, FRESH)) == is_asked
    if is_asked:
        assert "is the unit right, and the point in its place?" in asked(value, row, FRESH)


SECOND = at_the_bench(("size.shaft", "0.5110 in"), ("size.slot", "0.0350 in"))
