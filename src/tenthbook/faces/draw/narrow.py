"""A scene laid out standing up, 320 units wide: numbers grow upward, each limit's number and word stand beside it.

No text is smaller than 16. The strip grows longer where many labels need it.
"""

from __future__ import annotations

from dataclasses import dataclass

from tenthbook.faces.draw.ink import MARK, SAID, draw_mark, paint, write
from tenthbook.faces.draw.letters import Line, digits, words, wrap
from tenthbook.faces.draw.picture import OVERHANG, definitions, draw_picture
from tenthbook.faces.draw.scene import Scene
from tenthbook.faces.draw.spread import spread
from tenthbook.faces.draw.svg import element, number
from tenthbook.faces.draw.track import Track
from tenthbook.faces.draw.wide import forecast_lines

WIDTH = 320.0
SIZE = 16.0
STEP = 20.0
_MARGIN = 12.0
_RIGHT = 160.0
_COLUMN = 190.0
_LENGTH = 200.0
_PAD = 52.0
_PAD_ALONE = 74.0
_BRACKET = 18.0
_SPACE = 4.0


@dataclass(frozen=True, slots=True)
class _Label:
    """Lines beside the strip."""

    place: float
    lines: tuple[Line, ...]
    ink: str


def lay_narrow(scene: Scene) -> tuple[str, float, float]:
    """Lay a scene out standing up.

    Args:
        scene: What is shown.

    Returns:
        Markup, width and height [px].
    """
    drawn, top = _stack([words(SAID[scene.verdict], bold=True)], _MARGIN, scene.verdict, indent=MARK + 8)
    drawn.insert(0, draw_mark(scene.verdict, _MARGIN, _MARGIN + 2))
    names, top = _stack(wrap(words(scene.above), SIZE, WIDTH - 2 * _MARGIN), top + 6, "ink")
    track = _track(scene, top + 6)
    bottom = track.ends[0]
    lower, foot = _stack(wrap(words(scene.below), SIZE, WIDTH - 2 * _MARGIN), bottom + 6, "ink")
    key, foot = _key(scene, foot)
    strip = [*draw_picture(scene, track), *_bracket(scene, track), *_beside(_labels(scene, track), track)]
    return "".join([definitions(scene, track), *drawn, *names, *strip, *lower, *key]), WIDTH, foot + 10


def _stack(lines: list[Line], top: float, ink: str, indent: float = 0.0) -> tuple[list[str], float]:
    """Lines one under the other, and how low they reach [px]."""
    drawn = [write(line, _MARGIN + indent, top + 15 + STEP * at, SIZE, ink, "start") for at, line in enumerate(lines)]
    return drawn, top + STEP * len(lines)


def _track(scene: Scene, top: float) -> Track:
    """The strip: long enough for its labels, beside a bracket if there is one."""
    low, high = scene.span
    left = _MARGIN + (_BRACKET if scene.forecast else 0.0)
    flat = Track(low, high, 0.0, 1.0, (0.0, 1.0), (left, _RIGHT), upright=True)
    need = sum(STEP * len(label.lines) + _SPACE for label in _labels(scene, flat))
    pad = _PAD if scene.zero else _PAD_ALONE
    bottom = top + max(_LENGTH + 2 * _PAD, need)
    return Track(low, high, bottom - pad, top + pad, (bottom, top), (left, _RIGHT), upright=True)


def _labels(scene: Scene, track: Track) -> list[_Label]:
    """Zero and each limit, with number and word, from top to bottom."""
    shown = [(post.mark, post.word, post.kind) for post in scene.posts]
    shown += [(scene.zero, "", "ink")] if scene.zero else []
    labels = [
        _Label(track.at(mark.value), tuple(wrap((*digits(mark.text), *words(word)), SIZE, WIDTH - 8 - _COLUMN)), ink)
        for mark, word, ink in shown
    ]
    return sorted((label for label in labels if label.lines), key=lambda label: label.place)


def _beside(labels: list[_Label], track: Track) -> list[str]:
    """Labels beside the strip, each with its thin line."""
    bottom, top = track.ends
    sizes = [STEP * len(label.lines) for label in labels]
    centres = spread([label.place for label in labels], sizes, top, bottom, _SPACE)
    drawn = []
    for label, size, centre in zip(labels, sizes, centres, strict=True):
        begin = _RIGHT + (0.0 if label.ink == "ink" else OVERHANG)
        way = f"M{number(begin)} {number(label.place)}H{number(_RIGHT + 11)}"
        way += f"L{number(_COLUMN - 8)} {number(centre)}H{number(_COLUMN - 4)}"
        drawn.append(element("path", d=way, fill="none", stroke="currentColor", stroke_width="1", **paint(label.ink)))
        for at, line in enumerate(label.lines):
            drawn.append(write(line, _COLUMN, centre - size / 2 + 15 + STEP * at, SIZE, label.ink, "start"))
    return drawn


def _bracket(scene: Scene, track: Track) -> list[str]:
    """The bracket beside the strip that holds what is forecast."""
    if not scene.forecast:
        return []
    places = [track.at(mark.value) for mark in scene.forecast]
    line = {"stroke_width": "2.5", **paint("soft")}
    drawn = [track.line(places, [_MARGIN + 5] * 2, **line)]
    return drawn + [track.line([place] * 2, [_MARGIN, _MARGIN + 11], **line) for place in places]


def _key(scene: Scene, top: float) -> tuple[list[str], float]:
    """What the bracket means, under the drawing, and how low it reaches [px]."""
    lines = forecast_lines(scene, SIZE, WIDTH - 2 * _MARGIN - 22)
    if not lines:
        return [], top
    drawn, foot = _stack(lines, top + 4, "soft", indent=22)
    line = {"stroke": "currentColor", "stroke_width": "2.5", **paint("soft")}
    x, y = _MARGIN + 5, top + 5
    drawn.append(element("path", d=f"M{number(x - 5)} {number(y)}h10m-5 0v17m-5 0h10", fill="none", **line))
    return drawn, foot
