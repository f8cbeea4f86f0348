"""14 CFR 145.219, Recordkeeping (repair stations), and 14 CFR 91.417, Maintenance records (owner or operator).

United States, Title 14 of the Code of Federal Regulations. 145.219(a) to (d) (April 2026) were read; 91.417(b) was read
at second hand, and its paragraph on lists of defects is from memory. Days are compared exactly.
"""

from __future__ import annotations

import pytest

from tenthbook.record.release import keep_until


@pytest.mark.parametrize(
    ("approved", "until"), [("2026-11-30", "2028-11-30"), ("2027-02-28", "2029-02-28"), ("2028-02-29", "2030-03-01")]
)
def test_a_repair_station_keeps_two_years(approved: str, until: str) -> None:
    """145.219 (read): two years from the approval for return to service, at the least."""
    kept = keep_until("repair station", approved)
    assert (kept.until, kept.because.rule) == (until, "keep.repair-station")


@pytest.mark.parametrize(
    ("superseded", "until"),
    [("", "2027-11-30"), ("2027-03-01", "2027-03-01"), ("2027-11-30", "2027-11-30"), ("2028-05-05", "2027-11-30")],
)
def test_the_owner_keeps_work_a_year_or_until_superseded(superseded: str, until: str) -> None:
    """91.417(b)(1) (read at second hand): until repeated or superseded, or for one year; whichever comes first."""
    assert keep_until("owner, work", "2026-11-30", superseded).until == until


def test_the_owner_keeps_status_for_ever() -> None:
    """91.417(b)(2) (read at second hand): no day ends it, and it goes with the aircraft."""
    kept = keep_until("owner, status", "2026-11-30", "2027-01-01")
    assert (kept.until, kept.because.rule) == ("", "keep.owner-status")
    assert "aircraft" in kept.ends


def test_the_owner_keeps_a_list_of_defects_until_put_right() -> None:
    """91.417(b)(3) (from memory): until the defects are put right and the aircraft is approved."""
    assert keep_until("owner, defects", "").until == ""
    assert keep_until("owner, defects", "2026-12-05").until == "2026-12-05"
