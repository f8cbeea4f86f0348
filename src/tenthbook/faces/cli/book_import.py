"""`tenthbook book import`: take somebody's table of limits into a book, after a preview that was accepted."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tenthbook.faces.cli.book_files import MOST_BYTES, NoBook, read_files
from tenthbook.faces.cli.output import FINDINGS, INVENTED, plain_errors, say, say_json, tell, write_file
from tenthbook.faces.cli.unread import mark_unread
from tenthbook.faces.cli.words import fields_of
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput
from tenthbook.numbers.because.errors import one_line

if TYPE_CHECKING:
    from tenthbook.numbers.sheet import Grid
    from tenthbook.record.book.importing import ColumnMap, ImportRow, Preview

_WORKBOOKS = (".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".ods")
_PACKED = (b"PK", b"\xd0\xcf\x11\xe0")  # how a workbook, new or old, begins
_FIRST = 5  # lines shown where nobody has said yet which heading is which
_MOST_LINES = 50  # faults and questions printed before the rest are counted
_PASTED = "pasted text"


def _one(sheets: Mapping[str, Grid], sheet: str | None, name: str) -> Grid:
    if sheet is None and len(sheets) == 1:
        return next(iter(sheets.values()))
    if sheet is None or sheet not in sheets:
        found = f"{name} with several sheets" if sheet is None else f"no sheet {sheet!r} in {name}"
        raise TenthbookError(found=found, expected="--sheet with one of " + one_line(", ".join(sheets)))
    return sheets[sheet]


def _text_grid(name: str, content: bytes) -> Grid:
    from tenthbook.numbers.sheet import read_grid

    first = content.lstrip(b"\xef\xbb\xbf\r\n ").partition(b"\n")[0]
    pasted = b"\t" in first and not name.lower().endswith(".csv")
    return read_grid(name, content, "\t" if pasted else ",")


def _grid(source: str, sheet: str | None) -> Grid:
    """Read what was sent: a file, or standard input."""
    if source == "-":
        name, content = _PASTED, sys.stdin.buffer.read(MOST_BYTES + 1)
    else:
        name, content = Path(source).name, _read(Path(source))
    if not (name.lower().endswith(_WORKBOOKS) or content.startswith(_PACKED)):
        if sheet is not None:
            raise TenthbookError(found=f"--sheet {sheet} for {name}, a text", expected="--sheet for a workbook only")
        return _text_grid(name, content)
    from tenthbook.numbers.sheet import read_workbook

    return _one(read_workbook(name, content), sheet, name)


def _read(path: Path) -> bytes:
    if not path.is_file():
        found = f"{path}, which is no file" if path.exists() else f"nothing at {path}"
        raise TenthbookError(found=found, expected="a file of text or a workbook, or - for standard input")
    if path.stat().st_size > MOST_BYTES:
        raise WrongInput([Fault(path.name, f"{path.stat().st_size} bytes", f"at most {MOST_BYTES}")])
    try:
        return path.read_bytes()
    except OSError as error:
        raise TenthbookError(found=f"{path}: {error.strerror}", expected="a file that can be read") from error


def _places(pairs: Sequence[str]) -> dict[str, int]:
    said = fields_of(pairs)
    faults = [Fault(name, repr(text), "a number of decimals") for name, text in said.items() if not text.isdecimal()]
    if faults:
        raise WrongInput(faults)
    return {name: int(text) for name, text in said.items()}


def _book(folder: Path) -> dict[str, bytes]:
    if folder.is_file():
        todo = "carry a workbook into a folder first: tenthbook book export"
        raise NoBook(found=f"the file {folder}", expected="the folder of a book", todo=todo)
    files = read_files(folder)
    if "book.toml" not in files:
        raise NoBook(found=f"no book.toml in {folder}", expected="the folder of a book")
    return files


def _aligned(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    shown = [[one_line(cell) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*shown, strict=True)]
    for row in shown:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()


def _changes(row: ImportRow) -> str:
    pairs = [f"{name} {one_line(old) or 'blank'} -> {one_line(new) or 'blank'}" for name, old, new in row.changes]
    return f"line {row.line}: replaces {row.id}: " + ("; ".join(pairs) or "nothing changes")


def _row_lines(shown: Preview) -> Iterator[str]:
    columns = shown.columns
    heading = ["line", *columns]
    yield from _aligned(
        [heading, *([str(row.line), *(row.cells.get(name, "") for name in columns)] for row in shown.rows)]
    )
    for row in shown.rows:
        yield from (f"line {row.line}: {one_line(note)}" for note in row.notes)
        if row.was is not None:
            yield _changes(row)


def _preview_lines(shown: Preview) -> Iterator[str]:
    yield one_line(f"{shown.sent}: {len(shown.rows)} rows for the table {shown.table}")
    if shown.left_out:
        yield one_line("left out: " + ", ".join(shown.left_out))
    if shown.rows:
        yield from ("", *_row_lines(shown))
    if shown.faults or shown.questions:
        yield from ("", "not checked yet: something is wrong or open")
        return
    yield ""
    yield f"the checker finds {len(shown.findings) or 'nothing'} that is not in the book without these rows"
    yield from (f"  {one_line(str(finding))}" for finding in shown.findings)
    if shown.code:
        yield from ("", f"preview code: {shown.code}")


def _tell_some(what: str, lines: Iterable[object]) -> None:
    every = [one_line(str(line)) for line in lines]
    if every:
        rest = [f"and {len(every) - _MOST_LINES} more; --json gives all"] if len(every) > _MOST_LINES else []
        tell("\n".join([f"{what}:", *(f"  {line}" for line in [*every[:_MOST_LINES], *rest])]))


def _as_data(shown: Preview) -> dict[str, Any]:
    rows = [
        {"line": row.line, "cells": dict(row.cells), "was": row.was and dict(row.was), "notes": list(row.notes)}
        for row in shown.rows
    ]
    lists = {name: [asdict(one) for one in getattr(shown, name)] for name in ("faults", "questions", "findings")}
    head = {"table": shown.table, "sent": shown.sent, "columns": shown.columns, "left_out": list(shown.left_out)}
    return {**head, "rows": rows, **lists, "code": shown.code}


def _show(shown: Preview, *, invented: bool, as_json: bool) -> None:
    if as_json:
        say_json({"invented": invented, **_as_data(shown)})
    else:
        say("\n".join([*([INVENTED] if invented else []), *_preview_lines(shown)]))
    _tell_some("wrong", shown.faults)
    _tell_some("open", shown.questions)
    if not shown.code:
        tell("nothing is written, and nothing can be until this is settled")
        raise SystemExit(FINDINGS)
    tell(f"nothing is written yet; to write exactly this, the same command with --accept {shown.code}")


def _ask_for_headings(grid: Grid, table: str, lines: int, *, as_json: bool) -> None:
    """Show what was sent and what the table of the book holds, where nobody has said which heading is which."""
    from tenthbook.numbers.sheet import table_of
    from tenthbook.record.book import TABLES
    from tenthbook.record.book.importing import ranges_of

    headings = list(table_of(grid, lines)[0].columns)
    first = [[str(line.number), *line.cells] for line in grid.lines[: lines + _FIRST]]
    ranges = {name: " and ".join(ends) for name, ends in ranges_of(table).items()}
    if as_json:
        columns = [{"name": one.name, "says": one.says, "needed": one.needed} for one in TABLES[table]]
        say_json({"headings": headings, "lines": first, "columns": columns, "ranges": ranges})
    else:
        width = max(map(len, first))
        named = [[one.name, "needed" if one.needed else "", one.says] for one in TABLES[table]]
        named += [[name, "", f"a cell that holds {ends}"] for name, ends in ranges.items()]
        say("\n".join(["headings:", *(f"  {one_line(heading)}" for heading in headings), "", "first lines:"]))
        say("\n".join(f"  {line}" for line in _aligned([[*cells, *[""] * (width - len(cells))] for cells in first])))
        say("\n".join(["", f"columns of {table}:", *(f"  {line}" for line in _aligned(named))]))
    tell("nothing is guessed: say which heading is which with --map COLUMN=HEADING; constants with --set COLUMN=VALUE")
    raise SystemExit(FINDINGS)


def _unchanged(folder: Path, files: Mapping[str, bytes]) -> None:
    if read_files(folder) != files:
        raise TenthbookError(
            found=f"{folder} changed meanwhile", expected="the book as it was read", todo="begin again"
        )


def _import(folder: Path, said: ColumnMap, grid: Grid, accept: str | None, *, as_json: bool) -> None:
    from tenthbook.record.book import draft_book, row_digest
    from tenthbook.record.book.importing import accepted_rows, file_with, preview

    files = _book(folder)
    draft, name = draft_book(files), f"{said.table}.csv"
    shown = preview(said, grid, draft)
    content = file_with(name, files.get(name), said.table, shown.rows) if shown.code else b""
    if draft.wrong:
        tell(f"the book has {len(draft.wrong)} faults of its own: tenthbook book check {folder}")
    if accept is None:
        _show(shown, invented=draft.head.get("invented") is True, as_json=as_json)
        return
    rows = accepted_rows(shown, accept)
    digests = [row_digest(row.cells) for row in rows]

    def first() -> None:
        _unchanged(folder, files)
        mark_unread(click.get_current_context(), draft.head, digests)

    write_file(folder / name, content, before=first)
    replaced = sum(row.was is not None for row in rows)
    if as_json:
        say_json({"file": name, "added": len(rows) - replaced, "replaced": replaced})
    else:
        say(f"{folder / name}: {len(rows) - replaced} rows added, {replaced} replaced")


@click.command(name="import")
@click.argument("book", type=click.Path(path_type=Path))
@click.argument("table")
@click.argument("source", metavar="FILE")
@click.option("--map", "maps", multiple=True, metavar="COLUMN=HEADING", help="Heading that fills a column or a range.")
@click.option("--set", "constants", multiple=True, metavar="COLUMN=VALUE", help="What every row gets.")
@click.option("--unit", default="", help="Unit of bare numbers, and the one that judges where a row has two.")
@click.option("--decimals", multiple=True, metavar="COLUMN=N", help="Decimals the manual prints, for binary numbers.")
@click.option("--make-ids", "id_prefix", default="", metavar="PREFIX", help="Make ids of PREFIX and feature or name.")
@click.option("--replace", is_flag=True, help="Let rows of the book with the same ids give way.")
@click.option("--sheet", help="Sheet of the workbook.")
@click.option("--heading", default=1, type=click.IntRange(1, 9), show_default=True, help="Lines the heading has.")
@click.option("--accept", metavar="CODE", help="Code of the preview that was looked at; without it nothing is written.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")
def command(
    book: Path,
    table: str,
    source: str,
    maps: tuple[str, ...],
    constants: tuple[str, ...],
    decimals: tuple[str, ...],
    heading: int,
    sheet: str | None,
    accept: str | None,
    as_json: bool,
    **said: Any,
) -> None:
    """Take the rows of FILE (CSV, XLSX, pasted text; - for standard input) into a TABLE of BOOK.

    Without --accept it shows what would enter and a code, and writes nothing. Exit 0: shown without fault, or
    written. 1: something is wrong or open. 2: misuse, or a file that cannot be read whole.
    """
    with plain_errors():
        from tenthbook.record.book import TABLES
        from tenthbook.record.book.importing import ColumnMap
        from tenthbook.record.book.importing.mapping import nearest

        if table not in TABLES:
            raise TenthbookError(found=f"table {table!r}", expected=nearest(table, TABLES))
        grid = _grid(source, sheet)
        headings = fields_of(maps)
        if not headings:
            _ask_for_headings(grid, table, heading, as_json=as_json)
        places = _places(decimals)
        column_map = ColumnMap(table, headings, fields_of(constants), decimals=places, heading_lines=heading, **said)
        _import(book, column_map, grid, accept, as_json=as_json)
