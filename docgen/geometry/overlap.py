"""Where one path runs along another, whichever way about."""

import math
from collections.abc import Iterable
from itertools import pairwise

from docgen.geometry.path import boxes_overlap, grow_box, part_of, path_box, path_length
from docgen.geometry.shapes import Arc, Curve, Line, Path, Segment
from docgen.geometry.vector import cross, distance, dot, norm, subtract

NEAR_MM = 0.02  # paths no farther apart than this lie on each other
LEAST_MM = 0.5  # shorter stretches are where paths cross or touch

Stretches = tuple[tuple[float, float], ...]


def shared_stretches(path: Path, others: Iterable[Path]) -> Stretches:
    """The stretches of a path, as distances along it in mm, where it lies on any of the others. Lines and arcs are
    compared part by part, curves only as wholes."""
    box = grow_box(path_box(path), NEAR_MM)
    near = [segment for other in others if boxes_overlap(path_box(other), box) for segment in other.segments]
    found: list[tuple[float, float]] = []
    passed = 0.0
    for segment in path.segments if near else ():
        length = path_length(Path((segment,)))
        shares = (share for other in near for share in _shares(segment, other))
        found += [(passed + first * length, passed + last * length) for first, last in shares]
        passed += length
    return tuple((first, last) for first, last in _unite(found) if last - first >= LEAST_MM)


def parts_without(path: Path, stretches: Stretches) -> tuple[Path, ...]:
    """What is left of a path without some stretches of it; the path itself where there are none."""
    if not stretches:
        return (path,)
    ends = (0.0, *(at for stretch in stretches for at in stretch), path_length(path))
    kept = list(pairwise(ends))[::2]
    return tuple(part_of(path, first, last) for first, last in kept if last - first >= LEAST_MM)


def _unite(stretches: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The same stretches in order, those that meet as one."""
    united: list[tuple[float, float]] = []
    for first, last in sorted(stretches):
        if united and first <= united[-1][1] + NEAR_MM:
            united[-1] = (united[-1][0], max(united[-1][1], last))
        else:
            united.append((first, last))
    return united


def _shares(segment: Segment, other: Segment) -> list[tuple[float, float]]:
    """The parts of a segment that lie on another, as shares of its length."""
    if isinstance(segment, Line) and isinstance(other, Line):
        found = _on_line(segment, other)
    elif isinstance(segment, Arc) and isinstance(other, Arc):
        found = _on_arc(segment, other)
    else:
        found = [(0.0, 1.0)] if isinstance(segment, Curve) and _is_same_curve(segment, other) else []
    cut = ((max(first, 0.0), min(last, 1.0)) for first, last in found)
    return [(first, last) for first, last in cut if first < last]


def _on_line(line: Line, other: Line) -> list[tuple[float, float]]:
    along = subtract(line.end, line.start)
    long_mm = norm(along)
    ends = [subtract(end, line.start) for end in (other.start, other.end)]
    if long_mm == 0 or any(abs(cross(along, end)) > NEAR_MM * long_mm for end in ends):
        return []
    first, last = sorted(dot(along, end) / long_mm**2 for end in ends)
    return [(first, last)]


def _on_arc(arc: Arc, other: Arc) -> list[tuple[float, float]]:
    if distance(arc.centre, other.centre) > NEAR_MM or abs(arc.radius - other.radius) > NEAR_MM or not arc.sweep:
        return []
    way = math.copysign(1.0, arc.sweep)
    begin = other.begin if other.sweep * way > 0 else other.begin + other.sweep
    first = (begin - arc.begin) * way % (2 * math.pi)
    turns = (first, first - 2 * math.pi)
    return [(turn / abs(arc.sweep), (turn + abs(other.sweep)) / abs(arc.sweep)) for turn in turns]


def _is_same_curve(curve: Curve, other: Segment) -> bool:
    if not isinstance(other, Curve):
        return False
    mine, its = ((each.start, each.handle_1, each.handle_2, each.end) for each in (curve, other))
    return any(all(distance(a, b) <= NEAR_MM for a, b in zip(mine, way, strict=True)) for way in (its, its[::-1]))
