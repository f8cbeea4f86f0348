"""What stands in the rows and columns of a sheet, read from its markup in one pass.

Text comes out as text and a binary number as the shortest digits that give it, with the number format it is shown in.
All else a cell may hold - a formula, a date, a truth value, an error - is a finding: the value a spreadsheet once
worked out for it is never used. What this reader does not know stops it, so that nothing is read by halves.
Source for the form: ECMA-376 Part 1, 18.3.1 (worksheet), from memory. Checked in: tests/published/test_ecma_376.py
"""

from __future__ import annotations

from collections.abc import Sequence

from tenthbook.numbers.because import Fault
from tenthbook.numbers.sheet import findings
from tenthbook.numbers.sheet.findings import Findings
from tenthbook.numbers.sheet.formats import Formats
from tenthbook.numbers.sheet.grid import BadTable, Grid, Line
from tenthbook.numbers.sheet.strings import Text, bare_name, prefix_of, torn
from tenthbook.numbers.sheet.values import Values

_MOST_LINES, _MOST_COLUMNS, _MOST_SIGNS = 200_000, 200, 50_000_000
_MOST_ROWS, _MOST_CELLS, _MOST_TAGS = 1_048_576, 4_000_000, 1_000
_YES = ("1", "true")


def column_number(letters: str) -> int:
    """Read the letters of a column.

    Args:
        letters: "A" to "ZZZ".

    Returns:
        The column's number from 1; 0 if the letters name none.
    """
    number = 0
    for letter in letters:
        if not "A" <= letter <= "Z" or len(letters) > 3:
            return 0
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


