"""What new parts will make of a fit: exact ends, and odds that a second reckoning and a great many draws confirm."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.quantity import find_unit
from tenthbook.record.book import Book, read_book
from tenthbook.record.workup import Forecast
from tenthbook.record.workup.forecasts import forecasts_of
from tests.builders import FITS_CSV, SIZES_CSV, Workplace, small_book

INCH = find_unit("in").factor
STORY = Path(__file__).parents[3] / "story" / "books" / "dunlin-four"
DRAWS = 400_000


def of(book: Book, fit: str, hole: str, shaft: str, hole_u: str = "", shaft_u: str = "") -> tuple[Forecast, ...]:
    """Forecast a fit from sizes and standard uncertainties in inches, four decimals."""
    sides = [
        (Fraction(size) * INCH, Fraction(u) * INCH if u else None) for size, u in ((hole, hole_u), (shaft, shaft_u))
    ]
    return forecasts_of(book, book.fits[fit], sides[0], sides[1], 4)


def chances(forecast: Forecast) -> list[float]:
    """The odds that exist."""
    return [chance for chance in (forecast.odds_new, forecast.odds_service, forecast.odds_beyond) if chance is not None]


@pytest.fixture(scope="module")
def dunlin() -> Book:
    """The book of the demonstration (invented)."""
    return read_book({file.name: file.read_bytes() for file in STORY.iterdir()})


def test_new_gears_do_not_bring_the_tips_back_to_new(dunlin: Book) -> None:
    """In the body at 1.40505 they make 0.00575 to 0.00675; 0.0057 is the new limit, so the odds of new are small."""
    inner, outer, both = of(dunlin, "fit.tip-clearance", "1.40505", "1.3984", "0.00006", "0.00005")
    assert inner.line == (
        "with a new oil pump gear, driving: 0.00575 to 0.00675 in; odds new under 1 %, service over 99 %, beyond 0 %"
    )
    assert (inner.least, inner.greatest) == (Fraction("0.00575") * INCH, Fraction("0.00675") * INCH)
    assert outer.line.startswith("with a new oil pump body: 0.0046 to 0.0056 in; odds new ")
    assert both.line == "with both new: 0.0037 to 0.0057 in; odds new 100 %, service 0 %, beyond 0 %"


def test_new_gears_bring_the_ends_back_into_service(dunlin: Book) -> None:
    """In the chamber at 0.5063 they make 0.0068 to 0.0078: not new, certainly within 0.0092."""
    inner, outer, both = of(dunlin, "fit.end-clearance", "0.5063", "0.4966", "0.0001", "0.000025")
    assert inner.line == (
        "with a new oil pump gear, driving: 0.0068 to 0.0078 in; odds new 0 %, service 100 %, beyond 0 %"
    )
    assert outer.text == "0.0061 to 0.0071 in"
    assert both.text == "0.0032 to 0.0052 in"


def test_what_the_story_ordered_is_foreseen_too(dunlin: Book) -> None:
    """A new shaft in the bush at 0.5130 makes 0.0016 to 0.0022, at worst on the new limit."""
    inner = of(dunlin, "fit.shaft-in-bush", "0.5130", "0.5094")[0]
    assert inner.line == "with a new oil pump drive shaft: 0.0016 to 0.0022 in; odds new 100 %, service 0 %, beyond 0 %"


def test_a_fit_that_is_judged_carries_its_forecasts() -> None:
    """Inner part new, outer part new, both, in this order; of sizes the verdict itself has none."""
    place = Workplace().open()
    shaft, bore = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.5092 in")
    place.read(bore, "size.bore", "0.5130 in")
    (fit,) = place.work_up().fits
    assert [one.line for one in fit.forecasts] == [
        "with a new pump shaft: 0.0016 to 0.0022 in; odds new 100 %, service 0 %, beyond 0 %",
        "with a new pump housing: 0.0032 to 0.0038 in; odds new 0 %, service 83 %, beyond 17 %",
        "with both new: 0.0010 to 0.0022 in; odds new 100 %, service 0 %, beyond 0 %",
    ]


def test_the_doubt_of_the_gauge_moves_the_odds_and_not_the_ends() -> None:
    """The ends are at face value with and without doubt."""
    plain, doubted = (of(small_book(), "fit.shaft", "0.5130", "0.5092", u, u)[1] for u in ("", "0.0002"))
    assert (plain.least, plain.greatest) == (doubted.least, doubted.greatest)
    assert plain.odds_beyond == pytest.approx(1 / 6, abs=1e-12)
    assert doubted.odds_beyond is not None
    assert doubted.odds_beyond > 0.17


@pytest.mark.parametrize(
    ("shaft", "housing", "labels"),
    [
        ("0.5108,0.5114", "0.5124,0.5130", ["with a new pump shaft", "with a new pump housing", "with both new"]),
        (",", "0.5124,0.5130", ["with a new pump housing"]),
        ("0.5108,0.5114", "0.5124,", ["with a new pump shaft"]),
        ("0.5108,", ",0.5130", []),
    ],
)
def test_only_what_the_book_gives_new_sizes_for_is_foreseen(shaft: str, housing: str, labels: list[str]) -> None:
    """A part whose new size is blank on a side cannot be foreseen as new."""
    sizes = SIZES_CSV.replace("0.5108,0.5114", shaft).replace("0.5124,0.5130", housing)
    assert [one.label for one in of(small_book(sizes=sizes), "fit.shaft", "0.5130", "0.5092")] == labels


@pytest.mark.parametrize(
    ("row", "named"),
    [
        ("absolute,in,0.0010,0.0022,,0.0037", ["new", "service", "beyond"]),
        ("absolute,in,0.0010,0.0022,,", ["new"]),
        ("absolute,in,,,,0.0037", ["service", "beyond"]),
        ("none,in,,,,", []),
    ],
)
def test_odds_are_told_only_of_limits_the_row_gives(row: str, named: list[str]) -> None:
    """Without new limits there is no chance of new, without a service limit none of service or beyond."""
    book = small_book(fits=FITS_CSV.replace("absolute,in,0.0010,0.0022,,0.0037", row))
    for forecast in of(book, "fit.shaft", "0.5130", "0.5092", "0.0001", "0.0001"):
        odds = forecast.line.partition("; odds ")[2]
        assert [one.split()[0] for one in odds.split(", ") if one] == named
        assert len(chances(forecast)) == len(named)


@pytest.mark.parametrize(
    ("chance", "text"),
    [
        (0.0, "0 %"),
        (1e-9, "under 1 %"),
        (0.0099, "under 1 %"),
        (0.01, "1 %"),
        (0.5, "50 %"),
        (0.99, "99 %"),
        (0.9901, "over 99 %"),
        (1.0, "100 %"),
    ],
)
def test_never_and_always_are_said_only_of_what_cannot_be_otherwise(chance: float, text: str) -> None:
    """Nought and a hundred per cent are kept for certainty."""
    nought = Fraction(0)
    assert (
        Forecast("with x", nought, nought, "0 to 0 in", chance, None, None).line
        == f"with x: 0 to 0 in; odds new {text}"
    )


@pytest.mark.parametrize(
    ("hole", "shaft", "hole_u", "shaft_u"),
    [
        ("0.5130", "0.5092", "", ""),
        ("0.5130", "0.5092", "0.0002", "0.0001"),
        ("0.5140", "0.5098", "0.00003", "0.0003"),
        ("0.5145", "0.5100", "0.0001", ""),
    ],
)
def test_a_great_many_draws_give_the_same_odds(hole: str, shaft: str, hole_u: str, shaft_u: str) -> None:
    """Sizes that stay are drawn normal about their reading, new parts flat in their band; five sigma of the count."""
    random = np.random.default_rng(417)
    kept = [random.normal(float(size), float(u or 0), DRAWS) for size, u in ((hole, hole_u), (shaft, shaft_u))]
    new_hole, new_shaft = random.uniform(0.5124, 0.5130, DRAWS), random.uniform(0.5108, 0.5114, DRAWS)
    made = [kept[0] - new_shaft, new_hole - kept[1], new_hole - new_shaft]
    for forecast, gap in zip(of(small_book(), "fit.shaft", hole, shaft, hole_u, shaft_u), made, strict=True):
        is_new = (gap >= 0.0010) & (gap <= 0.0022)
        serves = (gap >= 0.0010) & (gap <= 0.0037) & ~is_new
        for chance, found in zip(chances(forecast), (is_new, serves, ~is_new & ~serves), strict=True):
            tolerance = 5 * np.sqrt(max(chance * (1 - chance), 1 / DRAWS) / DRAWS)
            assert found.mean() == pytest.approx(chance, abs=tolerance), forecast.label


TENTHS = st.integers(5080, 5160)
DOUBTS = st.sampled_from(["", "0.00001", "0.0001", "0.0005"])


@given(TENTHS, TENTHS, DOUBTS, DOUBTS)
@settings(deadline=None)
def test_ends_are_exact_and_odds_add_up(hole: int, shaft: int, hole_u: str, shaft_u: str) -> None:
    """Least and greatest are the book's new limits less the size that stays, and something always comes of it."""
    made = of(small_book(), "fit.shaft", f"0.{hole}", f"0.{shaft}", hole_u, shaft_u)
    ends = [(hole - 5114, hole - 5108), (5124 - shaft, 5130 - shaft), (5124 - 5114, 5130 - 5108)]
    assert [(one.least, one.greatest) for one in made] == [
        (Fraction(least, 10_000) * INCH, Fraction(greatest, 10_000) * INCH) for least, greatest in ends
    ]
    for one in made:
        assert sum(chances(one)) == pytest.approx(1.0, abs=1e-12)
        assert all(0 <= chance <= 1 for chance in chances(one))


