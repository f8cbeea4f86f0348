"""The calculator `fit` against a second, plain reckoning, and its laws."""

from __future__ import annotations

import json
import math
from decimal import Context, Decimal
from statistics import NormalDist
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import load
from tenthbook.faces.calculators.answers import to_json

FIT = load("fit")
STEP = Decimal("0.0001")
ORDER = ["new", "service", "no limit", "undecided", "reject"]
PROBABILITY_DIGITS = 1e-9  # both sides are double precision; tails are subtracted from one
Side = Decimal | None
Pair = tuple[Side, Side]


def inches(steps: int) -> Decimal:
    """A length in inches from ten-thousandths."""
    return steps * STEP


def written(side: Side, letters: bool) -> str | None:
    """A limit as a table prints it."""
    if side is None:
        return None
    if not letters:
        return f"{side} in"
    return f"{abs(side)}" + ("T" if side < 0 else "L" if side > 0 else "")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    """A fit question in inches, of every form the calculator takes."""
    shaft = draw(st.integers(5000, 6000))
    hole = shaft + draw(st.integers(-40, 120))
    letters = draw(st.booleans())
    pairs: dict[str, list[str | None] | None] = {}
    middle = draw(st.integers(-20, 60))
    for name, spread in (("new", 20), ("service", 40)):
        tight = draw(st.none() | st.integers(0, spread).map(lambda down: inches(middle - down)))
        loose = draw(st.none() | st.integers(0, spread).map(lambda up: inches(middle + up)))
        pairs[name] = draw(st.just([written(tight, letters), written(loose, letters)]) | st.none())
    doubts = [draw(st.none() | st.integers(1, 30)) for _ in range(2)]
    question: dict[str, Any] = {
        "hole": {"size": f"{inches(hole)} in"},
        "shaft": {"size": f"{inches(shaft)} in"},
        **pairs,
        "rule": draw(st.sampled_from(["plain", "guarded", "full U"])) if doubts != [None, None] else "plain",
        "conformance": draw(st.sampled_from([0.5, 0.9, 0.95, 0.99])),
    }
    if letters:
        question["unit"] = "in"
    for part, doubt in zip(("hole", "shaft"), doubts, strict=True):
        if doubt is not None:
            question[part]["standard_uncertainty"] = f"{doubt * STEP / 10} in"
    if None not in doubts and draw(st.booleans()):
        question["common"] = f"{min(doubt for doubt in doubts if doubt) * STEP / 20} in"
    return question


def number(text: str | None) -> Side:
    """A limit or a size in inches, signed."""
    if text is None:
        return None
    if text[-1] in "TL":
        return Decimal(text[:-1]) * (-1 if text[-1] == "T" else 1)
    return Decimal(text.split()[0])


def pair_of(question: dict[str, Any], name: str) -> Pair:
    """A pair of limits in inches."""
    tight, loose = question.get(name) or (None, None)
    return number(tight), number(loose)


def within(value: Decimal, pair: Pair, guard: Decimal) -> bool:
    """Whether a value keeps the guard's distance inside a pair that is given."""
    tight, loose = pair
    if pair == (None, None):
        return False
    return (tight is None or value - tight >= guard) and (loose is None or loose - value >= guard)


def outside(value: Decimal, pair: Pair, guard: Decimal) -> bool:
    """Whether a value lies more than the guard outside a pair."""
    tight, loose = pair
    return (tight is not None and tight - value > guard) or (loose is not None and value - loose > guard)


def grade(value: Decimal, new: Pair, service: Pair, guard: Decimal) -> str:
    """The rule of the grades in plain words: the best band proven, reject if proven, else undecided or no limit."""
    no_new, no_service = new == (None, None), service == (None, None)
    if within(value, new, guard):
        return "new"
    if within(value, service, guard):
        return "service"
    if no_service:
        return "no limit" if no_new or outside(value, new, guard) else "undecided"
    return "reject" if outside(value, service, guard) and (no_new or outside(value, new, guard)) else "undecided"


def chance(value: Decimal, pair: Pair, doubt: float | None) -> float | None:
    """How likely the true clearance lies in a pair that is given."""
    if doubt is None or pair == (None, None):
        return None
    tight, loose = pair
    if doubt == 0.0:
        return 1.0 if within(value, pair, Decimal(0)) else 0.0
    normal = NormalDist(float(value), doubt)
    return (1.0 if loose is None else normal.cdf(float(loose))) - (0.0 if tight is None else normal.cdf(float(tight)))


