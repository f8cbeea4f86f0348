"""`tenthbook book verify`: the second, blind reading of a book's rows."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tenthbook.faces.cli.output import FINDINGS, act_of, open_bench, plain_errors, say, say_json, tell
from tenthbook.faces.cli.words import fields_of
from tenthbook.numbers.because import Fault, WrongInput

if TYPE_CHECKING:
    from tenthbook.record.bench import Books
    from tenthbook.record.book import Book, TypedRow
    from tenthbook.record.proofread import Overlay


def _standing(row: TypedRow, overlay: Overlay) -> str:
    reading = overlay.readings.get(row.digest)
    return str(reading) if reading is not None else "not read again"


def _say_overview(book: Book, overlay: Overlay, as_json: bool) -> None:
    rows = [
        {"table": table, "row": row.id, "page": row.page, "stands": _standing(row, overlay)}
        for table, held in book.rows.items()
        for row in held.values()
    ]
    read = sum(1 for held in book.rows.values() for row in held.values() if overlay.verified(row.digest))
    if as_json:
        say_json({"rows": rows, "verified": read})
        return
    for one in rows:
        say(f"{one['table']}/{one['row']}, page {one['page']}: {one['stands']}")
    say(f"{read} of {len(rows)} rows read a second time and agreed")


def _say_blind(row: TypedRow) -> None:
    from tenthbook.record.proofread import compared_columns, shown_blind

    say(f"{row.table}/{row.id}: open the manual at page {row.page} and type what is printed there.")
    for name, text in shown_blind(row).items():
        if name not in ("id", "page"):
            say(f"  {name}: {text}")
    say("to be typed, as NAME=VALUE; leave out what the page does not print:")
    for column in compared_columns(row.table):
        say(f"  {column.name:20} {column.says}")


def _split(words: tuple[str, ...], job: str | None) -> tuple[str | None, dict[str, str]]:
    """Part the book from the fields: the first word is the book, unless a job names it."""
    if job is not None:
        return None, fields_of(words)
    if not words or "=" in words[0]:
        raise WrongInput([Fault("BOOK", "no book", "a book's folder or workbook, or --job JOB")])
    return words[0], fields_of(words[1:])


def _read_again(
    books: Books, book: Book, row: TypedRow, cells: dict[str, str], typed: dict[str, str], act: dict[str, str]
) -> bool:
    from tenthbook.record.proofread import compare_again

    entry = books.read_again(book, row, cells, act, typed)
    differs = compare_again(row, cells)
    say(f"entry {entry.number}: {entry.kind}, {row.table}/{row.id}, page {row.page}")
    for one in differs:
        say(f"  {one}")
    if differs:
        tell(
            "The two readings differ: look at the page again. The page decides, and the row stays disputed until then."
        )
    return not differs


@click.command(name="verify")
@click.argument("words", nargs=-1, metavar="[BOOK] [NAME=VALUE]...")
@click.option("--job", help="The book of this job, with the rows typed in it, in place of BOOK.")
@click.option("--row", "place", help="The row that is read again, as TABLE/ID.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
@click.pass_context
def command(ctx: click.Context, words: tuple[str, ...], job: str | None, place: str | None, as_json: bool) -> None:
    """Read rows of BOOK a second time, blind to the first.

    Without --row: how each row stands. With --row alone: what the row is of, and what is to be typed. With --row and
    NAME=VALUE: the two readings are compared, and what came of it is recorded.
    """
    from tenthbook.faces.cli.book_files import read_draft
    from tenthbook.record.bench import find_row
    from tenthbook.record.book import book_of

    with plain_errors():
        path, cells = _split(words, job)
        bench = open_bench(ctx)
        books = bench.books
        if job is not None:
            book = bench.book(job)
            typed = bench.typed_first(job, *(place or "").partition("/")[::2])
        else:
            book = book_of(read_draft(Path(str(path))))
            typed = {name: str(book.head.get(name, "")) for name in ("typed_by", "typed_on")}
        if place is None and cells:
            raise WrongInput([Fault("--row", "cells and no row", "--row TABLE/ID, the row that is read again")])
        if place is None:
            _say_overview(book, books.overlay(book), as_json)
            return
        row = find_row(book, *place.partition("/")[::2])
        if not cells:
            _say_blind(row)
            return
        agreed = _read_again(books, book, row, cells, typed, act_of(ctx))
    if not agreed:
        raise SystemExit(FINDINGS)
