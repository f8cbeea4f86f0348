"""What will new parts make of this fit, and how likely is it new, in service limits or beyond?

Each part is either a size already known, with its doubt, or a band that a new part may fall in. The least and
greatest clearance are exact; a known size counts there at face value. It reads no book and weighs no price. In go
sizes in one length unit (whole picometres, `Decimal` or `Fraction` stay exact), one combination or arrays of them;
out come clearances in the same unit and odds.

A new part's law is a choice, not knowledge: uniform says nothing but the two limits; "normal at 6 sigma" is centred
with a sixth of the band as standard deviation and is not cut off at the limits, so about one part in 370 lies outside
them.

Sources: JCGM 101:2008, 6.4; US Army TM 5-4310-354-14 and TM 5-2410-237-23 as published twins of the arithmetic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from tenthbook.numbers.limit import Bands, service_bands
from tenthbook.trade.fit.clearance_law import probability_below
from tenthbook.trade.fit.faults import CrossedLimits, OutOfRange
from tenthbook.trade.fit.lengths import Flags, Floats, Lengths, LengthsLike, as_floats, as_lengths
from tenthbook.trade.gauge.sizes import margins

Law = Literal["uniform", "normal at 6 sigma"]

_FAR = 2.0**62  # where a blank limit lies
_BLANK = Bands(np.array(-(2**62)), np.array(2**62), np.array(False))  # no row at all


@dataclass(frozen=True, slots=True)
class PartSize:
    """What is known of a part's size: a scalar, or one element a combination.

    Attributes:
        least: Smallest size counted with [pm] or any one unit, for instance [mm].
        greatest: Largest size counted with, same unit.
        sigma: Standard deviation of the normal doubt, same unit; 0 where there is none.
        is_uniform: Whether every size between the two is taken as equally likely [-].
    """

    least: Lengths
    greatest: Lengths
    sigma: Floats
    is_uniform: Flags


class ClearanceExtremes(NamedTuple):
    """The two ends of what a combination can make.

    Attributes:
        least: Least clearance [pm] or the unit of the sizes, for instance [mm]; negative is tight.
        greatest: Greatest clearance, same unit.
    """

    least: Lengths
    greatest: Lengths


@dataclass(frozen=True, slots=True)
class FitOdds:
    """How likely each outcome is; those that exist add up to one.

    Attributes:
        new: Probability that the clearance lies in the new limits [-]; NaN where the row gives none.
        service: In the service limits but not in the new ones [-]; NaN where no service limit is given.
        reject: Outside both [-]; NaN where no service limit is given.
        no_limit: Outside the new limits with no service limit to judge by [-].
    """

    new: Floats
    service: Floats
    reject: Floats
    no_limit: Floats


@dataclass(frozen=True, slots=True)
class FitForecast:
    """What a combination of parts will make.

    Attributes:
        clearance: Least and greatest clearance [pm] or the unit of the sizes, for instance [mm].
        odds: How likely it is new, in service limits or beyond [-].
    """

    clearance: ClearanceExtremes
    odds: FitOdds


def known_size(size: LengthsLike, standard_uncertainty: ArrayLike = 0.0) -> PartSize:
    """Take a part that has been measured.

    Args:
        size: Size [pm] or any one unit, for instance [mm]; scalar or array.
        standard_uncertainty: Its standard uncertainty, same unit; broadcasts.

    Returns:
        The part; its extremes are the size at face value, the doubt only moves the odds.

    Raises:
        NotANumber: a size or uncertainty that is none.
        OutOfRange: a negative uncertainty.

    Source: rule of this book (the plain value stands first). Checked in: tests/unit/fit/test_forecast.py
    """
    sizes = as_lengths(size, "size")
    sigma = as_floats(standard_uncertainty, "standard uncertainty", least=0.0)
    sizes, sigma = np.broadcast_arrays(sizes, sigma)
    return PartSize(sizes, sizes, sigma, np.zeros(sizes.shape, dtype=np.bool_))


def size_band(least: LengthsLike, greatest: LengthsLike, law: Law = "uniform") -> PartSize:
    """Take a new part of which only its limits are known.

    Args:
        least: Smallest new size [pm] or any one unit, for instance [mm]; scalar or array.
        greatest: Largest new size, same unit; broadcasts.
        law: "uniform", or "normal at 6 sigma" (centred, standard deviation a sixth of the band, not cut off).

    Returns:
        The part.

    Raises:
        NotANumber: a limit that is none.
        CrossedLimits: limits the wrong way round.
        OutOfRange: another law.

    Source: JCGM 101:2008, 6.4.2 (rectangular) and 6.4.7 (Gaussian), clause numbers from memory. Checked in:
        tests/published/test_tm_5_4310.py
    """
    low, high = np.broadcast_arrays(as_lengths(least, "least size"), as_lengths(greatest, "greatest size"))
    if bool(np.any(low > high)):
        raise CrossedLimits(found="a least size above the greatest", expected="the smaller limit first")
    if law not in ("uniform", "normal at 6 sigma"):
        raise OutOfRange(found=f"distribution {law!r}", expected="uniform or normal at 6 sigma")
    flat = law == "uniform"
    sigma = np.zeros(low.shape) if flat else np.asarray(_floats(high - low) / 6.0, dtype=np.float64)
    return PartSize(low, high, sigma, np.full(low.shape, flat, dtype=np.bool_))


def side_by_side(parts: Sequence[PartSize]) -> PartSize:
    """Put several candidates for one place into one array, known and new ones mixed.

    Args:
        parts: Single parts, all in one unit, for instance [mm]; at least one.

    Returns:
        One part an element, same unit.

    Raises:
        OutOfRange: none given.

    Source: rule of this book.
    """
    if not parts:
        raise OutOfRange(found="no part", expected="at least one candidate")
    return PartSize(
        np.stack([part.least for part in parts]),
        np.stack([part.greatest for part in parts]),
        np.stack([part.sigma for part in parts]),
        np.stack([part.is_uniform for part in parts]),
    )


def clearance_extremes(hole: PartSize, shaft: PartSize) -> ClearanceExtremes:
    """Say the least and the greatest clearance a combination can make.

    Args:
        hole: The outer part [pm] or any one unit, for instance [mm]; broadcasts.
        shaft: The inner part, same unit.

    Returns:
        Smallest hole less largest shaft, and largest hole less smallest shaft; exact.

    Valid for: both parts at one temperature; a known size counts at face value.
    Source: US Army TM 5-4310-354-14, table 5-2, whose clearances are made this way. Checked in:
        tests/published/test_tm_5_4310.py
    """
    return ClearanceExtremes(np.asarray(hole.least - shaft.greatest), np.asarray(hole.greatest - shaft.least))


def fit_odds(hole: PartSize, shaft: PartSize, new: Bands, service: Bands | None = None) -> FitOdds:
    """Say how likely a combination lands in the new limits, in the service limits only, or beyond.

    Args:
        hole: The outer part [pm] or any one unit, for instance [mm]; broadcasts.
        shaft: The inner part, same unit.
        new: New limits of the clearance, same unit; on the limit is within.
        service: Service limits as printed, same unit: a blank side of a given pair keeps the new limit of that side.
            None when the row has none.

    Returns:
        Odds [-] that add up to one over those that exist. Where no service limit is given, `service` and `reject` do
        not exist (NaN) and what falls outside the new limits is `no_limit`; where no new limit is given, `new` does not
        exist.

    Valid for: the two parts independent of each other.
    Source: JCGM 101:2008, 6.4 (from memory), closed forms derived here. Checked in: tests/unit/fit/test_forecast.py
    """
    wear = _BLANK if service is None else service_bands(new, service)
    shared = Bands(np.maximum(new.lower, wear.lower), np.minimum(new.upper, wear.upper), new.given)
    in_new = np.where(new.given, _probability_within(hole, shaft, new), 0.0)
    in_both = np.where(new.given, _probability_within(hole, shaft, shared), 0.0)
    only_wear = np.where(wear.given, np.clip(_probability_within(hole, shaft, wear) - in_both, 0.0, 1.0), 0.0)
    rest = np.clip(1.0 - in_new - only_wear, 0.0, 1.0)
    odds = np.broadcast_arrays(
        np.where(new.given, in_new, np.nan),
        np.where(wear.given, only_wear, np.nan),
        np.where(wear.given, rest, np.nan),
        np.where(wear.given, 0.0, rest),
    )
    return FitOdds(*(np.asarray(odd, dtype=np.float64) for odd in odds))


def forecast_fit(hole: PartSize, shaft: PartSize, new: Bands, service: Bands | None = None) -> FitForecast:
    """Say what a combination of old and new parts will make, before it is ordered.

    Args:
        hole: The outer part [pm] or any one unit, for instance [mm]; broadcasts.
        shaft: The inner part, same unit.
        new: New limits of the clearance, same unit.
        service: Service limits, same unit; None when the row has none.

    Returns:
        Least and greatest clearance, exact, and the odds [-].

    Source: US Army TM 5-2410-237-23, work package 0245, steps 5 to 7 (extremes). Checked in:
        tests/published/test_tm_5_2410.py
    """
    return FitForecast(clearance_extremes(hole, shaft), fit_odds(hole, shaft, new, service))


def _probability_within(hole: PartSize, shaft: PartSize, band: Bands) -> Floats:
    """Both tails are taken from their own far end; on the limit counts as within."""
    least, greatest = clearance_extremes(hole, shaft)
    half_span = _floats(greatest - least) / 2.0
    hole_width = _floats(hole.greatest - hole.least) * hole.is_uniform
    shaft_width = _floats(shaft.greatest - shaft.least) * shaft.is_uniform
    shape = (
        np.maximum(hole_width, shaft_width) / 2.0,
        np.minimum(hole_width, shaft_width) / 2.0,
        np.hypot(hole.sigma, shaft.sigma),
    )
    too_tight = probability_below(_from_the_middle(-margins(least, band.lower, None)[0], half_span), *shape)
    too_loose = probability_below(_from_the_middle(-margins(greatest, None, band.upper)[1], half_span), *shape)
    return np.clip(1.0 - too_tight - too_loose, 0.0, 1.0)


def _from_the_middle(from_the_end: Lengths, half_span: Floats) -> Floats:
    """Count a distance from the middle of the clearance instead of from its end; a blank limit stays far away."""
    return np.clip(_floats(from_the_end), -_FAR, _FAR) - half_span


def _floats(lengths: Lengths) -> Floats:
    return np.asarray(lengths, dtype=np.float64)
