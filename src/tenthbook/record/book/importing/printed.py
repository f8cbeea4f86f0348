"""What does a cell of limits say, as somebody typed it from a page: "0.0037-0.0057", "1.1260 +- 0.0019", "0.0090 max"?

Goes in: the text of a cell. Comes out: least and greatest digit for digit, with the unit printed beside them and, where
it stands in brackets, the same in a second unit; or why it cannot be read. Nothing is rounded, nothing is mended: a
comma, a lost point, a fraction or a word that may mean nought is left unread.
"""

from __future__ import annotations

import re
from decimal import Context, Decimal
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import find_unit
from tenthbook.record.book import form_rules

_ENOUGH = Context(prec=200)  # more digits than two numbers of a book have together
_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
# What most cells are: a number with its point or two, perhaps with in or mm, max or min. Read without detours.
_COMMON = re.compile(r"([0-9]*\.[0-9]+)(?:(?:-| to )([0-9]*\.[0-9]+))?(?: (in|mm))?(?: (max|min))?")
_LETTER = r"(?:[ ]?[TL](?![A-Za-z]))?"
_MOST = r"(?i:maximum|minimum|max|min)"
_UNIT = rf"(?!{_MOST}\b)(?:''|[\"\u2033\u201d]|[A-Za-z][A-Za-z0-9]*(?:[./-][A-Za-z][A-Za-z0-9]*)*\.?)"
_DASH = "[-\u2013\u2014\u2212]"
_BETWEEN = rf"(?:\s+(?i:to)\s+|\s+{_DASH}\s+|{_DASH}(?![+-]))"
_DASHES = re.compile(r"(?:[-\u2013\u2014\u2212_.\s]+|n\.?/?a\.?)", re.IGNORECASE)
_BRACKETS = re.compile(r"(?P<first>[^()\[\]]+)(?:\((?P<round>[^()]+)\)|\[(?P<square>[^\[\]]+)\])")
_POWER = re.compile(r"[0-9.][eE][+-]?[0-9]")
_INCHES = {"''": "in", '"': "in", "\u2033": "in", "\u201d": "in", "inch": "in", "inches": "in"}
_READABLE = (
    "a number, 0.0037-0.0057, 0.0037 to 0.0057, 1.1260 +- 0.0019, 0.0090 max or 0.5098 min, perhaps with its unit"
)


class Way(Enum):
    """How a cell says its least and greatest."""

    ALONE = "a number"
    RANGE = "a range"
    LEAST = "a least"
    GREATEST = "a greatest"


class Amount(NamedTuple):
    """What a cell says in one unit.

    Attributes:
        way: How it says it.
        least: The least [unit], with T or L where it stands so; the number itself where it stands alone; or nothing.
        greatest: The greatest [unit]; likewise.
        unit: Unit as the book writes it; nothing where none is printed.
    """

    way: Way
    least: str
    greatest: str
    unit: str = ""


class Printed(NamedTuple):
    """What a cell says, and in brackets behind it the same in a second unit."""

    first: Amount
    second: Amount | None = None


class Unread(NamedTuple):
    """Why a cell cannot be read.

    Attributes:
        found: What stands there.
        expected: What can be read.
    """

    found: str
    expected: str


class _NotRead(Exception):  # a signal inside this module, never seen outside
    def __init__(self, found: str, expected: str = _READABLE) -> None:
        self.unread = Unread(found, expected)


def _alone(letter: str) -> re.Pattern[str]:
    return re.compile(
        rf"(?:(?P<before>{_MOST})\b\.?\s*)?(?P<number>{_NUMBER}{letter})"
        rf"(?:\s*(?P<unit>{_UNIT}))?(?:\s*(?P<after>{_MOST})\.?)?"
    )


def _range(letter: str) -> re.Pattern[str]:
    return re.compile(
        rf"(?P<least>{_NUMBER}{letter})(?:\s*(?P<unit>{_UNIT}))?{_BETWEEN}"
        rf"(?P<greatest>{_NUMBER}{letter})(?:\s*(?P<again>{_UNIT}))?"
    )


_AROUND = re.compile(
    rf"(?P<middle>{_NUMBER})(?:\s*(?P<unit>{_UNIT}))?\s*(?:\+/?-|\u00b1)\s*"
    rf"(?P<by>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:\s*(?P<again>{_UNIT}))?"
)
_WITH_LETTERS = (_alone(_LETTER), _range(_LETTER))
_WITHOUT = (_alone(""), _range(""))


def is_dashes(text: str) -> bool:
    """Say whether a cell holds dashes, as manuals print where they give no limit.

    Args:
        text: The cell.

    Returns:
        True for dashes, dots and n/a. Words such as nil may mean nought and are not dashes.
    """
    return _DASHES.fullmatch(text) is not None


