"""A register takes in only rules that can be kept and can be broken."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import Register, Rule, TenthbookError


def above(least: int, rule_id: str = "test.above", fails: int = 0) -> Rule:
    """A rule that a number is at least so large."""
    return Rule(
        rule_id,
        f"At least {least}.",
        "rule of this test",
        lambda number: number >= least,
        {"number": least},
        {"number": fails},
    )


def test_a_rule_is_found_by_its_id() -> None:
    """What was taken in is found, and nothing else."""
    register = Register()
    rule = register.add(above(3))
    assert register.find("test.above") is rule
    assert register.find("test.below") is None
    assert (list(register), len(register)) == ([rule], 1)


def test_an_id_is_given_once() -> None:
    """A second rule of the same id is refused."""
    register = Register()
    register.add(above(3))
    with pytest.raises(TenthbookError, match=r"a second rule test\.above"):
        register.add(above(4))


def test_a_rule_that_its_own_failing_case_keeps_is_refused() -> None:
    """A rule that cannot fail cannot enter."""
    with pytest.raises(TenthbookError, match="contradicts its own cases"):
        Register().add(above(3, fails=5))


def test_a_rule_that_its_own_passing_case_breaks_is_refused() -> None:
    """A rule that nothing keeps cannot enter."""
    never = Rule("test.never", "Never.", "rule of this test", lambda number: number < 0, {"number": 1}, {"number": 2})
    with pytest.raises(TenthbookError, match="contradicts its own cases"):
        Register().add(never)


def test_registers_are_joined_without_touching_them() -> None:
    """The rules of all rooms make a new register; the rooms keep their own."""
    one, other = Register(), Register()
    one.add(above(3, "test.one"))
    other.add(above(3, "test.other"))
    assert [rule.id for rule in one.including(other)] == ["test.one", "test.other"]
    assert (len(one), len(other)) == (1, 1)


def test_an_id_that_two_rooms_gave_is_refused() -> None:
    """Two rooms cannot mean two rules by one name."""
    one, other = Register(), Register()
    one.add(above(3))
    other.add(above(4))
    with pytest.raises(TenthbookError, match="a second rule"):
        one.including(other)
