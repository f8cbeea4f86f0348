"""What a drawing shows once it is known which part lies on which side: bodies, edges, posts, the reading.

It is the same whether it is laid out lying down or standing up; it decides no place on the paper.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from tenthbook.faces.draw.records import Limits, Mark

_SIDES = ("least", "greatest")
_SHARPEST = 14.0


@dataclass(frozen=True, slots=True)
class Body:
    """Material on one side of its edge.

    Attributes:
        edge: Where the material ends, in the drawing's unit.
        beyond: Whether it fills everything above the edge rather than below.
    """

    edge: float
    beyond: bool


@dataclass(frozen=True, slots=True)
class Post:
    """One limit across the drawing.

    Attributes:
        kind: `new` or `service`.
        mark: The limit.
        word: What it is called.
    """

    kind: str
    mark: Mark
    word: str


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything to be shown, in the drawing's unit.

    Attributes:
        name: Prefix of every id.
        sentence: The picture in words.
        verdict: The verdict's name.
        unit: The unit as printed.
        below: Name of what lies on the low side; may be empty.
        above: Name of what lies on the high side; may be empty.
        bodies: Hatched bodies.
        reading: The reading, at which an edge lies.
        doubt: Half width of its doubt; zero for none.
        new: Least and greatest for new parts.
        service: Least and greatest in service.
        zero: Where the reading is measured from; None for a single size.
        forecast: Least and greatest that other parts would make.
        forecast_label: What would make them.
        posts: The limits that are given, in rising order.
    """

    name: str
    sentence: str
    verdict: str
    unit: str
    below: str
    above: str
    bodies: tuple[Body, ...]
    reading: Mark
    doubt: float
    new: Limits
    service: Limits
    zero: Mark | None = None
    forecast: tuple[Mark, Mark] | None = None
    forecast_label: str = ""
    posts: tuple[Post, ...] = field(init=False)

    def __post_init__(self) -> None:
        posts = (*_posts("new", self.new), *_posts("service", self.service))
        object.__setattr__(self, "posts", tuple(sorted(posts, key=lambda post: post.mark.value)))

    @property
    def band(self) -> tuple[float, float] | None:
        """Both new limits, where both are given."""
        least, greatest = self.new
        return (least.value, greatest.value) if least and greatest else None

    @property
    def span(self) -> tuple[float, float]:
        """Smallest and largest number to be shown: all that is stated.

        A single size is not shown so near that only its doubt is seen.
        """
        known = [self.reading.value - self.doubt, self.reading.value + self.doubt]
        known += [post.mark.value for post in self.posts]
        known += [mark.value for mark in self.forecast or ()]
        if self.zero:
            return min(*known, self.zero.value), max(*known, self.zero.value)
        spare = max(0.0, _SHARPEST * self.doubt - (max(known) - min(known))) / 2
        return min(known) - spare, max(known) + spare

    @property
    def excess(self) -> tuple[float, float] | None:
        """From the limit to the reading that lies beyond it; None unless the verdict is beyond."""
        least, greatest = (served or made for served, made in zip(self.service, self.new, strict=True))
        if self.verdict != "beyond":
            return None
        if greatest and self.reading.value > greatest.value:
            return greatest.value, self.reading.value
        return (self.reading.value, least.value) if least and self.reading.value < least.value else None


def _posts(kind: str, pair: Limits) -> list[Post]:
    """The posts of one pair; a limit that stands alone says which side it is."""
    alone = None in pair
    named = zip(pair, _SIDES, strict=True)
    return [Post(kind, mark, f"{kind} {side}" if alone else kind) for mark, side in named if mark]
