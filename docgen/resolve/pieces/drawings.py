"""A drawing -> an outline with named edges, split at the points the spec names or at the sharp corners."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.corners import SHARP, Node, list_corners, list_nodes
from docgen.geometry.outline import WHOLE
from docgen.geometry.path import flatten, join_paths, part_of, parts_of, path_length, point_at, points_at
from docgen.geometry.shapes import Edge, Line, Outline, Path, Point
from docgen.geometry.vector import cross, distance, dot, norm, subtract
from docgen.read import CornerSpec, Drawing, DrawingError, DrawnHoleSpec, PieceSpec, Sketch, draw_sketch
from docgen.resolve.marks import Drawn, Hole, Marks
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.positions import UNNAMED, edge_side
from docgen.resolve.values import Reader, names, words
from docgen.tables.sizes import PUNCH
from docgen.written.units.telling import Show, format_length, format_mm

REACH_MM: Final = 0.5
SAME_HOLE_MM: Final = 0.05  # a circle is drawn no finer than a sharp line is wide
SAME_MM: Final = 0.01  # points of the outline nearer to each other than this are one


@dataclass(frozen=True, slots=True)
class Stop:
    """A point of the outline at which an edge begins, and the name of that edge."""

    at_mm: float
    edge: str


def draw_sketches(
    reader: Reader, pieces: tuple[PieceSpec, ...], sketches: tuple[tuple[str, Sketch], ...]
) -> dict[str, Drawing]:
    """Each drawing at its size by the measures of the reader; one that cannot be drawn so is left out (noted)."""
    scales = {piece.name: piece.scale for piece in pieces}
    drawings = {}
    for name, sketch in sketches:
        scale = scales[name]
        scale_mm = reader.length(scale)
        if scale is not None and scale_mm is None:
            continue
        try:
            drawings[name] = draw_sketch(sketch, scale_mm)
        except DrawingError as error:
            reader.error(sketch.place, error.what, error.mend)
    return drawings


def make_drawn_outline(reader: Reader, drawing: Drawing, corners: tuple[CornerSpec, ...]) -> Outline | None:
    """The drawing's outline with its edges; None when a corner does not lie on it (noted)."""
    stops = _read_stops(reader, drawing.outline, corners) if corners else _sharp_stops(drawing.outline)
    if stops is None:
        return None
    return Outline(tuple(Edge(stop.edge, path) for stop, path in _split(drawing.outline, stops)))


def drawn_marks(reader: Reader, drawing: Drawing, spec: PieceSpec) -> Marks:
    """The holes and the other lines that were drawn inside the outline; the holes with the hardware that the piece which
    names the drawing gives them."""
    place = spec.file.place if spec.file else spec.place
    holes = [Hole(at=at, diameter_mm=size_mm, place=place) for at, size_mm, _ in drawing.holes]
    for item in spec.drawn_holes:
        for k in _find_holes(reader, drawing, item):
            if holes[k].takes and not reader.is_noted(item.place):
                what = f"a drawn hole of {format_mm(holes[k].diameter_mm)} has its {holes[k].takes} already"
                reader.error(item.place, what, "name the circle by its id, with element")
            holes[k] = replace(holes[k], takes=words(item.takes), through=names(item.through), place=item.place)
    return Marks(holes=tuple(holes), drawn=tuple(Drawn(name=name, path=path) for name, path in drawing.marks))


def _find_holes(reader: Reader, drawing: Drawing, item: DrawnHoleSpec) -> list[int]:
    """The drawn holes that are meant, by id and size; where there is none, it is noted with those that there are."""
    punch_mm = reader.size(item.punch, PUNCH)
    if item.punch is not None and punch_mm is None:
        return []
    found = [
        k
        for k, (_, size_mm, name) in enumerate(drawing.holes)
        if words(item.element, name) == name and (punch_mm is None or abs(size_mm - punch_mm) <= SAME_HOLE_MM)
    ]
    if not found and not reader.is_noted(item.place):
        known = ", ".join(
            f'"{name}" of {format_mm(size)}' if name else format_mm(size) for _, size, name in drawing.holes
        )
        what = "no circle in the drawing is meant by this" if known else "there is no circle inside the outline"
        reader.error(item.place, what, f"drawn are {known}" if known else "draw it, or write holes = [...]")
    return found


def tell_edges_of(piece: Piece, show: Show) -> list[str]:
    """`"body": edge-1, bottom, 256 mm (10 3/32 in), from 12 mm across, 0 mm up to ...`, for each edge that the spec gives
    no name."""
    return [
        f'"{piece.name}": {edge.name}, {edge_side(piece.outline, edge.name)}, '
        f"{format_length(path_length(edge.path), show)}, from {_tell_point(edge.path, 0.0)} "
        f"to {_tell_point(edge.path, path_length(edge.path))}"
        for edge in piece.outline.edges
        if UNNAMED.fullmatch(edge.name)
    ]


def _tell_point(path: Path, at_mm: float) -> str:
    at = point_at(path, at_mm)[0]
    return f"{format_mm(at.x)} across, {format_mm(at.y)} up"


def _split(ring: Path, stops: Sequence[Stop]) -> list[tuple[Stop, Path]]:
    """Each stop with the path to the next one; the first stop first."""
    if len(stops) == 1:
        at_mm, total = stops[0].at_mm, path_length(ring)
        halves = (part_of(ring, at_mm, total), part_of(ring, 0.0, at_mm) if at_mm > SAME_MM else Path(()))
        whole = join_paths(halves)
        return [(stops[0], Path(_merge_lines(whole).segments, closed=True))]
    after = [*stops[1:], stops[0]]
    whole_mm = path_length(ring)
    cuts = [(stop.at_mm, following.at_mm or whole_mm) for stop, following in zip(stops, after, strict=True)]
    return [(stop, _merge_lines(part)) for stop, part in zip(stops, parts_of(ring, cuts), strict=True)]


