"""How labels under, or over, a drawing that lies down share rows, with a thin line from each label to its place.

Where one row is too short, every second (third ...) label goes one row further out; its line passes the nearer row
between two labels and takes its own room there. So no label covers another and no line runs through a label.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tenthbook.faces.draw.ink import paint, write
from tenthbook.faces.draw.letters import Line, width
from tenthbook.faces.draw.spread import fits, spread
from tenthbook.faces.draw.svg import element, number

SIZE = 17.0
STEP = 21.0
_ZONE = 13.0
_STEEP = 5.0
_DEEPEST = 16.0
_SPACE = 12.0
_PASS = 6.0


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of text that belong to one place.

    Attributes:
        place: The place along the drawing [px].
        lines: The text, top to bottom.
        ink: Class of its colour.
        last: Whether it stands in a row of its own, further out than all others.
    """

    place: float
    lines: tuple[Line, ...]
    ink: str
    last: bool = False

    @property
    def width(self) -> float:
        """Room it takes along the drawing [px]."""
        return max(width(line, SIZE) for line in self.lines)


def draw_lanes(
    labels: Sequence[Label], start: float, room: tuple[float, float], *, up: bool = False
) -> tuple[list[str], float]:
    """Write labels in rows, with their lines.

    Args:
        labels: Labels in any order.
        start: Where the lines leave the drawing [px].
        room: Where rows begin and end [px].
        up: Whether the rows go up from `start` rather than down.

    Returns:
        Markup, and how far the rows reach from `start` [px].
    """
    order = sorted((label for label in labels if label.lines), key=lambda label: label.place)
    rows = _rows(order, room[1] - room[0])
    places = [label.place for label in order]
    away, drawn = start, list[str]()
    sign = -1.0 if up else 1.0
    for row in range(max(rows, default=-1) + 1):
        here = [index for index in range(len(order)) if rows[index] >= row]
        centres = spread([places[index] for index in here], _sizes(order, rows, row), *room, _SPACE)
        height = STEP * max(len(order[index].lines) for index in here if rows[index] == row)
        aside = max(abs(places[index] - centre) for index, centre in zip(here, centres, strict=True))
        begin = away + sign * (_ZONE + min(_DEEPEST, aside / _STEEP))
        for index, centre in zip(here, centres, strict=True):
            label, ends = order[index], rows[index] == row
            further = -1.0 if ends else height
            drawn.append(_leader(label.ink, (places[index], away), (centre, begin), sign * further))
            places[index] = centre
            if ends:
                drawn += _lines(label, centre, begin, sign)
        away = begin + sign * height
    return drawn, abs(away - start)


def _lines(label: Label, centre: float, begin: float, sign: float) -> list[str]:
    """The label's text, in a row that begins here and goes down or up."""
    top = begin if sign > 0 else begin - STEP * len(label.lines)
    return [write(line, centre, top + 16 + STEP * at, SIZE, label.ink) for at, line in enumerate(label.lines)]


def _rows(order: Sequence[Label], room: float) -> list[int]:
    """The row of each label: as few rows as hold them all, and the last ones after those."""
    near = [label for label in order if not label.last]
    for count in range(1, len(near) + 1):
        turn = iter(range(len(near)))
        rows = [count if label.last else next(turn) % count for label in order]
        if all(fits(_sizes(order, rows, row), room, _SPACE) for row in range(count)):
            return rows
    return [len(near) if label.last else at for at, label in enumerate(order)]


def _sizes(order: Sequence[Label], rows: Sequence[int], row: int) -> list[float]:
    """What stands in a row or passes through it: widths of labels, or of their lines [px]."""
    return [label.width if its == row else _PASS for label, its in zip(order, rows, strict=True) if its >= row]


def _leader(ink: str, start: tuple[float, float], end: tuple[float, float], further: float) -> str:
    """The thin line from a place to its label, and through the row where the label stands further out."""
    stub = 3.0 if end[1] > start[1] else -3.0
    way = f"M{number(start[0])} {number(start[1])}V{number(start[1] + stub)}"
    way += f"L{number(end[0])} {number(end[1] - stub)}V{number(end[1] + further)}"
    return element("path", d=way, fill="none", stroke="currentColor", stroke_width="1", **paint(ink))
