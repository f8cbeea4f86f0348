"""The gap of a fit: to scale, hatched once or twice, feathered by its doubt."""

from __future__ import annotations

import dataclasses
from xml.etree import ElementTree

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tenthbook.faces.draw import CannotDraw, GapDrawing, Mark, draw_gap
from tests.unit.draw import drawn, printed

ROUNDED = 0.11  # two coordinates, each rounded to 0.1


@given(st.integers(-150, 150), st.integers(-150, 150), st.integers(-150, 150), st.booleans())
@settings(max_examples=150, deadline=None)
def test_distances_from_zero_are_to_scale(reading: int, new: int, service: int, narrow: bool) -> None:
    """Post, edge and zero lie as far apart as their numbers, in one ratio, whatever the numbers."""
    assume(reading != 0)
    drawing = dataclasses.replace(
        drawn.gap("0", doubt=None),
        reading=Mark(reading / 1e4, "r"),
        new=(None, Mark(new / 1e4, "n")),
        service=(Mark(service / 1e4, "s"), None),
    )
    root = printed.parse(draw_gap(drawing, narrow=narrow))
    zero, edge = printed.edges(root, narrow)
    unit = (edge - zero) / reading
    assert unit < 0 if narrow else unit > 0
    longest = max(abs(new), abs(service), abs(reading)) / abs(reading)
    for value, (place,) in (
        (new, printed.posts(root, "new", narrow)),
        (service, printed.posts(root, "service", narrow)),
    ):
        assert place - zero == pytest.approx(value * unit, abs=ROUNDED * (1 + longest))


def test_ratio_of_service_limit_to_reading() -> None:
    """The service post of 0.0092 stands at 92/97 of the way from zero to the edge at 0.0097."""
    root = printed.parse(draw_gap(drawn.BEYOND))
    zero, edge = printed.edges(root, narrow=False)
    (service,) = printed.posts(root, "service", narrow=False)
    assert (service - zero) / (edge - zero) == pytest.approx(92 / 97, abs=0.2 / 600)


def _extent(root: ElementTree.Element, side: str, axis: int) -> tuple[float, float]:
    (body,) = printed.filled(root, "polygon", f"-{side})")
    places = [float(corner.split(",")[axis]) for corner in body.attrib["points"].split()]
    return min(places), max(places)


def test_a_loose_fit_leaves_its_gap_open() -> None:
    """Between the inner part's edge and the outer part's nothing is hatched."""
    root = printed.parse(draw_gap(drawn.SERVICE))
    zero, edge = printed.edges(root, narrow=False)
    assert _extent(root, "below", 0)[1] == zero
    assert _extent(root, "above", 0)[0] == edge
    assert edge > zero


@pytest.mark.parametrize("narrow", [False, True])
def test_a_tight_fit_is_hatched_twice(narrow: bool) -> None:
    """Both bodies cover the overlap, from the reading below zero up to zero."""
    root = printed.parse(draw_gap(drawn.TIGHT, narrow=narrow))
    zero, edge = printed.edges(root, narrow)
    below, above = (_extent(root, side, 1 if narrow else 0) for side in ("below", "above"))
    shared = (max(below[0], above[0]), min(below[1], above[1]))
    assert shared == (min(zero, edge), max(zero, edge))
    assert shared[1] - shared[0] > 50


@pytest.mark.parametrize("narrow", [False, True])
def test_the_feather_is_as_wide_as_the_doubt(narrow: bool) -> None:
    """The feathered edge reaches from reading less doubt to reading plus doubt, to scale."""
    drawing = drawn.gap("0.0088", service=drawn.pair("", "0.0090"), doubt=0.0006)
    root = printed.parse(draw_gap(drawing, narrow=narrow))
    zero, edge = printed.edges(root, narrow)
    halves = [*printed.filled(root, "rect", "-rise)"), *printed.filled(root, "rect", "-fall)")]
    lengths = [float(half.attrib["height" if narrow else "width"]) for half in halves]
    assert lengths == pytest.approx([abs(edge - zero) * 6 / 88] * 2, abs=ROUNDED)


def test_no_doubt_no_feather() -> None:
    """An edge whose doubt is unknown is drawn sharp."""
    assert printed.filled(printed.parse(draw_gap(drawn.gap("0.0040", doubt=None))), "rect", "-rise)") == []


def test_the_new_band_fills_the_space_between_the_new_limits() -> None:
    """The pale band begins and ends at the new posts."""
    root = printed.parse(draw_gap(drawn.BEYOND))
    (band,) = [
        rect for rect in root.iter(f"{printed.SVG}rect") if rect.get("fill-opacity") and rect.get("class") == "new"
    ]
    start = float(band.attrib["x"])
    assert [start, start + float(band.attrib["width"])] == pytest.approx(printed.posts(root, "new", False), abs=ROUNDED)


def test_what_is_beyond_is_marked_from_the_limit_to_the_edge() -> None:
    """A solid bar spans the excess, and only a verdict of beyond has one."""

    def bars(drawing: GapDrawing) -> list[tuple[float, float]]:
        rects = printed.filled(printed.parse(draw_gap(drawing)), "rect", "currentColor")
        spans = [(float(one.attrib["x"]), float(one.attrib["width"])) for one in rects if one.get("class") == "beyond"]
        return [(start, start + length) for start, length in spans]

    root = printed.parse(draw_gap(drawn.BEYOND))
    (service,), (_, edge) = printed.posts(root, "service", False), printed.edges(root, False)
    assert bars(drawn.BEYOND) == [pytest.approx((service, edge), abs=ROUNDED)]
    assert bars(dataclasses.replace(drawn.BEYOND, verdict="undecided")) == []