@given(TENTHS, TENTHS)
@settings(deadline=None)
def test_without_doubt_what_cannot_be_has_no_odds(hole: int, shaft: int) -> None:
    """Where both ends lie in one grade its odds are a hundred per cent, and a grade that no end reaches has none."""

    def grade(tenths: int) -> int:
        return 0 if 10 <= tenths <= 22 else 1 if 10 <= tenths <= 37 else 2

    made = of(small_book(), "fit.shaft", f"0.{hole}", f"0.{shaft}")
    ends = [(hole - 5114, hole - 5108), (5124 - shaft, 5130 - shaft), (10, 22)]
    for one, (least, greatest) in zip(made, ends, strict=True):
        reached = {grade(tenths) for tenths in range(least, greatest + 1)}
        if len(reached) == 1:
            assert chances(one) == [float(place in reached) for place in range(3)], one.line


@given(TENTHS, DOUBTS)
@settings(deadline=None)
def test_a_wider_service_limit_never_raises_the_odds_of_beyond(hole: int, hole_u: str) -> None:
    """0.0037 against 0.0050, for each of the three ways."""
    wide = small_book(fits=FITS_CSV.replace("0.0037", "0.0050"))
    for one, other in zip(
        of(small_book(), "fit.shaft", f"0.{hole}", "0.5092", hole_u),
        of(wide, "fit.shaft", f"0.{hole}", "0.5092", hole_u),
        strict=True,
    ):
        assert one.odds_beyond is not None
        assert other.odds_beyond is not None
        assert other.odds_beyond <= one.odds_beyond + 1e-12


def test_a_tight_fit_is_foreseen_with_its_letter() -> None:
    """Where the fit itself is written 0.0006T, what new parts make of it is written the same way."""
    place = Workplace().open()
    cover, plug = place.remove("part.cover"), place.remove("part.plug")
    place.read(cover, "size.plug-hole", "0.2504 in")
    place.read(plug, "size.plug", "0.2510 in")
    (fit,) = place.work_up().fits
    assert fit.text == "0.0006T"
    assert [one.text for one in fit.forecasts] == [
        "0.0011T to 0.0006T in",
        "0.0010T to 0.0005T in",
        "0.0015T to 0.0005T in",
    ]
