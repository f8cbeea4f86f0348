"""Stress areas and torques by thread: what the checker's question about a torque must let pass and must ask about.

Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th edition, table 8-2 (stress areas, read) and example
8-3 (inputs read, its torque from memory and recomputed). ISO 898-1, metric stress areas: from memory, reproduced by
computation. Federal Aviation Administration, AC 43.13-1B, 8 September 1998, table 7-1 (read). MIL-HDBK-60, 3/8-24 at
55 per cent of 125 ksi (formula read, value computed). VDI 2230, tables of preload and torque, class 8.8 (quoted by
others, not read). The rule asks about twelve times each torque, and about a twelfth where that is told from a plug on
a gasket.
"""

from __future__ import annotations

import pytest

from tenthbook.record.book.checks.threads import Thread, pull_index, read_thread
from tenthbook.record.book.checks.torques import check_torques
from tenthbook.record.book.reading import draft_kept

IN2_MM2 = 25.4**2
LBF_IN_NM = 0.1129848290276167
KSI_MPA = 6.894757293168
FORMULA_AGAINST_TABLE = 0.002  # the tables round, and the unified one rests on older formulas for coarse threads
TABLE_HALF_DIGIT_IN2 = 0.00005
SHIGLEY_8_2 = {
    "10-32": 0.0200,
    "1/4-28": 0.0364,
    "5/16-24": 0.0580,
    "3/8-24": 0.0878,
    "7/16-20": 0.1187,
    "1/2-20": 0.1599,
    "9/16-18": 0.203,
    "5/8-18": 0.256,
    "3/4-16": 0.373,
    "1/4-20": 0.0318,
    "5/16-18": 0.0524,
    "3/8-16": 0.0775,
    "7/16-14": 0.1063,
    "1/2-13": 0.1419,
}
ISO_898_1 = {"M8x1.25": 36.6, "M10x1.5": 58.0, "M10x1.25": 61.2, "M12x1.25": 92.1}
# Tension nuts, shear nuts (least, greatest), greatest for tension nuts, greatest for shear nuts [lbf.in].
AC_7_1 = {
    "8-36": ((12, 15), (7, 9), 20, 12),
    "10-32": ((20, 25), (12, 15), 40, 25),
    "1/4-28": ((50, 70), (30, 40), 100, 60),
    "5/16-24": ((100, 140), (60, 85), 225, 140),
    "3/8-24": ((160, 190), (95, 110), 390, 240),
    "7/16-20": ((450, 500), (270, 300), 840, 500),
    "1/2-20": ((480, 690), (290, 410), 1100, 660),
    "9/16-18": ((800, 1000), (480, 600), 1600, 960),
    "5/8-18": ((1100, 1300), (600, 780), 2400, 1400),
    "3/4-16": ((2300, 2500), (1300, 1500), 5000, 3000),
    "7/8-14": ((2500, 3000), (1500, 1800), 7000, 4200),
    "1-14": ((3700, 5500), (2200, 3300), 10000, 6000),
    "1-1/8-12": ((5000, 7000), (3000, 4200), 15000, 9000),
    "1-1/4-12": ((9000, 11000), (5400, 6600), 25000, 15000),
    "8-32": ((12, 15), (7, 9), 20, 12),
    "10-24": ((20, 25), (12, 15), 35, 21),
    "1/4-20": ((40, 50), (25, 30), 75, 45),
    "5/16-18": ((80, 90), (48, 55), 160, 100),
    "3/8-16": ((160, 185), (95, 100), 275, 170),
    "7/16-14": ((235, 255), (140, 155), 475, 280),
    "1/2-13": ((400, 480), (240, 290), 880, 520),
    "9/16-12": ((500, 700), (300, 420), 1100, 650),
    "5/8-11": ((700, 900), (420, 540), 1500, 900),
    "3/4-10": ((1150, 1600), (700, 950), 2500, 1500),
    "7/8-9": ((2200, 3000), (1300, 1800), 4600, 2700),
}
LARGE = ("9/16", "5/8", "3/4", "7/8", "1-")  # from here on a twelfth of the greatest values could be a plug's
RANGES = [(thread, ends) for thread, row in AC_7_1.items() for ends in row[:2]]
GREATEST = [(thread, (0, one)) for thread, row in AC_7_1.items() for one in row[2:]]
OTHERS_LBF_IN = [("3/4-16", (0, 3750)), ("3/8-24", (0, 354))]
OTHERS_NM = [("M10x1.25", (44, 57)), ("M12x1.25", (79, 101))]


