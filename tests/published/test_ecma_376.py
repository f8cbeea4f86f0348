"""ECMA-376 Part 1 (ISO/IEC 29500-1), Office Open XML, SpreadsheetML: 18.3 worksheets, 18.4 shared texts, 18.8 styles.

From memory: the printed example of an escaped sign (22.9.2.19, ST_Xstring), the ends of both calendars (18.17.4.1) and
the built-in number formats (18.8.30). Beside them an independent reader, the package `python-calamine`, reads what this
book writes and what another program writes: the same cells, digit for digit, with no tolerance.
"""

from __future__ import annotations

import io
import math

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter
from openpyxl.utils.escape import unescape
from python_calamine import CalamineWorkbook

from tenthbook.numbers.sheet import BadTable, Grid, SheetOut, read_workbook, write_workbook
from tests.unit.sheet.workbooks import packed, parts, row

SIGNS = st.characters(exclude_categories=["Cs"], exclude_characters="\0")
TRICKY = ("=1+1", "+1", "-1", "@sum", "'x", "0.5000", "1E5", "5/4", "#REF!", "TRUE", "a\nb", "_x0008_", "_x005F_", "")
CELLS = st.lists(st.lists(st.text(SIGNS, max_size=12) | st.sampled_from(TRICKY), min_size=3, max_size=3), max_size=6)
FORMATS = {1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 9: "0%", 10: "0.00%", 11: "0.00E+00", 12: "# ?/?", 49: "@"}
DATES = (14, 15, 16, 17, 18, 19, 20, 21, 22, 45, 46, 47)


def other_reader(content: bytes) -> list[list[object]]:
    """The first sheet as the independent reader sees it, from its first row and column on."""
    sheet = CalamineWorkbook.from_filelike(io.BytesIO(content)).get_sheet_by_index(0)
    return [list(line) for line in sheet.to_python(skip_empty_area=False)]


def one_sheet(content: bytes) -> Grid:
    """The one sheet as this book reads it."""
    (grid,) = read_workbook("t.xlsx", content).values()
    return grid


def padded(grid: Grid, wide: int) -> dict[int, list[str]]:
    """Lines by their row, blank cells at their ends filled up."""
    return {line.number: [*line.cells, *[""] * (wide - len(line.cells))] for line in grid.lines}


@given(CELLS)
@settings(deadline=None, max_examples=100)
def test_two_other_readers_read_what_is_written(rows: list[list[str]]) -> None:
    """Each cell is a text in every reader, sign for sign; no reader finds a number, a date or a formula."""
    columns = ["a", "b", "c"]
    content = write_workbook([SheetOut("t", columns, [dict(zip(columns, cells, strict=True)) for cells in rows])])
    wanted = [columns, *rows]
    while not any(wanted[-1]):
        wanted.pop()
    assert other_reader(content) == wanted
    sheet = openpyxl.load_workbook(io.BytesIO(content)).worksheets[0]
    third = [[unescape(cell or "") for cell in line] for line in sheet.iter_rows(values_only=True, max_row=len(wanted))]
    assert third == wanted
    assert padded(one_sheet(content), 3) == {
        number: [cell.strip() for cell in line] for number, line in enumerate(wanted, 1) if any(map(str.strip, line))
    }


@given(st.lists(st.floats(-1e300, 1e300) | st.integers(-(2**53), 2**53), min_size=1, max_size=8))
@settings(deadline=None, max_examples=100)
def test_the_digits_of_a_number_give_the_number_that_another_reader_finds(numbers: list[float]) -> None:
    """A binary number of another program's workbook is, bit for bit, the one its text stands for."""
    book = openpyxl.Workbook()
    book.worksheets[0].append(numbers)
    content = io.BytesIO()
    book.save(content)
    grid = one_sheet(content.getvalue())
    (theirs,) = other_reader(content.getvalue())
    ours = grid.lines[0].cells
    assert [float(text) for text in ours] == theirs
    assert all(set(text) <= set("-.0123456789") for text in ours)
    assert set(grid.numbers) == {(1, place) for place in range(len(numbers))}


