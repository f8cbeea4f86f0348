"""US Army TM 5-2410-237-23, work package 0245, engine oil pump, inspection steps 5 to 7.

Read; ground equipment, public domain. Sizes and tolerances are printed in inches and again in rounded millimetres. In
inches every comparison is exact.
"""

from __future__ import annotations

import pytest

from tenthbook.numbers.limit import Band, bands
from tenthbook.numbers.quantity import quantity
from tenthbook.numbers.quantity.arrays import picometres
from tenthbook.trade.fit.forecast import PartSize, clearance_extremes, forecast_fit, size_band

LAST_PRINTED_DIGIT = "0.001 mm"  # the millimetres of this page are rounded conversions


def pm(text: str) -> int:
    """A printed length, in whole picometres."""
    return int(picometres([quantity(text)])[0])


def band(nominal: str, tolerance: str) -> PartSize:
    """A size as this manual prints it: nominal plus or minus tolerance."""
    return size_band(pm(nominal) - pm(tolerance), pm(nominal) + pm(tolerance))


ROWS = [
    pytest.param(
        ("1.1260 in", "0.0019 in"), ("1.1225 in", "0.0005 in"), ("0.0011 in", "0.0059 in"), id="idler gear bearing"
    ),
    pytest.param(
        ("0.8763 in", "0.0003 in"), ("0.8747 in", "0.0002 in"), ("0.0011 in", "0.0021 in"), id="drive shaft bearings"
    ),
    pytest.param(
        ("1.5038 in", "0.0008 in"), ("1.4988 in", "0.0010 in"), ("0.0032 in", "0.0068 in"), id="gear ends to body"
    ),
]


@pytest.mark.parametrize(("outside", "inside", "printed"), ROWS)
def test_printed_clearances_in_inches(
    outside: tuple[str, str], inside: tuple[str, str], printed: tuple[str, str]
) -> None:
    """T1: the extremes of two printed sizes are the printed clearance, to the last digit, in the printed inch."""
    least, greatest = clearance_extremes(band(*outside), band(*inside))
    assert (least.item(), greatest.item()) == (pm(printed[0]), pm(printed[1]))


@pytest.mark.parametrize(("outside", "inside", "printed"), ROWS)
def test_new_parts_always_make_a_new_fit(
    outside: tuple[str, str], inside: tuple[str, str], printed: tuple[str, str]
) -> None:
    """T1: parts in their printed bands make the printed new clearance for certain: on the limit is within."""
    new = bands([Band(quantity(printed[0]), quantity(printed[1]))])
    odds = forecast_fit(band(*outside), band(*inside), new).odds
    assert (odds.new.tolist(), odds.no_limit.tolist()) == ([1.0], [0.0])


def test_printed_millimetres_are_one_last_digit_off() -> None:
    """T1: the row prints 0.028 to 0.150 mm, its millimetre sizes make 0.027 to 0.149: one last digit off."""
    least, greatest = clearance_extremes(band("28.600 mm", "0.048 mm"), band("28.512 mm", "0.013 mm"))
    assert (least.item(), greatest.item()) == (pm("0.027 mm"), pm("0.149 mm"))
    assert pm("0.028 mm") - least == pm(LAST_PRINTED_DIGIT)
    assert pm("0.150 mm") - greatest == pm(LAST_PRINTED_DIGIT)
