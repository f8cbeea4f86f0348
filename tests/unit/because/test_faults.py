"""What went wrong, in three parts: found, expected, what to do next."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Fault, Refusal, Refused, TenthbookError, WrongInput


def test_a_fault_is_one_line_of_path_found_and_expected() -> None:
    """A fault reads `path: found X; expected Y`."""
    assert str(Fault("hole.size", "'1 lb'", "a length")) == "hole.size: found '1 lb'; expected a length"


def test_a_fault_of_the_whole_input_says_input() -> None:
    """Where there is no path the fault is the input's."""
    assert str(Fault("", "NaN", "a finite number")) == "input: found NaN; expected a finite number"


@pytest.mark.parametrize(("path", "longer"), [("size", "batch.3.size"), ("", "batch.3")])
def test_a_fault_keeps_its_words_one_level_further_out(path: str, longer: str) -> None:
    """Only the path grows when a fault is told from outside."""
    assert Fault(path, "x", "y").under("batch.3") == Fault(longer, "x", "y")


def test_an_error_has_its_three_parts_and_one_sentence() -> None:
    """Found, expected and what to do next can be read apart and together."""
    error = TenthbookError(found="no tag", expected="a tag", todo="write one")
    assert (error.found, error.expected, error.todo) == ("no tag", "a tag", "write one")
    assert str(error) == "found no tag; expected a tag; write one"


def test_an_error_need_not_say_what_to_do() -> None:
    """Where the expectation says it all, no empty clause is added."""
    assert str(TenthbookError(found="no tag", expected="a tag")) == "found no tag; expected a tag"


def test_wrong_input_says_every_fault() -> None:
    """All faults of an input are shown at once, a line each, in order."""
    wrong = WrongInput([Fault("a", "1", "2"), Fault("b", "3", "4")])
    assert str(wrong).splitlines() == ["a: found 1; expected 2", "b: found 3; expected 4"]


def test_a_refusal_names_its_rule_and_the_way_on() -> None:
    """A refusal says what was found, what is expected, the way on and the rule."""
    refusal = Refusal("part.tag-new", "tag P-0001-3", "a free tag", "read it again")
    assert str(refusal) == "found tag P-0001-3; expected a free tag; read it again (rule part.tag-new)"


def test_a_refused_act_names_every_rule_it_breaks() -> None:
    """Two broken rules are two lines; the parts of the first stand on the error."""
    refused = Refused([Refusal("one", "a", "b", "c"), Refusal("two", "d", "e")])
    assert str(refused).splitlines() == ["found a; expected b; c (rule one)", "found d; expected e (rule two)"]
    assert (refused.found, refused.expected, refused.todo) == ("a", "b", "c")


@pytest.mark.parametrize("error", [WrongInput([Fault("a", "1", "2")]), Refused([Refusal("one", "a", "b")])])
def test_every_fault_of_use_has_one_base(error: Exception) -> None:
    """Whoever catches the base class catches wrong input and refusals."""
    assert isinstance(error, TenthbookError)
