"""All that follows from a book and a job, in one value."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial

from tenthbook.record.book import Book, Size
from tenthbook.record.job import JobState, PartOnBench
from tenthbook.record.workup.consequences import Consequence, consequences_of
from tenthbook.record.workup.remembered import Inputs, Remembered
from tenthbook.record.workup.undone import Undone, list_undone
from tenthbook.record.workup.verdicts import (
    FitVerdict,
    PartVerdict,
    SizeVerdict,
    judge_fit,
    judge_part,
    judge_size,
    pairs_of,
)


@dataclass(frozen=True, slots=True)
class WorkUp:
    """What follows from a job at one head.

    Attributes:
        head: Hash of the entry it was worked up to.
        sizes: Verdicts on measured sizes, by part as removed, then in the book's order.
        fits: Verdicts on fits, in the book's order.
        parts: Verdicts on parts, as removed.
        consequences: What is forced, what is suspect, what can hurt.
        undone: What is still to do.
        book: The book it was worked up by.
        remembered: The verdicts beside what they were drawn from, for the next work-up.
    """

    head: str
    sizes: tuple[SizeVerdict, ...]
    fits: tuple[FitVerdict, ...]
    parts: tuple[PartVerdict, ...]
    consequences: tuple[Consequence, ...]
    undone: tuple[Undone, ...]
    book: Book = field(repr=False, compare=False)
    remembered: Remembered = field(repr=False, compare=False)

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


@dataclass(slots=True)
class _Drawing:
    """One work-up while it is made."""

    book: Book
    state: JobState
    memory: Remembered
    settings: Inputs

    def sizes(self) -> Iterator[SizeVerdict]:
        book, state = self.book, self.state
        for part in state.parts.values():
            for size in book.sizes_of(part.part):
                numbers = state.features.get((part.tag, size.id))
                if not numbers:
                    continue
                sign = (part, numbers, state.last_mended, self.settings, self._features_of(size.over))
                inputs = partial(self._inputs, part, size)
                judging = partial(judge_size, book, state, part, size)
                judged = self.memory.draw(("size", part.tag, size.id), sign, inputs, judging)
                if judged is not None:
                    yield judged

    def _features_of(self, over: str) -> Inputs:
        """Numbers of the readings that a rate counts on."""
        return tuple(self.state.features.get((tag, over)) for tag in self.state.parts) if over else ()

    def _inputs(self, part: PartOnBench, size: Size) -> Inputs:
        state = self.state
        over = tuple((tag, *state.standing(tag, size.over)) for tag in state.parts) if size.over else ()
        return (part, tuple(state.standing(part.tag, size.id)), self.settings, over)

    def fits(self, sizes: Sequence[SizeVerdict]) -> Iterator[FitVerdict]:
        for fit, hole, shaft in pairs_of(self.book, sizes):
            sign = (hole, shaft, self.settings, self._features_of(fit.over), self.state.last_mended if fit.over else 0)
            judging = partial(judge_fit, self.book, self.state, fit, hole, shaft)
            place = ("fit", fit.id, hole.part.tag, shaft.part.tag)
            yield self.memory.draw(place, sign, partial(tuple, sign), judging)

    def parts(self, sizes: Sequence[SizeVerdict], fits: Sequence[FitVerdict]) -> Iterator[PartVerdict]:
        own_sizes: dict[str, list[SizeVerdict]] = {}
        own_fits: dict[str, list[FitVerdict]] = {}
        for size in sizes:
            own_sizes.setdefault(size.part.tag, []).append(size)
        for fit in fits:
            for tag in {fit.hole.part.tag, fit.shaft.part.tag}:
                own_fits.setdefault(tag, []).append(fit)
        for part in self.state.parts.values():
            of = (tuple(own_sizes.get(part.tag, ())), tuple(own_fits.get(part.tag, ())))
            sign = (part, *of)
            judging = partial(judge_part, self.book, part, *of)
            judged = self.memory.draw(("part", part.tag), sign, partial(tuple, sign), judging)
            if judged is not None:
                yield judged


def work_up(book: Book, state: JobState, before: WorkUp | None = None) -> WorkUp:
    """Work a job up.

    Args:
        book: The pinned book.
        state: The job.
        before: What it was worked up to earlier; verdicts whose neighbourhood did not change are taken from it.

    Returns:
        Every verdict with its reason, what follows for each part, and what is undone; the same with and without
        `before`.
    """
    earlier = before.remembered if before is not None and before.book is book else None
    settings = (state.rule, state.conformance, tuple(state.gauges.values()), tuple(state.gauge_sets.values()))
    drawing = _Drawing(book, state, Remembered(earlier), settings)
    sizes = tuple(drawing.sizes())
    fits = tuple(drawing.fits(sizes))
    parts = tuple(drawing.parts(sizes, fits))
    follows = consequences_of(book, state, sizes)
    undone = tuple(list_undone(book, state, sizes, parts, follows))
    return WorkUp(state.head, sizes, fits, parts, follows, undone, book, drawing.memory.close())
