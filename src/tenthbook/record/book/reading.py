"""From files to a book: every fault at once, each with its file and line, and nothing guessed.

Goes in: the bytes of `book.toml` and of one CSV a table. Comes out: a `Draft` for the checker, or a `Book`, or all
that is wrong with it.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from tenthbook.numbers.because import Fault, WrongInput
from tenthbook.numbers.limit import Limits
from tenthbook.numbers.limit.kinds import Statement
from tenthbook.numbers.quantity import Unit
from tenthbook.numbers.sheet import BadTable, Table, read_loosely
from tenthbook.record.book import form_rules
from tenthbook.record.book.drafting import Draft, add_row, check_names, draft_of, fault_finding
from tenthbook.record.book.findings import At, Finding
from tenthbook.record.book.rows import Fit, Part, Size, TypedRow
from tenthbook.record.book.tables import TABLES

HEAD_FILE = "book.toml"
_OF_A_BOOK = (".csv", ".toml", ".tsv", ".xlsx", ".xlsm", ".xls", ".ods")


@dataclass(frozen=True, slots=True)
class Book:
    """What the manual of one engine type and revision says.

    Attributes:
        head: Type, manual, revision, and whether all of it is invented.
        rows: Every row by table and id, in the book's order.
        parts: Parts by id.
        sizes: Size rows by id.
        fits: Fit rows by id.
    """

    head: Mapping[str, str | bool]
    rows: Mapping[str, Mapping[str, TypedRow]]
    parts: Mapping[str, Part]
    sizes: Mapping[str, Size]
    fits: Mapping[str, Fit]
    _of_part: dict[str, list[Size]] = field(init=False, repr=False, compare=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Sort the sizes by their parts."""
        for size in self.sizes.values():
            self._of_part.setdefault(size.part, []).append(size)

    @property
    def type(self) -> str:
        """The engine type."""
        return str(self.head["type"])

    @property
    def invented(self) -> bool:
        """Whether the book is for no engine."""
        return self.head["invented"] is True

    def sizes_of(self, part: str) -> list[Size]:
        """List what is measured on a part.

        Args:
            part: Its id.

        Returns:
            Its size rows in the book's order.
        """
        return list(self._of_part.get(part, ()))

    def fits_of(self, size: str) -> list[Fit]:
        """List the fits a size takes part in.

        Args:
            size: Id of the size row.

        Returns:
            The fit rows that name it.
        """
        return [fit for fit in self.fits.values() if size in (fit.hole, fit.shaft)]


def _part(row: TypedRow) -> Part:
    words = (row.text(name) for name in ("sold_in", "page", "note"))
    return Part(row.id, row.text("name"), row.text("where_used"), row.values["quantity"], *words)


_Shared = tuple[str, Unit, Limits, bool, str, str, str, Statement, str, bool]


def _shared(draft: Draft, row: TypedRow) -> _Shared:
    """What a size and a fit share, in the order of `LimitRow`."""
    said, limits = draft.said[row.table, row.id]
    words = row.page, row.text("note"), row.digest
    half = row.text("reckoned") == "half"
    return row.id, row.values["unit"], limits, row.says_yes("safety"), *words, said, row.text("over"), half


def hindering(draft: Draft, row: str) -> list[Finding]:
    """Say what keeps one more row out of a book that was taken before.

    Args:
        draft: The draft of the book with the row.
        row: Id of the row.

    Returns:
        Everything wrong with the row itself, and whatever makes another one unreadable; not the manners of older rows.
    """
    return [one for one in draft.wrong if one.row == row or one.rule not in form_rules.MANNERS]


def book_of(draft: Draft, *, kept: bool = False) -> Book:
    """Make a book of a draft.

    Args:
        draft: A draft in which nothing is wrong.
        kept: True for a book that was taken before: a rule of manners made since does not close it.

    Returns:
        The book.

    Raises:
        WrongInput: everything wrong with it, each with file and line.
    """
    wrong = [finding for finding in draft.wrong if not (kept and finding.rule in form_rules.MANNERS)]
    if wrong:
        raise WrongInput([finding.fault for finding in wrong])
    parts = {row.id: _part(row) for row in draft.of("parts")}
    sizes = {
        row.id: Size(*_shared(draft, row), row.text("part"), row.text("feature"), row.text("measure"))
        for row in draft.of("sizes")
    }
    fits = {
        row.id: Fit(*_shared(draft, row), row.text("name"), row.text("hole"), row.text("shaft"))
        for row in draft.of("fits")
    }
    return Book(draft.head, draft.rows, parts, sizes, fits)


