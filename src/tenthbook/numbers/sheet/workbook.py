"""Tables as the sheets of a workbook (XLSX): what somebody sent, and what somebody gets to fill in.

What this needs of other libraries takes time to load and is fetched only when a workbook is at hand. In: bytes, or
tables of text. Out: grids of text, or bytes.
Source for the form: ECMA-376 Part 1, from memory. Checked in: tests/published/test_ecma_376.py
"""

from __future__ import annotations

from collections.abc import Sequence

from tenthbook.numbers.sheet.grid import Grid, SheetOut


def read_workbook(name: str, content: bytes) -> dict[str, Grid]:
    """Read the sheets of a workbook.

    Args:
        name: What to call it in a fault, for instance "limits.xlsx".
        content: Its bytes.

    Returns:
        A grid for each sheet, by the sheet's name and in the workbook's order; a blank sheet has no lines. Blanks
        around a cell are taken off. Cells that hold a binary number stand in the grid's `numbers` too.

    Raises:
        BadTable: no workbook, a torn, encrypted or too large one, one with macros; hidden sheets, rows or columns with
            content; merged cells; cells with a formula, a date, a truth value or an error. All faults of the cells come
            at once, a handful of each kind by name.

    Source: ECMA-376 Part 1, 18, from memory. Checked in: tests/published/test_ecma_376.py
    """
    from tenthbook.numbers.sheet.reading import read_sheets

    return read_sheets(name, content)


def write_workbook(sheets: Sequence[SheetOut]) -> bytes:
    """Write a workbook in which every cell is text, and stays text when somebody types into it.

    Args:
        sheets: Its sheets in order, at least one.

    Returns:
        The workbook; the same bytes for the same sheets. The heading stays in view and its notes say what the columns
        are for; no date, program or person is named.

    Raises:
        BadTable: a name a sheet cannot have, a column without a name or twice, a note on no column, or a text that a
            spreadsheet would cut off: all faults at once.

    Source: ECMA-376 Part 1, 18, from memory. Checked in: tests/published/test_ecma_376.py
    """
    from tenthbook.numbers.sheet.writing import write_sheets

    return write_sheets(sheets)
