"""The visible lines of a drawing, each in mm with y up, with the element it comes from."""

import math
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import path_area
from docgen.geometry.shapes import Curve, Path, Point
from docgen.geometry.vector import Matrix, multiply, transform_point
from docgen.read.svg.svg_file import DrawingError, Node
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
    is_hidden,
    read_traces,
)
from docgen.read.words import quote_word

SEGMENTS_MOST: Final = 20_000
SHAPES_MOST: Final = 500
FARTHEST_MM: Final = 1e6
WORDS: Final = frozenset({"text", "flowRoot"})
PICTURES: Final = frozenset({"image"})


@dataclass(frozen=True, slots=True)
class Shape:
    """One drawn line in mm and the element it comes from."""

    node: Node
    path: Path

    @property
    def size(self) -> float:
        return abs(path_area(self.path)) if self.path.closed else 0.0


def gather_shapes(
    root: Node, scope: Node, file: str, sheet: Sheet, unit_mm: float, passed: frozenset[str] = frozenset()
) -> list[Shape]:
    """Every visible line in the group, in mm with y up; elements of the kinds `passed` over are as if they were not
    there."""
    shapes: list[Shape] = []
    left = SEGMENTS_MOST
    flip = Matrix(a=unit_mm, d=-unit_mm)
    for node in _list_seen(scope, sheet):
        name = f"{describe(node)} in {quote_word(file)}"
        if node.tag in passed:
            continue
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
