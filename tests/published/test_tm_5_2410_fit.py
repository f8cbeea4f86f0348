"""US Army TM 5-2410-237-23, work package 0245, engine oil pump, inspection steps 5 to 7, through the calculators.

Read; ground equipment, public domain. The clearances at the four corners of two printed sizes are asked of the
calculator: the tightest and the loosest are the printed ones, to the last digit, in the printed inch.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import product

import pytest

from tenthbook.faces.calculators import load

ROWS = [
    pytest.param("1.1260 0.0019", "1.1225 0.0005", "0.0011", "0.0059", id="idler gear bearing on idler gear shaft"),
    pytest.param("0.8763 0.0003", "0.8747 0.0002", "0.0011", "0.0021", id="bearings on drive shaft"),
    pytest.param("1.5038 0.0008", "1.4988 0.0010", "0.0032", "0.0068", id="gear ends to pump body"),
]


def ends(printed: str) -> tuple[Decimal, Decimal]:
    """Least and greatest of a size printed with its tolerance."""
    nominal, tolerance = (Decimal(text) for text in printed.split())
    return nominal - tolerance, nominal + tolerance


@pytest.mark.parametrize(("outside", "inside", "least", "greatest"), ROWS)
def test_the_corners_of_two_sizes_are_the_printed_clearance(
    outside: str, inside: str, least: str, greatest: str
) -> None:
    """T1: one of the four corners is the printed least, one the printed greatest, and all are in new limits."""
    corners = [
        {
            "hole": {"size": f"{hole} in"},
            "shaft": {"size": f"{shaft} in"},
            "new": [f"{least} in", f"{greatest} in"],
            "rule": "plain",
        }
        for hole, shaft in product(ends(outside), ends(inside))
    ]
    answers = load("fit").run({"batch": corners})["batch"]
    assert sorted(answer["clearance"]["value"] for answer in answers)[:: len(answers) - 1] == [
        Decimal(least),
        Decimal(greatest),
    ]
    assert sorted(answer["clearance"]["text"] for answer in answers)[:: len(answers) - 1] == [
        f"{least} in",
        f"{greatest} in",
    ]
    assert {answer["grade"] for answer in answers} == {"new"}


@pytest.mark.parametrize(("outside", "inside", "least", "greatest"), ROWS)
def test_a_tenth_beyond_a_corner_is_out_of_new_limits(outside: str, inside: str, least: str, greatest: str) -> None:
    """T1: a bore a ten-thousandth too large, or too small, leaves the printed limits; no service limit is printed."""
    (small, large), (thin, thick) = ends(outside), ends(inside)
    tenth = Decimal("0.0001")
    for hole, shaft in ((large + tenth, thin), (small - tenth, thick)):
        document = {
            "hole": {"size": f"{hole} in"},
            "shaft": {"size": f"{shaft} in"},
            "new": [f"{least} in", f"{greatest} in"],
            "rule": "plain",
        }
        assert load("fit").run(document)["grade"] == "no limit"


# Through the calculator `fit-forecast`.


@pytest.mark.parametrize(("outside", "inside", "least", "greatest"), ROWS)
def test_two_printed_bands_make_the_printed_clearance(outside: str, inside: str, least: str, greatest: str) -> None:
    """T1: bands of two printed sizes forecast the printed clearance exactly, and new parts fit as new for certain."""
    bands = [[f"{end} in" for end in ends(printed)] for printed in (outside, inside)]
    question = {"hole": {"band": bands[0]}, "shaft": {"band": bands[1]}, "new": [f"{least} in", f"{greatest} in"]}
    answer = load("fit-forecast").run(question)
    assert [end["value"] for end in answer["clearance"]] == [Decimal(least), Decimal(greatest)]
    assert [end["text"] for end in answer["clearance"]] == [f"{least} in", f"{greatest} in"]
    assert answer["odds"] == {"new": 1.0, "service": None, "reject": None}


def test_printed_millimetres_forecast_one_last_digit_off() -> None:
    """T1: the page prints 0.028 to 0.150 mm beside sizes that make 0.027 to 0.149: one last printed digit off."""
    question = {"hole": {"band": ["28.552 mm", "28.648 mm"]}, "shaft": {"band": ["28.499 mm", "28.525 mm"]}}
    found = [end["value"] for end in load("fit-forecast").run(question)["clearance"]]
    assert found == [Decimal("0.027"), Decimal("0.149")]
