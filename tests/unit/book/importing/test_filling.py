"""What becomes of units, dashes, ranges and binary numbers in a sent row; what cannot be told is asked."""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.numbers.sheet import Grid, Line
from tenthbook.record.book import draft_book
from tenthbook.record.book.importing import Preview, preview
from tests.builders import book_files
from tests.unit.book.importing.sent import CONSTANTS, HEADINGS, binary, limits, only, said, shown


def one(new: str, service: str = "", **changed: Any) -> dict[str, str]:
    """The limits of the one row of a sent page."""
    return limits(only(shown(f'size.a,a place,"{new}","{service}"', **changed)))


def asked(new: str, service: str = "", **changed: Any) -> str:
    """The one question about the one row of a sent page, which then does not enter."""
    found = shown(f"size.a,a place,{new},{service}", **changed)
    assert (found.faults, found.rows, found.code, found.findings) == ((), (), "", ())
    [question] = found.questions
    assert question.place == "page.csv:2"
    return question.asks


def test_bare_numbers_take_the_unit_that_was_said() -> None:
    """By --unit, by a constant or by a column of units."""
    expected = {"kind": "absolute", "unit": "in", "new_min": "0.0037", "new_max": "0.0057", "service_max": "0.0090"}
    assert one("0.0037-0.0057", "0.0090 max") == expected
    assert one("0.0037-0.0057", "0.0090 max", unit="", constants={**CONSTANTS, "unit": "in"}) == expected
    headings = {"unit": "Unit", **HEADINGS}
    found = shown(
        "inch,size.a,a,0.0037-0.0057,0.0090 max", heading="Unit,Id,Item,New,Service", headings=headings, unit=""
    )
    assert limits(only(found)) == expected


def test_a_row_whose_cells_carry_one_unit_is_judged_in_it() -> None:
    """Whatever unit bare numbers have elsewhere on the page; the preview says so."""
    found = shown("size.a,a place,12.0-12.6 lbf,11.5 lbf min")
    assert limits(only(found)) == {
        "kind": "absolute",
        "unit": "lbf",
        "new_min": "12.0",
        "new_max": "12.6",
        "service_min": "11.5",
    }
    assert "unit lbf, as the cells carry it, not in" in only(found).notes


@pytest.mark.parametrize(
    ("unit", "judged", "beside"),
    [("in", ("0.0098", "0.0118"), ("0.25", "0.30")), ("mm", ("0.25", "0.30"), ("0.0098", "0.0118"))],
)
def test_of_two_units_the_one_that_was_said_judges(unit: str, judged: tuple[str, str], beside: tuple[str, str]) -> None:
    """The other is kept beside it, digit for digit."""
    row = limits(only(shown("size.a,a place,0.25-0.30 mm (0.0098-0.0118 in),", unit=unit)))
    other = "mm" if unit == "in" else "in"
    assert row == {
        "kind": "absolute",
        **dict(zip(("unit", "new_min", "new_max"), (unit, *judged), strict=True)),
        **dict(zip(("other_unit", "other_new_min", "other_new_max"), (other, *beside), strict=True)),
    }


def test_a_second_unit_beside_some_limits_only() -> None:
    """A limit printed in the judging unit alone has nothing beside it."""
    row = limits(only(shown("size.a,a,0.25-0.30 mm (0.0098-0.0118 in),0.0130 in max")))
    assert (row["service_max"], row["unit"], row["other_unit"]) == ("0.0130", "in", "mm")
    assert "other_service_max" not in row


def test_columns_of_the_second_unit_may_have_headings_of_their_own() -> None:
    """Their unit is said by a constant, or stands in their cells."""
    headings = {**HEADINGS, "other_new": "Metric"}
    for cell, constants in (("0.25-0.30 mm", CONSTANTS), ("0.25-0.30", {**CONSTANTS, "other_unit": "mm"})):
        found = shown(
            f"size.a,a,0.0098-0.0118,,{cell}",
            heading="Id,Item,New,Service,Metric",
            headings=headings,
            constants=constants,
        )
        row = limits(only(found))
        assert (row["unit"], row["other_unit"], row["other_new_min"], row["new_min"]) == ("in", "mm", "0.25", "0.0098")


