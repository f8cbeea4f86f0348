"""Gear handbooks (centre distance and backlash) and manufacturing textbooks (selective assembly in equal groups).

From memory. The figures follow from the rules; no printed worked example with full data was found.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from tenthbook.trade.fit.gears import backlash_at_pitch, backlash_change
from tenthbook.trade.fit.selective import group_spread

HALF_LAST_DIGIT_MM = 5e-5  # the handbook figure has four decimals
PM_A_MM = 1_000_000_000


def test_backlash_comes_down_with_the_radius() -> None:
    """P9.3: 0.10 read at radius 60 is exactly 0.075 at pitch radius 45 (derived; gear handbook practice)."""
    assert backlash_at_pitch(Decimal("0.10"), Decimal(60), Decimal(45)) == Decimal("0.075")
    assert backlash_at_pitch(PM_A_MM // 10, 60 * PM_A_MM, 45 * PM_A_MM) == 75 * PM_A_MM // 1000


def test_backlash_grows_with_the_centre_distance() -> None:
    """P9.4: 0.05 mm more between centres at 20 degrees is 0.0364 mm of backlash (gear handbooks, from memory)."""
    assert backlash_change(0.05, 20.0) == pytest.approx(0.0364, abs=HALF_LAST_DIGIT_MM)


def test_four_groups_quarter_the_spread() -> None:
    """P10.6: 24 and 24 um sorted into 4 groups leave a spread of 12 um (manufacturing textbooks, from memory)."""
    assert group_spread(24, 24, 4) == 12
