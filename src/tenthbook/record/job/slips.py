"""Does a reading look like a missed turn? It asks, and never proposes a number.

A thimble misread by one turn is 0.025 in or 0.5 mm off, a dial by 0.100 in or 1 mm. The question is asked where the
reading as typed lies far from everything expected and one turn more or less would not.

Source: common practice, no source; how near counts is a rule of this book.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity import Quantity, quantity
from tenthbook.numbers.quantity.arrays import picometres
from tenthbook.record.book import Book, Size
from tenthbook.record.job.state import JobState
from tenthbook.trade.gauge.slips import TURNS_INCH, TURNS_METRIC, ask_about_turn


def _span(size: Size) -> tuple[Any, Any] | None:
    """From the least to the greatest of all limits the row states [pm]."""
    bands = (size.limits.new, size.limits.service)
    stated = picometres([side for band in bands for side in (band.lower, band.upper) if side is not None])
    return (min(stated), max(stated)) if len(stated) else None


def _another_thing(size: Size, read: Quantity) -> str | None:
    """Ask where a body reads less than half or more than twice its limits: another unit, a point one place out."""
    span = _span(size)
    if span is None or span[0] * 10 <= span[1] * 9:
        return None
    value = picometres([read])[0]
    if span[0] <= 2 * value and value <= 2 * span[1]:
        return None
    return f"{read} is of another order of size than its row: is the unit right, and the point in its place?"


def _last(state: JobState, tag: str, row: str, leaving_out: int) -> Quantity | None:
    standing = [one for one in state.standing(tag, row) if one.entry != leaving_out]
    return standing[-1].value if standing else None


def question_about(state: JobState, book: Book, data: Mapping[str, Any], *, leaving_out: int = -1) -> str | None:
    """Ask about a reading that may be one turn off.

    Args:
        state: The job.
        book: The pinned book.
        data: Fields of the reading as typed.
        leaving_out: Number of a reading that it would take the place of; -1 for none.

    Returns:
        The question; None where there is nothing to ask, or where the reading cannot be read at all.
    """
    size = book.sizes.get(str(data.get("row")))
    try:
        read = quantity(str(data.get("value")))
    except TenthbookError:
        return None
    if size is None or read.unit.kind != "length":
        return None
    last = _last(state, str(data.get("tag")), size.id, leaving_out)
    last_pm = None if last is None else picometres([last])[0]
    for turn in TURNS_METRIC if read.unit.name in ("mm", "cm", "m", "um") else TURNS_INCH:
        asked = ask_about_turn(picometres([read])[0], turn, _span(size), last_pm)
        way = "more" if asked.one_more else "less" if asked.one_less else ""
        if way:
            turned = f"one turn {way} of the {turn.name}, would not"
            return f"{read} lies far from what was expected; {turned}: was a turn missed?"
    return _another_thing(size, read)
