"""Whatever is drawn stays on its sheet, legible and harmless."""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.draw import EdgeDrawing, GapDrawing, draw_edge, draw_gap
from tests.unit.draw import drawn, printed

layouts = st.booleans()
ANY = st.one_of(drawn.gaps, drawn.shafts)
USUAL = (drawn.BEYOND, drawn.SERVICE, drawn.TIGHT, drawn.SHAFT)
TAGS = {"svg", "defs", "pattern", "linearGradient", "stop", "rect", "line", "path", "polygon", "text", "tspan"}


def draw(drawing: GapDrawing | EdgeDrawing, *, narrow: bool, name: str = "x") -> str:
    """Draw either kind."""
    if isinstance(drawing, GapDrawing):
        return draw_gap(drawing, narrow=narrow, name=name)
    return draw_edge(drawing, narrow=narrow, name=name)


@given(ANY, layouts)
@settings(max_examples=200, deadline=None)
def test_every_text_stands_on_the_sheet_and_clear_of_every_other(
    drawing: GapDrawing | EdgeDrawing, narrow: bool
) -> None:
    """No text runs out of the sheet and no two texts share room, whatever the numbers and names."""
    root = printed.parse(draw(drawing, narrow=narrow))
    width, height = printed.frame(root)
    found = printed.boxes(root)
    for box in found:
        assert box.left >= 0
        assert box.top >= 0
        assert box.right <= width
        assert box.bottom <= height
    assert [pair for pair in combinations(found, 2) if pair[0].meets(pair[1])] == []


@given(ANY, layouts)
@settings(max_examples=80, deadline=None)
def test_no_thin_line_runs_through_a_text(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """The line that leads to a label touches no other label."""
    root = printed.parse(draw(drawing, narrow=narrow))
    found = printed.boxes(root)
    assert [(box, piece) for box in found for piece in printed.leaders(root) if box.crossed_by(*piece)] == []


@given(ANY)
@settings(max_examples=50, deadline=None)
def test_narrow_text_is_never_small(drawing: GapDrawing | EdgeDrawing) -> None:
    """On a sheet 320 wide no text is under 16, and the sheet is 320 wide."""
    root = printed.parse(draw(drawing, narrow=True))
    assert printed.frame(root)[0] == 320
    assert min(box.size for box in printed.boxes(root)) >= 16


@given(ANY, layouts)
@settings(max_examples=50, deadline=None)
def test_all_coordinates_lie_on_the_sheet(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """Lines, blocks and shapes end on the sheet too."""
    root = printed.parse(draw(drawing, narrow=narrow))
    width, height = printed.frame(root)
    for element in root.iter():
        if element.tag.endswith(("line", "rect")) and "id" not in element.attrib:
            across = [float(element.get(key, "0")) for key in ("x", "x1", "x2")]
            down = [float(element.get(key, "0")) for key in ("y", "y1", "y2")]
            across.append(across[0] + float(element.get("width", "0")))
            down.append(down[0] + float(element.get("height", "0")))
            assert min(across + down) >= 0
            assert max(across) <= width
            assert max(down) <= height


@given(ANY, layouts)
@settings(max_examples=50, deadline=None)
def test_only_plain_shapes_and_own_references(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """No style, script, link or foreign reference: only known elements, and ids of the drawing's own."""
    text = draw(drawing, narrow=narrow, name="cover-2")
    root = printed.parse(text)
    ids = {element.attrib["id"] for element in root.iter() if "id" in element.attrib}
    assert {element.tag.removeprefix(printed.SVG) for element in root.iter()} <= TAGS
    assert all(name.startswith("cover-2-") for name in ids)
    for element in root.iter():
        assert not {key for key in element.attrib if key == "style" or key.startswith("on") or key.endswith("href")}
        assert set(re.findall(r"url\(#(.*?)\)", " ".join(element.attrib.values()))) <= ids


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("drawing", USUAL)
def test_same_values_give_the_same_bytes(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """A drawing made twice is the same; its coordinates have one decimal at most."""
    text = draw(drawing, narrow=narrow)
    assert text == draw(drawing, narrow=narrow)
    assert re.findall(r' (?:[xy][12]?|width|height)="-?\d+\.\d{2,}"', text) == []


@pytest.mark.parametrize("drawing", USUAL)
def test_usual_sheets_keep_their_size(drawing: GapDrawing | EdgeDrawing) -> None:
    """The usual drawing is 920 by about 250, or 320 by no more than a small screen is high."""
    width, height = printed.frame(printed.parse(draw(drawing, narrow=False)))
    assert width == 920
    assert 220 <= height <= 300
    assert printed.frame(printed.parse(draw(drawing, narrow=True)))[1] <= 460


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("drawing", USUAL)
def test_it_says_its_sentence(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """Who cannot see the drawing hears its sentence."""
    root = printed.parse(draw(drawing, narrow=narrow))
    assert root.tag == f"{printed.SVG}svg"
    assert root.get("role") == "img"
    assert root.get("aria-label") == drawing.sentence


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("drawing", USUAL)
def test_every_number_is_printed_as_given(drawing: GapDrawing | EdgeDrawing, narrow: bool) -> None:
    """The reading, both kinds of limits and the unit stand on the drawing with their own digits."""
    printed_words = " ".join(box.text for box in printed.boxes(printed.parse(draw(drawing, narrow=narrow)))).split()
    marks = [drawing.reading, *(limit for limit in (*drawing.new, *drawing.service) if limit)]
    assert {one.text for one in marks} | {drawing.unit} <= set(printed_words)


@pytest.mark.parametrize("narrow", [False, True])
def test_hostile_names_stay_text(narrow: bool) -> None:
    """Markup in a name or in the sentence is printed, never obeyed; what XML cannot hold is replaced."""
    drawing = drawn.gap("0.0040", inner=drawn.HOSTILE, sentence=drawn.HOSTILE)
    text = draw_gap(drawing, narrow=narrow)
    root = printed.parse(text)
    assert "<script" not in text
    said = "<script>alert('1')</script> & \"both\" ]]> \ufffd \ufffd \ufffd"
    assert root.get("aria-label") == said
    assert said.replace(" ", "") in "".join(box.text for box in printed.boxes(root)).replace(" ", "")
