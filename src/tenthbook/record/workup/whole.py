"""All that follows from a book and a job, in one value."""

from __future__ import annotations

from dataclasses import dataclass

from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.workup.undone import Undone, list_undone
from tenthbook.record.workup.verdicts import FitVerdict, PartVerdict, SizeVerdict, judge_fits, judge_part, judge_size


@dataclass(frozen=True, slots=True)
class WorkUp:
    """What follows from a job at one head.

    Attributes:
        head: Hash of the entry it was worked up to.
        sizes: Verdicts on measured sizes, by part as removed, then in the book's order.
        fits: Verdicts on fits, in the book's order.
        parts: Verdicts on parts, as removed.
        undone: What is still to do.
    """

    head: str
    sizes: tuple[SizeVerdict, ...]
    fits: tuple[FitVerdict, ...]
    parts: tuple[PartVerdict, ...]
    undone: tuple[Undone, ...]

    def size(self, tag: str, row: str) -> SizeVerdict | None:
        """Find the verdict on one feature.

        Args:
            tag: Tag of the part.
            row: Id of the size row.

        Returns:
            The verdict, or None where it is not measured.
        """
        return next((size for size in self.sizes if (size.part.tag, size.size.id) == (tag, row)), None)

    def fits_of(self, tag: str, row: str) -> list[FitVerdict]:
        """Find the fits that a measured feature takes part in.

        Args:
            tag: Tag of the part.
            row: Id of the size row.

        Returns:
            Their verdicts.
        """
        place = (tag, row)
        return [fit for fit in self.fits for side in (fit.hole, fit.shaft) if (side.part.tag, side.size.id) == place]


def work_up(book: Book, state: JobState) -> WorkUp:
    """Work a job up.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        Every verdict with its reason, and what is undone.
    """
    judged = (judge_size(book, state, part, size) for part in state.parts.values() for size in book.sizes_of(part.part))
    sizes = tuple(size for size in judged if size is not None)
    fits = tuple(judge_fits(book, state, sizes))
    found = (judge_part(book, part, sizes, fits) for part in state.parts.values())
    parts = tuple(part for part in found if part is not None)
    return WorkUp(state.head, sizes, fits, parts, tuple(list_undone(book, state, parts)))
