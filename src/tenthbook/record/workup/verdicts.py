"""A verdict on each measured size, each fit and each part, with the working as printed.

A size is the mean of its readings that count, exact. A fit is the size called `hole` less the size called `shaft`. A
part is as bad as the worst of its sizes and fits; a size that its own row gives no limit for is settled by the fit
that names it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from tenthbook.numbers.because import Because, BookRow
from tenthbook.numbers.limit import Grade, Verdict, worst
from tenthbook.numbers.limit.rules import RULE_OF_GRADE, WORST
from tenthbook.numbers.quantity import lettered, shown
from tenthbook.record.book import Book, Fit, LimitRow, Size
from tenthbook.record.job import Gauge, JobState, PartOnBench, Reading
from tenthbook.record.workup.doubt import UNDECIDED, Ruling, Way, doubt_lines, rule_on
from tenthbook.record.workup.forecasts import Forecast, forecasts_of
from tenthbook.record.workup.stated import as_quantity, stated
from tenthbook.record.workup.words import distance_text, headline, word
from tenthbook.trade.gauge.roots import exact_root


@dataclass(frozen=True, slots=True)
class SizeVerdict:
    """One feature of one part against its row.

    Attributes:
        part: The part measured.
        size: The book's row.
        value: Mean of the readings that count [m], exact.
        text: The same in the row's unit, with its digits [in or mm].
        decimals: Decimals it was typed with.
        verdict: Where it lies, after doubt.
        because: Why.
    """

    part: PartOnBench
    size: Size
    value: Fraction
    text: str
    decimals: int
    verdict: Ruling
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
        verdict: Where it lies, after doubt.
        because: Why.
        decimals: Decimals its sizes were typed with.
        book: The book it was judged by.
    """

    fit: Fit
    hole: SizeVerdict
    shaft: SizeVerdict
    value: Fraction
    text: str
    verdict: Ruling
    because: Because
    decimals: int
    book: Book = field(repr=False, compare=False)

    @property
    def forecasts(self) -> tuple[Forecast, ...]:
        """What new parts would make of it; reckoned when it is asked for."""
        hole, shaft = ((side.value, side.verdict.standard_uncertainty) for side in (self.hole, self.shaft))
        return forecasts_of(self.book, self.fit, hole, shaft, self.decimals)

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
    in_new = verdict.grade is Grade.NEW or (verdict.grade is Grade.UNDECIDED and not row.limits.service.given)
    kind = "new" if in_new else "service"
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