@pytest.mark.parametrize(
    ("new", "service", "unit", "asks"),
    [
        ("0.25-0.30 mm (0.0098-0.0118 in)", "", "", "cells in in and mm in one row"),
        ("0.0098-0.0118", "", "", "new '0.0098-0.0118' has no unit"),
        ("----", "", "", "no unit in the row"),
        (
            "0.0098-0.0118",
            "0.35 mm max",
            "in",
            "service '0.35 mm max' gives nothing in in, and the row is judged by in",
        ),
        ("0.25-0.30 mm", "0.0130 max", "in", "new '0.25-0.30 mm' gives nothing in in, and the row is judged by in"),
        ("0.25-0.30 mm", "0.35 max", "", "service '0.35 max' has no unit"),
        ("0.25-0.30 mm (0.0098-0.0118 in)", "12 lbf max", "in", "cells in in and lbf and mm in one row"),
        ("0.25-0.30 mm (0.0098-0.0118)", "", "in", "new '0.25-0.30 mm (0.0098-0.0118)' has no unit"),
        ("0.0098 to 0.0118 in (0.0099 in)", "", "in", "new '0.0098 to 0.0118 in (0.0099 in)' says two things in in"),
        ("0.0098 in", "", "in", "new '0.0098 in': a least or a greatest cannot be told"),
        ("0.0098", "", "in", "new '0.0098': a least or a greatest cannot be told"),
    ],
)
def test_what_cannot_be_told_is_asked_and_does_not_enter(new: str, service: str, unit: str, asks: str) -> None:
    """Two units with none said, a limit in the second unit only, a number that is neither least nor greatest."""
    assert asked(new, service, unit=unit) == asks


def test_a_column_of_units_that_says_another_unit_than_the_cells_is_asked_about() -> None:
    """Two statements that contradict each other are not settled here."""
    headings = {"unit": "Unit", **HEADINGS}
    found = shown("mm,size.a,a,0.0037 to 0.0057 in,", heading="Unit,Id,Item,New,Service", headings=headings)
    assert [question.asks for question in found.questions] == ["unit says mm, the cells of the row carry in"]


def test_a_second_unit_that_fills_a_mapped_column_again_is_asked_about() -> None:
    """No cell is written over another."""
    found = shown(
        "size.a,a,0.25-0.30 mm (0.0098-0.0118 in),,0.25-0.30 mm",
        heading="Id,Item,New,Service,Metric",
        headings={**HEADINGS, "other_new": "Metric"},
    )
    assert [question.asks for question in found.questions] == ["other_new_min from two cells, 0.25 and 0.25"]


def test_two_second_units_in_one_row_are_asked_about() -> None:
    """The columns beside have one unit."""
    asks = asked("0.25-0.30 mm (0.0098-0.0118 in)", "0.0130 in max (12 lbf max)", unit="in")
    assert asks == "cells in in and lbf and mm in one row"
    found = shown(
        "size.a,a,0.25-0.30 mm (0.0098-0.0118 in),,12 lbf max",
        heading="Id,Item,New,Service,Other",
        headings={**HEADINGS, "other_service": "Other"},
    )
    assert [question.asks for question in found.questions] == ["second units lbf and mm in one row"]


def test_limits_in_the_second_unit_only_are_asked_about() -> None:
    """A row of the kind none that has limits beside it would be a contradiction."""
    found = shown(
        "size.a,a,,,0.25-0.30 mm", heading="Id,Item,New,Service,Metric", headings={**HEADINGS, "other_new": "Metric"}
    )
    assert [question.asks for question in found.questions] == ["limits in the second unit only"]


def test_a_unit_nobody_knows_is_left_to_the_checker() -> None:
    """In a column of units; beside a number it is a fault of the cell."""
    headings = {"unit": "Unit", **HEADINGS}
    found = shown("furlong,size.a,a,0.1-0.2,", heading="Unit,Id,Item,New,Service", headings=headings, unit="")
    assert (found.faults, found.questions, found.code) == ((), (), "")
    assert [(finding.column, finding.rule) for finding in found.wrong] == [("unit", "book.unit")]


def test_a_table_without_columns_for_a_second_unit_asks() -> None:
    """Places of a joint have one unit."""
    found = shown(
        "joint.a,pump,1 in (25.4 mm),2 in,4-1",
        heading="Id,Joint,X,Y,Page",
        table="joints",
        headings={"id": "Id", "joint": "Joint", "x": "X", "y": "Y", "page": "Page"},
        constants={"role": "anchor", "view": "view.rear"},
    )
    assert [question.asks for question in found.questions] == ["x '1 in (25.4 mm)': no column other_x"]


