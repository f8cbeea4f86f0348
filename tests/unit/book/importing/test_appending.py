"""The file of a table with further rows in it; every other line stays as it was typed."""

from __future__ import annotations

import pytest

from tenthbook.numbers.sheet import BadTable, read_csv
from tenthbook.record.book import TABLES
from tenthbook.record.book.importing import ImportRow, file_with
from tests.builders import SIZES_CSV

NEW = {"id": "size.a", "part": "part.shaft", "feature": "a, b", "kind": "none", "unit": "in", "page": "4-14"}
HEAD = b"id,page,note\r\n"


def rows(*cells: dict[str, str], was: dict[str, str] | None = None) -> list[ImportRow]:
    """Accepted rows."""
    return [ImportRow(2, one, was, ()) for one in cells]


def test_new_rows_stand_at_the_end_and_the_rest_is_the_same_bytes() -> None:
    """Blank lines, quotations, digits and the end of lines stay; a new row ends its line the same way."""
    content = SIZES_CSV.replace("part.shaft,diameter,", 'part.shaft,"diameter",').replace(
        "\nsize.plug,", "\n\nsize.plug,"
    )
    written = file_with("sizes.csv", content.encode(), "sizes", rows(NEW))
    assert written == content.encode() + b'size.a,part.shaft,"a, b",none,in,,,,,,4-14,\n'


@pytest.mark.parametrize(
    ("content", "written"),
    [
        (HEAD + b"size.b,1-1,x\r\n", HEAD + b"size.b,1-1,x\r\nsize.a,4-14,\r\n"),
        (HEAD + b"size.b,1-1,x", HEAD + b"size.b,1-1,x\r\nsize.a,4-14,\r\n"),
        (b"id,page,note", b"id,page,note\r\nsize.a,4-14,\r\n"),
        (b"\xef\xbb\xbfid,page,note\n", b"\xef\xbb\xbfid,page,note\nsize.a,4-14,\n"),
        (b'\n\nid,page,note\n"size.b",1-1,"x\ny"\n', b'\n\nid,page,note\n"size.b",1-1,"x\ny"\nsize.a,4-14,\n'),
    ],
)
def test_a_file_keeps_its_mark_its_line_ends_and_its_line_breaks(content: bytes, written: bytes) -> None:
    """With or without an end on the last line."""
    assert file_with("sizes.csv", content, "sizes", rows({"id": "size.a", "page": "4-14"})) == written


def test_columns_new_to_the_file_stand_at_the_end_of_its_heading() -> None:
    """In the order of the book, with blank cells under them; a blank line stays blank."""
    content = b"id,page\nsize.b,1-1\n\n ,\nsize.c,1-2\n"
    written = file_with("sizes.csv", content, "sizes", rows({"id": "size.a", "page": "4-14", "note": "n", "ref": "7"}))
    assert written == b"id,page,ref,note\nsize.b,1-1,,\n\n ,\nsize.c,1-2,,\nsize.a,4-14,7,n\n"


def test_a_replaced_row_stays_in_its_place() -> None:
    """Columns the book does not know keep what stands in them."""
    content = b"id,page,colour\nsize.b,1-1,red\nsize.a,1-2,blue\nsize.c,1-3,green\n"
    written = file_with("sizes.csv", content, "sizes", rows({"id": "size.a", "page": "4-14"}, was={"id": "size.a"}))
    assert written == content.replace(b"1-2", b"4-14")


def test_a_cell_that_would_run_as_a_formula_is_written_so_that_it_does_not() -> None:
    """And is read back as it was."""
    cells = {"id": "size.a", "page": "4-14", "note": "=1+1"}
    written = file_with("sizes.csv", HEAD, "sizes", rows(cells))
    assert b",'=1+1\r\n" in written
    assert read_csv("sizes.csv", written).rows[0].cells == cells


def test_a_line_break_in_a_cell_stays_one_cell() -> None:
    """The rows behind it keep their lines."""
    cells = [{"id": "size.a", "page": "4-14", "note": "one\r\ntwo"}, {"id": "size.b", "page": "4-14", "note": "three"}]
    written = file_with("sizes.csv", b"id,page,note\n", "sizes", rows(*cells))
    assert [row.cells for row in read_csv("sizes.csv", written).rows] == cells


def test_a_table_without_a_file_gets_one_with_all_its_columns() -> None:
    """The heading is that of an empty book."""
    table = read_csv("sizes.csv", file_with("sizes.csv", None, "sizes", rows(NEW)))
    assert table.columns == tuple(column.name for column in TABLES["sizes"])
    assert {name: cell for name, cell in table.rows[0].cells.items() if cell} == NEW


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (HEAD + b"size.b,1-1\r\n", "2 cells"),
        (b"page,note\n1-1,x\n", "no column id"),
        (b"id;page;note\n", "semicolons between the columns"),
        (b'id,page\nsize.b,"1-1\n', "unexpected end of data"),
        (HEAD + b"size.a,1-1,\nsize.a,1-2,\n", "id size.a again"),
        (HEAD + b"size.b,1-1,\n", "no row size.a to replace"),
        (b"", "an empty file"),
    ],
)
def test_a_file_that_cannot_be_read_whole_is_not_touched(content: bytes, found: str) -> None:
    """A torn file, another separator, a line that does not lie under the heading, a row that is not there."""
    with pytest.raises(BadTable) as caught:
        file_with("sizes.csv", content, "sizes", rows({"id": "size.a", "page": "4-14"}, was={"id": "size.a"}))
    assert found in [fault.found for fault in caught.value.faults]
