"""Which unit judges in a row whose cells carry units of their own, and what goes into the columns of the second unit.

Goes in: what the cells of one row say, the unit of a cell that carries none, and the unit that judges where there are
two. Comes out: each amount with the columns it fills, or a question. No number is converted: what is printed in the
second unit is kept beside the first, and a limit printed only in the second unit is asked about.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import find_unit
from tenthbook.record.book.importing.mapping import Target
from tenthbook.record.book.importing.printed import Amount, Printed, Way, unit_named

BESIDE = "other_"
_SAY_UNIT = "say which unit judges (unit=UNIT)"


class Asked(Exception):
    """A signal inside this room: something about a row that only a person can answer."""

    def __init__(self, asks: str, answer: str) -> None:
        """Keep the question.

        Args:
            asks: What cannot be told.
            answer: How to answer it.
        """
        self.asks, self.answer = asks, answer
        super().__init__(asks)


class Read(NamedTuple):
    """A cell that was read.

    Attributes:
        target: What it fills.
        text: Its text.
        printed: What it says.
    """

    target: Target
    text: str
    printed: Printed


class Units(NamedTuple):
    """The unit of cells that carry none.

    Attributes:
        judges: The unit that judges where a row carries two; nothing where nobody said.
        bare: Unit of a bare number by its column of units, such as unit and other_unit.
        stated: Units that the sent row itself states in a column of units.
    """

    judges: str
    bare: Mapping[str, str]
    stated: Mapping[str, str]


class Sided(NamedTuple):
    """An amount and the columns it fills.

    Attributes:
        read: The cell it comes from.
        columns: Its column, or those of least and greatest.
        amount: What it says.
    """

    read: Read
    columns: tuple[str, ...]
    amount: Amount


def beside(columns: tuple[str, ...]) -> tuple[str, ...]:
    """Name the columns of the second unit.

    Args:
        columns: Columns of the first.

    Returns:
        The same in the second unit.
    """
    return tuple(BESIDE + column for column in columns)


def _name(unit: str) -> str:
    try:
        return find_unit(unit).name
    except TenthbookError:
        return unit  # the checker names it


def is_bare(reads: Sequence[Read]) -> bool:
    """Say whether no cell of a row carries a unit.

    Args:
        reads: The cells.

    Returns:
        True for bare numbers only.
    """
    return not any(read.printed.first.unit or read.printed.second for read in reads)


def _with_unit(read: Read, amount: Amount, bare: str) -> Amount:
    if amount.unit:
        return amount
    if not bare:
        raise Asked(
            f"{read.target.name} {read.text!r} has no unit",
            "say the unit of bare numbers (unit=UNIT), or map or set its column of units",
        )
    return amount._replace(unit=bare)


def _amounts(read: Read, units: Units) -> list[Amount]:
    column = read.target.unit_column
    amounts = [_with_unit(read, read.printed.first, units.bare.get(column, ""))]
    if read.printed.second:
        amounts.append(_with_unit(read, read.printed.second, units.bare.get(BESIDE + column, "")))
        if _name(amounts[0].unit) == _name(amounts[1].unit):
            raise Asked(f"{read.target.name} {read.text!r} says two things in {amounts[0].unit}", "look at the page")
    return amounts


def _judging(amounts: Sequence[Amount], column: str, units: Units) -> str:
    """Choose the unit that judges among those the cells carry."""
    names = {_name(amount.unit): amount.unit for amount in amounts}
    if len(names) == 1:
        return next(iter(names.values()))
    wanted = units.judges or units.bare.get(column, "")
    if len(names) == 2 and _name(wanted) in names and column == "unit":
        return names[_name(wanted)]
    raise Asked(f"cells in {' and '.join(sorted(names.values()))} in one row", _SAY_UNIT)


def _check_stated(column: str, unit: str, units: Units) -> None:
    stated = units.stated.get(column, unit)
    if _name(stated) != _name(unit):
        raise Asked(f"{column} says {stated}, the cells of the row carry {unit}", "look at the page; mend the sent row")


def _of_group(column: str, reads: Sequence[Read], units: Units) -> tuple[str, list[Sided], list[Sided]]:
    """Split the cells that share a column of units: what is in the judging unit, and what is in the other."""
    amounts = [(read, _amounts(read, units)) for read in reads]
    judging = _judging([amount for _, several in amounts for amount in several], column, units)
    _check_stated(column, judging, units)
    first, second = list[Sided](), list[Sided]()
    for read, several in amounts:
        mine = [amount for amount in several if _name(amount.unit) == _name(judging)]
        if not mine:
            asks = f"{read.target.name} {read.text!r} gives nothing in {judging}, and the row is judged by {judging}"
            raise Asked(asks, "look at the page; give it in the same unit as the rest of its row")
        first.append(Sided(read, read.target.columns, mine[0]))
        second += [Sided(read, beside(read.target.columns), one) for one in several if one is not mine[0]]
    return judging, first, second


def resolve(reads: Sequence[Read], units: Units) -> tuple[dict[str, str], list[Sided]]:
    """Say which unit judges and where every amount of a row goes.

    Args:
        reads: The cells of the row that say something.
        units: What is known of units beside them.

    Returns:
        The unit by its column, and the amounts with the columns they fill.

    Raises:
        Asked: units that cannot be told apart, or a limit in the second unit only.
    """
    groups: dict[str, list[Read]] = {}
    for read in reads:
        groups.setdefault(read.target.unit_column, []).append(read)
    found, sided, second = dict[str, str](), list[Sided](), list[Sided]()
    for column, several in groups.items():
        found[column], first, rest = _of_group(column, several, units)
        sided += first
        second += rest
    for one in second:
        column = BESIDE + one.read.target.unit_column
        _check_stated(column, one.amount.unit, units)
        if _name(found.setdefault(column, one.amount.unit)) != _name(one.amount.unit):
            raise Asked(f"second units {found[column]} and {one.amount.unit} in one row", "look at the page")
    return found, [*sided, *second]


def sides(one: Sided) -> dict[str, str]:
    """Lay an amount on its columns.

    Args:
        one: The amount and its columns.

    Returns:
        The cells it fills, by column [unit of the row].

    Raises:
        Asked: a number alone for a range, a range for one column, or a least for a greatest.
    """
    amount, columns, target = one.amount, one.columns, one.read.target.name
    if len(columns) == 2:
        if amount.way is Way.ALONE:
            asks = f"{target} {one.read.text!r}: a least or a greatest cannot be told"
            raise Asked(asks, f"map its heading to {columns[0]} or {columns[1]}, or write min or max behind it")
        ends = zip(columns, (amount.least, amount.greatest), strict=True)
        return {column: text for column, text in ends if text}
    column = columns[0]
    if amount.way is Way.ALONE:
        return {column: amount.least}
    if amount.way is Way.LEAST and column.endswith(("_min", "least")):
        return {column: amount.least}
    if amount.way is Way.GREATEST and column.endswith(("_max", "greatest")):
        return {column: amount.greatest}
    raise Asked(f"{target} {one.read.text!r}: {amount.way.value} in {column}", "map the heading to what its cells hold")


def unit_cell(text: str) -> str:
    """Give the cell of a column of units the name the book writes.

    Args:
        text: As it stands in the sent table.

    Returns:
        The unit's name; the text itself where the bench knows no such unit, for the checker to find.
    """
    try:
        return unit_named(text)
    except TenthbookError:
        return text
