"""A book as one workbook: a sheet for its head and one for each table, every cell a text, and back without loss.

Goes in: a draft, or the bytes of a workbook. Comes out: the bytes, or a draft with all that is wrong with it; a place
in it reads "sizes:12", sheet and row. A number that a spreadsheet holds as a binary one has lost the digits that were
typed: it is left unread, and asked for again. No file is opened here.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from tenthbook.numbers.because import WrongInput
from tenthbook.numbers.sheet import BadTable, Grid, Row, SheetOut, Table, read_workbook, table_of, write_workbook
from tenthbook.record.book import form_rules
from tenthbook.record.book.columns import Column
from tenthbook.record.book.drafting import Draft, draft_of, fault_finding
from tenthbook.record.book.explaining import say_column
from tenthbook.record.book.findings import At, Finding
from tenthbook.record.book.tables import HEAD, TABLES

HEAD_SHEET = "book"
_HEAD_COLUMNS = {
    "name": "name of the value",
    "value": "what the book says of itself; type over it",
    "says": "what belongs in value; not read",
}
_TRUTH = {"true": True, "false": False}


def _head_sheet(head: Mapping[str, str | bool]) -> SheetOut:
    rows = []
    for column in HEAD:
        value = head.get(column.name, "")
        text = str(value).lower() if isinstance(value, bool) else value
        rows.append({"name": column.name, "value": text, "says": column.says})
    return SheetOut(HEAD_SHEET, tuple(_HEAD_COLUMNS), rows, _HEAD_COLUMNS)


def _sheet(name: str, columns: tuple[Column, ...], rows: Iterable[Mapping[str, str]]) -> SheetOut:
    names = [column.name for column in columns]
    filled = [{column: cells.get(column, "") for column in names} for cells in rows]
    return SheetOut(name, names, filled, {column.name: say_column(column) for column in columns})


def book_workbook(book: Draft) -> bytes:
    """Write a book as one workbook.

    Args:
        book: A draft in which nothing is wrong; an empty one is a workbook to type into.

    Returns:
        The bytes of the workbook, the same for the same rows: a sheet for the head, then one a table with all its
        columns; a note on each heading says what belongs under it.

    Raises:
        WrongInput: what is wrong with the draft; rows that cannot be read would be lost.
    """
    if book.wrong:
        raise WrongInput([finding.fault for finding in book.wrong])
    tables = (_sheet(name, columns, (row.cells for row in book.of(name))) for name, columns in TABLES.items())
    return write_workbook([_head_sheet(book.head), *tables])


def _number_cells(grid: Grid, table: Table) -> Iterator[Finding]:
    """Ask for each cell that the sheet holds as a binary number."""
    texts = {line.number: line.cells for line in grid.lines}
    heading = grid.lines[0].number
    for (line, place), number_format in sorted(grid.numbers.items()):
        if line != heading and place < len(table.columns) and place < len(texts.get(line, ())):
            found = f"the number {texts[line][place]}, shown as {number_format}"
            at = At(f"{table.name}:{line}")
            yield from at.try_rule(
                form_rules.NUMBER_CELL, table.columns[place], found, "a cell of text", number_format=number_format
            )


def _without(table: Table, findings: Iterable[Finding]) -> Table:
    """Leave the cells unread that findings name."""
    unread: dict[str, set[str]] = {}
    for finding in findings:
        unread.setdefault(finding.place, set()).add(finding.column)

    def read(row: Row) -> Row:
        names = unread.get(f"{table.name}:{row.line}", ())
        return replace(row, cells={name: "" if name in names else text for name, text in row.cells.items()})

    return replace(table, rows=tuple(read(row) for row in table.rows)) if unread else table


def _table(name: str, grid: Grid, findings: list[Finding]) -> Table | None:
    try:
        table, misfits = table_of(replace(grid, name=name))
    except BadTable as error:
        findings += [fault_finding(fault, form_rules.TABLE) for fault in error.faults]
        return None
    findings += [fault_finding(fault, form_rules.CELLS) for fault in misfits]
    numbers = list(_number_cells(grid, table))
    findings += numbers
    return _without(table, numbers)


def _head(table: Table, findings: list[Finding]) -> dict[str, str | bool] | None:
    head: dict[str, str | bool] = {}
    lost = [column for column in ("name", "value") if column not in table.columns]
    if lost:
        findings += [At(HEAD_SHEET).breaks(form_rules.COLUMN_THERE, one, f"no column {one}") for one in lost]
        return None
    for row in table.rows:
        name, value = row.cells["name"], row.cells["value"]
        at = At(f"{HEAD_SHEET}:{row.line}")
        if name in head:
            findings.append(at.breaks(form_rules.HEAD_RULE, name, f"{name} again", "each name once"))
        elif name and value:
            head[name] = _TRUTH.get(value, value) if name == "invented" else value
    return head


def _unknown(grids: Mapping[str, Grid]) -> Iterator[Finding]:
    known = (HEAD_SHEET, *TABLES)
    for name, grid in grids.items():
        if grid.lines or name in known:
            near = difflib.get_close_matches(name.lower(), known, n=1)
            expected = f"{near[0]}, perhaps" if near else "one of " + ", ".join(known)
            yield from At(name).try_rule(
                form_rules.FILE_KNOWN, "", "a sheet of another name", expected, name=name, names=known
            )


def _lasting(findings: Iterable[Finding]) -> list[Finding]:
    """Leave out what only follows from a cell that was left unread."""
    every = list(findings)
    rows = {one.place for one in every if one.rule == form_rules.NUMBER_CELL.id}
    head = any(place.startswith(f"{HEAD_SHEET}:") for place in rows)

    def follows(one: Finding) -> bool:
        if one.rule == form_rules.KIND_FIELDS.id:
            return one.place in rows
        if one.rule == form_rules.HEAD_RULE.id:
            return head and one.found == "nothing"
        return one.rule == form_rules.FILLED.id and one.place in rows

    return [one for one in every if not follows(one)]


def draft_workbook(name: str, content: bytes) -> Draft:
    """Read a workbook, sound or not.

    Args:
        name: What to call it in a finding, for instance "dunlin.xlsx".
        content: Its bytes.

    Returns:
        The draft, with everything wrong with how it is written.
    """
    try:
        grids = read_workbook(name, content)
    except BadTable as error:
        findings = [fault_finding(fault, form_rules.WORKBOOK) for fault in error.faults]
        return Draft(findings=findings, unread=set(TABLES))
    findings = [*_unknown(grids)]
    tables: dict[str, Table] = {}
    for sheet in (HEAD_SHEET, *TABLES):
        if sheet not in grids:
            findings.append(At(sheet).breaks(form_rules.FILE, "", "no such sheet", "a sheet of the book"))
        elif table := _table(sheet, grids[sheet], findings):
            tables[sheet] = table
    head = _head(tables.pop(HEAD_SHEET), findings) if HEAD_SHEET in tables else None
    draft = draft_of(head, tables, findings, HEAD_SHEET)
    draft.findings = _lasting(draft.findings)
    return draft