class Sheet:
    """One sheet while its markup is walked.

    Attributes:
        text: Where the reader of the markup puts text.
        findings: All that cannot be read.
    """

    def __init__(self, name: str, texts: Sequence[tuple[str, bool]], formats: Formats) -> None:
        """Begin above the first row.

        Args:
            name: What to call the sheet in a fault.
            texts: The texts that stand once for all cells, each with whether its look changes it.
            formats: The number formats by style.
        """
        self.text = Text()
        self.findings = Findings(name)
        self._name = name
        self._values = Values(name, texts, formats, self.findings)
        self._prefix: str | None = None
        self._names: dict[str, str] = {}
        self._columns: dict[str, int] = {}
        self._hidden: list[tuple[int, int]] = []
        self._lines: list[Line] = []
        self._numbers: dict[tuple[int, int], str] = {}
        self._row = self._column = self._seen = self._signs = 0
        self._in_row = self._referenced = False
        self._row_said: dict[str, str] = {}
        self._cells: list[str] = []
        self._cell: dict[str, str] | None = None
        self._value: str | None = None
        self._formula = self._inline = False

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take an element that begins.

        Args:
            tag: Its name as written.
            attributes: What it says.

        Raises:
            BadTable: an element inside a row that this reader does not know, or out of its place.
        """
        name = self._names.get(tag) or self._learn(tag, attributes)
        if self._cell is not None:
            if name == "v":
                self.text.pieces.clear()
            else:
                self._start_in_cell(name, attributes)
        elif name == "c" and self._in_row:
            self._cell, self._value, self._formula, self._inline = attributes, None, False, False
        elif name == "row" and not self._in_row:
            self._start_row(attributes)
        elif self._in_row or name == "c":
            raise torn(f"{self._name}:{self._row}", f"the element {tag!r} out of its place")
        elif name == "col":
            self._start_column(attributes)
        elif name == "mergeCell":
            self.findings.add(findings.MERGED, attributes.get("ref", "?"), "merged cells")

    def end(self, tag: str) -> None:
        """Take an element that ends.

        Args:
            tag: Its name as written.

        Raises:
            BadTable: a cell that cannot stand where it stands, or more than a table may hold.
        """
        name = self._names[tag]
        if self._cell is not None:
            if name == "v":
                self._value = "".join(self.text.pieces)
            elif name == "c":
                self._end_cell(self._cell)
                self._cell = None
            else:
                self.text.end(name)
        elif name == "row":
            self._end_row()

    def grid(self) -> Grid:
        """Give what has been read.

        Returns:
            The lines with content, and the number format of every binary number.
        """
        return Grid(self._name, tuple(self._lines), self._numbers)

    def _learn(self, tag: str, attributes: dict[str, str]) -> str:
        if self._prefix is None:
            self._prefix = prefix_of(self._name, tag, attributes, "worksheet")
        if len(self._names) > _MOST_TAGS:
            raise torn(self._name, f"more than {_MOST_TAGS} kinds of elements")
        return self._names.setdefault(tag, bare_name(tag, self._prefix))

    def _start_in_cell(self, name: str, attributes: dict[str, str]) -> None:
        if name == "is" and not self._inline:
            self._inline = True
            self.text.begin()
        elif name == "f":
            self._formula = True
        elif not (self._inline and self.text.start(name, attributes)):
            raise torn(f"{self._name}:{self._row}", f"the element {name!r} out of its place")

    def _start_row(self, attributes: dict[str, str]) -> None:
        number = int(attributes["r"]) if "r" in attributes else self._row + 1
        if not self._row < number <= _MOST_ROWS:
            raise torn(f"{self._name}:{number}", "a row out of its place")
        self._row, self._row_said, self._column = number, attributes, 0
        self._in_row, self._referenced = True, False

    def _start_column(self, attributes: dict[str, str]) -> None:
        if attributes.get("hidden") in _YES or float(attributes.get("width", 1)) == 0:
            self._hidden.append((int(attributes["min"]), int(attributes["max"])))

    def _end_row(self) -> None:
        self._in_row = False
        if not self._cells:
            return
        cells, self._cells = tuple(self._cells), []
        self._lines.append(Line(self._row, cells))
        self._signs += sum(map(len, cells))
        for what, many, most in (("rows", len(self._lines), _MOST_LINES), ("signs", self._signs, _MOST_SIGNS)):
            if many > most:
                raise BadTable([Fault(self._name, f"more than {most} {what}", f"at most {most} {what}")])
        if self._row_said.get("hidden") in _YES or float(self._row_said.get("ht", 1)) == 0:
            self.findings.add(findings.HIDDEN_ROW, str(self._row), "a hidden row")

    def _end_cell(self, cell: dict[str, str]) -> None:
        self._seen += 1
        if self._seen > _MOST_CELLS:
            expected = f"at most {_MOST_CELLS}; delete the formatted rows below the table"
            raise BadTable([Fault(self._name, f"more than {_MOST_CELLS} cells, blank or not", expected)])
        reference = cell.get("r")
        if self._value is None and not self._inline and not self._formula:
            self._pass_over(reference)
            return
        place = self._place(reference)
        text = self._values.refuse(findings.FORMULA, place, "a formula") if self._formula else self._read(cell, place)
        if text:
            self._keep(text, place)

    def _pass_over(self, reference: str | None) -> None:
        """Count a cell; in a row either every cell says where it stands or none does."""
        if reference is not None:
            self._referenced = True
        elif self._referenced:
            raise torn(f"{self._name}:{self._row}", "a cell that does not say where it stands, behind one that does")
        else:
            self._column += 1

    def _place(self, reference: str | None) -> str:
        self._pass_over(reference)
        if reference is None:
            return f"column {self._column} of row {self._row}"
        letters = reference.rstrip("0123456789")
        column = self._columns.get(letters)
        if column is None:
            column = self._columns[letters] = column_number(letters)
        if column <= self._column or int(reference[len(letters) :] or 0) != self._row:
            raise torn(f"{self._name}:{reference}", "a cell out of its place")
        self._column = column
        return reference

    def _read(self, cell: dict[str, str], place: str) -> str:
        kind, value = cell.get("t", "n"), self._value
        if self._inline != (kind == "inlineStr") or self._inline == (value is not None):
            raise torn(f"{self._name}:{place}", f"a cell of kind {kind!r} with another content")
        if value is None:
            return self._values.text(self.text.whole(), self.text.raised, place)
        if kind == "n" and value:
            text, self._numbers[self._row, self._column - 1] = self._values.number(value, cell.get("s"), place)
            return text
        return self._values.other(kind, value, place) if value else ""

    def _keep(self, text: str, place: str) -> None:
        column, cells = self._column, self._cells
        if column > _MOST_COLUMNS:
            found = f"content right of column {_MOST_COLUMNS}"
            raise BadTable([Fault(f"{self._name}:{place}", found, f"at most {_MOST_COLUMNS} columns")])
        if len(cells) < column - 1:
            cells.extend([""] * (column - 1 - len(cells)))
        cells.append(text)
        if self._hidden and any(first <= column <= last for first, last in self._hidden):
            self.findings.add(findings.HIDDEN_COLUMN, place, "a cell in a hidden column")
