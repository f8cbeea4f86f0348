"""What does a new revision of the manual change: which rows, which cells, and which limits, and which way?

Two books go in, sound or not. Out come the changes in the order of the tables: rows added, taken away, changed, or
given another id; each cell as typed, old and new. A limit is compared exactly, in whatever units the two books print
it; where its way cannot be told, because the kind of limit changed, it says so. Nothing is judged here, and no job is
touched.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from tenthbook.record.book.columns import Form
from tenthbook.record.book.drafting import LIMIT_TABLES, Draft
from tenthbook.record.book.moving import Move, moves_between
from tenthbook.record.book.reading import Book
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.statements import FIELDS
from tenthbook.record.book.tables import HEAD, TABLES
from tenthbook.record.book.tables_of_assembly import TORQUES

HEAD_PLACE = "book"


class Way(StrEnum):
    """What happened to a row.

    Attributes:
        ADDED: The new book has it, the old one has not.
        TAKEN: The old book has it, the new one has not.
        CHANGED: Some of its cells differ.
        RENAMED: Only its id differs.
    """

    ADDED = "added"
    TAKEN = "taken away"
    CHANGED = "changed"
    RENAMED = "id changed"


class Touches(StrEnum):
    """What a changed cell may change.

    Attributes:
        LIMIT: A figure or word that something is judged by, or set to.
        WORK: What is done, with what, in which order, on which engine.
        WORDS: Names, pages, notes and the second unit that is never judged by.
    """

    LIMIT = "limit"
    WORK = "work"
    WORDS = "words"


_STATED = frozenset(name for needed, others in FIELDS.values() for name in (*needed, *others))
_TIGHTENED = frozenset(column.name for column in TORQUES if column.form in (Form.NUMBER, Form.NUMBERS, Form.UNIT)) | {
    "running_torque",
    "angle",
}
_JUDGED = {
    **dict.fromkeys(LIMIT_TABLES, _STATED | {"kind", "unit", "reckoned"}),
    "torques": _TIGHTENED,
    "run_limits": frozenset({"unit", "least", "greatest", "lasting"}),
    "parts": frozenset({"life_limit"}),
    "follow_ups": frozenset({"after_hours", "after_days"}),
    "oil_system": frozenset({"value"}),
}
_WORDS = frozenset({"name", "page", "note_mark", "note", "figure", "ref", "material", "typed_by", "typed_on"})


@dataclass(frozen=True, slots=True)
class CellChange:
    """One cell.

    Attributes:
        column: Its column, or a name of the head.
        old: As typed in the old book; empty where it is blank.
        new: As typed in the new book; empty where it is blank.
        touches: What it may change.
    """

    column: str
    old: str
    new: str
    touches: Touches


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to one row, or to the head.

    Attributes:
        way: What happened.
        table: Its table; "book" for the head.
        row: Its id in the new book, or in the old one where it was taken away; empty for the head.
        was: Its id in the old book, where only that changed.
        page: Page of the manual, the new one where there are two.
        cells: The cells that differ; of a row added or taken away every filled one.
        moves: Limits that moved, in a row that both books have.
    """

    way: Way
    table: str
    row: str
    was: str
    page: str
    cells: tuple[CellChange, ...]
    moves: tuple[Move, ...] = ()

    @property
    def touches(self) -> Touches:
        """The weightiest thing it may change."""
        touched = {cell.touches for cell in self.cells}
        return next((one for one in Touches if one in touched), Touches.WORDS)


def touches(table: str, column: str) -> Touches:
    """Say what a column may change.

    Args:
        table: A table of the book; "book" for the head.
        column: One of its columns.

    Returns:
        Whether it is judged by, worked by, or words alone.
    """
    if column in _WORDS or column.startswith("other_"):
        return Touches.WORDS
    return Touches.LIMIT if column in _JUDGED.get(table, frozenset()) else Touches.WORK


def _cells(table: str, old: Mapping[str, str], new: Mapping[str, str]) -> tuple[CellChange, ...]:
    names = [column.name for column in (HEAD if table == HEAD_PLACE else TABLES[table])]
    names += [name for name in (*old, *new) if name not in names]
    return tuple(
        CellChange(name, old.get(name, ""), new.get(name, ""), touches(table, name))
        for name in dict.fromkeys(names)
        if old.get(name, "") != new.get(name, "")
    )


def _said(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _head(old: Mapping[str, str | bool], new: Mapping[str, str | bool]) -> Iterator[Change]:
    texts = [{name: _said(value) for name, value in head.items()} for head in (old, new)]
    cells = _cells(HEAD_PLACE, *texts)
    if cells:
        yield Change(Way.CHANGED, HEAD_PLACE, "", "", "", cells)


def _but_id(row: TypedRow) -> frozenset[tuple[str, str]]:
    return frozenset((name, text) for name, text in row.cells.items() if name != "id")


def _renamed(old: Mapping[str, TypedRow], new: Mapping[str, TypedRow]) -> dict[str, str]:
    """New id to old id, of rows that are alike in everything else; of several alike, in their order."""
    gone: dict[frozenset[tuple[str, str]], list[str]] = {}
    for row, typed in old.items():
        if row not in new:
            gone.setdefault(_but_id(typed), []).append(row)
    pairs = {}
    for row, typed in new.items():
        if row not in old and gone.get(_but_id(typed)):
            pairs[row] = gone[_but_id(typed)].pop(0)
    return pairs


def _table(table: str, old: Mapping[str, TypedRow], new: Mapping[str, TypedRow]) -> Iterator[Change]:
    renamed = _renamed(old, new)
    for row, typed in new.items():
        before = old.get(row)
        if row in renamed:
            cells = _cells(table, old[renamed[row]].cells, typed.cells)
            yield Change(Way.RENAMED, table, row, renamed[row], typed.page, cells)
        elif before is None:
            yield Change(Way.ADDED, table, row, "", typed.page, _cells(table, {}, typed.cells))
        elif cells := _cells(table, before.cells, typed.cells):
            yield Change(Way.CHANGED, table, row, "", typed.page, cells, tuple(moves_between(before, typed)))
    for row, typed in old.items():
        if row not in new and row not in renamed.values():
            yield Change(Way.TAKEN, table, row, "", typed.page, _cells(table, typed.cells, {}))


def compare(old: Draft | Book, new: Draft | Book) -> tuple[Change, ...]:
    """Say what differs between two books.

    Args:
        old: The book as it was.
        new: The book as it is now.

    Returns:
        The changes: of the head first, then table by table, in the new book's order, rows taken away last; nothing
        for two books of the same rows, whatever the order of rows and columns.
    """
    changes = list(_head(old.head, new.head))
    for table in TABLES:
        changes += _table(table, old.rows[table], new.rows[table])
    return tuple(changes)
