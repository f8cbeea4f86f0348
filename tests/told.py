"""The demonstration's script, book and photographs as they now stand, for the tests that play them."""

from __future__ import annotations

from pathlib import Path

from tenthbook.faces.story import Script, StoryClock, play, read_script
from tenthbook.faces.story.player import Scene
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book, read_book

STORY = Path(__file__).parents[1] / "story"


def script(was: str = "", now: str = "", file: str = "dunlin-four.toml") -> Script:
    """The script of the job, or that of another, with one text changed."""
    text = (STORY / file).read_text(encoding="utf-8")
    assert was in text
    return read_script(text.replace(was, now, 1).encode())


def book_of(told: Script) -> Book:
    """The book the script names."""
    return read_book({path.name: path.read_bytes() for path in (STORY / told.book).iterdir()})


def photographs() -> dict[str, bytes]:
    """The photographs by file name."""
    return {path.name: path.read_bytes() for path in (STORY / "photographs").iterdir()}


def played(told: Script, bench: Bench, clock: StoryClock) -> list[Scene]:
    """Every scene of a script, played to its end."""
    return list(play(told, book_of(told), bench, clock, photographs()))
