"""The working of every calculator: its lines are made of the input's own numbers, and their sums are right.

Each sum is computed again here from the printed digits alone, and must agree within what rounding of the printed
digits can do.
"""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.working import digits_of, number_text, shortened, standing

FIT: dict[str, Any] = {
    "hole": {"size": "1.40505 in", "standard_uncertainty": "0.00006 in"},
    "shaft": {"size": "1.3984 in", "standard_uncertainty": "0.00005 in"},
    "new": ["0.0015 in", "0.0030 in"],
    "service": [None, "0.0090 in"],
    "rule": "guarded",
}
SIZE: dict[str, Any] = {
    "readings": ["0.5094 in", "0.5095 in", "0.5093 in"],
    "master": {"nominal": "0.5000 in", "before": "0.5001 in", "after": "0.5003 in"},
    "temperatures": {"part": "75 degF", "instrument": "18 degC"},
    "expansion": {"part": "11.5e-6 1/degC", "instrument": "12e-6 1/degC"},
    "instrument": {"error_limit": "0.0001 in", "resolution": "0.00005 in"},
}
DOUBTS: dict[str, Any] = {
    "inputs": [
        {"name": "a", "standard": "1 um"},
        {"name": "b", "expanded": "4 um", "coverage_factor": 2, "sensitivity": -1},
    ],
    "correlations": [["a", "b", 0.5]],
    "confidence": 0.95,
}
MASSES = {"masses": ["500 g", "502 g", "501 g", "499.5 g"]}
SHAFTS = {"holes": ["10.01 mm", "10.03 mm"], "shafts": ["10.00 mm", "9.99 mm"], "target": "0.02 mm", "criterion": "sum"}
QUESTIONS: list[tuple[str, dict[str, Any]]] = [
    *((name, load(name).example.input) for name in NAMES),
    ("fit", FIT),
    ("fit", {**FIT, "units": "metric", "common": "0.00002 in", "rule": "full U"}),
    ("size", SIZE),
    ("uncertainty", DOUBTS),
    ("pairing", MASSES),
    ("pairing", SHAFTS),
    ("verdict", {"value": "98 degF", "standard_uncertainty": "0.5 degC", "upper": "37 degC", "rule": "full U"}),
    ("verdict", {"value": 1.5, "standard_uncertainty": 0.1, "lower": 1.2, "upper": 1.6, "rule": "plain"}),
]
_UNIT = re.compile(r"(?<=[0-9]) (?:in|mm|um|nm|g|kPa|degC|degF)(?:/deg[CF])?(?![\w/])")
_LEFT = re.compile(r"(?:sqrt|[-+*/|().0-9e^ ]|x(?= ))*$")
_ROUNDED = ("u =", "guard =", "expanded =", "standard =", "degrees of freedom =", "a u of", "accepted", "not good")
"""Lines whose operands are computed numbers, printed with four figures or more."""
_RIGHT = re.compile(r"-?[0-9.]+(?= |,|$)")


def lines(name: str, question: dict[str, Any]) -> list[str]:
    """The working of a question."""
    return load(name).worked(question)[1]


def sums(text: str) -> list[tuple[float, str]]:
    """Every sum of a line: what its left side comes to, computed from its digits, and the number printed for it."""
    pieces = _UNIT.sub("", text).split(" = ")
    found = []
    for before, after in pairwise(pieces):
        left, right = _LEFT.search(before), _RIGHT.match(after)
        if left and right and re.search(r"[-+/^x] ?[(0-9]", left[0].strip()[1:]):
            absolute = re.sub(r"\|([^|]*)\|", r"abs(\1)", left[0].strip())
            python = absolute.replace("^", "**").replace(" x ", " * ")
            found.append((float(eval(python, {"sqrt": math.sqrt, "abs": abs})), right[0]))
    return found


def agree(left: float, right: str, line: str) -> bool:
    """Whether a sum gives the printed number: to half its last digit, or a thousandth where operands are rounded."""
    step = float(Decimal(1).scaleb(int(Decimal(right).as_tuple().exponent)))
    rounded = 1e-3 * abs(float(right)) if line.startswith(_ROUNDED) else 0.0
    return abs(left - float(right)) <= max(rounded, 0.51 * step)


@pytest.mark.parametrize(("name", "question"), QUESTIONS)
def test_every_sum_comes_to_what_stands_behind_it(name: str, question: dict[str, Any]) -> None:
    """Computed again from its printed digits, each sum gives its printed result."""
    wrong = [
        (line, left) for line in lines(name, question) for left, right in sums(line) if not agree(left, right, line)
    ]
    assert wrong == []


