"""Lines under a heading: which rows make a table, and which are named and left out."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.sheet import BadTable, Grid, Line, table_of


def grid(*lines: tuple[str, ...], exact: bool = False) -> Grid:
    """A grid of these lines, the first of them in line 3."""
    return Grid("sizes", tuple(Line(number, cells) for number, cells in enumerate(lines, 3)), exact=exact)


def test_rows_stand_under_the_names_of_the_first_line() -> None:
    """Each row keeps its line, and blanks that a sheet leaves out at the end of a row are filled up."""
    table, left_out = table_of(grid(("id", "size", "note"), ("a", "0.5"), ("b", "", "x")))
    assert (table.name, table.columns, left_out) == ("sizes", ("id", "size", "note"), ())
    assert [(row.line, dict(row.cells)) for row in table.rows] == [
        (4, {"id": "a", "size": "0.5", "note": ""}),
        (5, {"id": "b", "size": "", "note": "x"}),
    ]


def test_a_row_with_a_cell_too_many_is_named_and_the_others_come() -> None:
    """A cell right of the last heading has no name, so its row is a fault."""
    table, left_out = table_of(grid(("id", "size"), ("a", "1", "2"), ("b", "1")))
    assert [str(fault) for fault in left_out] == ["sizes:4: found 3 cells; expected 2, one under each heading"]
    assert [row.line for row in table.rows] == [5]


def test_where_the_count_must_be_exact_a_short_row_is_a_fault_too() -> None:
    """A comma less is another number of cells."""
    table, left_out = table_of(grid(("id", "size"), ("a",), ("b", ""), exact=True))
    assert [str(fault) for fault in left_out] == ["sizes:4: found 1 cells; expected 2, one under each heading"]
    assert [dict(row.cells) for row in table.rows] == [{"id": "b", "size": ""}]


def test_a_heading_of_two_lines_is_joined_cell_under_cell() -> None:
    """The words over a column are joined by a blank from above; a blank cell adds none."""
    table, _ = table_of(grid(("", "Size", "", "Note"), ("Id", "new", "Worn"), ("a", "1", "2", "x")), heading=2)
    assert table.columns == ("Id", "Size new", "Worn", "Note")
    assert [row.line for row in table.rows] == [5]


@pytest.mark.parametrize(
    ("lines", "heading", "found"),
    [
        ([], 1, "sizes: found an empty table; expected a heading line"),
        ([("a",)], 2, "sizes: found 1 lines; expected 2 lines of heading"),
        ([("a", "", "b")], 1, "sizes:3: found a column without a name; expected a name over every column"),
        ([("a", "b", "a")], 1, "sizes:3: found column a twice; expected each column once"),
        ([("a b", "a"), ("", "b")], 2, "sizes:3: found column a b twice; expected each column once"),
    ],
)
def test_a_heading_that_does_not_name_the_columns_stops_the_table(
    lines: list[tuple[str, ...]], heading: int, found: str
) -> None:
    """No heading, a nameless column and a name twice are refused, because a guess would move every cell."""
    with pytest.raises(BadTable) as caught:
        table_of(grid(*lines), heading)
    assert [str(fault) for fault in caught.value.faults] == [found]


def test_lines_of_an_exact_heading_are_equally_long() -> None:
    """Where cells are counted, the lines of the heading are counted too."""
    with pytest.raises(BadTable, match=r"sizes:4: found 1 cells; expected 2, as in the heading"):
        table_of(grid(("a", "b"), ("c",), exact=True), heading=2)


def test_the_faults_of_rows_come_with_those_of_the_heading() -> None:
    """Whoever mends the table sees all of it at once."""
    with pytest.raises(BadTable) as caught:
        table_of(grid(("a", "a"), ("1", "2", "3")))
    assert [fault.path for fault in caught.value.faults] == ["sizes:3", "sizes:4"]


def test_a_heading_has_at_least_one_line() -> None:
    """A table without a heading cannot be asked for."""
    with pytest.raises(TenthbookError, match="found a heading of 0 lines; expected at least one line"):
        table_of(grid(("a",)), heading=0)
