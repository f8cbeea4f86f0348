"""A scene laid out lying down, 920 units wide: names and verdict on top, words over the strip, numbers under it.

Rows are added, and the drawing grows taller, where labels need more room than one row has.
"""

from __future__ import annotations

from tenthbook.faces.draw.ink import MARK, SAID, draw_mark, paint, write
from tenthbook.faces.draw.lanes import SIZE, STEP, Label, draw_lanes
from tenthbook.faces.draw.letters import Line, digits, width, words, wrap
from tenthbook.faces.draw.picture import OVERHANG, definitions, draw_picture
from tenthbook.faces.draw.scene import Scene
from tenthbook.faces.draw.track import Track

WIDTH = 920.0
_MARGIN = 20.0
_BODY = 104.0
_NAME_ROOM = 320.0
_LABEL_ROOM = 640.0
_BRACKET = 15.0


def lay_wide(scene: Scene) -> tuple[str, float, float]:
    """Lay a scene out lying down.

    Args:
        scene: What is shown.

    Returns:
        Markup, width and height [px].
    """
    room = (_MARGIN, WIDTH - _MARGIN)
    low, high = scene.span
    start, stop = (150.0, 810.0) if scene.zero else (190.0, 730.0)
    flat = Track(low, high, start, stop, room, (0.0, _BODY))
    head, tall = _head(scene)
    above = _words(scene, flat)
    _, rise = draw_lanes(above, 0.0, room, up=True)
    top = tall + rise + OVERHANG
    track = Track(low, high, start, stop, room, (top, top + _BODY))
    over, _ = draw_lanes(above, top - OVERHANG, room, up=True)
    foot = top + _BODY + OVERHANG
    bracket, foot = _bracket(scene, track, foot)
    under, fall = draw_lanes(_numbers(scene, track), foot, room)
    zero = [] if scene.zero is None else [_tick(track, track.at(scene.zero.value), foot)]
    drawn = [definitions(scene, track), *head, *over, *draw_picture(scene, track), *zero, *bracket, *under]
    return "".join(drawn), WIDTH, foot + fall + 12


def _head(scene: Scene) -> tuple[list[str], float]:
    """Both names with the verdict between them, and how low they reach [px]."""
    drawn, lines = list[str](), 1
    for name, x, anchor in ((scene.below, _MARGIN, "start"), (scene.above, WIDTH - _MARGIN, "end")):
        parts = wrap(words(name), SIZE, _NAME_ROOM)
        drawn += [write(line, x, 26 + STEP * at, SIZE, "ink", anchor) for at, line in enumerate(parts)]
        lines = max(lines, len(parts))
    said = words(SAID[scene.verdict], bold=True)
    left = (WIDTH - MARK - 8 - width(said, SIZE)) / 2
    drawn.append(draw_mark(scene.verdict, left, 26 - MARK + 1))
    drawn.append(write(said, left + MARK + 8, 26, SIZE, scene.verdict, "start"))
    return drawn, 38 + STEP * (lines - 1)


def _words(scene: Scene, track: Track) -> list[Label]:
    """What each post is called; both new limits share one word."""
    labels = [Label(track.at(post.mark.value), (words(post.word),), post.kind) for post in scene.posts]
    if scene.band is None:
        return labels
    middle = Label(sum(map(track.at, scene.band)) / 2, (words("new"),), "new")
    return [middle, *(label for label in labels if label.ink != "new")]


def _numbers(scene: Scene, track: Track) -> list[Label]:
    """Zero, each limit as printed and what is forecast."""
    shown = [(post.mark, post.kind) for post in scene.posts]
    shown += [(scene.zero, "ink")] if scene.zero else []
    labels = [Label(track.at(mark.value), (digits(mark.text),), ink) for mark, ink in shown]
    if scene.forecast:
        middle = sum(track.at(mark.value) for mark in scene.forecast) / 2
        labels.append(Label(middle, tuple(forecast_lines(scene, SIZE, _LABEL_ROOM)), "soft", last=True))
    return labels


def forecast_lines(scene: Scene, size: float, room: float) -> list[Line]:
    """Say what is forecast: the label and both numbers in one line, or the numbers in lines of their own.

    Args:
        scene: What is shown.
        size: Size of the letters [px].
        room: Room for each line [px].

    Returns:
        The lines; empty without a forecast.
    """
    if not scene.forecast:
        return []
    least, greatest = scene.forecast
    label, numbers = words(scene.forecast_label), (*digits(least.text), *words("to"), *digits(greatest.text))
    whole = (*label, *numbers)
    return [whole] if width(whole, size) <= room else wrap(label, size, room) + wrap(numbers, size, room)


def _bracket(scene: Scene, track: Track, foot: float) -> tuple[list[str], float]:
    """The bracket under the strip that holds what is forecast, posts led past it, and where labels begin [px]."""
    if not scene.forecast:
        return [], foot
    least, greatest = (track.at(mark.value) for mark in scene.forecast)
    low = foot + _BRACKET
    posts = [(track.at(post.mark.value), post.kind) for post in scene.posts]
    drawn = [track.line([place] * 2, [foot, low], stroke_width="1", **paint(kind)) for place, kind in posts]
    line = {"stroke_width": "2.5", **paint("soft")}
    drawn.append(track.line([least, greatest], [low - 6] * 2, **line))
    drawn += [track.line([end] * 2, [low - 12, low], **line) for end in (least, greatest)]
    middle = (least + greatest) / 2
    return [*drawn, track.line([middle] * 2, [low - 6, low], stroke_width="1", **paint("soft"))], low


def _tick(track: Track, place: float, foot: float) -> str:
    """The thin line from the zero edge to where its label's line begins."""
    return track.line([place] * 2, [track.sides[1], foot], stroke_width="1", **paint("ink"))
