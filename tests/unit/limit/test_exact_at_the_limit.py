"""Hole less shaft at its limit and one step beyond, over the whole range of the bench, in every way it is computed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import load
from tenthbook.numbers.limit import Band, Grade, Limits, judge
from tenthbook.numbers.quantity import quantity

INCH_RANGE = (1, 200_000)  # tenths of a thousandth: 0.0001 to 20 in
MM_RANGE = (1, 500_000)  # thousandths: 0.001 to 500 mm


@st.composite
def cases(draw: st.DrawFn) -> tuple[str, int, int, int]:
    """A unit, decimals, and a shaft and a clearance in last steps."""
    unit, (least, most) = draw(st.sampled_from([("in", INCH_RANGE), ("mm", MM_RANGE)]))
    shaft = draw(st.integers(least, most - 1))
    return unit, 4 if unit == "in" else 3, shaft, draw(st.integers(1, min(most - shaft, 1000)))


def typed(steps: int, decimals: int, unit: str) -> str:
    """A length of so many last steps, as it is typed."""
    return f"{Decimal(steps).scaleb(-decimals):f} {unit}"


def ask(unit: str, decimals: int, shaft: int, clearance: int, limit: int) -> dict[str, Any]:
    """The question whether a clearance is within its greatest, as the calculator takes it."""
    return {
        "hole": {"size": typed(shaft + clearance, decimals, unit)},
        "shaft": {"size": typed(shaft, decimals, unit)},
        "service": [None, typed(limit, decimals, unit)],
        "rule": "plain",
    }


@given(cases())
@settings(deadline=None, max_examples=300)
def test_on_the_limit_is_within_and_one_step_more_is_beyond(case: tuple[str, int, int, int]) -> None:
    """The calculator and the verdict of one value agree at the limit and one last step beyond it."""
    unit, decimals, shaft, clearance = case
    for beyond, grade in ((0, Grade.SERVICE), (1, Grade.REJECT)):
        document = ask(unit, decimals, shaft, clearance, clearance - beyond)
        assert load("fit").run(document)["grade"] == grade.word
        hole, inner = quantity(document["hole"]["size"]), quantity(document["shaft"]["size"])
        limits = Limits(Band(), Band(None, quantity(document["service"][1])))
        assert judge(hole.exact - inner.exact, limits).grade is grade


@given(st.lists(cases(), min_size=1, max_size=8))
@settings(deadline=None, max_examples=100)
def test_a_batch_is_exact_at_every_limit(many: list[tuple[str, int, int, int]]) -> None:
    """In one array of mixed units every value on its limit passes and every one a step beyond fails."""
    documents = [ask(*case, case[3] - beyond) for case in many for beyond in (0, 1)]
    answers = load("fit").run({"batch": documents})["batch"]
    assert [answer["grade"] for answer in answers] == ["service", "reject"] * len(many)


@pytest.mark.parametrize(("unit", "most"), [("in", INCH_RANGE[1]), ("mm", MM_RANGE[1])])
def test_every_size_of_the_range_is_exact_on_a_limit_of_its_own(unit: str, most: int) -> None:
    """Sizes spread over the whole range, each on its limit and a step beyond, in two arrays."""
    decimals = 4 if unit == "in" else 3
    shafts = range(1, most - 25, max(1, most // 1000))
    for beyond, grade in ((0, "service"), (1, "reject")):
        documents = [ask(unit, decimals, shaft, 25, 25 - beyond) for shaft in shafts]
        answers = load("fit").run({"batch": documents})["batch"]
        assert {answer["grade"] for answer in answers} == {grade}


def test_binary_fractions_fail_where_this_book_does_not() -> None:
    """Floats call a clearance on its limit too large for some sizes of the same range, where this book does not."""
    wrong = [shaft for shaft in range(1, 20_000, 7) if (shaft + 25) / 1e4 - shaft / 1e4 > 25 / 1e4]
    assert len(wrong) > 100
    answers = load("fit").run({"batch": [ask("in", 4, shaft, 25, 25) for shaft in wrong]})["batch"]
    assert {answer["grade"] for answer in answers} == {"service"}
