"""Outlines made: rectangles, strips, circles, polygons with rounded corners and curves. mm, y up."""

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache

from docgen.classes import dataclass
from docgen.geometry.crossing import find_self_crossing
from docgen.geometry.path import JOIN_MM, flatten, path_area, path_box, reverse_path, transform_path
from docgen.geometry.shapes import Arc, Box, Curve, Edge, GeometryError, Line, Outline, Path, Point, RoundedCurveError
from docgen.geometry.vector import Transform, add, cross, distance, dot, mirror_x, scale, subtract, turn_left, unit

KEPT = 1024  # outlines, of which ring and box are asked for over and over
WHOLE = "all"
RIM = "edge"  # the only edge of a circle
RECTANGLE_EDGES = ("bottom", "right", "top", "left")
STRIP_EDGES = ("start", "right", "end", "left")
CORNERS = {
    "rectangle": ("bottom-left", "bottom-right", "top-right", "top-left"),
    "strip": ("start-left", "start-right", "end-right", "end-left"),
}
SIDES = ("left", "bottom", "right", "top")  # of an upright box
SWAPPED = {"left": "right", "right": "left"}
ACROSS = {**SWAPPED, "top": "bottom", "bottom": "top"}  # the edge on the other side
OPPOSITE = (("left", "right"), ("bottom", "top"), ("start", "end"))  # the ends of a strip among them
ACROSS_STRIPS = {**dict(OPPOSITE), **{high: low for low, high in OPPOSITE}}
MIRRORED_NAMES = {
    "left": "right",
    "bottom-left": "bottom-right",
    "top-left": "top-right",
    "start-left": "start-right",
    "end-left": "end-right",
}


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of an outline, and the edge that runs from it to the next corner.

    `radius` in mm rounds it; `edge` names the edge; `handles` make that edge a Bezier curve.
    """

    at: Point
    name: str = ""
    radius: float = 0.0
    edge: str = ""
    handles: tuple[Point, Point] | None = None


def rectangle_outline(width: float, height: float, radii: Mapping[str, float] | None = None) -> Outline:
    """A rectangle with its bottom left at (0, 0): edges bottom, right, top, left.

    `radii`: corner name (bottom-left, bottom-right, top-right, top-left) -> radius in mm. A rounded corner is
    an arc of that name. Two roundings may use up an edge: it then stays as an edge of no length.
    """
    return _upright(width, height, CORNERS["rectangle"], RECTANGLE_EDGES, radii or {})


def strip_outline(width: float, length: float, radii: Mapping[str, float] | None = None) -> Outline:
    """A standing strip with its lower left at (0, 0): edges start (at the bottom), right, end (top), left.

    `radii`: corner name (start-left, start-right, end-right, end-left) -> radius in mm, as for a rectangle.
    """
    return _upright(width, length, CORNERS["strip"], STRIP_EDGES, radii or {})


def _upright(
    width: float, height: float, names: Sequence[str], edges: Sequence[str], radii: Mapping[str, float]
) -> Outline:
    if not (0 < width < math.inf and 0 < height < math.inf):
        raise GeometryError(f"a piece of {width:g} x {height:g} mm has no area")
    for name in radii:
        if name not in names:
            raise GeometryError(f"there is no corner '{name}'; the corners are {', '.join(names)}")
    places = (Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height))
    return corner_outline(
        [Corner(at, name, radii.get(name, 0.0), edge) for at, name, edge in zip(places, names, edges, strict=True)]
    )


def circle_outline(diameter: float) -> Outline:
    """A circle with one edge, "edge", that begins at the bottom; the lower left of its box is at (0, 0)."""
    if not 0 < diameter < math.inf:
        raise GeometryError(f"a circle needs a diameter above 0 mm, not {diameter:g} mm")
    radius = diameter / 2
    ring = Path((Arc(Point(radius, radius), radius, -math.pi / 2, 2 * math.pi),), closed=True)
    return Outline((Edge(RIM, ring),))


def corner_outline(corners: Sequence[Corner]) -> Outline:
    """A closed shape from its corners in order, either way round; the outline always runs anticlockwise.

    Corners need a name only to be spoken of: others are corner-1, corner-2 ... and edges edge-1, edge-2 ...
    by the place of their first corner in the list. The first edge stays the first. A rounding may use up an
    edge, which then stays as an edge of no length. GeometryError, in plain words, when there is no such
    shape.
    """
    named = _name_corners(corners)
    _check_corners(named)
    cuts = [_rounding(named, k) for k in range(len(named))]
    _check_roundings(named, cuts)
    edges: list[Edge] = []
    for k, corner in enumerate(named):
        after = (k + 1) % len(named)
        edges.append(Edge(corner.edge, _edge_between(corner, named[after], cuts[k], cuts[after])))
        arc = cuts[after].arc
        if arc is not None:
            edges.append(Edge(named[after].name, Path((arc,)), corner=True))
    return _check_shape(Outline(_anticlockwise(tuple(edges))))


def _name_corners(corners: Sequence[Corner]) -> tuple[Corner, ...]:
    return tuple(
        Corner(
            Point(*corner.at), corner.name or f"corner-{k}", corner.radius, corner.edge or f"edge-{k}", corner.handles
        )
        for k, corner in enumerate(corners, 1)
    )


def _check_corners(corners: Sequence[Corner]) -> None:
    curved = any(c.handles for c in corners)
    if len(corners) < (2 if curved else 3):
        need = "two corners and a curved edge, or three corners"
        raise GeometryError(f"an outline needs at least {need}; here are {len(corners)}")
    for corner in corners:
        figures = (*corner.at, corner.radius, *(x for handle in corner.handles or () for x in handle))
        if not all(math.isfinite(figure) for figure in figures):
            raise GeometryError(f"a figure at the corner '{corner.name}' is not a number")
        if corner.radius < 0:
            raise GeometryError(f"the radius {corner.radius:g} mm at the corner '{corner.name}' is below 0")
    _check_names(corners)
    for one, other in _pairs(corners):
        if distance(one.at, other.at) <= JOIN_MM:
            raise GeometryError(f"the corners '{one.name}' and '{other.name}' lie on top of each other")


def _check_names(corners: Sequence[Corner]) -> None:
    seen: set[str] = set()
    for name in [c.edge for c in corners] + [c.name for c in corners]:
        if name == WHOLE:
            raise GeometryError(f"the name '{WHOLE}' means the whole outline; an edge needs another one")
        if name in seen:
            raise GeometryError(f"the name '{name}' is given twice in one outline")
        seen.add(name)


def _pairs(corners: Sequence[Corner]) -> list[tuple[Corner, Corner]]:
    return [(corner, corners[(k + 1) % len(corners)]) for k, corner in enumerate(corners)]


@dataclass(frozen=True, slots=True)
class _Rounding:
    """How much of both edges a rounding takes, mm, and its arc from the edge before to the edge after."""

    takes: float = 0.0
    arc: Arc | None = None


def _rounding(corners: Sequence[Corner], k: int) -> _Rounding:
    before, here, after = corners[k - 1], corners[k], corners[(k + 1) % len(corners)]
    if here.radius <= JOIN_MM:
        return _Rounding()
    if before.handles or here.handles:
        raise RoundedCurveError(f"the corner '{here.name}' has a radius, and a corner beside a curve cannot be rounded")
    u, v = unit(subtract(here.at, before.at)), unit(subtract(after.at, here.at))
    turn = math.atan2(cross(u, v), dot(u, v))
    if abs(turn) < 1e-9 or math.pi - abs(turn) < 1e-9:
        return _Rounding()
    # the tangent of half the turn, in the form that is exact for right angles
    takes = here.radius * abs(cross(u, v)) / (1 + dot(u, v))
    inward = math.copysign(1.0, turn)
    centre = add(subtract(here.at, scale(u, takes)), scale(turn_left(u), here.radius * inward))
    begin = math.atan2(-u[0] * inward, u[1] * inward + 0.0)
    return _Rounding(takes, Arc(centre, here.radius, begin, turn))


def _check_roundings(corners: Sequence[Corner], cuts: Sequence[_Rounding]) -> None:
    for k, (one, other) in enumerate(_pairs(corners)):
        first, second = cuts[k].takes, cuts[(k + 1) % len(cuts)].takes
        length = distance(one.at, other.at)
        if first + second > length + JOIN_MM:
            raise GeometryError(
                f"the edge '{one.edge}' is {length:.6g} mm long, too short for the roundings at its ends,"
                f" which take {first:.6g} and {second:.6g} mm of it"
            )


def _edge_between(one: Corner, other: Corner, cut: _Rounding, next_cut: _Rounding) -> Path:
    if one.handles:
        return Path((Curve(one.at, Point(*one.handles[0]), Point(*one.handles[1]), other.at),))
    along = unit(subtract(other.at, one.at))
    start = add(one.at, scale(along, cut.takes))
    end = subtract(other.at, scale(along, next_cut.takes))
    if distance(start, end) <= JOIN_MM:
        end = start
    return Path((Line(start, end),))


def _anticlockwise(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    """The edges turned round when they run clockwise; the first edge stays the first."""
    ring = Path(tuple(s for edge in edges for s in edge.path.segments), closed=True)
    if path_area(ring) >= 0:
        return edges
    turned = [Edge(edge.name, reverse_path(edge.path), edge.corner) for edge in reversed(edges)]
    return (turned[-1], *turned[:-1])


def _check_shape(outline: Outline) -> Outline:
    ring = outline_path(outline)
    box = path_box(ring)
    if path_area(ring) <= 1e-9 * max(box.width, box.height) ** 2:
        raise GeometryError("the outline has no area")
    check_simple(ring)
    return outline


def check_simple(ring: Path) -> None:
    """GeometryError when the drawn line crosses or touches itself, judged on chords 0.002 mm from it."""
    place = find_self_crossing(flatten(ring))
    if place is not None:
        raise GeometryError(f"the outline crosses or touches itself near ({place[0]:.1f}, {place[1]:.1f}) mm")


@lru_cache(maxsize=KEPT)
def outline_path(outline: Outline) -> Path:
    """The whole outline as one closed path, anticlockwise, without edges of no length."""
    return Path(tuple(s for edge in outline.edges for s in drawn_segments(edge)), closed=True)


def drawn_segments(edge: Edge) -> tuple[Line | Arc | Curve, ...]:
    """The segments of an edge that have some length."""
    return tuple(s for s in edge.path.segments if not (isinstance(s, Line) and s.start == s.end))


@lru_cache(maxsize=KEPT)
def outline_box(outline: Outline) -> Box:
    """The smallest upright box around the outline; exact."""
    return path_box(outline_path(outline))


def next_edges(outline: Outline) -> dict[str, str]:
    """Each edge with the one that follows it, anticlockwise, rounded corners left out."""
    names = edge_names(outline)
    return dict(zip(names, (*names[1:], *names[:1]), strict=True))


def edge_names(outline: Outline) -> tuple[str, ...]:
    """The names of the edges in order, anticlockwise, without the rounded corners."""
    return tuple(edge.name for edge in outline.edges if not edge.corner)


def corner_names(outline: Outline) -> tuple[str, ...]:
    """The names of the rounded corners in order, anticlockwise."""
    return tuple(edge.name for edge in outline.edges if edge.corner)


def edge_path(outline: Outline, name: str) -> Path:
    """The path of one edge or rounded corner, in the outline's sense of turning.

    GeometryError: no such name.
    """
    for edge in outline.edges:
        if edge.name == name:
            return edge.path
    names = ", ".join(edge_names(outline) + corner_names(outline))
    raise GeometryError(f"there is no edge '{name}'; there are {names}")


def mirror_outline(outline: Outline) -> Outline:
    """The outline with left and right changed, its box where it was, anticlockwise.

    In a rectangle or strip the names go with the side, so that "left" is still on the left, and the radius of
    bottom-left is now that of bottom-right. In any other outline each name stays with its edge.
    """
    mirrored = transform_outline(outline, mirror_x(outline_box(outline).centre.x))
    if set(edge_names(outline)) not in (set(RECTANGLE_EDGES), set(STRIP_EDGES)):
        return mirrored
    swapped = MIRRORED_NAMES | {new: old for old, new in MIRRORED_NAMES.items()}
    return Outline(tuple(Edge(swapped.get(e.name, e.name), e.path, e.corner) for e in mirrored.edges))


def transform_outline(outline: Outline, t: Transform) -> Outline:
    """The outline moved by a rigid transform; names unchanged, and anticlockwise also after mirroring."""
    return Outline(_anticlockwise(tuple(Edge(e.name, transform_path(e.path, t), e.corner) for e in outline.edges)))
