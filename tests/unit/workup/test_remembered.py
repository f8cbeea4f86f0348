"""A work-up that remembers the one before is the same as one that does not."""

from __future__ import annotations

from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.workup import WorkUp, work_up
from tests.builders import FITS_CSV, SIZES_CSV, STREAM, Workplace, small_book

RATE = "size.wear,part.shaft,wear per inch,per diameter,in,,,,,,2-8,,0.0005,greatest,1,size.shaft"
HEADS = "amount,side,per,over"


def book_with_a_rate() -> Any:
    """The small book with a size whose limit counts on another size."""
    lines = [f"{line},,,," for line in SIZES_CSV.splitlines()[1:]]
    sizes = "\n".join([f"{SIZES_CSV.splitlines()[0]},{HEADS}", *lines, RATE]) + "\n"
    return small_book(sizes=sizes, fits=FITS_CSV)


BOOK = book_with_a_rate()
SHAFT, HOUSING = "P-0001-3", "P-0002-1"
ACTS = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 12), st.integers(0, 40)), min_size=1, max_size=14)


def act(place: Workplace, what: int, tenths: int, entry: int) -> None:
    """One act of many kinds; a few are refused."""
    gauge = ("", "M1", "M2")[tenths % 3]
    if what < 3:
        place.read(SHAFT, "size.shaft", f"0.51{tenths:02d} in", gauge)
    elif what == 3:
        place.read(HOUSING, "size.bore", f"0.51{20 + tenths} in", gauge)
    elif what == 4:
        place.read(SHAFT, "size.wear", f"0.000{tenths % 10} in", gauge)
    elif what == 5:
        place.record("corrected", {"entry": entry, "fields": {"value": f"0.51{tenths:02d} in"}, "reason": "r"})
    elif what == 6:
        place.record("withdrawn", {"entry": entry, "reason": "r"})
    elif what == 7:
        place.set_gauge("M1", f"0.000{1 + tenths % 5} in")
    elif what == 8:
        place.record("settings chosen", {"rule": ("plain", "guarded", "full U")[tenths % 3], "conformance": "0.95"})
    else:
        sent = place.record("sent out", {"tag": SHAFT, "to": "x", "work": "y"})
        place.record("returned", {"entry": sent.number, "document": "none"})


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(ACTS)
def test_with_a_memory_and_without_it_is_the_same(acts: list[tuple[int, int, int]]) -> None:
    """After readings, corrections, withdrawals, other gauges, other settings and a part away, all of it is equal."""
    place = Workplace().open(BOOK)
    place.remove("part.shaft", tag=SHAFT)
    place.remove("part.housing", tag=HOUSING)
    place.set_gauge("M1", "0.0001 in")
    place.set_gauge("M2", "0.00005 in")
    before: WorkUp | None = None
    book = place.bench.book(STREAM)
    for what, tenths, entry in acts:
        try:
            act(place, what, tenths, entry)
        except TenthbookError:
            continue
        before = work_up(book, place.state, before)
        assert before == work_up(book, place.state)


def test_what_did_not_change_is_not_drawn_again() -> None:
    """A reading of one part leaves the verdict on another as it was, the very same."""
    place = Workplace().open(BOOK)
    place.remove("part.shaft", tag=SHAFT)
    place.remove("part.housing", tag=HOUSING)
    place.read(HOUSING, "size.bore", "0.5126 in")
    first = place.work_up()
    place.read(SHAFT, "size.shaft", "0.5110 in")
    second = place.work_up()
    assert second.size(HOUSING, "size.bore") is first.size(HOUSING, "size.bore")
    assert second.size(SHAFT, "size.shaft") is not None
    place.record("corrected", {"entry": 4, "fields": {"value": "0.5127 in"}, "reason": "misread"})
    third = place.work_up()
    assert third.size(HOUSING, "size.bore") is not second.size(HOUSING, "size.bore")
    assert third.size(SHAFT, "size.shaft") is second.size(SHAFT, "size.shaft"), "drawn from the same, though mended"