def test_the_check_of_sums_finds_sums_and_bites() -> None:
    """Each calculator that adds anything prints a sum that is found, and a planted error is seen."""
    found = {name: sum(len(sums(line)) for line in lines(name, question)) for name, question in QUESTIONS}
    assert {name for name, count in found.items() if count == 0} == set()
    assert found["fit"] >= 5
    [(left, right)] = sums("service, loosest: 0.0090 - 0.00665 = 0.00245 in, inside")
    assert not agree(left, right, "")


@pytest.mark.parametrize("name", list(NAMES))
def test_the_working_ends_with_its_reasons(name: str) -> None:
    """The last line, and only lines at the end, say which rule or document the answer rests on."""
    worked = lines(name, load(name).example.input)
    reasons = [line.startswith("because: ") for line in worked]
    assert reasons[-1]
    assert reasons == sorted(reasons)
    assert not reasons[0]
    assert all(line.isascii() and line == line.strip() for line in worked)


CHANGED: dict[str, dict[str, Any]] = {
    "uncertainty": {"confidence": 0.9},
    "size": {"instrument": {"error_limit": "5 um"}},
    "verdict": {"lower": "491 kPa"},
    "risk": {"upper": "2.1 um"},
    "fit": {"shaft": {"size": "2.0021 in"}},
    "fit-forecast": {"new": ["0.0021 in", "0.0040 in"]},
    "iso-fit": {"shaft": "f7"},
    "thermal-fit": {"at": ["20 degC", "101 degC"]},
    "pairing": {"cost": [[4, 1, 3], [2, 0, 5], [3, 2, 1]]},
}


@pytest.mark.parametrize("name", list(NAMES))
def test_another_input_has_another_working(name: str) -> None:
    """The lines follow the input: one changed field changes them, and the changed number stands in them."""
    before = load(name).example.input
    after = {**before, **CHANGED[name]}
    assert lines(name, before) != lines(name, after)
    [changed] = CHANGED[name].values()
    numbers = re.findall(r"\d+\.?\d*", str(changed))
    assert numbers[-1] in " ".join(lines(name, after))


def test_the_working_of_a_fit_is_this() -> None:
    """Clearance, doubt and guard of two measured parts, in the sums a mechanic would write."""
    worked = lines("fit", FIT)
    assert worked[:3] == [
        "1.40505 in - 1.3984 in = 0.00665 in, loose (L)",
        "u = sqrt(0.00006^2 + 0.00005^2) = 0.00007810 in",
        "guard = 1.645 x 0.00007810 = 0.00013 in, to be right with a probability of 0.95",
    ]
    assert "new, loosest: 0.0030 - 0.00665 = -0.00365 in, beyond by more than the guard: proven" in worked
    assert "service, loosest: 0.0090 - 0.00665 = 0.00235 in, inside by the guard or more: proven" in worked
    assert "grade: in service limits, proven" in worked
    u = math.sqrt(0.00006**2 + 0.00005**2)
    assert f"{u:.8f}" == "0.00007810"
    assert f"{1.6448536 * u:.5f}" == "0.00013"


def test_a_size_from_another_unit_is_first_converted() -> None:
    """A millimetre figure in an inch answer is written in inches before it is used."""
    worked = lines("fit", {**FIT, "hole": {"size": "35.7 mm"}, "units": "inch"})
    inches = Fraction("35.7") / Fraction("25.4")
    assert worked[0] == f"35.7 mm = {float(inches):.9g} in"
    assert f"{float(inches):.9g} in - 1.3984 in" in worked[1]


def test_the_working_of_a_size_takes_zero_and_warmth_off() -> None:
    """Zero, factor and mean are recomputed here from the readings alone, and stand in the lines."""
    worked = lines("size", SIZE)
    zero = (0.5001 + 0.5003) / 2 - 0.5
    warm = (75 - 32) / 1.8 - 20
    factor = (1 + 12e-6 * -2) / (1 + 11.5e-6 * warm)
    assert f"zero of the gauge = (0.5001 + 0.5003) / 2 - 0.5000 = {zero:.4f} in, to be taken off" in worked
    [line] = [line for line in worked if line.startswith("factor")]
    assert float(line.rpartition(" = ")[2]) == pytest.approx(factor, abs=1e-9)
    assert f"(1 + 12e-6 x (-2)) / (1 + 11.5e-6 x {warm:.8f})" in line
    [size] = [line for line in worked if line.startswith("size")]
    assert float(size.rpartition(" = ")[2].split()[0]) == pytest.approx((0.5094 - zero) * factor, abs=1e-6)


