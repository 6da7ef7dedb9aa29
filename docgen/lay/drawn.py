"""Hides that were drawn or measured -> the same hides with the backbone upright, as a lay needs them."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from docgen.geometry.path import flatten
from docgen.geometry.shapes import Path, Point
from docgen.lay.hides import Hide, Shape, draw_faults, outline_area, usual_hide
from docgen.read import HideDrawing
from docgen.resolve import Goods

NEAR_MM: Final = 0.2
EDGE_SHARE: Final = 0.03
"""A hide of which no more than this share lies beyond the backbone has its straight edge there. Our choice."""


def drawn_hide(drawing: HideDrawing) -> Hide:
    """The hide turned so that its backbone stands upright; of a side it is the straight edge at 0 across, and where the
    side lies to the left of it, it stands on its neck."""
    start, end = drawing.backbone
    length = math.dist(start, end)
    up = Point((end.x - start.x) / length, (end.y - start.y) / length)
    turned = _turn(drawing.outline, start, up)
    beyond = _share_beyond(turned)
    if beyond > 1 - EDGE_SHARE:
        start, up = end, Point(-up.x, -up.y)
        turned = _turn(drawing.outline, start, up)
        beyond = 1 - beyond
    has_edge = beyond <= EDGE_SHARE
    left, low = (0.0 if has_edge else min(x for x, _ in turned)), min(y for _, y in turned)

    def moved(path: Path) -> Shape:
        return tuple((round((x - left) * 64) / 64, round((y - low) * 64) / 64) for x, y in _turn(path, start, up))

    return Hide(
        name=drawing.file,
        outline=moved(drawing.outline),
        faults=tuple(map(moved, drawing.faults)),
        poor=tuple(map(moved, drawing.hidden)),
        firm=tuple(map(moved, drawing.best)),
        has_edge=has_edge,
        back_mm=-left,
    )


def typical_hide(goods: Goods, number: int, area_mm2: float = 0.0, seed: int = 0) -> Hide:
    """The `number`th hide of these goods, from 0: in the shape that the shop has drawn of them, else in a usual one; of
    their middle area or one that is said, with their share of faults."""
    if goods.drawn is None:
        return usual_hide(goods, number, area_mm2, seed)
    hide = drawn_hide(goods.drawn)
    area_mm2 = area_mm2 or goods.middle_mm2
    stretch = (area_mm2 / hide.area_mm2) ** 0.5

    def scaled(shapes: Iterable[Shape]) -> tuple[Shape, ...]:
        return tuple(tuple((x * stretch, y * stretch) for x, y in shape) for shape in shapes)

    (outline,) = scaled([hide.outline])
    long_mm, back_mm, firm_mm = (
        hide.length_mm * stretch,
        hide.back_mm * stretch,
        goods.firm_mm * (area_mm2 / goods.middle_mm2) ** 0.5,
    )
    left_mm, right_mm = (0.0, firm_mm) if hide.has_edge else (back_mm - firm_mm / 2, back_mm + firm_mm / 2)
    strip = ((left_mm, 0.0), (right_mm, 0.0), (right_mm, long_mm), (left_mm, long_mm))
    return replace(
        hide,
        name=str(number + 1),
        outline=outline,
        faults=tuple(draw_faults(outline, goods.faults, seed * 1009 + number)),
        poor=scaled(hide.poor),
        firm=scaled(hide.firm) or (strip,),
        back_mm=back_mm,
        is_example=bool(goods.faults),
    )


def _turn(path: Path, origin: Point, up: Point) -> list[tuple[float, float]]:
    """The points of an outline, across and along the backbone from its foot."""
    points = flatten(path, NEAR_MM)
    return [
        ((p.x - origin.x) * up.y - (p.y - origin.y) * up.x, (p.x - origin.x) * up.x + (p.y - origin.y) * up.y)
        for p in (points[:-1] if points and points[0] == points[-1] else points)
    ]


def _share_beyond(points: Sequence[tuple[float, float]]) -> float:
    """The share of the area left of the backbone: the outline cut off there."""
    kept = tuple((max(0.0, x), y) for x, y in points)
    return 1 - outline_area(kept) / outline_area(points)