@lru_cache(maxsize=512)
def unit_named(printed: str) -> str:
    """Give a unit the name the book writes.

    Args:
        printed: As it stands beside a number: in, in., inch, an inch mark, mm, lbf.in and so on; or nothing.

    Returns:
        Its name; nothing for nothing.

    Raises:
        UnknownUnit: a unit the bench does not know.
    """
    if not printed:
        return ""
    name = _INCHES.get(printed.lower().rstrip("."), printed.rstrip("."))
    find_unit(name)
    return name


def _unit(printed: str | None, again: str | None = None) -> str:
    try:
        first, second = unit_named(printed or ""), unit_named(again or "")
    except TenthbookError as error:
        raise _NotRead(error.found, error.expected) from error
    if first and second and first != second:
        raise _NotRead(f"{first} and {second} in one range", "one unit; the second in brackets behind it")
    return first or second


def _figure(text: str) -> str:
    figure = text.replace(" ", "")
    if not form_rules.LOST_POINT.holds(text=figure):
        raise _NotRead(repr(text), "a decimal point in a number that begins with nought; look at the page")
    return figure


def _signed(text: str) -> Decimal:
    number = Decimal(text.rstrip("TL"))
    return -number if text.endswith("T") else number


def _tightest_first(least: str, greatest: str) -> tuple[str, str]:
    """Put a range with T or L in order: a tighter fit is a lesser clearance, whichever of the two is printed first."""
    lettered = [end[-1] in "TL" for end in (least, greatest)]
    if not any(lettered):
        return least, greatest
    signed = _signed(least), _signed(greatest)
    if any(number and not letter for number, letter in zip(signed, lettered, strict=True)):
        raise _NotRead(f"{least} to {greatest}", "T or L behind both numbers, or behind none")
    if "T" in least + greatest and signed[0] > signed[1]:
        return greatest, least
    return least, greatest


def _around(middle: str, by: str) -> tuple[str, str]:
    number, tolerance = Decimal(middle), Decimal(by)
    return f"{_ENOUGH.subtract(number, tolerance):f}", f"{_ENOUGH.add(number, tolerance):f}"


def _sided(number: str, unit: str, word: str) -> Amount:
    if word.lower().startswith("max"):
        return Amount(Way.GREATEST, "", number, unit)
    return Amount(Way.LEAST, number, "", unit)


def _minutes_or_least(found: re.Match[str], minutes: bool) -> None:
    if minutes and not found["unit"] and (found["after"] or "").lower() == "min":
        raise _NotRead(repr(found[0]), "minimum for a least; for minutes, min as the unit of the column")


def _common(text: str) -> Amount | None:
    found = _COMMON.fullmatch(text)
    if found is None or (found[2] and found[4]):
        return None
    number, greatest, unit, word = found.groups()
    if greatest:
        return Amount(Way.RANGE, number, greatest, unit or "")
    return _sided(number, unit or "", word) if word else Amount(Way.ALONE, number, number, unit or "")


def _amount(text: str, lettered: bool, minutes: bool) -> Amount:
    one, two = _WITH_LETTERS if lettered else _WITHOUT
    if found := two.fullmatch(text):
        ends = _tightest_first(_figure(found["least"]), _figure(found["greatest"]))
        return Amount(Way.RANGE, *ends, _unit(found["unit"], found["again"]))
    if found := _AROUND.fullmatch(text):
        ends = _around(_figure(found["middle"]), _figure(found["by"]))
        return Amount(Way.RANGE, *ends, _unit(found["unit"], found["again"]))
    found = one.fullmatch(text)
    if found is None or (found["before"] and found["after"]):
        nought = not form_rules.BLANK.holds(text=text)
        raise _NotRead(repr(text), "nothing or dashes for no limit, 0 for nought" if nought else _READABLE)
    _minutes_or_least(found, minutes)
    number, unit, word = _figure(found["number"]), _unit(found["unit"]), found["before"] or found["after"]
    return _sided(number, unit, word) if word else Amount(Way.ALONE, number, number, unit)


def read_printed(text: str, *, lettered: bool = False, minutes: bool = False) -> Printed | Unread:
    """Read a cell of limits.

    Args:
        text: The cell, neither blank nor dashes.
        lettered: Whether T (tight) or L (loose) may stand behind a number.
        minutes: Whether the unit of the column may be a time, so that "5 min" has two meanings.

    Returns:
        What it says, or why it cannot be read.

    Source: forms seen in TM 5-2410-237-23 and TM 5-4310-354-14 (read). Checked in:
    tests/unit/book/importing/test_printed.py
    """
    if not minutes and (common := _common(text)):
        return Printed(common)
    try:
        if not form_rules.COMMA.holds(text=text):
            return Unread(repr(text), "a decimal point as the manual prints it; look at the page")
        if _POWER.search(text):
            return Unread(repr(text), "the digits as printed, without a power; look at the page")
        found = _BRACKETS.fullmatch(text)
        if found is None:
            return Printed(_amount(text, lettered, minutes))
        inner = (found["round"] or found["square"]).strip()
        return Printed(_amount(found["first"].strip(), lettered, minutes), _amount(inner, lettered, minutes))
    except _NotRead as signal:
        return signal.unread
