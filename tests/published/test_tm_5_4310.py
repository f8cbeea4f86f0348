"""US Army TM 5-4310-354-14, table 5-2, oil pump.

Read; ground equipment, public domain. Columns: new minimum, new maximum, "maximum allowable wear/clearance". Inches to
four decimals, compared as whole picometres: every comparison of lengths is exact.
"""

from __future__ import annotations

import pytest

from tenthbook.numbers.limit import Band, bands
from tenthbook.numbers.quantity import quantity
from tenthbook.numbers.quantity.arrays import picometres
from tenthbook.trade.fit.forecast import FitOdds, PartSize, clearance_extremes, fit_odds, known_size, size_band

Pair = tuple[str, str]

SHAFT_BORE, GEAR_BORE, BORE_DEPTH = ("0.6255", "0.6265"), ("1.5005", "1.5015"), ("1.5640", "1.5650")
SHAFT, GEAR, GEAR_LENGTH = ("0.6240", "0.6245"), ("1.4975", "1.4985"), ("1.5610", "1.5620")
SHAFT_CLEARANCE, GEAR_CLEARANCE, END_CLEARANCE = ("0.0010", "0.0025"), ("0.0020", "0.0040"), ("0.0020", "0.0040")
BORE_WEAR, SHAFT_WEAR, LARGEST_SHAFT_CLEARANCE = "0.0030", "0.0020", "0.0060"

ROWS = [
    pytest.param(SHAFT_BORE, SHAFT, SHAFT_CLEARANCE, id="shaft clearance in body"),
    pytest.param(GEAR_BORE, GEAR, GEAR_CLEARANCE, id="gear clearance in body bore"),
    pytest.param(BORE_DEPTH, GEAR_LENGTH, END_CLEARANCE, id="end clearance, from depth and length"),
]


def pm(inches: str) -> int:
    """A printed length, in whole picometres."""
    return int(picometres([quantity(f"{inches} in")])[0])


def band(printed: Pair) -> PartSize:
    """A size row's new minimum and maximum."""
    return size_band(pm(printed[0]), pm(printed[1]))


def shaft_odds(hole: PartSize, shaft: PartSize) -> tuple[float, float, float]:
    """New, service and reject under the shaft clearance row: new pair, and the third column as largest clearance."""
    new = bands([Band(quantity(f"{SHAFT_CLEARANCE[0]} in"), quantity(f"{SHAFT_CLEARANCE[1]} in"))])
    service = bands([Band(None, quantity(f"{LARGEST_SHAFT_CLEARANCE} in"))])
    odds: FitOdds = fit_odds(hole, shaft, new, service)
    return float(odds.new[0]), float(odds.service[0]), float(odds.reject[0])


@pytest.mark.parametrize(("outside", "inside", "printed"), ROWS)
def test_printed_new_clearances(outside: Pair, inside: Pair, printed: Pair) -> None:
    """T2: each printed new clearance of table 5-2 is the extremes of its two part rows; end clearance likewise."""
    least, greatest = clearance_extremes(band(outside), band(inside))
    assert (least.item(), greatest.item()) == (pm(printed[0]), pm(printed[1]))


@pytest.mark.parametrize(("outside", "inside", "printed"), ROWS)
def test_new_parts_always_make_a_new_fit(outside: Pair, inside: Pair, printed: Pair) -> None:
    """T2: with new parts the clearance of table 5-2 is new for certain."""
    new = bands([Band(quantity(f"{printed[0]} in"), quantity(f"{printed[1]} in"))])
    odds = fit_odds(band(outside), band(inside), new)
    assert (odds.new.tolist(), odds.no_limit.tolist()) == ([1.0], [0.0])


def test_wear_on_a_size_row_is_not_a_largest_clearance() -> None:
    """T2: table 5-2 allows 0.0020 off the shaft but 0.0060 of clearance: so worn, in any new bore it still fits."""
    worn_shaft = known_size(pm(SHAFT[0]) - pm(SHAFT_WEAR))
    assert [end.item() for end in clearance_extremes(band(SHAFT_BORE), worn_shaft)] == [pm("0.0035"), pm("0.0045")]
    assert shaft_odds(band(SHAFT_BORE), worn_shaft) == (0.0, 1.0, 0.0)


def test_worn_shaft_in_worn_bore_is_beyond() -> None:
    """T2: both size rows worn as far as table 5-2 allows make 0.0075, beyond its 0.0060: the worst verdict rules."""
    worn_bore, worn_shaft = known_size(pm(SHAFT_BORE[1]) + pm(BORE_WEAR)), known_size(pm(SHAFT[0]) - pm(SHAFT_WEAR))
    assert [end.item() for end in clearance_extremes(worn_bore, worn_shaft)] == [pm("0.0075"), pm("0.0075")]
    assert shaft_odds(worn_bore, worn_shaft) == (0.0, 0.0, 1.0)
