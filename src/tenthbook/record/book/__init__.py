"""What the manual says: the limits of one engine type, transcribed by hand, row by row.

- `tables`: the tables of a book and what each column means, in words that explain themselves;
- `rows`: a row as the rest of the house uses it (`Part`, `Size`, `Fit`);
- `reading`: files to book, with every fault at once, each with file and line;
- `digests`: the digest of a row, named by every reading;
- `canonical`: book to the bytes that are kept and whose SHA-256 is the book's digest, and back.

A book is pinned by a job under its digest, so a later revision changes no verdict unseen. The digest covers the rows,
not the bytes of the files: a blank line or another order of columns is the same book. A blank limit is no limit, never
nought. The manual rules; a row tells its page. So far: parts, sizes and fits, with absolute limits.
"""

from tenthbook.record.book.canonical import book_bytes, book_digest, book_from_bytes
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.digests import row_digest
from tenthbook.record.book.reading import Book, book_of, draft_again, draft_book, hindering, read_book, with_rows
from tenthbook.record.book.rows import Fit, LimitRow, Part, Size, TypedRow
from tenthbook.record.book.tables import TABLES

__all__ = [
    "TABLES",
    "Book",
    "Column",
    "Fit",
    "Form",
    "LimitRow",
    "Part",
    "Size",
    "TypedRow",
    "book_bytes",
    "book_digest",
    "book_from_bytes",
    "book_of",
    "draft_again",
    "draft_book",
    "hindering",
    "read_book",
    "row_digest",
    "with_rows",
]
