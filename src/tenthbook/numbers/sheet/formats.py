"""How does a sheet show a number: as a number, or as a date that it once was not?

A spreadsheet keeps numbers and dates alike and tells them apart by the format of the cell. Goes in: the styles of a
workbook. Comes out: the format of each style, and words for a value that is shown as a date. No value is changed.
Source: ECMA-376 Part 1, 18.8.30 (numFmt) and 18.17.4 (dates and times), from memory.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from xml.etree.ElementTree import Element

GENERAL = "General"

_NUMBERED = {
    **{0: GENERAL, 1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 9: "0%", 10: "0.00%", 11: "0.00E+00", 12: "# ?/?"},
    **{13: "# ??/??", 14: "mm-dd-yy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy", 18: "h:mm AM/PM"},
    **{19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yy h:mm", 37: "#,##0 ;(#,##0)"},
    **{38: "#,##0 ;[Red](#,##0)", 39: "#,##0.00;(#,##0.00)", 40: "#,##0.00;[Red](#,##0.00)", 45: "mm:ss"},
    **{46: "[h]:mm:ss", 47: "mmss.0", 48: "##0.0E+0", 49: "@"},
    # written in Chinese, Japanese and Korean calendars: dates and times all of them
    **dict.fromkeys((*range(27, 37), *range(50, 59)), "yyyy-mm-dd"),
}
_BUILT_IN = {str(number): code for number, code in _NUMBERED.items()}
# Text in quotation marks, a sign led by \\ _ or *, a colour or currency in brackets: none of them is a part of a date.
_SHOWN_AS_IS = re.compile(r'"[^"]*"|[\\_*].|\[(?!(?:h+|m+|s+)\])[^\]]*\]', re.IGNORECASE | re.DOTALL)
_PART_OF_A_DATE = re.compile(r"[dmyhs]", re.IGNORECASE)
_PART_OF_A_TIME = re.compile(r"[hs]", re.IGNORECASE)
_PART_OF_A_DAY = re.compile(r"[dy]", re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def is_date(number_format: str) -> bool:
    """Say whether a number format shows a date or a time.

    Args:
        number_format: As the workbook states it, for instance "d-mmm" or "0.0000".

    Returns:
        True if any of it shows a year, month, day, hour, minute or second.

    Source: ECMA-376 Part 1, 18.8.31, from memory.
    """
    return bool(_PART_OF_A_DATE.search(_SHOWN_AS_IS.sub("", number_format)))


@dataclass(frozen=True, slots=True)
class Formats:
    """The number format of each style of a workbook, in the order of the styles.

    Attributes:
        codes: Number formats.
        dates: Whether each of them shows a date or a time.
        from_1904: Whether days are counted from 1904 and not from 1900.
    """

    codes: Sequence[str]
    dates: Sequence[bool]
    from_1904: bool


def formats_of(styles: Element | None, *, from_1904: bool) -> Formats:
    """Read the number formats.

    Args:
        styles: The part with the styles, or None where a workbook has none.
        from_1904: Whether days are counted from 1904 [-].

    Returns:
        A format for each style; without styles, the general one for the first.
    """
    own: dict[str, str] = {}
    codes: list[str] = []
    for element in styles if styles is not None else ():
        if element.tag.endswith("}numFmts"):
            own = {each.get("numFmtId", ""): each.get("formatCode", GENERAL) for each in element}
        elif element.tag.endswith("}cellXfs"):
            codes = [_code(each.get("numFmtId", "0"), own) for each in element]
    codes = codes or [GENERAL]
    return Formats(codes, [is_date(code) for code in codes], from_1904)


def _code(key: str, own: dict[str, str]) -> str:
    return own.get(key) or _BUILT_IN.get(key, GENERAL)


def shortest(written: str) -> str | None:
    """Write a binary number with the fewest digits that give the same number.

    Args:
        written: As the workbook holds it, for instance "0.50900000000000001" or "1E-3".

    Returns:
        Digits without an exponent, "0.509" or "0.001"; None if it is no finite number.

    Source: common practice, no source.
    """
    if not _NUMBER.fullmatch(written):
        return None
    text = repr(float(written))
    if text.endswith(".0"):
        return "0" if text == "-0.0" else text[:-2]
    if "e" in text:
        return f"{Decimal(text):f}"
    return None if "inf" in text else text


def say_date(number: str, number_format: str, *, from_1904: bool) -> str:
    """Put a number that is shown as a date or a time into words.

    Args:
        number: Days since the first of the calendar, the time of day as their fraction [day].
        number_format: The format of the cell; one without day and year shows a time.
        from_1904: Whether days are counted from 1904 [-].

    Returns:
        "a date, 4 May 2026" or "a time, 36:30".

    Source: ECMA-376 Part 1, 18.17.4.1, from memory; the day that 1900 did not have counts as the next.
    """
    days = Decimal(number)
    if not 0 <= days < 2_958_466:
        return "a date"
    whole, letters = int(days), _SHOWN_AS_IS.sub("", number_format)
    if _PART_OF_A_TIME.search(letters) and not _PART_OF_A_DAY.search(letters):
        minutes = round(days * 24 * 60)
        return f"a time, {minutes // 60}:{minutes % 60:02}"
    start = date(1904, 1, 1) if from_1904 else date(1899, 12, 30 if whole > 60 else 31)
    try:
        day = start + timedelta(whole)
    except OverflowError:
        return "a date"
    return f"a date, {day.day} {_MONTHS[day.month - 1]} {day.year}"