def second_reckoning(question: dict[str, Any]) -> dict[str, Any]:
    """The same answer, reckoned plainly in decimal numbers."""
    sizes = [Decimal(question[part]["size"].split()[0]) for part in ("hole", "shaft")]
    value = sizes[0] - sizes[1]
    new, service = pair_of(question, "new"), pair_of(question, "service")
    if service != (None, None):
        service = tuple(one if one is not None else other for one, other in zip(service, new, strict=True))  # type: ignore[assignment]  # a pair again
    stated = [question[part].get("standard_uncertainty") for part in ("hole", "shaft")]
    doubts = [Decimal(text.split()[0]) if text else Decimal(0) for text in stated]
    common = Decimal(question["common"].split()[0]) if "common" in question else Decimal(0)
    variance = doubts[0] ** 2 + doubts[1] ** 2 - 2 * common**2
    exact = variance.sqrt(Context(prec=60))  # on the guard is within: a binary root lies beside it
    doubt = float(exact) if stated != [None, None] else None
    factor = {"plain": 0.0, "full U": 2.0}.get(question["rule"], NormalDist().inv_cdf(question["conformance"]))
    return {
        "clearance": value,
        "letter": "L" if value > 0 else "T" if value < 0 else None,
        "standard_uncertainty": doubt,
        "plain_grade": grade(value, new, service, Decimal(0)),
        "grade": grade(value, new, service, Decimal(factor) * exact),
        "probability_new": chance(value, new, doubt),
        "probability_service": chance(value, service, doubt),
        "limits": {"new": new, "service": service},
    }


@given(questions())
@settings(deadline=None, max_examples=400)
def test_a_second_reckoning_gives_the_same_answer(question: dict[str, Any]) -> None:
    """Clearance, letter, limits, grades, doubt and chances agree with plain decimal arithmetic."""
    answer, plain = FIT.run(question), second_reckoning(question)
    assert answer["clearance"]["value"] == plain["clearance"]
    assert answer["clearance"]["text"] == f"{plain['clearance']:.4f} in"
    assert (answer["letter"], answer["plain_grade"], answer["grade"]) == (
        plain["letter"],
        plain["plain_grade"],
        plain["grade"],
    )
    if plain["standard_uncertainty"] is None:
        assert answer["standard_uncertainty"] is None
    else:
        assert answer["standard_uncertainty"]["value"] == pytest.approx(plain["standard_uncertainty"], rel=1e-9)
    for name in ("probability_new", "probability_service"):
        assert answer[name] == (None if plain[name] is None else pytest.approx(plain[name], abs=PROBABILITY_DIGITS))
    for name, pair in plain["limits"].items():
        shown = answer["limits"][name]
        assert (
            (None, None) if shown is None else tuple(None if side is None else side["value"] for side in shown) == pair
        )


@given(st.lists(questions(), min_size=2, max_size=6))
@settings(deadline=None, max_examples=60)
def test_a_batch_is_its_singles(many: list[dict[str, Any]]) -> None:
    """Computed together or one by one, every answer is the same."""
    assert FIT.run({"batch": many})["batch"] == [FIT.run(question) for question in many]


@given(questions())
@settings(deadline=None, max_examples=100)
def test_question_and_answer_fit_their_schemas(question: dict[str, Any]) -> None:
    """Whatever is asked and answered is valid by the forms that are published."""
    schema = FIT.schema()
    jsonschema.Draft202012Validator(schema["input"]).validate(question)
    jsonschema.Draft202012Validator(schema["output"]).validate(json.loads(to_json(FIT.run(question))))


def mirrored(question: dict[str, Any]) -> dict[str, Any]:
    """Hole and shaft changed over, tight for loose."""
    turned = {**question, "hole": question["shaft"], "shaft": question["hole"], "unit": "in"}
    for name in ("new", "service"):
        tight, loose = pair_of(question, name)
        turned[name] = [written(None if side is None else -side, letters=True) for side in (loose, tight)]
    return turned


@given(questions())
@settings(deadline=None, max_examples=100)
def test_hole_and_shaft_changed_over_is_the_same_fit_mirrored(question: dict[str, Any]) -> None:
    """A sign flip of bore and shaft with their limits gives the same grades and the other letter."""
    straight, turned = FIT.run(question), FIT.run(mirrored(question))
    assert turned["letter"] == {"L": "T", "T": "L", None: None}[straight["letter"]]
    for name in ("plain_grade", "grade"):
        assert turned[name] == straight[name]
    for name in ("probability_new", "probability_service"):
        assert turned[name] == (
            None if straight[name] is None else pytest.approx(straight[name], abs=PROBABILITY_DIGITS)
        )


