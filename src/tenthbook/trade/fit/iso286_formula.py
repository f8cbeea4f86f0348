"""How wide the ISO 286 formula makes a tolerance, beside what the table prints.

A second opinion on the table, never a replacement: the standard rounds, and the printed table rules. In go steps in
mm, out come micrometres.

Sources: ISO 286-1:1988, annex A (from memory; the figures reproduce by computation).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tenthbook.trade.fit.faults import NoSuchClass
from tenthbook.trade.fit.lengths import Floats, as_floats

# Tolerance units in each grade from IT5 to IT18.
UNITS_A_GRADE = {
    5: 7,
    6: 10,
    7: 16,
    8: 25,
    9: 40,
    10: 64,
    11: 100,
    12: 160,
    13: 250,
    14: 400,
    15: 640,
    16: 1000,
    17: 1600,
    18: 2500,
}


def tolerance_unit(over_mm: ArrayLike, up_to_mm: ArrayLike) -> Floats:
    """Say how large the tolerance unit i of a step is.

    Args:
        over_mm: Lower edge of the step [mm], above zero; the first step counts from 1 mm; scalar or array.
        up_to_mm: Upper edge of the step [mm]; broadcasts with `over_mm`.

    Returns:
        Tolerance unit i = 0.45 D^(1/3) + 0.001 D [um], D the geometric mean of the edges [mm]. Not rounded.

    Raises:
        OutOfRange: an edge that is not above zero.

    Valid for: steps to 500 mm.
    Source: ISO 286-1:1988, annex A (from memory). Checked in: tests/published/test_iso_286.py
    """
    edges = np.sqrt(
        as_floats(over_mm, "lower edge in mm", least=1e-9) * as_floats(up_to_mm, "upper edge in mm", least=1e-9)
    )
    return np.asarray(0.45 * np.cbrt(edges) + 0.001 * edges, dtype=np.float64)


def formula_tolerance(grade: int, over_mm: ArrayLike, up_to_mm: ArrayLike) -> Floats:
    """Say how wide the formula makes a standard tolerance, before the standard rounds it.

    Args:
        grade: Tolerance grade, 5 to 18 [-].
        over_mm: Lower edge of the step [mm]; scalar or array.
        up_to_mm: Upper edge of the step [mm]; broadcasts with `over_mm`.

    Returns:
        Width [um]. Not rounded.

    Raises:
        NoSuchClass: a grade the formula does not reach.

    Valid for: IT5 to IT18, steps to 500 mm; the printed table may differ by some per cent and rules.
    Source: ISO 286-1:1988, annex A (from memory). Checked in: tests/published/test_iso_286.py
    """
    if grade not in UNITS_A_GRADE:
        raise NoSuchClass(
            found=f"grade {grade}",
            expected="a grade from 5 to 18 for the formula",
            todo="take the table for IT1 to IT4",
        )
    return np.asarray(UNITS_A_GRADE[grade] * tolerance_unit(over_mm, up_to_mm), dtype=np.float64)
