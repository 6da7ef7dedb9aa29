"""The wall of a lining that is a bag of its own, dropped into another: it lies along the wall that it lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from docgen.assemble.assembly import Copy
from docgen.assemble.space.build_up import between_seams
from docgen.assemble.space.close import eased_mm
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import Scene, Tie
from docgen.assemble.space.surface import Surface
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import apart, inner
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, scale, subtract, turn_left
from docgen.tables.sewing import EDGES_APART_MM

WIDER_MM = 1.0  # than the wall that it lines, between their rows: else it would stand out through what that is sewn to


def line_wall(scene: Scene, copy: Copy) -> bool:
    """Place a lining along the wall that it lines, where all lines by which it is sewn come to lie on their partners."""
    ties = scene.placed_ties(copy) if scene.item(copy).is_inner else []
    for host in [*scene.placed.values()] if ties else ():
        if host.how == "stands on" and not host.surface.pleat and scene.goods.covers(copy.part, host.copy.part):
            found = [(_miss(scene, surface, ties), surface) for surface in _ways_along(scene, copy, host)]
            far_mm, surface = min(found, key=lambda one: (round(one[0], 3), _looks_with(one[1], host)))
            tie = next((tie for tie in ties if tie.mine.is_straight and tie.other != host.copy), None)
            ring = between_seams(scene, copy, tie.mine) if tie else scene.item(copy).ring
            if far_mm <= 0 and _wide_mm(surface, ring) <= _wide_mm(host.surface, host.ring) + WIDER_MM:
                scene.put(copy, "lies behind", surface, host.copy, side=-1, ring=ring)
                return True
    return False


def _wide_mm(surface: Surface, ring: Sequence[Point]) -> float:
    across = [surface.measure(at)[1] for at in ring]
    return max(across) - min(across)


def _looks_with(surface: Surface, host: Placed) -> bool:
    """Whether the drawn side looks as that of its host does: that of a lining mostly looks away from it."""
    return inner(surface.normal(), host.surface.normal()) > 0


def _ways_along(scene: Scene, copy: Copy, host: Placed) -> Iterator[Surface]:
    """The surfaces of a part with its middle on that of a wall, along it: either way round, and either face out."""
    under, centre = host.surface, scene.item(copy).box.centre
    places = [under.measure(at) for at in host.item.ring]
    mids = [(min(axis) + max(axis)) / 2 for axis in zip(*places, strict=True)]
    for axis, turn, face in product((Point(0.0, 1.0), Point(1.0, 0.0)), (1.0, -1.0), (1.0, -1.0)):
        along = scale(axis, turn)
        across = scale(turn_left(along), face)
        origin = subtract(centre, add(scale(along, mids[0]), scale(across, mids[1])))
        yield replace(under, origin=origin, along=along, across=across)


def _miss(scene: Scene, surface: Surface, ties: Sequence[Tie]) -> float:
    """How much farther the lines of a part so placed lie off those that they are sewn to than they may, at most."""
    return max(
        min(_apart(scene, surface, tie, its) for its in (tie.its, tie.its.reversed()))
        - EDGES_APART_MM
        - eased_mm(scene, tie.seam, (tie.own, tie.other))
        for tie in ties
    )


def _apart(scene: Scene, surface: Surface, tie: Tie, its: Track) -> float:
    other = scene.placed[tie.other].surface
    shares = tie.mine.share_marks(its)
    pairs = zip(tie.mine.spread(shares), its.spread(shares), strict=True)
    return max(apart(surface.point(mine), other.point(at)) for mine, at in pairs)
