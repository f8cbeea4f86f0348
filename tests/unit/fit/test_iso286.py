"""Rules that every class and size of the limits-and-fits tables keeps, and what is refused."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.iso286 import hole_deviations, iso_fit, shaft_deviations, standard_tolerance
from tenthbook.trade.fit.iso286_formula import formula_tolerance, tolerance_unit
from tenthbook.trade.fit.iso286_tables import (
    FINE_STEPS_PM,
    GRADES,
    HOLE_LETTERS,
    SHAFT_LETTERS,
    SHAFT_POSITIONS_PM,
    STEPS_PM,
    TOLERANCES_PM,
)

MM = 1_000_000_000
UM = 1_000_000

sizes = st.integers(min_value=1, max_value=500 * MM)
grades = st.sampled_from(list(GRADES))
shaft_letters = st.sampled_from(SHAFT_LETTERS)
hole_letters = st.sampled_from(HOLE_LETTERS)


def test_every_row_of_the_table_grows_with_the_grade_and_the_step() -> None:
    """In ISO 286-1 a coarser grade is wider at every step, and a larger step is never narrower."""
    assert TOLERANCES_PM.shape == (len(STEPS_PM), len(GRADES))
    assert np.all(np.diff(TOLERANCES_PM, axis=1) > 0)
    assert np.all(np.diff(TOLERANCES_PM, axis=0) >= 0)


def test_letters_stand_in_order_at_every_step() -> None:
    """From d to p each letter's shaft begins higher than the one before it, and s above r (ISO 286-1)."""
    stack = np.array([SHAFT_POSITIONS_PM[letter] for letter in "defghkmnp"])
    assert np.all(np.diff(stack, axis=0)[:4] > 0)
    assert np.all(np.diff(stack, axis=0)[4:] >= 0)
    assert np.all(SHAFT_POSITIONS_PM["s"] > SHAFT_POSITIONS_PM["r"])
    assert len(SHAFT_POSITIONS_PM["r"]) == len(SHAFT_POSITIONS_PM["s"]) == len(FINE_STEPS_PM)


def test_a_table_cannot_be_written_to() -> None:
    """Nobody changes a printed table by accident."""
    with pytest.raises(ValueError, match="read-only"):
        TOLERANCES_PM[0, 0] = 0


@given(letter=shaft_letters, grade=grades, size=sizes)
def test_a_shaft_class_is_as_wide_as_its_grade(letter: str, grade: int, size: int) -> None:
    """The two deviations of any shaft differ by the standard tolerance of ISO 286-1, exactly."""
    lower, upper = shaft_deviations(f"{letter}{grade}", size)
    assert upper - lower == standard_tolerance(grade, size)


@given(letter=st.sampled_from("DEFGH"), grade=grades, size=sizes)
def test_a_loose_hole_mirrors_the_shaft_of_its_letter(letter: str, grade: int, size: int) -> None:
    """For D to H the hole's lower deviation is minus the shaft's upper one (ISO 286-1)."""
    assert (
        hole_deviations(f"{letter}{grade}", size).lower_pm
        == -shaft_deviations(f"{letter.lower()}{grade}", size).upper_pm
    )


@given(letter=st.sampled_from("PRS"), grade=st.integers(4, 7), size=st.integers(3 * MM + 1, 500 * MM))
def test_tight_hole_and_tight_shaft_give_one_fit(letter: str, grade: int, size: int) -> None:
    """Over 3 mm, P7/h6 is as tight as H7/p6, and so for R, S and other grades: what delta is for (ISO 286-1)."""
    shaft_basis = iso_fit(f"{letter}{grade}", f"h{grade - 1}", size)
    hole_basis = iso_fit(f"H{grade}", f"{letter.lower()}{grade - 1}", size)
    assert (shaft_basis.least_pm, shaft_basis.greatest_pm) == (hole_basis.least_pm, hole_basis.greatest_pm)


@given(letter=hole_letters, grade=st.integers(3, 8), size=sizes)
def test_a_hole_class_is_as_wide_as_its_grade(letter: str, grade: int, size: int) -> None:
    """The two deviations of any hole differ by the standard tolerance, to the picometre."""
    lower, upper = hole_deviations(f"{letter}{grade}", size)
    assert upper - lower == standard_tolerance(grade, size)


@given(grade=grades, size=sizes)
def test_js_lies_evenly_on_both_sides(grade: int, size: int) -> None:
    """JS and js are symmetric and exact, half micrometres included (ISO 286-1)."""
    hole, shaft = hole_deviations(f"JS{grade}", size), shaft_deviations(f"js{grade}", size)
    assert hole == shaft
    assert hole.lower_pm == -hole.upper_pm
    assert 2 * hole.upper_pm == standard_tolerance(grade, size)


@pytest.mark.parametrize("edge", range(len(STEPS_PM)))
def test_every_step_edge_belongs_to_its_step(edge: int) -> None:
    """At each edge the tolerance is that of the row below the edge, and one picometre more takes the next row."""
    assert standard_tolerance(7, int(STEPS_PM[edge])) == TOLERANCES_PM[edge, 6]
    if edge + 1 < len(STEPS_PM):
        assert standard_tolerance(7, int(STEPS_PM[edge]) + 1) == TOLERANCES_PM[edge + 1, 6]


