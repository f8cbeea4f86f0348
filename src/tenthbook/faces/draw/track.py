"""Where a number lies on the paper, lying down or standing up, always to scale.

Along the drawing numbers grow to the right, or upward; across it is the other direction of the paper. Nothing of the
picture itself is known here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tenthbook.faces.draw.svg import element, number

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Track:
    """A straight scale on the paper, and the strip the drawing fills.

    Attributes:
        low: Smallest number shown, in the drawing's unit.
        high: Largest number shown, in the drawing's unit.
        start: Where `low` lies along the drawing [px].
        stop: Where `high` lies along the drawing [px].
        ends: Where the strip begins (beside `low`) and ends along the drawing [px].
        sides: Both sides of the strip across the drawing, least first [px].
        upright: Whether the drawing stands up.
    """

    low: float
    high: float
    start: float
    stop: float
    ends: tuple[float, float]
    sides: tuple[float, float]
    upright: bool = False

    def at(self, value: float) -> float:
        """Say where a number lies.

        Args:
            value: The number, in the drawing's unit.

        Returns:
            Its place along the drawing [px].
        """
        if self.high == self.low:
            return (self.start + self.stop) / 2
        return self.start + (value - self.low) / (self.high - self.low) * (self.stop - self.start)

    @property
    def middle(self) -> float:
        """Halfway across the strip [px]."""
        return sum(self.sides) / 2

    @property
    def ahead(self) -> float:
        """+1 where numbers grow with the coordinate, else -1 [-]."""
        return 1.0 if self.stop > self.start else -1.0

    def point(self, along: float, across: float) -> Point:
        """Turn a place into coordinates.

        Args:
            along: Along the drawing [px].
            across: Across the drawing [px].

        Returns:
            x and y [px].
        """
        return (across, along) if self.upright else (along, across)

    def line(self, along: Sequence[float], across: Sequence[float], **look: str | float | None) -> str:
        """Draw a straight line.

        Args:
            along: Both ends along the drawing [px].
            across: Both ends across the drawing [px].
            **look: Further attributes.

        Returns:
            The markup.
        """
        (x1, y1), (x2, y2) = self.point(along[0], across[0]), self.point(along[1], across[1])
        return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke="currentColor", **look)

    def block(self, along: Sequence[float], across: Sequence[float], **look: str | float | None) -> str:
        """Draw a rectangle.

        Args:
            along: Two sides along the drawing, in any order [px].
            across: Two sides across the drawing, in any order [px].
            **look: Further attributes.

        Returns:
            The markup.
        """
        (x1, y1), (x2, y2) = self.point(min(along), min(across)), self.point(max(along), max(across))
        return element("rect", x=x1, y=y1, width=x2 - x1, height=y2 - y1, **look)

    def shape(self, points: Sequence[Point], **look: str | float | None) -> str:
        """Draw a closed shape.

        Args:
            points: Corners, each along and across the drawing [px].
            **look: Further attributes.

        Returns:
            The markup.
        """
        corners = " ".join(",".join(map(number, self.point(*corner))) for corner in points)
        return element("polygon", points=corners, **look)
