"""Walls that are folded lengthwise: how far apart their long sides lie then."""

from __future__ import annotations

import math
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import Knot
from docgen.assemble.space.track import Track
from docgen.geometry.shapes import Point
from docgen.resolve import Fold

SAME_MM = 0.5
SQUARE_DEG, OFF_SQUARE_DEG = 90.0, 15.0
FLANGE_SHARE = 0.25  # of the wall, at most, that a flange is wide; our choice


def across_of(line: Track, at: Point) -> float:
    """How far to the left of a straight line a point lies."""
    way, start = line.way, line.points[0]
    return way.x * (at[1] - start.y) - way.y * (at[0] - start.x)


def find_pleat(scene: Scene, copy: Copy, line: Track) -> tuple[Knot, ...]:
    """Lengthwise folds of a wall beyond a line, as pairs of mm across on the piece and in space: folded to one side and
    the other in turn, they draw its sides together evenly. Beyond a closed fold alone it lies back on itself. A flange
    that is creased along either side lies in the plane of what it is sewn to, and the wall begins at its fold."""
    folds = sorted(
        ((across_of(line, fold.start), fold) for fold in scene.item(copy).folds if _is_beside(line, fold)),
        key=lambda one: one[0],
    )
    if not folds:
        return ()
    far_mm = far_of(scene, copy, line)
    if len(folds) == 1 and not folds[0][1].is_open:
        at_mm = folds[0][0]
        return (0.0, 0.0), (at_mm, at_mm), (far_mm, 2 * at_mm - far_mm)
    begin_mm, end_mm = 0.0, far_mm
    if _is_flange(folds[0][1], folds[0][0], far_mm):
        begin_mm = folds.pop(0)[0]
    if folds and _is_flange(folds[-1][1], far_mm - folds[-1][0], far_mm):
        end_mm = folds.pop()[0]
    deep_mm = _drawn_together([begin_mm, *(at for at, _ in folds), end_mm], [fold for _, fold in folds])
    knots = ((0.0, 0.0), (begin_mm, 0.0), (end_mm, deep_mm), (far_mm, deep_mm))
    return tuple(knot for knot, after in zip(knots, (*knots[1:], ()), strict=True) if knot != after)


def _is_flange(fold: Fold, wide_mm: float, far_mm: float) -> bool:
    """Whether what of a wall lies between a seam and a fold is a flange of it, that stands off it square."""
    return fold.is_open and abs(fold.angle_deg - SQUARE_DEG) <= OFF_SQUARE_DEG and wide_mm <= far_mm * FLANGE_SHARE


def _drawn_together(cuts: list[float], folds: list[Fold]) -> float:
    """How far apart the sides of a wall lie, that is folded at all of these but the first and the last."""
    across = depth = heading = 0.0
    for (begin, end), turn in zip(pairwise(cuts), [*_turns(folds), 0.0], strict=True):
        across += (end - begin) * math.cos(heading)
        depth += (end - begin) * math.sin(heading)
        heading += turn
    return math.hypot(across, depth)


def _turns(folds: list[Fold]) -> list[float]:
    """By how much each fold turns, in radians; what is not said is shared out over a half turn."""
    unsaid = sum(fold.is_open and not fold.angle_deg for fold in folds)
    degrees = [(fold.angle_deg or 180 / unsaid) if fold.is_open else 180.0 for fold in folds]
    return [math.radians(turn) * (-1) ** k for k, turn in enumerate(degrees)]


def _is_beside(line: Track, fold: Fold) -> bool:
    first, second = across_of(line, fold.start), across_of(line, fold.end)
    return abs(first - second) < SAME_MM and first > SAME_MM


def far_of(scene: Scene, copy: Copy, line: Track) -> float:
    """How far across from a line the other long seam of a wall lies, else its farthest point. One by which
    a facing is sewn to it is none: the wall goes on to its edge."""
    ties = [tie for tie in scene.ties_of(copy) if not scene.comes_back(tie.other, copy)]
    tracks = [tie.mine for tie in ties] + [track for _, track, _ in scene.flat_ties(copy)]
    for track in tracks:
        ends = [across_of(line, at) for at in (track.points[0], track.points[-1])]
        if track.is_straight and min(ends) > SAME_MM and abs(ends[0] - ends[1]) < SAME_MM:
            return ends[0]
    return max(across_of(line, at) for at in scene.item(copy).ring)


def pleated_mm(scene: Scene, copy: Copy, line: Track) -> float:
    """How far apart in space a line of a wall and its far side lie."""
    pleat = find_pleat(scene, copy, line)
    return abs(pleat[-1][1]) if pleat else far_of(scene, copy, line)
