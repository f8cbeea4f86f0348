"""What the script of the demonstration says, and how it is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from tenthbook.faces.story import Script, read_script
from tenthbook.numbers.because import WrongInput
from tenthbook.record.job import KINDS

STORY = Path(__file__).parents[3] / "story"
HEAD = """job = "1"
book = "b"
opened_at = "2026-10-01T07:30:00Z"
opened_by = "mechanic"
[opened]
engine = "x"
[[acts]]
act = 1
title = "t"
"""
LINE = '[[acts.lines]]\nat = "2026-10-01T08:00:00Z"\nwho = "mechanic"\nsays = "x"\n'


def present() -> Script:
    """The script as it now stands."""
    return read_script((STORY / "dunlin-four.toml").read_bytes())


def faults(text: str) -> list[str]:
    """All that is wrong with a script."""
    with pytest.raises(WrongInput) as caught:
        read_script(text.encode())
    return [str(fault) for fault in caught.value.faults]


def test_a_small_script_is_read() -> None:
    """A line needs a time, a person and words; nothing else."""
    line = read_script((HEAD + LINE).encode()).acts[0].lines[0]
    assert (line.who, line.does, line.fields, line.sees) == ("mechanic", "", {}, "")


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (HEAD + LINE.replace("2026-10-01T08:00:00Z", "1 October"), "acts.1.lines.1.at"),
        (HEAD + LINE.replace("says", "sings"), "acts.1.lines.1.says"),
        (HEAD, "acts.1.lines"),
        (HEAD.replace('job = "1"\n', "") + LINE, "job"),
        ("job = ", "script"),
    ],
)
def test_a_wrong_script_says_where(text: str, place: str) -> None:
    """Each slip is named with act and line, counted from 1."""
    assert place in [fault.partition(": ")[0] for fault in faults(text)]


def test_bytes_that_are_no_text_are_refused() -> None:
    """A script is TOML in UTF-8."""
    with pytest.raises(WrongInput, match="TOML in UTF-8"):
        read_script(b"\xff")


def test_the_present_script_is_invented_and_says_so() -> None:
    """The demonstration opens its job as invented, from a book that is invented."""
    script = present()
    assert script.opened["invented"] is True
    assert b"invented = true" in (STORY / script.book / "book.toml").read_bytes()


def test_the_present_script_runs_forward_in_time() -> None:
    """Its lines stand in the order they happened, after the job was opened."""
    script = present()
    times = [script.opened_at, *(line.at for act in script.acts for line in act.lines)]
    assert times == sorted(times)


def test_the_present_script_does_what_a_job_can_record() -> None:
    """Every line records a known kind or nothing, and whatever is seen was looked at somewhere."""
    lines = [line for act in present().acts for line in act.lines]
    assert {line.does for line in lines} <= {"", *KINDS}
    assert all(line.place for line in lines if line.sees)
    assert any(line.sees.startswith("BEYOND") for line in lines)


def test_the_present_script_reads_with_gauges_it_set_before() -> None:
    """Every reading names its gauge, and the gauge was set with its doubt in an earlier line."""
    on_bench: set[str] = set()
    for line in (line for act in present().acts for line in act.lines):
        if line.does == "gauge set":
            on_bench.add(line.fields["gauge"])
        if line.does == "reading taken":
            assert line.fields["gauge"] in on_bench, line.says
    assert on_bench == {"S1", "T1", "B2", "M3", "D1", "M1", "B1"}


def test_the_present_script_shows_doubt_forecast_and_question() -> None:
    """One verdict is undecided and then decided, two fits are foreseen, one reading is asked about and answered."""
    lines = [line for act in present().acts for line in act.lines]
    seen = [line.sees for line in lines if line.place == "size.body-bore"]
    assert [one.partition(",")[0] for one in seen] == ["UNDECIDED", "IN SERVICE LIMITS"]
    assert len([line for line in lines if line.foresees]) == 2
    assert [line.does for line in lines if line.is_asked or line.does == "question answered"] == [
        "reading taken",
        "question answered",
    ]
