"""Pictures of a measurement: the clearance itself, magnified, or one size against its limits.

- `records`: what a picture is made of (`Mark`, `GapDrawing`, `EdgeDrawing`) and what it refuses (`CannotDraw`);
- `gap`: two parts face each other, the space between them is the reading; `edge`: a single size, a shaft's or a bore's;
- `scene`: what both have in common once it is known which part lies on which side;
- `wide` and `narrow`: the same scene laid out lying down (920 units) or standing up (320 units, no text under 16);
- `picture`, `reading`: the strip itself, and the reading's digits with its line;
- `track`, `plate`, `spread`, `lanes`: where a number lies, where the digits find room, how labels are kept apart;
- `letters`, `ink`, `svg`: how wide a word is, in which colour, and written so that no text can become markup.

Values in, SVG text out: nothing is opened, nothing is remembered, and the same values give the same bytes.

How to restyle a picture. Everything is painted in `currentColor`; each painted element carries a `color` attribute
and one class of `ink`, `soft`, `paper`, `new`, `service`, `beyond`, `undecided`, `none`. One rule a class is enough:
`svg .ink { color: #ECEAE3 }`. `paper` is what lies behind the digits and must be the colour of the page. There is no
style element and no style attribute. Colour never carries a meaning alone: hatching, thickness, the mark and the
words do.
"""

from tenthbook.faces.draw.edge import draw_edge
from tenthbook.faces.draw.gap import draw_gap
from tenthbook.faces.draw.records import CannotDraw, EdgeDrawing, GapDrawing, Mark

__all__ = ["CannotDraw", "EdgeDrawing", "GapDrawing", "Mark", "draw_edge", "draw_gap"]
