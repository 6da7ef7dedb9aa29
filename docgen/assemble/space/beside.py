"""How two placed parts lie to each other where a seam joins them: on each other, or the one standing on the other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from docgen.assemble.space.placed import Placed
from docgen.assemble.space.vectors import Vec, apart, inner, plus, times
from docgen.classes import dataclass
from docgen.geometry.measure import distance_to_path
from docgen.geometry.shapes import Point

NEAR_MM = 3.0  # a part that comes no nearer to a place of the seam does not lie there
FLAT = 0.9  # the cosine between faces that lie on each other
UPRIGHT = 0.75  # and of a wall, which may lean
MOST_PLACES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Of the second of two parts: whether it stands on the first as a wall, and whether both look out the same way."""

    is_wall: bool
    is_same: bool


def lie_beside(one: Placed, other: Placed, seam: str) -> Beside | None:
    """How the second of two parts lies to the first along a seam; None where that is not told. Of what is folded that half
    counts in which the row of the seam is."""
    for at in _places(one, seam):
        mine, its = _band_at(one, at, seam), _band_at(other, at, seam)
        if mine is not None and its is not None:
            lean = inner(one.out(mine), other.out(its))
            is_wall = abs(lean) < UPRIGHT
            return Beside(is_wall=is_wall, is_same=lean > 0) if is_wall or abs(lean) > FLAT else None
    return None


def _places(placed: Placed, seam: str) -> Sequence[Vec]:
    """Places on the stitch line of a seam: the middles of its longest legs."""
    lines = (line.points for line in placed.lines if line.kind == "stitch" and line.name == seam)
    legs = sorted((leg for points in lines for leg in pairwise(points)), key=lambda leg: -round(apart(*leg), 3))
    return [times(plus(start, end), 0.5) for start, end in legs[:MOST_PLACES]]


def _band_at(placed: Placed, at: Vec, seam: str) -> int | None:
    """The band of a part that comes nearest to a point, of several that lie on each other the one that its row of the seam
    is in; None where none is near."""
    rows = [mark.path for mark in placed.item.marks if mark.kind == "stitch" and mark.name == seam]
    found = []
    for k, band in enumerate(placed.surface.bands):
        foot, lift_mm = placed.surface.foot(band, at)
        if foot is not None and abs(lift_mm) < NEAR_MM and _is_near(placed, foot):
            off_mm = min((distance_to_path(row, foot) for row in rows), default=0.0)
            found.append((round(abs(lift_mm), 6), round(off_mm, 3), k))
    return min(found)[-1] if found else None


def _is_near(placed: Placed, at: Point) -> bool:
    box = placed.item.box
    return box.left - NEAR_MM < at.x < box.right + NEAR_MM and box.bottom - NEAR_MM < at.y < box.top + NEAR_MM
