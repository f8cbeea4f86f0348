"""What stands in a table someone sent: bytes to cells of text, and back, so that nothing changes on the way.

- `csv_text`: comma-separated text in UTF-8, one heading line, a line a row.

Goes in: the bytes of a file and the name to call it by. Comes out: a `Table` of rows, or a `BadTable` with every fault.

Every cell is text; nothing is taken for a number, a date or a formula. A cell that a spreadsheet would run as a
formula is written with a leading apostrophe and read back without it. Each row knows the line it stood on, so that a
fault can name it. What is torn, in another encoding, or separated by something else is refused with its line; it is
never guessed.
"""

from tenthbook.numbers.sheet.csv_text import BadTable, Row, Table, read_csv, write_csv

__all__ = ["BadTable", "Row", "Table", "read_csv", "write_csv"]
