"""Taking a sent table into a book: somebody's spreadsheet or pasted text, never by guess and never unseen.

- `mapping`: which heading fills which column, as a person said it;
- `printed`: what a cell says: ranges, plus and minus, max and min, T and L, a second unit in brackets;
- `units`: which unit judges in a row, and what is kept beside it;
- `filling`: the rows as the book would keep them, with every fault and every open question;
- `ids`: ids for rows that come without one;
- `previewing`: all of that shown, what the checker finds, and the code under which it may enter;
- `appending`: the rows written into the table's file, every other byte of it as it was;
- `rules`: what keeps rows out.

Goes in: a grid of text cells, a `ColumnMap`, the draft of the book. Comes out: a `Preview`, and for its code the rows.
No file is opened and nothing is written here. A blank is no limit and stays one; text keeps its digits; a number that
a spreadsheet holds as a binary one is asked about; units are told apart, never converted.
"""

from tenthbook.record.book.importing.appending import file_with
from tenthbook.record.book.importing.filling import Question
from tenthbook.record.book.importing.mapping import ColumnMap, filled_by, ranges_of, targets_of
from tenthbook.record.book.importing.previewing import ImportRow, Preview, accepted_rows, preview
from tenthbook.record.book.importing.rules import RULES

__all__ = [
    "RULES",
    "ColumnMap",
    "ImportRow",
    "Preview",
    "Question",
    "accepted_rows",
    "file_with",
    "filled_by",
    "preview",
    "ranges_of",
    "targets_of",
]
