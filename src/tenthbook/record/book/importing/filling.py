"""From the rows of a sent table to the cells a book would keep: what a person said, applied to each row.

Goes in: the grid, its table and the column map. Comes out: the rows that could be filled, each with what became of
its units, dashes, ranges and binary numbers, and beside them every fault and every open question. Text keeps its
digits; a number that a spreadsheet holds as a binary one is asked about; nothing is converted or rounded.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet import Grid, Row, Table
from tenthbook.record.book.columns import Form
from tenthbook.record.book.drafting import LIMIT_TABLES
from tenthbook.record.book.importing.mapping import ColumnMap, Target, ranges_of, targets
from tenthbook.record.book.importing.printed import Printed, Unread, Way, is_dashes, read_printed
from tenthbook.record.book.importing.units import (
    Asked,
    Read,
    Sided,
    Units,
    beside,
    is_bare,
    resolve,
    sides,
    unit_cell,
)
from tenthbook.record.book.tables import TABLES

_NAMED = 5  # lines named in a question that many rows share


@dataclass(frozen=True, slots=True)
class Question:
    """Something that only a person can answer; until then nothing enters the book.

    Attributes:
        place: File and line.
        asks: What cannot be told.
        answer: How to answer it.
    """

    place: str
    asks: str
    answer: str

    def __str__(self) -> str:
        return f"{self.place}: {self.asks}; {self.answer}"


@dataclass(slots=True)
class FilledRow:
    """A row as the book would keep it.

    Attributes:
        line: Line of the sent table.
        cells: Its filled cells, by column.
        notes: What became of units, dashes, ranges and binary numbers.
    """

    line: int
    cells: dict[str, str]
    notes: list[str]


@dataclass(slots=True)
class Filling:
    """What became of a sent table.

    Attributes:
        rows: The rows that could be filled.
        faults: What is wrong with the others.
        questions: What is open.
    """

    rows: list[FilledRow] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


class _Unfilled(Exception):  # a signal inside this module: the row has a fault and is left out
    pass


_Reader = Callable[[str], Printed | Unread | None]  # None: dashes


def _reader(target: Target) -> _Reader:
    """Read the cells of a target, each text once."""
    read = partial(read_printed, lettered=target.form is Form.LETTERED, minutes=target.minutes)
    known: dict[str, Printed | Unread | None] = {}

    def reader(text: str) -> Printed | Unread | None:
        if text not in known:
            known[text] = None if not text[0].isdigit() and is_dashes(text) else read(text)
        return known[text]

    return reader


def _padded(text: str, places: int) -> str | None:
    """Write a binary number with the decimals the manual prints; None where it does not end within them."""
    whole, _, decimals = text.partition(".")
    if len(decimals) > places:
        return None
    return f"{whole}.{decimals.ljust(places, '0')}" if places else whole


class _Filler:
    """One sent table being filled in."""

    def __init__(self, said: ColumnMap, grid: Grid, table: Table) -> None:
        """Lay the column map on the table.

        Args:
            said: What a person said, without faults.
            grid: The sent grid.
            table: Its rows under their headings.
        """
        self.said, self.name, self.numbers, self.filling = said, table.name, grid.numbers, Filling()
        self.targets = targets(said, table.columns)
        self.readers = {target.name: _reader(target) for target in self.targets if target.is_limit}
        self.columns = {column.name: column for column in TABLES[said.table]}
        self.units = [column.name for column in TABLES[said.table] if column.form is Form.UNIT]
        self.first = table.rows[0].line if table.rows else 0
        self.binary: dict[str, list[tuple[int, str]]] = {}
        limits = ranges_of(said.table) if said.table in LIMIT_TABLES else {}
        self.limits = [column for name in ("new", "service") if name in limits for column in limits[name]]

    def place(self, row: Row, target: Target | None = None) -> str:
        return f"{self.name}:{row.line}" + (f": {target.heading}" if target else "")

    def fault(self, row: Row, target: Target, found: str, expected: str) -> None:
        self.filling.faults.append(Fault(self.place(row, target), found, expected))

    def row(self, row: Row) -> FilledRow:
        """Fill one row; every fault of its cells is kept, and then it is left out."""
        filled = FilledRow(row.line, dict(self.said.constants), [])
        reads, nothing = list[Read](), dict[str, list[str]]()
        known, before = self.filling.faults, len(self.filling.faults)
        for target in self.targets:
            text = row.cells[target.heading]
            if self.numbers and (row.line, target.place) in self.numbers and target.form is not Form.WHOLE:
                text = self.decimals(row, target, text, filled.notes)
            if target.is_limit:
                self.limit(row, target, text, reads, nothing)
            elif target.may_be_dashes and text and is_dashes(text):
                filled.notes.append(f"{target.name}: dashes ({text}): nothing given, not nought")
            elif text:
                filled.cells[target.name] = unit_cell(text) if target.form is Form.UNIT else text
        if len(known) > before:
            raise _Unfilled
        filled.notes += [f"{', '.join(names)}: {why}: no limit given, not nought" for why, names in nothing.items()]
        self.amounts(filled, reads)
        self.kind(filled)
        return filled

    def decimals(self, row: Row, target: Target, text: str, notes: list[str]) -> str:
        if target.name not in self.said.decimals:
            self.binary.setdefault(target.name, []).append((row.line, text))
            return text
        places = self.said.decimals[target.name]
        padded = _padded(text, places)
        if padded is None:
            expected = f"a number that ends within the {places} decimals the manual prints; look at the page"
            self.fault(row, target, f"the binary number {text}", expected)
            return text
        if padded != text:
            notes.append(f"{target.name}: {text} held as a binary number, printed with {places} decimals: {padded}")
        return padded

    def limit(self, row: Row, target: Target, text: str, reads: list[Read], nothing: dict[str, list[str]]) -> None:
        if not text:
            nothing.setdefault("blank", []).append(target.name)
            return
        printed = self.readers[target.name](text)
        if printed is None:
            nothing.setdefault(f"dashes ({text})", []).append(target.name)
        elif isinstance(printed, Unread):
            heading = row.line == self.first and not any(sign.isdigit() for sign in text)
            hint = "; or say that the heading has one line more" if heading else ""
            self.fault(row, target, printed.found, printed.expected + hint)
        else:
            reads.append(Read(target, text, printed))

    def amounts(self, filled: FilledRow, reads: list[Read]) -> None:
        """Lay the numbers of a row on their columns, in the unit that judges."""
        cells, notes = filled.cells, filled.notes
        bare = {unit: cells[unit] for unit in self.units if unit in cells}
        if self.said.unit:
            bare.setdefault("unit", self.said.unit)
        if is_bare(reads) and all(read.target.unit_column in bare for read in reads):
            sided = [Sided(read, read.target.columns, read.printed.first) for read in reads]
            found = {"unit": bare["unit"]} if "unit" in self.units and "unit" in bare else {}
        else:
            stated = {unit: cells[unit] for unit in self.units if unit in cells and unit in self.said.headings}
            found, sided = resolve(reads, Units(self.said.unit, bare, stated))
            found = {**({"unit": bare["unit"]} if "unit" in bare else {}), **found}
        for one in sided:
            laid = self.lay(cells, one)
            if one.amount.way is Way.RANGE or one.amount.unit:
                notes.append(_what_became(one, laid, found))
        cells.update(found)
        if "unit" in bare and cells["unit"] != bare["unit"]:
            notes.append(f"unit {cells['unit']}, as the cells carry it, not {bare['unit']}")
        if "unit" in self.units and "unit" not in cells:
            raise Asked("no unit in the row", "say the unit (unit=UNIT), or map or set the column unit")

    def lay(self, cells: dict[str, str], one: Sided) -> dict[str, str]:
        laid = sides(one)
        for column, text in laid.items():
            if column not in self.columns:
                raise Asked(f"{one.read.target.name} {one.read.text!r}: no column {column}", "type the row by hand")
            if column in cells:
                raise Asked(f"{column} from two cells, {cells[column]} and {text}", "map one of them")
            cells[column] = text
        return laid

    def kind(self, filled: FilledRow) -> None:
        """Turn absolute without a limit into none; that the manual gives no limit is said, not left to be guessed."""
        cells = filled.cells
        if not self.limits or cells.get("kind") != "absolute" or any(column in cells for column in self.limits):
            return
        if any(column in cells for column in beside(tuple(self.limits))):
            raise Asked("limits in the second unit only", "say which unit judges (unit=UNIT)")
        cells["kind"] = "none"
        filled.notes.append("no limit in any column: kind none, not absolute")

    def binary_questions(self) -> None:
        headings = {target.name: (target.heading, target.place) for target in self.targets}
        for name, cells in self.binary.items():
            heading, place = headings[name]
            lines = ", ".join(f"{line} ({text})" for line, text in cells[:_NAMED])
            more = f" and {len(cells) - _NAMED} more" if len(cells) > _NAMED else ""
            formats = sorted({self.numbers[line, place] for line, _ in cells})
            asks = (
                f"{heading}: held as binary numbers, so that noughts at the end are lost: line {lines}{more}; shown as "
            )
            answer = f"say how many decimals the manual prints there (decimals {name}=N), or send the cells as text"
            self.filling.questions.append(Question(self.name, asks + " and ".join(formats[:3]), answer))


def _what_became(one: Sided, laid: dict[str, str], units: dict[str, str]) -> str:
    text, unit = one.read.text, one.amount.unit
    kept = ", ".join(f"{column} {value}" for column, value in laid.items())
    if not unit:
        return f"{one.read.target.name} {text}: {kept}"
    judges = unit == units.get(one.read.target.unit_column)
    return f"{one.read.target.name} {text}: {kept} [{unit}]" + ("" if judges else ", kept beside, judges nothing")


def fill(said: ColumnMap, grid: Grid, table: Table) -> Filling:
    """Fill the rows of the book from a sent table.

    Args:
        said: What a person said about it, without faults.
        grid: The sent grid; knows which cells are binary numbers.
        table: Its rows under their headings.

    Returns:
        The rows, the faults and the questions, in the order of the lines.
    """
    filler = _Filler(said, grid, table)
    for row in table.rows:
        try:
            filler.filling.rows.append(filler.row(row))
        except _Unfilled:
            continue
        except Asked as asked:
            filler.filling.questions.append(Question(filler.place(row), asked.asks, asked.answer))
    filler.binary_questions()
    return filler.filling
