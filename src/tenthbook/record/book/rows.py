"""A row of the book as the rest of the house uses it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from tenthbook.numbers.limit import Limits
from tenthbook.numbers.limit.kinds import Statement
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.record.book.digests import row_digest
from tenthbook.record.book.findings import At


@dataclass(frozen=True, slots=True)
class TypedRow:
    """A row of any table: what was typed and what it means.

    Attributes:
        table: Its table.
        place: File and line it was read from, such as "sizes.csv:12".
        cells: The filled cells as typed, by column.
        values: What they mean, by column; a cell that could not be read is left out.
    """

    table: str
    place: str
    cells: Mapping[str, str]
    values: Mapping[str, Any]

    @property
    def id(self) -> str:
        """Its id."""
        return self.cells.get("id", "")

    @property
    def page(self) -> str:
        """Page of the manual."""
        return self.cells.get("page", "")

    @property
    def digest(self) -> str:
        """SHA-256 of the row, hexadecimal."""
        return row_digest(self.cells)

    @property
    def at(self) -> At:
        """Where it stands, for findings."""
        return At(self.place, self.id)

    def text(self, column: str) -> str:
        """Give a cell as typed.

        Args:
            column: The column.

        Returns:
            The text; empty where the cell is blank.
        """
        return self.cells.get(column, "")

    def number(self, column: str) -> Quantity | None:
        """Give a number.

        Args:
            column: A column of numbers.

        Returns:
            The number as printed in the row's unit; None where the cell is blank.
        """
        value = self.values.get(column)
        return value if isinstance(value, Quantity) else None

    def numbers(self, column: str) -> tuple[Quantity, ...]:
        """Give a list of numbers.

        Args:
            column: A column of lists.

        Returns:
            The numbers in their order, in the row's unit.
        """
        return tuple(one for one in self.values.get(column, ()) if isinstance(one, Quantity))

    def plain(self, column: str) -> Decimal | None:
        """Give a number without a unit.

        Args:
            column: A column of plain numbers.

        Returns:
            The number as typed [-]; None where the cell is blank.
        """
        value = self.values.get(column)
        return value if isinstance(value, Decimal) else None

    def several(self, column: str) -> tuple[Any, ...]:
        """Give a list of ids, words or plain numbers.

        Args:
            column: A column of lists.

        Returns:
            Each in its order; nothing where the cell is blank.
        """
        value = self.values.get(column, ())
        return value if isinstance(value, tuple) else (value,)

    def says_yes(self, column: str) -> bool:
        """Ask a column of yes or nothing.

        Args:
            column: The column.

        Returns:
            Whether it says yes.
        """
        return self.values.get(column) is True


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the engine type."""

    id: str
    name: str
    where_used: str
    quantity: int
    sold_in: str
    page: str
    note: str


@dataclass(frozen=True, slots=True)
class LimitRow:
    """What a size row and a fit row share.

    Attributes:
        id: Typed id.
        unit: Unit as printed.
        limits: The row's own least and greatest [unit]; those of the whole where the row prints half.
        safety: Whether it guards against failure in flight.
        page: Page of the manual.
        note: Words beside it.
        digest: SHA-256 of the row.
        said: What it states, one of the twelve kinds.
        over: Size row that a rate counts on; empty for other kinds.
        half: Whether the manual prints half: the radius, a side, half the swing.
    """

    id: str
    unit: Unit
    limits: Limits
    safety: bool
    page: str
    note: str
    digest: str
    said: Statement
    over: str
    half: bool


@dataclass(frozen=True, slots=True)
class Size(LimitRow):
    """Limits of one feature of one part [unit as printed]."""

    part: str
    feature: str
    measure: str


@dataclass(frozen=True, slots=True)
class Fit(LimitRow):
    """Limits of a clearance: the size `hole` less the size `shaft` [unit as printed]."""

    name: str
    hole: str
    shaft: str
