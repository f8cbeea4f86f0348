"""What the cells of a workbook hold, and what stops the reading: every kind of cell, one by one."""

from __future__ import annotations

import pytest

from tenthbook.numbers.sheet import read_workbook, table_of
from tests.unit.sheet.workbooks import (
    MAIN,
    NAME,
    RELATIONS,
    SHEET,
    changed,
    faults,
    lines,
    number,
    packed,
    parts,
    read,
    row,
    sheet,
    styles,
    text,
)


def test_texts_and_numbers_come_with_row_and_column() -> None:
    """Blank rows are passed over, blank cells keep the others in their columns, blanks around a text come off."""
    rows = row(2, text("A2", " id "), text("C2", "size")) + row(3) + row(5, text("A5", "a"), number("C5", "0.5"))
    assert lines(packed(parts(rows))) == [(2, ["id", "", "size"]), (5, ["a", "", "0.5"])]


def test_blank_cells_at_the_end_of_a_row_are_off() -> None:
    """A formatted cell, an empty text and a text of blanks are no content."""
    blank = '<c r="B1" s="0"/>' + text("C1", "") + text("D1", "  ") + '<c r="E1" t="inlineStr"/><c r="F1"><v></v></c>'
    assert lines(packed(parts(row(1, text("A1", "id"), blank) + row(2, '<c r="A2" s="0"/>')))) == [(1, ["id"])]


def test_rows_and_cells_may_leave_their_place_unsaid() -> None:
    """Where no place is written, the next one is meant."""
    rows = "<row><c><v>1</v></c><c/><c><v>2</v></c></row><row><c><v>3</v></c></row>"
    assert lines(packed(parts(rows))) == [(1, ["1", "", "2"]), (2, ["3"])]


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("0.5", "0.5"),
        ("0.50", "0.5"),
        ("0.50900000000000001", "0.509"),
        ("3", "3"),
        ("3.0", "3"),
        ("-0.0005", "-0.0005"),
        ("1E-3", "0.001"),
        ("2.5400000000000001E-5", "0.0000254"),
        ("1e+22", "10000000000000000000000"),
        ("-0", "0"),
        (".5", "0.5"),
        ("+2", "2"),
    ],
)
def test_a_binary_number_is_the_shortest_text_that_gives_it(written: str, shown: str) -> None:
    """No digit is invented and none is lost; there is no exponent."""
    grid = read(packed(parts(row(1, number("A1", written)))))
    assert grid.lines[0].cells == (shown,)
    assert float(shown) == float(written)


def test_every_binary_number_is_listed_with_its_format() -> None:
    """Whoever reads the table can ask about the numbers that a spreadsheet has rounded to its own kind."""
    rows = row(4, text("A4", "0.5000"), number("B4", "0.5", 1), number("C4", "1", 2), number("E4", "5.0E-2", 3))
    grid = read(packed(parts(rows, formats=[0, "0.0000", 49, 10])))
    assert dict(grid.numbers) == {(4, 1): "0.0000", (4, 2): "@", (4, 4): "0.00%"}
    assert grid.lines[0].cells == ("0.5000", "0.5", "1", "", "0.05")


def test_a_workbook_may_come_without_styles_and_shared_texts() -> None:
    """What is not used need not be there; numbers then have the general format."""
    held = parts(row(1, '<c r="A1"><v>1</v></c>'))
    del held["xl/styles.xml"], held["xl/sharedStrings.xml"]
    held["xl/_rels/workbook.xml.rels"] = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Id="r1" Type="{RELATIONS}/worksheet" Target="../xl/./worksheets/sheet1.xml"/></Relationships>'
    )
    assert read(packed(held)).numbers == {(1, 0): "General"}


