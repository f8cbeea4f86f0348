"""ANSI/NCSL Z540.3:2006, Requirements for the Calibration of Measuring and Test Equipment, clause 5.3.

At most 2 per cent probability of false acceptance, and what was published about it.

Definition of the ratio: read on a quality society's question page; the 2 per cent: read in Deaver and Somppi, A study
of and recommendations for applying the false acceptance risk specification of Z540.3. Method 6 (Dobbert) and the worst
cases: read in public notebooks of a national laboratory. Rules of ten: one read in a quality inspection handbook,
chapter 9, the other in a web summary of GB/T 3177.
"""

from __future__ import annotations

import pytest

from tenthbook.trade.gauge.choice import RuleOfTen, expanded_for_ratio, gauge_ratio, ten_to_one
from tenthbook.trade.gauge.gauge_ratio import (
    DrawnIn,
    acceptance_factor,
    centred_risk,
    method_6_multiplier,
    worst_false_accept,
)


def test_ratio_of_span_to_doubt() -> None:
    """Plus or minus 0.025 mm with an expanded uncertainty of 0.006 mm is a ratio of 4.167 (definition read)."""
    assert gauge_ratio(-0.025, 0.025, 0.006) == pytest.approx(4.167, abs=5e-4)
    assert gauge_ratio(-0.025, 0.025, 0.006) == pytest.approx(25.0 / 6.0, abs=1e-4)
    assert expanded_for_ratio(-0.025, 0.025, 25.0 / 6.0) == pytest.approx(0.006, rel=1e-12)


def test_two_rules_of_ten() -> None:
    """A tenth of the half tolerance and a tenth of the whole differ by two (both read)."""
    assert ten_to_one(-0.025, 0.025, RuleOfTen.HALF_TOLERANCE) == pytest.approx(0.0025, rel=1e-12)
    assert ten_to_one(-0.05, 0.05, RuleOfTen.WHOLE_TOLERANCE) == pytest.approx(0.01, rel=1e-12)


@pytest.mark.parametrize(("ratio", "false_accept"), [(4.0, 0.022_38), (2.0, 0.041_75)])
def test_worst_false_acceptance_without_a_guard(ratio: float, false_accept: float) -> None:
    """Four to one alone lets up to 2.238 per cent through, two to one 4.175 per cent (read)."""
    # Given to 0.001 per cent.
    assert worst_false_accept(ratio).false_accept == pytest.approx(false_accept, abs=1e-5)


def test_where_four_to_one_is_worst() -> None:
    """Four to one is worst for a process with 64.7 per cent in tolerance (read); the maximum is flat, hence 0.2."""
    assert 100.0 * worst_false_accept(4.0).in_tolerance == pytest.approx(64.7, abs=0.2)


@pytest.mark.parametrize(("ratio", "multiplier"), [(4.0, 0.053_121), (3.0, 0.155_318), (2.0, 0.281_645)])
def test_multiplier_of_method_6(ratio: float, multiplier: float) -> None:
    """Method 6 draws each limit in by so much of U (formula read)."""
    assert method_6_multiplier(ratio) == pytest.approx(multiplier, abs=1e-6)


@pytest.mark.parametrize(("ratio", "worst"), [(2.0, 0.019_17), (3.0, 0.019_37), (4.0, 0.019_58)])
def test_method_6_keeps_two_per_cent(ratio: float, worst: float) -> None:
    """With limits drawn in by method 6 the worst false acceptance stays below 2 per cent (derived)."""
    found = worst_false_accept(ratio, float(acceptance_factor(ratio, DrawnIn.METHOD_6))).false_accept
    assert found <= 0.02
    assert found == pytest.approx(worst, abs=1e-5)


def test_risks_of_a_process_mostly_in_tolerance() -> None:
    """95 per cent in tolerance at four to one: 0.8583 and 1.5537 per cent (independent program)."""
    found = centred_risk(4.0, 0.95)
    assert found.consumer == pytest.approx(0.008_583, abs=2e-6)
    assert found.producer == pytest.approx(0.015_537, abs=2e-6)
