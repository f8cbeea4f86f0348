"""Comma-separated text: reading it strictly, writing it so that a spreadsheet runs nothing.

Source for the form: RFC 4180, with UTF-8 and either line ending. Checked in: tests/published/test_rfc_4180.py
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tenthbook.numbers.because import Fault, WrongInput

_RUNS_AS_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?[0-9]*\.?[0-9]+")
_MOST_BYTES = 50_000_000


class BadTable(WrongInput):
    """A table that cannot be read: every fault with its line."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line it starts on (the heading is line 1) and its cells by column name."""

    line: int
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Table:
    """A table of text: its name, its columns in order, its rows in order."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


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


def _heading(name: str, columns: Sequence[str]) -> list[Fault]:
    if len(columns) == 1 and ";" in columns[0]:
        return [Fault(f"{name}:1", "semicolons between the columns", "commas")]
    twice = sorted({column for column in columns if columns.count(column) > 1})
    blank = [Fault(f"{name}:1", "a column without a name", "a name over every column")] if "" in columns else []
    return blank + [Fault(f"{name}:1", f"column {column} twice", "each column once") for column in twice]


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
    reader = csv.reader(io.StringIO(_text(name, content), newline=""), strict=True)
    rows: list[Row] = []
    faults: list[Fault] = []
    columns: list[str] | None = None
    while True:
        line = reader.line_num + 1
        try:
            cells = [cell.strip() for cell in next(reader)]
        except StopIteration:
            break
        except csv.Error as error:
            raise BadTable([*faults, Fault(f"{name}:{line}", str(error), "whole quotations")]) from error
        if not any(cells):
            continue
        if columns is None:
            columns = cells
            faults += _heading(name, columns)
        elif len(cells) != len(columns):
            faults.append(Fault(f"{name}:{line}", f"{len(cells)} cells", f"{len(columns)}, one under each heading"))
        else:
            unwrapped = (
                cell[1:] if cell.startswith("'") and _RUNS_AS_FORMULA.match(cell[1:]) else cell for cell in cells
            )
            rows.append(Row(line, dict(zip(columns, unwrapped, strict=True))))
    if columns is None:
        faults.append(Fault(f"{name}:1", "an empty file", "a heading line"))
    if faults:
        raise BadTable(faults)
    return Table(name, tuple(columns or ()), tuple(rows))


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
    writer.writerow(columns)
    writer.writerows([_safe(row[column]) for column in columns] for row in rows)
    return out.getvalue().encode("utf-8")
