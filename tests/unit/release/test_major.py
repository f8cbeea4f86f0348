"""Is this a major repair?"""

from __future__ import annotations

import dataclasses
import itertools
from typing import Any

import pytest

from tenthbook.record.release import RepairAsked, major_repair
from tenthbook.record.release.major import Gearing, YesNo
from tests.filled_in import PLAIN_ENGINE

SAID: tuple[tuple[Any, ...], ...] = (
    ("yes", "no", ""),
    ("yes", "no", ""),
    ("none", "spur", "other", ""),
    ("yes", "no", ""),
    ((), ("plating",)),
    ((), ("stitching of a case",), ("grinding of a crankshaft",)),
)
ASKED = [RepairAsked(*said) for said in itertools.product(*SAID)]


def test_nothing_answered_is_asked() -> None:
    """Without answers every question is open."""
    answer = major_repair(RepairAsked())
    assert (answer.answer, len(answer.asks), answer.because.rule) == ("ask", 4, "major.answered")


@pytest.mark.parametrize("gearing", ["none", "spur"])
@pytest.mark.parametrize("split", ["yes", "no", ""])
def test_a_plain_engine_may_be_split(split: YesNo, gearing: Gearing) -> None:
    """Without supercharger, and with no gearing or spur gearing, whether the case was split is not even asked."""
    assert major_repair(RepairAsked(split, "no", gearing, "no")).answer == "no"


def test_an_unknown_operation_is_asked_about_until_settled() -> None:
    """The order's list is known in part: what is not known from it is a question, not a no."""
    asked = dataclasses.replace(PLAIN_ENGINE, operations=("stitching of a case",))
    assert "stitching of a case" in major_repair(asked).asks[0]
    assert major_repair(dataclasses.replace(asked, settled=("stitching of a case",))).answer == "no"


def test_the_working_says_what_was_answered() -> None:
    """The answer carries what it was made of."""
    lines = major_repair(RepairAsked("yes", "no", "other", "no")).because.arithmetic
    assert "reduction gearing: other" in lines
    assert "integral supercharger: no" in lines


def later_answers(asked: RepairAsked) -> list[RepairAsked]:
    """Give what it becomes when one question that is open gets its answer."""
    answers: dict[str, tuple[Any, ...]] = dict.fromkeys(("case_split", "supercharger", "structural"), ("yes", "no"))
    answers["gearing"] = ("none", "spur", "other")
    opened = [(field, said) for field, says in answers.items() if not getattr(asked, field) for said in says]
    changes: list[dict[str, Any]] = [{field: said} for field, said in opened]
    return [dataclasses.replace(asked, **change) for change in changes]


def test_an_answer_given_later_turns_nothing_round() -> None:
    """What stands decided stays decided when a question is answered that was still open; every case is tried."""
    decided = [asked for asked in ASKED if major_repair(asked).answer != "ask"]
    tried = [(asked, later) for asked in decided for later in later_answers(asked)]
    assert len(tried) > 500
    assert [pair for pair in tried if major_repair(pair[0]).answer != major_repair(pair[1]).answer] == []


def test_questions_stand_exactly_where_it_asks() -> None:
    """Questions are open if and only if the answer is ask, and all three answers occur."""
    answers = [major_repair(asked) for asked in ASKED]
    assert {one.answer for one in answers} == {"yes", "no", "ask"}
    assert [one for one in answers if bool(one.asks) is not (one.answer == "ask")] == []


@pytest.mark.parametrize("first", ["yes", "no"])
def test_one_yes_is_enough(first: YesNo) -> None:
    """What makes it major decides, whatever else is open."""
    assert major_repair(RepairAsked(case_split=first, structural="yes")).answer == "yes"
