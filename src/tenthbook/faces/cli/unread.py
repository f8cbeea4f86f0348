"""Before rows enter a book from elsewhere: whatever was read of them before counts no more."""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping

import click

from tenthbook.faces.cli.output import act_of, open_bench, tell


def mark_unread(ctx: click.Context, head: Mapping[str, str | bool], digests: Collection[str]) -> None:
    """Record that rows come from elsewhere, where this shop holds second readings of the book.

    It is done before they are written: if the power goes between the two, a row counts as unread that was read, never
    the other way.

    Args:
        ctx: Click's context.
        head: The head of the book.
        digests: SHA-256 of each row.
    """
    from tenthbook.faces.store.folder import data_folder
    from tenthbook.faces.store.place import DATABASE_FILE, SETTING

    if not os.environ.get(SETTING) and not ((ctx.obj["data"] or data_folder()) / DATABASE_FILE).is_file():
        return
    if open_bench(ctx).books.imported(head, digests, act_of(ctx)) is not None:
        tell(f"{len(digests)} rows count as unread until they are read a second time: tenthbook book verify")
