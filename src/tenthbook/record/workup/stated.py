"""What a row states, resolved for the part in hand: the limits its size is judged by, with the working.

An allowance, a rate, a share or a multiple comes to a least or a greatest only with something of the part: a diameter,
a length, its size when new, another row. What is not known is named, and the size has no limit until it is; a feel or
a condition is a question only a person can answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import chain
from typing import TypeVar

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.limit import Limits
from tenthbook.numbers.limit.kinds import Absolute, NoneGiven
from tenthbook.numbers.limit.resolving import Known, Missing, Resolved, resolve
from tenthbook.numbers.quantity import Quantity, Unit, shown
from tenthbook.record.book import Book, Fit, LimitRow, Size
from tenthbook.record.job import JobState

_Row = TypeVar("_Row", Size, Fit)
HALF = "printed on the radius, a side or half the swing: twice the printed limit is the whole"


def as_quantity(value: Fraction, unit: Unit, decimals: int) -> Quantity:
    """Write an exact value as a quantity.

    Args:
        value: The value in the coherent unit of its kind [m, N, ...].
        unit: The unit to write it in.
        decimals: Least decimals.

    Returns:
        The quantity, not rounded where its digits end.
    """
    return Quantity(shown(value / unit.factor, decimals), unit)


def measured(book: Book, state: JobState, row: str, tag: str) -> Quantity | None:
    """Give the measured size that a rate counts on.

    Args:
        book: The pinned book.
        state: The job.
        row: Id of the size row.
        tag: Tag of the part in hand, which is asked first.

    Returns:
        The mean of the readings that count, on this part, else on the only part that has it; None where it is not
        measured or not clear [unit of the row].
    """
    size = book.sizes.get(row)
    if size is None:
        return None
    others = [part.tag for part in state.parts.values() if part.part == size.part and part.tag != tag]
    tags = [tag] if state.standing(tag, row) else [one for one in others if state.standing(one, row)]
    if len(tags) != 1:
        return None
    readings = [reading.value for reading in state.standing(tags[0], row)]
    mean = sum((value.exact for value in readings), Fraction(0)) / len(readings)
    return as_quantity(mean, size.unit, max(value.decimals for value in readings))


class _LimitsOf(Mapping[str, Limits]):
    """The limits of every row by its id, looked up when they are asked for."""

    def __init__(self, book: Book) -> None:
        self._book = book

    def __getitem__(self, row: str) -> Limits:
        return (self._book.sizes[row] if row in self._book.sizes else self._book.fits[row]).limits

    def __iter__(self) -> Iterator[str]:
        return chain(self._book.sizes, self._book.fits)

    def __len__(self) -> int:
        return len(self._book.sizes) + len(self._book.fits)


def _known(book: Book, state: JobState, row: LimitRow, tag: str, found: Quantity) -> Known:
    over = measured(book, state, row.over, tag) if row.over else None
    return Known(diameter=over, length=over, found=found, rows=_LimitsOf(book))


def stated(book: Book, state: JobState, row: _Row, tag: str, found: Quantity) -> tuple[_Row, list[str]]:
    """Resolve a row for the part in hand.

    Args:
        book: The pinned book.
        state: The job.
        row: The row.
        tag: Tag of the part, or of the outer part of a fit.
        found: The size found [unit of the row].

    Returns:
        The row with the limits to judge by [unit as printed], and the working, a line each.
    """
    lines: list[str] = [HALF] if row.half else []
    if isinstance(row.said, Absolute | NoneGiven):
        return row, lines
    try:
        resolved: Resolved = resolve(row.said, _known(book, state, row, tag, found))
    except Missing as missing:
        over = f" ({row.over})" if row.over else ""
        line = f"{missing.found}{over}: the limit cannot be worked out; {missing.todo}"
        return replace(row, limits=Limits(row.limits.new)), [*lines, line]
    except TenthbookError as error:
        return replace(row, limits=Limits(row.limits.new)), [*lines, str(error)]
    new = resolved.limits.new if resolved.limits.new.given else row.limits.new
    lines += [*resolved.arithmetic, *([resolved.question] if resolved.question else [])]
    return replace(row, limits=Limits(new, resolved.limits.service)), lines
