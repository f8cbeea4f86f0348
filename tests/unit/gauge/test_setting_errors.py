"""Errors of setting a gauge: their size near zero, and misuse."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import NotASize
from tenthbook.trade.gauge.setting_errors import error_of_offset, error_of_tilt, indicated_runout, twist


@given(st.floats(1.0, 200.0), st.floats(0.0, 5.0))
def test_tilt_and_offset_always_err_their_own_way(bore: float, amount: float) -> None:
    """A tilted gauge never reads too little, a chord never too much, and neither minds the side."""
    assert error_of_tilt(bore, amount) >= 0.0
    assert error_of_tilt(bore, -amount) == error_of_tilt(bore, amount)
    off = 0.05 * amount * bore / 5.0
    assert error_of_offset(bore, off) <= 0.0
    assert error_of_offset(bore, -off) == error_of_offset(bore, off)


def test_small_offsets_do_not_cancel() -> None:
    """A line one micrometre off the axis of 100 mm errs by 2e-8 mm, not by zero."""
    assert error_of_offset(100.0, 0.001) == pytest.approx(-2e-8, rel=1e-6)


def test_misuse_is_named() -> None:
    """A gauge lying down, a line outside the bore and blocks at one place are refused."""
    with pytest.raises(NotASize, match="90 degrees"):
        error_of_tilt(25.0, 90.0)
    with pytest.raises(NotASize, match="misses the bore"):
        error_of_offset(10.0, 5.0)
    with pytest.raises(NotASize, match="blocks"):
        twist(0.002, 0.0)
    assert indicated_runout(-0.01) == 0.02