def _head_of(content: bytes | None, findings: list[Finding]) -> dict[str, str | bool] | None:
    if content is None:
        findings.append(At(HEAD_FILE).breaks(form_rules.FILE, "", "no such file", "a file of the book"))
        return None
    try:
        return tomllib.loads(content.decode("utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        findings.append(At(HEAD_FILE).breaks(form_rules.TABLE, "", str(error), "TOML in UTF-8"))
        return None


def _unknown(files: Mapping[str, bytes]) -> Iterator[Finding]:
    """Ask about each table that is not of a book, so that no slip in a name hides its rows."""
    known = (HEAD_FILE, *(f"{name}.csv" for name in TABLES))
    for name in files:
        if name.endswith(_OF_A_BOOK):
            near = difflib.get_close_matches(name, known, n=1)
            expected = f"{near[0]}, perhaps" if near else "one of " + ", ".join(known)
            yield from At(name).try_rule(
                form_rules.FILE_KNOWN, "", "a table of another name", expected, name=name, names=known
            )


def draft_book(files: Mapping[str, bytes]) -> Draft:
    """Read the files of a book, sound or not.

    Args:
        files: `book.toml` and one CSV a table, by name.

    Returns:
        The draft, with everything wrong with how it is written.
    """
    findings = list(_unknown(files))
    head = _head_of(files.get(HEAD_FILE), findings)
    tables: dict[str, Table] = {}
    for name in TABLES:
        file = f"{name}.csv"
        if file not in files:
            findings.append(At(file).breaks(form_rules.FILE, "", "no such file", "a file of the book"))
            continue
        try:
            tables[name], misfits = read_loosely(file, files[file])
        except BadTable as error:
            findings += [fault_finding(fault, form_rules.TABLE) for fault in error.faults]
        else:
            findings += [fault_finding(fault, form_rules.CELLS) for fault in misfits]
    return draft_of(head, tables, findings, HEAD_FILE)


def read_book(files: Mapping[str, bytes]) -> Book:
    """Read a book from its files.

    Args:
        files: `book.toml` and one CSV a table, by name.

    Returns:
        The book.

    Raises:
        WrongInput: a file missing or torn, or rows with faults: all of them, each with file and line.
    """
    return book_of(draft_book(files))


def draft_kept(head: Mapping[str, str | bool], rows: Mapping[str, list[Mapping[str, str]]]) -> Draft:
    """Read the rows of a book that was kept.

    Args:
        head: Its head.
        rows: Cells of each row, by table, as they were kept.

    Returns:
        The draft.
    """
    draft = Draft(head)
    for name in TABLES:
        for place, cells in enumerate(rows.get(name, ()), 1):
            add_row(draft, name, f"{name}:{place}", cells)
    draft.findings += check_names(draft)
    return draft


def with_rows(
    book: Book, typed: Iterable[tuple[str, Mapping[str, str]]], leaving_out: Container[tuple[str, str]] = ()
) -> Draft:
    """Type further rows into a book, or leave some out.

    Args:
        book: The book; it stays as it is.
        typed: Table and cells of each row; blank cells state nothing.
        leaving_out: Table and id of rows that are not taken over.

    Returns:
        The draft of the book as it would then be.

    Raises:
        WrongInput: tables this book does not have, or unknown columns.
    """
    held = {
        name: [row.cells for row in rows.values() if (name, row.id) not in leaving_out]
        for name, rows in book.rows.items()
    }
    faults = []
    for table, cells in typed:
        if table not in TABLES:
            faults.append(Fault("table", repr(table), "one of " + ", ".join(TABLES)))
            continue
        known = [column.name for column in TABLES[table]]
        faults += [
            Fault(name, "an unknown column", "one of " + ", ".join(known)) for name in cells if name not in known
        ]
        held[table].append({name: text for name, text in cells.items() if text})
    if faults:
        raise WrongInput(faults)
    return draft_kept(book.head, held)


def draft_again(book: Book) -> Draft:
    """Give a book back as a draft, so that it can be checked.

    Args:
        book: The book.

    Returns:
        The draft; a row's place is its table and its number in it, such as "sizes:12".
    """
    return draft_kept(book.head, {name: [row.cells for row in rows.values()] for name, rows in book.rows.items()})
