"""Which unit a calculator answers in, what a difference of temperatures is, and what does not exist."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.faces.calculators import load

STEEL, ALUMINIUM = "11.5e-6 1/degC", "21.5e-6 1/degC"


def units_in(answer: Any) -> set[str]:
    """Every unit an answer uses."""
    if isinstance(answer, dict):
        own = {answer["unit"]} if set(answer) == {"value", "unit", "text"} else set()
        return own.union(*(units_in(item) for item in answer.values()))
    return set().union(*(units_in(item) for item in answer)) if isinstance(answer, list) else set()


def thermal(size: str) -> dict[str, Any]:
    """A warm fit of two parts of one size."""
    return {
        "hole": {"size": size, "expansion": ALUMINIUM},
        "shaft": {"size": size, "expansion": STEEL},
        "at": ["90 degC"],
    }


FAMILIES: list[tuple[str, dict[str, Any], tuple[str, str, str]]] = [
    (
        "uncertainty",
        {"inputs": [{"name": "a", "standard": "0.0002 in"}, {"name": "b", "standard": "1 um"}], "confidence": 0.95},
        ("in", "in", "mm"),
    ),
    ("uncertainty", {"inputs": [{"name": "a", "standard": "2 nm"}], "confidence": 0.95}, ("nm", "in", "mm")),
    ("uncertainty", {"inputs": [{"name": "a", "standard": "2 kPa"}], "confidence": 0.95}, ("kPa", "psi", "kPa")),
    ("size", {"readings": ["1.0001 in", "25.40 mm"]}, ("in", "in", "mm")),
    ("size", {"readings": ["25.40 mm", "1.0001 in"]}, ("mm", "in", "mm")),
    ("size", {"readings": ["100 thou", "101 thou"]}, ("thou", "in", "mm")),
    (
        "verdict",
        {"value": "30 psi", "standard_uncertainty": "1 psi", "upper": "35 psi", "rule": "guarded"},
        ("psi", "psi", "kPa"),
    ),
    (
        "verdict",
        {"value": "250 kPa", "standard_uncertainty": "1 psi", "upper": "35 psi", "rule": "guarded"},
        ("kPa", "psi", "kPa"),
    ),
    (
        "verdict",
        {"value": "200 degF", "standard_uncertainty": "1 degF", "upper": "210 degF", "rule": "guarded"},
        ("degF", "degF", "degC"),
    ),
    (
        "verdict",
        {"value": "20 lbf.ft", "standard_uncertainty": "1 N.m", "upper": "30 lbf.ft", "rule": "full U"},
        ("lbf.in", "lbf.in", "N.m"),
    ),
    (
        "verdict",
        {"value": "12 um", "standard_uncertainty": "1 um", "upper": "15 um", "rule": "guarded"},
        ("um", "in", "mm"),
    ),
    (
        "risk",
        {
            "process": {"mean": "1 in", "standard_deviation": "1 thou"},
            "standard_uncertainty": "1 thou",
            "upper": "1.002 in",
        },
        ("in", "in", "mm"),
    ),
    (
        "risk",
        {"process": {"mean": "10 mm", "standard_deviation": "1 um"}, "standard_uncertainty": "1 um", "upper": "10 mm"},
        ("mm", "in", "mm"),
    ),
    (
        "fit",
        {
            "hole": {"size": "1 in", "standard_uncertainty": "1 um"},
            "shaft": {"size": "25 mm"},
            "new": ["0 mm", "1 mm"],
            "rule": "plain",
        },
        ("in", "in", "mm"),
    ),
    (
        "fit",
        {
            "hole": {"size": "25.1 mm"},
            "shaft": {"size": "25 mm"},
            "service": ["0T", "0.1L"],
            "unit": "in",
            "rule": "plain",
        },
        ("mm", "in", "mm"),
    ),
    ("fit-forecast", {"hole": {"band": ["1 in", "1.1 in"]}, "shaft": {"size": "25 mm"}}, ("in", "in", "mm")),
    ("fit-forecast", {"hole": {"size": "26 mm"}, "shaft": {"size": "1 in"}}, ("mm", "in", "mm")),
    ("thermal-fit", thermal("2 in"), ("in", "in", "mm")),
    ("thermal-fit", thermal("5 cm"), ("mm", "in", "mm")),
    ("pairing", {"holes": ["1 in"], "shafts": ["25 mm"], "target": "1 um", "criterion": "sum"}, ("in", "in", "mm")),
    ("pairing", {"masses": ["612 g", "1 lb"]}, ("g", "lb", "g")),
    ("pairing", {"masses": ["16 oz", "450 g"]}, ("lb", "lb", "g")),
    ("iso-fit", {"size": "1 in", "hole": "H7", "shaft": "g6"}, ("um", "um", "um")),
]
"""Calculator, question, and the only unit in its answer: as asked, with units inch, with units metric."""


@pytest.mark.parametrize(("name", "question", "units"), FAMILIES)
def test_the_answer_is_in_the_family_of_the_question(
    name: str, question: dict[str, Any], units: tuple[str, str, str]
) -> None:
    """An answer keeps the family of the first quantity, and `units` forces one."""
    asked = [question, {**question, "units": "inch"}, {**question, "units": "metric"}]
    assert [units_in(load(name).run(one)) for one in asked] == [{unit} for unit in units]


def test_an_uncertainty_of_a_temperature_is_a_difference() -> None:
    """9 degF of doubt are 5 degC of doubt: the 32 degrees belong to temperatures only."""
    doubt = [{"name": "a", "standard": "9 degF"}]
    added = load("uncertainty").run({"inputs": [*doubt, {"name": "b", "standard": "5 degC"}], "confidence": 0.95})
    assert added["standard"]["value"] == pytest.approx(9 * 2**0.5, rel=1e-12)
    question = {"value": "212 degF", "standard_uncertainty": "9 degF", "upper": "110 degC", "rule": "full U"}
    judged = load("verdict").run({**question, "units": "metric"})
    assert judged["guard"]["value"] == pytest.approx(10.0, rel=1e-12)
    assert judged["standard_uncertainty_needed"]["value"] == pytest.approx(5.0, rel=1e-12)
    assert judged["verdict"] == "within"
    warm = {
        "process": {"mean": "212 degF", "standard_deviation": "9 degF"},
        "standard_uncertainty": "1 degC",
        "upper": "230 degF",
    }
    cool = {
        "process": {"mean": "100 degC", "standard_deviation": "5 degC"},
        "standard_uncertainty": "1.8 degF",
        "upper": "110 degC",
    }
    for field in ("nonconforming", "consumer_risk", "producer_risk"):
        assert load("risk").run(warm)[field] == pytest.approx(load("risk").run(cool)[field], rel=1e-9)


def test_what_does_not_exist_is_null() -> None:
    """Infinite degrees of freedom, a chance without a limit and a letter at nought are null, never 0."""
    sure = load("uncertainty").run({"inputs": [{"name": "a", "standard": "1 mm"}], "confidence": 0.95})
    assert (sure["effective_degrees_of_freedom"], sure["degrees_of_freedom_used"], sure["interval"]) == (
        None,
        None,
        None,
    )
    free = load("verdict").run({"value": 3, "standard_uncertainty": 0.5, "rule": "guarded"})
    assert (free["verdict"], free["plain"], free["probability_within"]) == ("no limit", "no limit", None)
    assert free["standard_uncertainty_needed"] is None
    on_it = load("verdict").run({"value": 3, "standard_uncertainty": 0.5, "upper": 3, "rule": "guarded"})
    assert (on_it["plain"], on_it["verdict"], on_it["standard_uncertainty_needed"]) == ("within", "undecided", None)
    bare = load("fit").run({"hole": {"size": "1.00 in"}, "shaft": {"size": "1.00 in"}, "rule": "plain"})
    assert [bare[field] for field in ("letter", "standard_uncertainty", "probability_new", "probability_service")] == [
        None
    ] * 4
    assert bare["limits"] == {"new": None, "service": None}
    rest = load("fit-forecast").run({"hole": {"size": "1.00 in"}, "shaft": {"size": "1.00 in"}})
    assert rest["odds"] == {"new": None, "service": None, "reject": None}


@pytest.mark.parametrize(
    ("name", "question"),
    [
        ("verdict", {"value": 3, "standard_uncertainty": 0.5, "upper": 4, "rule": "guarded"}),
        ("risk", {"process": {"mean": 0, "standard_deviation": 4}, "standard_uncertainty": 1, "upper": 8}),
        ("uncertainty", {"inputs": [{"name": "n", "half_width": 0.5, "shape": "triangular"}], "confidence": 0.5}),
        ("pairing", {"masses": [3, 4.5]}),
    ],
)
def test_plain_numbers_are_answered_by_plain_numbers(name: str, question: dict[str, Any]) -> None:
    """Without a unit in the question there is none in the answer."""
    assert units_in(load(name).run(question)) == set()
