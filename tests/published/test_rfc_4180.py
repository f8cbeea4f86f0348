"""RFC 4180, Common Format and MIME Type for Comma-Separated Values (CSV) Files, October 2005, section 2.

From memory: the seven rules of the section with their printed examples. This book reads UTF-8 and either line ending,
asks for a heading line, and takes blanks at the ends of a cell off, where rule 4 would keep them.
"""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.sheet import BadTable, read_csv, read_grid, read_loosely, write_csv

HEAD = b"field_name1,field_name2,field_name3\r\n"


def cells(content: bytes) -> list[list[str]]:
    """The rows below the printed heading, in column order."""
    return [list(row.cells.values()) for row in read_csv("t.csv", HEAD + content).rows]


@pytest.mark.parametrize(
    ("content", "rows"),
    [
        pytest.param(b"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]], id="rule 1"),
        pytest.param(b"aaa,bbb,ccc\r\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]], id="rule 2"),
        pytest.param(b'"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]], id="rule 5"),
        pytest.param(
            b'"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]], id="rule 6"
        ),
        pytest.param(b'"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]], id="rule 7"),
        pytest.param(b'"a,a",b,c', [["a,a", "b", "c"]], id="rule 6, a comma"),
        pytest.param(
            b"aaa,bbb,ccc\nzzz,yyy,xxx\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]], id="a line feed alone"
        ),
    ],
)
def test_the_printed_examples_read_as_printed(content: bytes, rows: list[list[str]]) -> None:
    """Each rule's example gives its three fields a line."""
    assert cells(content) == rows


def test_the_heading_names_the_fields() -> None:
    """Rule 3: the first line holds the names."""
    assert read_csv("t.csv", HEAD).columns == ("field_name1", "field_name2", "field_name3")


@pytest.mark.parametrize("content", [b"aaa,bbb\r\n", b"aaa,bbb,ccc,\r\n"])
def test_each_line_has_the_same_number_of_fields(content: bytes) -> None:
    """Rule 4: a field less, or a comma behind the last, is another number of fields."""
    with pytest.raises(BadTable):
        cells(content)


def test_the_other_lines_of_such_a_file_can_be_read() -> None:
    """Rule 4 again: a loose reading names the line with another number of fields and gives the others."""
    table, left_out = read_loosely("t.csv", HEAD + b"aaa,bbb\r\nzzz,yyy,xxx\r\n")
    assert [list(row.cells.values()) for row in table.rows] == [["zzz", "yyy", "xxx"]]
    assert [fault.path for fault in left_out] == ["t.csv:2"]


def test_a_heading_is_optional() -> None:
    """Rule 3 leaves the heading out at will: the lines of a file are the same with and without one."""
    assert [line.cells for line in read_grid("t.csv", HEAD + b"aaa,bbb,ccc\r\n").lines] == [
        ("field_name1", "field_name2", "field_name3"),
        ("aaa", "bbb", "ccc"),
    ]


@pytest.mark.parametrize("content", [b'aaa,"bbb,ccc\r\n', b'aaa,"b"bb,ccc\r\n'])
def test_a_quotation_mark_inside_is_doubled(content: bytes) -> None:
    """Rules 5 and 7: a quotation that does not end, or that goes on behind its end, is refused."""
    with pytest.raises(BadTable):
        cells(content)


def test_what_is_written_follows_the_rules() -> None:
    """Lines end in CR LF; only fields with a comma, a quotation mark or a line break are quoted, marks doubled."""
    rows = [{"a": "plain", "b": "a,b"}, {"a": 'say "so"', "b": "one\ntwo"}]
    assert write_csv(["a", "b"], rows) == b'a,b\r\nplain,"a,b"\r\n"say ""so""","one\ntwo"\r\n'


@given(
    st.lists(
        st.lists(
            st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8),
            min_size=2,
            max_size=2,
        ),
        max_size=5,
    )
)
@settings(deadline=None)
def test_another_reader_reads_what_is_written(rows: list[list[str]]) -> None:
    """The standard library's reader finds the same cells, but for the apostrophe that guards a formula."""
    content = write_csv(["a", "b"], [dict(zip("ab", row, strict=True)) for row in rows]).decode()
    read = list(csv.reader(io.StringIO(content, newline=""), strict=True))[1:]
    assert [[cell.removeprefix("'") for cell in row] for row in read] == [
        [cell.removeprefix("'") for cell in row] for row in rows
    ]
