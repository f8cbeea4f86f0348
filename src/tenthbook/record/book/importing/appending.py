"""The file of a table with further rows in it: every line that is not replaced stays byte for byte as it was typed.

Goes in: the bytes of the file, or nothing where there is none yet, and accepted rows. Comes out: the new bytes. Columns
new to the file stand at the end of its heading. A file in which a line does not lie under the heading is not touched.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet import BadTable, Table, read_loosely, write_csv
from tenthbook.record.book.importing.previewing import ImportRow
from tenthbook.record.book.tables import TABLES


class _Record(NamedTuple):
    line: int  # the line it starts on
    text: str
    end: str
    blank: bool


def _records(text: str) -> Iterator[_Record]:
    """Cut a file into its records, each with the signs it was typed with."""
    lines = list(io.StringIO(text, newline=""))
    reader = csv.reader(lines, strict=True)
    start = 0
    for cells in reader:
        record = "".join(lines[start : reader.line_num])
        body = record.rstrip("\r\n")
        yield _Record(start + 1, body, record[len(body) :], not any(cell.strip() for cell in cells))
        start = reader.line_num


def _written(columns: Sequence[str], rows: Sequence[Mapping[str, str]]) -> list[str]:
    """Write rows as a file holds them, without the ends of their lines."""
    _, *records = [record.text for record in _records(write_csv(columns, rows).decode("utf-8"))]
    return records


def _ids(name: str, table: Table, replaced: set[str]) -> dict[int, str]:
    """Find the lines of the rows that are replaced."""
    if "id" not in table.columns:
        raise BadTable([Fault(f"{name}:1", "no column id", "a column id")])
    found: dict[int, str] = {}
    for row in table.rows:
        if row.cells["id"] in replaced:
            if row.cells["id"] in found.values():
                raise BadTable([Fault(f"{name}:{row.line}", f"id {row.cells['id']} again", "each id once")])
            found[row.line] = row.cells["id"]
    for row_id in sorted(replaced - set(found.values())):
        raise BadTable([Fault(name, f"no row {row_id} to replace", "the file the preview was made of")])
    return found


def file_with(name: str, content: bytes | None, table: str, rows: Sequence[ImportRow]) -> bytes:
    """Write accepted rows into the file of their table.

    Args:
        name: The file's name, for faults.
        content: Its bytes; None where there is no file yet.
        table: The table.
        rows: The accepted rows.

    Returns:
        The new bytes: a replaced row in its old place, new rows at the end, all other lines as they were.

    Raises:
        BadTable: a file that cannot be read whole; nothing of it is guessed.
    """
    order = [column.name for column in TABLES[table]]
    if content is None:
        return write_csv(order, [{column: row.cells.get(column, "") for column in order} for row in rows])
    read, misfits = read_loosely(name, content)
    if misfits:
        raise BadTable(misfits)
    lines = _ids(name, read, {row.id for row in rows if row.was is not None})
    further = [column for column in order if column not in read.columns and any(column in row.cells for row in rows)]
    columns = [*read.columns, *further]
    old = {row.line: row.cells for row in read.rows}
    by_id = {row.id: row for row in rows if row.was is not None}
    changed = [
        {column: by_id[row_id].cells.get(column, "" if column in order else old[line][column]) for column in columns}
        for line, row_id in lines.items()
    ]
    new = [{column: row.cells.get(column, "") for column in columns} for row in rows if row.was is None]
    records = _written(columns, [*changed, *new])
    return _joined(content, further, dict(zip(lines, records, strict=False)), records[len(lines) :])


def _joined(content: bytes, further: Sequence[str], changed: Mapping[int, str], new: Sequence[str]) -> bytes:
    """Put the records together again."""
    mark = codecs.BOM_UTF8 if content.startswith(codecs.BOM_UTF8) else b""
    records = list(_records(content.decode("utf-8-sig")))
    ending = next((record.end for record in records if record.end), "\r\n")
    heading = next(record.line for record in records if not record.blank)
    pieces = []
    for record in records:
        tail = "".join(f",{column}" for column in further) if record.line == heading else "," * len(further)
        pieces.append(changed.get(record.line, record.text + ("" if record.blank else tail)) + record.end)
    if new and not records[-1].end:
        pieces.append(ending)
    pieces += [record + ending for record in new]
    return mark + "".join(pieces).encode("utf-8")
