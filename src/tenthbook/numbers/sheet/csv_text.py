"""Text with commas or tabs between the cells: reading it strictly, writing it so that a spreadsheet runs nothing.

Source for the form: RFC 4180, with UTF-8 and either line ending; text pasted from a spreadsheet has tabs instead of
commas. Checked in: tests/published/test_rfc_4180.py
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence

from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.sheet.grid import BadTable, Grid, Line, Table, table_of

_RUNS_AS_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?[0-9]*\.?[0-9]+")
_MOST_BYTES = 50_000_000
_SEPARATORS = {",": "commas", "\t": "tabs"}


def _text(name: str, content: bytes) -> str:
    if len(content) > _MOST_BYTES:
        raise BadTable([Fault(name, f"{len(content)} bytes", f"at most {_MOST_BYTES}")])
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise BadTable([Fault(f"{name}:{line}", "bytes that are not UTF-8", "text in UTF-8")]) from error
    if "\0" in text:
        raise BadTable([Fault(name, "a NUL character", "text, not a binary file")])
    return text


def _unwrapped(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and _RUNS_AS_FORMULA.match(cell[1:]) else cell


def _trimmed(cells: list[str]) -> list[str]:
    while not cells[-1]:
        cells.pop()
    return cells


def _check_separator(name: str, first: Line, separator: str) -> None:
    found = ""
    if len(first.cells) == 1 and ";" in first.cells[0]:
        found = "semicolons"
    elif any("\t" in cell for cell in first.cells):
        found = "tabs"
    if found:
        raise BadTable([Fault(f"{name}:{first.number}", f"{found} between the columns", _SEPARATORS[separator])])


def _read(name: str, content: bytes, separator: str) -> tuple[Grid, list[Fault]]:
    exact = separator == ","
    reader = csv.reader(io.StringIO(_text(name, content), newline=""), delimiter=separator, strict=True)
    lines: list[Line] = []
    torn: list[Fault] = []
    while True:
        number = reader.line_num + 1
        try:
            cells = [_unwrapped(cell.strip()) for cell in next(reader)]
        except StopIteration:
            break
        except csv.Error as error:
            torn.append(Fault(f"{name}:{number}", str(error), "whole quotations"))
            break
        if any(cells):
            lines.append(Line(number, tuple(cells if exact else _trimmed(cells))))
    if lines:
        _check_separator(name, lines[0], separator)
    elif not torn:
        torn.append(Fault(f"{name}:1", "an empty file", "a heading line"))
    return Grid(name, tuple(lines), exact=exact), torn


def read_grid(name: str, content: bytes, separator: str = ",") -> Grid:
    """Read the lines of a table of text, whichever of them is the heading.

    Args:
        name: What to call it in a fault, for instance "sizes.csv".
        content: Its bytes, UTF-8.
        separator: What stands between two cells: a comma, or a tab in text pasted from a spreadsheet.

    Returns:
        The lines; blanks around a cell are taken off. With commas the grid is exact; of pasted text, where a
        spreadsheet leaves out blank cells at the end of a row as it likes, they are taken off.

    Raises:
        BadTable: another encoding, another separator, a torn quotation, or nothing at all.
        TenthbookError: a separator that is neither.

    Source: RFC 4180.
    """
    if separator not in _SEPARATORS:
        raise TenthbookError(found=f"the separator {separator!r}", expected="a comma or a tab")
    grid, torn = _read(name, content, separator)
    if torn:
        raise BadTable(torn)
    return grid


def read_loosely(name: str, content: bytes) -> tuple[Table, tuple[Fault, ...]]:
    """Read a table row by row, so that one row with a cell too many does not hide the others.

    Args:
        name: What to call it in a fault, for instance "sizes.csv".
        content: Its bytes, UTF-8, with commas.

    Returns:
        The table of the rows that lie under the heading, and a fault for each row that was left out.

    Raises:
        BadTable: whatever makes all of it doubtful: encoding, separator, a torn quotation, a bad heading.

    Source: RFC 4180.
    """
    return table_of(read_grid(name, content))


def read_csv(name: str, content: bytes) -> Table:
    """Read a table.

    Args:
        name: What to call it in a fault, for instance "sizes.csv".
        content: Its bytes, UTF-8.

    Returns:
        The table; blank lines are passed over, blanks around a cell are taken off.

    Raises:
        BadTable: another encoding, semicolons, a torn quotation, rows of another length: all faults at once.

    Source: RFC 4180.
    """
    grid, torn = _read(name, content, ",")
    if torn and not grid.lines:
        raise BadTable(torn)
    try:
        table, short = table_of(grid)
    except BadTable as error:
        raise BadTable([*error.faults, *torn]) from error
    if short or torn:
        raise BadTable([*short, *torn])
    return table


def _safe(cell: str) -> str:
    return f"'{cell}" if _RUNS_AS_FORMULA.match(cell) and not _NUMBER.fullmatch(cell) else cell


def write_csv(columns: Sequence[str], rows: Sequence[Mapping[str, str]]) -> bytes:
    """Write a table.

    Args:
        columns: Column names in order.
        rows: Cells by column name.

    Returns:
        UTF-8 bytes with a heading line; a cell that a spreadsheet would run is led by an apostrophe.

    Source: RFC 4180.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_safe(column) for column in columns])
    writer.writerows([_safe(row[column]) for column in columns] for row in rows)
    return out.getvalue().encode("utf-8")
