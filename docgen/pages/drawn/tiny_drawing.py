"""A piece -> a very small drawing for a row of a list: outline, holes, folds, and the way of least stretch."""

import math

from docgen.geometry.path import polyline
from docgen.geometry.shapes import Point
from docgen.geometry.vector import scale, subtract, transform_point
from docgen.pages.drawn.small_drawing import draw_sketch
from docgen.pages.drawn.small_sketch import BREAK_GAP_MM, EDGE_MM, Pen, Sketch, make_sketch
from docgen.pages.marks.page import Mark, PathMark, Stroke
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.plan import DrawnPiece
from docgen.resolve import Piece

ARROW_SHARE = 0.62  # of the piece, along the way of the arrow
HEAD_MM = 1.5
LONGEST_ARROW_MM = 9.0
LEAST_BREADTH_MM = 3.4  # below this the arrow stands beside the piece
BESIDE_MM = 2.6


def draw_tiny_piece(piece: Piece, width_mm: float, height_mm: float, style: PageStyle) -> Figure:
    """The piece as large as fits the box, at no stated scale; the figure is `width_mm` wide and as high as needed.

    A double arrow shows the way of least stretch, as the piece stands there: long pieces lie down.
    """
    sketch = make_sketch(piece, DrawnPiece(name=piece.name, seams=(), is_skived=False))
    scale_to = _find_scale(sketch, width_mm - 2 * EDGE_MM, height_mm - 2 * EDGE_MM)
    wide, high = sketch.width_at(scale_to), sketch.height_mm / scale_to
    has_room = min(wide, high) >= LEAST_BREADTH_MM or not piece.least_stretch
    aside = 0.0 if has_room else BESIDE_MM
    tall = high + 2 * EDGE_MM + aside
    base = Point((width_mm - wide) / 2, EDGE_MM + aside)
    marks, _ = draw_sketch(Pen(sketch=sketch, scale_to=scale_to, style=style), base)
    if piece.least_stretch:
        middle = Point(width_mm / 2, base.y + high / 2 if has_room else EDGE_MM + HEAD_MM / 2)
        marks += _draw_arrow(sketch, middle, wide, high, style)
    return Figure(width_mm, tall, tuple(marks))


def _find_scale(sketch: Sketch, width_mm: float, height_mm: float) -> float:
    """The smallest number to divide by, so that the piece fits."""
    gap = BREAK_GAP_MM if sketch.is_broken else 0.0
    across = (sketch.first_mm + sketch.last_mm) / (width_mm - gap)
    return max(across, sketch.height_mm / height_mm)


def _draw_arrow(sketch: Sketch, middle: Point, wide: float, high: float, style: PageStyle) -> list[Mark]:
    """A line with a head at both ends, turned with the piece."""
    along = Point(1.0, 0.0) if sketch.piece.least_stretch == "across" else Point(0.0, 1.0)
    along = subtract(transform_point(along, sketch.place), transform_point(Point(0.0, 0.0), sketch.place))
    room = wide if abs(along.x) > 0.5 else high
    half = min(ARROW_SHARE * room, LONGEST_ARROW_MM) / 2
    ends = [Point(middle.x + sign * half * along.x, middle.y + sign * half * along.y) for sign in (1, -1)]
    marks: list[Mark] = [PathMark(path=polyline(tuple(ends)), stroke=Stroke(style.thin_line_mm))]
    for end, sign in zip(ends, (1, -1), strict=True):
        marks.append(_draw_head(end, scale(along, sign)))
    return marks


def _draw_head(tip: Point, along: Point) -> PathMark:
    foot = Point(tip.x - HEAD_MM * along.x, tip.y - HEAD_MM * along.y)
    aside = HEAD_MM * math.tan(math.radians(20))
    left = Point(foot.x - aside * along.y, foot.y + aside * along.x)
    right = Point(foot.x + aside * along.y, foot.y - aside * along.x)
    return PathMark(path=polyline((tip, left, right, tip)), fill=0.0)
