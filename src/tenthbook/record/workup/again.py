"""A work-up after readings alone: what they did not touch is taken as it stands.

Most of what is recorded is one more reading. It changes the verdict on one feature, on the sizes whose limit counts on
it, on its fits, and on their parts; nothing else is looked at again. Anything but readings, notes and the like is left
to the whole work-up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Entry
from tenthbook.record.workup.verdicts import FitVerdict, PartVerdict, SizeVerdict, judge_fit, judge_part, judge_size

Place = tuple[str, str]
_TOUCHES_NOTHING = frozenset({"noted", "photographed", "question asked", "papers issued", "put down", "taken up"})


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdicts of a job.

    Attributes:
        sizes: On measured sizes.
        fits: On fits.
        parts: On parts.
    """

    sizes: tuple[SizeVerdict, ...]
    fits: tuple[FitVerdict, ...]
    parts: tuple[PartVerdict, ...]


def read_since(state: JobState, entries: Sequence[Entry]) -> frozenset[Place] | None:
    """Say which features were read.

    Args:
        state: The job after the entries.
        entries: What was recorded since.

    Returns:
        Tag and row of each; None where something else was recorded, too.
    """
    places: set[Place] = set()
    for entry in entries:
        number = entry.data.get("entry") if entry.kind == "question answered" else entry.number
        if entry.kind in ("reading taken", "question answered") and entry.number not in state.unknown:
            reading = state.readings.get(number) if isinstance(number, int) else None
            places |= {(reading.tag, reading.row)} if reading is not None else set()
        elif entry.kind not in _TOUCHES_NOTHING:
            return None
    return frozenset(places)


def judged_again(book: Book, state: JobState, before: Judged, read: frozenset[Place]) -> Judged | None:
    """Judge again what readings touched.

    Args:
        book: The pinned book.
        state: The job.
        before: The verdicts before the readings.
        read: The features that were read.

    Returns:
        The verdicts; None where a feature was read for the first time, or cannot be judged.
    """
    sizes = {(one.part.tag, one.size.id): one for one in before.sizes}
    if not read <= sizes.keys():
        return None
    rows = {row for _, row in read}
    touched = read | {place for place, one in sizes.items() if one.size.over in rows}
    for place in touched:
        anew = judge_size(book, state, sizes[place].part, book.sizes[place[1]])
        if anew is None:
            return None
        sizes[place] = anew
    fits = tuple(_fit_again(book, state, fit, sizes, touched, rows) for fit in before.fits)
    tags = {tag for tag, _ in touched} | _tags_of(before.fits, fits)
    parts = tuple(_part_again(book, part, sizes.values(), fits, tags) for part in before.parts)
    whole = tuple(one for one in parts if one is not None)
    return Judged(tuple(sizes.values()), fits, whole) if len(whole) == len(before.parts) else None


def _fit_again(
    book: Book,
    state: JobState,
    fit: FitVerdict,
    sizes: dict[Place, SizeVerdict],
    touched: frozenset[Place],
    rows: set[str],
) -> FitVerdict:
    hole, shaft = ((side.part.tag, side.size.id) for side in (fit.hole, fit.shaft))
    if hole not in touched and shaft not in touched and fit.fit.over not in rows:
        return fit
    return judge_fit(book, state, book.fits[fit.fit.id], sizes[hole], sizes[shaft])


def _tags_of(before: Sequence[FitVerdict], after: Sequence[FitVerdict]) -> set[str]:
    changed = (new for old, new in zip(before, after, strict=True) if new is not old)
    return {side.part.tag for fit in changed for side in (fit.hole, fit.shaft)}


def _part_again(
    book: Book, part: PartVerdict, sizes: Iterable[SizeVerdict], fits: Sequence[FitVerdict], tags: set[str]
) -> PartVerdict | None:
    return part if part.part.tag not in tags else judge_part(book, part.part, tuple(sizes), fits)