@pytest.mark.parametrize(
    ("inside", "shown"),
    [
        ("<t>0.5090</t>", "0.5090"),
        ("<t>=1+1</t>", "=1+1"),
        ('<t xml:space="preserve"> a  b </t>', "a  b"),
        ("<r><rPr><b/><sz val='9'/><strike val='0'/></rPr><t>0.</t></r><r><t>25</t></r>", "0.25"),
        ("<t>kana</t><rPh sb='0' eb='1'><t>reading</t></rPh><phoneticPr fontId='1'/>", "kana"),
        ("<t>a_x000D_b _x005F_x0041_ _x00g1_ _xD800_</t>", "a\rb _x0041_ _x00g1_ _xD800_"),
        ("<t>&lt;&amp;&#10;&gt;</t>", "<&\n>"),
        ("<r><rPr><vertAlign val='baseline'/></rPr><t>1</t></r>", "1"),
    ],
)
def test_a_text_reads_the_same_in_the_cell_and_shared(inside: str, shown: str) -> None:
    """Runs are put together, readings for another script are left out, escapes are resolved, blanks come off."""
    own, shared = f'<c r="A1" t="inlineStr"><is>{inside}</is></c>', '<c r="B1" t="s"><v>1</v></c>'
    content = packed(parts(row(1, own, shared), shared=["<t>other</t>", inside]))
    assert lines(content) == [(1, [shown, shown])]


def test_a_text_of_a_formula_without_its_formula_is_a_text() -> None:
    """Some programs write plain texts that way."""
    assert lines(packed(parts(row(1, '<c r="A1" t="str"><v> a_x000A_b </v></c>')))) == [(1, ["a\nb"])]


def test_a_text_led_by_an_apostrophe_is_its_text() -> None:
    """The style that shows an apostrophe in front adds nothing to the text, and an apostrophe of its own stays."""
    held = parts(row(1, '<c r="A1" s="0" t="s"><v>0</v></c>', text("B1", "'=x")), shared=["<t>=x</t>"])
    held["xl/styles.xml"] = styles(49).replace("<xf ", '<xf quotePrefix="1" ')
    assert lines(packed(held)) == [(1, ["=x", "'=x"])]


def test_names_of_elements_may_carry_a_prefix() -> None:
    """The vocabulary counts, not the prefix; elements of another vocabulary are not taken for it."""
    held = parts()
    held[SHEET] = (
        f'<x:worksheet xmlns:x="{MAIN}" xmlns="urn:other"><mergeCell ref="A1:B1"/><x:sheetData>'
        '<x:row r="1"><x:c r="A1"><x:v>1</x:v></x:c></x:row></x:sheetData></x:worksheet>'
    )
    assert lines(packed(held)) == [(1, ["1"])]


STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"


def test_the_strict_form_reads_too() -> None:
    """The later, strict names of the vocabulary are the same vocabulary."""
    assert lines(changed(SHEET, MAIN, STRICT, row(1, number("A1", "1")))) == [(1, ["1"])]


