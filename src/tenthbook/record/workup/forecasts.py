"""What new parts will make of a fit, from the book's new limits and the sizes that stay.

Before anything is ordered: a new inner part in the measured outer one, a new outer part round the measured inner one,
and both new. New parts are taken as equally likely anywhere in their band. The extremes are exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

import numpy as np

from tenthbook.numbers.limit import bands
from tenthbook.numbers.quantity import lettered, shown
from tenthbook.numbers.quantity.arrays import PICOMETRES, exact_picometres, metres
from tenthbook.record.book import Book, Fit, Size
from tenthbook.trade.fit.forecast import FitForecast, PartSize, forecast_fit, known_size, side_by_side, size_band

Known = tuple[Fraction, Fraction | None]  # a measured size and its standard uncertainty [m]


@dataclass(frozen=True, slots=True)
class Forecast:
    """A fit with new parts.

    Attributes:
        label: What is new, such as "with a new oil pump drive shaft".
        least: Least clearance it will make [m], exact.
        greatest: Greatest clearance [m], exact.
        text: Both in the row's unit [in or mm].
        odds_new: Chance of new limits [-]; None where the row gives none.
        odds_service: Chance of service limits only [-]; None where the row gives none.
        odds_beyond: Chance of lying beyond [-]; None where the row gives no service limit.
    """

    label: str
    least: Fraction
    greatest: Fraction
    text: str
    odds_new: float | None
    odds_service: float | None
    odds_beyond: float | None

    @property
    def line(self) -> str:
        """The forecast on one line."""
        named = (("new", self.odds_new), ("service", self.odds_service), ("beyond", self.odds_beyond))
        odds = ", ".join(f"{name} {_per_cent(chance)}" for name, chance in named if chance is not None)
        return f"{self.label}: {self.text}" + (f"; odds {odds}" if odds else "")


def _per_cent(chance: float) -> str:
    if 0 < chance < 0.01:
        return "under 1 %"
    if 0.99 < chance < 1:
        return "over 99 %"
    return f"{chance:.0%}".replace("%", " %")


def _known(value: Fraction, u: Fraction | None) -> PartSize:
    return known_size(exact_picometres([value])[0], float(u * PICOMETRES) if u is not None else 0.0)


def _new(size: Size) -> PartSize | None:
    band = size.limits.new
    if band.lower is None or band.upper is None:
        return None
    least, greatest = exact_picometres([band.lower.exact, band.upper.exact])
    return size_band(least, greatest)


def _end(value: Any) -> Fraction:
    return metres(np.asarray(value).item())


def _chance(value: Any) -> float | None:
    number = float(value)
    return None if np.isnan(number) else number


def _shown(label: str, fit: Fit, made: FitForecast, place: int, decimals: int) -> Forecast:
    least, greatest = _end(made.clearance.least[place]), _end(made.clearance.greatest[place])
    write = lettered if least < 0 else shown
    ends = [write(one / fit.unit.factor, decimals) for one in (least, greatest)]
    odds = (_chance(made.odds.new[place]), _chance(made.odds.service[place]), _chance(made.odds.reject[place]))
    return Forecast(label, least, greatest, f"{ends[0]} to {ends[1]} {fit.unit.name}", *odds)


@lru_cache(maxsize=512)
def _forecasts(
    fit: Fit, rows: tuple[Size, Size], names: tuple[str, str], known: tuple[Known, Known], decimals: int
) -> tuple[Forecast, ...]:
    """The three ways at once; a fit whose sizes stand is not worked out again."""
    (outer, inner), (new_outer, new_inner) = (_known(*one) for one in known), (_new(row) for row in rows)
    ways = [
        (f"with a new {names[1]}", outer, new_inner),
        (f"with a new {names[0]}", new_outer, inner),
        ("with both new", new_outer, new_inner),
    ]
    possible = [(label, one, other) for label, one, other in ways if one is not None and other is not None]
    if not possible:
        return ()
    holes, shafts = side_by_side([one for _, one, _ in possible]), side_by_side([other for _, _, other in possible])
    new, service = (bands([band] * len(possible)) for band in (fit.limits.new, fit.limits.service))
    made = forecast_fit(holes, shafts, new, service)
    return tuple(_shown(label, fit, made, place, decimals) for place, (label, _, _) in enumerate(possible))


def forecasts_of(book: Book, fit: Fit, hole: Known, shaft: Known, decimals: int) -> tuple[Forecast, ...]:
    """Forecast a fit with new parts.

    Args:
        book: The pinned book.
        fit: The row.
        hole: Measured size of the outer part and its standard uncertainty [m], None where that is not known.
        shaft: The same of the inner part [m].
        decimals: Decimals of the figures they came from.

    Returns:
        A forecast for the inner part new, the outer part new, and both; those for which the book gives new sizes.

    Source: US Army TM 5-4310-354-14, table 5-2, for the arithmetic. Checked in: tests/published/test_tm_5_4310.py
    """
    outer, inner = book.sizes[fit.hole], book.sizes[fit.shaft]
    names = book.parts[outer.part].name, book.parts[inner.part].name
    return _forecasts(fit, (outer, inner), names, (hole, shaft), decimals)
