"""How much room two parts leave each other, drawn magnified: two hatched edges and the space between them.

A tight fit overlaps, and the overlap is hatched twice. It judges nothing: reading, limits and verdict are given.
"""

from __future__ import annotations

from functools import lru_cache

from tenthbook.faces.draw.records import GapDrawing, Mark, check_digits, check_order, check_values, check_words
from tenthbook.faces.draw.scene import Body, Scene
from tenthbook.faces.draw.sheet import write_sheet


@lru_cache(maxsize=256)
def draw_gap(gap: GapDrawing, *, narrow: bool = False, name: str = "gap") -> str:
    """Draw the clearance of two parts.

    Args:
        gap: What is shown.
        narrow: Whether it is laid out for a screen 320 wide rather than for 920.
        name: Prefix of every id, so that several drawings share a page.

    Returns:
        The SVG document, without an XML declaration, fit to stand inside a page or alone.

    Raises:
        CannotDraw: a number has no place on a scale or no digits, a least lies above its greatest, or name, unit,
            verdict or sentence is not usable.
    """
    check_words(name, gap.verdict, gap.sentence)
    pairs = {"new": gap.new, "service": gap.service, "forecast": gap.forecast or (None, None)}
    marks = [gap.reading, *(mark for pair in pairs.values() for mark in pair if mark)]
    check_digits(marks, gap.unit)
    check_values([0.0, *(mark.value for mark in marks)], gap.doubt)
    for what, pair in pairs.items():
        check_order(what, pair)
    scene = Scene(
        name=name,
        sentence=gap.sentence,
        verdict=gap.verdict,
        unit=gap.unit,
        below=gap.inner,
        above=gap.outer,
        bodies=(Body(0.0, beyond=False), Body(gap.reading.value, beyond=True)),
        reading=gap.reading,
        doubt=gap.doubt or 0.0,
        new=gap.new,
        service=gap.service,
        zero=Mark(0.0, "0"),
        forecast=gap.forecast,
        forecast_label=gap.forecast_label,
    )
    return write_sheet(scene, narrow=narrow)
