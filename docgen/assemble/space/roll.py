"""Parts that close on themselves and stand on nothing: rings."""

from __future__ import annotations

import math

from docgen.assemble.assembly import Copy
from docgen.assemble.space.pleat import across_of
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import stand
from docgen.geometry.shapes import Point

ROUND_CHORDS = 48
LEAST_MM = 0.5


def roll(scene: Scene, copy: Copy) -> bool:
    """A part that closes on itself and stands on nothing: a ring with its outer face out, upright."""
    item = scene.item(copy)
    ends = next(((one, other) for _, one, other in scene.own_ties(copy) if one.is_straight and other.is_straight), None)
    if item.is_ring:
        start, way, whole_mm = Point(item.box.right, item.box.bottom), Point(0.0, 1.0), item.box.height
    elif ends is not None and across_of(ends[0], ends[1].middle) > LEAST_MM:
        line, whole_mm = ends[0], across_of(ends[0], ends[1].middle)
        start, way = line.points[0], Point(-line.way.y, line.way.x)
    else:
        return False
    radius = whole_mm / ROUND_CHORDS / (2 * math.sin(math.pi / ROUND_CHORDS))
    turns = [math.tau * k / ROUND_CHORDS for k in range(ROUND_CHORDS + 1)]
    track = [
        (whole_mm * k / ROUND_CHORDS, (radius * math.cos(turn), radius * math.sin(turn), 0.0))
        for k, turn in enumerate(turns)
    ]
    hand = 1.0 if item.is_grain_out else -1.0
    scene.put(copy, "rolled", stand(start, way, track, (0.0, 0.0, hand), ()))
    return True
