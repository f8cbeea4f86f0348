"""What would enter the book: every row as it would be kept, all that is open, what the checker finds, and a code.

Goes in: a sent grid, what a person said about it, and the draft of the book. Comes out: a `Preview`; nothing is
written. Only its code opens the way for its rows, and only while book and rows are those it showed.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tenthbook.numbers.because import Fault, Refusal, Refused, WrongInput
from tenthbook.numbers.sheet import Grid, table_of
from tenthbook.record.book.checks import check
from tenthbook.record.book.digests import dense
from tenthbook.record.book.drafting import Draft, add_row, check_names
from tenthbook.record.book.findings import Finding, Weight
from tenthbook.record.book.importing.filling import FilledRow, Question, fill
from tenthbook.record.book.importing.ids import make_ids
from tenthbook.record.book.importing.mapping import ColumnMap, filled_by, mapping_faults, named_by
from tenthbook.record.book.importing.rules import ACCEPTED, SETTLED
from tenthbook.record.book.importing.units import beside
from tenthbook.record.book.tables import TABLES

_HALF = 6  # signs of each half of a code


@dataclass(frozen=True, slots=True)
class ImportRow:
    """A row that would enter the book.

    Attributes:
        line: Line of the sent table.
        cells: Its filled cells exactly as they would be kept, by column.
        was: Cells of the row it replaces; None for a new row.
        notes: What became of units, dashes, ranges and binary numbers.
    """

    line: int
    cells: Mapping[str, str]
    was: Mapping[str, str] | None
    notes: tuple[str, ...]

    @property
    def id(self) -> str:
        """Its id."""
        return self.cells.get("id", "")

    @property
    def changes(self) -> list[tuple[str, str, str]]:
        """Column, old and new cell, where it replaces a row and they differ."""
        old = self.was or {}
        names = dict.fromkeys((*old, *self.cells)) if self.was is not None else {}
        return [
            (name, old.get(name, ""), self.cells.get(name, ""))
            for name in names
            if old.get(name) != self.cells.get(name)
        ]


@dataclass(frozen=True, slots=True)
class Preview:
    """What a sent table would make of a book.

    Attributes:
        table: Table of the book.
        sent: What the sent table is called.
        rows: The rows that could be filled.
        left_out: Headings of the sent table that nothing was said about.
        faults: What is wrong with the sent table.
        questions: What a person must answer first.
        findings: What the checker finds in the book with these rows and not without them; nothing while there are
            faults or questions.
        code: Opens the way for exactly these rows into exactly this book; empty while anything is wrong or open.
    """

    table: str
    sent: str
    rows: tuple[ImportRow, ...]
    left_out: tuple[str, ...]
    faults: tuple[Fault, ...]
    questions: tuple[Question, ...]
    findings: tuple[Finding, ...]
    code: str

    @property
    def columns(self) -> list[str]:
        """The columns that any of its rows fills, in the book's order."""
        filled = {name for row in self.rows for name in row.cells}
        return [column.name for column in TABLES[self.table] if column.name in filled]

    @property
    def wrong(self) -> list[Finding]:
        """The findings that keep its rows out."""
        return [finding for finding in self.findings if finding.weight is Weight.WRONG]


def _name_rows(said: ColumnMap, rows: Sequence[FilledRow]) -> None:
    if said.id_prefix:
        column = named_by(said)
        names = [row.cells.get(column, "") for row in rows]
        made = make_ids(said.id_prefix, names, [row.cells.get("ref", "") for row in rows])
        for row, row_id in zip(rows, made, strict=True):
            if row_id:
                row.cells["id"] = row_id


def _id_faults(said: ColumnMap, sent: str, rows: Iterable[FilledRow], held: Mapping[str, object]) -> Iterator[Fault]:
    lines: dict[str, int] = {}
    for row in rows:
        row_id, place = row.cells.get("id", ""), f"{sent}:{row.line}: id"
        if not row_id:
            yield Fault(place, "no id", "an id for every row")
        elif row_id in lines:
            yield Fault(place, f"{row_id}, as in line {lines[row_id]}", "each id once; map a heading of ids")
        elif row_id in held and not said.replace:
            yield Fault(place, f"{row_id}, a row of the book", "an id of its own; or say that rows are replaced")
        lines.setdefault(row_id, row.line)


def _touched(said: ColumnMap) -> set[str]:
    """The columns that the sent table speaks of: it replaces them, and leaves the others of a row as they are."""
    named = [column for target in said.headings for column in filled_by(said.table, target)]
    return {*named, *said.constants, *beside(tuple(named)), "unit", "other_unit"}


def _import_row(row: FilledRow, was: Mapping[str, str] | None, touched: set[str]) -> ImportRow:
    kept = {name: text for name, text in (was or {}).items() if name not in touched}
    return ImportRow(row.line, {**kept, **row.cells}, was, tuple(row.notes))


