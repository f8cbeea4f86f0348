"""What stands in a table, line by line, before and after somebody has said which line is the heading.

A `Grid` is lines of text cells as a file or a sheet holds them; a `Table` is rows under named columns. Nothing is read
or written here: lines come in, a table goes out, and with it every row that does not lie under the heading.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest

from tenthbook.numbers.because import Fault, TenthbookError, WrongInput


class BadTable(WrongInput):
    """A table that cannot be read or written: every fault with its place."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line that is not blank.

    Attributes:
        number: Line of the file or row of the sheet, from 1.
        cells: Its cells in order, without blanks at their ends.
    """

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """The lines of a table before anyone has said which of them is the heading.

    Attributes:
        name: What to call it in a fault.
        lines: Lines in order, blank ones left out. Blank cells at the end of a line are off, unless `exact`.
        numbers: Line number and place of the column from 0, to the number format, for every cell that a spreadsheet
            holds as a binary number; its text in `lines` is the shortest that gives the same number.
        exact: Whether every line must have as many cells as the heading, blank ones counted.
    """

    name: str
    lines: tuple[Line, ...]
    numbers: Mapping[tuple[int, int], str] = field(default_factory=dict)
    exact: bool = False


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


@dataclass(frozen=True, slots=True)
class SheetOut:
    """A table that is to become a sheet of a workbook.

    Attributes:
        name: The sheet's name.
        columns: Column names in order.
        rows: Cells by column name.
        says: What a column is for, by its name; it becomes a note on the heading.
    """

    name: str
    columns: Sequence[str]
    rows: Sequence[Mapping[str, str]]
    says: Mapping[str, str] = field(default_factory=dict)


def _columns(lines: Sequence[Line]) -> tuple[str, ...]:
    stacks = zip_longest(*(line.cells for line in lines), fillvalue="")
    return tuple(" ".join(cell for cell in stack if cell) for stack in stacks)


def _heading_faults(grid: Grid, lines: Sequence[Line], columns: Sequence[str]) -> Iterator[Fault]:
    place = f"{grid.name}:{lines[0].number}"
    for line in lines:
        if grid.exact and len(line.cells) != len(columns):
            yield Fault(f"{grid.name}:{line.number}", f"{len(line.cells)} cells", f"{len(columns)}, as in the heading")
    if "" in columns:
        yield Fault(place, "a column without a name", "a name over every column")
    for column in sorted({column for column in columns if columns.count(column) > 1}):
        yield Fault(place, f"column {column} twice", "each column once")


def table_of(grid: Grid, heading: int = 1) -> tuple[Table, tuple[Fault, ...]]:
    """Put the rows of a grid under the names of its columns.

    Args:
        grid: What stands in the file or sheet.
        heading: How many lines that are not blank make up the heading; cell under cell they are joined by a blank.

    Returns:
        The table, and a fault for each row left out of it because it has another number of cells than the heading.

    Raises:
        BadTable: no heading, a column without a name, or a name twice; the faults of rows come with it.
        TenthbookError: a heading of less than one line.

    Source: common practice, no source.
    """
    if heading < 1:
        raise TenthbookError(found=f"a heading of {heading} lines", expected="at least one line")
    if len(grid.lines) < heading:
        found = f"{len(grid.lines)} lines" if grid.lines else "an empty table"
        raise BadTable([Fault(grid.name, found, "a heading line" if heading == 1 else f"{heading} lines of heading")])
    columns = _columns(grid.lines[:heading])
    wide, rows, faults = len(columns), list[Row](), list[Fault]()
    for line in grid.lines[heading:]:
        missing = wide - len(line.cells)
        if missing < 0 or (missing and grid.exact):
            expected = f"{wide}, one under each heading"
            faults.append(Fault(f"{grid.name}:{line.number}", f"{len(line.cells)} cells", expected))
        else:
            rows.append(Row(line.number, dict(zip(columns, line.cells + ("",) * missing, strict=True))))
    fatal = list(_heading_faults(grid, grid.lines[:heading], columns))
    if fatal:
        raise BadTable([*fatal, *faults])
    return Table(grid.name, columns, tuple(rows)), tuple(faults)
