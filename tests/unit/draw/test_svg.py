"""Elements, numbers and text as they are written."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.faces.draw.svg import element, escape, number, plain


@given(st.text())
def test_any_text_can_be_written_and_read_back(text: str) -> None:
    """Text of any kind makes well-formed XML, and comes back as it was made plain."""
    written = element("text", escape(plain(text)), aria_label=plain(text))
    read = ElementTree.fromstring(written.encode())
    assert (read.text or "") == plain(text)
    assert read.get("aria-label") == plain(text)


@pytest.mark.parametrize(
    ("value", "written"), [(1.0, "1"), (-0.04, "0"), (379.4499, "379.4"), (1e6, "1000000"), (-2.55, "-2.5")]
)
def test_coordinates_have_one_decimal(value: float, written: str) -> None:
    """A coordinate is rounded to 0.1 and never reads as minus zero."""
    assert number(value) == written


def test_attributes_are_named_and_left_out() -> None:
    """Underscores become hyphens, one at the end falls away, and None is not written."""
    assert element("a", class_="b", stroke_width=2, fill=None) == '<a class="b" stroke-width="2"/>'


def test_signs_that_turn_the_writing_are_replaced() -> None:
    """A name cannot turn the digits beside it round."""
    assert plain("a\u202eb\u2066") == "a\ufffdb\ufffd"
