"""How many digits an answer's text has where the figures were typed in another unit than the answer's."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from tenthbook.faces.calculators import load
from tenthbook.faces.calculators.quantities import decimals_in
from tenthbook.numbers.quantity import find_unit, quantity

GROWING = {"expansion": "21.5e-6 1/degC"}
COLD = {"expansion": "11.5e-6 1/degC"}


def at(answer: Any, *path: Any) -> str:
    """The text at a place in an answer."""
    for step in path:
        answer = answer[step]
    return str(answer["text"])


@pytest.mark.parametrize(
    ("unit", "typed", "decimals"),
    [
        ("in", ["0.001 mm"], 4),
        ("in", ["0.01 mm"], 3),
        ("in", ["50914 um"], 4),
        ("in", ["1.25 in", "31.750 mm"], 4),
        ("in", ["1.24975 in", "31.750 mm"], 5),
        ("in", ["100.0 thou"], 4),
        ("mm", ["1.2497 in"], 3),
        ("mm", ["1.249 in"], 2),
        ("um", ["1.2497 in"], 0),
        ("lb", ["612 g"], 3),
        ("mm", ["2 m"], 0),
        ("mm", [], 0),
    ],
)
def test_a_step_keeps_its_size(unit: str, typed: list[str], decimals: int) -> None:
    """A figure in another unit counts with the decimals nearest to its own step."""
    assert decimals_in(find_unit(unit), map(quantity, typed)) == decimals


@pytest.mark.parametrize(
    ("name", "question", "path", "text"),
    [
        (
            "fit",
            {"hole": {"size": "50.914 mm"}, "shaft": {"size": "50.851 mm"}, "rule": "plain", "units": "inch"},
            ("clearance",),
            "0.002480 in",
        ),
        (
            "fit",
            {
                "hole": {"size": "2.0045 in"},
                "shaft": {"size": "2.0020 in"},
                "new": ["10 um", "100 um"],
                "rule": "plain",
            },
            ("limits", "new", 0),
            "0.000394 in",
        ),
        ("size", {"readings": ["31.751 mm"], "units": "inch"}, ("size",), "1.250039 in"),
        ("size", {"readings": ["31.750 mm"], "units": "inch"}, ("size",), "1.2500 in"),
        ("size", {"readings": ["1.2497 in"], "units": "metric"}, ("size",), "31.74238 mm"),
        (
            "fit-forecast",
            {"hole": {"band": ["28.552 mm", "28.648 mm"]}, "shaft": {"size": "28.499 mm"}, "units": "inch"},
            ("clearance", 0),
            "0.002087 in",
        ),
        (
            "thermal-fit",
            {
                "hole": {"size": "40.025 mm", **GROWING},
                "shaft": {"size": "39.991 mm", **COLD},
                "at": ["20 degC"],
                "units": "inch",
            },
            ("clearance", 0),
            "0.001339 in",
        ),
        (
            "pairing",
            {
                "holes": ["50.055 mm"],
                "shafts": ["50.00 mm"],
                "target": "50 um",
                "criterion": "worst",
                "units": "inch",
            },
            ("worst",),
            "0.000197 in",
        ),
        ("pairing", {"masses": ["612 g", "605 g"], "units": "inch"}, ("worst",), "0.01543 lb"),
    ],
)
def test_no_digit_of_the_input_is_lost(name: str, question: dict[str, Any], path: tuple[Any, ...], text: str) -> None:
    """An answer in a unit in which nothing was typed shows what the typed figures resolve."""
    assert at(load(name).run(question), *path) == text


def test_the_value_is_not_rounded() -> None:
    """Only the text has so many decimals."""
    sizes = {"hole": {"size": "50.914 mm"}, "shaft": {"size": "50.851 mm"}}
    answer = load("fit").run({**sizes, "rule": "plain", "units": "inch"})
    assert answer["clearance"]["value"] == float(Fraction("0.063") / Fraction("25.4"))
