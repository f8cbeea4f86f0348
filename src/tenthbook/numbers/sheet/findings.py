"""What is wrong with a sheet, so that a person can go to the cells?

A handful of each kind is named, the others are counted. Nothing is read here: findings come in, faults go out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tenthbook.numbers.because import Fault

_NAMED = 5


@dataclass(frozen=True, slots=True)
class Kind:
    """One way in which a cell cannot be read.

    Attributes:
        many: What several of them are called.
        expected: What belongs there, and how to get it there.
    """

    many: str
    expected: str


FORMULA = Kind("formulas", "a number or text; copy the cell and paste its value in place")
ERROR = Kind("error values", "a number or text")
TRUTH = Kind("cells that say true or false", "text; format the cell as text and type the word again")
DATE = Kind("dates or times", "a number or text; format the cell as text and type it again as it is printed")
NO_NUMBER = Kind("numbers that are none", "a number or text")
RAISED = Kind("texts with raised, lowered or struck signs", "plain text, which reads the same without them")
CONTROL = Kind("texts with a NUL character", "text")
MERGED = Kind("merged cells", "a cell for each value; undo the merge and fill the cells")
HIDDEN_ROW = Kind("hidden rows", "none; show or delete them, so that what is read is what you see")
HIDDEN_COLUMN = Kind("cells in hidden columns", "none; show or delete them, so that what is read is what you see")


@dataclass(slots=True)
class Findings:
    """All that is wrong with one sheet.

    Attributes:
        name: What to call the sheet.
    """

    name: str
    _found: dict[Kind, list[Fault]] = field(default_factory=dict)
    _more: dict[Kind, int] = field(default_factory=dict)

    def add(self, kind: Kind, place: str, found: str) -> None:
        """Keep one finding.

        Args:
            kind: What kind it is.
            place: Cell, row or range, as the spreadsheet names it.
            found: What stands there.
        """
        named = self._found.setdefault(kind, [])
        if len(named) < _NAMED:
            named.append(Fault(f"{self.name}:{place}", found, kind.expected))
        else:
            self._more[kind] = self._more.get(kind, 0) + 1

    def faults(self) -> Iterator[Fault]:
        """Say what was found.

        Yields:
            Up to five faults of a kind, then one that counts the others.
        """
        for kind, named in self._found.items():
            yield from named
            if kind in self._more:
                yield Fault(self.name, f"and {self._more[kind]} more {kind.many}", kind.expected)
