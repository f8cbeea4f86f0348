"""A table somebody sent, what was said about it, and the small book it goes into."""

from __future__ import annotations

from typing import Any

from tenthbook.numbers.sheet import Grid, Line, read_grid
from tenthbook.record.book import draft_book
from tenthbook.record.book.importing import ColumnMap, ImportRow, Preview, preview
from tests.builders import book_files

NAME = "page.csv"
CONSTANTS = {"part": "part.shaft", "kind": "absolute", "page": "4-14"}
HEADINGS = {"id": "Id", "feature": "Item", "new": "New", "service": "Service"}


def said(**changed: Any) -> ColumnMap:
    """What is said about a page of sizes with the headings Id, Item, New and Service."""
    usual: dict[str, Any] = {"table": "sizes", "headings": HEADINGS, "constants": CONSTANTS, "unit": "in"}
    return ColumnMap(**{**usual, **changed})


def page(*rows: str, heading: str = "Id,Item,New,Service") -> Grid:
    """The lines of a sent text."""
    return read_grid(NAME, "\n".join([heading, *rows]).encode())


def shown(*rows: str, heading: str = "Id,Item,New,Service", **changed: Any) -> Preview:
    """The preview of a sent text."""
    return preview(said(**changed), page(*rows, heading=heading), draft_book(book_files()))


def only(found: Preview) -> ImportRow:
    """The one row of a preview in which nothing is wrong or open."""
    assert (found.faults, found.questions) == ((), ())
    [row] = found.rows
    return row


def limits(row: ImportRow) -> dict[str, str]:
    """The cells of a row that state a limit, with their units."""
    return {
        name: text for name, text in row.cells.items() if name not in (*CONSTANTS, "id", "feature") or name == "kind"
    }


def binary(*cells: str, heading: tuple[str, ...], numbers: dict[int, str]) -> Grid:
    """A sheet with one row, in which the cells at these places are binary numbers, shown in these formats."""
    return Grid(NAME, (Line(1, heading), Line(2, cells)), {(2, place): shown for place, shown in numbers.items()})
