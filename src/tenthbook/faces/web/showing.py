"""From verdicts to finished strings and drawings.

A template prints these as they are; it never formats a measured number and never decides what a verdict is called.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from tenthbook.faces.draw import draw_edge, draw_gap
from tenthbook.faces.draw.verdicts import drawing_of_fit, drawing_of_size
from tenthbook.record.book import Book, Size
from tenthbook.record.job import JobState, PartOnBench
from tenthbook.record.workup import FitVerdict, PartVerdict, SizeVerdict, WorkUp, headline, mark_of
from tenthbook.record.workup.words import word


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing in its two layouts; the SVG is our own and every text in it is escaped."""

    wide: SafeString
    narrow: SafeString


@dataclass(frozen=True, slots=True)
class Shown:
    """A verdict as the page prints it."""

    name: str
    place: str
    value: str
    unit: str
    mark: str
    verdict: str
    because: list[str]
    picture: Picture | None
    with_new_parts: list[str]


@dataclass(frozen=True, slots=True)
class Asked:
    """An open question as the page prints it."""

    entry: str
    place: str
    asks: str


@dataclass(frozen=True, slots=True)
class GaugeChoice:
    """A gauge that can be chosen for the armed field."""

    id: str
    name: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Feature:
    """A feature that can be measured, and what stands there."""

    tag: str
    row: str
    part: str
    name: str
    unit: str
    limits: str
    page: str
    readings: list[str]
    last: str
    armed: bool


def _safe(svg: str) -> SafeString:
    return mark_safe(svg)


def show_fit(book: Book, judged: FitVerdict, name: str = "") -> Shown:
    """Show a fit.

    Args:
        book: The pinned book.
        judged: The verdict.
        name: Prefix of the drawing's ids on the page; without one the gap is left out.

    Returns:
        Finished strings, and the gap where it has a name.
    """
    picture = None
    if name:
        inner, outer = (book.parts[side.part.part].name for side in (judged.shaft, judged.hole))
        record = drawing_of_fit(judged, inner, outer)
        wide, narrow = draw_gap(record, name=f"{name}w"), draw_gap(record, narrow=True, name=f"{name}n")
        picture = Picture(_safe(wide), _safe(narrow))
    place = f"{judged.hole.part.tag}, {judged.shaft.part.tag}"
    mark, verdict = mark_of(judged.verdict.grade), headline(judged.verdict)
    because, made = judged.because.lines(), [one.line for one in judged.forecasts]
    return Shown(judged.name, place, judged.text, judged.fit.unit.name, mark, verdict, because, picture, made)


def show_size(book: Book, judged: SizeVerdict, name: str) -> Shown:
    """Show a size.

    Args:
        book: The pinned book.
        judged: The verdict.
        name: Prefix of the drawing's ids on the page.

    Returns:
        Finished strings, and its edge against its limits where the book gives any.
    """
    record = drawing_of_size(book, judged)
    wide, narrow = draw_edge(record, name=f"{name}w"), draw_edge(record, narrow=True, name=f"{name}n")
    given = judged.size.limits.new.given or judged.size.limits.service.given
    picture = Picture(_safe(wide), _safe(narrow)) if given else None
    name = f"{book.parts[judged.part.part].name}, {judged.name}"
    verdict = headline(judged.verdict)
    return Shown(
        name,
        judged.part.tag,
        judged.text,
        judged.size.unit.name,
        record.verdict,
        verdict,
        judged.because.lines(),
        picture,
        [],
    )


def show_part(judged: PartVerdict) -> Shown:
    """Show how a part stands.

    Args:
        judged: The verdict.

    Returns:
        Finished strings.
    """
    mark, verdict = mark_of(judged.grade), word(judged.grade)
    return Shown(judged.name, judged.part.tag, "", "", mark, verdict, judged.because.lines(), None, [])


def show_taken(book: Book, work: WorkUp, tag: str, row: str) -> list[Shown]:
    """Show what a reading led to: the size first, then the fits it takes part in.

    Args:
        book: The pinned book.
        work: The worked-up job.
        tag: Tag of the part.
        row: Id of the size row.

    Returns:
        Verdicts with drawings.
    """
    size = work.size(tag, row)
    shown = [show_size(book, size, "size")] if size else []
    return shown + [show_fit(book, fit, f"fit{place}") for place, fit in enumerate(work.fits_of(tag, row))]


def _limits_text(size: Size) -> str:
    limits = size.limits
    stated = [f"{name} {band}" for name, band in (("new", limits.new), ("service", limits.service)) if band.given]
    return "; ".join(stated) or "no limit in the book"


def _feature(book: Book, state: JobState, part: PartOnBench, size: Size, armed: bool) -> Feature:
    readings = [str(reading.value) for reading in state.standing(part.tag, size.id)]
    last = readings[-1] if readings else ""
    name = book.parts[part.part].name
    return Feature(
        part.tag, size.id, name, size.feature, size.unit.name, _limits_text(size), size.page, readings, last, armed
    )


def features(book: Book, state: JobState, wanted: tuple[str, str] | None) -> list[Feature]:
    """List what can be measured, with one feature armed.

    Args:
        book: The pinned book.
        state: The job.
        wanted: Tag and row somebody chose; None for the first that is not measured.

    Returns:
        Features by part as removed, then in the book's order.
    """
    places = [(part, size) for part in state.parts.values() for size in book.sizes_of(part.part)]
    keys = [(part.tag, size.id) for part, size in places]
    armed = wanted if wanted in keys else next(_unmeasured(state, keys), keys[0] if keys else None)
    return [_feature(book, state, part, size, (part.tag, size.id) == armed) for part, size in places]


def _unmeasured(state: JobState, keys: list[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    return (key for key in keys if not state.standing(*key))


def show_questions(book: Book, state: JobState) -> list[Asked]:
    """Show the open questions.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        Each with the feature it is about.
    """
    return [
        Asked(str(number), f"{one.reading.tag} {book.sizes[one.reading.row].feature}", one.asks)
        for number, one in state.questions.items()
    ]


def gauge_choices(state: JobState, armed: Feature | None, asked_for: str | None) -> list[GaugeChoice]:
    """List the gauges on the bench, with the one to read the armed feature with.

    Args:
        state: The job.
        armed: The armed feature.
        asked_for: The gauge a form or an answer asked for; None where nobody did.

    Returns:
        Gauges by id as set. Chosen is the one asked for, else the one this row was last read with, on any part; never
        one that was used on something else, since its doubt would be wrong here without a word.
    """
    of_row = [one for one in state.readings.values() if armed is not None and one.row == armed.row]
    here = [one for one in of_row if armed is not None and one.tag == armed.tag] or of_row
    last = max(here, key=lambda one: one.entry).gauge if here else ""
    wanted = last if asked_for is None else asked_for
    return [GaugeChoice(gauge.id, gauge.name, gauge.id == wanted) for gauge in state.gauges.values()]
