"""Which sizes a class like H7 or g6 allows, and what clearance the two make together.

It knows sizes to 500 mm, grades 1 to 18, shafts d e f g h js k m n p r s and holes D E F G H JS K N P R S; hole M is
left out because one of its cells breaks the rule the others follow. In go a class as written and sizes in whole
picometres; out come deviations in whole picometres, exact (half a micrometre is 500000 pm).

Sources: ISO 286-1, ISO 286-2 with Technical Corrigendum 1 of 2006; what was read and what recalled stands in
`iso286_tables`.
"""

from __future__ import annotations

import re
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.fit.faults import NoSuchClass, OutOfRange
from tenthbook.trade.fit.iso286_tables import (
    FINE_STEPS_PM,
    GRADES,
    GRADES_WITH_K,
    HOLE_LETTERS,
    PM_A_MM,
    SHAFT_LETTERS,
    SHAFT_POSITIONS_PM,
    STEPS_PM,
    TOLERANCES_PM,
)
from tenthbook.trade.fit.lengths import LengthsLike, as_lengths

Picometres = NDArray[np.int64]

_LAST_STEP_PM = int(STEPS_PM[-1])
_CLASS = re.compile(r"([A-Za-z]{1,2})([0-9]{1,2})")
_FIRST_GRADE_WITH_DELTA = 3  # the table of delta begins at IT3
_WHAT_TO_GIVE = "give the class as the drawing prints it, for instance H7 or g6"


class Deviations(NamedTuple):
    """How far the two limits of a size lie from the size itself.

    Attributes:
        lower_pm: Lower deviation, EI or ei [pm] (1e-9 mm), signed.
        upper_pm: Upper deviation, ES or es [pm], signed.
    """

    lower_pm: Picometres
    upper_pm: Picometres


class IsoFit(NamedTuple):
    """A hole class and a shaft class on one nominal size.

    Attributes:
        hole: Deviations of the hole [pm] (1e-9 mm).
        shaft: Deviations of the shaft [pm].
        least_pm: Least clearance [pm]; negative is interference.
        greatest_pm: Greatest clearance [pm]; negative is interference.
    """

    hole: Deviations
    shaft: Deviations
    least_pm: Picometres
    greatest_pm: Picometres


def standard_tolerance(grade: int, size_pm: LengthsLike) -> Picometres:
    """Say how wide a grade is at a size.

    Args:
        grade: Tolerance grade, 1 to 18 [-].
        size_pm: Nominal size [pm], above zero and up to 500 mm; scalar or array, int64 or object.

    Returns:
        Width of the tolerance IT [pm], shape of `size_pm`; exact.

    Raises:
        NoSuchClass: no such grade.
        OutOfRange: a size outside the table.

    Valid for: nominal sizes to 500 mm; the upper edge of a step belongs to the step.
    Source: ISO 286-1, table 1. Checked in: tests/published/test_iso_286.py
    """
    if grade not in GRADES:
        raise NoSuchClass(
            found=f"grade {grade}", expected=f"a grade from {GRADES[0]} to {GRADES[-1]}", todo=_WHAT_TO_GIVE
        )
    return np.asarray(TOLERANCES_PM[_steps(size_pm), grade - 1], dtype=np.int64)


def shaft_deviations(tolerance_class: str, size_pm: LengthsLike) -> Deviations:
    """Say which sizes a shaft class allows.

    Args:
        tolerance_class: Small letter and grade, for instance "g6".
        size_pm: Nominal size [pm], above zero and up to 500 mm; scalar or array, int64 or object.

    Returns:
        Lower and upper deviation [pm], shape of `size_pm`; exact.

    Raises:
        NoSuchClass: a letter or grade without a value here.
        OutOfRange: a size outside the table.

    Valid for: d e f g h js k m n p r s, grades 1 to 18.
    Source: ISO 286-2 with Technical Corrigendum 1 (2006). Checked in: tests/published/test_iso_286.py
    """
    letter, grade = _letter_and_grade(tolerance_class, "shaft", SHAFT_LETTERS)
    width = standard_tolerance(grade, size_pm)
    if letter == "js":
        return _either_side(width)
    start = _shaft_position(letter, size_pm)
    if letter in "defgh":
        return Deviations(start - width, start)
    if letter == "k" and grade not in GRADES_WITH_K:
        start = np.zeros_like(start)
    return Deviations(start, start + width)


