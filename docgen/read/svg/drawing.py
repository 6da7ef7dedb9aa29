"""An SVG drawing beside the spec -> the outline of a piece, its holes and its marks, in mm.

The drawing is read as a person sees it: transforms are applied, what is hidden is not there, y goes up, and
the lower left of the outline's box is at (0, 0).
"""

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.crossing import distance_finder
from docgen.geometry.outline import check_simple
from docgen.geometry.path import (
    end_point,
    flatten,
    path_area,
    path_box,
    path_length,
    reverse_path,
    start_point,
    transform_path,
)
from docgen.geometry.shapes import Curve, GeometryError, Path, Point
from docgen.geometry.vector import Matrix, multiply, transform_point, translation
from docgen.problems import Place, suggest
from docgen.read.svg.svg_file import DrawingError, Node, read_tree
from docgen.read.svg.svg_path import EllipticArc, SvgError, Trace
from docgen.read.svg.svg_place import place_trace
from docgen.read.svg.svg_shapes import (
    GROUPS,
    REFUSED,
    SHAPES,
    UNDRAWN,
    Sheet,
    describe,
    find_matrix,
    find_scale,
    is_drawn,
    is_hidden,
    list_nodes,
    read_sheet,
    read_traces,
)
from docgen.read.words import list_words, quote_word

