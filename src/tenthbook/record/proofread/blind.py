"""What the second reader sees, and what of the two readings is compared.

Seen: what the row is of, its page, and nothing that was typed from the page's figures. Compared: figures, units, the
kind of limit and the words that change a verdict, digit for digit; not the words of a note.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tenthbook.record.book import TABLES, Column, Form, TypedRow

_FIGURES = (Form.UNIT, Form.NUMBER, Form.LETTERED, Form.NUMBERS, Form.PLAIN, Form.PLAINS, Form.QUANTITY)
_WORDS_THAT_JUDGE = (
    "kind",
    "side",
    "reference",
    "reckoned",
    "threads_are",
    "running_torque",
    "condition",
    "thread",
    "value",
    "after_days",
)
_NEVER_SHOWN = ("note", "if_interrupted", "caution", "looks_for")


@dataclass(frozen=True, slots=True)
class Difference:
    """One cell in which two readings differ.

    Attributes:
        column: The column.
        first: As it stands in the book; empty where it is blank.
        second: As it was read again; empty where it was left blank.
    """

    column: str
    first: str
    second: str

    def __str__(self) -> str:
        return f"{self.column}: {self.first or 'blank'} in the book, {self.second or 'blank'} read again"


def _is_compared(column: Column) -> bool:
    return column.form in _FIGURES or column.name in _WORDS_THAT_JUDGE


def compared_columns(table: str) -> tuple[Column, ...]:
    """List what is read again.

    Args:
        table: Name of a table.

    Returns:
        Its columns of figures and of the words that change a verdict, in the table's order.
    """
    return tuple(column for column in TABLES[table] if _is_compared(column))


def shown_blind(row: TypedRow) -> dict[str, str]:
    """Give what the second reader may see of a row.

    Args:
        row: The row.

    Returns:
        Its filled cells that are not compared and not read from the page's own words, by column.
    """
    hidden = {column.name for column in compared_columns(row.table)} | set(_NEVER_SHOWN)
    return {name: text for name, text in row.cells.items() if text and name not in hidden}


def _alike(column: Column, first: str, second: str) -> bool:
    if column.form in (Form.NUMBERS, Form.PLAINS):
        ones, others = first.split(";"), second.split(";")
        return [one.strip() for one in ones] == [one.strip() for one in others]
    return first.removeprefix("+") == second.removeprefix("+")


def compare_again(row: TypedRow, cells: Mapping[str, str]) -> tuple[Difference, ...]:
    """Compare a row with what was read again.

    Args:
        row: The row as it stands in the book.
        cells: What the second reader typed, by column; what was left out was not seen on the page.

    Returns:
        The cells that differ, digit for digit; nothing where the two agree.
    """
    pairs = (
        (column, row.text(column.name), cells.get(column.name, "").strip()) for column in compared_columns(row.table)
    )
    return tuple(
        Difference(column.name, first, second) for column, first, second in pairs if not _alike(column, first, second)
    )
