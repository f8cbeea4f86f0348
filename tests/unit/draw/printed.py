"""What stands on a drawing, read back from its SVG: text with its box, lines, shapes."""

from __future__ import annotations

import re
import struct
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import tenthbook

FONTS = Path(tenthbook.__file__).parent / "faces" / "papers" / "fonts"
SVG = "{http://www.w3.org/2000/svg}"
ASCENT, DESCENT = 0.74, 0.21  # highest and lowest letter, as a share of the size


@dataclass(frozen=True)
class Box:
    """One text and the room it takes."""

    text: str
    size: float
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether two texts share any room."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def crossed_by(self, start: tuple[float, float], end: tuple[float, float]) -> bool:
        """Whether a straight line enters the box (tried at 200 points along it)."""
        for step in range(201):
            x = start[0] + (end[0] - start[0]) * step / 200
            y = start[1] + (end[1] - start[1]) * step / 200
            if self.left < x < self.right and self.top < y < self.bottom:
                return True
        return False


@cache
def glyph_widths(file: str) -> dict[int, int]:
    """Advance widths of a vendored font by code point, of 1000 a size, from its cmap (format 4) and hmtx tables."""
    data = (FONTS / file).read_bytes()
    (count,) = struct.unpack(">H", data[4:6])
    table = {
        data[at : at + 4].decode(): struct.unpack(">I", data[at + 8 : at + 12])[0]
        for at in range(12, 12 + 16 * count, 16)
    }
    (upem,) = struct.unpack(">H", data[table["head"] + 18 : table["head"] + 20])
    assert upem == 1000
    (long,) = struct.unpack(">H", data[table["hhea"] + 34 : table["hhea"] + 36])
    advances = [struct.unpack(">H", data[at : at + 2])[0] for at in range(table["hmtx"], table["hmtx"] + 4 * long, 4)]
    return {code: advances[min(glyph, long - 1)] for code, glyph in _glyphs(data, table["cmap"]).items()}


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    (count,) = struct.unpack(">H", data[cmap + 2 : cmap + 4])
    starts = [cmap + struct.unpack(">I", data[at + 4 : at + 8])[0] for at in range(cmap + 4, cmap + 4 + 8 * count, 8)]
    start = next(at for at in starts if struct.unpack(">H", data[at : at + 2])[0] == 4)
    segments = struct.unpack(">H", data[start + 6 : start + 8])[0] // 2

    def column(number: int, gap: int = 0) -> tuple[int, ...]:
        at = start + 14 + 2 * segments * number + gap
        return struct.unpack(f">{segments}H", data[at : at + 2 * segments])

    found: dict[int, int] = {}
    offsets_at = start + 16 + 6 * segments
    for index, (last, first, delta, offset) in enumerate(
        zip(column(0), column(1, 2), column(2, 2), column(3, 2), strict=True)
    ):
        for code in range(first, min(last, 0xFFFE) + 1):
            at = offsets_at + 2 * index + offset + 2 * (code - first)
            found[code] = (code + delta) & 0xFFFF if offset == 0 else struct.unpack(">H", data[at : at + 2])[0]
    return found


def parse(drawing: str) -> ElementTree.Element:
    """The drawing as a tree; fails where it is not XML."""
    return ElementTree.fromstring(drawing.encode())


def frame(root: ElementTree.Element) -> tuple[float, float]:
    """Width and height of the drawing."""
    x, y, width, height = map(float, root.attrib["viewBox"].split())
    assert (x, y) == (0, 0)
    return width, height


def boxes(root: ElementTree.Element) -> list[Box]:
    """Every text with its box, from the real widths of the letters."""
    found = []
    for element in root.iter(f"{SVG}text"):
        size, x, y = (float(element.attrib[key]) for key in ("font-size", "x", "y"))
        runs = [(element, element.text or "")]
        for child in element:
            runs += [(child, child.text or ""), (element, child.tail or "")]
        width = sum(_width(owner.attrib, text) for owner, text in runs) * size / 1000
        left = x - {"start": 0.0, "middle": width / 2, "end": width}[element.attrib["text-anchor"]]
        text = "".join(part for _, part in runs)
        found.append(Box(text, size, left, y - ASCENT * size, left + width, y + DESCENT * size))
    return found


def _width(attributes: dict[str, str], text: str) -> float:
    family = "mono" if "Mono" in attributes["font-family"] else "next"
    widths = glyph_widths(f"atkinson-hyperlegible-{family}-latin-{attributes.get('font-weight', '400')}-normal.ttf")
    return sum(widths.get(ord(sign), 1000) for sign in text)


def lines(root: ElementTree.Element, ink: str, thick: str) -> list[tuple[float, float, float, float]]:
    """Straight lines of one class and thickness: x1, y1, x2, y2, in the order drawn."""
    return [
        (float(line.attrib["x1"]), float(line.attrib["y1"]), float(line.attrib["x2"]), float(line.attrib["y2"]))
        for line in root.iter(f"{SVG}line")
        if (line.get("class"), line.get("stroke-width")) == (ink, thick)
    ]


def edges(root: ElementTree.Element, narrow: bool) -> list[float]:
    """Where the bodies' edges lie along the drawing; of two, zero's comes first."""
    return [line[1 if narrow else 0] for line in lines(root, "ink", "4")]


def posts(root: ElementTree.Element, ink: str, narrow: bool) -> list[float]:
    """Where the posts of one kind lie along the drawing."""
    return [line[1 if narrow else 0] for line in lines(root, ink, {"service": "6", "new": "2"}[ink])]


def leaders(root: ElementTree.Element) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Every straight piece of the thin lines that lead to labels."""
    pieces = []
    for path in root.iter(f"{SVG}path"):
        if path.get("stroke-width") != "1":
            continue
        at, way = (0.0, 0.0), []
        for letter, numbers in re.findall(r"([MLHV])([-\d. ]+)", path.attrib["d"]):
            values = [float(number) for number in numbers.split()]
            at = {"H": (values[0], at[1]), "V": (at[0], values[0])}.get(letter) or (values[0], values[1])
            way.append(at)
        pieces += list(pairwise(way))
    return pieces


def filled(root: ElementTree.Element, tag: str, fill: str) -> list[ElementTree.Element]:
    """Elements of one kind whose fill ends like this."""
    return [element for element in root.iter(SVG + tag) if element.get("fill", "").endswith(fill)]
