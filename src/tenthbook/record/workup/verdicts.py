"""A verdict on each measured size, each fit and each part, with the working as printed.

A size is the mean of its readings that count, exact. A fit is the size called `hole` less the size called `shaft`. A
part is as bad as the worst of its sizes and fits; a size that its own row gives no limit for is settled by the fit
that names it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from tenthbook.numbers.because import Because, BookRow
from tenthbook.numbers.limit import Grade, Verdict, judge, worst
from tenthbook.numbers.limit.rules import RULE_OF_GRADE, WORST
from tenthbook.numbers.quantity import lettered, shown
from tenthbook.record.book import Book, Fit, LimitRow, Size
from tenthbook.record.job import JobState, PartOnBench, Reading
from tenthbook.record.workup.words import distance_text, headline, word


@dataclass(frozen=True, slots=True)
class SizeVerdict:
    """One feature of one part against its row.

    Attributes:
        part: The part measured.
        size: The book's row.
        value: Mean of the readings that count [m], exact.
        text: The same in the row's unit, with its digits [in or mm].
        decimals: Decimals it was typed with.
        verdict: Where it lies.
        because: Why.
    """

    part: PartOnBench
    size: Size
    value: Fraction
    text: str
    decimals: int
    verdict: Verdict
    because: Because

    @property
    def name(self) -> str:
        """What was measured, in the book's words."""
        return self.size.feature


@dataclass(frozen=True, slots=True)
class FitVerdict:
    """One fit of two measured parts against its row.

    Attributes:
        fit: The book's row.
        hole: The measured size of the outer part.
        shaft: The measured size of the inner part.
        value: Clearance [m], exact; tight is negative.
        text: The same in the row's unit, with its letter where it is tight [in or mm].
        verdict: Where it lies.
        because: Why.
    """

    fit: Fit
    hole: SizeVerdict
    shaft: SizeVerdict
    value: Fraction
    text: str
    verdict: Verdict
    because: Because

    @property
    def name(self) -> str:
        """What the manual calls the fit."""
        return self.fit.name


@dataclass(frozen=True, slots=True)
class PartVerdict:
    """A part, as bad as the worst of what was measured on it."""

    part: PartOnBench
    name: str
    grade: Grade
    because: Because


def _row(row: LimitRow) -> BookRow:
    return BookRow(row.id, row.page, row.digest)


def _entries(readings: Iterable[Reading]) -> tuple[int, ...]:
    return tuple(sorted({reading.entry for reading in readings}))


def _against(text: str, row: LimitRow, verdict: Verdict) -> str:
    """Write the comparison that decided."""
    if verdict.limit is None:
        new = row.limits.new
        outside = f"{text} lies outside new {new}; " if new.given else ""
        return f"{outside}the book gives no {'service ' if outside else ''}limit"
    kind = "new" if verdict.grade is Grade.NEW else "service"
    band = row.limits.new if kind == "new" else row.limits.service_resolved
    end = "least" if band.lower is not None and verdict.limit.exact == band.lower.exact else "greatest"
    gap = distance_text(verdict)
    lies = f"{verdict.side} by {gap}" if verdict.side else f"within by {gap}"
    return f"{text} against {kind} {end} {verdict.limit.typed} {row.unit.name}: {lies}"


def _mean_line(readings: Sequence[Reading], size: Size, text: str) -> str:
    typed = ", ".join(
        str(reading.value) if reading.value.unit != size.unit else reading.value.typed for reading in readings
    )
    if len(readings) == 1:
        same = readings[0].value.unit == size.unit
        return f"read {typed}{' ' + size.unit.name if same else f' = {text} {size.unit.name}'}"
    return f"mean of {typed} = {text} {size.unit.name}"


