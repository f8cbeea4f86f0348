"""From files to a book: every fault at once, each with its file and line, and nothing guessed.

Goes in: the bytes of `book.toml` and of one CSV a table. Comes out: a `Book`, or all that is wrong with it.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from tenthbook.numbers.because import Fault, TenthbookError, WrongInput
from tenthbook.numbers.limit import Band, Limits
from tenthbook.numbers.quantity import Quantity, Unit, find_unit, plain, read_lettered
from tenthbook.numbers.sheet import Table, read_csv
from tenthbook.record.book.digests import row_digest
from tenthbook.record.book.rows import Fit, Part, Size
from tenthbook.record.book.tables import HEAD, TABLES

KINDS = ("absolute", "none")
_ReadNumber = Callable[[str, Unit], Quantity]


@dataclass(frozen=True, slots=True)
class Book:
    """The limits of one engine type and revision.

    Attributes:
        head: Type, manual, revision, and whether all of it is invented.
        cells: Every row of every table as typed.
        parts: Parts by id.
        sizes: Size rows by id.
        fits: Fit rows by id.
    """

    head: Mapping[str, str | bool]
    cells: Mapping[str, tuple[Mapping[str, str], ...]]
    parts: Mapping[str, Part]
    sizes: Mapping[str, Size]
    fits: Mapping[str, Fit]

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
        return [size for size in self.sizes.values() if size.part == part]

    def fits_of(self, size: str) -> list[Fit]:
        """List the fits a size takes part in.

        Args:
            size: Id of the size row.

        Returns:
            The fit rows that name it.
        """
        return [fit for fit in self.fits.values() if size in (fit.hole, fit.shaft)]


@dataclass(slots=True)
class _Reader:
    """Collects faults while rows are read; `at` is the row being read."""

    faults: list[Fault] = field(default_factory=list)
    at: str = ""

    def wrong(self, column: str, found: str, expected: str) -> None:
        """Note a fault of the row being read.

        Args:
            column: The column.
            found: What stands there.
            expected: What belongs there.
        """
        self.faults.append(Fault(f"{self.at}: {column}", found, expected))

    def number(self, column: str, text: str, unit: Unit, read: _ReadNumber) -> Quantity | None:
        """Read one cell of a limit.

        Args:
            column: The column.
            text: The cell.
            unit: The row's unit [in or mm].
            read: Reads the number in that unit.

        Returns:
            The number as printed [unit]; None where the cell is blank or wrong.
        """
        if not text:
            return None
        try:
            return read(text, unit)
        except TenthbookError as error:
            self.wrong(column, error.found, error.expected)
            return None

    def band(self, prefix: str, cells: Mapping[str, str], unit: Unit, read: _ReadNumber) -> Band:
        """Read a pair of cells.

        Args:
            prefix: "new" or "service".
            cells: The row.
            unit: The row's unit [in or mm].
            read: Reads a number in that unit.

        Returns:
            The band; blank where it is wrong.
        """
        pair = [self.number(f"{prefix}_{side}", cells[f"{prefix}_{side}"], unit, read) for side in ("min", "max")]
        try:
            return Band(*pair)
        except TenthbookError as error:
            self.wrong(f"{prefix}_min", error.found, error.expected)
            return Band()

    def limits(self, cells: Mapping[str, str], read: _ReadNumber) -> tuple[Unit, Limits]:
        """Read unit and limits of a row.

        Args:
            cells: The row.
            read: Reads a number in the row's unit.

        Returns:
            The unit [in or mm] and the limits as printed.
        """
        if cells["unit"] not in ("in", "mm"):
            self.wrong("unit", repr(cells["unit"]), "in or mm")
        unit = find_unit("mm" if cells["unit"] == "mm" else "in")
        limits = Limits(self.band("new", cells, unit, read), self.band("service", cells, unit, read))
        given = limits.new.given or limits.service.given
        try:
            _ = limits.service_resolved
        except TenthbookError as error:
            self.wrong(
                "service_min", error.found, "a service side that makes a band with the new limit of the other side"
            )
        if cells["kind"] not in KINDS:
            self.wrong("kind", repr(cells["kind"]), " or ".join(KINDS))
        elif given != (cells["kind"] == "absolute"):
            self.wrong(
                "kind",
                f"{cells['kind']} with {'a limit' if given else 'no limit'}",
                "absolute with limits, or none without",
            )
        if cells["safety"] not in ("", "yes"):
            self.wrong("safety", repr(cells["safety"]), "yes or nothing")
        return unit, limits


def _plain_length(text: str, unit: Unit) -> Quantity:
    return Quantity(plain(text), unit)


def _clearance(text: str, unit: Unit) -> Quantity:
    return read_lettered(text, unit).clearance if text[-1:] in "TL" else Quantity(plain(text), unit)


def _rows(name: str, table: Table, reader: _Reader) -> Iterator[Mapping[str, str]]:
    seen: set[str] = set()
    for row in table.rows:
        reader.at = f"{name}.csv:{row.line}"
        cells = {column.name: row.cells.get(column.name, "") for column in TABLES[name]}
        for column in TABLES[name]:
            if column.needed and not cells[column.name]:
                reader.wrong(column.name, "nothing", column.says)
        if cells["id"] in seen:
            reader.wrong("id", f"{cells['id']} again", "each id once")
        elif cells["id"]:
            seen.add(cells["id"])
            yield cells


def _columns(name: str, table: Table) -> list[Fault]:
    known = [column.name for column in TABLES[name]]
    faults = []
    for column in table.columns:
        if column not in known:
            near = difflib.get_close_matches(column, known, n=1)
            faults.append(
                Fault(f"{name}.csv:1", f"column {column!r}", near[0] if near else "one of " + ", ".join(known))
            )
    needed = [column.name for column in TABLES[name] if column.needed and column.name not in table.columns]
    return faults + [Fault(f"{name}.csv:1", "no column " + column, "a column " + column) for column in needed]


def _part(cells: Mapping[str, str], reader: _Reader) -> Part:
    quantity = cells["quantity"]
    if not (quantity.isascii() and quantity.isdigit() and len(quantity) < 6 and int(quantity)):
        reader.wrong("quantity", repr(quantity), "a whole number from 1")
        quantity = "1"
    words = (cells[name] for name in ("sold_in", "page", "note"))
    return Part(cells["id"], cells["name"], cells["where_used"], int(quantity), *words)


def _size(cells: Mapping[str, str], reader: _Reader) -> Size:
    unit, limits = reader.limits(cells, _plain_length)
    digest = row_digest(cells)
    shared = (cells["id"], unit, limits, cells["safety"] == "yes", cells["page"], cells["note"], digest)
    return Size(*shared, cells["part"], cells["feature"])


def _fit(cells: Mapping[str, str], reader: _Reader) -> Fit:
    unit, limits = reader.limits(cells, _clearance)
    digest = row_digest(cells)
    shared = (cells["id"], unit, limits, cells["safety"] == "yes", cells["page"], cells["note"], digest)
    return Fit(*shared, cells["name"], cells["hole"], cells["shaft"])


def _check_head(head: Mapping[str, object]) -> list[Fault]:
    faults = [Fault(f"book.toml: {column.name}", "nothing", column.says) for column in HEAD if column.name not in head]
    known = {column.name: bool if column.name == "invented" else str for column in HEAD}
    for name, value in head.items():
        if name not in known:
            faults.append(Fault(f"book.toml: {name}", "an unknown name", "one of " + ", ".join(known)))
        elif not isinstance(value, known[name]):
            faults.append(
                Fault(
                    f"book.toml: {name}",
                    repr(value),
                    "true or false" if known[name] is bool else "text in quotation marks",
                )
            )
    return faults


def build_book(head: Mapping[str, str | bool], tables: Mapping[str, Table]) -> Book:
    """Make a book of its head and its tables.

    Args:
        head: The names of `book.toml`.
        tables: One table a name of `TABLES`.

    Returns:
        The book.

    Raises:
        WrongInput: everything wrong with it, each with file and line.
    """
    reader = _Reader(_check_head(head))
    for name in TABLES:
        reader.faults += _columns(name, tables[name])
    if reader.faults:
        raise WrongInput(reader.faults)
    cells: dict[str, list[Mapping[str, str]]] = {name: [] for name in TABLES}
    read: dict[str, dict[str, object]] = {name: {} for name in TABLES}
    makers: dict[str, Callable[[Mapping[str, str], _Reader], object]] = {"parts": _part, "sizes": _size, "fits": _fit}
    for name, make in makers.items():
        for row in _rows(name, tables[name], reader):
            cells[name].append(row)
            made = make(row, reader)
            read[name][row["id"]] = made
            for column, other in (("part", "parts"), ("hole", "sizes"), ("shaft", "sizes")):
                if row.get(column) and column in row and row[column] not in read[other]:
                    reader.wrong(column, row[column], f"an id of {other}.csv")
    if reader.faults:
        raise WrongInput(reader.faults)
    kept = {name: tuple(rows) for name, rows in cells.items()}
    return Book(head, kept, read["parts"], read["sizes"], read["fits"])  # type: ignore[arg-type]  # each maker fills its own table


def read_book(files: Mapping[str, bytes]) -> Book:
    """Read a book from its files.

    Args:
        files: `book.toml` and `parts.csv`, `sizes.csv`, `fits.csv` by name.

    Returns:
        The book.

    Raises:
        WrongInput: a file missing or torn, or rows with faults: all of them, each with file and line.
    """
    missing = [name for name in ("book.toml", *(f"{table}.csv" for table in TABLES)) if name not in files]
    if missing:
        raise WrongInput([Fault(name, "no such file", "a file of the book") for name in missing])
    try:
        head = tomllib.loads(files["book.toml"].decode("utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise WrongInput([Fault("book.toml", str(error), "TOML in UTF-8")]) from error
    return build_book(head, {name: read_csv(f"{name}.csv", files[f"{name}.csv"]) for name in TABLES})
