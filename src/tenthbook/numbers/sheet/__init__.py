"""What stands in a table someone sent: bytes to cells of text, and back, so that nothing changes on the way.

- `grid`: the lines of a table, and the table once its heading is known.
- `csv_text`: text in UTF-8 with commas between the cells, or with tabs where it was pasted from a spreadsheet.
- `workbook`: workbooks (XLSX), read by `reading` and written by `writing`. `package` unpacks with care, `strings`,
  `formats`, `values` and `cells` read the markup, `findings` says what stands where it should not.

Goes in: the bytes of a file and the name to call it by. Comes out: a `Table` of rows or a `Grid` of lines, or a
`BadTable` with every fault.

Every cell is text; nothing is taken for a number, a date or a formula. A cell that a spreadsheet would run as a
formula is written to CSV with a leading apostrophe and read back without it; in a workbook it is a text cell. A
workbook may hold a binary number: it comes out in the shortest digits that give it, and the grid says so, because
0.50 typed there is 0.5 by now and only a person knows. Dates, formulas, errors, merged and hidden cells are refused by
name. Each row knows the line it stood on, so that a fault can name it. What is torn, in another encoding, or separated
by something else is refused with its place; it is never guessed.
"""

from tenthbook.numbers.sheet.csv_text import read_csv, read_grid, read_loosely, write_csv
from tenthbook.numbers.sheet.grid import BadTable, Grid, Line, Row, SheetOut, Table, table_of
from tenthbook.numbers.sheet.workbook import read_workbook, write_workbook

__all__ = [
    "BadTable",
    "Grid",
    "Line",
    "Row",
    "SheetOut",
    "Table",
    "read_csv",
    "read_grid",
    "read_loosely",
    "read_workbook",
    "table_of",
    "write_csv",
    "write_workbook",
]
