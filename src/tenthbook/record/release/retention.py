"""How long is a record kept, and until when must it be entered?

It counts days of the calendar and reads no clock: days come in and go out written as 2026-11-30. Where the anniversary
of a 29 February does not exist, the day after counts, so that nothing is given up a day too soon. It does not say who
owns a record.

Sources: 14 CFR 145.219 (read); 14 CFR 91.417(b) (read at second hand, and from memory); M.A.305 (read). Checked in:
tests/published/test_14_cfr_145_219_and_91_417.py, test_m_a_801.py
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from tenthbook.numbers.because import Because, Rule, TenthbookError
from tenthbook.record.release.forms import a_day
from tenthbook.record.release.rules import RULES

Record = Literal["repair station", "owner, work", "owner, status", "owner, defects", "Europe, detailed"]
ENTER_WITHIN_DAYS = 30
_LEAP_DAY = (2, 29)


def _years_after(day: str, years: int) -> str:
    start = date.fromisoformat(day)
    if (start.month, start.day) == _LEAP_DAY and not _is_leap(start.year + years):
        return date(start.year + years, 3, 1).isoformat()
    return start.replace(year=start.year + years).isoformat()


def _is_leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def _days_after(day: str, days: int) -> str:
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()


def _owner_may_drop(done_on: str, superseded_on: str, dropped_on: str) -> bool:
    return dropped_on > min(superseded_on or "9999-12-31", _years_after(done_on, 1))


def _europe_may_drop(done_on: str, superseded_on: str, dropped_on: str) -> bool:
    return bool(superseded_on) and dropped_on > max(superseded_on, _years_after(done_on, 3))


STATION = RULES.add(
    Rule(
        id="keep.repair-station",
        says="A repair station keeps its record for two years from the approval for return to service, at the least.",
        source="14 CFR 145.219, read",
        holds=lambda approved_on, dropped_on: dropped_on > _years_after(approved_on, 2),
        passes={"approved_on": "2026-11-30", "dropped_on": "2028-12-01"},
        fails={"approved_on": "2026-11-30", "dropped_on": "2028-11-30"},
        todo="keep it",
    )
)
OWNER_WORK = RULES.add(
    Rule(
        id="keep.owner-work",
        says="The owner keeps the record of work until it is repeated or superseded, or for one year.",
        source="14 CFR 91.417(b)(1), read at second hand",
        holds=_owner_may_drop,
        passes={"done_on": "2026-11-30", "superseded_on": "2027-03-01", "dropped_on": "2027-03-02"},
        fails={"done_on": "2026-11-30", "superseded_on": "", "dropped_on": "2027-11-30"},
        todo="keep it",
    )
)
OWNER_STATUS = RULES.add(
    Rule(
        id="keep.owner-status",
        says="Total times, life-limited parts, time since overhaul and the status of inspections and directives are "
        "kept for ever, and go with the aircraft when it is sold.",
        source="14 CFR 91.417(b)(2), read at second hand",
        holds=lambda dropped, transferred: not dropped and transferred,
        passes={"dropped": False, "transferred": True},
        fails={"dropped": True, "transferred": False},
        todo="keep it, and hand it over at a sale",
    )
)
OWNER_DEFECTS = RULES.add(
    Rule(
        id="keep.owner-defects",
        says="A list of defects is kept until they are put right and the aircraft is approved for return to service.",
        source="14 CFR 91.417(b)(3), from memory",
        holds=lambda approved_on, dropped_on: bool(approved_on) and dropped_on > approved_on,
        passes={"approved_on": "2026-11-30", "dropped_on": "2026-12-01"},
        fails={"approved_on": "", "dropped_on": "2026-12-01"},
        todo="keep it",
    )
)
EUROPE_DETAILED = RULES.add(
    Rule(
        id="keep.europe-detailed",
        says="Detailed records of scheduled maintenance are kept until superseded, and for 36 months at the least.",
        source="M.A.305, read",
        holds=_europe_may_drop,
        passes={"done_on": "2026-11-30", "superseded_on": "2027-11-20", "dropped_on": "2029-12-01"},
        fails={"done_on": "2026-11-30", "superseded_on": "2027-11-20", "dropped_on": "2027-11-21"},
        todo="keep it",
    )
)
EUROPE_ENTERED = RULES.add(
    Rule(
        id="keep.europe-entered",
        says="A release is entered in the aircraft's record system as soon as can be, and within 30 days.",
        source="M.A.305, read",
        holds=lambda released_on, entered_on: entered_on <= _days_after(released_on, ENTER_WITHIN_DAYS),
        passes={"released_on": "2026-11-30", "entered_on": "2026-12-30"},
        fails={"released_on": "2026-11-30", "entered_on": "2026-12-31"},
        todo="enter it now",
    )
)


@dataclass(frozen=True, slots=True)
class Kept:
    """How long a record is kept.

    Attributes:
        until: The last day it must be kept, written as 2026-11-30; empty where no day is known that ends it.
        ends: What ends it, in words.
        because: The rule, with the working.
    """

    until: str
    ends: str
    because: Because


def _checked(day: str, what: str) -> str:
    if not a_day(day):
        raise TenthbookError(found=f"{day!r} as {what}", expected="a day written as 2026-11-30")
    return day


def _work(done: str, superseded: str) -> Kept:
    year = _years_after(done, 1)
    working = (f"one year after {done}: {year}",)
    if superseded and superseded < year:
        return Kept(
            superseded,
            "repeated or superseded",
            Because(OWNER_WORK.id, arithmetic=(*working, f"superseded {superseded}")),
        )
    return Kept(year, "one year, or sooner once repeated or superseded", Because(OWNER_WORK.id, arithmetic=working))


def _detailed(done: str, superseded: str) -> Kept:
    least = _years_after(done, 3)
    because = Because(EUROPE_DETAILED.id, arithmetic=(f"36 months after {done}: {least}",))
    if not superseded:
        return Kept("", f"superseded, and not before {least} has passed", because)
    return Kept(max(least, superseded), "superseded, and 36 months at the least", because)


def keep_until(record: Record, done_on: str, superseded_on: str = "") -> Kept:
    """Say until when a record is kept.

    Args:
        record: Whose record, and of what.
        done_on: Day of the work; for a repair station and for defects, of the approval for return to service, which
            for defects may be empty as long as they are not put right.
        superseded_on: Day the work was repeated or superseded; empty where it was not.

    Returns:
        The last day it must be kept and what ends it; the day is empty where none is known.

    Raises:
        TenthbookError: a day that is none.

    Source: 14 CFR 145.219 and M.A.305, read; 14 CFR 91.417(b), read at second hand. Checked in:
        tests/published/test_14_cfr_145_219_and_91_417.py
    """
    superseded = _checked(superseded_on, "the day it was superseded") if superseded_on else ""
    if record == "owner, status":
        return Kept("", "nothing: it goes with the aircraft when that is sold", Because(OWNER_STATUS.id))
    if record == "owner, defects" and not done_on:
        return Kept("", "put right, and approved for return to service", Because(OWNER_DEFECTS.id))
    done = _checked(done_on, "the day of the work")
    if record == "owner, work":
        return _work(done, superseded)
    if record == "Europe, detailed":
        return _detailed(done, superseded)
    if record == "owner, defects":
        return Kept(done, "put right, and approved for return to service", Because(OWNER_DEFECTS.id))
    two_years = _years_after(done, 2)
    return Kept(two_years, "two years", Because(STATION.id, arithmetic=(f"two years after {done}: {two_years}",)))


def enter_until(released_on: str) -> Kept:
    """Say until when a European release must stand in the aircraft's record system.

    Args:
        released_on: Day of the release.

    Returns:
        The last day, 30 days on; sooner is expected.

    Raises:
        TenthbookError: a day that is none.

    Source: M.A.305, read. Checked in: tests/published/test_m_a_801.py
    """
    released = _checked(released_on, "the day of the release")
    last = _days_after(released, ENTER_WITHIN_DAYS)
    working = (f"{ENTER_WITHIN_DAYS} days after {released}: {last}",)
    return Kept(last, "entered in the record system", Because(EUROPE_ENTERED.id, arithmetic=working))