def hole_deviations(tolerance_class: str, size_pm: LengthsLike) -> Deviations:
    """Say which sizes a hole class allows.

    Args:
        tolerance_class: Capital letter and grade, for instance "H7".
        size_pm: Nominal size [pm], above zero and up to 500 mm; scalar or array, int64 or object.

    Returns:
        Lower and upper deviation [pm], shape of `size_pm`; exact.

    Raises:
        NoSuchClass: a letter or grade without a value here.
        OutOfRange: a size outside the table.

    Valid for: D E F G H JS in grades 1 to 18; N P R S in grades 3 to 18; K in grades 3 to 8, above grade 8 only to 3
        mm.
    Source: ISO 286-2 with Technical Corrigendum 1 (2006). Checked in: tests/published/test_iso_286.py
    """
    letter, grade = _letter_and_grade(tolerance_class, "hole", HOLE_LETTERS)
    width = standard_tolerance(grade, size_pm)
    if letter == "JS":
        return _either_side(width)
    if letter in "DEFGH":
        lower = -_shaft_position(letter.lower(), size_pm)
        return Deviations(lower, lower + width)
    upper = _upper_deviation_of_tight_hole(letter, grade, size_pm)
    return Deviations(upper - width, upper)


def iso_fit(hole_class: str, shaft_class: str, size_pm: LengthsLike) -> IsoFit:
    """Say what clearance a hole class and a shaft class make on one nominal size.

    Args:
        hole_class: Capital letter and grade, for instance "H7".
        shaft_class: Small letter and grade, for instance "g6".
        size_pm: Nominal size [pm], above zero and up to 500 mm; scalar or array, int64 or object.

    Returns:
        Deviations of both and the least and greatest clearance [pm], shape of `size_pm`; exact.

    Raises:
        NoSuchClass: a letter or grade without a value here.
        OutOfRange: a size outside the table.

    Valid for: both parts at 20 degC.
    Source: ISO 286-1, clause on fits. Checked in: tests/published/test_iso_286.py
    """
    hole = hole_deviations(hole_class, size_pm)
    shaft = shaft_deviations(shaft_class, size_pm)
    return IsoFit(hole, shaft, hole.lower_pm - shaft.upper_pm, hole.upper_pm - shaft.lower_pm)


def _upper_deviation_of_tight_hole(letter: str, grade: int, size_pm: LengthsLike) -> Picometres:
    """Lift K, N (to grade 8) and P, R, S (to grade 7) a delta above the mirrored shaft, over 3 mm."""
    mirrored = -_shaft_position(letter.lower(), size_pm)
    is_small = _steps(size_pm) == 0
    if grade < _FIRST_GRADE_WITH_DELTA:
        raise NoSuchClass(
            found=f"hole {letter}{grade}", expected=f"grade 3 or above for hole {letter}", todo=_WHAT_TO_GIVE
        )
    if grade <= (8 if letter in "KN" else 7):
        delta = standard_tolerance(grade, size_pm) - standard_tolerance(grade - 1, size_pm)
        return np.asarray(np.where(is_small, mirrored, mirrored + delta), dtype=np.int64)
    if letter == "K" and not np.all(is_small):
        expected = "K3 to K8; above 3 mm the standard has no K of a higher grade"
        raise NoSuchClass(found=f"hole K{grade} above 3 mm", expected=expected, todo=_WHAT_TO_GIVE)
    if letter == "N":
        return np.asarray(np.where(is_small, mirrored, 0), dtype=np.int64)
    return mirrored


def _either_side(width: Picometres) -> Deviations:
    return Deviations(-(width // 2), width // 2)


def _shaft_position(letter: str, size_pm: LengthsLike) -> Picometres:
    fine = letter in "rs"
    return np.asarray(SHAFT_POSITIONS_PM[letter][_steps(size_pm, FINE_STEPS_PM if fine else STEPS_PM)], dtype=np.int64)


def _steps(size_pm: LengthsLike, edges: Picometres = STEPS_PM) -> NDArray[np.intp]:
    sizes = as_lengths(size_pm, "nominal size")
    wrong = np.asarray((sizes <= 0) | (sizes > _LAST_STEP_PM), dtype=np.bool_)
    if wrong.any():
        found = f"nominal size {float(sizes[wrong].flat[0]) / PM_A_MM:g} mm"
        raise OutOfRange(found=found, expected=f"above 0 and up to {_LAST_STEP_PM // PM_A_MM} mm")
    return np.asarray(np.searchsorted(edges.astype(sizes.dtype), sizes, side="left"), dtype=np.intp)


def _letter_and_grade(tolerance_class: str, part: str, letters: tuple[str, ...]) -> tuple[str, int]:
    match = _CLASS.fullmatch(tolerance_class.strip())
    if match is None:
        raise NoSuchClass(found=f"{part} class {tolerance_class!r}", expected="letter and grade", todo=_WHAT_TO_GIVE)
    letter, grade = match.group(1), int(match.group(2))
    if match.group(2).startswith("0"):
        expected = f"a grade from {GRADES[0]} to {GRADES[-1]}, no nought before it: 0 and 01 are other, finer grades"
        raise NoSuchClass(found=f"grade {match.group(2)}", expected=expected, todo=_WHAT_TO_GIVE)
    if letter not in letters:
        is_hole_m = part == "hole" and letter == "M"
        todo = "one cell of hole M breaks its rule: take M from the standard itself" if is_hole_m else _WHAT_TO_GIVE
        raise NoSuchClass(found=f"{part} letter {letter}", expected=f"one of {' '.join(letters)}", todo=todo)
    return letter, grade
