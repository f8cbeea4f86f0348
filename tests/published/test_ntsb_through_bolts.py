"""US National Transportation Safety Board: examination of an engine after a power loss, report of December 2020.

The case number was not retrieved.

Read as an excerpt: 8 of 12 through-bolts were found below their torque; those at two main bearings broke away at 172 to
395 in-lb against 590 to 610 in-lb, and a bearing shell had turned and closed an oil passage. Break-away torque is not
the torque that was applied.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from tenthbook.numbers.limit import Band, Grade, Limits, judge
from tenthbook.numbers.quantity import quantity

LIMITS = Limits(
    Band(quantity("590 lbf.in"), quantity("610 lbf.in")), Band(quantity("590 lbf.in"), quantity("610 lbf.in"))
)


@pytest.mark.parametrize(("found", "short", "per_cent"), [("172", 418, 29), ("395", 195, 67)])
def test_the_bolts_at_the_turned_shell_are_below_their_range(found: str, short: int, per_cent: int) -> None:
    """Both ends of what was read lie below 590, by 418 and 195; they are 29 and 67 per cent of it, to a whole one."""
    value = quantity(f"{found} lbf.in").exact
    verdict = judge(value, LIMITS)
    assert (verdict.grade, verdict.side, verdict.distance) == (Grade.REJECT, "below", Fraction(short))
    assert round(100 * value / quantity("590 lbf.in").exact) == per_cent


def test_at_the_ends_of_the_range_a_bolt_is_within() -> None:
    """590 and 610 are within; a tenth less or more is not."""
    grades = [judge(quantity(f"{text} lbf.in").exact, LIMITS).grade for text in ("590", "610", "589.9", "610.1")]
    assert grades == [Grade.NEW, Grade.NEW, Grade.REJECT, Grade.REJECT]
    assert Fraction(172, 590) < Fraction(395, 590) < 1
