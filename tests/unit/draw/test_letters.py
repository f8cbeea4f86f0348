"""Widths and breaks of text, against the fonts themselves."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.faces.draw.letters import BOLD, MONO, PLAIN, Run, digits, width, words, wrap
from tests.unit.draw import printed

ASCII = range(0x20, 0x7F)


@pytest.mark.parametrize(
    ("file", "expected"),
    [
        ("next-latin-400", PLAIN),
        ("next-latin-700", BOLD),
        ("mono-latin-400", (MONO,) * len(ASCII)),
        ("mono-latin-600", (MONO,) * len(ASCII)),
    ],
)
def test_widths_are_those_of_the_fonts(file: str, expected: tuple[int, ...]) -> None:
    """The tables are the advance widths in the vendored font files."""
    widths = printed.glyph_widths(f"atkinson-hyperlegible-{file}-normal.ttf")
    assert tuple(widths[code] for code in ASCII) == expected


def test_no_letter_is_wider_than_what_strangers_are_taken_for() -> None:
    """A sign outside the table is taken as wide as the widest letter of the fonts, or wider."""
    widest = max(printed.glyph_widths("atkinson-hyperlegible-next-latin-400-normal.ttf").values())
    assert width(words("\u20ac"), 1000) >= widest


@given(st.text(st.characters(codec="ascii"), max_size=60), st.floats(40, 300))
def test_broken_lines_fit_and_lose_nothing(text: str, room: float) -> None:
    """Every part fits its room, and all parts together hold every sign but the spaces."""
    parts = wrap(words(text), 16, room)
    assert all(width(part, 16) <= room for part in parts)
    kept = "".join(run.text for part in parts for run in part)
    assert kept.replace(" ", "") == "".join(run.text for run in words(text)).replace(" ", "")


def test_a_line_breaks_between_words_first() -> None:
    """A word that fits alone is never cut."""
    parts = wrap((*digits("0.0090"), *words("service greatest")), 16, 130)
    assert parts == [(Run("0.0090", mono=True), Run("service")), (Run("greatest"),)]


def test_nothing_takes_no_line() -> None:
    """An empty text makes no line at all."""
    assert words(" \n") == ()
    assert wrap((), 16, 100) == []
