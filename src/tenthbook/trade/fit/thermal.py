"""How large are the parts, and how loose is the fit, at another temperature?

Sizes are at 20 degC (68 degF exactly; a 70 degF shop is 1.1 degC above it). It knows no materials and no gradients:
each part has one temperature and one expansion. In go sizes in one length unit, expansions in 1/degC and temperatures
in degC; out come sizes and clearances in the unit of the sizes. Objects (`Decimal`, `Fraction`) stay exact when
everything given is of their kind.

Sources: ISO 1:2016 (reference temperature, read); ratio form D (1 + a dT) derived here.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tenthbook.trade.fit.faults import OutOfRange
from tenthbook.trade.fit.lengths import Floats, Lengths, LengthsLike, as_floats, as_lengths
from tenthbook.trade.gauge.corrections import REFERENCE_DEGC


def size_at(
    size: LengthsLike, expansion: LengthsLike, at_degc: LengthsLike, from_degc: LengthsLike = REFERENCE_DEGC
) -> Lengths:
    """Say how large a part is at a temperature.

    Args:
        size: Size at `from_degc` [mm], or any one length unit; scalar or array.
        expansion: Linear expansion of the part [1/degC], counted from 20 degC; broadcasts.
        at_degc: Temperature asked for [degC]; broadcasts.
        from_degc: Temperature at which `size` holds [degC]; 20 unless said.

    Returns:
        Size at that temperature [mm], unit of `size`; not rounded, exact for exact objects.

    Raises:
        NotANumber: something given is not a number.

    Valid for: one temperature through the part, expansion taken as constant between the two temperatures.
    Source: ISO 1:2016; ratio form derived here. Checked in: tests/published/test_thermal_expansion.py
    """
    sizes, rate = as_lengths(size, "size"), as_lengths(expansion, "expansion")
    to, since = as_lengths(at_degc, "temperature"), as_lengths(from_degc, "temperature")
    return np.asarray(sizes * (1 + rate * (to - REFERENCE_DEGC)) / (1 + rate * (since - REFERENCE_DEGC)))


def clearance_at(
    hole: LengthsLike,
    hole_expansion: LengthsLike,
    shaft: LengthsLike,
    shaft_expansion: LengthsLike,
    at_degc: LengthsLike,
    shaft_at_degc: LengthsLike | None = None,
) -> Lengths:
    """Say how loose a fit is at each of a list of temperatures.

    Args:
        hole: Size of the outer part at 20 degC [mm], or any one length unit; scalar or array.
        hole_expansion: Its linear expansion [1/degC]; broadcasts.
        shaft: Size of the inner part at 20 degC, same unit as `hole`.
        shaft_expansion: Its linear expansion [1/degC].
        at_degc: Temperature of both parts [degC]; an array for several.
        shaft_at_degc: Temperature of the inner part [degC], when it differs; None when both are alike.

    Returns:
        Hole less shaft [mm], unit of the sizes; negative is tight. The change is added to the exact difference, so no
        digits cancel.

    Raises:
        NotANumber: something given is not a number.

    Valid for: free expansion; an interference fit does not show as a gap before it has opened.
    Source: derived here from ISO 1:2016; first-order rule D (a_hole - a_shaft) dT as its limit. Checked in:
        tests/published/test_thermal_expansion.py
    """
    outer, inner = as_lengths(hole, "hole size"), as_lengths(shaft, "shaft size")
    warmer = as_lengths(at_degc, "temperature") - REFERENCE_DEGC
    inner_warmer = warmer if shaft_at_degc is None else as_lengths(shaft_at_degc, "temperature") - REFERENCE_DEGC
    growth = outer * as_lengths(hole_expansion, "expansion") * warmer
    shaft_growth = inner * as_lengths(shaft_expansion, "expansion") * inner_warmer
    return np.asarray((outer - inner) + (growth - shaft_growth))


def first_order_change(diameter: LengthsLike, expansion_difference: LengthsLike, warmer_degc: LengthsLike) -> Lengths:
    """Say roughly how much a clearance opens when both parts warm up together.

    Args:
        diameter: Common nominal diameter [mm], or any one length unit.
        expansion_difference: Expansion of the hole less that of the shaft [1/degC].
        warmer_degc: How much warmer both become [degC].

    Returns:
        Change of the clearance [mm], unit of `diameter`; exact for exact objects.

    Raises:
        NotANumber: something given is not a number.

    Valid for: a clearance that is small beside the diameter; `clearance_at` is the full form.
    Source: metrology textbook rule, derived here. Checked in: tests/published/test_thermal_expansion.py
    """
    diameters, rate = as_lengths(diameter, "diameter"), as_lengths(expansion_difference, "expansion")
    return np.asarray(diameters * rate * as_lengths(warmer_degc, "temperature difference"))


def hole_temperature_for(
    clearance: ArrayLike,
    hole: ArrayLike,
    hole_expansion: ArrayLike,
    shaft: ArrayLike,
    shaft_expansion: ArrayLike,
    shaft_at_degc: ArrayLike = REFERENCE_DEGC,
) -> Floats:
    """Say how warm the outer part must be before the inner one goes in with a wanted clearance.

    Args:
        clearance: Clearance wanted while assembling [mm], or any one length unit.
        hole: Size of the outer part at 20 degC, same unit.
        hole_expansion: Its linear expansion [1/degC], not zero.
        shaft: Size of the inner part at 20 degC, same unit.
        shaft_expansion: Its linear expansion [1/degC].
        shaft_at_degc: Temperature of the inner part [degC]; 20 unless said.

    Returns:
        Temperature of the outer part [degC]; not rounded. What the parts stand is for the manual to say.

    Raises:
        OutOfRange: the outer part does not expand.

    Valid for: one temperature through each part; cooling on the way to the bench is not counted.
    Source: derived here, inverse of the ratio form (ISO 1:2016). Checked in: tests/unit/fit/test_thermal.py
    """
    outer, rate = as_floats(hole, "hole size"), as_floats(hole_expansion, "expansion")
    if np.any(rate * outer == 0.0):
        raise OutOfRange(found="an outer part that does not grow", expected="a size and an expansion above zero")
    inner = as_floats(shaft, "shaft size")
    inner_warmer = as_floats(shaft_at_degc, "temperature") - REFERENCE_DEGC
    inner_growth = inner * as_floats(shaft_expansion, "expansion") * inner_warmer
    to_gain = as_floats(clearance, "clearance") - (outer - inner) + inner_growth
    return np.asarray(REFERENCE_DEGC + to_gain / (outer * rate), dtype=np.float64)
