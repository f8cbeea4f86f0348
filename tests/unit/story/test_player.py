"""A script is played line by line, and what is seen is compared with what it says."""

from __future__ import annotations

from pathlib import Path

import pytest

from tenthbook.faces.story import Script, StoryClock, TurnedOutOtherwise, play, read_script
from tenthbook.faces.story.player import look_at, seen
from tenthbook.numbers.because import Refused, TenthbookError
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book, read_book
from tenthbook.record.ledger import MemoryStore

STORY = Path(__file__).parents[3] / "story"


def script(was: str = "", now: str = "") -> Script:
    """The present script, with one text changed."""
    text = (STORY / "dunlin-four.toml").read_text(encoding="utf-8")
    assert was in text
    return read_script(text.replace(was, now, 1).encode())


def book(of: Script) -> Book:
    """The book the script names."""
    return read_book({path.name: path.read_bytes() for path in (STORY / of.book).iterdir()})


def stage() -> tuple[Bench, StoryClock]:
    """A bench in memory that reads the story's clock."""
    clock = StoryClock()
    return Bench(MemoryStore(clock)), clock


def test_the_present_script_plays_to_its_end() -> None:
    """Every line is a scene, and what was looked at is what the script says."""
    bench, clock = stage()
    told = script()
    scenes = list(play(told, book(told), bench, clock))
    assert [scene.line for scene in scenes] == [line for act in told.acts for line in act.lines]
    assert [seen(scene.judged) for scene in scenes if scene.line.sees] == [
        scene.line.sees for scene in scenes if scene.line.sees
    ]


def test_people_times_and_requests_are_the_scripts() -> None:
    """Entries carry the line's person and time on both clocks, and a request named after act and line."""
    bench, clock = stage()
    told = script()
    lines = [
        (f"story.{act.act}.{number}", line)
        for act in told.acts
        for number, line in enumerate(act.lines, 1)
        if line.does
    ]
    list(play(told, book(told), bench, clock))
    entries = bench.store.entries(told.job)[2:]
    assert [
        (entry.draft.request, entry.draft.person, entry.draft.acted_at, entry.recorded_at) for entry in entries
    ] == [(request, line.who, line.at, line.at) for request, line in lines]


def test_a_verdict_that_differs_stops_the_playing() -> None:
    """The fault names what is seen, where, and in which act and line."""
    bench, clock = stage()
    told = script('sees = "BEYOND, above by 0.0005"', 'sees = "BEYOND, above by 0.0006"')
    with pytest.raises(TurnedOutOtherwise, match=r"'BEYOND, above by 0\.0005' in act 4, line 4"):
        list(play(told, book(told), bench, clock))


def test_a_line_that_looks_at_nothing_measured_stops_the_playing() -> None:
    """A place without a verdict shows nothing, which the script did not say."""
    bench, clock = stage()
    told = script('place = "size.body-depth"', 'place = "size.nowhere"')
    with pytest.raises(TurnedOutOtherwise, match=r"'nothing'"):
        list(play(told, book(told), bench, clock))


def test_the_rules_hold_for_the_story_too() -> None:
    """A wrong tag in the script is refused by rule."""
    bench, clock = stage()
    told = script('tag = "P-0211-8"', 'tag = "P-0211-7"')
    with pytest.raises(Refused, match=r"part\.tag-check"):
        list(play(told, book(told), bench, clock))


@pytest.mark.parametrize(
    ("was", "now"), [('tag = "P-0210-0", row', 'tab = "P-0210-0", row'), ('part = "part.pump-body"', 'party = "x"')]
)
def test_a_line_that_lacks_a_field_is_a_fault_of_the_script(was: str, now: str) -> None:
    """A field misspelt in the script is told as such, not as an error of the program."""
    bench, clock = stage()
    told = script(was, now)
    with pytest.raises(TenthbookError):
        list(play(told, book(told), bench, clock))


def test_looking_finds_a_fit_a_size_or_a_part() -> None:
    """A place is a row of the book or a tag."""
    bench, clock = stage()
    told = script()
    list(play(told, book(told), bench, clock))
    work = bench.work_up(told.job)
    assert look_at(work, "fit.shaft-in-bush") in work.fits
    assert look_at(work, "size.shaft") in work.sizes
    assert look_at(work, "P-0212-6") in work.parts
    assert look_at(work, "P-9999-9") is None
