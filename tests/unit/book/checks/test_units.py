"""A limit printed in two units is compared in both, and two rounded figures of one size are let stand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book.checks.units import RULES, check_units
from tests.unit.book.checks.rows import Cells, Pair, fit, found_by, pair, shaft, size

AGREE, ALIKE, FIRST, ORDER = "book.units-agree", "book.units-alike", "book.first-unit", "book.other-unit-order"
SIDES = ("new_min", "new_max", "service_min", "service_max")


def mm(**cells: str) -> Cells:
    """The sound bore, with its millimetres beside it."""
    return size(**{"other_unit": "mm", "other_new_min": "13.015", "other_new_max": "13.030", **cells})


def one_side(side: str, millimetres: str) -> Cells:
    """A bore with a limit on one side, in two units."""
    return size(**{"new_min": "", "new_max": "", side: "0.5124", "other_unit": "mm", f"other_{side}": millimetres})


def bend(other_per: str) -> Cells:
    """A bend stated for a length, in two units."""
    rate = {"kind": "per length", "unit": "mm", "amount": "0.05", "per": "100", "over": "size.rod"}
    other = {"other_unit": "in", "other_amount": "0.002", "other_per": other_per}
    return size("bend", **{"new_min": "", "new_max": "", **rate, **other})


def torque(**cells: str) -> Cells:
    """A torque in two units."""
    whole = {"id": "torque.nut", "joint": "pump", "thread": "5/16-24", "unit": "lbf.in", "least": "105"}
    whole |= {"greatest": "125", "threads_are": "dry", "other_unit": "N.m", "page": "5-1"}
    return {**whole, "other_least": "11.9", "other_greatest": "14.1", **cells}


ROD = size("rod", new_min="6.10", new_max="6.11")
PAIRS = [
    *(
        pair(
            AGREE,
            f"other_{side}",
            one_side(side, "13.051"),
            one_side(side, "13.015"),
        )
        for side in SIDES
    ),
    pair(AGREE, "other_per", (ROD, bend("2.937")), (ROD, bend("3.937"))),
    pair(
        AGREE,
        "other_new_min",
        (size(), shaft(), fit(other_unit="mm", other_new_min="0.25", other_new_max="0.056")),
        (size(), shaft(), fit(other_unit="mm", other_new_min="0.025", other_new_max="0.056")),
    ),
    pair(AGREE, "other_greatest", torque(other_greatest="141"), torque()),
    pair(ALIKE, "other_unit", mm(other_unit="N", other_new_min="", other_new_max=""), mm()),
    pair(FIRST, "service_max", mm(other_service_max="13.05"), mm(service_max="0.5140")),
    pair(ORDER, "other_new_min", mm(other_new_min="13.051"), mm()),
    pair(ORDER, "other_least", torque(other_least="141.9"), torque(other_unit="", other_least="", other_greatest="")),
]


@pytest.mark.parametrize("one", PAIRS, ids=str)
def test_a_slip_is_found_and_its_neighbour_is_not(one: Pair) -> None:
    """The rule names the row whose two units disagree, and no rule speaks of the row beside it that is right."""
    found = found_by(check_units, *one.broken)
    assert (one.rule, one.column) in {(finding.rule, finding.column) for finding in found}, found
    assert found_by(check_units, *one.sound) == []


def test_every_rule_of_two_units_is_broken_by_one_of_these() -> None:
    """No rule stands in the register that no slip can break."""
    assert {one.rule for one in PAIRS} == {rule.id for rule in RULES}


def test_both_figures_and_the_conversion_are_named() -> None:
    """Whoever looks at the page sees both figures, and what the first of them is in the second unit."""
    (asked,) = found_by(check_units, mm(other_new_max="13.300"))
    assert asked.found == "0.5130 in beside 13.300 mm; 0.5130 in is 13.0302 mm"
    assert "13." not in asked.expected


@given(st.integers(0, 99_999), st.integers(2, 4), st.integers(1, 4))
def test_a_rightly_rounded_conversion_is_never_asked_about(tenths: int, inch_digits: int, mm_digits: int) -> None:
    """However a size is rounded into its two printed units, the two agree."""
    exact = Fraction(tenths, 10_000)
    inches, millimetres = (
        f"{float(round(number * 10**digits)) / 10**digits:.{digits}f}"
        for number, digits in ((exact, inch_digits), (exact * Fraction(254, 10), mm_digits))
    )
    row = size(new_min="", new_max=inches, other_unit="mm", other_new_max=millimetres)
    assert found_by(check_units, row) == []


@given(st.integers(100, 99_999), st.sampled_from([-1, 1]))
def test_a_point_that_slid_in_one_unit_is_always_found(tenths: int, places: int) -> None:
    """Ten times or a tenth of what the inches make is asked about, whichever way the point went."""
    inches = Fraction(tenths, 10_000)
    slid = inches * Fraction(254, 10) * Fraction(10) ** places
    row = size(new_min="", new_max=f"{float(inches):.4f}", other_unit="mm", other_new_max=f"{float(slid):.3f}")
    assert [finding.rule for finding in found_by(check_units, row)] == [AGREE]
