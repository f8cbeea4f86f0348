"""What stands in a table someone sent, cell for cell, and back."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.numbers.sheet import BadTable, read_csv, read_grid, read_loosely, table_of, write_csv

PLAIN = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12).map(str.strip)


def faults(content: bytes) -> list[str]:
    """All that is wrong with a table."""
    with pytest.raises(BadTable) as caught:
        read_csv("sizes.csv", content)
    return [str(fault) for fault in caught.value.faults]


def test_cells_are_text_with_the_line_they_stood_on() -> None:
    """Nothing is taken for a number or a date, and a fault can name the line."""
    table = read_csv("sizes.csv", b"id,size\n\na,0.5090\nb,01/02\n")
    assert table.columns == ("id", "size")
    assert [(row.line, dict(row.cells)) for row in table.rows] == [
        (3, {"id": "a", "size": "0.5090"}),
        (4, {"id": "b", "size": "01/02"}),
    ]


def test_a_row_after_a_cell_of_two_lines_knows_its_own_line() -> None:
    """A line break inside quotation marks belongs to the cell and is counted."""
    table = read_csv("sizes.csv", b'id,note\na,"one\ntwo"\nb,\n')
    assert [(row.line, row.cells["note"]) for row in table.rows] == [(2, "one\ntwo"), (4, "")]


def test_blanks_around_a_cell_and_a_byte_order_mark_are_taken_off() -> None:
    """What a spreadsheet adds is not part of the cell."""
    table = read_csv("sizes.csv", b"\xef\xbb\xbfid , size\n a ,\t0.5 \n")
    assert (table.columns, dict(table.rows[0].cells)) == (("id", "size"), {"id": "a", "size": "0.5"})


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "sizes.csv:1: found an empty file; expected a heading line"),
        (b"\n,,\n", "sizes.csv:1: found an empty file; expected a heading line"),
        (b"id;size\na;1\n", "sizes.csv:1: found semicolons between the columns; expected commas"),
        (b"id,,size\n", "sizes.csv:1: found a column without a name; expected a name over every column"),
        (b"id,size,id\n", "sizes.csv:1: found column id twice; expected each column once"),
        (b"id,size\na\n", "sizes.csv:2: found 1 cells; expected 2, one under each heading"),
        (b"id,size\na,1,2\n", "sizes.csv:2: found 3 cells; expected 2, one under each heading"),
        (b"id,size\na,1\nb,\xb5\n", "sizes.csv:3: found bytes that are not UTF-8; expected text in UTF-8"),
        (b"id\tsize\na\t1\n", "sizes.csv:1: found tabs between the columns; expected commas"),
        (b"id\tsize, worn\tnote\n", "sizes.csv:1: found tabs between the columns; expected commas"),
        ("id,size\n".encode("utf-16"), "sizes.csv:1: found bytes that are not UTF-8; expected text in UTF-8"),
        ("id,size\n".encode("utf-16-le"), "sizes.csv: found a NUL character; expected text, not a binary file"),
        (b"id\0,size\n", "sizes.csv: found a NUL character; expected text, not a binary file"),
    ],
)
def test_a_torn_table_is_refused_with_its_line(content: bytes, fault: str) -> None:
    """Another encoding, semicolons and rows of another length are named, never repaired."""
    assert faults(content) == [fault]


@pytest.mark.parametrize("content", [b'id,size\na,"1\n', b'id,size\na,"1"2\n'])
def test_a_torn_quotation_is_refused(content: bytes) -> None:
    """A quotation that never ends, or goes on behind its end, stops the reading."""
    (fault,) = faults(content)
    assert fault.startswith("sizes.csv:2: ")
    assert fault.endswith("expected whole quotations")


def test_all_faults_of_a_table_come_at_once() -> None:
    """Every short row is named, not only the first."""
    assert [fault.partition(": ")[0] for fault in faults(b"id,size\na\nb,1\nc\n")] == ["sizes.csv:2", "sizes.csv:4"]


@pytest.mark.parametrize("cell", ["=1+1", "+cmd", "-2+3", "@sum", "-", "\tx", "--"])
def test_a_cell_that_a_spreadsheet_would_run_is_led_by_an_apostrophe(cell: str) -> None:
    """No cell of a written table starts like a formula, and it reads back as it was."""
    content = write_csv(["a", "b"], [{"a": cell, "b": "x"}])
    assert content.splitlines()[1].decode().lstrip('"').startswith("'")
    assert read_csv("t.csv", content).rows[0].cells["a"] == cell


def test_a_heading_is_guarded_like_any_cell() -> None:
    """A column name that a spreadsheet would run goes out guarded and comes back as it was."""
    content = write_csv(["=a", "b"], [{"=a": "1", "b": "2"}])
    assert content.startswith(b"'=a,b")
    assert read_csv("t.csv", content).columns == ("=a", "b")


@pytest.mark.parametrize("cell", ["-0.0005", "+1", "-.5", "0.5090"])
def test_a_signed_number_is_written_as_it_is(cell: str) -> None:
    """A number with a sign is no formula and keeps its digits."""
    assert write_csv(["a"], [{"a": cell}]) == f"a\r\n{cell}\r\n".encode()


@given(st.lists(st.tuples(PLAIN, PLAIN, PLAIN).filter(any), max_size=6))
@settings(deadline=None, max_examples=300)
def test_what_is_written_reads_back(rows: list[tuple[str, str, str]]) -> None:
    """A table goes out and comes back with every cell as it was."""
    columns = ["a", "b", "c"]
    cells = [dict(zip(columns, row, strict=True)) for row in rows]
    table = read_csv("t.csv", write_csv(columns, cells))
    assert [dict(row.cells) for row in table.rows] == cells


@pytest.mark.parametrize("cell", ["'=1+1", "'-", "''-x", "'plain", "'"])
def test_an_apostrophe_of_the_cells_own_is_kept(cell: str) -> None:
    """A cell that itself begins with an apostrophe goes out and comes back unchanged."""
    table = read_csv("t.csv", write_csv(["a"], [{"a": cell}]))
    assert table.rows[0].cells["a"] == cell


@given(st.binary(max_size=60))
@settings(deadline=None)
def test_no_bytes_stop_the_reader_with_anything_but_faults(content: bytes) -> None:
    """Whatever file is dropped in is a table or a list of faults."""
    faults_found: tuple[Fault, ...] = ()
    table = None
    try:
        table = read_csv("t.csv", content)
    except BadTable as error:
        faults_found = error.faults
    assert faults_found if table is None else all(set(row.cells) == set(table.columns) for row in table.rows)


def test_rows_can_be_read_around_a_bad_one() -> None:
    """A row with a cell too many or too few is named and left out; the others come."""
    table, left_out = read_loosely("sizes.csv", b"id,size\na,1\nb,1,2\nc\nd,3\n")
    assert [row.cells["id"] for row in table.rows] == ["a", "d"]
    assert [str(fault) for fault in left_out] == [
        "sizes.csv:3: found 3 cells; expected 2, one under each heading",
        "sizes.csv:4: found 1 cells; expected 2, one under each heading",
    ]


@pytest.mark.parametrize("content", [b"", b"id;size\n", b"id,,size\n", b"id,id\n", b"id\xff,b\n", b"\0", b'a\n"b'])
def test_what_makes_all_of_a_table_doubtful_stops_a_loose_reading_too(content: bytes) -> None:
    """Encoding, separator, heading and torn quotations are no faults of one row."""
    with pytest.raises(BadTable):
        read_loosely("sizes.csv", content)


def test_a_short_row_and_a_torn_quotation_are_named_together() -> None:
    """What was wrong before the text broke off is said with it."""
    assert [fault.partition(": ")[0] for fault in faults(b'id,size\na\nb,"1\n')] == ["sizes.csv:2", "sizes.csv:3"]


def test_a_bad_heading_and_a_torn_quotation_are_named_together() -> None:
    """A fault of the heading does not hide where the text breaks off."""
    assert [fault.partition(": ")[0] for fault in faults(b'id,id\na,"1\n')] == ["sizes.csv:1", "sizes.csv:2"]


def test_pasted_text_has_tabs_and_leaves_blanks_out() -> None:
    """Text from a spreadsheet reads with tabs; blanks at the end of a row are filled up, commas belong to the cell."""
    grid = read_grid("pasted", b"id\tsize\tnote\t\na\t0.5090\n\t\t\nb\t1\tx, y\t\n", separator="\t")
    table, left_out = table_of(grid)
    assert (grid.exact, dict(grid.numbers), left_out) == (False, {}, ())
    assert [(row.line, list(row.cells.values())) for row in table.rows] == [
        (2, ["a", "0.5090", ""]),
        (4, ["b", "1", "x, y"]),
    ]


def test_lines_of_commas_keep_every_cell() -> None:
    """Where commas count, blank cells at the end of a line stay."""
    grid = read_grid("t.csv", b"a,b,\n,,\n")
    assert (grid.exact, [line.cells for line in grid.lines]) == (True, [("a", "b", "")])


def test_semicolons_are_named_in_pasted_text_too() -> None:
    """What was separated by something else says by what."""
    with pytest.raises(BadTable, match="found semicolons between the columns; expected tabs"):
        read_grid("pasted", b"id;size\n", separator="\t")


def test_only_commas_and_tabs_separate() -> None:
    """Another separator is not on offer."""
    with pytest.raises(TenthbookError, match="expected a comma or a tab"):
        read_grid("t.csv", b"a;b\n", separator=";")
