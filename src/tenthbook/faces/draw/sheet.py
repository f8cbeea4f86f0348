"""The sheet a scene is written on: the outermost element, its size and the sentence."""

from __future__ import annotations

from tenthbook.faces.draw.narrow import lay_narrow
from tenthbook.faces.draw.scene import Scene
from tenthbook.faces.draw.svg import element, number, plain
from tenthbook.faces.draw.wide import lay_wide


def write_sheet(scene: Scene, *, narrow: bool) -> str:
    """Write a scene as one SVG document.

    Args:
        scene: What is shown.
        narrow: Whether it stands up, for a screen 320 wide, rather than lies down.

    Returns:
        The document.
    """
    inside, width, height = lay_narrow(scene) if narrow else lay_wide(scene)
    box = f"0 0 {number(width)} {number(height)}"
    said = {"role": "img", "aria_label": plain(scene.sentence)}
    return element("svg", inside, xmlns="http://www.w3.org/2000/svg", viewBox=box, width="100%", **said)