def in_millimetres(value: Any) -> Any:
    """The same question with every length typed in millimetres."""
    if isinstance(value, dict):
        return {name: in_millimetres(item) for name, item in value.items()}
    if isinstance(value, list):
        return [in_millimetres(item) for item in value]
    if isinstance(value, str) and value.endswith(" in"):
        return f"{Decimal(value.split()[0]) * Decimal('25.4'):f} mm"
    return value


@given(questions().filter(lambda question: "unit" not in question))
@settings(deadline=None, max_examples=100)
def test_inch_and_millimetre_agree(question: dict[str, Any]) -> None:
    """The same parts measured in millimetres get the same grades and, asked for inches, the same clearance."""
    inch, metric = FIT.run(question), FIT.run(in_millimetres({**question, "units": "inch"}))
    assert metric["clearance"]["value"] == inch["clearance"]["value"]
    for name in ("letter", "plain_grade", "grade"):
        assert metric[name] == inch[name]


@given(questions().filter(lambda question: "standard_uncertainty" in question["hole"]), st.integers(1, 100))
@settings(deadline=None, max_examples=100)
def test_more_doubt_never_proves_what_was_undecided(question: dict[str, Any], more: int) -> None:
    """A worse gauge turns a proof into undecided, or new into service, and nothing else."""
    doubt = Decimal(question["hole"]["standard_uncertainty"].split()[0])
    worse = {**question, "hole": {**question["hole"], "standard_uncertainty": f"{doubt + more * STEP / 10} in"}}
    before, after = FIT.run(question)["grade"], FIT.run(worse)["grade"]
    assert after in (before, "undecided") or (before, after) == ("new", "service")
    assert FIT.run(worse)["plain_grade"] == FIT.run(question)["plain_grade"]


@given(
    questions().filter(lambda question: question["service"] is not None and question["service"][1] is not None),
    st.integers(1, 200),
)
@settings(deadline=None, max_examples=100)
def test_a_wider_limit_never_turns_within_into_beyond(question: dict[str, Any], wider: int) -> None:
    """Moving the loosest service limit outwards worsens no grade."""
    tight, loose = pair_of(question, "service")
    assert loose is not None
    moved = [written(tight, "unit" in question), written(loose + wider * STEP, "unit" in question)]
    narrow, wide = FIT.run(question), FIT.run({**question, "service": moved})
    assert ORDER.index(wide["plain_grade"]) <= ORDER.index(narrow["plain_grade"])
    assert ORDER.index(wide["grade"]) <= max(ORDER.index(narrow["grade"]), ORDER.index("undecided"))


@pytest.mark.parametrize(("shaft", "grade"), [("1e9 m", "new"), ("1 m", "new")])
def test_a_blank_side_is_beyond_every_length(shaft: str, grade: str) -> None:
    """However tight a fit, a blank tightest limit rejects nothing."""
    document = {"hole": {"size": "1 in"}, "shaft": {"size": shaft}, "new": [None, "0.0037 in"], "rule": "plain"}
    assert FIT.run(document)["grade"] == grade


def test_a_doubt_on_one_part_alone_counts() -> None:
    """A size without a doubt counts as exact beside one that has one."""
    document = {
        "hole": {"size": "1.0020 in", "standard_uncertainty": "0.0001 in"},
        "shaft": {"size": "1.0000 in"},
        "service": [None, "0.0021 in"],
        "rule": "full U",
    }
    assert FIT.run(document)["standard_uncertainty"] == {
        "value": pytest.approx(0.0001),
        "unit": "in",
        "text": "0.00010 in",
    }
    assert FIT.run(document)["grade"] == "undecided"


def test_what_one_instrument_adds_to_both_cancels() -> None:
    """Twice the square of the common part comes off the sum of the two squares."""
    document = {
        "hole": {"size": "1.0020 in", "standard_uncertainty": "0.0005 in"},
        "shaft": {"size": "1.0000 in", "standard_uncertainty": "0.0005 in"},
        "common": "0.0004 in",
        "service": [None, "0.0030 in"],
        "rule": "guarded",
    }
    assert FIT.run(document)["standard_uncertainty"]["value"] == pytest.approx(
        math.sqrt(2 * 25 - 2 * 16) * 1e-4, rel=1e-12
    )
