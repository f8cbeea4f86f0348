"""US Army TM 5-4310-354-14, table 5-2, oil pump, through the calculators.

Read; ground equipment, public domain. New least and greatest of two part rows give the printed new clearance; the third
column of a clearance row is the largest clearance allowed.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import product

import pytest

from tenthbook.faces.calculators import load

ROWS = [
    pytest.param(("0.6255", "0.6265"), ("0.6240", "0.6245"), ("0.0010", "0.0025"), "0.0060", id="shaft in body"),
    pytest.param(("1.5005", "1.5015"), ("1.4975", "1.4985"), ("0.0020", "0.0040"), "0.0070", id="gear in body bore"),
]
Pair = tuple[str, str]


@pytest.mark.parametrize(("hole", "shaft", "printed", "largest"), ROWS)
def test_the_corners_of_two_rows_are_the_printed_clearance(
    hole: Pair, shaft: Pair, printed: Pair, largest: str
) -> None:
    """T2: tightest and loosest corner are the printed new clearance, and every corner is in new limits."""
    new, service = [f"{side} in" for side in printed], [None, f"{largest} in"]
    corners = [
        {
            "hole": {"size": f"{outer} in"},
            "shaft": {"size": f"{inner} in"},
            "new": new,
            "service": service,
            "rule": "plain",
        }
        for outer, inner in product(hole, shaft)
    ]
    answers = load("fit").run({"batch": corners})["batch"]
    clearances = sorted(answer["clearance"]["value"] for answer in answers)
    assert (clearances[0], clearances[-1]) == (Decimal(printed[0]), Decimal(printed[1]))
    assert {answer["grade"] for answer in answers} == {"new"}


@pytest.mark.parametrize(("hole", "shaft", "printed", "largest"), ROWS)
def test_the_third_column_is_the_largest_clearance(hole: Pair, shaft: Pair, printed: Pair, largest: str) -> None:
    """T2: a bore worn to the largest clearance is in service limits, a ten-thousandth more is not."""
    worn = Decimal(shaft[0]) + Decimal(largest)
    for more, grade in ((Decimal(0), "service"), (Decimal("0.0001"), "reject")):
        document = {
            "hole": {"size": f"{worn + more} in"},
            "shaft": {"size": f"{shaft[0]} in"},
            "new": [f"{side} in" for side in printed],
            "service": [None, f"{largest} in"],
            "rule": "plain",
        }
        assert load("fit").run(document)["grade"] == grade


def test_depth_and_length_give_an_end_clearance() -> None:
    """T2: body bore depth 1.5640 to 1.5650 and gear length 1.5610 to 1.5620 make 0.0020 to 0.0040."""
    documents = [
        {"hole": {"size": f"{depth} in"}, "shaft": {"size": f"{length} in"}, "rule": "plain"}
        for depth, length in (("1.5640", "1.5620"), ("1.5650", "1.5610"))
    ]
    answers = load("fit").run({"batch": documents})["batch"]
    assert [answer["clearance"]["text"] for answer in answers] == ["0.0020 in", "0.0040 in"]


# Through the calculator `fit-forecast`.


@pytest.mark.parametrize(
    ("hole", "shaft", "printed"),
    [
        pytest.param(("0.6255", "0.6265"), ("0.6240", "0.6245"), ("0.0010", "0.0025"), id="shaft in body"),
        pytest.param(("1.5005", "1.5015"), ("1.4975", "1.4985"), ("0.0020", "0.0040"), id="gear in body bore"),
        pytest.param(("1.5640", "1.5650"), ("1.5610", "1.5620"), ("0.0020", "0.0040"), id="gear length in depth"),
    ],
)
@pytest.mark.parametrize("distribution", ["uniform", "normal at 6 sigma"])
def test_two_rows_forecast_the_printed_clearance(hole: Pair, shaft: Pair, printed: Pair, distribution: str) -> None:
    """T2: least and greatest of two part rows forecast the printed new clearance exactly, however parts lie."""
    question = {
        "hole": {"band": [f"{end} in" for end in hole], "distribution": distribution},
        "shaft": {"band": [f"{end} in" for end in shaft], "distribution": distribution},
        "new": [f"{end} in" for end in printed],
    }
    answer = load("fit-forecast").run(question)
    assert [end["text"] for end in answer["clearance"]] == [f"{end} in" for end in printed]
    # Not cut off at 3 sigma, two parts leave their printed clearance in fewer than one case in 370.
    assert answer["odds"]["new"] == 1.0 if distribution == "uniform" else 1 - 1 / 370 < answer["odds"]["new"] < 1


def test_a_worn_body_with_a_new_shaft() -> None:
    """T2: a bore 0.0030 worn with a new shaft makes 0.0050 to 0.0055, within the third column's 0.0060 for certain."""
    question = {
        "hole": {"size": "0.6295 in"},
        "shaft": {"band": ["0.6240 in", "0.6245 in"]},
        "new": ["0.0010 in", "0.0025 in"],
        "service": [None, "0.0060 in"],
    }
    answer = load("fit-forecast").run(question)
    assert [end["text"] for end in answer["clearance"]] == ["0.0050 in", "0.0055 in"]
    assert answer["odds"] == {"new": 0.0, "service": 1.0, "reject": 0.0}
