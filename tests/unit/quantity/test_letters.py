"""L is loose, T is tight, nought is neither."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.quantity import find_unit, letter_of, lettered, read_lettered
from tenthbook.numbers.quantity.typed import NotAQuantity

INCH = find_unit("in")


def test_the_printed_text_is_kept_beside_the_signed_number() -> None:
    """What the table printed is never lost."""
    read = read_lettered(" 0.0020T ", INCH)
    assert (read.printed, read.clearance.typed, str(read.clearance)) == ("0.0020T", "-0.0020", "-0.0020 in")


@pytest.mark.parametrize("text", ["0", "0.0000", "0.0000T", "0.0000L"])
def test_nought_needs_no_letter_and_has_no_sign(text: str) -> None:
    """A line-to-line fit is nought, whatever letter stands behind it."""
    clearance = read_lettered(text, INCH).clearance
    assert clearance.number == 0
    assert not clearance.typed.startswith("-")


@pytest.mark.parametrize("text", ["0.0020", "-0.0020T", "+0.0020L", "0.0020X", "T", "", "0.0020 T L", "0.0020t"])
def test_a_number_without_its_letter_is_refused(text: str) -> None:
    """Neither a missing letter nor a sign beside it is guessed at."""
    with pytest.raises(NotAQuantity):
        read_lettered(text, INCH)


@pytest.mark.parametrize(
    ("clearance", "letter"), [(Fraction(1, 1000), "L"), (Decimal("-0.0005"), "T"), (Decimal("0.000"), None)]
)
def test_the_letter_is_the_sign(clearance: Fraction | Decimal, letter: str | None) -> None:
    """Positive is loose, negative tight, nought neither."""
    assert letter_of(clearance) == letter


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-1, max_value=1, places=5))
@settings(deadline=None)
def test_printed_letters_read_back(clearance: Decimal) -> None:
    """A clearance printed with its letter reads back as the same clearance."""
    assert read_lettered(lettered(clearance, 4), INCH).clearance.number == clearance