def judge_size(book: Book, state: JobState, part: PartOnBench, size: Size) -> SizeVerdict | None:
    """Judge one feature of one part.

    Args:
        book: The pinned book.
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
    gauges = _gauges(state, readings)
    size, working = stated(book, state, size, part.tag, as_quantity(value, size.unit, decimals))
    ruling = rule_on(value, gauges[0].standard_uncertainty if gauges else None, size.limits, state)
    lines = [_mean_line(readings, size, text), *working, _against(text, size, ruling)]
    lines += doubt_lines(ruling, size.unit, gauges, _ways(state, gauges), state)
    entries = tuple(sorted({*_entries(readings), *(gauge.entry for gauge in gauges)}))
    because = Because(_deciding_rule(ruling), entries, (_row(size),), tuple(lines))
    return SizeVerdict(part, size, value, text, decimals, ruling, because)


def _gauges(state: JobState, readings: Iterable[Reading]) -> list[Gauge]:
    """The gauges as they were set for the readings, the one in most doubt first."""
    set_then = dict.fromkeys(reading.gauge_set for reading in readings)
    gauges = [state.gauge_sets[number] for number in set_then if number in state.gauge_sets]
    return sorted(gauges, key=lambda one: -one.standard_uncertainty)


def _ways(state: JobState, gauges: Sequence[Gauge]) -> list[Way]:
    """The ways a feature can be read: with any gauge that measures what its own gauge measures."""
    kinds = {gauge.measures for gauge in gauges}
    return [Way((one,), one.standard_uncertainty) for one in state.gauges.values() if one.measures in kinds]


def _ways_of_fit(state: JobState, hole: SizeVerdict, shaft: SizeVerdict) -> list[Way]:
    """The ways the two sizes of a fit can be read: one of them anew, or both."""
    ways = []
    for one, other in itertools.product(_ways_of_side(state, hole), _ways_of_side(state, shaft)):
        u = exact_root(one.standard_uncertainty**2 + other.standard_uncertainty**2)
        ways.append(Way((*one.gauges, *other.gauges), u))
    return [way for way in ways if way.gauges]


def _ways_of_side(state: JobState, side: SizeVerdict) -> list[Way]:
    """As it was read, which takes no gauge, and every other way."""
    readings = state.standing(side.part.tag, side.size.id)
    as_read = [Way((), u) for u in (side.verdict.standard_uncertainty,) if u is not None]
    return [*as_read, *_ways(state, _gauges(state, readings))]


def _deciding_rule(ruling: Ruling) -> str:
    return UNDECIDED.id if ruling.grade is Grade.UNDECIDED else RULE_OF_GRADE[ruling.grade].id


def _together(hole: SizeVerdict, shaft: SizeVerdict) -> Fraction | None:
    """Standard uncertainty of hole less shaft [m], the two taken as independent; None where one is not known."""
    one, other = hole.verdict.standard_uncertainty, shaft.verdict.standard_uncertainty
    if one is None or other is None:
        return None
    return exact_root(one**2 + other**2)


def judge_fit(book: Book, state: JobState, fit: Fit, hole: SizeVerdict, shaft: SizeVerdict) -> FitVerdict:
    """Judge one fit.

    Args:
        book: The pinned book.
        state: The job.
        fit: The row.
        hole: The measured size of the outer part.
        shaft: The measured size of the inner part.

    Returns:
        The verdict on hole less shaft.
    """
    value = hole.value - shaft.value
    in_unit, decimals = value / fit.unit.factor, max(hole.decimals, shaft.decimals)
    text = lettered(in_unit, decimals) if in_unit < 0 else shown(in_unit, decimals)
    fit, working = stated(book, state, fit, hole.part.tag, as_quantity(value, fit.unit, decimals))
    ruling = rule_on(value, _together(hole, shaft), fit.limits, state)
    lines = [_difference_line(fit, hole, shaft, in_unit, decimals), *working, _against(text, fit, ruling)]
    lines += doubt_lines(ruling, fit.unit, (), _ways_of_fit(state, hole, shaft), state)
    entries = tuple(sorted({*hole.because.entries, *shaft.because.entries}))
    rows = (_row(fit), _row(hole.size), _row(shaft.size))
    because = Because(_deciding_rule(ruling), entries, rows, tuple(lines))
    return FitVerdict(fit, hole, shaft, value, text, ruling, because, decimals, book)


def _difference_line(fit: Fit, hole: SizeVerdict, shaft: SizeVerdict, in_unit: Fraction, decimals: int) -> str:
    units = {hole.size.unit, shaft.size.unit, fit.unit}
    hole_unit, shaft_unit = (f" {side.size.unit.name}" if len(units) > 1 else "" for side in (hole, shaft))
    tight = " (tight)" if in_unit < 0 else ""
    return f"{hole.text}{hole_unit} - {shaft.text}{shaft_unit} = {shown(in_unit, decimals)} {fit.unit.name}{tight}"


def pairs_of(book: Book, sizes: Sequence[SizeVerdict]) -> Iterator[tuple[Fit, SizeVerdict, SizeVerdict]]:
    """Pair the measured sizes of every fit.

    Args:
        book: The pinned book.
        sizes: What was measured.

    Yields:
        The row with its outer and its inner size, once a fit and pair of parts; where a part is kept to its position,
        only parts of one position are paired.
    """
    by_row: dict[str, list[SizeVerdict]] = {}
    for size in sizes:
        by_row.setdefault(size.size.id, []).append(size)
    for fit in book.fits.values():
        for hole in by_row.get(fit.hole, []):
            for shaft in by_row.get(fit.shaft, []):
                if hole.part.position == shaft.part.position:
                    yield fit, hole, shaft


def _open_ended(size: SizeVerdict) -> bool:
    """Whether the row gives no service limit and new limits alone do not prove the size."""
    return size.verdict.grade in (Grade.NO_LIMIT, Grade.UNDECIDED) and not size.size.limits.service.given


def judge_part(
    book: Book, part: PartOnBench, sizes: Sequence[SizeVerdict], fits: Sequence[FitVerdict]
) -> PartVerdict | None:
    """Say how a part stands: the worst verdict rules.

    Args:
        book: The book.
        part: A part on the bench.
        sizes: What was measured, on it and on others.
        fits: What was judged, of it and of others.

    Returns:
        The verdict; None while nothing on the part is measured.
    """
    own_sizes = [size for size in sizes if size.part.tag == part.tag]
    own_fits = [fit for fit in fits if part.tag in (fit.hole.part.tag, fit.shaft.part.tag)]
    settled = {
        row for fit in own_fits if fit.verdict.grade is not Grade.NO_LIMIT for row in (fit.fit.hole, fit.fit.shaft)
    }
    ruling: list[SizeVerdict | FitVerdict] = [
        size for size in own_sizes if not (_open_ended(size) and size.size.id in settled)
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
