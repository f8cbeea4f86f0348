"""How an instrument stood on a day, and which days something later put in doubt."""

from __future__ import annotations

import pytest

from tenthbook.record.tools import Doubt, calibration_on, in_doubt, standing_on
from tests.unit.tools.crib import REGISTERED, Shelf, shelf


def stands(one: Shelf, day: str, instrument: str = "M1") -> str:
    """How the micrometer stands on a day, in words."""
    return str(standing_on(one.state, instrument, day))


def twice() -> Shelf:
    """Calibrated in March for a year, and before it in 2024 for a year; the older certificate was recorded last."""
    one = shelf()
    one.calibrate("2026-03-09", "2027-03-31", certificate="C-2")
    one.calibrate("2024-03-11", "2025-03-31", certificate="C-1")
    return one


@pytest.mark.parametrize(
    ("day", "certificate", "words"),
    [
        ("2024-03-10", None, "never calibrated"),
        ("2024-03-11", "C-1", "in calibration until 2025-03-31"),
        ("2025-03-31", "C-1", "in calibration until 2025-03-31"),
        ("2025-04-01", "C-1", "overdue since 2025-03-31"),
        ("2026-03-08", "C-1", "overdue since 2025-03-31"),
        ("2026-03-09", "C-2", "in calibration until 2027-03-31"),
        ("2027-03-31", "C-2", "in calibration until 2027-03-31"),
        ("2027-04-01", "C-2", "overdue since 2027-03-31"),
    ],
)
def test_the_newest_calibration_up_to_a_day_counts(day: str, certificate: str | None, words: str) -> None:
    """From its own day to its last, both included, in whichever order the certificates were recorded."""
    state = twice().state
    last = calibration_on(state.instruments["M1"], day)
    assert (last.certificate if last is not None else None) == certificate
    assert standing_on(state, "M1", day).calibration == last
    assert stands(twice(), day) == words


def test_a_standing_carries_its_days_and_its_calibration() -> None:
    """What a gauge set on the bench names: certificate, due day and the hash of the entry."""
    one = twice()
    standing = standing_on(one.state, "M1", "2026-10-02")
    assert (standing.word, standing.since, standing.due) == ("in calibration", "2026-03-09", "2027-03-31")
    assert standing.calibration is not None
    assert (standing.calibration.hash, standing.calibration.entry) == (one.entries[2].hash, 2)
    assert (str(standing.calibration.expanded), standing.calibration.coverage_factor) == ("0.00012 in", "2")


def test_without_a_due_day_a_calibration_does_not_run_out() -> None:
    """Where none is set, none is invented."""
    one = shelf()
    one.calibrate("2016-03-09")
    assert stands(one, "2026-10-02") == "in calibration"


def test_of_two_certificates_of_one_day_the_one_recorded_last_counts() -> None:
    """Whoever typed a certificate wrongly types it again."""
    one = shelf()
    one.calibrate("2026-03-09", expanded="0.0012 in")
    one.calibrate("2026-03-09")
    last = calibration_on(one.state.instruments["M1"], "2026-10-02")
    assert last is not None
    assert str(last.expanded) == "0.00012 in"


def test_what_the_shop_does_not_have_is_not_registered() -> None:
    """Neither another id nor another spelling of one."""
    assert stands(twice(), "2026-10-02", "M2") == "not registered"
    assert stands(twice(), "2026-10-02", "m1") == "not registered"
    assert in_doubt(twice().state, "M2") == ()


def test_a_withdrawn_instrument_stands_so_until_it_is_returned() -> None:
    """From the day it was withdrawn to the day before it came back; its calibration is still named."""
    one = twice()
    one.withdraw("2026-05-04", since="2026-04-01")
    assert stands(one, "2026-05-03") == "in calibration until 2027-03-31"
    assert stands(one, "2026-05-04") == "withdrawn on 2026-05-04"
    assert stands(one, "2029-05-04") == "withdrawn on 2026-05-04"
    one.put_back("2026-06-01")
    assert stands(one, "2026-05-31") == "withdrawn on 2026-05-04"
    assert stands(one, "2026-06-01") == "in calibration until 2027-03-31"
    one.withdraw("2026-06-01")
    standing = standing_on(one.state, "M1", "2026-07-01")
    assert (standing.word, standing.since, standing.due) == ("withdrawn", "2026-06-01", "2027-03-31")
    assert stands(one, "2026-05-31") == "withdrawn on 2026-05-04"


def test_an_instrument_never_calibrated_can_be_withdrawn() -> None:
    """It then names neither a due day nor a calibration."""
    one = shelf()
    one.withdraw("2026-05-04")
    standing = standing_on(one.state, "M1", "2026-05-04")
    assert (standing.word, standing.due, standing.calibration) == ("withdrawn", "", None)


def test_out_of_tolerance_doubts_every_reading_since_the_calibration_before() -> None:
    """Both days included; the calibrations after and the one before that stay out of it."""
    one = shelf()
    one.calibrate("2022-03-01")
    one.calibrate("2026-03-09", as_found="out of tolerance", certificate="C-3")
    one.calibrate("2024-03-11")
    one.calibrate("2026-09-01")
    reason = "found out of tolerance on 2026-03-09, certificate C-3: reads 0.0004 in small"
    assert in_doubt(one.state, "M1") == (Doubt("2024-03-11", "2026-03-09", reason, 3),)


def test_out_of_tolerance_at_the_first_calibration_doubts_all_before() -> None:
    """Nothing says when it was good; a second certificate of the same day is not the calibration before."""
    one = shelf()
    one.calibrate("2026-03-09", as_found="out of tolerance")
    one.calibrate("2026-03-09", as_found="out of tolerance")
    assert [(doubt.since_day, doubt.until_day) for doubt in in_doubt(one.state, "M1")] == [
        ("0001-01-01", "2026-03-09"),
        ("0001-01-01", "2026-03-09"),
    ]


@pytest.mark.parametrize("as_found", ["in tolerance", "not stated"])
def test_a_calibration_that_found_nothing_doubts_nothing(as_found: str) -> None:
    """What is not stated is not held against a reading."""
    one = shelf()
    one.calibrate("2024-03-11")
    one.calibrate("2026-03-09", as_found=as_found)
    assert in_doubt(one.state, "M1") == ()


def test_a_withdrawal_doubts_from_the_day_it_names_to_the_return() -> None:
    """Without an end while it is not back; one that names no day doubts nothing; a return takes no doubt away."""
    one = shelf()
    one.record("instrument registered", **{**REGISTERED, "instrument": "M2"})
    one.withdraw("2026-05-04", since="2026-04-01")
    reason = "withdrawn on 2026-05-04, in doubt since 2026-04-01: dropped"
    assert in_doubt(one.state, "M1") == (Doubt("2026-04-01", "9999-12-31", reason, 3),)
    one.put_back("2026-06-01")
    one.withdraw("2026-07-01")
    assert in_doubt(one.state, "M1") == (Doubt("2026-04-01", "2026-06-01", reason, 3),)
    assert in_doubt(one.state, "M2") == ()


def test_doubts_stand_in_the_order_they_were_recorded() -> None:
    """A withdrawal, then the calibration that followed it."""
    one = shelf()
    one.withdraw("2026-05-04", since="2026-04-01")
    one.calibrate("2026-05-04", as_found="out of tolerance")
    assert [doubt.entry for doubt in in_doubt(one.state, "M1")] == [2, 3]
