"""Every unit of the bench is known, and none is taken for another."""

from __future__ import annotations

import pytest

from tenthbook.numbers.quantity import Unit, UnknownUnit, find_unit, kind_name

BENCH = """nm um mm cm m thou in ft in2 mm2 m2 in3 cm3 L qt gal m3 lbf.in lbf.ft N.m kgf.m in-lbf in-lb ft-lbf ft-lb Nm
psi ksi Pa kPa MPa GPa bar inHg lbf kip N oz lb g kg degF degC K rpm s min h cSt mm2/s Pa.s mPa.s cP ureyn
in3/s cm3/s m3/s L/min gal/min qt/h L/h hp kW deg rad kg/m3 lb/gal mN/m lbf/in N/mm 1/in 1/degC 1/K 1/degF in/h mm/h"""


@pytest.mark.parametrize("name", BENCH.split())
def test_the_bench_knows_its_units(name: str) -> None:
    """Each unit of the list is found and measures something that has a name, or is a quotient of two that have."""
    unit = find_unit(name)
    assert unit.factor > 0
    assert unit.kind != "quotient" or name == "mN/m"


@pytest.mark.parametrize(
    ("spelled", "name"),
    [("in-lbf", "lbf.in"), ("in-lb", "lbf.in"), ("ft-lb", "lbf.ft"), ("ft-lbf", "lbf.ft"), ("Nm", "N.m")],
)
def test_other_spellings_are_the_same_unit(spelled: str, name: str) -> None:
    """A torque wrench's spelling and a manual's are one unit."""
    assert find_unit(spelled) == find_unit(name)


@pytest.mark.parametrize("name", ["N.m/deg", "Nm/deg", "in-lbf/deg"])
def test_a_quotient_of_any_two_units_is_a_unit(name: str) -> None:
    """A quotient is understood in every spelling of its two units."""
    above, _, below = name.partition("/")
    assert find_unit(name).factor == find_unit(above).factor / find_unit(below).factor


def test_a_temperature_below_a_stroke_is_a_difference() -> None:
    """An expansion a degree has no offset, and a Fahrenheit degree is five ninths."""
    assert find_unit("1/degF").offset == 0
    assert find_unit("1/degF").factor / find_unit("1/degC").factor == pytest.approx(9 / 5, abs=0)


@pytest.mark.parametrize("name", ["", "inch", "IN", "1", "in/", "/in", "in/in/in", "in.lbf.x", "\u00b5m"])
def test_an_unknown_unit_is_refused_with_a_hint(name: str) -> None:
    """What the bench does not know is refused, and something is offered."""
    with pytest.raises(UnknownUnit) as caught:
        find_unit(name)
    assert caught.value.expected


def test_kinds_have_words() -> None:
    """A kind is told in words, one without a word is a quotient."""
    assert find_unit("lbf.in").kind == "torque"
    assert kind_name((9, 0, 0, 0, 0)) == "quotient"


def test_a_unit_prints_its_name() -> None:
    """On paper a unit is its name."""
    unit: Unit = find_unit("lbf.in")
    assert str(unit) == "lbf.in"
