"""The facts the stream of a book can hold, each in the past tense, with its version and its fields."""

from __future__ import annotations

from pydantic import Field

from tenthbook.record.ledger import Fields, Kind


class BookOpened(Fields):
    """Entry 0 of a book's stream."""

    stream: str = Field(description="id of the book's stream", min_length=1, max_length=60)
    installation: str = Field(description="id of the installation that opened it", min_length=1, max_length=60)
    type: str = Field(description="engine type of the book", min_length=1, max_length=200)
    manual: str = Field(description="title or number of the manual", min_length=1, max_length=200)
    invented: bool = Field(description="true for a book that is for no engine")


class RowReadAgain(Fields):
    """A row that was read a second time, blind; in what the two readings differ is not stored but compared."""

    table: str = Field(description="table of the book", min_length=1, max_length=40)
    row: str = Field(description="id of the row", min_length=1, max_length=100)
    row_digest: str = Field(description="SHA-256 of the row as it stood", pattern=r"^[0-9a-f]{64}$")
    typed_by: str = Field(default="", description="who typed the row first; empty where that is not known")
    typed_on: str = Field(default="", description="the day the row was typed first, such as 2026-03-09")
    cells: dict[str, str] = Field(description="what was read again, by column, digit for digit")


class RowVerified(RowReadAgain):
    """A second reading that agrees with the row."""


class RowDisputed(RowReadAgain):
    """A second reading that differs from the row; the page decides."""

    differs: list[str] = Field(description="the columns that differ", min_length=1)


class RowsImported(Fields):
    """Rows that came into the book from elsewhere: whatever was read of them before counts no more."""

    digests: list[str] = Field(description="SHA-256 of each row", min_length=1)


BOOK_KINDS: dict[str, Kind] = {
    "book opened": Kind(1, BookOpened),
    "row verified": Kind(1, RowVerified),
    "row disputed": Kind(1, RowDisputed),
    "rows imported": Kind(1, RowsImported),
}
