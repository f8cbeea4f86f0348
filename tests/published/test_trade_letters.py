"""The trade's letters T and L, and a clearance that lies on its limit.

From memory: the letters are trade convention, common practice, no source (one table that prints the word "loose" was
seen). That a value equal to its limit is accepted was read in a published repair manual's general rules; the figures of
the second check are derived.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tenthbook.faces.calculators import load
from tenthbook.numbers.quantity import find_unit, read_lettered

P9_2: dict[str, Any] = {
    "hole": {"size": "2.0045 in"},
    "shaft": {"size": "2.0020 in"},
    "service": [None, "0.0025 in"],
    "rule": "plain",
}


@pytest.mark.parametrize(("printed", "signed"), [("0.0005T", "-0.0005"), ("0.0015L", "0.0015")])
def test_letters_are_signs(printed: str, signed: str) -> None:
    """P9.1: 0.0005T is minus 0.0005, 0.0015L is plus 0.0015, exactly."""
    assert read_lettered(printed, find_unit("in")).clearance.number == Decimal(signed)


@pytest.mark.parametrize(
    ("hole", "grade", "letter"),
    [
        ("0.9994", "no limit", "T"),
        ("0.9995", "new", "T"),
        ("1.0000", "new", None),
        ("1.0015", "new", "L"),
        ("1.0016", "no limit", "L"),
    ],
)
def test_a_row_of_both_letters_runs_from_tight_to_loose(hole: str, grade: str, letter: str | None) -> None:
    """P9.1: between 0.0005T and 0.0015L lies nought, and both ends are within."""
    document = {
        "hole": {"size": f"{hole} in"},
        "shaft": {"size": "1.0000 in"},
        "new": ["0.0005T", "0.0015L"],
        "unit": "in",
        "rule": "plain",
    }
    answer = load("fit").run(document)
    assert (answer["grade"], answer["letter"]) == (grade, letter)
    assert [side["value"] for side in answer["limits"]["new"]] == [Decimal("-0.0005"), Decimal("0.0015")]


def test_on_the_limit_is_accepted() -> None:
    """P9.2: hole 2.0045 less shaft 2.0020 is 0.0025, on its greatest of 0.0025, and accepted."""
    answer = load("fit").run(P9_2)
    assert (answer["clearance"]["value"], answer["grade"], answer["plain_grade"]) == (
        Decimal("0.0025"),
        "service",
        "service",
    )


def test_binary_fractions_reject_it() -> None:
    """P9.2: the same sum in binary floating point lies above 0.0025, so floats would reject the part."""
    assert 2.0045 - 2.0020 > 0.0025
