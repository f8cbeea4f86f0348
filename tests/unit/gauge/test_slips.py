"""Questions about slips: asked where one slip explains a surprise, and only there."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import LimitsCrossed
from tenthbook.trade.gauge.slips import (
    DIAL_INCH,
    THIMBLE_INCH,
    THIMBLE_METRIC,
    TURNS_INCH,
    TURNS_METRIC,
    TurnQuestion,
    ask_about_sign,
    ask_about_turn,
)

SPAN_IN = ("2.2480", "2.2500")


def pm(inches: str) -> int:
    """Picometres of typed inches."""
    return int(Decimal(inches) * 25_400_000_000)


SPAN = (pm(SPAN_IN[0]), pm(SPAN_IN[1]))


@pytest.mark.parametrize(
    ("reading", "one_more", "one_less"),
    [
        ("2.2240", True, False),
        ("2.2740", False, True),
        ("2.2220", True, False),
        ("2.2219", False, False),
        ("2.2260", True, False),
        ("2.2261", False, False),
        ("2.2490", False, False),
        ("2.2471", False, False),
        ("2.3490", False, False),
    ],
)
def test_missed_thimble_turn(reading: str, one_more: bool, one_less: bool) -> None:
    """A reading 0.025 in off is asked about when a turn lands within 0.001 in of the span, the edge included."""
    found = ask_about_turn(pm(reading), THIMBLE_INCH, SPAN)
    assert (bool(found.one_more), bool(found.one_less)) == (one_more, one_less)


def test_dial_turn_and_last_reading() -> None:
    """A dial's 0.100 in is asked about too, and the last reading counts as expected where no limit is known."""
    assert bool(ask_about_turn(pm("2.3490"), DIAL_INCH, SPAN).one_less)
    found = ask_about_turn(pm("2.1490"), DIAL_INCH, last_pm=pm("2.2480"))
    assert bool(found.one_more)
    assert not bool(found.one_less)
    assert not bool(ask_about_turn(pm("2.2480"), DIAL_INCH, last_pm=pm("2.2480")).one_more)


def test_nothing_known_nothing_asked() -> None:
    """Without limits and without a last reading there is no surprise."""
    for turn in (*TURNS_INCH, *TURNS_METRIC):
        found = ask_about_turn([0, pm("9")], turn)
        assert not found.one_more.any()
        assert not found.one_less.any()


@given(st.integers(-(10**10), 10**10), st.integers(0, 10**9), st.integers(0, 10**9))
def test_an_expected_reading_is_never_asked_about(low: int, width: int, inside: int) -> None:
    """A reading in its span is no surprise, however near a turn would land."""
    reading = low + min(inside, width)
    found = ask_about_turn(reading, THIMBLE_METRIC, (low, low + width))
    assert not bool(found.one_more)
    assert not bool(found.one_less)


@given(st.integers(-(10**10), 10**10), st.integers(-(10**10), 10**10))
def test_mirrored_reading_asks_for_the_other_turn(reading: int, last: int) -> None:
    """Seen in a mirror, one turn more becomes one turn less."""
    straight = ask_about_turn(reading, THIMBLE_METRIC, last_pm=last)
    mirrored = ask_about_turn(-reading, THIMBLE_METRIC, last_pm=-last)
    assert bool(straight.one_more) == bool(mirrored.one_less)
    assert bool(straight.one_less) == bool(mirrored.one_more)


def test_no_number_is_ever_proposed() -> None:
    """The question holds the turn and two yes-or-no answers, nothing that could be typed in as a reading."""
    assert [field.name for field in fields(TurnQuestion)] == ["turn", "one_more", "one_less"]


def test_wrong_sign_of_a_deviation() -> None:
    """A deviation whose other sign lands in the span is asked about; one that fits, or is zero, is not."""
    master, span = pm("2.5000"), (pm("2.4985"), pm("2.4995"))
    deviations = [pm("0.0010"), pm("-0.0010"), 0, pm("0.0050")]
    assert ask_about_sign(deviations, master, span).tolist() == [True, False, False, False]
    assert bool(ask_about_sign(pm("0.0010"), master, last_pm=pm("2.4989"), near_pm=pm("0.0001")))


def test_exact_objects_work_alike() -> None:
    """Decimals of picometres are compared as decimals."""
    typed = np.array([Decimal(pm("2.2240")), Decimal(pm("2.2490"))], dtype=object)
    found = ask_about_turn(typed, THIMBLE_INCH, SPAN)
    assert found.one_more.tolist() == [True, False]


def test_crossed_span_is_refused() -> None:
    """A span whose ends cross is misuse."""
    with pytest.raises(LimitsCrossed):
        ask_about_turn(0, THIMBLE_INCH, (1, 0))
