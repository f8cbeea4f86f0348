"""A written workbook: every cell a text and ready for text, every column explained, the same bytes each time."""

from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.sheet import BadTable, SheetOut, read_workbook, table_of, write_workbook

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=20)
TRICKY = [
    "=1+1",
    "+1",
    "-1",
    "@sum",
    "'=x",
    "'",
    "0.5000",
    "1E5",
    "01/02",
    "#REF!",
    "TRUE",
    "_x0041_",
    "a\r\nb\tc",
    "\ufffe",
]
SIZES = SheetOut(
    "sizes",
    ["id", "size", "note"],
    [{"id": "P-1", "size": "0.5000", "note": "=1+1"}, {"id": "P-2", "size": "", "note": "worn\nin the middle"}],
    {"size": "As printed, digit for digit.", "note": "Whatever the page says beside it."},
)


def opened(content: bytes) -> Any:
    """The workbook as a general library opens it."""
    return openpyxl.load_workbook(io.BytesIO(content))


def refused(*sheets: SheetOut) -> list[str]:
    """All that keeps some sheets from being written."""
    with pytest.raises(BadTable) as caught:
        write_workbook(sheets)
    return [str(fault) for fault in caught.value.faults]


def test_every_cell_is_text_and_stays_text_when_somebody_types() -> None:
    """The cells and the whole columns have the format of text, so that 0.5000 typed below keeps its noughts."""
    sheet = opened(write_workbook([SIZES]))["sizes"]
    cells = [cell for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert len(cells) == 8
    assert {(cell.data_type, cell.number_format) for cell in cells} == {("s", "@")}
    assert [sheet.column_dimensions[letter].number_format for letter in "ABC"] == ["@"] * 3


def test_the_heading_stays_in_view_and_explains_itself() -> None:
    """The first row does not scroll away; each note stands on its heading and names nobody."""
    content = write_workbook([SIZES])
    sheet = opened(content)["sizes"]
    assert sheet.freeze_panes == "A2"
    notes = [cell.comment.text if cell.comment else "" for cell in sheet[1]]
    assert notes == ["", "As printed, digit for digit.", "Whatever the page says beside it."]
    with zipfile.ZipFile(io.BytesIO(content)) as file:
        assert b"<authors><author /></authors>" in file.read("xl/comments/comment1.xml")


def test_columns_are_wide_enough_but_not_endless() -> None:
    """A column shows its longest line, up to a width that still fits a screen."""
    table = SheetOut("s", ["a", "b", "c"], [{"a": "x", "b": "y" * 30 + "\n" + "y" * 20, "c": "z" * 500}])
    sheet = opened(write_workbook([table]))["s"]
    assert [sheet.column_dimensions[letter].width for letter in "ABC"] == [10, 32, 62]


def test_the_same_sheets_give_the_same_bytes() -> None:
    """Nothing of the day, the program or the person stands in the file."""
    content = write_workbook([SIZES])
    assert content == write_workbook([SIZES])
    with zipfile.ZipFile(io.BytesIO(content)) as file:
        assert {entry.date_time for entry in file.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert {entry.compress_type for entry in file.infolist()} == {zipfile.ZIP_DEFLATED}
        documents = b"".join(file.read(name) for name in file.namelist() if name.startswith("docProps/"))
        texts = b"".join(file.read(name) for name in file.namelist()).lower()
    assert documents.count(b"Properties") == 2
    for word in (b"application>", b"creator", b"modified", b"openpyxl"):
        assert word not in documents
    assert b"openpyxl" not in texts


def test_a_sheet_without_rows_is_ready_to_be_filled_in() -> None:
    """A heading alone is a table without rows."""
    (grid,) = read_workbook("t.xlsx", write_workbook([SheetOut("blank", ["id", "size"], [])])).values()
    table, left_out = table_of(grid)
    assert (table.columns, table.rows, left_out) == (("id", "size"), (), ())


@given(st.lists(st.tuples(TEXT | st.sampled_from(TRICKY), TEXT | st.sampled_from(TRICKY)), max_size=5))
@settings(deadline=None, max_examples=150)
def test_what_is_written_reads_back(rows: list[tuple[str, str]]) -> None:
    """Every text comes back as it was, but for blanks at its ends, and none becomes a number or a formula."""
    table = SheetOut("t", ["a", "b"], [{"a": first, "b": second} for first, second in rows])
    (grid,) = read_workbook("t.xlsx", write_workbook([table])).values()
    kept = [(first.strip(), second.strip()) for first, second in rows]
    back, left_out = table_of(grid)
    assert [(row.cells["a"], row.cells["b"]) for row in back.rows] == [pair for pair in kept if any(pair)]
    assert (left_out, dict(grid.numbers)) == ((), {})


@pytest.mark.parametrize("text", ["x" * 32_767, "9" * 32_767, "\u00e9" * 32_767, "\U0001f529" * 16_383])
def test_the_longest_text_that_a_cell_holds_comes_back_whole(text: str) -> None:
    """A spreadsheet counts 32 767 signs, an emoji as two."""
    (grid,) = read_workbook("t.xlsx", write_workbook([SheetOut("t", ["a"], [{"a": text}])])).values()
    assert grid.lines[1].cells == (text,)


@pytest.mark.parametrize("text", ["x" * 32_768, "\U0001f529" * 16_384, "\x01" * 5_000])
def test_a_text_that_a_spreadsheet_would_cut_off_is_refused(text: str) -> None:
    """Half a text is worse than none."""
    assert refused(SheetOut("t", ["a"], [{"a": "x"}, {"a": text}])) == [
        f"t:A3: found a text of {len(text)} signs; expected at most 32767; a spreadsheet cuts off the rest"
    ]


@pytest.mark.parametrize(
    "name", ["", " ", "a/b", "a\\b", "a:b", "a[b", "a]b", "a*", "a?", "'a", "a'", "History", "x" * 32]
)
def test_a_name_that_no_sheet_can_have_is_refused(name: str) -> None:
    """A spreadsheet would call the file damaged."""
    (said,) = refused(SheetOut(name, ["a"], []))
    assert said.endswith(r"expected 1 to 31 signs, none of [ ] : * ? / \\") or said.endswith("none of [ ] : * ? / \\")


def test_all_that_cannot_be_written_is_said_at_once() -> None:
    """Names twice, columns without a name, notes on nothing and half characters are named together."""
    said = refused(
        SheetOut("t", ["a", "a", ""], [], {"b": "x"}), SheetOut("T", ["\0"], [{"\0": "\ud800"}]), SheetOut("u", [], [])
    )
    assert [fault.partition("; ")[0] for fault in said] == [
        "t: found a column without a name",
        "t: found column a twice",
        "t: found a note on the column b",
        "T:1: found a NUL character or half a character",
        "T:A2: found a NUL character or half a character",
        "u: found a column without a name",
        "t: found 2 sheets of this name",
    ]


def test_a_workbook_has_a_sheet() -> None:
    """No sheets are no workbook."""
    assert refused() == ["input: found no sheet; expected at least one"]


def test_the_room_does_not_fetch_the_workbook_library_until_it_is_needed() -> None:
    """Commands that read no workbook start as fast as before."""
    program = (
        "import sys; import tenthbook.numbers.sheet; "
        "sys.exit(any(name in sys.modules for name in ('openpyxl', 'defusedxml', 'zipfile', 'xml.sax')))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