def judge_size(state: JobState, part: PartOnBench, size: Size) -> SizeVerdict | None:
    """Judge one feature of one part.

    Args:
        state: The job.
        part: A part on the bench.
        size: The row of the feature.

    Returns:
        The verdict; None while no reading counts.
    """
    readings = state.standing(part.tag, size.id)
    if not readings:
        return None
    value = sum((reading.value.exact for reading in readings), Fraction(0)) / len(readings)
    decimals = max(reading.value.decimals for reading in readings)
    text = shown(value / size.unit.factor, decimals)
    verdict = judge(value, size.limits)
    arithmetic = (_mean_line(readings, size, text), _against(text, size, verdict))
    because = Because(RULE_OF_GRADE[verdict.grade].id, _entries(readings), (_row(size),), arithmetic)
    return SizeVerdict(part, size, value, text, decimals, verdict, because)


def judge_fit(fit: Fit, hole: SizeVerdict, shaft: SizeVerdict) -> FitVerdict:
    """Judge one fit.

    Args:
        fit: The row.
        hole: The measured size of the outer part.
        shaft: The measured size of the inner part.

    Returns:
        The verdict on hole less shaft.
    """
    value = hole.value - shaft.value
    in_unit, decimals = value / fit.unit.factor, max(hole.decimals, shaft.decimals)
    text = lettered(in_unit, decimals) if in_unit < 0 else shown(in_unit, decimals)
    verdict = judge(value, fit.limits)
    units = {hole.size.unit, shaft.size.unit, fit.unit}
    hole_unit, shaft_unit = (f" {side.size.unit.name}" if len(units) > 1 else "" for side in (hole, shaft))
    tight = " (tight)" if in_unit < 0 else ""
    sum_line = f"{hole.text}{hole_unit} - {shaft.text}{shaft_unit} = {shown(in_unit, decimals)} {fit.unit.name}{tight}"
    entries = tuple(sorted({*hole.because.entries, *shaft.because.entries}))
    rows = (_row(fit), _row(hole.size), _row(shaft.size))
    because = Because(RULE_OF_GRADE[verdict.grade].id, entries, rows, (sum_line, _against(text, fit, verdict)))
    return FitVerdict(fit, hole, shaft, value, text, verdict, because)


def judge_fits(book: Book, sizes: Sequence[SizeVerdict]) -> list[FitVerdict]:
    """Judge every fit whose two sizes are measured.

    Args:
        book: The book.
        sizes: What was measured.

    Returns:
        One verdict a fit and pair of parts; where a part is kept to its position, only parts of one position are
        paired.
    """
    by_row: dict[str, list[SizeVerdict]] = {}
    for size in sizes:
        by_row.setdefault(size.size.id, []).append(size)
    return [
        judge_fit(fit, hole, shaft)
        for fit in book.fits.values()
        for hole in by_row.get(fit.hole, [])
        for shaft in by_row.get(fit.shaft, [])
        if hole.part.position == shaft.part.position
    ]


def judge_part(
    book: Book, part: PartOnBench, sizes: Sequence[SizeVerdict], fits: Sequence[FitVerdict]
) -> PartVerdict | None:
    """Say how a part stands: the worst verdict rules.

    Args:
        book: The book.
        part: A part on the bench.
        sizes: All measured sizes.
        fits: All judged fits.

    Returns:
        The verdict; None while nothing on the part is measured.
    """
    own_sizes = [size for size in sizes if size.part.tag == part.tag]
    own_fits = [fit for fit in fits if part.tag in (fit.hole.part.tag, fit.shaft.part.tag)]
    settled = {
        row for fit in own_fits if fit.verdict.grade is not Grade.NO_LIMIT for row in (fit.fit.hole, fit.fit.shaft)
    }
    ruling: list[SizeVerdict | FitVerdict] = [
        size for size in own_sizes if size.verdict.grade is not Grade.NO_LIMIT or size.size.id not in settled
    ]
    ruling += own_fits
    if not ruling:
        return None
    grade = worst(judged.verdict.grade for judged in ruling)
    entries = tuple(sorted({number for judged in ruling for number in judged.because.entries}))
    rows = tuple(dict.fromkeys(row for judged in ruling for row in judged.because.rows))
    lines = [f"{judged.name} {judged.text}: {headline(judged.verdict)}" for judged in ruling]
    because = Because(WORST.id, entries, rows, (*lines, f"the worst of these rules: {word(grade)}"))
    return PartVerdict(part, book.parts[part.part].name, grade, because)
