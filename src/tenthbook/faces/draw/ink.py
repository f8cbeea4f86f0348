"""In which colour, face and mark things stand.

Colours are those of the paper sheet; a page in the dark overrules them by class. The word of a verdict always stands
beside its mark.
"""

from __future__ import annotations

from tenthbook.faces.draw.letters import Line, Run
from tenthbook.faces.draw.svg import element, escape

COLOURS = {
    "ink": "#1B1E23",
    "soft": "#565C64",
    "paper": "#FBFAF6",
    "new": "#0B6B4F",
    "service": "#7F5300",
    "beyond": "#A3201D",
    "undecided": "#5B3E9E",
    "none": "#565C64",
}
SAID = {
    "new": "IN NEW LIMITS",
    "service": "IN SERVICE LIMITS",
    "beyond": "BEYOND",
    "undecided": "UNDECIDED",
    "none": "NO LIMIT",
}
MARK = 15.0
_WORDS = "Atkinson Hyperlegible Next, sans-serif"
_DIGITS = "Atkinson Hyperlegible Mono, monospace"


def paint(ink: str) -> dict[str, str]:
    """Give an element its class and its colour.

    Args:
        ink: Name of the class.

    Returns:
        Attributes for `element`.
    """
    return {"class_": ink, "color": COLOURS[ink]}


def write(line: Line, x: float, y: float, size: float, ink: str, anchor: str = "middle") -> str:
    """Write one line of text.

    Args:
        line: Runs, set with one space between each two.
        x: Where the anchor lies [px].
        y: The line on which the letters stand [px].
        size: Size of the letters [px].
        ink: Class of the colour.
        anchor: Which part of the text lies at `x`: start, middle or end.

    Returns:
        The markup.
    """
    face = _face(line[0]) if len(line) == 1 else {"font_family": _WORDS}
    runs = [element("tspan", escape(run.text), **_face(run)) for run in line]
    inside = escape(line[0].text) if len(line) == 1 else " ".join(runs)
    place = {"x": x, "y": y, "font_size": size}
    return element("text", inside, **place, text_anchor=anchor, **face, fill="currentColor", **paint(ink))


def draw_mark(verdict: str, x: float, y: float) -> str:
    """Draw the square of a verdict: filled, half, crossed, dotted or empty.

    Args:
        verdict: The verdict's name.
        x: Left side [px].
        y: Upper side [px].

    Returns:
        The markup.
    """
    line = {"stroke": "currentColor", "stroke_width": "2", **paint(verdict)}
    dots = "2.6 2.6" if verdict == "undecided" else None
    side = MARK - 2
    frame = element("rect", x=x + 1, y=y + 1, width=side, height=side, fill="none", stroke_dasharray=dots, **line)
    if verdict in ("new", "service"):
        top = 0 if verdict == "new" else MARK / 2
        frame += element("rect", x=x, y=y + top, width=MARK, height=MARK - top, fill="currentColor", **paint(verdict))
    if verdict == "beyond":
        right, low = x + MARK - 1, y + MARK - 1
        for left, start, end in ((x + 1, y + 1, low), (x + 1, low, y + 1)):
            frame += element("line", x1=left, y1=start, x2=right, y2=end, **line)
    return frame


def _face(run: Run) -> dict[str, str]:
    """Font attributes of a run."""
    heavy = {"font_weight": "600" if run.mono else "700"} if run.bold else {}
    return {"font_family": _DIGITS if run.mono else _WORDS, **heavy}
