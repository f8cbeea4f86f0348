"""A book as bytes that are the same for the same rows, and back, and the digest that jobs name.

The form is that of `digests`. A row keeps the cells that are filled, so that a new column changes no digest; the rows
of a book kept before that rule keep their blank cells too, and so their digests.
"""

from __future__ import annotations

import hashlib
import json

from tenthbook.numbers.because import TenthbookError
from tenthbook.record.book.digests import dense
from tenthbook.record.book.reading import Book, book_of, draft_kept


def book_bytes(book: Book) -> bytes:
    """Write the rows of a book in their one form.

    Args:
        book: The book.

    Returns:
        UTF-8 bytes; rows sorted by id, every cell as typed; a table without rows is left out.
    """
    tables = {name: [dict(row.cells) for _, row in sorted(rows.items())] for name, rows in book.rows.items() if rows}
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
        head, tables = dict(held["head"]), {name: list(rows) for name, rows in held["tables"].items()}
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise TenthbookError(found="bytes that are not a kept book", expected="a book as it was pinned") from error
    return book_of(draft_kept(head, tables), kept=True)
