"""What the gauge itself adds: its zero, its drift through the job, the master behind it, the warmth of the shop.

Corrects sizes; judges nothing. Everything is exact for int64 picometres and objects such as Decimal, except the
temperature correction of integers. In: readings and settings of one unit. Out: corrected sizes in it, and the doubt the
correction leaves. Sources: JCGM 100:2008, 3.2.3, 4.3.7 and H.1 (from memory); ISO 1:2022 (20 degC; abstract read).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import checked_uncertainty
from tenthbook.trade.gauge.sizes import Size

REFERENCE_DEGC = 20
"""Temperature at which a size is stated [degC]; 68 degF exactly."""


@dataclass(frozen=True, slots=True)
class Zero:
    """What the readings of a master say of the gauge.

    Attributes:
        error: What the gauge reads too much [mm, or the readings' unit]; subtract it.
        drift: Reading after less reading before [mm]; None where the master was read only once.
        standard: Standard uncertainty the drift leaves [mm]; 0 where there is no second reading.

    Source: JCGM 100:2008, 3.2.3 (from memory).
    """

    error: NDArray[Any]
    drift: NDArray[Any] | None
    standard: NDArray[np.float64]


def zero_from_master(nominal: Size, before: Size, after: Size | None = None) -> Zero:
    """Find the zero error from a master read before the job, and again after it.

    The zero lay somewhere between the two readings, nobody knows when it moved: the middle is taken, and half the drift
        to either side counts as
    a rectangular doubt, |drift|/sqrt(12).

    Args:
        nominal: Certified size of the master [mm], [pm] or objects; any shape.
        before: Reading of it before the job, same unit [mm]; broadcasts.
        after: Reading after the job, same unit [mm]; None where it was not read again.

    Returns:
        Zero error, drift and its doubt [mm]. Halves of a picometre stay exact.

    Source: JCGM 100:2008, 3.2.3 and 4.3.7 for the rectangle; taking the middle is common practice (from memory).
        Checked in: tests/unit/gauge/test_corrections.py
    """
    master, first = np.asarray(nominal), np.asarray(before)
    if after is None:
        error = np.asarray(first - master)
        return Zero(error, None, np.zeros(error.shape))
    last = np.asarray(after)
    drift = np.asarray(last - first)
    error = np.asarray((first + last - 2 * master) / 2)
    return Zero(error, drift, np.asarray(standard_from_drift(np.asarray(drift, dtype=np.float64))))


def standard_from_drift(drift: ArrayLike) -> NDArray[np.float64]:
    """Say what doubt a drift leaves when the middle of it is taken.

    Args:
        drift: Reading after less reading before [mm]; any shape, either sign.

    Returns:
        Standard uncertainty [mm]: a rectangle as wide as the drift.

    Source: JCGM 100:2008, 4.3.7 (from memory). Checked in: tests/unit/gauge/test_corrections.py
    """
    return np.asarray(checked_uncertainty(np.abs(np.asarray(drift, dtype=np.float64)), "drift") / np.sqrt(12.0))


def size_from_deviation(master: Size, deviation: Size) -> NDArray[Any]:
    """Turn the reading of a gauge that was set on a master into a size.

    Args:
        master: Certified size of the master [mm], [pm] or objects; any shape.
        deviation: What the gauge shows, plus for larger, same unit [mm]; broadcasts.

    Returns:
        Size [mm], exact where both are.

    Source: JCGM 100:2008, H.1.1, comparison with a standard (from memory). Checked in:
        tests/unit/gauge/test_corrections.py
    """
    return np.asarray(np.asarray(master) + np.asarray(deviation))


def temperature_factor(part_degc: Any, instrument_degc: Any, part_expansion: Any, instrument_expansion: Any) -> Any:
    """Say by what to multiply a reading to get the size at 20 degC.

    Args:
        part_degc: Temperature of the part [degC]; a float, a Decimal, or an array.
        instrument_degc: Temperature of the gauge [degC].
        part_expansion: Expansion coefficient of the part [1/degC].
        instrument_expansion: Expansion coefficient of the gauge [1/degC].

    Returns:
        Factor [-], of the kind of number given: (1 + a_i dt_i)/(1 + a_p dt_p). Only the difference counts where both
        are equally warm.

    Source: JCGM 100:2008, H.1.2, equation H.2; ISO 1:2022 for 20 degC. Checked in: tests/published/test_iso_1.py
    """
    gauge_grew = 1 + instrument_expansion * (instrument_degc - REFERENCE_DEGC)
    part_grew = 1 + part_expansion * (part_degc - REFERENCE_DEGC)
    return gauge_grew / part_grew


def temperature_contributions(
    size: ArrayLike,
    part: tuple[ArrayLike, ArrayLike],
    instrument: tuple[ArrayLike, ArrayLike],
    expansion_standards: tuple[ArrayLike, ArrayLike] = (0.0, 0.0),
    temperature_standards: tuple[ArrayLike, ArrayLike] = (0.0, 0.0),
) -> NDArray[np.float64]:
    """Say what the temperature correction adds to the doubt of a size.

    Args:
        size: Size [mm]; any shape.
        part: Temperature [degC] and expansion coefficient [1/degC] of the part.
        instrument: The same of the gauge.
        expansion_standards: Standard uncertainties of the two expansion coefficients, part first [1/degC].
        temperature_standards: Standard uncertainties of the two temperatures, part first [degC].

    Returns:
        Contributions [mm] on a new last axis, in the order: expansion of the part, of the gauge, temperature of the
        part, of the gauge.

    Raises:
        NotAnUncertainty: a negative uncertainty.

    Valid for: first order, that is expansions far below 1; the four taken as independent. A common error of both
        thermometers cancels in part.
    Source: JCGM 100:2008, H.1.3 (from memory). Checked in: tests/unit/gauge/test_corrections.py
    """
    length = np.asarray(size, dtype=np.float64)
    terms = []
    for pair, expansion_standard in zip((part, instrument), expansion_standards, strict=True):
        terms.append(length * np.abs(np.asarray(pair[0]) - REFERENCE_DEGC) * checked_uncertainty(expansion_standard))
    for pair, temperature_standard in zip((part, instrument), temperature_standards, strict=True):
        terms.append(length * np.asarray(pair[1], dtype=np.float64) * checked_uncertainty(temperature_standard))
    return np.stack(np.broadcast_arrays(*terms), axis=-1)