def thread_of(text: str) -> Thread:
    """The thread a printed text means."""
    thread = read_thread(text)[1]
    assert thread is not None
    return thread


def questions(thread: str, ends: tuple[float, float], unit: str = "lbf.in") -> list[str]:
    """The rules by which a row with this torque is asked about; a least of nought is left blank."""
    cells = {"id": "t", "joint": "j", "thread": thread, "unit": unit, "page": "7-9", "threads_are": "dry"}
    ranges = {"least": f"{ends[0]:.3f}" if ends[0] else "", "greatest": f"{ends[1]:.3f}"}
    draft = draft_kept({}, {"torques": [{**cells, **{name: text for name, text in ranges.items() if text}}]})
    return [finding.rule for finding in check_torques(draft)]


def times(ends: tuple[int, int], factor: float) -> tuple[float, float]:
    """A range as it reads after a slip of unit."""
    return ends[0] * factor, ends[1] * factor


@pytest.mark.parametrize(("thread", "area"), SHIGLEY_8_2.items())
def test_unified_stress_areas(thread: str, area: float) -> None:
    """Shigley, table 8-2: the formula agrees with each area within what the table rounds."""
    least_digit = TABLE_HALF_DIGIT_IN2 / area
    computed = thread_of(thread).stress_area_mm2 / IN2_MM2
    assert computed == pytest.approx(area, rel=FORMULA_AGAINST_TABLE + least_digit)


@pytest.mark.parametrize(("thread", "area"), ISO_898_1.items())
def test_metric_stress_areas(thread: str, area: float) -> None:
    """ISO 898-1, from memory: the formula gives the area to its printed digit."""
    assert round(thread_of(thread).stress_area_mm2, 1) == area


def test_the_index_is_the_stress_of_a_nut_factor_of_a_fifth() -> None:
    """Shigley, example 8-3: 3750 lbf.in on 3/4-16 pulls 25 kip, printed 67.02 ksi with the area of the table."""
    from_table = pull_index(3750 * LBF_IN_NM, thread_of("3/4-16")) / KSI_MPA
    assert from_table == pytest.approx(67.02, rel=FORMULA_AGAINST_TABLE)


@pytest.mark.parametrize(("thread", "ends"), RANGES + GREATEST + OTHERS_LBF_IN)
def test_a_published_torque_passes_and_twelve_times_it_does_not(thread: str, ends: tuple[int, int]) -> None:
    """No published row is asked about; taken for lbf.ft each of them is."""
    assert questions(thread, ends) == []
    assert questions(thread, ends, "lbf.ft") == ["book.torque-for-thread"]
    assert questions(thread, times(ends, 12)) == ["book.torque-for-thread"]


@pytest.mark.parametrize(("thread", "ends"), RANGES)
def test_a_twelfth_of_a_published_range_is_asked_about(thread: str, ends: tuple[int, int]) -> None:
    """AC 43.13-1B, table 7-1: a twelfth of any range, for tension and for shear nuts, is asked about."""
    assert questions(thread, times(ends, 1 / 12)) == ["book.torque-for-thread"]


@pytest.mark.parametrize(("thread", "ends"), [row for row in GREATEST if not row[0].startswith(LARGE)])
def test_a_twelfth_of_a_greatest_value_is_asked_about_in_small_threads(thread: str, ends: tuple[int, int]) -> None:
    """AC 43.13-1B, table 7-1: below 9/16 in a twelfth of the greatest values is asked about too."""
    assert questions(thread, times(ends, 1 / 12)) == ["book.torque-for-thread"]


@pytest.mark.parametrize(("thread", "ends"), OTHERS_NM)
def test_torques_in_newton_metres(thread: str, ends: tuple[int, int]) -> None:
    """VDI 2230, class 8.8, quoted: the torques at three frictions pass; taken for kgf.m they are asked about."""
    assert questions(thread, ends, "N.m") == []
    assert questions(thread, ends, "kgf.m") == ["book.torque-for-thread"]
