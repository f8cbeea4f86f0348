"""What a ring's gap is where the bore has another diameter: a bore with choke closes the gap towards the head.

A ring lies against the wall all round, so its gap follows the circumference. It judges no limit; the depth at which
the manual wants the gap is the manual's to state. In go diameters and gaps in one length unit; out come gaps in the
same unit.

Sources: derived here (circumference is pi times diameter); US Army TM 9-2815-200-35, p. 6-55 (read) for bores that
taper on purpose.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.fit.faults import OutOfRange
from tenthbook.trade.fit.lengths import Floats, Lengths, LengthsLike, as_lengths


class SmallestGap(NamedTuple):
    """The tightest place a ring runs through.

    Attributes:
        gap: Gap there, unit of the input, for instance [mm]; negative means that the ends would meet first.
        station: Which of the stations it is, counted from 0 [-].
        butts: Whether the ends would meet [-].
    """

    gap: Floats
    station: NDArray[np.intp]
    butts: NDArray[np.bool_]


def gap_at(gap_read: LengthsLike, bore_where_read: LengthsLike, bore_there: LengthsLike) -> Floats:
    """Carry a ring's gap from the depth where it was read to another.

    Args:
        gap_read: Gap as read [mm], or any one length unit; scalar or array.
        bore_where_read: Diameter of the bore at that depth, same unit, above zero.
        bore_there: Diameter at the depth asked for, same unit, above zero.

    Returns:
        Gap there [mm], same unit: gap read plus pi times the difference of the diameters. Negative means that the
        ends would meet. Not rounded.

    Raises:
        OutOfRange: a diameter not above zero.

    Valid for: ring square in the bore and against its wall; both at one temperature.
    Source: derived here (circumference); twin of US Army TM 9-2815-200-35, p. 6-55. Checked in:
        tests/unit/fit/test_rings.py
    """
    here, there = _bore(bore_where_read), _bore(bore_there)
    wider = np.asarray(there - here, dtype=np.float64)
    return np.asarray(as_lengths(gap_read, "ring gap").astype(np.float64) + np.pi * wider, dtype=np.float64)


def smallest_gap(gap_read: LengthsLike, bore_where_read: LengthsLike, bores: LengthsLike) -> SmallestGap:
    """Find the smallest gap a ring will have on its way.

    Args:
        gap_read: Gap as read [mm], or any one length unit; scalar or array.
        bore_where_read: Diameter of the bore at that depth, same unit, above zero; shape of `gap_read`.
        bores: Diameters at the stations the ring runs through, same unit; last axis a station.

    Returns:
        Gap at the smallest bore, which station that is, and whether the ends would meet there.

    Raises:
        OutOfRange: no station, or a diameter not above zero.

    Valid for: bores measured at the temperature the gap was read at; heat closes the gap further.
    Source: derived here (circumference); twin of US Army TM 9-2815-200-35, p. 6-55. Checked in:
        tests/unit/fit/test_rings.py
    """
    stations = np.atleast_1d(_bore(bores))
    if not stations.size:
        raise OutOfRange(found="no station", expected="the bore at one station or more")
    tightest = np.argmin(stations, axis=-1)
    gap = gap_at(gap_read, bore_where_read, stations.min(axis=-1))
    return SmallestGap(gap, np.asarray(tightest, dtype=np.intp), np.asarray(gap < 0.0, dtype=np.bool_))


def bore_change_for_gap(gap_change: ArrayLike) -> Floats:
    """Say what change of bore a change of gap stands for, as when a worn barrel is felt with a ring.

    Args:
        gap_change: Change of the gap [mm], or any one length unit.

    Returns:
        Change of the diameter [mm], same unit. Not rounded.

    Raises:
        NotANumber: something given is not a number.

    Source: derived here, `gap_at` turned round; twin of US Army TM 9-2815-200-35, p. 6-55. Checked in:
        tests/unit/fit/test_rings.py
    """
    return np.asarray(as_lengths(gap_change, "gap change").astype(np.float64) / np.pi, dtype=np.float64)


def _bore(diameter: LengthsLike) -> Lengths:
    bores = as_lengths(diameter, "bore diameter")
    if bool(np.any(bores <= 0)):
        raise OutOfRange(found="a bore that is not above zero", expected="diameters above zero")
    return bores
