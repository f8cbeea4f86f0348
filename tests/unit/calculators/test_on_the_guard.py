"""What lies exactly on a guard: inside its limit it is proven, beyond it is not, whatever binary numbers make of it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import load
from tenthbook.numbers.because import WrongInput
from tenthbook.numbers.limit import Band, Grade, Limits
from tenthbook.numbers.quantity import quantity
from tenthbook.record.job import JobState
from tenthbook.record.workup.doubt import rule_on

TRIPLES = ((3, 4, 5), (6, 8, 10), (5, 12, 13), (8, 15, 17))
"""Doubts of hole and shaft whose root of squares is a whole number."""


def tenths(count: int) -> str:
    """So many ten-thousandths of an inch as typed."""
    return f"{count / 10_000:.4f} in"


def judged(value: int, doubt: int, side: str, limit: int) -> str:
    """The verdict under full U, in ten-thousandths of an inch."""
    question = {"value": tenths(value), "standard_uncertainty": tenths(doubt), side: tenths(limit), "rule": "full U"}
    word: str = load("verdict").run(question)["verdict"]
    return word


@pytest.mark.parametrize(
    ("value", "doubt", "side", "limit", "word"),
    [
        ("0.094 in", "0.003 in", "upper", "0.100 in", "within"),
        ("0.0859 in", "0.0021 in", "upper", "0.0817 in", "undecided"),
        ("0.106 in", "0.003 in", "lower", "0.100 in", "within"),
        ("0.0775 in", "0.0021 in", "lower", "0.0817 in", "undecided"),
    ],
)
def test_on_the_guard(value: str, doubt: str, side: str, limit: str, word: str) -> None:
    """Two standard uncertainties inside its limit a value is within, and as far beyond it is undecided."""
    question = {"value": value, "standard_uncertainty": doubt, side: limit, "rule": "full U"}
    assert load("verdict").run(question)["verdict"] == word


@given(st.integers(1, 40), st.integers(200, 3000), st.sampled_from(["lower", "upper"]))
@settings(deadline=None, max_examples=150)
def test_one_step_decides(doubt: int, limit: int, side: str) -> None:
    """On the guard and one ten-thousandth to either side of it, three words follow each other, at both ends of it."""
    inward = 1 if side == "lower" else -1
    inner, outer = limit + 2 * doubt * inward, limit - 2 * doubt * inward
    assert judged(inner, doubt, side, limit) == "within"
    assert judged(inner - inward, doubt, side, limit) == "undecided"
    assert judged(outer, doubt, side, limit) == "undecided"
    assert judged(outer - inward, doubt, side, limit) == "outside"


def fit_of(clearance: int, doubts: tuple[int, int], limits: list[str | None], unit: int) -> dict[str, Any]:
    """A fit question in steps of so many millionths of an inch."""

    def typed(steps: int) -> str:
        return f"{steps * unit / 1_000_000:.6f} in"

    return {
        "hole": {"size": typed(2_000_000 // unit + clearance), "standard_uncertainty": typed(doubts[0])},
        "shaft": {"size": typed(2_000_000 // unit), "standard_uncertainty": typed(doubts[1])},
        "service": limits,
        "rule": "full U",
    }


@given(st.sampled_from(TRIPLES), st.integers(60, 3000), st.sampled_from([1, 10, 100]), st.sampled_from([1, -1]))
@settings(deadline=None, max_examples=150)
def test_a_fit_on_the_guard(triple: tuple[int, int, int], limit: int, unit: int, turn: int) -> None:
    """The root of two squares is exact where it can be, so a clearance on the guard is proven in and not proven out."""
    *doubts, root = triple
    limits = [f"{limit * unit / 1_000_000:.6f} in", None][::turn]
    for clearance, grade in ((limit + 2 * root * turn, "service"), (limit - 2 * root * turn, "undecided")):
        question = fit_of(clearance, (doubts[0], doubts[1]), limits, unit)
        assert load("fit").run(question)["grade"] == grade


def test_a_guard_finer_than_a_picometre_is_exact_too() -> None:
    """Doubts of 0.3 and 0.4 pm make a guard of 1 pm, and a clearance of 1 pm is proven."""
    question: dict[str, Any] = {
        "hole": {"size": "10.000000001 mm", "standard_uncertainty": "0.0000000003 mm"},
        "shaft": {"size": "10 mm", "standard_uncertainty": "0.0000000004 mm"},
        "service": ["0 mm", None],
        "rule": "full U",
    }
    assert load("fit").run(question)["grade"] == "service"
    question["hole"]["standard_uncertainty"] = "0.0000000003001 mm"
    assert load("fit").run(question)["grade"] == "undecided"


@given(st.integers(1, 400), st.integers(200, 3000), st.integers(-1, 1), st.sampled_from([1, -1]))
@settings(deadline=None, max_examples=150)
def test_value_fit_and_job_agree(doubt: int, limit: int, off: int, turn: int) -> None:
    """A value, a clearance and a row of a job are decided alike, on the guard and a step to either side."""
    value, side = limit + (2 * doubt + off) * turn, "lower" if turn > 0 else "upper"
    question = {"value": tenths(value), "standard_uncertainty": tenths(doubt), side: tenths(limit), "rule": "full U"}
    alone = load("verdict").run(question)["verdict"]
    sizes = {"hole": {"size": tenths(20_000 + value)}, "shaft": {"size": "2 in", "standard_uncertainty": tenths(doubt)}}
    service = [tenths(limit), None][::turn]
    fitted = load("fit").run({**sizes, "service": service, "rule": "full U"})["grade"]
    band = Band(*(None if one is None else quantity(one) for one in service))
    exact, u = quantity(tenths(value)).exact, quantity(tenths(doubt)).exact
    ruled = rule_on(exact, u, Limits(service=band), JobState(rule="full U", conformance="0.95"))
    word = {"within": "service", "undecided": "undecided"}[alone]
    assert (fitted, ruled.grade) == (word, Grade[word.upper()])
    assert alone == ("undecided" if off < 0 else "within")


@pytest.mark.parametrize(("off", "grade"), [("0", Grade.SERVICE), ("1e-15", Grade.UNDECIDED)])
def test_a_row_of_a_job_on_a_guard_of_many_digits(off: str, grade: Grade) -> None:
    """A guard with more digits than a float holds is compared with all of them."""
    u = Fraction("0.000123456789012345678901")
    value = Fraction("0.05") - 2 * u + Fraction(off) * u
    band = Band(None, quantity("50 mm"))
    assert rule_on(value, u, Limits(service=band), JobState(rule="full U", conformance="0.95")).grade is grade


@pytest.mark.parametrize("rule", ["plain", "guarded", "full U"])
@pytest.mark.parametrize(("value", "word"), [(3, "within"), (4, "within"), (4.0001, "outside")])
def test_without_doubt_the_verdict_is_the_plain_one(rule: str, value: float, word: str) -> None:
    """An uncertainty of nought has no guard: on the limit is within it, beyond is outside, and no chance is left."""
    answer = load("verdict").run({"value": value, "standard_uncertainty": 0, "upper": 4, "rule": rule})
    assert (answer["verdict"], answer["plain"], answer["guard"]) == (word, word, 0.0)
    assert answer["probability_within"] == (1.0 if word == "within" else 0.0)


@pytest.mark.parametrize("rule", ["plain", "guarded", "full U"])
def test_without_doubt_the_grade_is_the_plain_one(rule: str) -> None:
    """Two sizes whose uncertainty is stated as nought are graded at their face under every rule."""
    sizes = {
        "hole": {"size": "2.0045 in", "standard_uncertainty": "0 in"},
        "shaft": {"size": "2.0020 in", "standard_uncertainty": "0 um"},
        "common": "0 in",
    }
    for loosest, grade in (("0.0025 in", "service"), ("0.0024 in", "reject")):
        answer = load("fit").run({**sizes, "service": [None, loosest], "rule": rule})
        assert (answer["grade"], answer["plain_grade"]) == (grade, grade)
        assert answer["standard_uncertainty"]["value"] == 0.0


def test_a_guard_needs_a_doubt() -> None:
    """A rule with a guard is refused where neither size states a doubt, and the fault says which rule is left."""
    sizes = {"hole": {"size": "2.0045 in"}, "shaft": {"size": "2.0020 in"}}
    with pytest.raises(WrongInput, match="without one only 'plain'"):
        load("fit").run({**sizes, "rule": "guarded"})
    assert (
        "the last two need a standard uncertainty" in load("fit").schema()["input"]["properties"]["rule"]["description"]
    )
