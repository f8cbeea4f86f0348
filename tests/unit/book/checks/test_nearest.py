"""The id that was perhaps meant is one slip away, and none is named that is further off."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book.checks.nearest import Nearest

IDS = ("part.pump-shaft", "part.gear", "nut.12", "step-4", "size.bore")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("part.pump-shat", "part.pump-shaft"),
        ("part.pump-shafft", "part.pump-shaft"),
        ("part.pump-shadt", "part.pump-shaft"),
        ("part.pupm-shaft", "part.pump-shaft"),
        ("gear", "part.gear"),
        ("fit.bore", "size.bore"),
        ("nut.13", ""),
        ("step-5", ""),
        ("part.gasket", ""),
        ("bor", ""),
    ],
)
def test_the_nearest_id(typed: str, meant: str) -> None:
    """One sign out, in, changed or changed over, or another first word; ids that differ in figures are not named."""
    assert Nearest(IDS).to(typed) == meant


def test_nothing_is_near_in_an_empty_table() -> None:
    """A table without rows has nothing to suggest."""
    assert Nearest(()).to("part.gear") == ""


@given(st.text("abcdefgh", min_size=6, max_size=12), st.data())
def test_a_letter_left_out_is_found(name: str, data: st.DataObject) -> None:
    """Whatever letter is left out, the id is named."""
    place = data.draw(st.integers(0, len(name) - 1))
    assert Nearest([name]).to(name[:place] + name[place + 1 :]) == name
