"""The measuring sheet: every size of the parts on the bench, to be written on by hand, or filled with what was read.

The blank sheet holds all that is needed where the computer fails: part, tag, feature, limits in the printed unit, page,
and rows tall enough to write in. Nothing written by hand counts before it is recorded.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tenthbook.faces.papers.heading import JobAtHead, heading_of
from tenthbook.faces.papers.limits import limit_words
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.numbers.limit.kinds import NotApplicable
from tenthbook.record.book import Book, Part, Size
from tenthbook.record.job import Gauge, PartOnBench, Reading
from tenthbook.record.workup import SizeVerdict, headline, mark_of

_LEAST_GAUGE_LINES = 4
_FIGURES = re.compile(r"[0-9]+|[^0-9]+")


@dataclass(frozen=True, slots=True)
class _Place:
    """A part the sheet has a heading for; without `here` it is still in the engine."""

    part: Part
    here: PartOnBench | None

    @property
    def position(self) -> str:
        return self.here.position if self.here is not None else ""

    @property
    def tag(self) -> str:
        return self.here.tag if self.here is not None else ""


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """A key that puts page 4-9 before page 4-12."""
    found = _FIGURES.findall(text)
    return tuple((0, int(one), "") if one.isdecimal() else (1, 0, one) for one in found)


def _order(book: Book, size: Size) -> tuple[object, ...]:
    """Where a row stands in the manual: page, then the reference printed beside it; rows are kept by id."""
    return _natural(size.page), _natural(book.rows["sizes"][size.id].text("ref")), size.id


def _sizes(book: Book, part: str) -> list[Size]:
    measured = [size for size in book.sizes_of(part) if not isinstance(size.said, NotApplicable)]
    return sorted(measured, key=lambda one: _order(book, one))


def _places(at: JobAtHead) -> list[_Place]:
    """The parts on the bench in the order of the manual's pages; of a job with none, every part of the book."""
    first = {part: [_order(at.book, one) for one in _sizes(at.book, part)][:1] for part in at.book.parts}
    here = [_Place(at.book.parts[one.part], one) for one in at.state.parts.values()]
    places = here or [_Place(part, None) for part in at.book.parts.values()]
    return sorted(places, key=lambda one: (first[one.part.id], one.part.id, one.position, one.tag))


def _gauge(gauge: Gauge) -> dict[str, str]:
    return {
        "id": gauge.id,
        "name": gauge.name,
        "doubt": f"+- {gauge.expanded} at k = {gauge.coverage_factor}",
        "set_on": gauge.set_on,
        "due": gauge.due,
    }


def _reading(reading: Reading, size: Size) -> dict[str, str]:
    same = reading.value.unit == size.unit
    return {
        "station": reading.station,
        "direction": reading.direction,
        "value": reading.value.typed if same else str(reading.value),
        "gauge": reading.gauge,
        "entry": str(reading.entry),
    }


def _earlier(at: JobAtHead, tag: str, size: Size) -> list[str]:
    """What was read and does not count: with another gauge, or before the part was away."""
    state, counting = at.state, {one.entry for one in at.state.standing(tag, size.id)}
    numbers = [one for one in state.features.get((tag, size.id), ()) if one in state.readings]
    passed = [state.readings[one] for one in numbers if one not in counting and one not in state.withdrawn]
    with_gauge = [f"{one.value} {f'with {one.gauge} ' if one.gauge else ''}(entry {one.entry})" for one in passed]
    return [*with_gauge, *_asked(at, tag, size)]


def _asked(at: JobAtHead, tag: str, size: Size) -> list[str]:
    about = [one.reading for one in at.state.questions.values()]
    mine = [one for one in about if (one.tag, one.row) == (tag, size.id)]
    return [f"{one.value} (entry {one.entry}), asked about and not answered" for one in mine]


def _judged(verdict: SizeVerdict, readings: Sequence[Reading]) -> dict[str, str]:
    return {
        "mean": verdict.text if len(readings) > 1 else "",
        "verdict": headline(verdict.verdict),
        "mark": mark_of(verdict.verdict.grade),
    }


def _feature(at: JobAtHead, place: _Place, size: Size, *, blank: bool) -> dict[str, Any]:
    typed = at.book.rows["sizes"][size.id]
    told = {
        "name": size.feature,
        "at": typed.text("at"),
        "safety": size.safety,
        "unverified": not at.read_again.verified(size.digest),
    }
    verdict = None if blank else at.work.size(place.tag, size.id)
    if verdict is None:
        earlier = [] if blank else _earlier(at, place.tag, size)
        nothing = {"readings": [], "mean": "", "verdict": "not measured", "mark": "", "earlier": earlier}
        return {**told, **nothing, **limit_words(at.book, size)}
    counting = at.state.standing(place.tag, size.id)
    found = {"readings": [_reading(one, size) for one in counting], "earlier": _earlier(at, place.tag, size)}
    return {**told, **found, **_judged(verdict, counting), **limit_words(at.book, verdict.size)}


def _part(at: JobAtHead, place: _Place, *, blank: bool) -> dict[str, Any]:
    return {
        "tag": place.tag,
        "name": place.part.name,
        "number": at.book.rows["parts"][place.part.id].text("number"),
        "position": place.position,
        "features": [_feature(at, place, size, blank=blank) for size in _sizes(at.book, place.part.id)],
    }


def measuring_data(at: JobAtHead, *, blank: bool) -> dict[str, Any]:
    """Gather what the measuring sheet prints.

    Args:
        at: The job at its head.
        blank: True for a sheet to write on by hand.

    Returns:
        Text, lists and objects, finished for printing; parts in the order of the manual, each with its sizes.
    """
    gauges = [_gauge(one) for one in at.state.gauges.values()]
    parts = [_part(at, place, blank=blank) for place in _places(at)]
    return {
        **heading_of(at),
        "blank": blank,
        "on_bench": bool(at.state.parts),
        "gauges": gauges,
        "gauge_lines": max(_LEAST_GAUGE_LINES - len(gauges), 1) if blank else 0,
        "parts": [part for part in parts if part["features"]],
        "without": [f"{part['tag']} {part['name']}".strip() for part in parts if not part["features"]],
        "figures": max((_figures(one) for part in parts for one in _numbers(part)), default=0),
    }


def _numbers(part: dict[str, Any]) -> list[str]:
    features = part["features"]
    return [*(reading["value"] for one in features for reading in one["readings"]), *(one["mean"] for one in features)]


def _figures(number: str) -> int:
    """How many signs stand before the point: a paper lines numbers up on it."""
    return len(number.partition(" ")[0].partition(".")[0])


def measuring_sheet(at: JobAtHead, *, blank: bool = False, size: PaperSize = "a4", made_on: str) -> bytes:
    """Print the measuring sheet.

    Args:
        at: The job at its head.
        blank: True for a sheet to write on by hand; of a job without a part on the bench it holds the whole book.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of a tagged PDF, the same for the same job and day.

    Raises:
        CannotTypeset: the compiler refused; nothing was made.
    """
    data = measuring_data(at, blank=blank)
    title = f"Measuring sheet{', to write on' if blank else ''}, {data['engine']}, job {at.job}"
    return typeset("measuring", data, title=title, size=size, made_on=made_on)