def _merge_lines(path: Path) -> Path:
    """Straight segments that go on straight become one, so that the edge can be measured from."""
    kept = list(path.segments[:1])
    for segment in path.segments[1:]:
        last = kept[-1]
        if isinstance(last, Line) and isinstance(segment, Line) and _goes_straight(last, segment):
            kept[-1] = Line(last.start, segment.end)
        else:
            kept.append(segment)
    return Path(tuple(kept), path.closed)


def _goes_straight(one: Line, other: Line) -> bool:
    u, v = subtract(one.end, one.start), subtract(other.end, other.start)
    return dot(u, v) > 0 and abs(cross(u, v)) <= 1e-6 * norm(u) * norm(v)


def _sharp_stops(ring: Path) -> list[Stop]:
    return [Stop(node.at_mm, f"edge-{k}") for k, node in enumerate(list_corners(ring), 1)]


def _read_stops(reader: Reader, ring: Path, corners: tuple[CornerSpec, ...]) -> list[Stop] | None:
    """A stop for every named point, in order round the outline from the first one; None when one is wrong."""
    nodes = list_nodes(ring)
    stops: list[Stop] = []
    taken: set[str] = {WHOLE}
    is_good = True
    for k, corner in enumerate(corners, 1):
        at = [reader.any_length(value) for value in corner.at]
        edge = words(corner.edge, f"edge-{k}")
        if len(at) != 2 or at[0] is None or at[1] is None:
            is_good = False
            continue
        at_mm = _find_stop(reader, ring, nodes, corner, k, Point(at[0], at[1]))
        if at_mm is None or not _is_new(reader, corner, edge, at_mm, stops, taken):
            is_good = False
            continue
        taken.add(edge)
        stops.append(Stop(at_mm, edge))
    if not is_good or not stops:
        return None
    begin, total = stops[0].at_mm, path_length(ring)
    return sorted(stops, key=lambda stop: (stop.at_mm - begin) % total)


def _is_new(reader: Reader, corner: CornerSpec, edge: str, at_mm: float, stops: list[Stop], taken: set[str]) -> bool:
    place = corner.edge.place if corner.edge else corner.place
    if edge == WHOLE:
        reader.error(place, f'the name "{WHOLE}" means the whole outline', "give the edge another name")
    elif edge in taken:
        reader.error(place, f'two edges are called "{edge}"', "give one of them another name")
    elif any(abs(at_mm - other.at_mm) < SAME_MM for other in stops):
        reader.error(corner.place, "two corners lie on the same point of the outline", "take one of them out")
    else:
        return True
    return False


def _find_stop(
    reader: Reader, ring: Path, nodes: Sequence[Node], corner: CornerSpec, number: int, at: Point
) -> float | None:
    """How far along the outline the node within reach of the place lies, else its nearest point within reach."""
    node = min(nodes, key=lambda node: distance(node.place, at))
    if distance(node.place, at) <= REACH_MM:
        return node.at_mm
    at_mm, off_mm = _nearest(ring, at)
    if off_mm <= REACH_MM:
        return at_mm
    name = f'the corner "{corner.name.value}"' if corner.name else f"corner no. {number}"
    near = [each for each in nodes if each.turn > SHARP] or nodes
    x, y = min(near, key=lambda each: distance(each.place, at)).place
    reader.error(
        corner.at[0].place,
        f"{name} lies {format_mm(off_mm)} from the drawn outline",
        f'did you mean at = ["{format_mm(x, 2)}", "{format_mm(y, 2)}"]? that is the nearest corner',
    )
    return None


def _nearest(ring: Path, at: Point) -> tuple[float, float]:
    """Distance along the closed path to its point nearest to a place, and how far that is from it; mm."""
    passed = best_mm = 0.0
    best_off = math.inf
    for segment in ring.segments:
        alone = Path((segment,))
        length = path_length(alone)
        drawn = flatten(alone, 0.05)
        # the legs of a flattened line are equal steps of its parameter, near enough for a first guess
        for k, (a, b) in enumerate(itertools.pairwise(drawn)):
            leg = subtract(b, a)
            share = min(max(dot(subtract(at, a), leg) / max(dot(leg, leg), 1e-18), 0.0), 1.0)
            off = distance(at, Point(a.x + share * leg.x, a.y + share * leg.y))
            if off < best_off - 1e-12:
                best_off = off
                best_mm = passed + length * (k + share) / (len(drawn) - 1)
        passed += length
    return _refine(ring, at, best_mm)


def _refine(ring: Path, at: Point, guess_mm: float) -> tuple[float, float]:
    """The nearest point again, by smaller and smaller steps from a first guess."""
    total = path_length(ring)
    step, best_mm = total / 50, guess_mm
    best_off = distance(point_at(ring, guess_mm)[0], at)
    while step > 1e-6:
        places = [best_mm + k * step / 4 for k in (-4, -3, -2, -1, 1, 2, 3, 4)]
        found = points_at(ring, places)
        k = min(range(8), key=lambda k: distance(found[k][0], at))
        off = distance(found[k][0], at)
        if off < best_off:
            best_mm, best_off = places[k], off
        else:
            step /= 4
    return best_mm % total, best_off
