"""Tables to a workbook whose cells are all text: nothing in it can run, and no digit can change.

Source for the form: ECMA-376 Part 1, 18.3 and 18.8, from memory. Checked in: tests/published/test_ecma_376.py
"""

from __future__ import annotations

import io
import re
import zipfile
from collections import Counter
from collections.abc import Iterator, Sequence
from copy import copy
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.comments import Comment
from openpyxl.styles.fonts import DEFAULT_FONT
from openpyxl.utils import get_column_letter

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet.grid import BadTable, SheetOut
from tenthbook.numbers.sheet.strings import escape

_TEXT = "@"
_LONGEST_CELL, _LONGEST_NAME = 32_767, 31  # signs; a spreadsheet cuts off what is longer
_BAD_NAME = re.compile(r"[][:*?/\\\x00-\x1f]|^'|'$|^\s*$|^history$", re.IGNORECASE)
_NOT_TEXT = re.compile("[\x00\ud800-\udfff]")
_WIDTHS = range(8, 61)  # signs
_DOCUMENT = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_NAMELESS = {
    "docProps/app.xml": "<Properties"
    ' xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"/>',
    "docProps/core.xml": "<coreProperties"
    ' xmlns="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"/>',
}


def _text_faults(place: str, text: str) -> Iterator[Fault]:
    if _NOT_TEXT.search(text):
        yield Fault(place, "a NUL character or half a character", "text")
    elif len(escape(text).encode("utf-16-le")) > 2 * _LONGEST_CELL:
        yield Fault(place, f"a text of {len(text)} signs", f"at most {_LONGEST_CELL}; a spreadsheet cuts off the rest")


def _sheet_faults(sheet: SheetOut) -> Iterator[Fault]:
    name = sheet.name
    if _BAD_NAME.search(name) or len(name) > _LONGEST_NAME:
        yield Fault(name, f"the sheet name {name!r}", f"1 to {_LONGEST_NAME} signs, none of [ ] : * ? / \\")
    if not sheet.columns or not all(column.strip() for column in sheet.columns):
        yield Fault(name, "a column without a name", "a name over every column")
    for column, count in Counter(sheet.columns).items():
        if count > 1:
            yield Fault(name, f"column {column} twice", "each column once")
        yield from _text_faults(f"{name}:1", column)
    for column, said in sheet.says.items():
        if column not in sheet.columns:
            yield Fault(name, f"a note on the column {column}", "a note on a column of the sheet")
        yield from _text_faults(f"{name}:1", said)
    for line, row in enumerate(sheet.rows, 2):
        for place, column in enumerate(sheet.columns, 1):
            yield from _text_faults(f"{name}:{get_column_letter(place)}{line}", row[column])


def _check(sheets: Sequence[SheetOut]) -> None:
    faults = [fault for sheet in sheets for fault in _sheet_faults(sheet)]
    for name, count in Counter(sheet.name.lower() for sheet in sheets).items():
        if count > 1:
            faults.append(Fault(name, f"{count} sheets of this name", "each name once, in capitals or not"))
    if not sheets:
        faults.append(Fault("", "no sheet", "at least one"))
    if faults:
        raise BadTable(faults)


def _width(sheet: SheetOut, column: str) -> int:
    longest = max(len(line) for text in (column, *(row[column] for row in sheet.rows)) for line in text.split("\n"))
    return min(max(longest, _WIDTHS[0]), _WIDTHS[-1]) + 2


def _cell(sheet: Any, text: str) -> Any:
    cell = WriteOnlyCell(sheet, value=escape(text))
    cell.data_type = "s"  # a text that begins like a formula or reads like an error is a text all the same
    cell.number_format = _TEXT
    return cell


def _heading(sheet: Any, column: str, said: str) -> Any:
    cell = _cell(sheet, column)
    font = copy(DEFAULT_FONT)
    font.b = True
    cell.font = font
    if said:
        cell.comment = Comment(escape(said), "", height=120, width=300)
    return cell


def _add(book: Any, table: SheetOut) -> None:
    sheet = book.create_sheet(table.name)
    sheet.freeze_panes = "A2"
    for place, column in enumerate(table.columns, 1):
        dimension = sheet.column_dimensions[get_column_letter(place)]
        dimension.width, dimension.number_format = _width(table, column), _TEXT
    sheet.append([_heading(sheet, column, table.says.get(column, "")) for column in table.columns])
    for row in table.rows:
        sheet.append([_cell(sheet, row[column]) if row[column] else None for column in table.columns])


def _undated(content: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as written, zipfile.ZipFile(out, "w") as undated:
        for name in written.namelist():
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.compress_type, entry.create_system = zipfile.ZIP_DEFLATED, 0
            nameless = _NAMELESS.get(name)
            undated.writestr(entry, written.read(name) if nameless is None else _DOCUMENT + nameless)
    return out.getvalue()


def write_sheets(sheets: Sequence[SheetOut]) -> bytes:
    """Write a workbook; `write_workbook` says how.

    Args:
        sheets: Its sheets in order, at least one.

    Returns:
        The workbook.

    Raises:
        BadTable: what a workbook cannot hold.
    """
    _check(sheets)
    book, out = Workbook(write_only=True), io.BytesIO()
    for sheet in sheets:
        _add(book, sheet)
    book.save(out)
    return _undated(out.getvalue())
