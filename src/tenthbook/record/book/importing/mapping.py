"""Which heading of the sent table fills which column of the book: said by a person, never guessed.

Goes in: pairs of column and heading, constants, the unit, how many decimals the manual prints. Comes out: a target for
each pair, or every fault of what was said, with the nearest name. A range such as `new` fills the two columns of its
least and greatest.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from tenthbook.numbers.because import Fault, TenthbookError
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.importing.printed import unit_named
from tenthbook.record.book.tables import TABLES

_NUMBERS = (Form.NUMBER, Form.LETTERED)
_NO_DASHES = (*_NUMBERS, Form.NUMBERS, Form.PLAIN, Form.PLAINS, Form.WHOLE, Form.QUANTITY)
_NAMED_BY = ("feature", "name")
_MOST_DECIMALS = 12


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """What a person says about a sent table.

    Attributes:
        table: Table of the book it goes into.
        headings: Heading of the sent table, by the column or range it fills.
        constants: What every row gets, by column.
        unit: Unit of a cell that carries none, and the one that judges where a row carries two.
        decimals: How many decimals the manual prints [-], by column or range, for cells held as binary numbers.
        id_prefix: What a made id begins with; nothing where ids are not made.
        replace: Whether a row of the book with the same id is replaced.
        heading_lines: How many lines the heading has [-].
    """

    table: str
    headings: Mapping[str, str]
    constants: Mapping[str, str] = field(default_factory=dict)
    unit: str = ""
    decimals: Mapping[str, int] = field(default_factory=dict)
    id_prefix: str = ""
    replace: bool = False
    heading_lines: int = 1


class Target(NamedTuple):
    """What one heading fills.

    Attributes:
        name: The column or range.
        heading: Heading of the sent table.
        place: Its place there, from 0 [-].
        columns: The column, or those of the least and the greatest.
        form: How its cells are written in the book.
        unit_column: Column that holds its unit; nothing where it has none.
        minutes: Whether its unit may be a time.
        is_limit: Whether its cells are numbers in the row's unit.
        may_be_dashes: Whether dashes in its cells mean that nothing is given.
    """

    name: str
    heading: str
    place: int
    columns: tuple[str, ...]
    form: Form
    unit_column: str
    minutes: bool
    is_limit: bool
    may_be_dashes: bool


def ranges_of(table: str) -> dict[str, tuple[str, str]]:
    """Name the ranges that a single heading may fill.

    Args:
        table: Table of the book.

    Returns:
        The columns of least and greatest by the name of the range: `new`, `service`, `range` and so on.
    """
    names = [column.name for column in TABLES[table]]
    found: dict[str, tuple[str, str]] = {}
    for name in names:
        for least, greatest, called in (("_min", "_max", ""), ("least", "greatest", "range")):
            other = name.removesuffix(least) + greatest
            if name.endswith(least) and other in names:
                found[name.removesuffix(least) + called] = (name, other)
    return found


def targets_of(table: str) -> list[str]:
    """List all that a heading may be mapped to.

    Args:
        table: Table of the book.

    Returns:
        Its columns and its ranges.
    """
    return [*(column.name for column in TABLES[table]), *ranges_of(table)]


def filled_by(table: str, target: str) -> tuple[str, ...]:
    """Say which columns a target fills.

    Args:
        table: Table of the book.
        target: A column or a range of it.

    Returns:
        The column itself, or those of least and greatest.
    """
    return ranges_of(table).get(target, (target,))


def _target(table: str, name: str, heading: str, place: int) -> Target:
    columns, known = filled_by(table, name), {column.name: column for column in TABLES[table]}
    first: Column = known[columns[0]]
    is_limit = first.form in _NUMBERS
    unit_column = first.of[0] if is_limit else ""
    minutes = is_limit and "time" in known[unit_column].of
    return Target(name, heading, place, columns, first.form, unit_column, minutes, is_limit, first.form in _NO_DASHES)


def targets(said: ColumnMap, headings: Sequence[str]) -> list[Target]:
    """Lay the said pairs on the headings of a sent table.

    Args:
        said: What the person said; without faults.
        headings: Headings of the sent table in their order.

    Returns:
        A target a pair, in the order of the book's columns.
    """
    order = {name: place for place, name in enumerate(column.name for column in TABLES[said.table])}
    found = [_target(said.table, name, heading, headings.index(heading)) for name, heading in said.headings.items()]
    return sorted(found, key=lambda target: order[target.columns[0]])


def nearest(name: str, known: Iterable[str]) -> str:
    """Say which known name was meant, perhaps.

    Args:
        name: What somebody wrote.
        known: The names there are.

    Returns:
        Words for what is expected.
    """
    names = list(known)
    folded = {one.lower(): one for one in reversed(names)}
    near = difflib.get_close_matches(name.lower(), folded, n=1)
    return f"{folded[near[0]]}, perhaps" if near else "one of " + ", ".join(names)


def _names(said: ColumnMap, headings: Sequence[str]) -> Iterator[Fault]:
    known, columns = targets_of(said.table), [column.name for column in TABLES[said.table]]
    for name, heading in said.headings.items():
        if name not in known:
            yield Fault(name, f"no such column of {said.table}", nearest(name, known))
        if heading not in headings:
            yield Fault(name, f"no heading {heading!r} in the sent table", nearest(heading, headings))
    for name, value in said.constants.items():
        if name not in columns:
            yield Fault(name, f"no such column of {said.table}", nearest(name, columns))
        elif not value or value != value.strip():
            yield Fault(name, repr(value), "a value without blanks round it")
    for name, places in said.decimals.items():
        if name not in said.headings:
            yield Fault(name, "decimals for a column no heading is mapped to", nearest(name, said.headings))
        elif not 0 <= places <= _MOST_DECIMALS:
            yield Fault(name, f"{places} decimals", f"a number from 0 to {_MOST_DECIMALS}")


def _once(said: ColumnMap) -> Iterator[Fault]:
    filled = [column for target in said.headings for column in filled_by(said.table, target)]
    filled += [*said.constants, *(["id"] if said.id_prefix else [])]
    for column in dict.fromkeys(filled):
        if filled.count(column) > 1:
            yield Fault(column, "the column filled twice", "one heading, one value or one made id for it")


def _needed(said: ColumnMap) -> Iterator[Fault]:
    given = {*said.headings, *said.constants, "unit", *(["id"] if said.id_prefix else [])}
    for column in TABLES[said.table]:
        if column.needed and column.name not in given:
            yield Fault(column.name, "neither mapped nor set, and every row needs it", column.says)


def _ids(said: ColumnMap) -> Iterator[Fault]:
    if said.id_prefix and not any(name in said.headings for name in _NAMED_BY):
        own = [column.name for column in TABLES[said.table] if column.name in _NAMED_BY]
        expected = f"a heading mapped to {own[0]}" if own else "a heading mapped to id"
        yield Fault("id", "nothing to make ids from", expected)


def _units(said: ColumnMap) -> Iterator[Fault]:
    if not said.unit:
        return
    constant = said.constants.get("unit", said.unit)
    if "unit" not in [column.name for column in TABLES[said.table]]:
        yield Fault("unit", said.unit, f"no unit; {said.table} has no column for one")
    elif constant != said.unit:
        yield Fault("unit", f"{said.unit} and {constant}", "one unit that judges")
    try:
        unit_named(said.unit)
    except TenthbookError as error:
        yield Fault("unit", error.found, error.expected)


def mapping_faults(said: ColumnMap, headings: Sequence[str]) -> list[Fault]:
    """Find everything wrong with what a person said about a table.

    Args:
        said: What was said.
        headings: Headings of the sent table.

    Returns:
        A fault each: unknown columns and headings with the nearest name, columns filled twice, needed columns that
        nothing fills.
    """
    if said.table not in TABLES:
        return [Fault("table", repr(said.table), nearest(said.table, TABLES))]
    faults = list(_names(said, headings))
    return [*faults, *_once(said), *_needed(said), *_ids(said), *_units(said)]


def named_by(said: ColumnMap) -> str:
    """Say which column ids are made from.

    Args:
        said: What a person said, without faults.

    Returns:
        `feature` or `name`, whichever of them a heading fills.
    """
    return next(name for name in _NAMED_BY if name in said.headings)
