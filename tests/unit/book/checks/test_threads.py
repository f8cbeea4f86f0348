"""Threads are read as manuals print them, and a thread that nobody makes is told from one that cannot be read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book.checks.threads import Reading, pull_index, read_thread

INCH_MM = 25.4


@pytest.mark.parametrize(
    ("text", "inches", "per_inch"),
    [
        ("5/16-24", 0.3125, 24),
        ("5/16 - 24 UNF-3A", 0.3125, 24),
        ("1/4-28UNF-2B", 0.25, 28),
        (".250-28", 0.25, 28),
        ("0.3125-24 UNJF-3A", 0.3125, 24),
        (".312-24", 0.3125, 24),
        ("10-32", 0.190, 32),
        ("#10-32 UNF", 0.190, 32),
        ("No. 8-36", 0.164, 36),
        (".190-32", 0.190, 32),
        ("1-14", 1.0, 14),
        ("1-14 UNS", 1.0, 14),
        ("1-1/8-12", 1.125, 12),
        ("1 1/8-12 UNF LH", 1.125, 12),
        ('1/2"-20', 0.5, 20),
        ("5/8-32", 0.625, 32),
        ("13/16-20", 0.8125, 20),
        ("2-4.5 UNC", 2.0, 4.5),
        ("2-12", 2.0, 12),
    ],
)
def test_unified_threads(text: str, inches: float, per_inch: float) -> None:
    """A fraction, a decimal, a number size or whole inches, then threads per inch, then series and class."""
    reading, thread = read_thread(text)
    assert reading is Reading.MADE
    assert thread is not None
    assert (thread.diameter_mm, thread.pitch_mm) == pytest.approx((inches * INCH_MM, INCH_MM / per_inch))
    assert not thread.metric


@pytest.mark.parametrize(
    ("text", "diameter", "pitch"),
    [
        ("M8x1.25", 8, 1.25),
        ("M8 X 1.25 - 6g", 8, 1.25),
        ("M8-1.25", 8, 1.25),
        ("MJ8x1.25-4h6h", 8, 1.25),
        ("M8", 8, 1.25),
        ("M14x1.25", 14, 1.25),
        ("M18x1.5", 18, 1.5),
        ("18 mm x 1.5", 18, 1.5),
        ("M2.5x0.45", 2.5, 0.45),
    ],
)
def test_metric_threads(text: str, diameter: float, pitch: float) -> None:
    """M and the diameter, then the pitch; without it the coarse one."""
    reading, thread = read_thread(text)
    assert reading is Reading.MADE
    assert thread is not None
    assert (thread.diameter_mm, thread.pitch_mm, thread.metric) == (diameter, pitch, True)


PIPES = ("1/8-27 NPT", "1/8 NPT", "1/4-18 NPTF", "1/8-27 ANPT", "G1/4", "R 1/8", "1/8-28 BSPP", "3/8 pipe")
OTHERS = ("1/4-26 BSF", "2 BA", "Tr20x4", "1/2-10 ACME", "3/4-19 UNS", "14 mm")


@pytest.mark.parametrize("text", [*PIPES, *OTHERS])
def test_what_is_only_named_is_left_out(text: str) -> None:
    """Pipe threads, other series and specials are known and have no stress area here."""
    assert read_thread(text) == (Reading.NAMED, None)


@pytest.mark.parametrize(
    "text",
    ["5/16-23", "1/4-26", "10-33", "#10-20", "3/8-42", "M12x1.3", "M13", "13 mm", "1/8-28 NPT", ".500-21", "1-13"],
)
def test_a_thread_nobody_makes(text: str) -> None:
    """A pitch that no series has for the size."""
    assert read_thread(text) == (Reading.NOT_MADE, None)


@pytest.mark.parametrize("text", ["as fitted", "5/16", "5/16-24 x", "1/4-0", "0/4-20", "banana", "M8x", "5/16-24" * 20])
def test_what_is_no_thread(text: str) -> None:
    """What is written in no form of a thread is not read."""
    assert read_thread(text) == (Reading.UNREAD, None)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text breaks the reading, and a thread is given exactly where one of a series was read."""
    reading, thread = read_thread(text)
    assert (thread is not None) is (reading is Reading.MADE)


@given(st.sampled_from(["5/16-24", "10-32", "M8x1.25", "M14x1.25"]), st.floats(0.1, 1000), st.floats(1.01, 20))
def test_more_torque_pulls_harder_in_proportion(text: str, torque_nm: float, times: float) -> None:
    """The index grows with the torque in proportion, so a slip of twelve is a slip of twelve in it."""
    thread = read_thread(text)[1]
    assert thread is not None
    assert pull_index(times * torque_nm, thread) == pytest.approx(times * pull_index(torque_nm, thread))
