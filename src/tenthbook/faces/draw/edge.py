"""Where a single size ends, drawn magnified: one hatched body, its edge the reading, against the posts of its limits.

Only the neighbourhood of the edge is shown; zero is far off the paper. It judges nothing: reading, limits and verdict
are given.
"""

from __future__ import annotations

from functools import lru_cache

from tenthbook.faces.draw.records import EdgeDrawing, check_digits, check_order, check_values, check_words
from tenthbook.faces.draw.scene import Body, Scene
from tenthbook.faces.draw.sheet import write_sheet


@lru_cache(maxsize=256)
def draw_edge(edge: EdgeDrawing, *, narrow: bool = False, name: str = "edge") -> str:
    """Draw a single size.

    Args:
        edge: What is shown.
        narrow: Whether it is laid out for a screen 320 wide rather than for 920.
        name: Prefix of every id, so that several drawings share a page.

    Returns:
        The SVG document, without an XML declaration, fit to stand inside a page or alone.

    Raises:
        CannotDraw: a number has no place on a scale or no digits, a least lies above its greatest, or name, unit,
            verdict or sentence is not usable.
    """
    check_words(name, edge.verdict, edge.sentence)
    marks = [edge.reading, *(mark for mark in (*edge.new, *edge.service) if mark)]
    check_digits(marks, edge.unit)
    check_values([mark.value for mark in marks], edge.doubt)
    check_order("new", edge.new)
    check_order("service", edge.service)
    scene = Scene(
        name=name,
        sentence=edge.sentence,
        verdict=edge.verdict,
        unit=edge.unit,
        below="" if edge.bore else edge.feature,
        above=edge.feature if edge.bore else "",
        bodies=(Body(edge.reading.value, beyond=edge.bore),),
        reading=edge.reading,
        doubt=edge.doubt or 0.0,
        new=edge.new,
        service=edge.service,
    )
    return write_sheet(scene, narrow=narrow)
