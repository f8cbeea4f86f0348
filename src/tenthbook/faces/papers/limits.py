"""How a row's limits are printed: the band as the manual prints it, or the words it states the limit in."""

from __future__ import annotations

from tenthbook.numbers.limit import Band
from tenthbook.numbers.limit.kinds import (
    Condition,
    Feel,
    MultipleOf,
    NoneGiven,
    OneOf,
    PerDiameter,
    PerLength,
    Reference,
    ShareOfOriginal,
    Side,
    Statement,
    WearFromNew,
)
from tenthbook.record.book import Book, LimitRow

NONE_GIVEN = "none given"
_HALF = "the whole; the manual prints half"
_OWN = "its own size when new"
_BEYOND = {Side.GREATEST: "over", Side.LEAST: "under"}


def band_text(band: Band) -> str:
    """Print a band.

    Args:
        band: Least and greatest, either of which may be blank [unit of the row].

    Returns:
        The limits with their digits; a blank is "none given", never nought.
    """
    if band.lower is not None and band.upper is not None:
        return f"{band.lower.typed} to {band.upper.typed}"
    if band.lower is not None:
        return f"min {band.lower.typed}"
    return f"max {band.upper.typed}" if band.upper is not None else NONE_GIVEN


def _wear(said: WearFromNew) -> str:
    own = said.reference is Reference.ORIGINAL
    return f"{said.amount.typed} {_BEYOND[said.side]} {_OWN if own else said.reference}"


def _rate(said: PerDiameter | PerLength, of: str) -> str:
    end = "max" if said.side is Side.GREATEST else "min"
    return f"{end} {said.amount.typed} per {said.per} of {of}"


def _multiple(said: MultipleOf, book: Book) -> str:
    if said.row in book.sizes:
        return f"{said.factor} times {book.sizes[said.row].feature}, page {book.sizes[said.row].page}"
    fit = book.fits.get(said.row)
    return f"{said.factor} times {said.row if fit is None else f'{fit.name}, page {fit.page}'}"


def _stated(said: Statement, book: Book) -> str:
    """The limit in words; empty where it is stated by sizes, or does not apply."""
    match said:
        case WearFromNew():
            return _wear(said)
        case PerDiameter():
            return _rate(said, "diameter")
        case PerLength():
            return _rate(said, "length")
        case ShareOfOriginal():
            return f"{_OWN} {said.per_cent:+} %"
        case MultipleOf():
            return _multiple(said, book)
        case Feel():
            return f"by feel, ribbon {said.ribbon.typed}"
        case Condition():
            return said.words
        case NoneGiven():
            return "no limit in the book"
        case OneOf():
            return f"one of {', '.join(one.typed for one in said.sizes)}, within {said.within.typed}"
    return ""


def limit_words(book: Book, row: LimitRow) -> dict[str, str]:
    """Give what a paper prints of a row's limits.

    Args:
        book: The book the row is of.
        row: A size or a fit; resolved for the part in hand, or as the book has it.

    Returns:
        `new` and `service` as printed, `stated` where the manual states the limit otherwise than by sizes, `unit`
        (empty for a condition) and `page`.
    """
    new, service = row.limits.new, row.limits.service
    stated = _stated(row.said, book)
    return {
        "new": band_text(new) if new.given or not stated else "",
        "service": band_text(service) if service.given or not stated else "",
        "stated": "; ".join(one for one in (stated, _HALF if row.half else "") if one),
        "unit": "" if isinstance(row.said, Condition) else row.unit.name,
        "page": row.page,
    }
