"""NIST Special Publication 811, 2008 edition, Guide for the Use of the International System of Units, appendix B.

From memory: the factors of B.8 and B.9 as printed, to seven figures (those printed in bold there are exact), and the
exact definitions behind them. A units library is the second opinion for every unit.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest

from tenthbook.numbers.quantity import find_unit, quantity

HALF_LAST_PRINTED_DIGIT = Decimal("0.5")  # the printed factors are rounded to their last digit
DOUBLE = 1e-12  # the second opinion reckons in binary fractions
PINT: pint.UnitRegistry[float] = pint.UnitRegistry()
OTHER_NAMES = {
    "um": "micrometer",
    "thou": "inch/1000",
    "in": "inch",
    "ft": "foot",
    "in2": "inch**2",
    "mm2": "mm**2",
    "m2": "m**2",
    "in3": "inch**3",
    "cm3": "cm**3",
    "L": "liter",
    "qt": "quart",
    "gal": "gallon",
    "m3": "m**3",
    "lbf.in": "lbf*inch",
    "lbf.ft": "lbf*foot",
    "N.m": "N*m",
    "kgf.m": "kgf*m",
    "ksi": "1000*psi",
    "kip": "1000*lbf",
    "oz": "ounce",
    "lb": "pound",
    "rpm": "1/minute",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "cSt": "mm**2/s",
    "mm2/s": "mm**2/s",
    "Pa.s": "Pa*s",
    "mPa.s": "mPa*s",
    "cP": "mPa*s",
    "ureyn": "1e-6*psi*s",
    "in3/s": "inch**3/s",
    "cm3/s": "cm**3/s",
    "m3/s": "m**3/s",
    "L/min": "liter/minute",
    "gal/min": "gallon/minute",
    "qt/h": "quart/hour",
    "L/h": "liter/hour",
    "hp": "550*foot*lbf/s",
    "deg": "degree",
    "kg/m3": "kg/m**3",
    "lb/gal": "pound/gallon",
    "mN/m": "mN/m",
    "lbf/in": "lbf/inch",
    "N/mm": "N/mm",
    "1/in": "1/inch",
    "1/K": "1/K",
    "1/degC": "1/delta_degC",
    "1/degF": "1/delta_degF",
    "in/h": "inch/hour",
    "mm/h": "mm/hour",
}
SAME_NAMES = ["nm", "mm", "cm", "m", "psi", "Pa", "kPa", "MPa", "GPa", "bar", "lbf", "N", "g", "kg", "K", "kW"]


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("in", Fraction(254, 10_000)),
        ("ft", Fraction(3048, 10_000)),
        ("thou", Fraction(254, 10_000_000)),
        ("lb", Fraction(45_359_237, 10**8)),
        ("oz", Fraction(45_359_237, 16 * 10**8)),
        ("kgf.m", Fraction(980_665, 10**5)),
        ("lbf", Fraction(45_359_237, 10**8) * Fraction(980_665, 10**5)),
        ("in3", Fraction(254, 10_000) ** 3),
        ("gal", 231 * Fraction(254, 10_000) ** 3),
        ("qt", 231 * Fraction(254, 10_000) ** 3 / 4),
        ("bar", Fraction(10**5)),
        ("cP", Fraction(1, 1000)),
        ("cSt", Fraction(1, 10**6)),
        ("min", Fraction(60)),
        ("h", Fraction(3600)),
        ("1/degF", Fraction(9, 5)),
    ],
)
def test_exact_factors_are_exact(unit: str, exact: Fraction) -> None:
    """Inch, pound, standard gravity, gallon and what is made of them have no rounding in them."""
    assert find_unit(unit).factor == exact


@pytest.mark.parametrize(
    ("unit", "printed"),
    [
        ("psi", "6.894757E+03"),
        ("ksi", "6.894757E+06"),
        ("inHg", "3.386389E+03"),
        ("lbf", "4.448222E+00"),
        ("kip", "4.448222E+03"),
        ("lbf.ft", "1.355818E+00"),
        ("lbf.in", "1.129848E-01"),
        ("in-lb", "1.129848E-01"),
        ("oz", "2.834952E-02"),
        ("lb", "4.535924E-01"),
        ("gal", "3.785412E-03"),
        ("qt", "9.463529E-04"),
        ("in3", "1.638706E-05"),
        ("in2", "6.4516E-04"),
        ("gal/min", "6.309020E-05"),
        ("hp", "7.456999E+02"),
        ("lb/gal", "1.198264E+02"),
        ("lbf/in", "1.751268E+02"),
        ("1/in", "3.937008E+01"),
    ],
)
def test_the_printed_factors_reproduce(unit: str, printed: str) -> None:
    """B.8: the factor rounds to the printed figures."""
    value = Decimal(printed)
    step = Decimal(1).scaleb(int(value.as_tuple().exponent))
    assert abs(find_unit(unit).factor - Fraction(value)) <= Fraction(HALF_LAST_PRINTED_DIGIT * step)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [("32", 0), ("212", 100), ("-40", -40), ("98.6", 37), ("194", 90)])
def test_fahrenheit_to_celsius(fahrenheit: str, celsius: int) -> None:
    """B.8: the temperature less 32, over 1.8, exactly."""
    assert quantity(f"{fahrenheit} degF").into(find_unit("degC")) == celsius


def test_a_temperature_interval_has_no_offset() -> None:
    """B.8: an interval of 1.8 degF is one of 1 degC and of 1 K."""
    for unit in ("degC", "K"):
        assert quantity("1.8 degF").into(find_unit(unit), as_difference=True) == 1


@pytest.mark.parametrize(("unit", "name"), [*OTHER_NAMES.items(), *((name, name) for name in SAME_NAMES)])
def test_a_units_library_agrees(unit: str, name: str) -> None:
    """Every unit of the bench has the size a general library of units gives it."""
    other = PINT.parse_expression(name).to_base_units()
    factor = float(find_unit(unit).factor)
    if unit == "rpm":
        assert factor == pytest.approx(1 / 60, rel=DOUBLE)  # turns a second; the library counts radians
    elif unit == "deg":
        assert factor / float(find_unit("rad").factor) == pytest.approx(other.magnitude, rel=DOUBLE)
    else:
        grams = (
            1000.0
            if "[mass]" in str(other.dimensionality) and "gram" in str(other.units).replace("kilogram", "")
            else 1.0
        )
        assert factor == pytest.approx(other.magnitude / grams, rel=DOUBLE)


@pytest.mark.parametrize(("typed", "name"), [("90 degF", "degF"), ("90 degC", "degC")])
def test_a_units_library_agrees_on_temperatures(typed: str, name: str) -> None:
    """A reading of a thermometer is the same number of kelvins."""
    other = PINT.Quantity(90.0, name).to("kelvin").magnitude
    assert float(quantity(typed).exact) == pytest.approx(other, rel=DOUBLE)


def test_psi_in_the_units_a_bench_uses() -> None:
    """B.9: 1 psi is 6.894757 kPa; 1 lbf.ft is 12 lbf.in; 112 lbf.in is 12.65 N.m."""
    assert round(float(quantity("1 psi").into(find_unit("kPa"))), 6) == 6.894757
    assert quantity("1 lbf.ft").exact == quantity("12 lbf.in").exact
    assert round(float(quantity("112 in-lbf").into(find_unit("N.m"))), 2) == 12.65


def test_inch_of_mercury() -> None:
    """B.8, conventional inch of mercury: the library agrees where it means the same column."""
    assert float(find_unit("inHg").factor) == pytest.approx(13595.1 * 9.80665 * 0.0254, rel=DOUBLE)