def test_an_array_of_sizes_answers_as_its_elements_do() -> None:
    """A list of sizes, one of them finer than a picometre, gives what each gives alone."""
    fine = np.array([Decimal(30 * MM), Decimal(30 * MM) + Decimal("0.1"), 70 * MM], dtype=object)
    together = iso_fit("H7", "r6", fine)
    alone = [iso_fit("H7", "r6", size) for size in fine]
    assert together.least_pm.tolist() == [int(fit.least_pm) for fit in alone]
    assert together.greatest_pm.tolist() == [int(fit.greatest_pm) for fit in alone]
    assert together.least_pm.tolist() == [-41 * UM, -50 * UM, -62 * UM]


@pytest.mark.parametrize(("size_mm", "expected_um"), [(2, -4), (3, -4), (4, 0), (400, 0)])
def test_hole_n_above_grade_8(size_mm: int, expected_um: int) -> None:
    """Hole N of grade 9 and more ends at the size itself, but at -4 um up to 3 mm (ISO 286-1, from memory)."""
    assert hole_deviations("N9", size_mm * MM).upper_pm == expected_um * UM


def test_hole_k_above_grade_8_only_to_3_mm() -> None:
    """K9 exists up to 3 mm, where it ends at the size, and is refused above (ISO 286-1, from memory)."""
    lower, upper = hole_deviations("K9", 3 * MM)
    assert [int(lower), int(upper)] == [-25 * UM, 0]
    with pytest.raises(TenthbookError, match="K3 to K8"):
        hole_deviations("K9", [3 * MM, 3 * MM + 1])


@pytest.mark.parametrize("letter", "PRS")
def test_tight_holes_above_grade_7_carry_no_delta(letter: str) -> None:
    """From grade 8 on, holes P, R and S end where their shaft begins, sign turned (ISO 286-1)."""
    assert hole_deviations(f"{letter}8", 40 * MM).upper_pm == -shaft_deviations(f"{letter.lower()}7", 40 * MM).lower_pm
    assert (
        hole_deviations(f"{letter}7", 40 * MM).upper_pm
        == -shaft_deviations(f"{letter.lower()}6", 40 * MM).lower_pm + 9 * UM
    )


@pytest.mark.parametrize(("grade", "lower_um"), [(3, 0), (4, 2), (7, 2), (8, 0)])
def test_shaft_k_outside_grades_4_to_7_begins_at_the_size(grade: int, lower_um: int) -> None:
    """Shaft k has a start of its own in grades 4 to 7 only (ISO 286-1)."""
    assert shaft_deviations(f"k{grade}", 25 * MM).lower_pm == lower_um * UM


@pytest.mark.parametrize(
    ("tolerance_class", "says"),
    [
        ("M7", "one cell of hole M breaks its rule"),
        ("h7", "one of D E F G H JS K N P R S"),
        ("ZC7", "one of D E F G H JS"),
        ("H", "letter and grade"),
        ("7H", "letter and grade"),
        ("H7.5", "letter and grade"),
        ("H19", "a grade from 1 to 18"),
        ("H0", "a grade from 1 to 18"),
        ("H01", "grade 01; expected a grade from 1 to 18, no nought before it"),
        ("H07", "grade 07; expected a grade from 1 to 18, no nought before it"),
        ("P2", "grade 3 or above for hole P"),
    ],
)
def test_a_hole_class_without_a_value_is_refused(tolerance_class: str, says: str) -> None:
    """What is not in the table is refused, and the message names what is."""
    with pytest.raises(TenthbookError, match=says):
        hole_deviations(tolerance_class, 25 * MM)


@pytest.mark.parametrize(
    ("tolerance_class", "says"),
    [
        ("G6", "one of d e f g h js k m n p r s"),
        ("zc6", "one of d e"),
        ("g", "letter and grade"),
        ("g06", "found grade 06"),
    ],
)
def test_a_shaft_class_without_a_value_is_refused(tolerance_class: str, says: str) -> None:
    """A shaft's letters are small; others are refused by name."""
    with pytest.raises(TenthbookError, match=says):
        shaft_deviations(tolerance_class, 25 * MM)


@pytest.mark.parametrize("size", [0, -MM, 500 * MM + 1, [25 * MM, 501 * MM]])
def test_a_size_outside_the_table_is_refused(size: Any) -> None:
    """Sizes run from above 0 to 500 mm, the upper end included, as in table 1 of ISO 286-1."""
    with pytest.raises(TenthbookError, match="above 0 and up to 500 mm"):
        standard_tolerance(7, size)
    assert standard_tolerance(7, 500 * MM) == 63 * UM


def test_spaces_round_a_class_do_not_matter() -> None:
    """A class typed with a space after it is the same class."""
    assert hole_deviations(" H7 ", 25 * MM) == hole_deviations("H7", 25 * MM)


def test_the_formula_refuses_what_it_does_not_reach() -> None:
    """IT1 to IT4 and a step beginning at zero have no formula here."""
    with pytest.raises(TenthbookError, match="from 5 to 18"):
        formula_tolerance(4, 18, 30)
    with pytest.raises(TenthbookError, match="lower edge"):
        tolerance_unit(0, 3)
