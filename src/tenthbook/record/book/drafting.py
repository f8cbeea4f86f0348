"""From the tables of a book to its rows, with everything wrong in how they are written, at once.

A draft may be faulty: the checker reads it and goes on; a book is made only of a draft without a wrong row.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from tenthbook.numbers.because import Fault
from tenthbook.numbers.limit import Limits
from tenthbook.numbers.limit.kinds import Statement
from tenthbook.numbers.sheet import Table
from tenthbook.record.book import form_rules
from tenthbook.record.book.cells import lacking, read_cells
from tenthbook.record.book.columns import Column
from tenthbook.record.book.findings import At, CheckRule, Finding, Weight
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.statements import state
from tenthbook.record.book.tables import HEAD, TABLES

LIMIT_TABLES = ("sizes", "fits")
_MEASURED = (("sizes", "part", "parts"), ("fits", "hole", "sizes"), ("fits", "shaft", "sizes"))


@dataclass(slots=True)
class Draft:
    """A book as it was written, sound or not.

    Attributes:
        head: The names of `book.toml`.
        rows: Rows by table and id; of two rows with one id the first.
        said: What each row of a limit table states, with its own least and greatest, by table and id.
        findings: What is wrong with how it is written.
        unread: Tables that were not there or could not be read: what names their rows is not judged.
    """

    head: Mapping[str, str | bool] = field(default_factory=dict)
    rows: dict[str, dict[str, TypedRow]] = field(default_factory=lambda: {name: {} for name in TABLES})
    said: dict[tuple[str, str], tuple[Statement, Limits]] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)

    @property
    def wrong(self) -> list[Finding]:
        """The findings that keep a book from being made of it."""
        return [finding for finding in self.findings if finding.weight is Weight.WRONG]

    def of(self, table: str) -> Iterable[TypedRow]:
        """Walk a table.

        Args:
            table: Its name.

        Returns:
            Its rows in order.
        """
        return self.rows[table].values()

    def limits(self, table: str, row: str) -> Limits:
        """Give what a row states as least and greatest.

        Args:
            table: sizes or fits.
            row: Id of the row.

        Returns:
            The limits as printed; blank for a row that is not there.
        """
        return self.said[table, row][1] if (table, row) in self.said else Limits()


def _a_day(text: str) -> bool:
    try:
        return len(text) == len("2026-03-09") and bool(date.fromisoformat(text))
    except ValueError:
        return False


def check_head(head: Mapping[str, object], place: str) -> Iterator[Finding]:
    """Find what is wrong with a head.

    Args:
        head: Its names and values.
        place: The file it stands in.

    Yields:
        A finding each.
    """
    at = At(place)
    known = {column.name: bool if column.name == "invented" else str for column in HEAD}
    for column in HEAD:
        if column.needed and head.get(column.name) in (None, ""):
            yield at.breaks(form_rules.HEAD_RULE, column.name, "nothing", column.says)
    for name, value in head.items():
        if name not in known:
            yield at.breaks(form_rules.HEAD_RULE, name, "an unknown name", "one of " + ", ".join(known))
        elif not isinstance(value, known[name]):
            expected = "true or false" if known[name] is bool else "text in quotation marks"
            yield at.breaks(form_rules.HEAD_RULE, name, repr(value), expected)
        elif name == "typed_on" and not _a_day(str(value)):
            yield at.breaks(form_rules.HEAD_RULE, name, repr(value), "a day such as 2026-03-09")


def check_columns(columns: tuple[Column, ...], table: Table, place: str) -> Iterator[Finding]:
    """Find headings this book does not know, and columns that every row must fill and that are not there.

    Args:
        columns: The columns of the table.
        table: The table as it was sent.
        place: File and line of its heading.

    Yields:
        A finding each.
    """
    at, known = At(place), [column.name for column in columns]
    for column in table.columns:
        if column not in known:
            near = difflib.get_close_matches(column, known, n=1)
            expected = f"{near[0]}, perhaps" if near else "one of " + ", ".join(known)
            yield at.breaks(form_rules.COLUMN_KNOWN, column, f"column {column!r}", expected)
    for one in columns:
        if one.needed and one.name not in table.columns:
            yield at.breaks(form_rules.COLUMN_THERE, one.name, f"no column {one.name}", f"a column {one.name}")


def _page(at: At, cells: Mapping[str, str]) -> Iterator[Finding]:
    page = cells.get("page", "")
    if page:
        yield from at.try_rule(form_rules.PAGE_RULE, "page", repr(page), "a page such as 4-14", page=page)


def add_row(draft: Draft, table: str, place: str, cells: Mapping[str, str]) -> TypedRow:
    """Read one row into a draft.

    Args:
        draft: The draft; takes the row and what is wrong with it.
        table: Its table.
        place: File and line it stands on.
        cells: Its cells as they are kept; a blank cell states nothing.

    Returns:
        The row.
    """
    columns, findings = TABLES[table], draft.findings
    at = At(place, cells.get("id", ""))
    findings += lacking(at, columns, cells)
    values = read_cells(at, columns, cells, findings)
    row = TypedRow(table, place, cells, values)
    findings += _page(at, cells)
    if row.id:
        findings += at.try_rule(form_rules.ID_FORM, "id", repr(row.id), text=row.id)
        again = list(
            at.try_rule(form_rules.ID_ONCE, "id", f"{row.id} again", "each id once", row=row.id, ids=draft.rows[table])
        )
        findings += again
        if not again:
            draft.rows[table][row.id] = row
            if table in LIMIT_TABLES:
                draft.said[table, row.id] = state(at, cells, values, findings)
    return row


def check_names(draft: Draft) -> Iterator[Finding]:
    """Find rows whose part, or whose two sizes, are not in the book.

    Args:
        draft: The whole draft.

    Yields:
        A finding each.
    """
    for table, column, other in _MEASURED:
        known = draft.rows[other]
        if other in draft.unread:
            continue
        for row in draft.of(table):
            name = row.text(column)
            if name and name not in known:
                near = difflib.get_close_matches(name, known, n=1, cutoff=0.85)
                expected = f"an id of {other}" + (f", perhaps {near[0]}" if near else "")
                yield row.at.breaks(form_rules.NAMES_A_ROW, column, name, expected)


def draft_of(
    head: Mapping[str, str | bool] | None, tables: Mapping[str, Table], findings: Iterable[Finding], head_place: str
) -> Draft:
    """Read the tables of a book.

    Args:
        head: The names of its head; None where it was not there or could not be read.
        tables: Its tables by name; a missing one has no rows.
        findings: What was found wrong before: files missing, lines of another length.
        head_place: The file its head stands in.

    Returns:
        The draft, with every finding.
    """
    said = {name: value.strip() if isinstance(value, str) else value for name, value in (head or {}).items()}
    said = {name: value for name, value in said.items() if value != ""}
    draft = Draft(said, findings=[*findings, *(() if head is None else check_head(said, head_place))])
    for name, columns in TABLES.items():
        if name not in tables:
            draft.unread.add(name)
            continue
        table = tables[name]
        draft.findings += check_columns(columns, table, f"{table.name}:1")
        known = {column.name for column in columns}
        for row in table.rows:
            filled = {column: text for column, text in row.cells.items() if text and column in known}
            add_row(draft, name, f"{table.name}:{row.line}", filled)
    draft.findings += check_names(draft)
    return draft


def fault_finding(fault: Fault, rule: CheckRule) -> Finding:
    """Turn a fault of a file into a finding.

    Args:
        fault: Its path is the file, perhaps with the line.
        rule: The rule it breaks.

    Returns:
        The finding.
    """
    return At(fault.path).breaks(rule, "", fault.found, fault.expected)
