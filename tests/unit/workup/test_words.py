"""How a verdict is written, the same everywhere."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tenthbook.numbers.limit import Grade, Verdict
from tenthbook.numbers.quantity import quantity
from tenthbook.record.workup import headline, mark_of
from tenthbook.record.workup.words import distance_text, word

LIMIT = quantity("0.5098 in")


@pytest.mark.parametrize(
    ("grade", "words", "mark"),
    [
        (Grade.NEW, "IN NEW LIMITS", "new"),
        (Grade.SERVICE, "IN SERVICE LIMITS", "service"),
        (Grade.REJECT, "BEYOND", "beyond"),
        (Grade.UNDECIDED, "UNDECIDED", "undecided"),
        (Grade.NO_LIMIT, "NO LIMIT", "none"),
    ],
)
def test_every_grade_has_its_word_and_its_mark(grade: Grade, words: str, mark: str) -> None:
    """The word is read, the mark names sign and colour."""
    assert (word(grade), mark_of(grade)) == (words, mark)


@pytest.mark.parametrize(
    ("verdict", "line"),
    [
        (Verdict(Grade.REJECT, "below", LIMIT, Fraction("0.0004")), "BEYOND, below by 0.0004"),
        (Verdict(Grade.SERVICE, None, LIMIT, Fraction("0.00025")), "IN SERVICE LIMITS, margin 0.00025"),
        (Verdict(Grade.NEW, None, LIMIT, Fraction(0)), "IN NEW LIMITS, margin 0.0000"),
        (Verdict(Grade.NO_LIMIT, None, None, Fraction(0)), "NO LIMIT"),
    ],
)
def test_a_verdict_is_one_line(verdict: Verdict, line: str) -> None:
    """Word, side and distance with at least the decimals of the limit."""
    assert headline(verdict) == line


def test_without_a_limit_there_is_no_distance() -> None:
    """No number is printed where none exists."""
    assert distance_text(Verdict(Grade.NO_LIMIT, None, None, Fraction(0))) == ""
