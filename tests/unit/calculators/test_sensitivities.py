"""What an input and its sensitivity make together, and what counts for nothing."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.faces.calculators import load
from tenthbook.faces.calculators.products import find_product, times
from tenthbook.numbers.quantity import UnknownUnit, find_unit

ROOT_3 = 3**0.5


def standard(*inputs: dict[str, Any], **more: Any) -> dict[str, Any]:
    """The answer for inputs named in order."""
    named = [{"name": f"x{place}", **one} for place, one in enumerate(inputs, 1)]
    answer: dict[str, Any] = load("uncertainty").run({"inputs": named, "confidence": 0.95, **more})
    return answer


@pytest.mark.parametrize(
    ("half_width", "sensitivity"),
    [
        (1e-6, "5000062.3 nm"),
        (1e-6, "5.0000623 mm"),
        ("1e-6 um/um", "5000062.3 nm"),
        ("1 um/m", "5000062.3 nm"),
        ("1e-6 1/degC", "5000062.3 nm.degC"),
        ("1e-6 1/degC", "5000062.3 nm/(1/degC)"),
        ("1e-6 1/degC", "5.0000623 degC.mm"),
        ("1e-6 1/degF", "9000112.14 nm.degF"),
        ("0.05 degC", "100.001246 nm/degC"),
    ],
)
def test_a_product_has_the_kind_of_the_answer(half_width: Any, sensitivity: str) -> None:
    """The same 5.0000623 nm, whichever of the two factors carries the unit."""
    question = {"half_width": half_width, "shape": "rectangular", "sensitivity": sensitivity}
    answer = standard({"standard": "25 nm"}, question)
    scale = 5.0000623 if "degF" not in str(half_width) else 9.00011214
    (part,) = answer["budget"][1:]
    assert part["contribution"]["unit"] == "nm"
    assert part["contribution"]["value"] == pytest.approx(scale / ROOT_3, rel=1e-12)


@pytest.mark.parametrize(
    ("left", "right", "product"),
    [
        ("1/degC", "nm.degC", "nm"),
        ("degC", "nm/degC", "nm"),
        ("um", "1/um", "1"),
        ("um/um", "mm", "mm"),
        ("N", "mm", "N.m"),
        ("lbf", "in", "lbf.in"),
        ("in", "lbf/in", "lbf"),
        ("rpm", "psi/rpm", "psi"),
        ("degC", "um", None),
        ("um/um", "nm.degC", None),
    ],
)
def test_the_unit_of_a_product(left: str, right: str, product: str | None) -> None:
    """What measures the same above and below the line cancels; a product without a name here has no unit."""
    found = times(find_product(left), find_product(right))
    assert (None if found is None else found.name) == product


@pytest.mark.parametrize("name", ["1", "mm/1", "1.mm", "((mm))", "mm.", ".mm", "mm/", "(mm", "mm)", "mm.furlong", ""])
def test_what_is_no_unit_is_refused(name: str) -> None:
    """A product of something unknown, a loose sign or a bracket too many is no unit."""
    with pytest.raises(UnknownUnit):
        find_product(name)


def test_a_quotient_of_a_quotient_is_a_product() -> None:
    """Over one over a degree is times a degree, and what the bench knows by name keeps its own factor."""
    assert find_product("nm/(1/degC)").factor == find_product("nm.degC").factor == find_unit("nm").factor
    assert find_product("nm/(1/degC)").dimension == find_product("degC.nm").dimension == (1, 0, 0, 1, 0)
    assert find_product("lbf.in") == find_unit("lbf.in")


def test_a_sensitivity_of_nought_takes_an_input_out() -> None:
    """A plain nought counts for nothing, whatever the input measures and wherever it stands."""
    alone = standard({"standard": "2 um"}, {"standard": "3 um"})
    for place in range(3):
        inputs: list[dict[str, Any]] = [{"standard": "2 um"}, {"standard": "3 um"}]
        inputs.insert(place, {"standard": "7 degC", "sensitivity": 0, "degrees_of_freedom": 1})
        answer = standard(*inputs)
        assert answer["standard"] == alone["standard"]
        assert answer["effective_degrees_of_freedom"] is None
        assert answer["budget"][place]["contribution"] == {"value": 0.0, "unit": "um", "text": "0 um"}
        assert answer["budget"][place]["share"] == 0.0
    drawn = standard(*inputs, method="monte carlo", trials=10_000)
    assert "warnings" not in drawn


def test_a_first_input_without_weight_still_gives_the_unit() -> None:
    """The answer is in the first input's unit, also where it counts for nothing and measures the same as the rest."""
    answer = standard({"standard": "2 thou", "sensitivity": 0}, {"standard": "3 um"})
    assert answer["standard"]["unit"] == "thou"


