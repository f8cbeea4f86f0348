"""From a verdict to its drawing: which numbers stand where, and the sentence for those who cannot see it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from tenthbook.faces.draw.records import EdgeDrawing, GapDrawing, Mark
from tenthbook.numbers.limit import Band
from tenthbook.numbers.quantity import Quantity, Unit
from tenthbook.record.book import Book
from tenthbook.record.workup import FitVerdict, Forecast, Ruling, SizeVerdict, headline, mark_of

Sides = tuple[Mark | None, Mark | None]


def _mark(limit: Quantity | None, unit: Unit) -> Mark | None:
    return None if limit is None else Mark(float(limit.exact / unit.factor), limit.typed)


def _sides(band: Band, unit: Unit) -> Sides:
    return _mark(band.lower, unit), _mark(band.upper, unit)


def _reading(value: Fraction, unit: Unit, text: str) -> Mark:
    return Mark(float(value / unit.factor), text)


def _doubt(ruling: Ruling, unit: Unit) -> float | None:
    """Half the width of the feathered edge: two standard uncertainties."""
    u = ruling.standard_uncertainty
    return None if u is None else float(2 * u / unit.factor)


def _forecast(forecasts: Sequence[Forecast], unit: Unit) -> tuple[tuple[Mark, Mark] | None, str]:
    """The first forecast, a new inner part, as two marks and its label."""
    if not forecasts:
        return None, ""
    first = forecasts[0]
    least, _, greatest = first.text.removesuffix(f" {unit.name}").partition(" to ")
    ends = Mark(float(first.least / unit.factor), least), Mark(float(first.greatest / unit.factor), greatest)
    return ends, first.label


def _limits_in_words(new: Band, service: Band) -> str:
    return (
        "; ".join(f"{name} limits {band}" for name, band in (("new", new), ("service", service)) if band.given)
        or "no limits in the book"
    )


def drawing_of_fit(judged: FitVerdict, inner: str, outer: str) -> GapDrawing:
    """Draw a fit.

    Args:
        judged: The verdict on the fit.
        inner: What to call the inner part.
        outer: What to call the outer part.

    Returns:
        The drawing's record: clearance and limits in the row's unit [in or mm].
    """
    unit, limits = judged.fit.unit, judged.fit.limits
    words = _limits_in_words(limits.new, limits.service)
    ends, label = _forecast(judged.forecasts, unit)
    foreseen = f" {label[:1].upper()}{label[1:]} {ends[0].text} to {ends[1].text}." if ends is not None else ""
    return GapDrawing(
        inner=inner,
        outer=outer,
        unit=unit.name,
        reading=_reading(judged.value, unit, judged.text),
        doubt=_doubt(judged.verdict, unit),
        new=_sides(limits.new, unit),
        service=_sides(limits.service, unit),
        forecast=ends,
        forecast_label=label,
        verdict=mark_of(judged.verdict.grade),
        sentence=f"{judged.name} {judged.text} {unit.name}: {headline(judged.verdict)}; {words}.{foreseen}",
    )


def drawing_of_size(book: Book, judged: SizeVerdict) -> EdgeDrawing:
    """Draw a single size.

    Args:
        book: The pinned book, which knows whether the size is a hole in one of its fits.
        judged: The verdict on the size.

    Returns:
        The drawing's record: size and limits in the row's unit [in or mm].
    """
    unit, limits = judged.size.unit, judged.size.limits
    words = _limits_in_words(limits.new, limits.service)
    return EdgeDrawing(
        feature=judged.name,
        unit=unit.name,
        reading=_reading(judged.value, unit, judged.text),
        doubt=_doubt(judged.verdict, unit),
        new=_sides(limits.new, unit),
        service=_sides(limits.service, unit),
        verdict=mark_of(judged.verdict.grade),
        sentence=f"{judged.name} {judged.text} {unit.name}: {headline(judged.verdict)}; {words}.",
        bore=any(fit.hole == judged.size.id for fit in book.fits.values()),
    )
