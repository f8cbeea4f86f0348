"""What a gauge reads when it is not set square, not on the axis, or turned on a shaft that runs out.

Plain geometry of the shop, for the hint beside a reading; it corrects nothing by itself, because the mechanic does not
know the tilt. In: sizes and offsets of one unit, floats. Out: errors in it. Sources: geometry (derived); rod check with
feelers as in the FAA powerplant handbook, chapter on engine maintenance (read).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.faults import NotASize


def error_of_tilt(bore: ArrayLike, tilt_deg: ArrayLike) -> NDArray[np.float64]:
    """Say how much a telescoping gauge reads too much when it was locked out of square.

    Args:
        bore: Diameter of the bore [mm]; any shape.
        tilt_deg: Tilt against the cross-section [deg], below 90; broadcasts.

    Returns:
        Error [mm], above zero.

    Raises:
        NotASize: a tilt of 90 degrees or more.

    Valid for: a gauge lying along a diameter, tilted in the axial plane.
    Source: geometry of a section, derived; GUM-style limits see JCGM 100:2008, F.2.4.4 (cosine error). Checked in:
        tests/published/test_shop_form.py
    """
    tilt = np.asarray(tilt_deg, dtype=np.float64)
    if not (np.abs(tilt) < 90.0).all():
        raise NotASize(found="a gauge tilted by 90 degrees or more", expected="less", todo="type the tilt in degrees")
    half = np.sin(0.5 * np.deg2rad(tilt))
    return np.asarray(np.asarray(bore, dtype=np.float64) * 2.0 * half**2 / np.cos(np.deg2rad(tilt)), dtype=np.float64)


def error_of_offset(bore: ArrayLike, offset: ArrayLike) -> NDArray[np.float64]:
    """Say how much a bore gauge reads too little when its line misses the axis.

    Args:
        bore: Diameter of the bore [mm]; any shape.
        offset: Distance of the measuring line from the axis, same unit [mm]; below half the bore; broadcasts.

    Returns:
        Error [mm], below zero.

    Raises:
        NotASize: a line that misses the bore.

    Source: geometry of a chord, derived; cosine error, JCGM 100:2008, F.2.4.4 (from memory). Checked in:
        tests/published/test_shop_form.py
    """
    diameter, off = np.asarray(bore, dtype=np.float64), np.asarray(offset, dtype=np.float64)
    if not (2.0 * np.abs(off) < diameter).all():
        raise NotASize(
            found="a line that misses the bore", expected="an offset below half the bore", todo="type it again"
        )
    chord = np.sqrt(diameter**2 - 4.0 * off**2)
    return np.asarray(-4.0 * off**2 / (diameter + chord), dtype=np.float64)


def indicated_runout(eccentricity: ArrayLike) -> NDArray[np.float64]:
    """Say what a dial shows in one turn of a round shaft that runs off its centre.

    Args:
        eccentricity: Distance of the circle's centre from the axis of turning [mm]; any shape, either sign.

    Returns:
        Full indicator movement [mm].

    Valid for: a true circle; out-of-round adds to it.
    Source: FAA powerplant handbook (read), definition of run-out; twice the eccentricity is derived. Checked in:
        tests/published/test_shop_form.py
    """
    return np.asarray(2.0 * np.abs(np.asarray(eccentricity, dtype=np.float64)), dtype=np.float64)


def twist(feeler: ArrayLike, distance: ArrayLike) -> NDArray[np.float64]:
    """Say how far a rod is twisted from the feeler that goes under its arbor.

    Args:
        feeler: Thickness of the feeler [in, or any unit]; any shape.
        distance: Distance between the two blocks, same unit [in]; above zero; broadcasts.

    Returns:
        Twist [-], clearance for each unit of distance.

    Raises:
        NotASize: a distance of zero or less.

    Source: FAA powerplant handbook, engine maintenance, connecting rod twist (read). Checked in:
        tests/published/test_shop_form.py
    """
    apart = np.asarray(distance, dtype=np.float64)
    if not (apart > 0.0).all():
        raise NotASize(
            found="blocks no distance apart", expected="a distance above 0", todo="measure between the blocks"
        )
    return np.asarray(np.asarray(feeler, dtype=np.float64) / apart, dtype=np.float64)
