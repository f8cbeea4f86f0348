"""What the letters behind a clearance mean: L is loose, T is tight.

Clearance is hole less shaft: positive is loose, negative is tight. Tables of fits print the letter instead of the sign
("0.0005T", "0.0015L") and mix both in one row; nought carries no letter.

Source: trade convention, common practice, no source (the letters are from memory; one published table was seen that
prints the word). Checked in: tests/published/test_trade_letters.py
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from tenthbook.numbers.quantity.typed import NotAQuantity, Quantity, plain, shown
from tenthbook.numbers.quantity.units import Unit

_SIGN = {"T": -1, "L": 1}


@dataclass(frozen=True, slots=True)
class LetteredClearance:
    """A clearance printed with its letter.

    Attributes:
        clearance: Hole less shaft, signed, in its unit [any length].
        printed: The text as it stood in the table.
    """

    clearance: Quantity
    printed: str


def read_lettered(text: str, unit: Unit) -> LetteredClearance:
    """Read "0.0020T" or "0.0015L".

    Args:
        text: Digits and one letter, no blank between; nought may stand without a letter.
        unit: Unit of the column [in or mm].

    Returns:
        The signed clearance [unit] and the text as printed.

    Raises:
        NotAQuantity: no letter on a number that is not nought, a sign and a letter together, or another letter.
    """
    stripped = text.strip()
    digits, letter = (stripped[:-1], stripped[-1]) if stripped[-1:] in _SIGN else (stripped, "")
    number = plain(digits) if digits else ""
    wrong = not number or number[0] in "+-" or (not letter and Decimal(number) != 0)
    if wrong:
        raise NotAQuantity(found=repr(text), expected="digits and T or L, such as 0.0020T or 0.0015L; no sign")
    sign = "-" if _SIGN.get(letter, 1) < 0 and Decimal(number) != 0 else ""
    return LetteredClearance(Quantity(sign + number, unit), stripped)


def letter_of(clearance: Fraction | Decimal) -> str | None:
    """Say whether a clearance is loose or tight.

    Args:
        clearance: Hole less shaft, signed [any length].

    Returns:
        "L", "T", or None for nought.
    """
    if clearance == 0:
        return None
    return "L" if clearance > 0 else "T"


def lettered(clearance: Fraction | Decimal, decimals: int) -> str:
    """Print a clearance with its letter instead of its sign.

    Args:
        clearance: Hole less shaft, signed [any length].
        decimals: Decimals of the figures it came from.

    Returns:
        "0.0020T", "0.0015L" or "0.0000".
    """
    return shown(-clearance if clearance < 0 else clearance, decimals) + (letter_of(clearance) or "")