@pytest.mark.parametrize(
    ("cell", "fault"),
    [
        ("<c r='B4'><f>SUM(A1:A3)</f><v>6</v></c>", "a formula; expected a number or text; copy"),
        ("<c r='B4' t='str'><f t='shared' si='0'/><v>a</v></c>", "a formula; expected a number or text; copy"),
        ("<c r='B4'><f>1</f></c>", "a formula; expected a number or text; copy"),
        ("<c r='B4' t='e'><v>#REF!</v></c>", "the error #REF!; expected a number or text"),
        ("<c r='B4' t='b'><v>1</v></c>", "TRUE as a value; expected text"),
        ("<c r='B4' t='b'><v>0</v></c>", "FALSE as a value; expected text"),
        ("<c r='B4' t='d'><v>2026-05-04</v></c>", "a date, 2026-05-04; expected a number or text"),
        ("<c r='B4' s='1'><v>46146</v></c>", "a date, 4 May 2026; expected a number or text; format"),
        ("<c r='B4' s='2'><v>46146</v></c>", "a date, 4 May 2026; expected"),
        ("<c r='B4' s='3'><v>0.520833333333333</v></c>", "a time, 12:30; expected"),
        ("<c r='B4' s='3'><v>0.75</v></c>", "a time, 18:00; expected"),
        ("<c r='B4' s='3'><v>0</v></c>", "a time, 0:00; expected"),
        ("<c r='B4' s='4'><v>1.5</v></c>", "a time, 36:00; expected"),
        ("<c r='B4' s='5'><v>59</v></c>", "a date, 28 February 1900; expected"),
        ("<c r='B4' s='5'><v>60</v></c>", "a date, 1 March 1900; expected"),
        ("<c r='B4' s='5'><v>61.5</v></c>", "a date, 1 March 1900; expected"),
        ("<c r='B4' s='1'><v>-1</v></c>", "a date; expected"),
        ("<c r='B4' s='1'><v>1e300</v></c>", "a date; expected"),
        ("<c r='B4'><v>1e999</v></c>", "'1e999' as a number; expected"),
        ("<c r='B4'><v>nan</v></c>", "'nan' as a number; expected"),
        ("<c r='B4'><v>1_0</v></c>", "'1_0' as a number; expected"),
        ("<c r='B4'><v>0,5</v></c>", "'0,5' as a number; expected"),
        ("<c r='B4' t='str'><v>a_x0000_b</v></c>", "a NUL character; expected text"),
        (
            "<c r='B4' t='inlineStr'><is><r><t>0.25</t></r>"
            "<r><rPr><vertAlign val='superscript'/></rPr><t>5</t></r></is></c>",
            "'0.255' with raised, lowered or struck signs; expected plain text",
        ),
        ("<c r='B4' t='s'><v>0</v></c>", "'0.5' with raised, lowered or struck signs; expected plain text"),
    ],
)
def test_what_is_neither_number_nor_text_is_refused_by_its_cell(cell: str, fault: str) -> None:
    """A worked-out value, a date, a truth value and an error are never taken for what was typed."""
    content = packed(
        parts(
            row(1, text("A1", "id")) + row(4, cell),
            formats=[0, 16, "[$-409]d\\-mmm\\-yyyy;@", 20, "[h]:mm", "mmmm"],
            shared=["<r><rPr><strike/></rPr><t>0.5</t></r>"],
        )
    )
    (said,) = faults(content)
    assert said.startswith(f"limits.xlsx, sizes:B4: found {fault}")


@pytest.mark.parametrize(
    "number_format",
    ['0.0000" mm"', "0.00\\ \\d", "[Red]0.00", "[$m-409]0.0", "0.0_d", "0*s", "# ?/?", "General", "0.00E+00", "@"],
)
def test_a_format_that_only_looks_like_a_date_is_a_number(number_format: str) -> None:
    """Units in quotation marks, single signs and colours are no part of a date."""
    quoted = number_format.replace('"', "&quot;")
    grid = read(packed(parts(row(1, number("A1", "0.5", 1)), formats=[0, quoted])))
    assert dict(grid.numbers) == {(1, 0): number_format}


def test_days_may_be_counted_from_1904() -> None:
    """The same number is another day in such a workbook."""
    held = parts(row(1, number("A1", "0", 0)), formats=[14])
    held["xl/workbook.xml"] = str(held["xl/workbook.xml"]).replace("<sheets>", '<workbookPr date1904="1"/><sheets>')
    assert faults(packed(held))[0].startswith("limits.xlsx, sizes:A1: found a date, 1 January 1904;")


def test_a_handful_of_each_kind_is_named_and_the_rest_counted() -> None:
    """Everything is said at once, but a thousand formulas are not a thousand lines."""
    formulas = "".join(
        row(line, f"<c r='A{line}'><f>1</f></c><c r='B{line}' t='b'><v>1</v></c>") for line in range(1, 9)
    )
    said = faults(packed(parts(formulas)))
    assert [fault.partition(": found ")[0].rpartition(":")[2] for fault in said] == [
        *("A1", "A2", "A3", "A4", "A5", "limits.xlsx, sizes"),
        *("B1", "B2", "B3", "B4", "B5", "limits.xlsx, sizes"),
    ]
    assert said[5].startswith("limits.xlsx, sizes: found and 3 more formulas; expected")


