"""How long is a record kept?"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.release import RULES, enter_until, keep_until

DAYS = st.dates(date(1950, 1, 1), date(2150, 1, 1))


def later(day: str, days: int = 1) -> str:
    """Give the day so many days on."""
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()


@given(done=DAYS)
def test_the_day_given_is_the_last_that_its_rule_keeps(done: date) -> None:
    """On the last day the rule is broken by dropping the record, on the next it is not."""
    rule = RULES.find("keep.repair-station")
    assert rule is not None
    last = keep_until("repair station", done.isoformat()).until
    assert not rule.holds(approved_on=done.isoformat(), dropped_on=last)
    assert rule.holds(approved_on=done.isoformat(), dropped_on=later(last))


@given(done=DAYS, after=st.integers(0, 3000))
def test_europe_keeps_longest_and_the_owner_least(done: date, after: int) -> None:
    """Superseded work: the owner's day is never after the European one, and never before the work."""
    superseded = (done + timedelta(days=after)).isoformat()
    owner = keep_until("owner, work", done.isoformat(), superseded).until
    europe = keep_until("Europe, detailed", done.isoformat(), superseded).until
    assert done.isoformat() <= owner <= europe


@given(done=DAYS)
def test_thirty_days_are_thirty_days(done: date) -> None:
    """The last day of entry is thirty days on, whatever the months."""
    assert date.fromisoformat(enter_until(done.isoformat()).until) - done == timedelta(days=30)


def test_the_working_is_shown() -> None:
    """The answer carries its arithmetic."""
    assert keep_until("owner, work", "2026-11-30").because.arithmetic == ("one year after 2026-11-30: 2027-11-30",)


@pytest.mark.parametrize("day", ["", "30.11.2026", "2026-11-31", "20261130", "2026-W48-1"])
def test_what_is_no_day_is_refused(day: str) -> None:
    """A day is written year, month, day, and stands in the calendar."""
    with pytest.raises(TenthbookError, match="expected a day written as"):
        keep_until("repair station", day)
    with pytest.raises(TenthbookError, match="expected a day written as"):
        enter_until(day)
    if day:
        with pytest.raises(TenthbookError, match="superseded"):
            keep_until("owner, work", "2026-11-30", day)
