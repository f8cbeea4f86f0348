"""What another revision of the book would move in this job: which verdicts, which consequences, and which row did it.

A walk of the derivations: what rests on a row that differs is touched, and of what is touched some is moved. Nothing is
recorded; the job is moved by an entry of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tenthbook.numbers.because import Because
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.workup.whole import WorkUp, work_up
from tenthbook.record.workup.words import headline, word


@dataclass(frozen=True, slots=True)
class Moved:
    """A verdict or a consequence that another revision touches.

    Attributes:
        place: Row and tag, or tag alone, that it stands at.
        before: What it says by the pinned book; empty where it says nothing.
        after: What it would say; empty where it would say nothing.
        rows: Ids of the rows that differ and that it rests on.
        because: Why, by the other book; by the pinned one where it would say nothing.
    """

    place: str
    before: str
    after: str
    rows: tuple[str, ...]
    because: Because

    @property
    def is_moved(self) -> bool:
        """Whether it would say something else."""
        return self.before != self.after


def rows_that_differ(pinned: Book, other: Book) -> frozenset[str]:
    """List the rows that are not the same in two revisions of a book.

    Args:
        pinned: One revision.
        other: Another.

    Returns:
        Their ids: changed, new or gone, in any table.
    """
    found: set[str] = set()
    for table in pinned.rows.keys() | other.rows.keys():
        one, two = pinned.rows.get(table, {}), other.rows.get(table, {})
        ids = one.keys() | two.keys()
        found |= {row for row in ids if row not in one or row not in two or one[row].digest != two[row].digest}
    return frozenset(found)


def _said(work: WorkUp) -> dict[str, tuple[str, Because]]:
    told: dict[str, tuple[str, Because]] = {}
    for size in work.sizes:
        told[f"{size.part.tag} {size.size.id}"] = (headline(size.verdict), size.because)
    for fit in work.fits:
        told[f"{fit.hole.part.tag} {fit.shaft.part.tag} {fit.fit.id}"] = (headline(fit.verdict), fit.because)
    for part in work.parts:
        told[part.part.tag] = (word(part.grade), part.because)
    for one in work.consequences:
        told[f"{one.of} {one.because.rule}"] = (f"{one.force}: {one.says}", one.because)
    return told


def _named(because: Iterable[Because], differing: frozenset[str]) -> tuple[str, ...]:
    return tuple(sorted({row.row for one in because for row in one.rows if row.row in differing}))


def what_would_move(pinned: Book, other: Book, state: JobState) -> tuple[Moved, ...]:
    """Say what another revision of the book would touch in a job.

    Args:
        pinned: The book the job is judged by now.
        other: The revision it might be judged by.
        state: The job.

    Returns:
        What rests on a row that differs, or says something else: what is moved first.
    """
    differing = rows_that_differ(pinned, other)
    now, then = _said(work_up(pinned, state)), _said(work_up(other, state))
    found = []
    for place in dict.fromkeys((*now, *then)):
        before, after = now.get(place), then.get(place)
        reasons = [said[1] for said in (after, before) if said is not None]
        rows = _named(reasons, differing)
        texts = tuple("" if said is None else said[0] for said in (before, after))
        if rows or texts[0] != texts[1]:
            found.append(Moved(place, texts[0], texts[1], rows, reasons[0]))
    return tuple(sorted(found, key=lambda one: not one.is_moved))
