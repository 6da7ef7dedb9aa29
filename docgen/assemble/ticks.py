"""On which partners of a seam ticks are counted from the end of their rows: those whose end lies where the seam begins."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy, Sewn
from docgen.assemble.space import Placed, Space, Vec
from docgen.assemble.space.vectors import apart
from docgen.classes import dataclass
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Point
from docgen.resolve import Build, Join, Piece, Seam, SeamSide, SideKey, StitchLine, by_name, count_backward, from_start

LOOK_AT = (0.0, 0.25, 0.75, 1.0)  # of a row, where it is looked up which way round two lie to each other
FAR_MM = len(LOOK_AT) * 15.0  # all together; rows that are sewn to each other lie nearer, with what is between them
SAME_MM = 1.0  # rows that lie no better one way round than the other


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A side of a seam, by its number, on a placed part, and places along it from where its holes are counted on."""

    index: int
    key: SideKey
    placed: Placed
    spots: tuple[Vec, ...]


def meet_ticks(build: Build, assembly: Assembly, space: Space) -> Build:
    """The build with the ticks of every seam at the same stitches of all its partners, counted from where it is told to
    begin: at the beginning of its row on the first partner that is a piece."""
    ways: dict[SideKey, set[bool]] = {}
    seams, joins = by_name(build.seams), by_name(build.joins)
    parts = {placed.copy: placed for placed in space.parts}
    for once in assembly.sewn:
        for key, is_backward in _ways(seams[once.seam], once, parts, joins):
            ways.setdefault(key, set()).add(is_backward)
    return count_backward(build, {key: len(found) == 1 for key, found in ways.items() if True in found})


def carry_pieces(space: Space, build: Build) -> Space:
    """The space with its strips as the build has them: their ticks may be counted otherwise since they were placed. What is
    read turned over stays so."""
    known = {name: piece for name, piece in by_name(build.pieces).items() if piece.marks.stitch_lines}

    def as_it_lies(placed: Placed, name: str) -> Piece:
        return known[name].turned_over() if placed.item.is_mirrored else known[name]

    def carried(placed: Placed) -> Placed:
        strips = tuple(
            replace(one, piece=as_it_lies(placed, one.piece.name)) if one.piece.name in known else one
            for one in placed.item.strips
        )
        return placed if strips == placed.item.strips else replace(placed, item=replace(placed.item, strips=strips))

    return replace(space, parts=tuple(map(carried, space.parts)))


def _ways(
    seam: Seam, once: Sewn, parts: Mapping[Copy, Placed], joins: Mapping[str, Join]
) -> Iterator[tuple[SideKey, bool]]:
    """The sides of a seam that is sewn once but the one on which it begins, each with whether it runs the other way."""
    rows = [*_rows(seam, once, parts, joins)]
    first = next((row for row in rows if row.key[1] not in joins), None)
    for row in rows:
        is_backward = _runs_against(first, row) if first is not None and row is not first else None
        if is_backward is not None:
            yield row.key, is_backward


def _runs_against(one: Row, other: Row) -> bool | None:
    """Whether a row runs the other way than one that it is sewn to; None where that is not told. What is folded lies with
    both its halves in one place: of two back to back with the same side out both run anticlockwise on their faces."""
    same, turned = _off_mm(one.spots, other.spots), _off_mm(one.spots, other.spots[::-1])
    if abs(same - turned) > SAME_MM:
        return turned < same
    pair = (one.placed, other.placed)
    if any(mine.how == "back to back" and mine.host == its.copy for mine, its in (pair, pair[::-1])):
        return one.placed.is_grain_out == other.placed.is_grain_out
    return None


def find_ways(build: Build, assembly: Assembly, space: Space) -> list[dict[int, bool]]:
    """Of each seam of the assembly the sides of which it is known how they lie along each other, by their numbers, and
    whether they run backward: rows that come to lie beside each other, and those that land on a part, on that."""
    seams, joins, pieces = by_name(build.seams), by_name(build.joins), by_name(build.pieces)
    parts = {placed.copy: placed for placed in space.parts}
    return [_ways_along(seams[once.seam], once, parts, joins, pieces) for once in assembly.sewn]


