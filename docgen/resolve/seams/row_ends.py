"""Where a row ends at another seam: two walls that are sewn to neighbouring stretches of one edge, as round the base of a
bag, and to each other beside it.

On the base the row goes on without a break; on a wall it can only run from the row of one side seam to that of the next,
so that what lies outside of these meets nothing. Common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from itertools import combinations

from docgen.classes import dataclass
from docgen.geometry.crossing import find_crossing
from docgen.geometry.nearest import inset_stretch, nearest_along
from docgen.geometry.path import end_point, flatten, part_of, path_length, point_at, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError, Path, Point
from docgen.geometry.vector import distance, dot
from docgen.problems import Place
from docgen.resolve.seams.lengths import Lengths
from docgen.resolve.seams.partners import Partners
from docgen.resolve.seams.seam import SeamSide

SAME_MM = 0.5  # points nearer to each other are one
SMOOTH = (
    0.9  # cosine of what an edge may turn where two stretches of it meet: at a sharp corner the row breaks there too
)

Lost = tuple[float, float]
Edged = Mapping[str, tuple[SeamSide, ...]]
"""The sides with edges of every seam that can be sewn, by its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """What a side of a seam takes of the cut edge, and its row."""

    edge: Path
    row: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """Finds the run of a side, for any lengths of what is open; none where it is not known."""

    insets: Mapping[str, float]
    lengths: Lengths
    solved: Mapping[str, float]

    def run(self, seam: str, side: SeamSide) -> _Run | None:
        outline = self.lengths.find_outline(side, self.solved)
        if outline is None:
            return None
        with suppress(GeometryError):
            stretch = self.lengths.find_stretch(side, self.solved)
            if side.ends and stretch is None:
                return None
            edge = run_path(outline, side.edges)
            part = edge if stretch is None else part_of(edge, *stretch)
            return _Run(edge=part, row=inset_stretch(outline, side.edges, side.line_mm(self.insets[seam]), stretch))
        return None


def end_rows(
    partners: Mapping[str, Partners], insets: Mapping[str, float], lengths: Lengths, tried: Mapping[str, float]
) -> dict[str, Partners]:
    """The partners of every seam, with what their rows lose at the seams beside them. `insets` are those of the stitches,
    mm by seam; `tried` has a length for every piece that is open."""
    edged = {name: tuple(side for side in sides if side.edges) for name, sides in partners.items() if name in insets}
    rows = _Rows(insets=insets, lengths=lengths, solved=tried)
    lost: dict[Place, Lost] = {}
    for beside, wall, closer in _find_walls(edged, rows):
        before = lost.get(wall[1].place, (0.0, 0.0))
        begin, end = _lost_mm(rows.run(*wall), rows.run(beside, closer))
        lost[wall[1].place] = max(before[0], begin), max(before[1], end)
    return (
        {name: tuple(_without(side, lost) for side in sides) for name, sides in partners.items()}
        if lost
        else {**partners}
    )


def _without(side: SeamSide, lost: Mapping[Place, Lost]) -> SeamSide:
    return replace(side, lost_mm=lost[side.place]) if side.edges and side.place in lost else side


def _find_walls(edged: Edged, rows: _Rows) -> Iterator[tuple[str, tuple[str, SeamSide], SeamSide]]:
    """A seam that closes two walls, one of them with the seam of its foot, and its side in the seam that closes it: of
    edges that are both there, so that a wrong name of one shortens no row beside it."""
    for beside, sides in edged.items():
        for one, other in combinations(sides, 2):
            is_dart = _are_of_one(one, other) and _meet_at_corner(rows.run(beside, one), rows.run(beside, other))
            for foot, base in _feet(edged, beside, one):
                for next_foot, next_base in _feet(edged, beside, other):
                    if is_dart and foot != next_foot:
                        continue
                    is_there = base[1].part == next_base[1].part and _goes_on(rows, base, next_base)
                    if is_there and rows.run(beside, one) and rows.run(beside, other):
                        yield beside, foot, one
                        yield beside, next_foot, other


def _meet_at_corner(run: _Run | None, other: _Run | None) -> bool:
    """Whether two edges come to one corner, so that a seam of them closes a dart or a boxed corner of one copy."""
    if run is None or other is None:
        return False
    return any(_are_one(at, its) for at, _ in _ends(run.edge) for its, _ in _ends(other.edge))


def _feet(edged: Edged, beside: str, closer: SeamSide) -> Iterator[tuple[tuple[str, SeamSide], tuple[str, SeamSide]]]:
    """Sides of the same wall in other seams, each with a side of another part that it is sewn to there."""
    for seam, sides in edged.items():
        for wall in sides if seam != beside else ():
            if _are_of_one(wall, closer) and {*wall.edges}.isdisjoint(closer.edges):
                yield from (((seam, wall), (seam, base)) for base in sides if base.part != wall.part)


def _are_of_one(side: SeamSide, other: SeamSide) -> bool:
    """Whether two sides may be of one copy of a part."""
    return side.part == other.part and (not side.copy or not other.copy or side.copy == other.copy)


def _goes_on(rows: _Rows, base: tuple[str, SeamSide], other: tuple[str, SeamSide]) -> bool:
    """Whether the edge of a base goes on from the one stretch to the other without a corner, or is one closed line."""
    run, next_run = rows.run(*base), rows.run(*other)
    if run is None or next_run is None:
        return False
    if base == other:
        return run.edge.closed or _are_one(start_point(run.edge), end_point(run.edge))
    shared = [
        (way, its) for at, way in _ends(run.edge) for other_at, its in _ends(next_run.edge) if _are_one(at, other_at)
    ]
    return bool(shared) and all(dot(way, its) < -SMOOTH for way, its in shared)


def _ends(path: Path) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Where a line begins and ends, and which way it comes from there."""
    _, first = point_at(path, 0.0)
    _, last = point_at(path, path_length(path))
    return (start_point(path), first), (end_point(path), Point(-last.x, -last.y))


def _are_one(at: Point, other: Point) -> bool:
    return distance(at, other) < SAME_MM


def _lost_mm(wall: _Run | None, closer: _Run | None) -> Lost:
    """What of the row of a wall lies outside the row that closes it, where it begins and where it ends: nothing but at a
    corner that both of their edges come to."""
    if wall is None or closer is None or wall.edge.closed:
        return 0.0, 0.0
    corners = start_point(closer.edge), end_point(closer.edge)
    met = find_crossing(flatten(wall.row), flatten(closer.row))
    if met is None:
        return 0.0, 0.0
    along_mm, whole_mm = nearest_along(wall.row, met), path_length(wall.row)
    at_start, at_end = (
        any(_are_one(at, corner) for corner in corners) for at in (start_point(wall.edge), end_point(wall.edge))
    )
    return along_mm if at_start else 0.0, whole_mm - along_mm if at_end else 0.0
