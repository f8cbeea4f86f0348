"""What is written on a part, and when it is written wrong."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.job import check_digit, next_tag, tag_holds


@pytest.mark.parametrize("tag", ["P-0001-3", "P-0002-1", "P-0210-0", "P-0211-8", "P-0212-6", "P-0213-4"])
def test_a_tag_with_its_check_digit_holds(tag: str) -> None:
    """Letter, four figures and their check digit."""
    assert tag_holds(tag)


@pytest.mark.parametrize(
    "tag",
    ["P-0212-5", "P-0221-6", "p-0212-6", "P0212-6", "P-212-6", "P-0212-6 ", "", "P-0212", "P-0212-66", "P-\u0660212-6"],
)
def test_a_tag_written_wrong_does_not_hold(tag: str) -> None:
    """A wrong figure, a wrong letter, a missing stroke and a blank are found."""
    assert not tag_holds(tag)


def test_the_next_tag_is_one_above_the_highest() -> None:
    """Gaps are not filled, so that no tag is ever given again."""
    assert next_tag([]) == "P-0001-3"
    assert next_tag(["P-0212-6", "P-0001-3"]) == "P-0213-4"
    assert next_tag(["another", "P-12-3"]) == "P-0001-3"


@given(st.sets(st.integers(1, 9998), max_size=6))
@settings(deadline=None)
def test_the_next_tag_is_right_and_free(numbers: set[int]) -> None:
    """What is offered holds and is not in use."""
    used = [f"P-{number:04d}-{check_digit(f'{number:04d}')}" for number in numbers]
    offered = next_tag(used)
    assert tag_holds(offered)
    assert offered not in used
