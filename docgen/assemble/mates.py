"""Holes that lie on each other: each is told what it meets, and a host what goes through it and is not there."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly
from docgen.assemble.stand_off import stands_off
from docgen.geometry.measure import is_inside
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import add, distance, scale, transform_point, turn_left
from docgen.resolve import Build, Hole, Landing, Piece, Strap, StrapLanding, by_name, find_parts
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM, SAME_PUNCH_MM

Spot = tuple[str, int]  # a part that is cut, and which of its holes
Met = dict[Spot, dict[str, None]]
Laid = list[tuple[int, Hole, tuple[Point, ...]]]  # holes of a part by their number, and where they may come to lie
Finder = Callable[[Point], list[int]]


def laid_places(piece: Piece, at: Point) -> tuple[Point, ...]:
    """A point of a piece, and where its closed folds lay it."""
    return (at, *(fold.across(at) for fold in piece.marks.folds if not fold.is_open and not fold.of_hem))


def riveted_places(strap: Strap, landing: StrapLanding, at: Point) -> tuple[Point, ...]:
    """Where a point of a strap lies on the piece that holds its end, either face up."""
    along = scale(landing.way, strap.cut_length_mm - at.y if landing.end else at.y)
    across = scale(turn_left(landing.way), at.x - strap.width_mm / 2)
    return tuple(add(add(landing.at, along), side) for side in (across, scale(across, -1.0)))


def pinned_straps(piece: Piece, hole: Hole, straps: Mapping[str, Strap]) -> set[str]:
    """The straps that land on a piece with a hole of their own at one of its holes, for what that takes or what comes."""
    return {
        end.strap
        for end in piece.strap_landings
        if end.strap in straps
        for _, own, places in _laid_end(straps[end.strap], end)
        if own.takes in ("", hole.takes) and any(distance(hole.at, at) <= HOLES_MEET_MM for at in places)
    }


def meet_holes(build: Build, assembly: Assembly) -> Build:
    """The build with what each hole meets, by the titles of the parts, and on each landing the holes that hardware goes
    through and the host does not have."""
    met: Met = defaultdict(dict)
    pieces = {piece.name: _meet_landed(build, assembly, piece, met) for piece in build.pieces}
    build = replace(build, pieces=tuple(pieces.values()))
    _meet_named(build, met)
    return replace(
        build,
        pieces=tuple(_tell(piece, met, build.part_titles) for piece in build.pieces),
        straps=tuple(replace(it, piece=_tell(it.piece, met, build.part_titles)) for it in build.straps),
    )


def _tell(piece: Piece, met: Met, titles: dict[str, str]) -> Piece:
    if not any((piece.name, index) in met for index in range(len(piece.marks.holes))):
        return piece
    holes = (
        replace(hole, meets=tuple(dict.fromkeys(titles[name] for name in met.get((piece.name, index), ()))))
        for index, hole in enumerate(piece.marks.holes)
    )
    return piece.with_marks(holes=tuple(holes))


def _meet_landed(build: Build, assembly: Assembly, base: Piece, met: Met) -> Piece:
    """The piece with the holes that what lands on it brings; holes that lie on each other meet."""
    if not (base.marks.landings or base.strap_landings):
        return base
    find = _finder([hole.at for hole in base.marks.holes])
    groups: dict[int, list[Spot]] = defaultdict(list)
    pieces, straps = by_name(build.pieces), by_name(build.straps)
    landings = []
    for landing in base.marks.landings:
        is_on = landing.piece in pieces and not stands_off(build.seams, landing.piece, base.name)
        laid = [*_laid(pieces[landing.piece], landing)] if is_on else []
        missed = _match(landing.piece, laid, find, groups)
        through = _gone_through(build, assembly, base, landing.piece)
        landings.append(replace(landing, holes=_carry(landing.outline, missed, base, through)))
    straps_on = []
    for end in base.strap_landings:
        laid = [*_laid_end(straps[end.strap], end)] if end.strap in straps else []
        missed = _match(end.strap, laid, find, groups)
        is_sewn = any({base.name, end.strap} <= seam.parts for seam in build.seams)
        through = _gone_through(build, assembly, base, end.strap)
        carried = _carry(end.outline, [one for one in missed if not one[1].takes], base, lambda hole: True)
        taking = _carry(end.outline, missed, base, through)
        straps_on.append(replace(end, holes=() if is_sewn else (*carried, *taking)))
    for index, spots in groups.items():
        every = [(base.name, index), *spots]
        for spot in every:
            met[spot].update(dict.fromkeys(name for name, _ in every if name != spot[0]))
    return replace(base.with_marks(landings=tuple(landings)), strap_landings=tuple(straps_on))


def _laid(piece: Piece, landing: Landing) -> Iterator[tuple[int, Hole, tuple[Point, ...]]]:
    for index, hole in enumerate(piece.marks.holes):
        yield index, hole, tuple(transform_point(at, landing.move) for at in laid_places(piece, hole.at))


def _laid_end(strap: Strap, landing: StrapLanding) -> Iterator[tuple[int, Hole, tuple[Point, ...]]]:
    """Holes of the end that lies fast, without the row for a buckle; of a turned end it is not said which layer lies
    beneath."""
    first = len(strap.piece.marks.holes) if strap.ends[landing.end].shape == "turned" else len(strap.hole_tips_mm)
    for index, hole in enumerate(strap.piece.marks.holes[first:], start=first):
        places = riveted_places(strap, landing, hole.at)
        if is_inside(landing.outline, places[0]):
            yield index, hole, places


def _match(part: str, laid: Laid, find: Finder, groups: dict[int, list[Spot]]) -> Laid:
    """Those that meet no hole of the base; the others go into its groups."""
    missed: Laid = []
    for index, hole, places in laid:
        found = {index for at in places for index in find(at)}
        for met in found:
            groups[met].append((part, index))
        if not found:
            missed.append((index, hole, places))
    return missed


def _finder(points: Sequence[Point]) -> Finder:
    """Which of many points lie on a place."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for index, at in enumerate(points):
        cells[math.floor(at.x / HOLES_MEET_MM), math.floor(at.y / HOLES_MEET_MM)].append(index)

    def find(at: Point) -> list[int]:
        x, y = math.floor(at.x / HOLES_MEET_MM), math.floor(at.y / HOLES_MEET_MM)
        near = (k for i in (-1, 0, 1) for j in (-1, 0, 1) for k in cells.get((x + i, y + j), ()))
        return [k for k in near if distance(points[k], at) <= HOLES_MEET_MM + 1e-6]

    return find


