"""Which readings of a feature count: those with the gauge it was last read with, withdrawn ones left out."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import STREAM, Workplace

SHAFT = ("P-0001-3", "size.shaft")


def at_the_bench() -> Workplace:
    """A shaft, and two gauges that could read it."""
    place = Workplace().open()
    place.remove("part.shaft")
    place.set_gauge("M1", "0.0001 in")
    place.set_gauge("M2", "0.00005 in")
    return place


def counting(place: Workplace) -> list[tuple[int, str]]:
    """Number and gauge of each reading that counts."""
    return [(reading.entry, reading.gauge) for reading in place.bench.state(STREAM).standing(*SHAFT)]


def test_readings_with_one_gauge_all_count() -> None:
    """Read twice with the same gauge, both count."""
    place = at_the_bench()
    place.read(*SHAFT, "0.5110 in", "M1")
    place.read(*SHAFT, "0.5111 in", "M1")
    assert counting(place) == [(5, "M1"), (6, "M1")]


def test_another_gauge_begins_anew() -> None:
    """With the next gauge the readings before it stay on record and do not count."""
    place = at_the_bench()
    place.read(*SHAFT, "0.5110 in", "M1")
    place.read(*SHAFT, "0.5112 in", "M2")
    assert counting(place) == [(6, "M2")]
    assert set(place.bench.state(STREAM).readings) == {5, 6}
    assert place.work_up().sizes[0].text == "0.5112"


def test_back_to_the_first_gauge_its_own_readings_count_together() -> None:
    """The gauge last read with counts with all it read, before and after the other."""
    place = at_the_bench()
    for value, gauge in (("0.5110 in", "M1"), ("0.5112 in", "M2"), ("0.5111 in", "M1")):
        place.read(*SHAFT, value, gauge)
    assert counting(place) == [(5, "M1"), (7, "M1")]


def test_a_reading_without_a_gauge_is_a_gauge_of_its_own() -> None:
    """Doubt not known after doubt known: only what was read without a gauge counts, at face value."""
    place = at_the_bench()
    place.read(*SHAFT, "0.5110 in", "M1")
    place.read(*SHAFT, "0.5112 in")
    assert counting(place) == [(6, "")]
    assert place.work_up().sizes[0].verdict.standard_uncertainty is None


def test_a_withdrawal_brings_the_gauge_before_back() -> None:
    """Where the last reading is withdrawn, the one before it says which gauge counts."""
    place = at_the_bench()
    place.read(*SHAFT, "0.5110 in", "M1")
    place.read(*SHAFT, "0.5112 in", "M2")
    place.record("withdrawn", {"entry": 6, "reason": "dropped the gauge"})
    assert counting(place) == [(5, "M1")]


def test_each_feature_has_its_own_last_gauge() -> None:
    """A gauge used on another feature changes nothing here."""
    place = at_the_bench()
    place.read(*SHAFT, "0.5110 in", "M1")
    place.read("P-0001-3", "size.slot", "0.0010 in", "M2")
    assert counting(place) == [(5, "M1")]


def test_a_reading_that_stands_counts_at_its_own_place_in_time() -> None:
    """Answered late, it neither becomes the last reading nor chooses the gauge."""
    place = at_the_bench()
    place.read(*SHAFT, "0.4860 in", "M1")
    place.read(*SHAFT, "0.5111 in", "M2")
    place.answer(5, "stands")
    assert counting(place) == [(6, "M2")]
    place.read(*SHAFT, "0.5112 in", "M1")
    assert counting(place) == [(5, "M1"), (8, "M1")]


@given(st.lists(st.tuples(st.sampled_from(["", "M1", "M2"]), st.booleans()), min_size=1, max_size=8))
@settings(deadline=None, max_examples=60)
def test_what_counts_is_what_was_last_read_with(taken: list[tuple[str, bool]]) -> None:
    """However gauges and withdrawals follow each other, what counts is one gauge's, the last one left standing."""
    place = at_the_bench()
    left: list[tuple[int, str]] = []
    for gauge, withdrawn in taken:
        number = place.read(*SHAFT, "0.5110 in", gauge).number
        if withdrawn:
            place.record("withdrawn", {"entry": number, "reason": "x"})
        else:
            left.append((number, gauge))
    assert counting(place) == [one for one in left if one[1] == left[-1][1]]