@given(st.floats(1e-5, 1e15))
@settings(deadline=None, max_examples=50)
def test_seventeen_digits_are_taken_for_the_number_they_stand_for(value: float) -> None:
    """A spreadsheet may write up to seventeen digits; the shortest text of the same number has no more."""
    written = f"{value:.17g}"
    (text,) = one_sheet(packed(parts(row(1, f'<c r="A1"><v>{written}</v></c>')))).lines[0].cells
    assert float(text) == float(written)
    assert len(text.replace(".", "").strip("0")) <= 17


def test_the_printed_escape_of_a_sign_and_of_its_look() -> None:
    """22.9.2.19: sign 8 stands as _x0008_, and a text that reads _x0008_ stands as _x005F_x0008_."""
    cells = [
        f'<c r="{place}1" t="str"><v>{text}</v></c>' for place, text in (("A", "a_x0008_b"), ("B", "_x005F_x0008_"))
    ]
    content = packed(parts(row(1, *cells)))
    assert one_sheet(content).lines[0].cells == ("a\x08b", "_x0008_")
    written = write_workbook([SheetOut("t", ["a\x08b", "_x0008_"], [])])
    assert openpyxl.load_workbook(io.BytesIO(written)).worksheets[0]["A1"].value == "a_x0008_b"
    assert openpyxl.load_workbook(io.BytesIO(written)).worksheets[0]["B1"].value == "_x005F_x0008_"


@pytest.mark.parametrize(
    ("serial", "from_1904", "day"),
    [
        ("1", False, "1 January 1900"),
        ("2958465", False, "31 December 9999"),
        ("0", True, "1 January 1904"),
        ("2957003", True, "31 December 9999"),
    ],
)
def test_the_ends_of_both_calendars(serial: str, from_1904: bool, day: str) -> None:
    """18.17.4.1: the first and last day of the calendar from 1900 and of the one from 1904."""
    held = parts(row(1, f'<c r="A1"><v>{serial}</v></c>'), formats=[14])
    if from_1904:
        held["xl/workbook.xml"] = str(held["xl/workbook.xml"]).replace("<sheets>", '<workbookPr date1904="1"/><sheets>')
    with pytest.raises(BadTable, match=f"found a date, {day};"):
        read_workbook("t.xlsx", packed(held))


@pytest.mark.parametrize("style", FORMATS)
def test_built_in_formats_of_numbers(style: int) -> None:
    """18.8.30: each built-in format has its printed code."""
    grid = one_sheet(packed(parts(row(1, '<c r="A1"><v>0.5</v></c>'), formats=[style])))
    assert dict(grid.numbers) == {(1, 0): FORMATS[style]}


@pytest.mark.parametrize("style", DATES)
def test_built_in_formats_of_dates(style: int) -> None:
    """18.8.30: these built-in formats show a date or a time."""
    with pytest.raises(BadTable, match=r"found a (date|time), "):
        read_workbook("t.xlsx", packed(parts(row(1, '<c r="A1"><v>46146.5</v></c>'), formats=[style])))


@pytest.mark.parametrize("column", [1, 26, 27, 52, 53, 104, 200])
def test_columns_are_counted_as_letters(column: int) -> None:
    """18.18.7 (ST_CellRef): after Z comes AA; an independent count of the letters names the same column."""
    (line,) = one_sheet(packed(parts(row(1, f'<c r="{get_column_letter(column)}1"><v>7</v></c>')))).lines
    assert line.cells == ("",) * (column - 1) + ("7",)


def test_a_workbook_of_another_program_with_every_kind_of_text() -> None:
    """Shared texts, as other programs write them, are the same texts in both readers."""
    book = openpyxl.Workbook()
    for text in TRICKY:
        book.worksheets[0].append([text, "end"])
        book.worksheets[0].cell(book.worksheets[0].max_row, 1).data_type = "s"
    content = io.BytesIO()
    book.save(content)
    assert list(padded(one_sheet(content.getvalue()), 2).values()) == [
        [str(cell).strip() for cell in line] for line in other_reader(content.getvalue())
    ]


def test_a_number_is_never_rounded_to_the_fifteen_digits_a_screen_shows() -> None:
    """The neighbour of 0.1 is another number and comes out as one."""
    near = math.nextafter(0.1, 1)
    (text,) = one_sheet(packed(parts(row(1, f'<c r="A1"><v>{near!r}</v></c>')))).lines[0].cells
    assert float(text) == near != 0.1
