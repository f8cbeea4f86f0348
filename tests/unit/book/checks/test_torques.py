"""Torques that contradict themselves, their joint or their thread are found, and their neighbours are not."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.book.checks.torques import RULES, check_torques
from tenthbook.record.book.findings import Finding
from tests.unit.book.checks.sound import Rows, changed, torque


@dataclass(frozen=True)
class Case:
    """A torque that breaks a rule, beside one that keeps them all.

    Attributes:
        rule: Id of the rule, without "book.".
        column: The column its finding names.
        breaks: Cells that break it.
        keeps: Cells next to them with which there is nothing to ask.
        found: Words that stand in the finding.
    """

    rule: str
    column: str
    breaks: dict[str, str]
    keeps: dict[str, str]
    found: str = ""

    def __str__(self) -> str:
        return f"{self.rule}-{self.found}"


CASES = [
    Case("torque-order", "least", {"least": "126"}, {"least": "125"}, "least 126 lbf.in, greatest 125 lbf.in"),
    Case("torque-order", "least", {"set_to": "104"}, {"set_to": "105"}, "least 105 lbf.in, set_to 104 lbf.in"),
    Case("torque-order", "least", {"set_to": "126"}, {"set_to": "125"}),
    Case("torque-order", "set_to", {"least": "", "set_to": "126"}, {"least": "", "set_to": "112"}),
    Case(
        "torque-order",
        "running_least",
        {"running_least": "20", "running_greatest": "8"},
        {"running_least": "8", "running_greatest": "20"},
    ),
    Case(
        "torque-order",
        "stretch_least",
        {"stretch_unit": "in", "stretch_least": "0.008", "stretch_greatest": "0.007"},
        {"stretch_unit": "in", "stretch_least": "0.007", "stretch_greatest": "0.008"},
    ),
    Case("torque-stages", "stages", {"stages": "60; 30; 112"}, {"stages": "30; 60; 112; 112"}, "60; 30; 112 lbf.in"),
    Case("torque-stages", "stages", {"stages": "30; 60"}, {"stages": "30; 60; 105"}, "for 105 to 125 lbf.in"),
    Case("torque-stages", "stages", {"stages": "30; 126"}, {"stages": "30; 60", "angle": "60"}),
    Case("torque-stages", "stages", {"stages": "30; 50", "greatest": ""}, {"stages": "30; 150", "greatest": ""}),
    Case("torque-pattern", "pattern", {"pattern": "1; 3; 2"}, {"pattern": "1; 3; 2; 4"}, "each once of 1; 2; 3; 4"),
    Case("torque-pattern", "pattern", {"pattern": "1; 3; 2; 4; 3"}, {"pattern": "4; 3; 2; 1"}),
    Case("torque-pattern", "pattern", {"pattern": "1; 2; 3; 5"}, {"joint": "elsewhere", "pattern": "1; 2; 3; 5"}),
    Case("thread", "thread", {"thread": "5/16-23"}, {"thread": "5/16-18"}, "'5/16-23'"),
    Case("thread", "thread", {"thread": "as fitted"}, {"thread": "5/16-24 UNJF-3A LH"}, "'as fitted'"),
    Case("torque-for-thread", "unit", {"unit": "lbf.ft"}, {"unit": "lbf.in"}, "was lbf.in meant, or the thread"),
    Case("torque-for-thread", "unit", {"least": "9", "greatest": "10"}, {"greatest": "450"}, "was lbf.ft meant"),
    Case(
        "torque-for-thread", "unit", {"unit": "kgf.m"}, {"unit": "N.m", "least": "12", "greatest": "14"}, "is the unit"
    ),
    Case("torque-for-thread", "unit", {"thread": "M18x1.5"}, {"thread": "M12x1.25"}, "on M18x1.5"),
    Case("torque-for-thread", "unit", {"thread": "8-36"}, {"thread": "1/8-27 NPT"}),
    Case("locking", "locking", {"safety": "yes", "locking": ""}, {"locking": ""}),
    Case("locking", "locking", {"safety": "yes", "locking": ""}, {"safety": "yes", "locking": "none"}),
    Case(
        "lubricant-named",
        "lubricant",
        {"lubricant": ""},
        {"lubricant": "", "threads_are": "not stated"},
        "lubricated threads with nothing named",
    ),
    Case("lubricant-named", "lubricant", {"threads_are": "dry"}, {"threads_are": "dry", "lubricant": ""}, "oil.engine"),
    Case(
        "lubricant-named",
        "lubricant",
        {"threads_are": "with sealant", "lubricant": ""},
        {"threads_are": "with sealant"},
    ),
    Case(
        "running-torque",
        "running_torque",
        {"locking": "self-locking nut"},
        {"locking": "self-locking nut", "running_torque": "included"},
    ),
]


def asked(changes: Rows) -> list[Finding]:
    """What the check of torques finds in the sound book with changes."""
    return list(check_torques(changed(changes)))


def asked_of(cells: dict[str, str]) -> list[Finding]:
    """What it finds when the one torque is changed."""
    return asked({"torques": {"torque.pump": cells}})


def test_there_is_nothing_to_ask_of_a_sound_book() -> None:
    """A book with its torques in order brings no finding."""
    assert [str(finding) for finding in asked({})] == []


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_rule_bites(case: Case) -> None:
    """The broken rule is named, with the column and what was found."""
    hits = [finding for finding in asked_of(case.breaks) if finding.rule == f"book.{case.rule}"]
    assert [(finding.row, finding.column) for finding in hits] == [("torque.pump", case.column)]
    assert case.found in str(hits[0])


@pytest.mark.parametrize("case", CASES, ids=str)
def test_its_neighbour_passes(case: Case) -> None:
    """With the change next to it there is nothing to ask by any rule of the torques."""
    assert [str(finding) for finding in asked_of(case.keeps)] == []


def of_one_thread(*torques: str) -> Rows:
    """Torques of one thread, in joints of their own."""
    rows = {f"t.{place}": torque(least=one, greatest=one) for place, one in enumerate(torques)}
    return {"torques": {"torque.pump": {}, **rows}}


def test_a_torque_far_above_its_like_is_asked_about() -> None:
    """Above three times the median of its thread, where four rows have it, a torque is asked about; up to it not."""
    assert [finding.rule for finding in asked(of_one_thread("100", "110", "120", "346"))] == ["book.torque-median"]
    assert asked(of_one_thread("100", "110", "120", "345")) == []
    assert asked(of_one_thread("100", "110", "400")) == []


def test_a_torque_is_asked_about_once() -> None:
    """A torque that no such thread bears is not held against its like as well."""
    assert [finding.rule for finding in asked(of_one_thread("100", "110", "120", "1380"))] == ["book.torque-for-thread"]


def test_every_rule_was_broken() -> None:
    """No rule of the torques is left without a case that breaks it."""
    assert {f"book.{case.rule}" for case in CASES} | {"book.torque-median"} == {rule.id for rule in RULES}


def test_several_rows_may_share_the_fasteners_of_a_joint() -> None:
    """Two threads in one joint: each pattern names its own fasteners, together they name each once."""
    both = {"torque.pump": {"pattern": "1; 3"}, "torque.small": torque(thread="1/4-28", pattern="2; 4")}
    assert asked({"torques": both}) == []
    lacking = {**both, "torque.small": torque(thread="1/4-28", pattern="2")}
    assert [finding.row for finding in asked({"torques": lacking})] == ["torque.pump", "torque.small"]


def test_fasteners_without_numbers_cannot_be_put_in_order() -> None:
    """A pattern of numbers for fasteners that have none is wrong, and says why."""
    bare = {f"nut.{number}": {"number": ""} for number in range(1, 5)}
    found = asked({"joints": bare, "torques": {"torque.pump": {"pattern": "1; 3; 2; 4"}}})
    assert [finding.expected for finding in found] == ["each once of its fasteners, which have no numbers yet"]


@pytest.mark.parametrize("turn", [{"angle": "60"}, {"stretch_unit": "in", "stretch_least": "0.007"}])
def test_a_low_torque_before_a_turn_or_a_stretch_passes(turn: dict[str, str]) -> None:
    """What is tightened by angle or by stretch starts from a low torque."""
    low = {"least": "9", "greatest": "10"}
    assert [finding.rule for finding in asked_of(low)] == ["book.torque-for-thread"]
    assert asked_of({**low, **turn}) == []


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"least": "", "greatest": "1500"}, "greatest 1500 lbf.in"),
        ({"least": "1300", "greatest": ""}, "least 1300 lbf.in"),
        ({"least": "", "greatest": "", "set_to": "1400"}, "1400 lbf.in"),
        ({"least": "", "greatest": "", "stages": "700; 1400"}, "1400 lbf.in"),
    ],
)
def test_the_torque_is_taken_from_what_the_row_states(cells: dict[str, str], said: str) -> None:
    """One side of a range, the value to set or the last stage stands for a row that states no more."""
    assert [finding.found for finding in asked_of(cells)] == [f"{said} on 5/16-24 UNF"]


@pytest.mark.parametrize("cells", [{"least": "", "greatest": ""}, {"least": "0", "greatest": "0"}])
def test_a_row_without_a_torque_is_held_against_no_thread(cells: dict[str, str]) -> None:
    """Where no torque stands there is nothing to hold against the thread."""
    assert asked_of(cells) == []


@given(st.integers(1, 100_000), st.sampled_from(["5/16-24", "1/4-28", "M8x1.25", "M14x1.25", "1-14", "10-32"]))
@settings(deadline=None)
def test_no_finding_on_a_thread_proposes_a_number(torque_lbf_in: int, thread: str) -> None:
    """Whatever the torque, the question names no figure but those that were typed."""
    for finding in asked_of({"least": str(torque_lbf_in), "greatest": "", "thread": thread}):
        assert not any(sign.isdigit() for sign in finding.expected + finding.todo)
