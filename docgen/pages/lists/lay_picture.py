"""A laid hide, panel or length of a roll -> a drawing of it to scale, with the numbers of the cutting list."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.classes import dataclass
from docgen.fonts import text_width_mm
from docgen.geometry.path import boxes_overlap, polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.lay import LaidSheet, Placed, Shape, is_inside
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.setting.blocks import Figure, PageStyle

EDGE_MM = 6.0
LABEL_MM = 2.9
ON_STRAP_MM = 2.4
STEPS = 5  # labels of straps beside each other stand at so many heights
POOR_DASH_MM = (2.4, 1.2)
FIRM_DASH_MM = (0.5, 1.0)
FAULT_GREY = 0.0
STRUCK_MM = 2.0  # the line of a struck edge goes on beyond its rows
STRUCK_DASH_MM = (3.0, 0.8, 0.8, 0.8)

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class View:
    """Where millimetres of the goods lie on the drawing: divided by `scale`, moved by the margin."""

    scale: float

    def at(self, point: tuple[float, float]) -> Point:
        return Point(EDGE_MM + point[0] / self.scale, EDGE_MM + point[1] / self.scale)

    def path(self, shape: Shape) -> Path:
        points = [self.at(point) for point in shape]
        return polyline((*points, points[0]))


def pick_scale(width_mm: float, length_mm: float, room_wide_mm: float, room_high_mm: float) -> float:
    """The largest scale at which the goods fit the room: a whole number, of small goods a half."""
    least = max(width_mm / (room_wide_mm - 2 * EDGE_MM), length_mm / (room_high_mm - 2 * EDGE_MM))
    return math.ceil(least) if least > 2 else math.ceil(2 * least) / 2


def draw_laid(sheet: LaidSheet, scale: float, style: PageStyle) -> Figure:
    """The goods with what lies on them; poor parts behind a dashed line, firm ones before a dotted one, faults black."""
    view, hide = View(scale), sheet.hide
    marks: list[Mark] = [PathMark(path=view.path(hide.outline), stroke=Stroke(style.thick_line_mm))]
    for shapes, dash_mm in ((hide.poor, POOR_DASH_MM), (hide.firm, FIRM_DASH_MM)):
        lines = [line for shape in shapes for line in _inside(shape, hide.outline)]
        marks += [
            PathMark(path=polyline(tuple(map(view.at, line))), stroke=Stroke(style.hair_line_mm, dash_mm))
            for line in lines
        ]
    marks += [
        PathMark(path=view.path(placed.outline), stroke=Stroke(style.thin_line_mm), fill=1.0) for placed in sheet.placed
    ]
    marks += [PathMark(path=view.path(fault), fill=FAULT_GREY) for fault in hide.faults]
    marks += list(_labels(sheet.placed, view))
    marks += list(_edge_marks(sheet, view, style))
    return Figure(2 * EDGE_MM + hide.width_mm / scale, 2 * EDGE_MM + hide.length_mm / scale, tuple(marks))


def _edge_marks(sheet: LaidSheet, view: View, style: PageStyle) -> Iterator[Mark]:
    """The straight edge named, or the one that is struck drawn a little beyond both ends of its rows."""
    said, hide = words("lay"), sheet.hide
    if hide.has_edge:
        middle = view.at((0.0, hide.length_mm / 2))
        yield _upright(said["edge"], middle.x - 1.4, middle.y, style.label_type_mm)
    elif hide.back_mm:
        for y, up in ((0.0, -1), (hide.length_mm, 1)):
            at = view.at((hide.back_mm, y))
            tick = Point(at.x, at.y + up * 0.8), Point(at.x, at.y + up * 3.5)
            yield PathMark(path=polyline(tick), stroke=Stroke(style.thin_line_mm))
        top = view.at((hide.back_mm, hide.length_mm))
        yield TextMark(x_mm=top.x + 1.2, y_mm=top.y + 1.2, text=said["backbone"], size_mm=style.label_type_mm)
    if sheet.struck:
        low, high = map(view.at, sheet.struck)
        ends = Point(low.x, low.y - STRUCK_MM), Point(high.x, high.y + STRUCK_MM)
        yield PathMark(path=polyline(ends), stroke=Stroke(style.thick_line_mm, STRUCK_DASH_MM))
        yield _upright(said["struck"], low.x - 1.4, (low.y + high.y) / 2, style.label_type_mm)


def _inside(shape: Shape, outline: Shape) -> Iterator[tuple[Pair, Pair]]:
    """The legs of a shape as far as they lie inside an outline."""
    for k, (bx, by) in enumerate(shape):
        ax, ay = shape[k - 1]
        cuts = sorted({0.0, 1.0, *_crossings((ax, ay), (bx, by), outline)})
        for begin, end in pairwise(cuts):
            middle = (begin + end) / 2
            if end - begin > 1e-6 and is_inside(outline, (ax + middle * (bx - ax), ay + middle * (by - ay))):
                yield ((ax + begin * (bx - ax), ay + begin * (by - ay)), (ax + end * (bx - ax), ay + end * (by - ay)))


def _crossings(one: Pair, other: Pair, outline: Shape) -> Iterator[float]:
    """Where a leg crosses an outline, as shares of the leg."""
    (ax, ay), (bx, by) = one, other
    for k, (dx, dy) in enumerate(outline):
        cx, cy = outline[k - 1]
        across = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
        if across:
            at = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / across
            on = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / across
            if 0 < at < 1 and 0 <= on <= 1:
                yield at


def _upright(text: str, x: float, y: float, size_mm: float) -> TextMark:
    return TextMark(x_mm=x, y_mm=y, text=text, size_mm=size_mm, anchor="middle", angle_deg=90.0)


def label_of(placed: Placed) -> str:
    """The number of the cutting list, with an m where it is cut mirrored."""
    return f"{placed.number}{words('lay')['mirrored'] if placed.is_mirrored else ''}"


def _labels(placed: Sequence[Placed], view: View) -> Iterator[Mark]:
    """A number on every piece that has room for it, and on the first of each line in any case; where a piece is too narrow
    it stands on white, at another height than on those beside it, and none lies on another."""
    taken: list[Box] = []
    told: set[str] = set()
    for order, one in enumerate(placed):
        text, points = label_of(one), [view.at(point) for point in one.outline]
        x, y, size_mm, is_inside_it = _find_label(text, points, order)
        half = text_width_mm(text, "bold", size_mm) / 2 + 0.3
        ground = Box(x - half, y - size_mm / 2, x + half, y + size_mm / 2)
        if text in told and not is_inside_it and any(boxes_overlap(ground, other) for other in taken):
            continue
        taken.append(ground)
        told.add(text)
        if not is_inside_it:
            yield PathMark(path=_frame(ground), fill=1.0)
        yield TextMark(x_mm=x, y_mm=y - size_mm * 0.35, text=text, size_mm=size_mm, face="bold", anchor="middle")


def _find_label(text: str, points: Sequence[Point], order: int) -> tuple[float, float, float, bool]:
    """The middle of a label, its type size, and whether the piece has room for it."""
    left, right = min(p.x for p in points), max(p.x for p in points)
    low, high = min(p.y for p in points), max(p.y for p in points)
    x, y = _inner(points)
    for size_mm in (LABEL_MM, ON_STRAP_MM):
        if right - left >= text_width_mm(text, "bold", size_mm) + 0.6 and high - low >= size_mm + 0.2:
            return x, y, size_mm, True
    share = (order % STEPS + 1) / (STEPS + 1)
    is_tall = high - low > right - left
    x, y = (x, low + share * (high - low)) if is_tall else (left + share * (right - left), y)
    return x, y, ON_STRAP_MM, False


def _frame(box: Box) -> Path:
    corners = [Point(x, y) for x, y in ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top))]
    return polyline((*corners, Point(box.left, box.top), corners[0]))


def _inner(points: Sequence[Point]) -> tuple[float, float]:
    """A point inside an outline: the middle of the widest stretch at half its height."""
    low, high = min(p.y for p in points), max(p.y for p in points)
    best = (0.0, 0.0, 0.0)
    for share in (0.5, 0.4, 0.6, 0.3, 0.7):
        y = low + share * (high - low)
        crossings = sorted(
            a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x)
            for a, b in zip(points, (*points[1:], points[0]), strict=True)
            if (a.y <= y) != (b.y <= y)
        )
        for left, right in zip(crossings[::2], crossings[1::2], strict=True):
            if right - left > best[0] * 1.2:
                best = (right - left, (left + right) / 2, y)
    return best[1], best[2]
