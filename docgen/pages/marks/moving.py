"""Marks moved rigidly on the page: shifted and turned."""

import math
from collections.abc import Iterable
from dataclasses import replace

from docgen.fonts import text_width_mm
from docgen.geometry.path import box_union, path_box, transform_path
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import Transform, compose, rotation, transform_point, transform_vector, translation
from docgen.pages.marks.page import ClipMark, CodeMark, ImageMark, Mark, PathMark, StampMark, TextMark


def place_marks(marks: Iterable[Mark], dx_mm: float, dy_mm: float, *, is_turned: bool = False) -> tuple[Mark, ...]:
    """Marks turned a quarter to the left about (0, 0) when `is_turned`, then shifted. Codes stay upright."""
    if not (is_turned or dx_mm or dy_mm):
        return tuple(marks)
    turn = rotation(math.pi / 2 if is_turned else 0.0)
    move = compose(turn, translation(dx_mm, dy_mm))
    return tuple(_move(mark, move, 90.0 if is_turned else 0.0) for mark in marks)


def turn_marks(marks: Iterable[Mark], quarters: int, box: Box) -> tuple[Mark, ...]:
    """Marks drawn standing from (0, 0), turned so many quarters to the left and put into the box that they then fill.

    Codes stay upright; text turns with the rest, also to stand on its head.
    """
    corner = {0: (box.left, box.bottom), 1: (box.right, box.bottom), 2: (box.right, box.top), 3: (box.left, box.top)}
    quarters %= 4
    move = compose(rotation(quarters * math.pi / 2), translation(*corner[quarters]))
    return tuple(_move(mark, move, 90.0 * quarters, is_upright=False) for mark in marks)


def _move(mark: Mark, move: Transform, angle_deg: float, *, is_upright: bool = True) -> Mark:
    """Text that need not stay upright may stand on its head: then the lines of a paragraph keep their order."""
    match mark:
        case PathMark():
            return _move_path(mark, move)
        case StampMark():
            parts = tuple(_move_path(part, move) for part in mark.marks)
            is_turned = (move.a, move.d) != (1.0, 1.0)
            shifts = tuple(transform_vector(by, move) for by in mark.shifts) if is_turned else mark.shifts
            return StampMark(marks=parts, shifts=shifts)
        case TextMark():
            at = transform_point(Point(mark.x_mm, mark.y_mm), move)
            moved = replace(mark, x_mm=at.x, y_mm=at.y, angle_deg=mark.angle_deg + angle_deg)
            return _keep_upright(moved) if is_upright else moved
        case CodeMark():
            corner = _move_box(mark_box(mark), move)
            return replace(mark, x_mm=corner.left, y_mm=corner.bottom)
        case ImageMark():
            at = transform_point(Point(mark.x_mm, mark.y_mm), move)
            return replace(mark, x_mm=at.x, y_mm=at.y, quarters=mark.quarters + round(angle_deg / 90.0))
        case ClipMark():
            inner = compose(translation(mark.dx_mm, mark.dy_mm), move)
            marks = tuple(_move(part, inner, angle_deg) for part in mark.marks)
            return ClipMark(box=_move_box(mark.box, move), marks=marks)


def _move_path(mark: PathMark, move: Transform) -> PathMark:
    return PathMark(path=transform_path(mark.path, move), stroke=mark.stroke, fill=mark.fill, layer=mark.layer)


def _keep_upright(mark: TextMark) -> TextMark:
    """Text that would stand on its head, turned half round where it is."""
    if not 90.5 < mark.angle_deg % 360.0 < 269.5:
        return mark
    turn = math.radians(mark.angle_deg)
    wide = text_width_mm(mark.text, mark.face, mark.size_mm)
    along = {"start": wide, "middle": 0.0, "end": -wide}[mark.anchor]
    rise = 0.7 * mark.size_mm
    return replace(
        mark,
        angle_deg=mark.angle_deg - 180.0,
        x_mm=mark.x_mm + along * math.cos(turn) - rise * math.sin(turn),
        y_mm=mark.y_mm + along * math.sin(turn) + rise * math.cos(turn),
    )


def _move_box(box: Box, move: Transform) -> Box:
    """The upright box round a box that was moved, by whole quarter turns."""
    first, second = (transform_point(Point(*corner), move) for corner in ((box.left, box.bottom), (box.right, box.top)))
    return Box(min(first.x, second.x), min(first.y, second.y), max(first.x, second.x), max(first.y, second.y))


def mark_box(mark: Mark) -> Box:
    """The upright box round one mark, line widths included."""
    match mark:
        case PathMark():
            box, half = path_box(mark.path), (mark.stroke.width_mm / 2 if mark.stroke else 0.0)
            return Box(box.left - half, box.bottom - half, box.right + half, box.top + half)
        case StampMark():
            return mark.spread(box_union(map(mark_box, mark.marks)))
        case TextMark():
            return text_box(mark)
        case CodeMark():
            return Box(mark.x_mm, mark.y_mm, mark.x_mm + mark.size_mm, mark.y_mm + mark.size_mm)
        case ClipMark() | ImageMark():
            return mark.box


def text_box(mark: TextMark) -> Box:
    """The upright box round a line of text: a quarter of its size below the baseline, three quarters above."""
    return mark.box(-0.25 * mark.size_mm, 0.75 * mark.size_mm)