@pytest.mark.parametrize("nought", ["0 nm", "0 in", "-0.0 mm"])
@pytest.mark.parametrize("stated", ["standard", "half_width", "expanded"])
def test_an_uncertainty_of_nought_adds_nothing(nought: str, stated: str) -> None:
    """A doubt stated as nought, in whatever way, leaves the others as they are."""
    ways: dict[str, dict[str, Any]] = {
        "standard": {},
        "half_width": {"shape": "arcsine"},
        "expanded": {"coverage_factor": 2},
    }
    answer = standard(
        {"standard": "2 um", "degrees_of_freedom": 4}, {stated: nought, **ways[stated], "degrees_of_freedom": 1}
    )
    assert answer["standard"]["value"] == pytest.approx(2.0, rel=1e-12)
    assert answer["degrees_of_freedom_used"] == 4


@pytest.mark.parametrize("method", ["framework", "monte carlo"])
def test_nothing_but_noughts_is_nought(method: str) -> None:
    """Where no input has a doubt there is none, by budget and by trials."""
    answer = standard(
        {"standard": "0 nm", "degrees_of_freedom": 1}, {"half_width": "0 nm", "shape": "rectangular"}, method=method
    )
    assert answer["standard"]["value"] == 0.0
    ends = [answer["expanded"]] if method == "framework" else [*answer["interval"], answer["half_width"]]
    assert [end["value"] for end in ends] == [0.0] * len(ends)
    assert [line["share"] for line in answer["budget"]] == [0.0, 0.0]
    assert "warnings" not in answer


def test_degrees_of_freedom_used_are_a_whole_number() -> None:
    """The end gauge uses 16 degrees of freedom, and 16 is printed."""
    used = load("uncertainty").shown_example()["output"]["degrees_of_freedom_used"]
    assert (type(used), used) == (int, 16)
    assert (
        load("uncertainty").schema()["output"]["properties"]["degrees_of_freedom_used"]["anyOf"][0]["type"] == "integer"
    )


def test_correlated_inputs_say_what_was_done() -> None:
    """Shares sum to 1, also where one is below nought; correlated inputs count as one, and that is said."""
    inputs = [{"standard": "2 um", "degrees_of_freedom": 5}, {"standard": "1 um", "degrees_of_freedom": 9}]
    question = {"inputs": [{"name": f"x{n}", **one} for n, one in enumerate(inputs, 1)], "confidence": 0.95}
    answer, lines = load("uncertainty").worked({**question, "correlations": [["x1", "x2", -0.9]]})
    assert sum(line["share"] for line in answer["budget"]) == pytest.approx(1.0, rel=1e-12)
    assert answer["budget"][1]["share"] == pytest.approx((1.0 - 1.8) / 1.4, rel=1e-12)
    assert answer["degrees_of_freedom_used"] == 5
    assert [one["code"] for one in answer["warnings"]] == ["correlated-degrees-of-freedom"]
    assert any("the least degrees of freedom among them" in line for line in lines)
    assert any("half of what its correlations add or take away" in line for line in lines)
