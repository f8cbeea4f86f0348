"""From the text of a cell to what it means, by the form of its column.

Nothing is guessed: a cell that cannot be read is named by its rule and left out, and the rest of the row is read on.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import Quantity, Unit, find_unit, plain, quantity, read_lettered
from tenthbook.record.book import form_rules
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.findings import At, Finding

_MOST = 400  # words of a list worth printing


class _Unread(Exception):  # a signal inside this module, never seen outside
    def __init__(self, finding: Finding) -> None:
        self.finding = finding


def parts_of(text: str) -> tuple[str, ...]:
    """Take a list apart.

    Args:
        text: Words or ids with semicolons between them.

    Returns:
        Each of them, without blanks round it.
    """
    return tuple(part for part in (one.strip() for one in text.split(";")) if part)


def _check_figures(at: At, column: Column, text: str) -> None:
    for rule in (form_rules.COMMA, form_rules.BLANK, form_rules.LOST_POINT, form_rules.NUMBER):
        if not rule.holds(text=text):
            raise _Unread(at.breaks(rule, column.name, repr(text)))


def _number(at: At, column: Column, text: str, unit: Unit) -> Quantity:
    if form_rules.LOST_POINT.holds(text=text) and "e" not in text.lower():
        try:
            return Quantity(plain(text), unit)
        except TenthbookError:
            pass
    _check_figures(at, column, text)
    lettered = column.form is Form.LETTERED and text[-1:] in "TL"
    try:
        return read_lettered(text, unit).clearance if lettered else Quantity(plain(text), unit)
    except TenthbookError as error:
        raise _Unread(at.breaks(form_rules.NUMBER, column.name, error.found, error.expected)) from error


def _plain(at: At, column: Column, text: str) -> Decimal:
    if not form_rules.LOST_POINT.holds(text=text):
        raise _Unread(at.breaks(form_rules.LOST_POINT, column.name, repr(text)))
    if "e" in text.lower():
        _check_figures(at, column, text)
    try:
        return Decimal(plain(text))
    except TenthbookError as error:
        _check_figures(at, column, text)
        raise _Unread(at.breaks(form_rules.NUMBER, column.name, error.found, error.expected)) from error


def _word(at: At, column: Column, text: str) -> str:
    if text in column.of:
        return text
    near = difflib.get_close_matches(text, column.of, n=1)
    expected = f"{near[0]}, perhaps" if near else "one of " + ", ".join(column.of)
    raise _Unread(at.breaks(form_rules.WORD, column.name, repr(text), expected[:_MOST]))


def _whole(at: At, column: Column, text: str) -> int:
    if text.isascii() and text.isdigit() and len(text) < 6 and int(text):
        return int(text)
    raise _Unread(at.breaks(form_rules.NUMBER, column.name, repr(text), "a whole number from 1"))


def _yes(at: At, column: Column, text: str) -> bool:
    if text == "yes":
        return True
    raise _Unread(at.breaks(form_rules.WORD, column.name, repr(text), "yes or nothing"))


def _quantity(at: At, column: Column, text: str) -> Quantity:
    try:
        read = quantity(text)
    except TenthbookError as error:
        _check_figures(at, column, text.split(" ")[0])
        raise _Unread(at.breaks(form_rules.QUANTITY, column.name, error.found, error.expected)) from error
    if read.unit.kind not in column.of:
        raise _Unread(at.breaks(form_rules.QUANTITY, column.name, str(read), " or ".join(column.of)))
    return read


def _unit(at: At, column: Column, text: str) -> Unit:
    try:
        unit = find_unit(text)
    except TenthbookError as error:
        raise _Unread(at.breaks(form_rules.UNIT, column.name, repr(text), error.expected[:_MOST])) from error
    if unit.kind not in column.of:
        raise _Unread(at.breaks(form_rules.UNIT, column.name, f"{text}, a {unit.kind}", " or ".join(column.of)))
    return unit


_ALONE: dict[Form, Callable[[At, Column, str], Any]] = {
    Form.TEXT: lambda at, column, text: text,  # noqa: ARG005 - the same shape as the others
    Form.ID: lambda at, column, text: text,  # noqa: ARG005
    Form.GROUP: lambda at, column, text: text,  # noqa: ARG005
    Form.IDS: lambda at, column, text: parts_of(text),  # noqa: ARG005
    Form.WORD: _word,
    Form.WORDS: lambda at, column, text: tuple(_word(at, column, one) for one in parts_of(text)),
    Form.WHOLE: _whole,
    Form.YES: _yes,
    Form.QUANTITY: _quantity,
    Form.UNIT: _unit,
    Form.PLAIN: _plain,
    Form.PLAINS: lambda at, column, text: tuple(_plain(at, column, one) for one in parts_of(text)),
}


def _in_unit(at: At, column: Column, text: str, unit: Unit) -> Quantity | tuple[Quantity, ...]:
    if column.form is Form.NUMBERS:
        return tuple(_number(at, column, one, unit) for one in parts_of(text))
    return _number(at, column, text, unit)


def read_cells(
    at: At, columns: tuple[Column, ...], cells: Mapping[str, str], findings: list[Finding]
) -> dict[str, Any]:
    """Read the cells of a row.

    Args:
        at: Where the row stands.
        columns: The columns of its table, a column for units before those printed in it.
        cells: Its cells by column name; a blank or missing cell states nothing.
        findings: Takes what cannot be read.

    Returns:
        What each filled cell means, by column name: numbers as printed in the row's unit; a cell that cannot be read,
        or whose unit cannot, is left out.
    """
    values: dict[str, Any] = {}
    for column in columns:
        if column.name not in cells or not cells[column.name]:
            continue
        text = cells[column.name]
        try:
            if column.form in _ALONE:
                values[column.name] = _ALONE[column.form](at, column, text)
            elif column.of[0] in values:
                values[column.name] = _in_unit(at, column, text, values[column.of[0]])
            elif not cells.get(column.of[0]):
                findings.append(at.breaks(form_rules.FILLED, column.of[0], "nothing", f"the unit of {column.name}"))
        except _Unread as unread:
            findings.append(unread.finding)
    return values


def lacking(at: At, columns: tuple[Column, ...], cells: Mapping[str, str]) -> Iterator[Finding]:
    """Find the cells that must be filled and are not.

    Args:
        at: Where the row stands.
        columns: The columns of its table.
        cells: Its cells by column name.

    Yields:
        A finding each.
    """
    for column in columns:
        if column.needed and not form_rules.FILLED.holds(text=cells.get(column.name, "")):
            yield at.breaks(form_rules.FILLED, column.name, "nothing", column.says)