def _ways_along(
    seam: Seam, once: Sewn, parts: Mapping[Copy, Placed], joins: Mapping[str, Join], pieces: Mapping[str, Piece]
) -> dict[int, bool]:
    edged = [index for index, side in enumerate(seam.sides) if side.edges and side.part not in joins]
    if not edged:
        return {}
    first, ways = edged[0], {edged[0]: False}
    rows = _rows_anywhere(seam, once, parts, joins)
    for index, side in enumerate(seam.sides):
        is_backward = _is_backward(rows[first], rows[index]) if index != first and side.edges else None
        if index in edged[1:] and once.sides[index] == once.sides[first] and is_backward is None:
            # Both edges of a corner, a dart or a tube run anticlockwise.
            is_backward = True if len(side.edges) == len(seam.sides[first].edges) == 1 else None
        if is_backward is not None:
            ways[index] = is_backward
    for index, side in enumerate(seam.sides):
        landed = {one.piece for one in pieces[side.part].marks.landings} if side.part in pieces else ()
        on = [at for at in edged if seam.sides[at].part in landed and at in ways]
        if not side.edges and on:
            ways[index] = ways[on[0]]
    return ways


def _rows_anywhere(
    seam: Seam, once: Sewn, parts: Mapping[Copy, Placed], joins: Mapping[str, Join]
) -> dict[int, list[Row]]:
    """The rows of each side on all copies of its part: which of alike ones lies where is not always that which is sewn."""
    found: dict[int, list[Row]] = {index: [] for index in range(len(seam.sides))}
    most = max(sum(copy.part == side.part for copy in parts) for side in seam.sides)
    for number in range(1, most + 1):
        sides = tuple(Copy(copy.part, number) for copy in once.sides)
        for row in _rows(seam, replace(once, sides=sides), parts, joins):
            found[row.index].append(row)
    return found


def _is_backward(first: Sequence[Row], other: Sequence[Row]) -> bool | None:
    """Which way the nearest of two rows run along each other; None where none lie beside each other."""
    pairs = [(one, its, _runs_against(one, its)) for one in first for its in other]
    told = [
        (_off_mm(one.spots, its.spots[:: -1 if is_backward else 1]), is_backward)
        for one, its, is_backward in pairs
        if is_backward is not None
    ]
    off_mm, is_backward = min(told, default=(FAR_MM, None))
    return is_backward if off_mm < FAR_MM else None


def _off_mm(one: Sequence[Vec], other: Sequence[Vec]) -> float:
    return sum(map(apart, one, other))


def _rows(seam: Seam, once: Sewn, parts: Mapping[Copy, Placed], joins: Mapping[str, Join]) -> Iterator[Row]:
    """The row of each side that is placed."""
    before: dict[str, int] = {}
    for index, (side, copy) in enumerate(zip(seam.sides, once.sides, strict=True)):
        if not side.edges:
            continue
        which = before.get(side.part, 0)
        before[side.part] = which + 1
        placed = parts.get(copy)
        if placed is None:
            continue
        if side.part in joins:
            spots = _along_join(joins[side.part], side)
        else:
            marks = placed.item.strips[0].piece.marks
            lines = [line for line in marks.stitch_lines if line.seam == seam.name and line.row == 0]
            spots = _along(lines[which]) if which < len(lines) else []
        if spots:
            found = tuple(placed.surface.point(at) for at in spots)
            yield Row(index=index, key=(seam.name, side.part, which), placed=placed, spots=found)


def _along(line: StitchLine) -> list[Point]:
    length_mm = path_length(line.path)
    return [at for at, _ in points_at(line.path, [share * length_mm for share in LOOK_AT])]


def _along_join(join: Join, side: SeamSide) -> list[Point]:
    """The same along an edge of a join, from its start; none of a ring, whose holes go on where it began."""
    edge = side.edges[0]
    if edge not in ("left", "right") or join.is_ring:
        return []
    whole = (0.0, join.length_mm)
    begin, end = whole if side.stretch_mm is None else from_start(side.stretch_mm, edge, join.length_mm)
    across = 0.0 if edge == "left" else join.width_mm
    return [Point(across, begin + share * (end - begin)) for share in LOOK_AT]