@pytest.mark.parametrize(
    ("column", "cell", "kept"),
    [("service_max", "0.0090", True), ("service_max", "0.0090 max", True), ("service_max", "0.0090 min", False)],
)
def test_a_column_takes_a_number_and_its_own_side(column: str, cell: str, kept: bool) -> None:
    """A least in a column of greatest is asked about, and so is a range."""
    headings = {"id": "Id", "feature": "Item", column: "Service"}
    found = shown(f"size.a,a,,{cell}", headings=headings)
    assert bool(found.rows) is kept
    assert len(found.questions) == (not kept)
    assert found.rows == () or found.rows[0].cells[column] == "0.0090"
    assert shown("size.a,a,,0.0037-0.0057", headings=headings).questions[0].asks.endswith("a range in service_max")


def test_a_blank_and_dashes_stay_blank_and_the_preview_says_so() -> None:
    """No limit given is not nought, and a row says it in words."""
    row = only(shown("size.a,a place,0.5108-0.5114,----"))
    assert {"service_min", "service_max"}.isdisjoint(row.cells)
    assert "service: dashes (----): no limit given, not nought" in row.notes
    assert "service: blank: no limit given, not nought" in only(shown("size.a,a,0.5108-0.5114,")).notes


def test_a_row_without_any_limit_is_of_the_kind_none() -> None:
    """Absolute without a limit would say nothing; the preview says what became of it."""
    row = only(shown("size.a,a place,----,n/a"))
    assert limits(row) == {"kind": "none", "unit": "in"}
    assert row.notes[-1] == "no limit in any column: kind none, not absolute"


def test_nought_is_a_limit() -> None:
    """0.0000 is kept and stays absolute."""
    assert one("0.0000-0.0010")["new_min"] == "0.0000"
    assert one("0.0000-0.0010")["kind"] == "absolute"


def test_dashes_in_other_numbers_are_blank_and_in_words_are_words() -> None:
    """A plain number has no dashes; a note is kept as it is typed."""
    headings = {**HEADINGS, "times": "Times", "note": "Note"}
    row = only(shown("size.a,a,0.1-0.2,,--,--", heading="Id,Item,New,Service,Times,Note", headings=headings))
    assert ("times" in row.cells, row.cells["note"]) == (False, "--")
    assert "times: dashes (--): nothing given, not nought" in row.notes


@pytest.mark.parametrize(
    ("cell", "expected"),
    [("0,0057", "a decimal point as the manual prints it"), ("nil", "0 for nought"), ("00098", "begins with nought")],
)
def test_a_cell_that_cannot_be_read_is_a_fault_with_line_and_heading(cell: str, expected: str) -> None:
    """All of them at once, and the other rows are read on."""
    found = shown(f'size.a,a,"{cell}",0.1 max', "size.b,b,0.1-0.2,", f'size.c,c,0.1-0.2,"{cell}"')
    assert [(fault.path, expected in fault.expected) for fault in found.faults] == [
        ("page.csv:2: New", True),
        ("page.csv:4: Service", True),
    ]
    assert ([row.id for row in found.rows], found.code) == (["size.b"], "")


def test_a_second_line_of_heading_is_suspected_in_the_first_row_only() -> None:
    """Words without a figure under a heading of numbers."""
    found = shown("min,max,inches,inches", "size.a,a,0.1-0.2,see note")
    assert ["one line more" in fault.expected for fault in found.faults] == [True, True, False]
    assert [fault.path for fault in found.faults] == ["page.csv:2: New", "page.csv:2: Service", "page.csv:3: Service"]


def test_two_lines_of_heading_are_joined_when_it_is_said() -> None:
    """Cell under cell."""
    headings = {"id": "Id", "feature": "Item", "new_min": "New min", "new_max": "New max"}
    found = shown(",,min,max", "size.a,a,0.1,0.2", heading="Id,Item,New,New", headings=headings, heading_lines=2)
    assert (only(found).cells["new_min"], only(found).line) == ("0.1", 3)


