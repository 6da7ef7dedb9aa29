"""The nodes of a closed path and which of them are sharp corners."""

import math
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import path_length, point_at
from docgen.geometry.segment import segment_start
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import cross, dot

SHARP: Final = math.radians(20)


@dataclass(frozen=True, slots=True)
class Node:
    """Where a segment of a path begins: distance from the start of the path in mm, place, turn there in radians."""

    at_mm: float
    place: Point
    turn: float


def list_nodes(ring: Path) -> list[Node]:
    """The nodes of a closed path, in its order."""
    nodes: list[Node] = []
    passed = 0.0
    before = point_at(Path(ring.segments[-1:]), math.inf)[1]
    for segment in ring.segments:
        alone = Path((segment,))
        ahead, end = point_at(alone, 0.0)[1], point_at(alone, math.inf)[1]
        turn = abs(math.atan2(cross(before, ahead), dot(before, ahead)))
        nodes.append(Node(passed, segment_start(segment), turn))
        before = end
        passed += path_length(alone)
    return nodes


def list_corners(ring: Path) -> list[Node]:
    """The sharp corners of a closed path, from the one nearest to (0, 0) on; that node alone when none is sharp."""
    nodes = list_nodes(ring)
    sharp = [node for node in nodes if node.turn > SHARP] or [min(nodes, key=_from_origin)]
    first = min(range(len(sharp)), key=lambda k: _from_origin(sharp[k]))
    return sharp[first:] + sharp[:first]


def _from_origin(node: Node) -> float:
    return math.hypot(*node.place)
