"""What combinations of old and new parts make: extremes, odds, blank limits, and laws that any forecast keeps."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.limit import Bands
from tenthbook.trade.fit.forecast import (
    FitOdds,
    PartSize,
    clearance_extremes,
    fit_odds,
    forecast_fit,
    known_size,
    side_by_side,
    size_band,
)

IN_PM = 25_400_000_000
TENTH_PM = 2_540_000
ROUNDING = 1e-12
ANOTHER_LAW: Any = "triangular"

Sides = tuple[int | None, int | None]

tenths = st.integers(-30, 30)
sides = st.one_of(st.none(), tenths)
shapes = st.sampled_from(["known", "doubted", "uniform", "normal"])


def part(shape: str, middle: int, width: int, unit: Any = 1) -> PartSize:
    """A part around a size in ten-thousandths, in the unit asked for."""
    low, high = (12_500 + middle) * unit, (12_500 + middle + width) * unit
    if shape == "known":
        return known_size(low)
    if shape == "doubted":
        return known_size(low, (width + 0.5) / 3 * float(unit))
    return size_band(low, high, "uniform" if shape == "uniform" else "normal at 6 sigma")


def limits(tightest: object, loosest: object) -> Bands:
    """Limits of one or several rows, None where a row leaves the side blank."""
    lower, upper = np.broadcast_arrays(np.array(tightest, dtype=object), np.array(loosest, dtype=object))
    given = np.array([low is not None or high is not None for low, high in zip(lower.flat, upper.flat, strict=True)])
    return Bands(side(lower, -1), side(upper, 1), given.reshape(lower.shape))


def side(values: NDArray[Any], sign: int) -> NDArray[Any]:
    """One side of the limits, its blanks as `Bands` keeps them."""
    stated = [value for value in values.flat if value is not None]
    whole = all(isinstance(value, int) for value in stated)
    far: object = sign * 2**62 if whole else sign * (Decimal("Infinity") if isinstance(stated[0], Decimal) else np.inf)
    filled = np.array([far if value is None else value for value in values.flat], dtype=np.int64 if whole else object)
    return filled.reshape(values.shape)


def values(odds: FitOdds) -> NDArray[Any]:
    """The four odds, a row each."""
    return np.array([odds.new, odds.service, odds.reject, odds.no_limit])


def ordered(one: int | None, two: int | None) -> Sides:
    """A pair of sides the right way round."""
    return (one, two) if one is None or two is None else (min(one, two), max(one, two))


def test_new_gears_in_a_worn_body() -> None:
    """A bore of 1.40505 in, u = 0.00006, with new gears makes 0.00575 to 0.00675, under 1 % back to new."""
    body = known_size(Decimal("1.40505"), 0.00006)
    gears = size_band(Decimal("1.3983"), Decimal("1.3993"))
    new, service = limits(Decimal("0.0037"), Decimal("0.0057")), limits(None, Decimal("0.0090"))
    made = forecast_fit(body, gears, new, service)
    assert [end.item() for end in made.clearance] == [Decimal("0.00575"), Decimal("0.00675")]
    assert 0.0 < made.odds.new < 0.01
    assert made.odds.service == pytest.approx(1.0 - made.odds.new, abs=ROUNDING)


def test_on_the_limit_is_within() -> None:
    """Two known sizes exactly at the limit are new, a picometre beyond are not, on either side."""
    hole, shaft = known_size([100, 100, 99, 101]), known_size([90, 89, 90, 90])
    odds = fit_odds(hole, shaft, limits(10, 10), limits(None, 11))
    assert odds.new.tolist() == [1.0, 0.0, 0.0, 0.0]
    assert odds.service.tolist() == [0.0, 1.0, 0.0, 1.0]
    assert odds.reject.tolist() == [0.0, 0.0, 1.0, 0.0]


def test_binary_fractions_do_not_reject_a_part_at_its_limit() -> None:
    """Hole 2.0045 less shaft 2.0020 against 0.0025 is within; binary floats would reject it."""
    typed = [Decimal("2.0045"), Decimal("2.0020"), Decimal("0.0025")]
    for hole, shaft, limit in (typed, [int(value * IN_PM) for value in typed]):
        assert fit_odds(known_size(hole), known_size(shaft), limits(None, limit)).new == 1.0
    assert 2.0045 - 2.0020 > 0.0025


def test_two_uniform_bands_make_a_trapezoid() -> None:
    """Bands of 4 and 2 against the half of the spread: areas of the trapezoid, by hand."""
    odds = fit_odds(size_band(10, 14), size_band(6, 8), limits(2, 4), limits(None, 7))
    assert odds.new == pytest.approx(2 * 2 / 2 / 8, abs=ROUNDING)
    assert odds.reject == pytest.approx(1 / 16, abs=ROUNDING)
    assert odds.service == pytest.approx(1 - 1 / 4 - 1 / 16, abs=ROUNDING)


def test_normal_at_6_sigma_is_not_cut_off() -> None:
    """A normal band reaches 0.27 per cent past its own limits, while the extremes stay the limits."""
    made = forecast_fit(size_band(0, 6, "normal at 6 sigma"), known_size(0), limits(0, 6))
    assert [end.item() for end in made.clearance] == [0, 6]
    assert made.odds.new == pytest.approx(0.9973, abs=5e-5)


@pytest.mark.parametrize("hole", ["known", "doubted", "uniform", "normal"])
@pytest.mark.parametrize("shaft", ["doubted", "uniform", "normal"])
def test_sampling_agrees(hole: str, shaft: str) -> None:
    """Every pair of laws lands within five standard errors of a seeded sample of 200 000."""
    random = np.random.default_rng(7)
    count = 200_000

    def draw(given: PartSize) -> NDArray[Any]:
        middle = (float(given.least) + float(given.greatest)) / 2
        if given.is_uniform:
            return random.uniform(float(given.least), float(given.greatest), count)
        return middle + float(given.sigma) * random.standard_normal(count)

    outer, inner = part(hole, 20, 12), part(shaft, 0, 8)
    clearances = draw(outer) - draw(inner)
    odds = fit_odds(outer, inner, limits(14, 22), limits(10, 26))
    seen_new = np.mean((clearances >= 14) & (clearances <= 22))
    seen_in = np.mean((clearances >= 10) & (clearances <= 26))
    for seen, law in [(seen_new, odds.new), (seen_in - seen_new, odds.service), (1 - seen_in, odds.reject)]:
        assert abs(seen - law) <= 5 * np.sqrt(law * (1 - law) / count) + 1e-12


def test_without_a_service_limit_nothing_is_rejected() -> None:
    """Outside new limits and with no service row the outcome is "no limit"; service and reject do not exist."""
    for service in (None, limits(None, None)):
        odds = fit_odds(size_band(10, 20), known_size(0), limits(None, 15), service)
        assert [odds.new.item(), odds.no_limit.item()] == [0.5, 0.5]
        assert np.isnan(odds.service)
        assert np.isnan(odds.reject)


def test_without_a_new_limit_new_does_not_exist() -> None:
    """A row with a service limit alone has no odds of new; a row with nothing gives only "no limit"."""
    odds = fit_odds(size_band(10, 20), known_size(0), limits(None, None), limits(None, 15))
    assert np.isnan(odds.new)
    assert [odds.service.item(), odds.reject.item(), odds.no_limit.item()] == [0.5, 0.5, 0.0]
    nothing = fit_odds(size_band(10, 20), known_size(0), limits(None, None))
    assert nothing.no_limit == 1.0
    assert np.isnan(values(nothing)[:3]).all()


def test_a_tight_fit_wears_towards_loose() -> None:
    """A service row of least tightness keeps the new limit on the tight side and opens the loose one."""
    new, service = limits(-20, -10), limits(None, -5)
    odds = fit_odds(known_size([100] * 4), known_size([121, 115, 107, 104]), new, service)
    assert values(odds)[:3].T.tolist() == [[0, 0, 1], [1, 0, 0], [0, 1, 0], [0, 0, 1]]


def test_a_service_row_that_does_not_hold_the_new_one() -> None:
    """A contradictory row still adds up: what is new counts as new, service is only what is not new."""
    odds = fit_odds(size_band(10, 20), known_size(0), limits([10, 16], [14, 20]), limits([12, 12], [18, 18]))
    assert odds.new == pytest.approx([0.4, 0.4], abs=ROUNDING)
    assert odds.service == pytest.approx([0.4, 0.4], abs=ROUNDING)
    assert odds.reject == pytest.approx([0.2, 0.2], abs=ROUNDING)


def test_candidates_side_by_side() -> None:
    """Keep, a measured spare and a new part are forecast in one call, and answer as each alone."""
    candidates = [
        known_size(1010, 1.0),
        known_size(1004),
        size_band(1000, 1006),
        size_band(1000, 1006, "normal at 6 sigma"),
    ]
    new, service = limits(2, 6), limits(None, 9)
    shaft = known_size(1000, 0.0)
    together = values(fit_odds(side_by_side(candidates), shaft, new, service))
    alone = np.array([values(fit_odds(one, shaft, new, service)) for one in candidates]).T
    assert together.tolist() == alone.tolist()


def test_every_hole_with_every_shaft() -> None:
    """Arrays broadcast: two holes down and three shafts across give two by three forecasts, and so do their odds."""
    hole = known_size(np.array([[110], [120]]))
    shaft = size_band([100, 101, 102], [104, 105, 106])
    made = forecast_fit(hole, shaft, limits(5, 10), limits([None, None, None], [None, 12, 14]))
    assert made.clearance.least.tolist() == [[6, 5, 4], [16, 15, 14]]
    assert made.clearance.greatest.tolist() == [[10, 9, 8], [20, 19, 18]]
    assert values(made.odds).shape == (4, 2, 3)
    assert np.isnan(made.odds.reject[:, 0]).all()


@given(
    hole=shapes,
    shaft=shapes,
    at=st.tuples(tenths, tenths),
    width=st.tuples(st.integers(0, 20), st.integers(0, 20)),
    new=st.tuples(sides, sides),
    wear=st.tuples(sides, sides),
)
def test_odds_add_up_to_one(
    hole: str, shaft: str, at: tuple[int, int], width: tuple[int, int], new: Sides, wear: Sides
) -> None:
    """Whatever the parts and limits, the odds that exist lie between 0 and 1 and add up to one."""
    outer, inner = part(hole, at[0], width[0]), part(shaft, at[1], width[1])
    odds = values(fit_odds(outer, inner, limits(*ordered(*new)), limits(*ordered(*wear))))
    there = odds[~np.isnan(odds)]
    assert there.sum() == pytest.approx(1.0, abs=ROUNDING)
    assert np.all((there >= 0.0) & (there <= 1.0))


@given(
    hole=shapes,
    shaft=shapes,
    at=st.tuples(tenths, tenths),
    width=st.tuples(st.integers(0, 20), st.integers(0, 20)),
    new=st.tuples(sides, sides),
    wear=st.tuples(sides, sides),
)
def test_turning_the_fit_round_gives_the_same_odds(
    hole: str, shaft: str, at: tuple[int, int], width: tuple[int, int], new: Sides, wear: Sides
) -> None:
    """A hole taken for a shaft with every sign turned gives the mirrored clearance and the same odds."""
    outer, inner = part(hole, at[0], width[0]), part(shaft, at[1], width[1])
    new, wear = ordered(*new), ordered(*wear)

    def turned(pair: Sides) -> Sides:
        tight, loose = (None if end is None else -end for end in pair)
        return loose, tight

    straight = forecast_fit(outer, inner, limits(*new), limits(*wear))
    mirror = forecast_fit(inner, outer, limits(*turned(new)), limits(*turned(wear)))
    assert mirror.clearance == (-straight.clearance.greatest, -straight.clearance.least)
    assert values(mirror.odds) == pytest.approx(values(straight.odds), abs=ROUNDING, nan_ok=True)


@given(
    hole=shapes,
    shaft=shapes,
    at=st.tuples(tenths, tenths),
    width=st.tuples(st.integers(0, 20), st.integers(0, 20)),
    new=st.tuples(sides, sides),
    wear=st.tuples(sides, sides),
)
def test_inch_and_millimetre_agree(
    hole: str, shaft: str, at: tuple[int, int], width: tuple[int, int], new: Sides, wear: Sides
) -> None:
    """Ten-thousandths of an inch as picometres and the same sizes as decimal millimetres give one answer."""
    mm = Decimal("0.00254")
    answers = []
    for unit in (TENTH_PM, mm):
        sides_in_unit = [[None if end is None else end * unit for end in ordered(*pair)] for pair in (new, wear)]
        outer, inner = part(hole, at[0], width[0], unit), part(shaft, at[1], width[1], unit)
        answers.append(forecast_fit(outer, inner, limits(*sides_in_unit[0]), limits(*sides_in_unit[1])))
    inch, metric = answers
    assert [int(end) for end in inch.clearance] == [int(end * 10**9) for end in metric.clearance]
    assert values(inch.odds) == pytest.approx(values(metric.odds), abs=ROUNDING, nan_ok=True)


@given(at=tenths, width=st.integers(0, 20), looser=st.integers(0, 20), hole=shapes, shaft=shapes)
def test_a_wider_limit_never_makes_it_worse(at: int, width: int, looser: int, hole: str, shaft: str) -> None:
    """Raising the service maximum never raises the odds of a reject."""
    outer, inner = part(hole, at, width), part(shaft, 0, 7)
    new = limits(0, 10)
    strict, wide = (fit_odds(outer, inner, new, limits(None, top)).reject for top in (12, 12 + looser))
    assert wide <= strict + ROUNDING


def test_fractions_are_exact_too() -> None:
    """Thirds of a millimetre meet their limit exactly."""
    odds = fit_odds(known_size(Fraction(4, 3)), known_size(Fraction(1)), limits(Fraction(1, 3), Fraction(1, 3)))
    assert odds.new == 1.0


def test_limits_finer_than_a_picometre_may_be_blank_too() -> None:
    """Exact fractions with a blank beside them, known sizes or blurred bands, judge only the side that is stated."""
    new = limits([None, Fraction(7, 3)], [Fraction(7, 3), None])
    known = fit_odds(known_size(Fraction(16, 3)), known_size(Fraction(3)), new)
    assert known.new.tolist() == [1.0, 1.0]
    blurred = fit_odds(size_band(Fraction(13, 3), Fraction(19, 3)), known_size(3, 0.5), new)
    assert blurred.new == pytest.approx([0.5, 0.5], abs=ROUNDING)


def test_a_band_of_no_width_is_a_known_size() -> None:
    """Equal limits leave nothing open, under either law."""
    for law in ("uniform", "normal at 6 sigma"):
        made = forecast_fit(size_band(110, 110, law), known_size(100), limits(10, 10))
        assert made.odds.new == 1.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: size_band(5, 4), "the smaller limit first"),
        (lambda: size_band(4, 5, ANOTHER_LAW), "uniform or normal at 6 sigma"),
        (lambda: known_size(5, -1.0), "standard uncertainty -1"),
        (lambda: known_size("5"), "a finite number"),
        (lambda: side_by_side([]), "at least one candidate"),
    ],
)
def test_misuse_is_named(call: Callable[[], object], says: str) -> None:
    """A part that cannot be is refused with what was found and what is expected."""
    with pytest.raises(TenthbookError, match=says):
        call()


def test_extremes_need_no_limits() -> None:
    """What parts can make is known before any limit is."""
    assert [end.item() for end in clearance_extremes(size_band(10, 14), known_size(8))] == [2, 6]
