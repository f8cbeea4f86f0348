"""Numbers come in exactly, and what is no number is refused with its name."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.lengths import as_floats, as_lengths


@pytest.mark.parametrize(
    ("given", "kind"),
    [
        (3, "i"),
        (np.int32(3), "i"),
        (np.uint64(3), "O"),
        (3.5, "f"),
        (Decimal("3.5"), "O"),
        (Fraction(7, 2), "O"),
        (2**70, "O"),
    ],
)
def test_a_number_keeps_its_kind(given: Any, kind: str) -> None:
    """Whole numbers stay whole, decimals and fractions stay themselves, and huge numbers stay exact."""
    array = as_lengths(given, "size")
    assert array.dtype.kind == kind
    assert array == given


@pytest.mark.parametrize(
    "given",
    [
        None,
        "1.25",
        True,
        float("nan"),
        float("inf"),
        Decimal("NaN"),
        Decimal("Infinity"),
        [1, None],
        [Decimal(1), "x"],
        [Decimal(1), True],
    ],
)
def test_what_is_no_number_is_refused(given: Any) -> None:
    """A missing, infinite or written number is named, with what it was meant to be."""
    with pytest.raises(TenthbookError, match="shaft size; expected a finite number"):
        as_lengths(given, "shaft size")


def test_an_uncertainty_below_zero_is_refused() -> None:
    """A plain number under its least value is refused with the value found."""
    with pytest.raises(TenthbookError, match=r"found doubt -0\.5; expected 0 or more"):
        as_floats([1.0, -0.5], "doubt", least=0.0)


@pytest.mark.parametrize("given", ["wide", [1.0, float("nan")], object()])
def test_plain_numbers_must_be_finite(given: Any) -> None:
    """What cannot be a finite float is refused."""
    with pytest.raises(TenthbookError, match="a finite number"):
        as_floats(given, "doubt")