def test_merged_cells_are_refused_by_their_range() -> None:
    """A merged cell has one value for many places, and only a person knows which are meant."""
    held = {
        **parts(),
        SHEET: sheet(row(1, text("A1", "id")), after='<mergeCells><mergeCell ref="A1:C2"/></mergeCells>'),
    }
    assert faults(packed(held)) == [
        "limits.xlsx, sizes:A1:C2: found merged cells; "
        "expected a cell for each value; undo the merge and fill the cells"
    ]


@pytest.mark.parametrize("says", ['hidden="1"', 'hidden="true"', 'ht="0"'])
def test_a_hidden_row_with_content_is_refused(says: str) -> None:
    """What is read is what is seen."""
    (said,) = faults(packed(parts(row(1, text("A1", "id")) + row(2, text("A2", "a"), says=says))))
    assert said.startswith("limits.xlsx, sizes:2: found a hidden row; expected none; show or delete")


@pytest.mark.parametrize("says", ['hidden="1"', 'width="0"'])
def test_a_hidden_column_with_content_is_refused(says: str) -> None:
    """What is read is what is seen, column by column."""
    columns = f'<cols><col min="2" max="3" {says}/></cols>'
    held = {**parts(), SHEET: sheet(row(1, *(text(f"{letter}1", letter) for letter in "ABCD")), before=columns)}
    first, last = faults(packed(held))
    assert first.startswith("limits.xlsx, sizes:B1: found a cell in a hidden column; expected none; show or delete")
    assert last.startswith("limits.xlsx, sizes:C1: ")


def test_hidden_rows_and_columns_without_content_hide_nothing() -> None:
    """Unused rows and columns may be hidden."""
    columns = '<cols><col min="1" max="1" width="9"/><col min="2" max="16384" hidden="1"/></cols>'
    rows = row(1, text("A1", "id"), '<c r="B1" s="0"/>') + row(2, '<c r="A2"/>', says='hidden="1"')
    assert lines(packed({**parts(), SHEET: sheet(rows, before=columns)})) == [(1, ["id"])]


@pytest.mark.parametrize(
    "rows",
    [
        '<c r="A1"><v>1</v></c>',
        row(1, row(2)),
        row(2) + row(1),
        row(1) + row(1),
        row(1_048_577),
        row(1, number("A2", "1")),
        row(1, number("B1", "1"), number("A1", "1")),
        row(1, number("A1", "1"), number("A1", "1")),
        row(1, number("1", "1")),
        row(1, number("a1", "1")),
        row(1, number("AAAA1", "1")),
        row(1, number("A", "1")),
        row(1, number("A1", "1"), "<c><v>2</v></c>"),
        row(1, '<c r="A1"/>', "<c><v>2</v></c>"),
        row(1, "<x/>"),
        row(1, '<c r="A1"><x/></c>'),
        row(1, '<c r="A1"><t>1</t></c>'),
        row(1, '<c r="A1" t="inlineStr"><is><x/></is></c>'),
        row(1, '<c r="A1" t="inlineStr"><is><t>a</t></is><is><t>b</t></is></c>'),
        row(1, '<c r="A1" t="inlineStr"><is><t>1</t></is><v>2</v></c>'),
        row(1, '<c r="A1" t="inlineStr"><is><t>1</t></is><v/></c>'),
        row(1, '<c r="A1" t="inlineStr"><v>2</v></c>'),
        row(1, '<c r="A1"><is><t>1</t></is></c>'),
        row(1, '<c r="A1" t="q"><v>1</v></c>'),
        row(1, '<c r="A1" t="s"><v>7</v></c>'),
        row(1, '<c r="A1" t="s"><v>-1</v></c>'),
        row(1, '<c r="A1" s="9"><v>1</v></c>'),
        row(1, '<c r="A1" s="-1"><v>1</v></c>'),
        row(1, '<c r="A1" s="x"><v>1</v></c>'),
        '<row r="x"/>',
        '<row r="1"',
    ],
)
def test_markup_that_no_spreadsheet_writes_is_refused(rows: str) -> None:
    """Nothing is read by halves: what is out of its place, twice or unknown stops the reading with one fault."""
    (said,) = faults(packed(parts(rows)))
    assert said.startswith("limits.xlsx")
    assert said.endswith("save it again") or said.endswith("save it again as XLSX")


