"""After rows came into a book from elsewhere: whatever was read of them before counts no more."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

import click

from tenthbook.faces.cli.book_files import read_draft
from tenthbook.faces.cli.output import act_of, open_bench, tell


def mark_unread(ctx: click.Context, folder: Path, table: str, ids: Collection[str]) -> None:
    """Record that rows were imported, where this shop holds second readings of the book.

    Args:
        ctx: Click's context.
        folder: The book, with the rows.
        table: Their table.
        ids: Their ids.
    """
    from tenthbook.faces.store.folder import data_folder
    from tenthbook.faces.store.settings import DATABASE_FILE
    from tenthbook.record.book import book_of

    draft = read_draft(folder)
    if draft.wrong or not ((ctx.obj["data"] or data_folder()) / DATABASE_FILE).is_file():
        return
    book = book_of(draft)
    digests = [row.digest for row in book.rows[table].values() if row.id in ids]
    if open_bench(ctx).books.imported(book, digests, act_of(ctx)) is not None:
        tell(f"{len(digests)} rows count as unread until they are read a second time: tenthbook book verify {folder}")