def test_a_limit_alone_says_which_side_it_is() -> None:
    """A one-sided limit is called least or greatest; with both sides the band says it."""
    texts = {box.text for box in printed.boxes(printed.parse(draw_gap(drawn.SERVICE)))}
    assert {"new", "service greatest"} <= texts
    texts = {
        box.text for box in printed.boxes(printed.parse(draw_gap(drawn.gap("0.0040", new=drawn.pair("0.0030", "")))))
    }
    assert "new least" in texts


def test_no_limit_at_all_draws_no_post() -> None:
    """Without limits there is the gap, zero and the reading, nothing else."""
    root = printed.parse(draw_gap(drawn.gap("0.0065")))
    assert printed.posts(root, "new", False) == printed.posts(root, "service", False) == []
    assert {box.text for box in printed.boxes(root)} == {"gear tip", "body bore", "NO LIMIT", "0", "0.0065", "in"}


def test_the_forecast_bracket_spans_what_is_forecast() -> None:
    """The bracket reaches from the least to the greatest that other parts would make, and says so."""
    root = printed.parse(draw_gap(drawn.SERVICE))
    zero, edge = printed.edges(root, narrow=False)
    x1, _, x2, _ = printed.lines(root, "soft", "2.5")[0]
    expected = [zero + (edge - zero) * share / 665 for share in (575, 675)]
    assert [x1, x2] == pytest.approx(expected, abs=ROUNDED)
    assert "with new gears 0.00575 to 0.00675" in {box.text for box in printed.boxes(root)}


def test_equal_posts_both_show() -> None:
    """A new limit where the service limit lies is drawn over it and reaches further at both ends."""
    both = drawn.pair("0.0030", "0.0060")
    root = printed.parse(draw_gap(drawn.gap("0.0050", new=both, service=both)))
    thin, heavy = printed.lines(root, "new", "2")[0], printed.lines(root, "service", "6")[0]
    assert thin[0] == heavy[0]
    assert thin[1] < heavy[1]
    assert thin[3] > heavy[3]
    order = [(line.get("class"), line.get("stroke-width")) for line in root.iter(f"{printed.SVG}line")]
    assert order.index(("new", "2")) > order.index(("service", "6"))


@pytest.mark.parametrize("verdict", ["new", "service", "beyond", "undecided", "none"])
@pytest.mark.parametrize("narrow", [False, True])
def test_the_word_stands_beside_the_mark(verdict: str, narrow: bool) -> None:
    """Each verdict is said in words and has a square of its own kind, so that no colour is needed."""
    said = {
        "new": ("IN NEW LIMITS", 2, 0, False),
        "service": ("IN SERVICE LIMITS", 2, 0, False),
        "beyond": ("BEYOND", 1, 2, False),
        "undecided": ("UNDECIDED", 1, 0, True),
        "none": ("NO LIMIT", 1, 0, False),
    }
    root = printed.parse(draw_gap(drawn.gap("0.0040", verdict=verdict), narrow=narrow))
    squares = [rect for rect in root.iter(f"{printed.SVG}rect") if rect.get("class") == verdict]
    word, frames, strokes, dotted = said[verdict]
    assert word in {box.text for box in printed.boxes(root)}
    assert len(squares) == frames
    assert len(printed.lines(root, verdict, "2")) == strokes
    assert (squares[0].get("stroke-dasharray") is not None) == dotted


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ({"reading": Mark(float("nan"), "0.1")}, "positions"),
        ({"reading": Mark(float("inf"), "0.1")}, "positions"),
        ({"doubt": -0.1}, "doubt"),
        ({"doubt": float("nan")}, "doubt"),
        ({"new": drawn.pair("0.2", "0.1")}, "new least 0.2 above greatest 0.1"),
        ({"service": drawn.pair("0.2", "0.1")}, "service least"),
        ({"forecast": drawn.pair("0.2", "0.1")}, "forecast least"),
        ({"reading": Mark(0.1, " ")}, "digits"),
        ({"reading": Mark(0.1, "1" * 25)}, "digits"),
        ({"unit": "thousandths of an inch"}, "unit"),
        ({"verdict": "good"}, "verdict"),
        ({"sentence": " "}, "sentence"),
    ],
)
def test_what_has_no_place_is_refused(change: dict[str, object], found: str) -> None:
    """What cannot be drawn to scale, or could not be read or heard, is refused and named."""
    with pytest.raises(CannotDraw) as caught:
        draw_gap(dataclasses.replace(drawn.SERVICE, **change))  # type: ignore[arg-type] # one field each
    assert found in caught.value.found
    assert caught.value.expected


@pytest.mark.parametrize("name", ["", "2nd", 'a"b', "a b", "a\n"])
def test_a_name_that_cannot_begin_an_id_is_refused(name: str) -> None:
    """The drawing's name is checked before it is written into an id."""
    with pytest.raises(CannotDraw):
        draw_gap(drawn.SERVICE, name=name)
