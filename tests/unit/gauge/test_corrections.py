"""Zero, drift, master and temperature: exact, and in proportion."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.corrections import (
    size_from_deviation,
    standard_from_drift,
    temperature_contributions,
    temperature_factor,
    zero_from_master,
)
from tenthbook.trade.gauge.faults import NotAnUncertainty

PICOMETRES = st.integers(-(10**11), 10**11)


@given(PICOMETRES, PICOMETRES, PICOMETRES)
def test_zero_lies_in_the_middle_and_keeps_half_picometres(nominal: int, before: int, after: int) -> None:
    """The zero error is the middle of the two, exactly; the drift is their difference."""
    found = zero_from_master(np.int64(nominal), np.int64(before), np.int64(after))
    assert 2 * float(found.error) == before + after - 2 * nominal
    assert found.drift is not None
    assert int(found.drift) == after - before
    assert float(found.standard) == pytest.approx(abs(after - before) / 12**0.5, rel=1e-12)


def test_zero_of_decimals_is_decimal() -> None:
    """A master of 1.0000 in read as 1.0001 and 1.0002: zero 0.00015 exactly, drift 0.0001."""
    found = zero_from_master(Decimal("1.0000"), Decimal("1.0001"), Decimal("1.0002"))
    assert found.error.item() == Decimal("0.00015")
    assert found.drift is not None
    assert found.drift.item() == Decimal("0.0001")
    assert float(found.standard) == pytest.approx(0.0001 / 12**0.5, rel=1e-12)


def test_master_read_once() -> None:
    """Without a second reading there is a zero and no word on drift."""
    found = zero_from_master(np.array([100, 100]), 103)
    assert found.error.tolist() == [3, 3]
    assert found.drift is None
    assert found.standard.tolist() == [0.0, 0.0]


@given(st.floats(-1.0, 1.0))
def test_drift_either_way_is_the_same_doubt(drift: float) -> None:
    """Half the drift to each side is a rectangle, whichever way it went (JCGM 100:2008, 4.3.7)."""
    assert standard_from_drift(drift) == pytest.approx(0.5 * abs(drift) / 3**0.5, rel=1e-12)


def test_deviation_from_a_master() -> None:
    """Master plus deviation, exactly."""
    assert size_from_deviation(Decimal("2.5000"), Decimal("-0.0012")).item() == Decimal("2.4988")
    assert size_from_deviation(np.int64(10), np.array([1, -1])).tolist() == [11, 9]


@given(st.floats(-20.0, 60.0), st.floats(0.0, 30e-6), st.floats(0.0, 30e-6))
def test_correction_undone_by_the_mirrored_one(degc: float, part: float, gauge: float) -> None:
    """Swapping part and gauge inverts the factor; alike they need none."""
    there = temperature_factor(degc, degc, part, gauge)
    assert there * temperature_factor(degc, degc, gauge, part) == pytest.approx(1.0, rel=1e-12)
    assert temperature_factor(degc, degc, part, part) == 1.0


def test_contributions_against_the_uncertainties_package() -> None:
    """The four contributions equal those of the full formula to first order, by the `uncertainties` package."""
    part_t, part_a = uncertainties.ufloat(31.0, 0.4), uncertainties.ufloat(22e-6, 1e-6)
    gauge_t, gauge_a = uncertainties.ufloat(28.0, 0.3), uncertainties.ufloat(11.5e-6, 0.8e-6)
    other = 100.0 * (1 + gauge_a * (gauge_t - 20)) / (1 + part_a * (part_t - 20))
    found = temperature_contributions(100.0, (31.0, 22e-6), (28.0, 11.5e-6), (1e-6, 0.8e-6), (0.4, 0.3))
    assert found.shape == (4,)
    # First order leaves out products of expansions, here below one part in 2000.
    assert float(np.sqrt(np.square(found).sum())) == pytest.approx(other.std_dev, rel=5e-4)


def test_contributions_broadcast_and_refuse_negative_doubt() -> None:
    """Many sizes at once; a negative doubt is refused; at 20 degC an expansion does not matter."""
    found = temperature_contributions(np.array([10.0, 20.0]), (20.0, 1e-5), (20.0, 1e-5), (1e-6, 1e-6), (1.0, 0.0))
    assert found[:, 0].tolist() == [0.0, 0.0]
    assert found[:, 2] == pytest.approx([1e-4, 2e-4], rel=1e-12)
    with pytest.raises(NotAnUncertainty):
        temperature_contributions(1.0, (20.0, 1e-5), (20.0, 1e-5), (-1e-6, 0.0))
