"""The strip itself: hatched bodies, the feathered edge, posts, the reading with its line and arrows.

It draws a scene on a track, lying down or standing up alike. Labels outside the strip belong to `wide` and `narrow`.
"""

from __future__ import annotations

from tenthbook.faces.draw.ink import paint
from tenthbook.faces.draw.reading import lay_reading
from tenthbook.faces.draw.scene import Body, Scene
from tenthbook.faces.draw.svg import element
from tenthbook.faces.draw.track import Point, Track

OVERHANG = 9.0
_TEETH = 7
_BITE = 5.0
_BAR = 7.0
_HEAVY = 6.0
_THIN = 2.0


def definitions(scene: Scene, track: Track) -> str:
    """Write the hatchings and the two halves of the feathered edge.

    Args:
        scene: What is shown.
        track: Where it lies.

    Returns:
        The `defs` element; every id begins with the drawing's name.
    """
    drawn = []
    for side, turn in (("below", "45"), ("above", "-45")):
        stroke = element("line", x1=0, y1=0, x2=0, y2=9, stroke="currentColor", stroke_width="1.6", **paint("ink"))
        look = {"patternUnits": "userSpaceOnUse", "patternTransform": f"rotate({turn})"}
        drawn.append(element("pattern", stroke, id=f"{scene.name}-{side}", width=9, height=9, **look))
    away = {"x1": 0, "x2": 0, "y1": 1, "y2": 0} if track.upright else {"x1": 0, "x2": 1, "y1": 0, "y2": 0}
    for half, first, then in (("rise", "0", "0.5"), ("fall", "0.5", "0")):
        stops = [
            element("stop", offset=place, stop_color="currentColor", stop_opacity=depth, **paint("ink"))
            for place, depth in (("0", first), ("1", then))
        ]
        drawn.append(element("linearGradient", *stops, id=f"{scene.name}-{half}", **away))
    return element("defs", *drawn)


def draw_picture(scene: Scene, track: Track) -> list[str]:
    """Draw everything that lies in the strip.

    Args:
        scene: What is shown.
        track: Where it lies.

    Returns:
        Markup, the lowest layer first.
    """
    drawn = []
    if scene.band:
        band = [track.at(end) for end in scene.band]
        drawn.append(track.block(band, track.sides, fill="currentColor", fill_opacity="0.15", **paint("new")))
    drawn += [_body(scene, track, body) for body in scene.bodies]
    drawn += _second_edges(scene, track)
    drawn += _feather(scene, track)
    drawn += _posts(scene, track)
    reading = lay_reading(scene, track)
    drawn += reading.line
    edges = [[track.at(body.edge)] * 2 for body in scene.bodies]
    drawn += [track.line(edge, track.sides, stroke_width="4", **paint("ink")) for edge in edges]
    return [*drawn, *reading.digits, *_excess(scene, track)]


def _body(scene: Scene, track: Track, body: Body) -> str:
    """Hatched material, broken off at its far end."""
    edge, far = track.at(body.edge), track.ends[1 if body.beyond else 0]
    inward = -track.ahead if body.beyond else track.ahead
    low, high = track.sides
    teeth = 2 * _TEETH
    cut = [(far + inward * _BITE * (step % 2), low + (high - low) * step / teeth) for step in range(teeth + 1)]
    corners: list[Point] = [(edge, high), (edge, low), *cut]
    return track.shape(corners, fill=f"url(#{scene.name}-{'above' if body.beyond else 'below'})")


def _second_edges(scene: Scene, track: Track) -> list[str]:
    """Where other parts would put the edge: pale, dashed, from least to greatest."""
    if not scene.forecast:
        return []
    places = [track.at(mark.value) for mark in scene.forecast]
    drawn = [track.block(places, track.sides, fill="currentColor", fill_opacity="0.16", **paint("soft"))]
    dashes = {"stroke_width": "2", "stroke_dasharray": "7 5"}
    return drawn + [track.line([place] * 2, track.sides, **dashes, **paint("soft")) for place in places]


def _feather(scene: Scene, track: Track) -> list[str]:
    """The doubt, to scale, on both sides of the reading's edge."""
    if not scene.doubt:
        return []
    low, edge, high = (track.at(scene.reading.value + side * scene.doubt) for side in (-1, 0, 1))
    halves = (("rise", low), ("fall", high))
    return [track.block([edge, end], track.sides, fill=f"url(#{scene.name}-{half})") for half, end in halves]


def _posts(scene: Scene, track: Track) -> list[str]:
    """Limits across the strip, service limits heavier; a new limit at the same place shows at both ends of it."""
    near, far = track.sides
    whole = (near - (4.0 if track.upright else OVERHANG), far + OVERHANG)
    around, heavy, thin = list[str](), list[str](), list[str]()
    for post in scene.posts:
        place = [track.at(post.mark.value)] * 2
        thick = _HEAVY if post.kind == "service" else _THIN
        around.append(track.line(place, track.sides, stroke_width=thick + 4, **paint("paper")))
        if post.kind == "service":
            heavy.append(track.line(place, (near - 4, far + 5), stroke_width=_HEAVY, **paint("service")))
            heavy.append(track.line(place, whole, stroke_width="1", **paint("service")))
        else:
            thin.append(track.line(place, whole, stroke_width=_THIN, **paint("new")))
    return around + heavy + thin


def _excess(scene: Scene, track: Track) -> list[str]:
    """A solid bar along the strip, from the limit to the reading beyond it."""
    if not scene.excess:
        return []
    across = (track.sides[1], track.sides[1] + _BAR) if track.upright else (track.sides[0] - _BAR, track.sides[0])
    return [track.block([track.at(end) for end in scene.excess], across, fill="currentColor", **paint("beyond"))]