def test_a_negative_sensitivity_turns_the_sign_of_a_correlation() -> None:
    """Two doubts that go together cancel in part where one of them is subtracted."""
    line = "standard = sqrt(1.000^2 + 2.000^2 - 2 x 0.5 x 1.000 x 2.000) = 1.732 um"
    assert line in lines("uncertainty", DOUBTS)


def test_monte_carlo_shows_its_interval() -> None:
    """Drawn answers name trials, seed and the interval, whose half they answer with."""
    drawn = {**DOUBTS, "correlations": [], "method": "monte carlo", "trials": 10_000, "seed": 7}
    worked, answer = lines("uncertainty", drawn), load("uncertainty").run(drawn)
    assert any(line.startswith("10000 trials, seed 7: standard deviation ") for line in worked)
    low, high = (end["text"] for end in answer["interval"])
    assert f"half of its width = ({high} - ({low})) / 2 = {answer['half_width']['text']}" in worked


def test_no_limit_is_said_and_not_passed() -> None:
    """Without a limit the working says that nothing was compared."""
    bare = {name: FIT[name] for name in ("hole", "shaft", "rule")}
    assert "no limit given: nothing to hold the clearance against" in lines("fit", bare)
    unlimited = {"value": "1 in", "standard_uncertainty": "0.1 in", "rule": "plain"}
    assert any(line.startswith("no limit given") for line in lines("verdict", unlimited))


@settings(deadline=None, max_examples=60)
@given(
    clearance=st.integers(-40, 120),
    doubt=st.integers(1, 20),
    limits=st.tuples(st.integers(-30, 20), st.integers(21, 60), st.integers(61, 100)),
    rule=st.sampled_from(["plain", "guarded", "full U"]),
)
def test_the_sides_agree_with_the_grade(clearance: int, doubt: int, limits: tuple[int, int, int], rule: str) -> None:
    """What the lines say of each side leads to the grade that was answered."""

    def inches(tenths: int) -> str:
        return f"{Decimal(tenths).scaleb(-4):.4f} in"

    low, new, service = map(inches, limits)
    question = {
        "hole": {"size": inches(20_000 + clearance), "standard_uncertainty": inches(doubt)},
        "shaft": {"size": "2.0000 in"},
        "new": [low, new],
        "service": [None, service],
        "rule": rule,
    }
    answer, worked = load("fit").worked(question)
    good = ("inside", "on the limit") if rule == "plain" else ("inside by",)
    said = {
        name: [line.rpartition(" in, ")[2] for line in worked if line.startswith(f"{name}, ")]
        for name in ("new", "service")
    }
    in_new, in_service = (all(words.startswith(good) for words in said[name]) for name in ("new", "service"))
    out = all(any(words.startswith("beyond") for words in said[name]) for name in ("new", "service"))
    expected = "new" if in_new else "service" if in_service else "reject" if out else "undecided"
    assert len(said["new"]) == len(said["service"]) == 2
    assert answer["grade"] == expected


def test_numbers_are_written_as_they_are() -> None:
    """Whole numbers stay whole, an almost certain chance is not rounded to 1, and a fraction keeps its digits."""
    assert [number_text(one) for one in (3.0, 0.25, 1, 0.9999999, 1.0, 2.5e-9)] == [
        "3",
        "0.25",
        "1",
        "above 0.99999",
        "1",
        "2.5e-09",
    ]
    assert digits_of(Fraction(1, 8), 2) == "0.125"
    assert digits_of(Fraction(357, 254), 2) == "1.40551181"


def test_on_the_limit_is_within() -> None:
    """A margin of nought is inside, for the plain rule and for a guard of its own size."""
    assert standing(Fraction(0), 0.0).endswith("within")
    assert standing(Fraction(1), 1.0) == "inside by the guard or more: proven"
    assert standing(Fraction(-1), 1.0) == "nearer than the guard: not proven"
    assert standing(Fraction(-2), 1.0) == "beyond by more than the guard: proven"


def test_a_long_working_is_cut_and_says_so() -> None:
    """Of very many lines the first stand, and how many follow."""
    assert shortened(["a"] * 40) == ["a"] * 40
    assert shortened(["a"] * 45)[40:] == ["and 5 more in the same way"]
    many = {
        "holes": [f"10.{n:02} mm" for n in range(60)],
        "shafts": ["10 mm"] * 60,
        "target": "0 mm",
        "criterion": "sum",
    }
    worked = lines("pairing", many)
    assert "and 20 more in the same way" in worked
    assert "sum = the 60 of them = 17.70 mm" in worked