def shown_binary(*cells: str, numbers: dict[int, str], **changed: Any) -> Preview:
    """The preview of a sheet in which some cells are binary numbers."""
    headings = {"id": "Id", "feature": "Item", "new_min": "Min", "new_max": "Max", "ref": "Ref"}
    grid = binary(*cells, heading=("Id", "Item", "Min", "Max", "Ref"), numbers=numbers)
    return preview(said(headings=headings, **changed), grid, draft_book(book_files()))


def test_each_column_of_binary_numbers_is_asked_about() -> None:
    """The digits at the end are lost, whatever the sheet shows; the question names cells and formats."""
    found = shown_binary("size.a", "a", "0.5", "0.6", "7", numbers={2: "0.0000", 3: "General", 4: "0"})
    assert [str(question) for question in found.questions] == [
        "page.csv: Ref: held as binary numbers, so that noughts at the end are lost: line 2 (7); shown as 0; say how "
        "many decimals the manual prints there (decimals ref=N), or send the cells as text",
        "page.csv: Min: held as binary numbers, so that noughts at the end are lost: line 2 (0.5); shown as 0.0000; "
        "say how many decimals the manual prints there (decimals new_min=N), or send the cells as text",
        "page.csv: Max: held as binary numbers, so that noughts at the end are lost: line 2 (0.6); shown as General; "
        "say how many decimals the manual prints there (decimals new_max=N), or send the cells as text",
    ]
    assert found.code == ""


def test_answered_decimals_give_back_the_noughts() -> None:
    """0.5 of a manual that prints four decimals is 0.5000; text keeps its digits."""
    found = shown_binary(
        "size.a", "a", "0.5", "0.60", "7", numbers={2: "0.0000", 4: "0"}, decimals={"new_min": 4, "ref": 0}
    )
    row = only(found)
    assert (row.cells["new_min"], row.cells["new_max"], row.cells["ref"]) == ("0.5000", "0.60", "7")
    assert "new_min: 0.5 held as a binary number, printed with 4 decimals: 0.5000" in row.notes


@pytest.mark.parametrize("cell", ["0.092300000001", "0.00925", "0.30000000000000004"])
def test_a_binary_number_that_does_not_end_within_its_decimals_is_a_fault(cell: str) -> None:
    """Nothing is rounded to fit; the cell is named."""
    found = shown_binary("size.a", "a", cell, "0.6", "", numbers={2: "General"}, decimals={"new_min": 4})
    [fault] = found.faults
    assert (fault.path, fault.found) == ("page.csv:2: Min", f"the binary number {cell}")
    assert (found.rows, found.code) == ((), "")


def test_a_question_about_many_cells_names_a_handful() -> None:
    """Five by line and the rest by number."""
    lines = [Line(1, ("Id", "Item", "Min")), *(Line(n, (f"size.a{n}", "a", "0.5")) for n in range(2, 12))]
    grid = Grid("page.csv", tuple(lines), {(n, 2): "General" for n in range(2, 12)})
    headings = {"id": "Id", "feature": "Item", "new_min": "Min"}
    [question] = preview(said(headings=headings), grid, draft_book(book_files())).questions
    assert "line 2 (0.5), 3 (0.5), 4 (0.5), 5 (0.5), 6 (0.5) and 5 more" in question.asks


def test_a_whole_number_has_no_decimals_to_lose() -> None:
    """How many of a part one engine has is not asked about."""
    grid = binary("part.a", "a", "4", heading=("Id", "Name", "Quantity"), numbers={2: "General"})
    headings = {"id": "Id", "name": "Name", "quantity": "Quantity"}
    map_of_parts = said(table="parts", headings=headings, constants={"where_used": "pump", "page": "2-1"}, unit="")
    assert only(preview(map_of_parts, grid, draft_book(book_files()))).cells["quantity"] == "4"


def test_letters_of_a_fit_stay_as_printed() -> None:
    """T and L fill least and greatest, the tightest first."""
    found = shown(
        "fit.a,plug,size.plug-hole,size.plug,0.0005T-0.0015T,0.0002T max",
        heading="Id,Name,Hole,Shaft,New,Service",
        table="fits",
        headings={"id": "Id", "name": "Name", "hole": "Hole", "shaft": "Shaft", "new": "New", "service": "Service"},
        constants={"kind": "absolute", "page": "4-14"},
    )
    row = only(found).cells
    assert (row["new_min"], row["new_max"], row["service_max"]) == ("0.0015T", "0.0005T", "0.0002T")
