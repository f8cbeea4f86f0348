"""How large is it: from the readings as taken to one size, its spread, its form and its doubt.

Judges nothing. Sums and differences are exact where the readings are (int64 picometres, or objects such as Decimal);
the mean is left as sum and count, so that a caller may divide exactly. In: readings of one unit, one part or many on
the leading axes. Out: sizes in that unit, doubts as floats. Sources: JCGM 100:2008, 4.2 and F.2 (from memory); shop
practice of two diameters 90 degrees apart (read in two service manuals and a US Army maintenance manual); some bores
are meant to taper, so a taper says nothing without its row.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import NoReadings, NotASize, checked_uncertainty
from tenthbook.trade.gauge.shapes import standard_from_half_width, standard_from_step
from tenthbook.trade.gauge.sizes import Size


@dataclass(frozen=True, slots=True)
class Repeats:
    """What several readings of one place say.

    Attributes:
        total: Sum of the readings [mm, or the readings' unit], exact where they are.
        count: How many there are [-]; the exact mean is total over count.
        mean: Mean as a float [mm].
        deviation: Experimental standard deviation of one reading [mm]; NaN for a single reading.
        smallest: Least reading [mm].
        largest: Greatest reading [mm].

    Source: JCGM 100:2008, 4.2.1 and 4.2.2 (from memory).
    """

    total: NDArray[Any]
    count: int
    mean: NDArray[np.float64]
    deviation: NDArray[np.float64]
    smallest: NDArray[Any]
    largest: NDArray[Any]


@dataclass(frozen=True, slots=True)
class Form:
    """What a table of stations along a part and directions across it says.

    Attributes:
        out_of_round: Largest less smallest diameter at each station [mm, or the readings' unit]; stations last.
        taper: Largest less smallest diameter along each direction [mm]; directions last.
        worst_out_of_round: Greatest of the first [mm].
        worst_taper: Greatest of the second [mm].
        size: The whole table as readings of one size [mm]; its `deviation` is form, not repeatability, and enters no
            budget.

    Source: read in two service manuals of diesel engines and a US Army maintenance manual (TM 5-3805-262-34, p. 4-23).
    """

    out_of_round: NDArray[Any]
    taper: NDArray[Any]
    worst_out_of_round: NDArray[Any]
    worst_taper: NDArray[Any]
    size: Repeats


def repeats(readings: Size) -> Repeats:
    """Put several readings of one place together.

    Args:
        readings: Readings [mm], [pm] or objects; repeats on the last axis.

    Returns:
        Sum, count, mean, spread and extremes [mm], in the readings' unit.

    Raises:
        NoReadings: an empty set.
        NotASize: a reading that is not a number.

    Source: JCGM 100:2008, 4.2.1 and 4.2.2 (from memory). Checked in: tests/unit/gauge/test_readings.py
    """
    values = _table(readings)
    count = values.shape[-1]
    first = values[..., :1]
    # Differences from the first reading are exact and small: the spread keeps its digits.
    apart = np.asarray(values - first, dtype=np.float64)
    mean_apart = apart.mean(axis=-1)
    mean = np.asarray(np.asarray(first[..., 0], dtype=np.float64) + mean_apart)
    squares = np.square(apart - mean_apart[..., np.newaxis]).sum(axis=-1)
    deviation = np.sqrt(squares / (count - 1)) if count > 1 else np.full_like(mean, np.nan)
    return Repeats(
        np.asarray(values.sum(axis=-1)), count, mean, np.asarray(deviation), _least(values), _greatest(values)
    )


def form(stations: Size) -> Form:
    """Read out-of-round and taper from a table of diameters.

    Args:
        stations: Diameters [mm], [pm] or objects; stations along the part on the last axis but one, directions across
            on the last.

    Returns:
        Out-of-round a station, taper a direction, the worst of each, and the table as one size [mm].

    Raises:
        NoReadings: an empty table, or readings without the two axes.
        NotASize: a reading that is not a number.

    Valid for: directions named alike at all stations. An odd number of lobes stays unseen by a two-point gauge.
    Source: TM 5-3805-262-34, p. 4-23, and two service manuals (read). Checked in: tests/published/test_shop_form.py
    """
    values = _table(stations)
    if values.ndim < 2:
        raise NoReadings(found="one row of readings", expected="a row for each station, a column for each direction")
    round_off = _greatest(values) - _least(values)
    turned = np.swapaxes(values, -1, -2)
    taper = _greatest(turned) - _least(turned)
    whole = repeats(values.reshape(*values.shape[:-2], -1))
    return Form(round_off, taper, _greatest(round_off), _greatest(taper), whole)


def standard_of_size(
    deviation: ArrayLike, count: ArrayLike, resolution: ArrayLike = 0.0, error_limit: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """Say how sure a mean of readings is.

    Args:
        deviation: Experimental standard deviation of one reading [mm]; NaN where there is none (one reading, or a table
            of stations).
        count: How many readings [-]; broadcasts.
        resolution: Step of the gauge [mm]; broadcasts.
        error_limit: Largest permitted error of the gauge, to either side [mm]; broadcasts.

    Returns:
        Standard uncertainty [mm]: spread of the mean or step, whichever says more, and the error limit.

    Raises:
        NotAnUncertainty: a negative resolution or error limit.

    Source: JCGM 100:2008, 4.2.3, F.2.2.1 and 4.3.7 (from memory). Checked in: tests/unit/gauge/test_readings.py
    """
    scatter = np.maximum(spread_of_mean(deviation, count), standard_from_step(resolution))
    return np.asarray(np.hypot(scatter, standard_from_half_width(error_limit)), dtype=np.float64)


def spread_of_mean(deviation: ArrayLike, count: ArrayLike) -> NDArray[np.float64]:
    """Say how far the mean of the readings scatters.

    Args:
        deviation: Experimental standard deviation of one reading [mm]; NaN where there is none.
        count: How many readings [-]; broadcasts.

    Returns:
        Standard uncertainty of the mean [mm]; 0 where there is no deviation.

    Source: JCGM 100:2008, 4.2.3 (from memory). Checked in: tests/unit/gauge/test_readings.py
    """
    spread = np.nan_to_num(np.asarray(deviation, dtype=np.float64), nan=0.0)
    return checked_uncertainty(spread, "standard deviation") / np.sqrt(np.asarray(count, dtype=np.float64))


def _table(readings: Size) -> NDArray[Any]:
    """Readings [mm] as an array with at least one axis, none of them missing."""
    values = np.atleast_1d(np.asarray(readings))
    if values.size == 0 or values.shape[-1] == 0:
        raise NoReadings(found="no readings", expected="at least one", todo="take one")
    if values.dtype.kind == "f" and not np.isfinite(values).all():
        raise NotASize(found="a reading that is not a number", expected="a number", todo="leave it out, or read again")
    return values


def _greatest(values: NDArray[Any]) -> NDArray[Any]:
    """Greatest along the last axis [mm], always as an array."""
    return np.asarray(values.max(axis=-1))


def _least(values: NDArray[Any]) -> NDArray[Any]:
    """Least along the last axis [mm], always as an array."""
    return np.asarray(values.min(axis=-1))
