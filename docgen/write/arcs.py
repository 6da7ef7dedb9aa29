"""Arcs as vector files want them: none longer than a quarter turn, whole circles told apart. mm, radians."""

import math
from typing import Final

from docgen.geometry.shapes import Arc, Path, Segment

QUARTER: Final = math.pi / 2
TURN_SLACK: Final = 1e-9


def find_circle(path: Path) -> Arc | None:
    """The arc of a closed path that is one whole circle, else None."""
    if path.closed and len(path.segments) == 1 and isinstance(path.segments[0], Arc):
        arc = path.segments[0]
        return arc if abs(arc.sweep) >= 2 * math.pi - TURN_SLACK else None
    return None


def short_arcs(path: Path) -> tuple[Segment, ...]:
    """The path's segments, with arcs cut into equal parts of at most a quarter turn.

    Vector files tell an arc by its ends. Rounding those moves the centre of a quarter turn by no more than
    itself, but that of a half turn by a hundred times as much.
    """
    return tuple(part for segment in path.segments for part in _cut(segment))


def _cut(segment: Segment) -> tuple[Segment, ...]:
    if not isinstance(segment, Arc):
        return (segment,)
    count = max(1, math.ceil(abs(segment.sweep) / QUARTER - TURN_SLACK))
    sweep = segment.sweep / count
    return tuple(Arc(segment.centre, segment.radius, segment.begin + sweep * k, sweep) for k in range(count))
