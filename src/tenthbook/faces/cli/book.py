"""`tenthbook book`: begin a book, check it, carry it from folder to workbook and back, compare two revisions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tenthbook.faces.cli import book_import, book_verify
from tenthbook.faces.cli.book_files import (
    check_file,
    check_folder,
    is_workbook,
    read_draft,
    write_book,
    write_folder,
    write_workbook_file,
)
from tenthbook.faces.cli.output import FINDINGS, plain_errors, say, say_json, tell
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput

if TYPE_CHECKING:
    from tenthbook.record.book.comparing import Change
    from tenthbook.record.book.drafting import Draft
    from tenthbook.record.book.findings import Finding
    from tenthbook.record.book.moving import Move

_JSON = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
_BOOK = click.Path(path_type=Path)


@click.group(name="book")
def command() -> None:
    """Begin a book, check it, carry it from folder to workbook and back, compare two revisions."""


@command.command(name="new")
@click.argument("folder", type=_BOOK, required=False)
@click.option("--type", "engine", required=True, help="Engine type the book is for.")
@click.option("--manual", required=True, help="Title or number of the manual.")
@click.option("--revision", required=True, help="Revision of the manual, with its date.")
@click.option("--invented", is_flag=True, help="The book is for no engine.")
@click.option("--typed-by", default="", help="Person who types it.")
@click.option("--typed-on", default="", help="Day it is typed, such as 2026-03-09.")
@click.option("--workbook", type=_BOOK, help="Make it as one workbook, a file that ends in .xlsx.")
def new(folder: Path | None, workbook: Path | None, engine: str, **words: Any) -> None:
    """Begin a book in FOLDER: every table with its headings, and a page that explains each column."""
    from tenthbook.record.book.empty import empty_book, empty_draft
    from tenthbook.record.book.workbook import book_workbook

    with plain_errors():
        files = empty_book(type=engine, **words)
        if folder is None and workbook is None:
            raise TenthbookError(found="no place for the book", expected="a FOLDER, or --workbook FILE.xlsx")
        if workbook is not None and not is_workbook(workbook):
            raise TenthbookError(found=str(workbook), expected="a file that ends in .xlsx")
        if workbook is not None:
            check_file(workbook)
        if folder is not None:
            check_folder(folder, files)
        if workbook is not None:
            write_workbook_file(workbook, book_workbook(empty_draft(files)))
            say(str(workbook))
        if folder is not None:
            write_folder(folder, files)
            say(str(folder))
            tell(f"{folder / 'COLUMNS.md'} says what belongs in every column; check it: tenthbook book check {folder}")


def _line(finding: Finding) -> str:
    fault = Fault("", finding.found, finding.expected)
    place = f"{finding.place} {finding.column}" if finding.column else finding.place
    way = f"; {finding.todo}" if finding.todo else ""
    return f"{place}: {str(fault).removeprefix('input: ')}{way} ({finding.rule})"


def _grouped(findings: Sequence[Finding]) -> Iterator[str]:
    from tenthbook.record.book.findings import Weight

    counts = []
    for weight in Weight:
        named = [finding for finding in findings if finding.weight is weight]
        counts.append(f"{len(named)} {weight}")
        if named:
            yield f"{weight}:"
            yield from (f"  {_line(finding)}" for finding in named)
    yield ", ".join(counts)


def _rows(draft: Draft) -> int:
    return sum(len(rows) for rows in draft.rows.values())


@command.command(name="check")
@click.argument("book", type=_BOOK)
@_JSON
def check(book: Path, as_json: bool) -> None:
    """Ask BOOK, a folder or a workbook, for all that is wrong, doubtful or missing; exit 1 while there is anything."""
    from tenthbook.record.book.checks import check as findings_of

    with plain_errors():
        draft = read_draft(book)
        found = findings_of(draft)
    if as_json:
        say_json({"rows": _rows(draft), "findings": [asdict(finding) for finding in found]})
    elif not found:
        say(f"nothing to ask; {_rows(draft)} rows")
    else:
        say("\n".join(_grouped(found)))
        tell("about a rule: ask `tenthbook why RULE`; nothing here was changed, and no number is proposed")
    if found:
        raise SystemExit(FINDINGS)


def _check_target(book: Path, target: Path) -> None:
    """Refuse a target that lies inside the book."""
    inside = book.resolve() in target.resolve().parents
    if book.is_dir() and inside:
        raise TenthbookError(found=f"{target}, inside the book", expected="a place beside it")


@command.command(name="export")
@click.argument("book", type=_BOOK)
@click.argument("target", type=_BOOK)
@click.option("--replace", is_flag=True, help="Let a book that lies there give way.")
def export(book: Path, target: Path, replace: bool) -> None:
    """Write BOOK as TARGET: a workbook where it ends in .xlsx, a folder otherwise; whole or not at all."""
    with plain_errors():
        _check_target(book, target)
        draft = read_draft(book)
        if draft.wrong:
            tell("\n".join(_line(finding) for finding in draft.wrong))
            tell("nothing was written: rows that cannot be read would be lost; mend them first")
            raise SystemExit(FINDINGS)
        write_book(target, draft, replace=replace)
        say(str(target))


@command.command(name="schema")
@click.argument("table", required=False)
def schema(table: str | None) -> None:
    """Print the JSON Schema of a book, or of one TABLE, for an editor that helps while it is typed."""
    from tenthbook.record.book.schema import book_schema, table_schema
    from tenthbook.record.book.tables import TABLES

    with plain_errors():
        if table is not None and table not in TABLES:
            raise WrongInput([Fault("table", repr(table), "one of " + ", ".join(TABLES))])
        say_json(book_schema() if table is None else table_schema(table))


def _way(move: Move) -> str:
    return f"{move.direction} by {move.by}" if move.by else str(move.direction)


def _cell_lines(change: Change) -> Iterator[str]:
    """Each changed cell with the way its limit moved, then the limits that moved by another cell, such as the unit."""
    moves = {move.limit: move for move in change.moves}
    for cell in change.cells:
        move = moves.pop(cell.column, None)
        told = f"{cell.touches}, {_way(move)}" if move else str(cell.touches)
        yield f"  {cell.column}: {cell.old or '(blank)'} -> {cell.new or '(blank)'} [{told}]"
    yield from (f"  {move.limit}: {move.old} -> {move.new} [{_way(move)}]" for move in moves.values())


def _change_lines(change: Change) -> Iterator[str]:
    page = f", page {change.page}" if change.page else ""
    was = f", was {change.was}" if change.was else ""
    yield f"{change.table} {change.row}".strip() + f": {change.way}{was}{page} [{change.touches}]"
    if change.way.value == "changed":
        yield from _cell_lines(change)


def _summary(changes: Sequence[Change]) -> str:
    ways = [f"{sum(change.way == way for change in changes)} {way}" for way in dict.fromkeys(c.way for c in changes)]
    moves = [move for change in changes for move in change.moves]
    directions = [
        f"{sum(m.direction == one for m in moves)} {one}" for one in dict.fromkeys(m.direction for m in moves)
    ]
    limits = f"; limits moved: {', '.join(directions)}" if moves else "; no limit moved in a row both books have"
    return ", ".join(ways) + limits


def _as_data(change: Change) -> dict[str, Any]:
    return {**asdict(change), "touches": change.touches}


@command.command(name="compare")
@click.argument("old", type=_BOOK)
@click.argument("new", type=_BOOK)
@_JSON
def compare(old: Path, new: Path, as_json: bool) -> None:
    """Say what differs between the books OLD and NEW, row by row, and which limits moved; exit 1 where they differ."""
    from tenthbook.record.book.comparing import compare as changes_between

    with plain_errors():
        drafts = [read_draft(path) for path in (old, new)]
        changes = changes_between(*drafts)
    unread = [(path, len(draft.wrong)) for path, draft in zip((old, new), drafts, strict=True) if draft.wrong]
    for path, wrong in unread:
        tell(f"{path}: {wrong} cells or rows cannot be read and are compared as typed; tenthbook book check {path}")
    if as_json:
        say_json([_as_data(change) for change in changes])
    elif changes:
        say("\n".join([*(line for change in changes for line in _change_lines(change)), _summary(changes)]))
    else:
        say("no difference")
    if changes:
        raise SystemExit(FINDINGS)


command.add_command(book_import.command)
command.add_command(book_verify.command)
