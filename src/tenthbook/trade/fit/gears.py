"""What the backlash is at the pitch line, and how it changes when the gears move apart.

It gives no oil leakage and no pressure: backlash is a reading of wear and noise, it leaks next to nothing. In go
lengths in one unit and the pressure angle in degrees; out come lengths in the same unit.

Sources: proportion of radii, derived here; gear handbooks for the centre distance (from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tenthbook.trade.fit.faults import OutOfRange
from tenthbook.trade.fit.lengths import Floats, Lengths, LengthsLike, as_floats, as_lengths


def backlash_at_pitch(reading: LengthsLike, reading_radius: LengthsLike, pitch_radius: LengthsLike) -> Lengths:
    """Bring a backlash read on an arm, or high on a tooth, to the pitch radius.

    Args:
        reading: Movement read with the mating gear held [mm], or any one length unit; scalar or array.
        reading_radius: Radius at which the indicator touched, any unit shared with `pitch_radius`, above zero.
        pitch_radius: Pitch radius of that gear, same unit as `reading_radius`, above zero.

    Returns:
        Backlash along the pitch circle [mm], unit of `reading`; exact for `Decimal` that divides and for `Fraction`.

    Raises:
        OutOfRange: a radius that is not above zero.

    Valid for: an indicator that stands square to the radius; the play of a worn bearing counts in.
    Source: derived here (one angle, two radii); gear handbook practice. Checked in: tests/published/test_trade_fits.py
    """
    lash = as_lengths(reading, "backlash reading")
    arm, pitch = as_lengths(reading_radius, "reading radius"), as_lengths(pitch_radius, "pitch radius")
    if bool(np.any(arm <= 0) or np.any(pitch <= 0)):
        raise OutOfRange(found="a radius that is not above zero", expected="both radii above zero")
    if arm.dtype.kind == pitch.dtype.kind == "i":
        shared = np.gcd(arm, pitch)  # keeps the product of picometres small, and whole answers whole
        arm, pitch = arm // shared, pitch // shared
        lash = lash.astype(np.float64) if lash.dtype.kind == "i" else lash
    return np.asarray(lash * pitch / arm)


def backlash_change(centre_distance_change: ArrayLike, pressure_angle_deg: ArrayLike) -> Floats:
    """Say how much backlash a change of the centre distance brings.

    Args:
        centre_distance_change: How much further apart the axes stand [mm], or any one length unit; negative is closer.
        pressure_angle_deg: Pressure angle in the plane of rotation [deg], over 0 and under 90.

    Returns:
        Change of the backlash along the pitch circle [mm], unit of the distance: 2 dC tan(angle). Not rounded.

    Raises:
        OutOfRange: an angle out of range.

    Valid for: small changes of involute gears that keep their mesh.
    Source: gear handbook rule, from memory. Checked in: tests/published/test_trade_fits.py
    """
    apart = as_floats(centre_distance_change, "centre distance change")
    return np.asarray(2.0 * apart * _slope(pressure_angle_deg), dtype=np.float64)


def centre_distance_change(backlash: ArrayLike, pressure_angle_deg: ArrayLike) -> Floats:
    """Say how far the axes have moved apart if that alone made the backlash.

    Args:
        backlash: Change of the backlash along the pitch circle [mm], or any one length unit.
        pressure_angle_deg: Pressure angle in the plane of rotation [deg], over 0 and under 90.

    Returns:
        Change of the centre distance [mm], unit of `backlash`. Not rounded.

    Raises:
        OutOfRange: an angle out of range.

    Valid for: as `backlash_change`; worn teeth make backlash too.
    Source: gear handbook rule, from memory, turned round. Checked in: tests/unit/fit/test_gears.py
    """
    return np.asarray(as_floats(backlash, "backlash") / (2.0 * _slope(pressure_angle_deg)), dtype=np.float64)


def _slope(pressure_angle_deg: ArrayLike) -> Floats:
    angle = as_floats(pressure_angle_deg, "pressure angle in degrees")
    if bool(np.any((angle <= 0.0) | (angle >= 90.0))):
        raise OutOfRange(found="a pressure angle out of range", expected="over 0 and under 90 degrees")
    return np.asarray(np.tan(np.radians(angle)), dtype=np.float64)
