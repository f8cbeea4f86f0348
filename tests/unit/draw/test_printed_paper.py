"""The same drawing goes onto printed papers."""

from __future__ import annotations

from pathlib import Path

import pytest
import typst

from tenthbook.faces.draw import EdgeDrawing, GapDrawing, draw_edge, draw_gap
from tests.unit.draw import drawn, printed


@pytest.mark.parametrize("drawing", [drawn.SERVICE, drawn.TIGHT, drawn.SHAFT])
def test_the_paper_shows_the_drawing(drawing: GapDrawing | EdgeDrawing, tmp_path: Path) -> None:
    """The typesetter takes the drawing, with the digits in it as text in the project's own letters."""
    svg = draw_gap(drawing) if isinstance(drawing, GapDrawing) else draw_edge(drawing)
    (tmp_path / "drawing.svg").write_text(svg, encoding="utf-8")
    (tmp_path / "paper.typ").write_text('#image("drawing.svg", width: 100%)', encoding="utf-8")
    fonts = [str(printed.FONTS)]
    paper = typst.compile(str(tmp_path / "paper.typ"), font_paths=fonts, ignore_system_fonts=True)
    assert isinstance(paper, bytes)
    assert paper.startswith(b"%PDF")
    for face in (b"AtkinsonHyperlegibleNext-Regular", b"AtkinsonHyperlegibleMono"):
        assert face in paper
