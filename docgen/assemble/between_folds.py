"""Rows that are sewn before a hem is turned over, as they lie once it is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from docgen.geometry.outline import outline_box
from docgen.geometry.path import flatten, path_box, polyline
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import add, cross, scale, subtract
from docgen.resolve import Piece

BEYOND_MM = 0.1  # a row that reaches no farther beyond a fold ends at it


def between_folds(piece: Piece, row: Path) -> Path:
    """A row without what a hem turns over with it, of one that is sewn before that; one that lies wholly in what is turned
    over comes to lie back with it."""
    if not piece.hems:
        return row
    box, own = outline_box(piece.sewn_outline), path_box(row)
    over = box.left - own.left, own.right - box.right, box.bottom - own.bottom, own.top - box.top
    if max(over) < BEYOND_MM:
        return row
    points = tuple(flatten(row))
    for fold in (fold for fold in piece.marks.folds if fold.of_hem):
        way = subtract(fold.end, fold.start)
        hand = math.copysign(1.0, cross(way, subtract(box.centre, fold.start)))
        kept = tuple(_kept_of(points, [hand * cross(way, subtract(at, fold.start)) for at in points]))
        points = kept if len({*kept}) > 1 else tuple(fold.across(at) for at in points)
    return polyline(points)


def _kept_of(points: Sequence[Point], inward: Sequence[float]) -> Iterator[Point]:
    """A line up to where it comes to a fold, or from there on; `inward` is above 0 on the side that stays."""
    for k, (at, deep) in enumerate(zip(points, inward, strict=True)):
        if k and deep * inward[k - 1] < 0:
            share = inward[k - 1] / (inward[k - 1] - deep)
            yield add(points[k - 1], scale(subtract(at, points[k - 1]), share))
        if deep >= 0:
            yield at
