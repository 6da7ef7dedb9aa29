"""Which way a fold goes: whether the spec tells which side lies inside, or it may be meant either way."""

from __future__ import annotations

from docgen.assemble.assembled import Assembled
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.spread import TURNED_BACK
from docgen.assemble.space.vectors import inner
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, subtract
from docgen.resolve import Fold

ON_FOLD_MM = 0.5


def folds_either_way(build: Assembled, placed: Placed) -> bool:
    """Whether a part may be folded into what it is sewn to, or away from that: it has a closed fold round nothing, of which
    nothing says what lies inside; it is not sewn to itself; and it is a panel of what stands, or sewn edge on edge to
    another outer part beside its fold alone."""
    folds = [fold for fold in placed.item.folds if not fold.is_open and not fold.around and not fold.inside]
    if not folds or placed.is_inner or not _is_folded(placed):
        return False
    sides = [[side.part for side in seam.sides if side.edges] for seam in build.seams]
    if any(parts.count(placed.copy.part) > 1 for parts in sides):
        return False
    is_panel = placed.how in ("begun with", "closes")
    return (is_panel and build.space.kind == "standing") or _is_backed_beside(build, placed, folds)


def goes_either_way(build: Assembled, placed: Placed, fold: Fold) -> bool:
    """Whether nothing says which side of a part lies inside a fold: a wall that is pleated folds in and out in turn."""
    if fold.inside or fold.around:
        return False
    return bool(placed.surface.pleat) or (not fold.is_open and folds_either_way(build, placed))


def _is_folded(placed: Placed) -> bool:
    bands = range(len(placed.surface.bands))
    return any(inner(placed.out(k), placed.out(k + 1)) < TURNED_BACK for k in bands[:-1])


def _is_backed_beside(build: Assembled, placed: Placed, folds: list[Fold]) -> bool:
    """Whether outer parts lie back to back with a part, all of them on one side of its folds."""
    parts = build.space.parts
    backed = {
        one.copy.part for one in parts if one.host == placed.copy and one.how == "back to back" and not one.is_inner
    }
    if placed.how == "back to back" and placed.host is not None:
        backed.add(placed.host.part)
    seams = {seam.name for seam in build.seams if any(side.part in backed and side.edges for side in seam.sides)}
    rows = [mark.path for mark in placed.item.marks if mark.kind == "stitch" and mark.name in seams]
    return bool(rows) and all(_is_beside(fold, [at for row in rows for at in flatten(row)]) for fold in folds)


def _is_beside(fold: Fold, points: list[Point]) -> bool:
    """Whether points lie on one side of a fold."""
    way = subtract(fold.end, fold.start)
    long_mm = (way.x**2 + way.y**2) ** 0.5 or 1.0
    off_mm = [cross(way, subtract(at, fold.start)) / long_mm for at in points]
    return min(off_mm) > -ON_FOLD_MM or max(off_mm) < ON_FOLD_MM