def test_unknown_markup_among_the_shared_texts_is_refused() -> None:
    """A shared text with something unknown in it could read differently."""
    (said,) = faults(packed(parts(row(1), shared=["<x/>"])))
    assert said.startswith("limits.xlsx, xl/sharedStrings.xml: found the unknown element 'x' in a text")


def test_markup_of_another_vocabulary_is_refused() -> None:
    """A sheet that is no spreadsheet's is not searched for something that looks like one."""
    (said,) = faults(changed(SHEET, MAIN, "urn:other", row(1)))
    assert said.startswith(
        "limits.xlsx, sizes: found the outermost element 'worksheet' and not that of a spreadsheet's"
    )


def test_a_part_of_another_kind_is_not_taken_for_a_sheet() -> None:
    """Shared texts listed as a sheet would read as a blank one."""
    (said,) = faults(packed({**parts(), SHEET: parts()["xl/sharedStrings.xml"]}))
    assert said.startswith("limits.xlsx, sizes: found the outermost element 'sst' and not that of a spreadsheet's")


def test_a_table_has_at_most_200_columns() -> None:
    """Content further right is refused with its cell; formatted blanks there are not content."""
    assert lines(packed(parts(row(1, number("A1", "1"), '<c r="XFD1"/>')))) == [(1, ["1"])]
    assert len(lines(packed(parts(row(1, number("GR1", "1")))))[0][1]) == 200
    assert faults(packed(parts(row(1, number("GS1", "1"))))) == [
        "limits.xlsx, sizes:GS1: found content right of column 200; expected at most 200 columns"
    ]


def test_every_sheet_comes_by_its_name_and_in_order() -> None:
    """A blank sheet is a grid without lines; faults of all sheets come together."""
    held = parts(row(1, number("A1", "1")))
    held["xl/worksheets/sheet2.xml"] = sheet("")
    held["xl/workbook.xml"] = str(held["xl/workbook.xml"]).replace(
        "<sheets>", '<sheets><sheet name="../b" sheetId="2" r:id="r9"/>'
    )
    held["xl/_rels/workbook.xml.rels"] = str(held["xl/_rels/workbook.xml.rels"]).replace(
        "</Relationships>",
        f'<Relationship Id="r9" Type="{RELATIONS}/worksheet" Target="worksheets/sheet2.xml"/></Relationships>',
    )
    grids = read_workbook(NAME, packed(held))
    assert [(name, grid.name, len(grid.lines)) for name, grid in grids.items()] == [
        ("../b", "limits.xlsx, ../b", 0),
        ("sizes", "limits.xlsx, sizes", 1),
    ]
    formula = sheet(row(1, "<c r='A1'><f>1</f></c>"))
    said = faults(packed({**held, SHEET: formula, "xl/worksheets/sheet2.xml": formula}))
    assert [fault.partition(": found")[0] for fault in said] == ["limits.xlsx, ../b:A1", "limits.xlsx, sizes:A1"]


def test_a_grid_of_a_sheet_becomes_a_table() -> None:
    """Faults of rows name the row of the sheet."""
    rows = row(2, text("A2", "id"), text("B2", "size")) + row(3, text("A3", "a")) + row(7, text("C7", "x"))
    table, left_out = table_of(read(packed(parts(rows))))
    assert [dict(each.cells) for each in table.rows] == [{"id": "a", "size": ""}]
    assert [str(fault) for fault in left_out] == [
        "limits.xlsx, sizes:7: found 3 cells; expected 2, one under each heading"
    ]
