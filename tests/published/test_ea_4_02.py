"""EA-4/02, Expression of the Uncertainty of Measurement in Calibration, European co-operation for Accreditation.

Supplement examples S4 (50 mm gauge block) and S10 (vernier calliper).

Budgets and printed results from memory; each reproduces by computation. The estimate printed in S4 is not used.
"""

from __future__ import annotations

import numpy as np
import pytest

from tenthbook.trade.gauge.budget import draw_up
from tenthbook.trade.gauge.rectangulars import interval_half_width
from tenthbook.trade.gauge.shapes import standard_from_half_width, trapezoid_factor

MECHANICAL_UM, RESOLUTION_UM = 50.0, 25.0


def test_calliper_needs_less_than_two() -> None:
    """S10: two rectangles of 50 and 25 um make a trapezoid of edge ratio 1/3, whose factor is 1.83 (from memory)."""
    factor = trapezoid_factor(MECHANICAL_UM, RESOLUTION_UM, 0.95)
    # Half a unit of the last printed digit.
    assert factor == pytest.approx(1.83, abs=0.005)


def test_calliper_result() -> None:
    """S10: standard uncertainty 33 um, expanded 0.06 mm (from memory)."""
    rectangles = standard_from_half_width([MECHANICAL_UM, RESOLUTION_UM])
    # The rest of the printed budget (block 0.46, temperature 1.15 um) is small beside the two.
    combined = draw_up([*rectangles, 0.46, 1.15]).combined
    assert combined == pytest.approx(33.0, abs=1.0)
    assert trapezoid_factor(MECHANICAL_UM, RESOLUTION_UM, 0.95) * combined == pytest.approx(60.0, abs=5.0)


def test_calliper_by_the_exact_sum() -> None:
    """S10: the exact sum of the two rectangles gives the same factor as the trapezoid (from memory)."""
    rectangles = standard_from_half_width([MECHANICAL_UM, RESOLUTION_UM])
    exact = interval_half_width([MECHANICAL_UM, RESOLUTION_UM], 0.95) / np.hypot(*rectangles)
    assert exact == pytest.approx(float(trapezoid_factor(MECHANICAL_UM, RESOLUTION_UM, 0.95)), rel=1e-12)


def test_gauge_block_budget() -> None:
    """S4: seven contributions make 36.4 nm, and 73 nm at k = 2 (from memory)."""
    budget = draw_up(
        [15.0, 30.0 / 3**0.5, 5.37, 32.0 / 3**0.5, 0.05 / 3**0.5, 11.8, 6.7 / 3**0.5],
        [1.0, 1.0, 1.0, 1.0, 575.0, 1.0, 1.0],
    )
    assert budget.combined == pytest.approx(36.4, abs=0.05)
    assert 2.0 * budget.combined == pytest.approx(73.0, abs=0.5)
