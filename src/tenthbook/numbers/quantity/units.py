"""Which units the bench uses, what each measures, and its exact size.

A unit is a factor to the coherent SI unit of its kind, an exact fraction, and for three temperatures an offset. Only
the radian is not exact. Quotients of two units ("lbf/in", "1/degC") are understood; products are those of the table.

Sources: the inch (25.4 mm), the pound (0.45359237 kg) and standard gravity (9.80665 m/s2) are exact by NIST SP 811,
appendix B; the US gallon is 231 cubic inches, the horsepower 550 foot pounds-force a second, the inch of mercury that
of density 13595.1 kg/m3 (NIST SP 811, appendix B.8). Checked in tests/published/test_nist_sp_811.py.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from tenthbook.numbers.because import TenthbookError

Dimension = tuple[int, int, int, int, int]  # powers of length, mass, time, temperature, angle

_NONE: Dimension = (0, 0, 0, 0, 0)
_KINDS: dict[Dimension, str] = {
    _NONE: "plain number",
    (1, 0, 0, 0, 0): "length",
    (2, 0, 0, 0, 0): "area",
    (3, 0, 0, 0, 0): "volume",
    (2, 1, -2, 0, 0): "torque",
    (-1, 1, -2, 0, 0): "pressure",
    (1, 1, -2, 0, 0): "force",
    (0, 1, 0, 0, 0): "mass",
    (0, 0, 0, 1, 0): "temperature",
    (0, 0, -1, 0, 0): "speed of rotation",
    (0, 0, 1, 0, 0): "time",
    (2, 0, -1, 0, 0): "kinematic viscosity",
    (-1, 1, -1, 0, 0): "dynamic viscosity",
    (3, 0, -1, 0, 0): "volume flow",
    (2, 1, -3, 0, 0): "power",
    (0, 0, 0, 0, 1): "angle",
    (-3, 1, 0, 0, 0): "density",
    (0, 1, -2, 0, 0): "spring rate",
    (-1, 0, 0, 0, 0): "number per length",
    (0, 0, 0, -1, 0): "expansion",
    (1, 0, -1, 0, 0): "rate of wear",
}


class UnknownUnit(TenthbookError):
    """A unit the bench does not know, or one of another kind than asked for."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit.

    Attributes:
        name: As it is printed.
        dimension: Powers of length, mass, time, temperature, angle.
        factor: Size in the coherent SI unit (angle: degrees), exact except for the radian.
        offset: For degC and degF, the thermodynamic temperature of their zero [K]; else 0.
    """

    name: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)

    @property
    def kind(self) -> str:
        """What it measures, in words."""
        return kind_name(self.dimension)

    def __str__(self) -> str:
        return self.name

    def __hash__(self) -> int:
        return hash(self.name)  # the name tells units apart, and hashing the exact factor takes ten times as long


def kind_name(dimension: Dimension) -> str:
    """Say in words what a dimension measures.

    Args:
        dimension: Powers of length, mass, time, temperature, angle.

    Returns:
        "length", "torque" and so on; "quotient" for one that has no word here.
    """
    return _KINDS.get(dimension, "quotient")


_INCH = Fraction(254, 10_000)
_POUND = Fraction(45_359_237, 100_000_000)
_GRAVITY = Fraction(980_665, 100_000)
_LBF = _POUND * _GRAVITY
_PSI = _LBF / _INCH**2
_GALLON = 231 * _INCH**3
_THOUSANDTH = Fraction(1, 1000)
_MILLIONTH = Fraction(1, 1_000_000)
_PI = Fraction("3.14159265358979323846264338327950288419716939937511")
_L, _A, _V = (1, 0, 0, 0, 0), (2, 0, 0, 0, 0), (3, 0, 0, 0, 0)
_TORQUE, _PRESSURE, _FORCE, _MASS = (2, 1, -2, 0, 0), (-1, 1, -2, 0, 0), (1, 1, -2, 0, 0), (0, 1, 0, 0, 0)
_HEAT, _TIME, _TURN = (0, 0, 0, 1, 0), (0, 0, 1, 0, 0), (0, 0, -1, 0, 0)
_KINEMATIC, _DYNAMIC, _FLOW, _POWER, _ANGLE = (
    (2, 0, -1, 0, 0),
    (-1, 1, -1, 0, 0),
    (3, 0, -1, 0, 0),
    (2, 1, -3, 0, 0),
    (0, 0, 0, 0, 1),
)

_TABLE: list[tuple[str, Dimension, Fraction]] = [
    ("nm", _L, Fraction(1, 10**9)),
    ("um", _L, _MILLIONTH),
    ("mm", _L, _THOUSANDTH),
    ("cm", _L, Fraction(1, 100)),
    ("m", _L, Fraction(1)),
    ("thou", _L, _INCH / 1000),
    ("in", _L, _INCH),
    ("ft", _L, 12 * _INCH),
    ("in2", _A, _INCH**2),
    ("mm2", _A, _MILLIONTH),
    ("m2", _A, Fraction(1)),
    ("in3", _V, _INCH**3),
    ("cm3", _V, _MILLIONTH),
    ("L", _V, _THOUSANDTH),
    ("qt", _V, _GALLON / 4),
    ("gal", _V, _GALLON),
    ("m3", _V, Fraction(1)),
    ("lbf.in", _TORQUE, _LBF * _INCH),
    ("lbf.ft", _TORQUE, _LBF * 12 * _INCH),
    ("N.m", _TORQUE, Fraction(1)),
    ("kgf.m", _TORQUE, _GRAVITY),
    ("psi", _PRESSURE, _PSI),
    ("ksi", _PRESSURE, 1000 * _PSI),
    ("Pa", _PRESSURE, Fraction(1)),
    ("kPa", _PRESSURE, Fraction(1000)),
    ("MPa", _PRESSURE, Fraction(10**6)),
    ("GPa", _PRESSURE, Fraction(10**9)),
    ("bar", _PRESSURE, Fraction(10**5)),
    ("inHg", _PRESSURE, Fraction(135_951, 10) * _GRAVITY * _INCH),
    ("lbf", _FORCE, _LBF),
    ("kip", _FORCE, 1000 * _LBF),
    ("N", _FORCE, Fraction(1)),
    ("oz", _MASS, _POUND / 16),
    ("lb", _MASS, _POUND),
    ("g", _MASS, _THOUSANDTH),
    ("kg", _MASS, Fraction(1)),
    ("K", _HEAT, Fraction(1)),
    ("rpm", _TURN, Fraction(1, 60)),
    ("s", _TIME, Fraction(1)),
    ("min", _TIME, Fraction(60)),
    ("h", _TIME, Fraction(3600)),
    ("cSt", _KINEMATIC, _MILLIONTH),
    ("mm2/s", _KINEMATIC, _MILLIONTH),
    ("Pa.s", _DYNAMIC, Fraction(1)),
    ("mPa.s", _DYNAMIC, _THOUSANDTH),
    ("cP", _DYNAMIC, _THOUSANDTH),
    ("ureyn", _DYNAMIC, _PSI * _MILLIONTH),
    ("in3/s", _FLOW, _INCH**3),
    ("cm3/s", _FLOW, _MILLIONTH),
    ("m3/s", _FLOW, Fraction(1)),
    ("L/min", _FLOW, _THOUSANDTH / 60),
    ("gal/min", _FLOW, _GALLON / 60),
    ("qt/h", _FLOW, _GALLON / 4 / 3600),
    ("L/h", _FLOW, _THOUSANDTH / 3600),
    ("hp", _POWER, 550 * _LBF * 12 * _INCH),
    ("kW", _POWER, Fraction(1000)),
    ("deg", _ANGLE, Fraction(1)),
    ("rad", _ANGLE, 180 / _PI),
    ("mN", _FORCE, _THOUSANDTH),
]
_UNITS: dict[str, Unit] = {name: Unit(name, dimension, factor) for name, dimension, factor in _TABLE}
_UNITS["degC"] = Unit("degC", _HEAT, Fraction(1), Fraction("273.15"))
_UNITS["degF"] = Unit("degF", _HEAT, Fraction(5, 9), Fraction("459.67") * Fraction(5, 9))
_OTHER_SPELLINGS = {"in-lbf": "lbf.in", "in-lb": "lbf.in", "ft-lbf": "lbf.ft", "ft-lb": "lbf.ft", "Nm": "N.m"}
_ONE = Unit("1", _NONE, Fraction(1))


def _by_name(name: str) -> Unit | None:
    return _UNITS.get(_OTHER_SPELLINGS.get(name, name))


@lru_cache(maxsize=512)
def find_unit(name: str) -> Unit:
    """Look a unit up by the name typed.

    Args:
        name: A unit of the table, one of its other spellings, or a quotient of two ("kg/m3", "1/degC").

    Returns:
        The unit; a temperature inside a quotient counts as a difference.

    Raises:
        UnknownUnit: no such unit; the nearest names are offered.

    Source: NIST SP 811, appendix B. Checked in: tests/published/test_nist_sp_811.py
    """
    known = _by_name(name)
    if known is not None:
        return known
    for place in (place for place in range(len(name) - 1, 0, -1) if name[place] == "/"):
        top, bottom = _by_name(name[:place]) or (_ONE if name[:place] == "1" else None), _by_name(name[place + 1 :])
        if top is not None and bottom is not None:
            powers = tuple(a - b for a, b in zip(top.dimension, bottom.dimension, strict=True))
            return Unit(name, (powers[0], powers[1], powers[2], powers[3], powers[4]), top.factor / bottom.factor)
    near = difflib.get_close_matches(name, [*_UNITS, *_OTHER_SPELLINGS], n=3, cutoff=0.5)
    hint = " or ".join(near) if near else "a unit such as in, mm, lbf.in, N.m, psi, degC"
    raise UnknownUnit(found=f"unit {name!r}", expected=hint)