def draft_with(draft: Draft, table: str, sent: str, rows: Iterable[ImportRow]) -> Draft:
    """Draft the book with the rows of a sent table in it.

    Args:
        draft: The book; it stays as it is.
        table: The table they enter.
        sent: What the sent table is called; their places are its lines.
        rows: The rows.

    Returns:
        The draft, with what is wrong in how the rows are written and with names that lead nowhere.
    """
    held = {name: dict(several) for name, several in draft.rows.items()}
    whole = Draft(draft.head, held, dict(draft.said), [], draft.unread - {table})
    for row in rows:
        whole.rows[table].pop(row.id, None)
        whole.said.pop((table, row.id), None)
        add_row(whole, table, f"{sent}:{row.line}", row.cells)
    whole.findings += check_names(whole)
    return whole


def _new_findings(draft: Draft, whole: Draft, sent: str) -> tuple[Finding, ...]:
    """What the checker finds with the rows and not without them, those of the sent rows first."""

    def key(finding: Finding) -> tuple[str, ...]:
        return finding.rule, finding.row, finding.column, finding.found, finding.expected

    before = Counter(key(finding) for finding in check(draft))
    new = []
    for finding in check(whole):
        if before[key(finding)] and not finding.place.startswith(f"{sent}:"):
            before[key(finding)] -= 1
        else:
            new.append(finding)
    order = {row.place: place for place, row in enumerate(row for rows in whole.rows.values() for row in rows.values())}
    return tuple(sorted(new, key=lambda one: (not one.place.startswith(f"{sent}:"), order.get(one.place, -1))))


def _code(draft: Draft, table: str, rows: Iterable[ImportRow]) -> str:
    """Join a digest of the book and one of the rows, so that a refusal can say which of the two is another."""
    tables = {name: [dict(row.cells) for _, row in sorted(several.items())] for name, several in draft.rows.items()}
    book = dense({"head": {name: repr(value) for name, value in draft.head.items()}, "tables": tables})
    sent = dense([table, *(dict(row.cells) for row in rows)])
    return "-".join(hashlib.sha256(part).hexdigest()[:_HALF] for part in (book, sent))


def preview(said: ColumnMap, grid: Grid, draft: Draft) -> Preview:
    """Show what a sent table would make of a book; nothing is written.

    Args:
        said: What a person said about the table.
        grid: The sent table as it stands.
        draft: The book, sound or not.

    Returns:
        The preview; with a code only where no fault, no question and no wrong row is left.

    Raises:
        BadTable: a sent table without a sound heading.
        WrongInput: columns or headings that are not there, or needed columns that nothing fills: all at once.
    """
    table, misfits = table_of(grid, said.heading_lines)
    wrong = mapping_faults(said, table.columns)
    if wrong:
        raise WrongInput(wrong)
    filling = fill(said, grid, table)
    _name_rows(said, filling.rows)
    held = draft.rows[said.table]
    faults = (*misfits, *filling.faults, *_id_faults(said, table.name, filling.rows, held))
    if not (faults or table.rows):
        faults = (Fault(table.name, "no rows below the heading", "at least one"),)
    touched = _touched(said)
    was = {row_id: row.cells for row_id, row in held.items()} if said.replace else {}
    rows = tuple(_import_row(row, was.get(row.cells.get("id", "")), touched) for row in filling.rows)
    findings: tuple[Finding, ...] = ()
    if not (faults or filling.questions):
        findings = _new_findings(draft, draft_with(draft, said.table, table.name, rows), table.name)
    settled = not (faults or filling.questions or any(one.weight is Weight.WRONG for one in findings))
    left_out = tuple(column for column in table.columns if column not in said.headings.values())
    code = _code(draft, said.table, rows) if settled else ""
    return Preview(said.table, table.name, rows, left_out, faults, tuple(filling.questions), findings, code)


def accepted_rows(shown: Preview, code: str) -> tuple[ImportRow, ...]:
    """Give the rows of a preview to one who has seen and accepted it.

    Args:
        shown: The preview, made anew of the same table, column map and book.
        code: The code that was accepted.

    Returns:
        The rows that enter the book.

    Raises:
        Refused: something is wrong or open, or the code was given for other rows or for another book.
    """
    counted = {"faults": len(shown.faults) + len(shown.wrong), "questions": len(shown.questions)}
    if not SETTLED.holds(wrong=counted["faults"], questions=counted["questions"]):
        found = f"{counted['faults']} faults and {counted['questions']} open questions"
        raise Refused([Refusal(SETTLED.id, found, "none", SETTLED.todo)])
    if not ACCEPTED.holds(code=code, shown=shown.code):
        names = ("the book", "the rows")
        halves = zip(names, code.partition("-")[::2], shown.code.partition("-")[::2], strict=True)
        differs = " and ".join(name for name, accepted, own in halves if accepted != own)
        found = f"{code!r}: {differs} differ from what that preview showed"
        raise Refused([Refusal(ACCEPTED.id, found, "the code of the preview of these rows", ACCEPTED.todo)])
    return shown.rows
