"""A single size: its edge to scale against the posts, the material on the right side."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.draw import CannotDraw, EdgeDrawing, Mark, draw_edge
from tests.unit.draw import drawn, printed


@given(st.integers(5000, 5200), st.integers(5000, 5200), st.integers(5000, 5200), st.booleans())
@settings(max_examples=100, deadline=None)
def test_differences_are_to_scale(reading: int, least: int, service: int, narrow: bool) -> None:
    """Edge and posts lie as far apart as their numbers, in one ratio; larger is to the right or higher."""
    drawing = dataclasses.replace(
        drawn.SHAFT,
        reading=Mark(reading / 1e4, "r"),
        doubt=None,
        new=(Mark(least / 1e4, "n"), None),
        service=(Mark(service / 1e4, "s"), None),
    )
    root = printed.parse(draw_edge(drawing, narrow=narrow))
    values = [reading, least, service]
    places = [
        *printed.edges(root, narrow),
        *printed.posts(root, "new", narrow),
        *printed.posts(root, "service", narrow),
    ]
    span, length = max(values) - min(values), max(places) - min(places)
    for value, place in zip(values, places, strict=True):
        share = (value - min(values)) / span if span else 0.0
        assert abs(place - (max(places) if narrow else min(places))) == pytest.approx(share * length, abs=0.11)


@pytest.mark.parametrize("bore", [False, True])
def test_material_lies_below_a_shafts_edge_and_beyond_a_bores(bore: bool) -> None:
    """The hatching ends at the reading: it fills what is smaller for a shaft and what is larger for a bore."""
    drawing = dataclasses.replace(drawn.SHAFT, bore=bore)
    root = printed.parse(draw_edge(drawing))
    (edge,) = printed.edges(root, narrow=False)
    (body,) = printed.filled(root, "polygon", "-above)" if bore else "-below)")
    places = [float(corner.split(",")[0]) for corner in body.attrib["points"].split()]
    assert edge == (min(places) if bore else max(places))
    assert max(places) - min(places) > 100


def test_a_bore_and_a_shaft_of_one_size_have_their_edge_at_one_place() -> None:
    """Turning a shaft into a bore moves the hatching, not the edge nor a post."""
    shaft = printed.parse(draw_edge(drawn.SHAFT))
    bore = printed.parse(draw_edge(dataclasses.replace(drawn.SHAFT, bore=True)))
    assert printed.edges(shaft, False) == printed.edges(bore, False)
    assert printed.posts(shaft, "service", False) == printed.posts(bore, "service", False)


@pytest.mark.parametrize("narrow", [False, True])
def test_a_size_alone_is_not_all_doubt(narrow: bool) -> None:
    """Without a limit the doubt still takes no more than a sixth of the drawing."""
    root = printed.parse(draw_edge(drawn.edge("0.5094"), narrow=narrow))
    halves = [*printed.filled(root, "rect", "-rise)"), *printed.filled(root, "rect", "-fall)")]
    doubt = sum(float(half.attrib["height" if narrow else "width"]) for half in halves)
    assert 2 < doubt <= printed.frame(root)[1 if narrow else 0] / 6


def test_too_small_a_shaft_shows_what_is_missing() -> None:
    """The bar reaches from the edge up to the least service limit."""
    root = printed.parse(draw_edge(drawn.SHAFT))
    (service,), (edge,) = printed.posts(root, "service", False), printed.edges(root, False)
    bars = [rect for rect in printed.filled(root, "rect", "currentColor") if rect.get("class") == "beyond"]
    (bar,) = bars
    start = float(bar.attrib["x"])
    assert (start, start + float(bar.attrib["width"])) == pytest.approx((edge, service), abs=0.11)


def test_zero_is_not_shown_for_a_size() -> None:
    """A single size has no zero on its drawing: only its limits and its reading are printed."""
    texts = {box.text for box in printed.boxes(printed.parse(draw_edge(drawn.SHAFT)))}
    assert texts == {"diameter", "BEYOND", "new", "service least", "0.5094", "in", "0.5098", "0.5108", "0.5114"}


@pytest.mark.parametrize(
    "change",
    [{"verdict": "good"}, {"sentence": ""}, {"new": drawn.pair("2", "1")}, {"doubt": -1.0}, {"unit": "x" * 13}],
)
def test_what_has_no_place_is_refused_for_a_size_too(change: dict[str, object]) -> None:
    """A size is refused for the same reasons as a gap."""
    wrong: EdgeDrawing = dataclasses.replace(drawn.SHAFT, **change)  # type: ignore[arg-type] # one field each
    with pytest.raises(CannotDraw):
        draw_edge(wrong)
