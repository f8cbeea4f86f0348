"""What a certificate's text means: a day, something measured, a factor. What cannot be read is none of these."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import Quantity, plain, quantity
from tenthbook.record.tools.kinds import DAY


def is_day(text: str) -> bool:
    """Ask whether a text is a day of the calendar.

    Args:
        text: What was typed, such as "2026-03-09".

    Returns:
        True for a real day, written so.

    Source: ISO 8601-1:2019, 5.2.2.1 (from memory).
    """
    try:
        return bool(re.fullmatch(DAY, text)) and date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def above_nought(text: str) -> Quantity | None:
    """Read a text as a measured amount above nought.

    Args:
        text: What was typed, such as "0.00012 in", "0.5 lbf.in", "0.4 degC".

    Returns:
        The quantity with its digits and unit; None for a number without a unit, for nought, and for what is none.
    """
    try:
        read = quantity(text)
    except TenthbookError:
        return None
    return read if read.unit.kind != "plain number" and read.number > 0 else None


def factor_of(text: str) -> Fraction | None:
    """Read a text as a coverage factor.

    Args:
        text: What was typed, such as "2" [-].

    Returns:
        The factor [-], exact; None where it is not a number above nought.

    Source: JCGM 100:2008, 6.2.1 (from memory).
    """
    try:
        read = Fraction(plain(text))
    except TenthbookError:
        return None
    return read if read > 0 else None