def _gone_through(build: Build, assembly: Assembly, base: Piece, part: str) -> Callable[[Hole], bool]:
    """Whether what a hole of a part that lands takes is set through the base too."""
    found = {place for name, place, parts in assembly.through if name == part and base.name in parts}
    return lambda hole: bool(hole.takes) and hole.place in found


def _carry(outline: Path, missed: Laid, base: Piece, is_through: Callable[[Hole], bool]) -> tuple[Hole, ...]:
    """The holes of what lands that the base lacks, on the base; one that is only measured wrong is told elsewhere."""
    found = []
    for _, hole, places in missed:
        on = next((at for at in places if is_inside(outline, at)), places[0])
        is_near = any(distance(own.at, at) <= OTHER_HOLE_MM for own in base.marks.holes for at in places)
        if is_through(hole) and not is_near:
            found.append(replace(hole, at=on))
    return tuple(found)


def _meet_named(build: Build, met: Met) -> None:
    """Holes and the parts that they name themselves, where no landing says how these lie."""
    parts, cut, titles, straps = find_parts(build), by_name(build.cut), build.part_titles, by_name(build.straps)
    landed_on = {spot: frozenset(names) for spot, names in met.items()}
    for piece in build.pieces:
        landed = {landing.piece for landing in piece.marks.landings} | {it.strap for it in piece.strap_landings}
        done = set()
        for index, hole in enumerate(piece.marks.holes):
            for name in hole.through if hole.takes else ():
                if name in titles and name != piece.name and name not in landed:
                    met[piece.name, index][name] = None
                    key = name, hole.takes, hole.diameter_mm
                    if key in done:
                        continue
                    done.add(key)
                    strips = parts.strips(name) or [cut[name]]
                    first = straps[name].row_holes if name in straps else 0  # those of a row are for its buckle
                    count = sum(
                        key == (name, one.takes, one.diameter_mm) for one in piece.marks.holes if name in one.through
                    )
                    for other in (strip for strip in strips if strip.name != piece.name):
                        for k in _pick(_list_twins(hole, other, first), other, landed_on, piece.name, count):
                            met[other.name, k][piece.name] = None


def _pick(
    twins: Sequence[int], other: Piece, landed_on: Mapping[Spot, frozenset[str]], part: str, count: int
) -> Sequence[int]:
    """Those that are there for a part: none on which another lies, nor the middle one of a row, where others are enough."""
    left = [k for k in twins if part in landed_on.get((other.name, k), (part,))] or twins
    plain = [k for k in left if not other.marks.holes[k].is_middle]
    return left if len(plain) < count else plain


def _list_twins(hole: Hole, other: Piece, first: int) -> list[int]:
    """Holes of that size that are there for what comes through one, of those from the first one on."""
    return [
        index
        for index, twin in enumerate(other.marks.holes[first:], start=first)
        if twin.takes in ("", hole.takes)
        and abs(twin.diameter_mm - hole.diameter_mm) <= SAME_PUNCH_MM
        and not twin.long_mm
    ]