SEGMENTS_MOST: Final = 20_000
OUTLINE_MOST: Final = 2_000
SHAPES_MOST: Final = 500
POINTS_MOST: Final = 200_000
WIDEST_MM: Final = 10_000.0
LONGEST_MM: Final = 100_000.0
OVER_MM: Final = 0.5  # how far a mark may reach over the outline
MARK_MM: Final = 0.05  # how finely marks are judged
CIRCLE_SEGMENTS_MOST: Final = 100
FARTHEST_MM: Final = 1e6
ROUND_SHARE: Final = 0.001  # how far a circle drawn by curves may leave its radius
FLAT_MM: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """What was drawn: `outline` closed and anticlockwise, lower left of its box at (0, 0); lengths in mm.

    `holes`: centre, diameter, id of each circle inside; `marks`: id and path of every other line inside.
    """

    outline: Path
    holes: tuple[tuple[Point, float, str], ...] = ()
    marks: tuple[tuple[str, Path], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing in its own units: bytes and name of the file, the id of what is drawn ("" for the whole), and where the
    spec names it."""

    source: bytes
    file: str
    element_id: str
    place: Place


@lru_cache(maxsize=64)
def draw_sketch(sketch: Sketch, scale_mm: float | None) -> Drawing:
    """The drawing in mm, by the size of one of its units where it gives no real ones. Raises DrawingError."""
    return parse_drawing(sketch.source, sketch.file, sketch.element_id or None, scale_mm)


@dataclass(frozen=True, slots=True)
class Shape:
    """One drawn line in mm and the element it comes from."""

    node: Node
    path: Path

    @property
    def size(self) -> float:
        return abs(path_area(self.path)) if self.path.closed else 0.0


def parse_drawing(source: bytes, file: str, element_id: str | None, scale_mm: float | None) -> Drawing:
    """The piece in the bytes of an SVG file. Raises DrawingError.

    `element_id` names the outline, or a group whose largest closed line is the outline; None takes the
    whole drawing as that group. Holes and marks are looked for in the outline's group. `scale_mm` is the
    size of one drawing unit, for a drawing that gives no real units.
    """
    root = read_tree(source, file)
    sheet = read_sheet(root)
    unit_mm = _pick_scale(find_scale(root, file), file, scale_mm)
    asked = _find_asked(root, file, element_id, sheet)
    scope = asked.parent if asked.tag in SHAPES and asked.parent is not None else asked
    shapes = gather_shapes(root, scope, file, sheet, unit_mm)
    outline = _pick_outline(shapes, asked, file)
    _check_outline(outline, file)
    others = [shape for shape in shapes if shape is not outline]
    inside = _pick_inside(others, outline, asked, file)
    box = path_box(outline.path)
    move = translation(-box.left, -box.bottom)
    ring = outline.path if path_area(outline.path) > 0 else reverse_path(outline.path)
    inside = [replace(shape, path=transform_path(shape.path, move)) for shape in inside]
    round_ones = [(shape, circle) for shape in inside if (circle := find_circle(shape.path)) is not None]
    holed = {id(shape) for shape, _ in round_ones}
    return Drawing(
        outline=transform_path(ring, move),
        holes=tuple((centre, size, _id_of(shape.node)) for shape, (centre, size) in round_ones),
        marks=tuple((_id_of(shape.node), shape.path) for shape in inside if id(shape) not in holed),
    )


def _id_of(node: Node) -> str:
    return node.attributes.get("id", "")


def _pick_scale(real_mm: float | None, file: str, scale_mm: float | None) -> float:
    name = quote_word(file)
    if real_mm is None and scale_mm is None:
        mend = 'set the page in mm or inches in the drawing program, or add scale = "1 mm" for one drawing unit'
        raise DrawingError(f"{name} does not say how large it is in mm or inches", mend)
    if real_mm is not None and scale_mm is not None:
        raise DrawingError(f"{name} says itself how large it is: one unit is {real_mm:.6g} mm", "leave out scale")
    unit_mm = real_mm if real_mm is not None else scale_mm
    assert unit_mm is not None
    if not 1e-6 <= unit_mm <= 1e4:
        raise DrawingError(f"one unit of {name} would be {unit_mm:.3g} mm", "check its page size, or scale")
    return unit_mm


def _find_asked(root: Node, file: str, element_id: str | None, sheet: Sheet) -> Node:
    if element_id is None:
        return root
    name, word = quote_word(file), quote_word(element_id)
    found = [node for node in list_nodes(root) if _id_of(node) == element_id]
    if not found:
        drawn = (_id_of(node) for node in list_nodes(root) if node.tag in SHAPES | GROUPS)
        known = [word for word in drawn if 0 < len(word) <= 60]
        mend = suggest(element_id, known[:200]) or (
            f"it has {list_words(map(quote_word, known), most=12)}"
            if known
            else "give the outline an id in the drawing program"
        )
        raise DrawingError(f"nothing in {name} has the id {word}", mend)
    if len(found) > 1:
        raise DrawingError(f"{len(found)} things in {name} have the id {word}", "give each an id of its own")
    node = found[0]
    if node.tag in REFUSED and node is not root:
        what, mend = REFUSED[node.tag]
        raise DrawingError(f"{word} in {name} is {what}", mend)
    if not is_drawn(node) or node.tag not in SHAPES | GROUPS:
        raise DrawingError(f"{word} in {name} is not drawn", "name a path or a group of the drawing")
    if is_hidden(node, sheet):
        raise DrawingError(f"{word} in {name} is hidden", "show it in the drawing program, and save")
    return node


def gather_shapes(root: Node, scope: Node, file: str, sheet: Sheet, unit_mm: float) -> list[Shape]:
    """Every visible line in the group, in mm with y up."""
    shapes: list[Shape] = []
    left = SEGMENTS_MOST
    flip = Matrix(a=unit_mm, d=-unit_mm)
    for node in _list_seen(scope, sheet):
        name = f"{describe(node)} in {quote_word(file)}"
        if node.tag in REFUSED and node is not root:
            what, mend = REFUSED[node.tag]
            raise DrawingError(f"{name} is {what}", mend)
        if node.tag not in SHAPES:
            continue
        try:
            traces = read_traces(node, SEGMENTS_MOST)
            matrix = multiply(find_matrix(node, sheet), flip) if traces else flip
        except SvgError as error:
            raise DrawingError(f"{name} cannot be read: {error}", "draw it anew, or save it again") from None
        left -= sum(len(trace.segments) for trace in traces)
        if left < 0:
            what = f"the drawing in {quote_word(file)} has more than {SEGMENTS_MOST:,} segments"
            raise DrawingError(what, "simplify its paths, or put each piece in a group of its own")
        if not all(_is_near(trace, matrix) for trace in traces):
            raise DrawingError(f"{name} is too large or too far away", "check the units of the drawing")
        placed = (place_trace(trace, matrix) for trace in traces)
        shapes += [Shape(node, path) for path in placed if path.segments]
        if len(shapes) > SHAPES_MOST:
            what = f"the drawing in {quote_word(file)} has more than {SHAPES_MOST} lines"
            raise DrawingError(what, "put each piece in a group of its own")
    return shapes


def _is_near(trace: Trace, matrix: Matrix) -> bool:
    """False when any figure of the placed trace is beyond `FARTHEST_MM`; what is, could cost hours."""
    points = []
    for segment in trace.segments:
        points += [segment.start, segment.end]
        if isinstance(segment, Curve):
            points += [segment.handle_1, segment.handle_2]
        elif isinstance(segment, EllipticArc) and abs(segment.sweep) > math.pi:
            points += [Point(segment.centre.x + v.x, segment.centre.y + v.y) for v in (segment.across, segment.up)]
    moved = (transform_point(point, matrix) for point in points)
    return all(abs(x) <= FARTHEST_MM and abs(y) <= FARTHEST_MM for x, y in moved)


def _list_seen(node: Node, sheet: Sheet) -> list[Node]:
    """The elements of a group that are drawn and not hidden, without the groups themselves."""
    seen = [] if node.tag in GROUPS and node.tag != "svg" else [node]
    for child in node.children:
        if child.tag in UNDRAWN or (child.tag not in GROUPS and is_hidden(child, sheet)):
            continue
        # what stands in a clone or a text is part of it
        seen += _list_seen(child, sheet) if child.tag in GROUPS and child.tag != "svg" else [child]
    return seen


def _pick_outline(shapes: list[Shape], asked: Node, file: str) -> Shape:
    name = quote_word(file)
    mine = [shape for shape in shapes if shape.node is asked] if asked.tag in SHAPES else shapes
    closed = [shape for shape in mine if shape.path.closed]
    if closed:
        return max(closed, key=lambda shape: shape.size)
    place = f"the group {describe(asked)} in {name}" if asked.parent is not None else name
    if not mine:
        place = f"{describe(asked)} in {name}" if asked.tag in SHAPES else place
        raise DrawingError(f"there is no line in {place}", "draw the outline as one closed path")
    longest = max(mine, key=lambda shape: path_length(shape.path))
    gap_mm = math.dist(start_point(longest.path), end_point(longest.path))
    what = f"the outline {describe(longest.node)} in {name} is open: its ends lie {gap_mm:.3g} mm apart"
    raise DrawingError(what, "close the path in the drawing program")


def _check_outline(outline: Shape, file: str) -> None:
    name = f"the outline {describe(outline.node)} in {quote_word(file)}"
    count = len(outline.path.segments)
    if count > OUTLINE_MOST:
        mend = "simplify the path in the drawing program"
        raise DrawingError(f"{name} has {count:,} nodes; at most {OUTLINE_MOST:,} are allowed", mend)
    box = path_box(outline.path)
    long_mm = max(box.width, box.height)
    if not long_mm <= WIDEST_MM or not path_length(outline.path) <= LONGEST_MM:
        size = f"{box.width:,.0f} x {box.height:,.0f} mm"
        raise DrawingError(f"{name} is too large: {size}", "check the units of the drawing")
    if min(box.width, box.height) <= FLAT_MM:
        raise DrawingError(f"{name} has no area", "draw the outline as one closed path")
    try:
        check_simple(transform_path(outline.path, translation(-box.left, -box.bottom)))
    except GeometryError as error:
        words = str(error).removeprefix("the outline ")
        mend = "measured from the lower left of the outline; draw it as one line that does not cross itself"
        raise DrawingError(f"{name} {words}", mend) from None


def _pick_inside(others: list[Shape], outline: Shape, asked: Node, file: str) -> list[Shape]:
    """The shapes that lie inside the outline; one that lies half in, or a second outline, is refused."""
    judge = _make_judge(outline.path)
    inside = []
    left = POINTS_MOST
    is_group = asked.tag in GROUPS
    for shape in others:
        name = f"{describe(shape.node)} in {quote_word(file)}"
        points = _sample(shape.path, outline.path)
        left -= len(points)
        if left < 0:
            raise DrawingError(f"{name} has too many nodes", "simplify the path in the drawing program")
        sides = {judge(point) for point in points}
        if {1, -1} <= sides:
            what = f"{name} lies partly outside the outline {describe(outline.node)}"
            raise DrawingError(what, "end it at the outline, or move it to another group")
        if -1 not in sides:
            inside.append(shape)
        elif shape.path.closed and (is_group or shape.node is outline.node):
            raise DrawingError(
                f"there are several outlines in {quote_word(file)}: {describe(outline.node)} and "
                f"{describe(shape.node)} lie side by side",
                "name one of them with element, or put each piece in a group of its own",
            )
    return inside


def _sample(path: Path, ring: Path) -> list[Point]:
    """Points along the line, none farther from the next than a hundredth of the outline's size."""
    box = path_box(ring)
    step = max(box.width, box.height) / 100
    own = path_box(path)
    drawn = flatten(path, max(MARK_MM, max(own.width, own.height) / 5000))
    points = [drawn[0]]
    for a, b in itertools.pairwise(drawn):
        count = min(max(1, math.ceil(math.dist(a, b) / step)), 1000)
        points += [Point(a.x + (b.x - a.x) * k / count, a.y + (b.y - a.y) * k / count) for k in range(1, count + 1)]
        if len(points) > POINTS_MOST:
            break
    return points


def _make_judge(ring: Path) -> Callable[[Point], int]:
    """A question to ask of many points: 1 well inside the line, -1 well outside, 0 within `OVER_MM` of it."""
    points = flatten(ring, MARK_MM)
    near = distance_finder(points, OVER_MM)
    box = path_box(ring)
    bands = 200
    height = max(box.height, 1e-9) / bands

    def band(y: float) -> int:
        return min(max(int((y - box.bottom) / height), 0), bands - 1)

    legs: list[list[tuple[Point, Point]]] = [[] for _ in range(bands)]
    for a, b in itertools.pairwise(points):
        for k in range(band(min(a.y, b.y)), band(max(a.y, b.y)) + 1):
            legs[k].append((a, b))

    def judge(point: Point) -> int:
        if not (box.left <= point.x <= box.right and box.bottom <= point.y <= box.top):
            inside = False
        else:
            inside = _is_within(legs[band(point.y)], point)
        return 0 if near(point) <= OVER_MM else (1 if inside else -1)

    return judge


def _is_within(legs: Sequence[tuple[Point, Point]], point: Point) -> bool:
    inside = False
    for a, b in legs:
        if (a.y > point.y) != (b.y > point.y):
            inside ^= a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x) > point.x
    return inside


def find_circle(path: Path) -> tuple[Point, float] | None:
    """Centre and diameter in mm of a closed line that is a circle, also by curves; None for others."""
    if not path.closed or len(path.segments) > CIRCLE_SEGMENTS_MOST:
        return None
    box = path_box(path)
    centre = box.centre
    radius = (box.width + box.height) / 4
    slack = max(ROUND_SHARE * radius, 0.002)
    drawn = flatten(path)
    is_round = all(abs(math.dist(centre, point) - radius) <= slack for point in drawn)
    area = math.pi * radius * radius
    # the corners of a square lie on a circle too
    return (centre, 2 * radius) if is_round and abs(abs(path_area(path)) - area) <= 0.005 * area else None
