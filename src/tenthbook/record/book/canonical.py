"""A book as bytes that are the same for the same rows, and back, and the digest that jobs name.

The form is that of `digests`.
"""

from __future__ import annotations

import hashlib
import json

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.sheet import Row, Table
from tenthbook.record.book.digests import dense
from tenthbook.record.book.reading import Book, build_book
from tenthbook.record.book.tables import TABLES


def book_bytes(book: Book) -> bytes:
    """Write the rows of a book in their one form.

    Args:
        book: The book.

    Returns:
        UTF-8 bytes; rows sorted by id, every cell as typed.
    """
    tables = {name: sorted((dict(row) for row in rows), key=lambda row: row["id"]) for name, rows in book.cells.items()}
    return dense({"head": dict(book.head), "tables": tables})


def book_digest(book: Book) -> str:
    """Give the digest a job pins.

    Args:
        book: The book.

    Returns:
        SHA-256 of `book_bytes`, hexadecimal.
    """
    return hashlib.sha256(book_bytes(book)).hexdigest()


def book_from_bytes(content: bytes) -> Book:
    """Read a kept book back.

    Args:
        content: What `book_bytes` gave.

    Returns:
        The book.

    Raises:
        TenthbookError: bytes that are not a book.
        WrongInput: a row this version cannot read.
    """
    try:
        held = json.loads(content)
        head, rows = dict(held["head"]), {name: held["tables"][name] for name in TABLES}
    except (ValueError, KeyError, TypeError) as error:
        raise TenthbookError(found="bytes that are not a kept book", expected="a book as it was pinned") from error
    tables = {
        name: Table(
            name,
            tuple(column.name for column in TABLES[name]),
            tuple(Row(place, cells) for place, cells in enumerate(rows[name], 1)),
        )
        for name in TABLES
    }
    return build_book(head, tables)
