"""The reading itself: its digits on a plate, and the line with arrows that shows from where to where it goes.

A line between two edges has its arrows inside where there is room, and comes from outside where there is none; a single
size has one arrow.
"""

from __future__ import annotations

from dataclasses import dataclass

from tenthbook.faces.draw.ink import paint, write
from tenthbook.faces.draw.letters import Line, digits, width, words, wrap
from tenthbook.faces.draw.plate import Plate, place_plate
from tenthbook.faces.draw.scene import Scene
from tenthbook.faces.draw.svg import element
from tenthbook.faces.draw.track import Track

_LARGEST = 32
_LEAST = 16
_UNIT = 18.0
_SPACE = 5.0
_BORDER = 6.0
_SLIVER = 34.0  # less hatching than this beside the digits looks like dirt
_LEADING = 1.1
_CAPITAL = 0.67  # height of a digit
_REACH = 26.0
_ROOMY = 44.0
_ARROW = (11.0, 4.5)


@dataclass(frozen=True, slots=True)
class Reading:
    """The reading's markup in two layers, so that the edges can lie between them.

    Attributes:
        line: The line from edge to edge.
        digits: Arrows, plate, digits and unit.
    """

    line: list[str]
    digits: list[str]


@dataclass(frozen=True, slots=True)
class _Digits:
    """The reading's lines, set.

    Attributes:
        lines: The digits, top to bottom.
        size: Their size [px].
        unit: The unit behind the last of them.
        width: Width of all [px].
        height: Height of all [px].
    """

    lines: list[Line]
    size: float
    unit: Line
    width: float
    height: float


def lay_reading(scene: Scene, track: Track) -> Reading:
    """Find room for the reading and draw it.

    Args:
        scene: What is shown.
        track: Where it lies.

    Returns:
        The markup.
    """
    edge = track.at(scene.reading.value)
    start = track.at(scene.zero.value) if scene.zero else edge
    gap = (min(start, edge), max(start, edge))
    made = _set_digits(scene, track)
    length = (made.height if track.upright else made.width) + 2 * _BORDER
    posts = [track.at(post.mark.value) for post in scene.posts]
    plate = place_plate(length, gap, track.ends, posts, hides=track.upright)
    ends, tips = _line(gap, plate, alone=scene.zero is None)
    middle = [track.middle] * 2
    line = [track.line(ends, middle, stroke_width=thick, **paint(ink)) for thick, ink in (("6", "paper"), ("2", "ink"))]
    return Reading(line, [*(_arrow(track, tip, back) for tip, back in tips), *_plate(made, track, plate)])


def _set_digits(scene: Scene, track: Track) -> _Digits:
    """The digits as large as the strip allows, on one line if that is possible."""
    line, unit = digits(scene.reading.text, bold=True), words(scene.unit)
    across = track.sides[1] - track.sides[0] - 2 * _BORDER if track.upright else abs(track.ends[1] - track.ends[0]) / 2
    tail = width(unit, _UNIT) + _SPACE if unit else 0.0
    room = across - tail if tail < across / 2 else across
    size = next((size for size in range(_LARGEST, _LEAST, -1) if width(line, size) <= room), _LEAST)
    beside = unit if tail < across / 2 else ()
    lines = wrap(line, size, room) + ([] if beside else wrap(unit, size, room))
    widths = [width(each, size) for each in lines] or [0.0]
    wide = max(*widths, widths[-1] + (tail if beside else 0.0))
    return _Digits(lines, size, beside, wide, size * _LEADING * len(lines))


def _line(gap: tuple[float, float], plate: Plate, *, alone: bool) -> tuple[list[float], list[tuple[float, float]]]:
    """Both ends of the line, and each arrow's tip with the way its shaft goes [px]."""
    low, high = gap
    if alone:
        ends, tips = [low], [(low, -1.0 if plate.centre < low else 1.0)]
    elif plate.inside or high - low >= _ROOMY:
        ends, tips = [low, high], [(low, 1.0), (high, -1.0)]
    else:
        ends, tips = [low - _REACH, high + _REACH], [(low, -1.0), (high, 1.0)]
    return [min(*ends, plate.centre), max(*ends, plate.centre)], tips


def _arrow(track: Track, tip: float, back: float) -> str:
    """An arrow that touches an edge."""
    length, half = _ARROW
    tip += 2 * back
    tail = tip + back * length
    corners = [(tip, track.middle), (tail, track.middle - half), (tail, track.middle + half)]
    return track.shape(corners, fill="currentColor", **paint("ink"))


def _plate(made: _Digits, track: Track, plate: Plate) -> list[str]:
    """Digits and unit on a piece of paper that hides what lies under them."""
    x, y = track.point(plate.centre, track.middle)
    left, top = x - made.width / 2, y - made.height / 2
    aside = _BORDER
    if track.upright and track.sides[1] - track.sides[0] < made.width + _SLIVER:
        aside = (track.sides[1] - track.sides[0] - made.width) / 2 + 1
    size = {"width": made.width + 2 * aside, "height": made.height + _BORDER}
    drawn = [element("rect", x=left - aside, y=top - _BORDER / 2, **size, fill="currentColor", **paint("paper"))]
    foot = y + made.height / 2 - made.size * (_LEADING - _CAPITAL) / 2
    for at, line in enumerate(reversed(made.lines)):
        drawn.append(write(line, left, foot - made.size * _LEADING * at, made.size, "ink", "start"))
    if made.unit:
        drawn.append(write(made.unit, left + made.width, foot, _UNIT, "soft", "end"))
    return drawn
