"""Ticks of every ten stitches: on all partners of a seam they come to lie at the same stitches, counted from where it is
told to begin."""

import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from slips.builds import FOLDERS

from docgen.assemble import Assembled, Copy, Placed, Vec
from docgen.checks import resolve_variants
from docgen.geometry.path import points_at
from docgen.geometry.shapes import Point
from docgen.geometry.vector import transform_point
from docgen.problems import SpecRejected
from docgen.read import read_spec
from docgen.resolve import Piece, StitchLine, by_name

NEAR_MM = 12.0  # holes of two partners that are to meet lie no farther apart: less than four stitches
SAME_MM = 0.1
SPECS = [path for folder in FOLDERS.values() for path in sorted(folder.glob("*.toml"))]


@cache
def builds_of(path: Path) -> tuple[Assembled, ...]:
    try:
        return tuple(resolve_variants(read_spec(path)))
    except SpecRejected:
        return ()  # a starter that asks for figures


def rows(build: Assembled, placed: Placed, seam: str) -> Iterator[tuple[StitchLine, list[Vec], list[Vec]]]:
    """The machine-sewn first rows of a seam on a placed part: holes and ticks in space."""
    pieces = by_name(build.pieces)
    for strip in placed.item.strips:
        piece: Piece = pieces.get(strip.piece.name, strip.piece)
        piece = piece.turned_over() if placed.item.is_mirrored else piece
        for line in piece.marks.stitch_lines:
            if line.seam == seam and line.row == 0 and line.by == "machine":
                spots = [
                    [
                        placed.surface.point(Point(*transform_point(at, strip.move)))
                        for at, _ in points_at(line.path, found)
                    ]
                    for found in (line.holes_mm, line.ticked_mm)
                ]
                yield line, spots[0], spots[1]


def seams_sewn(build: Assembled) -> Iterator[tuple[str, list[Placed]]]:
    parts = {placed.copy: placed for placed in build.space.parts}
    for once in build.assembly.sewn:
        sides = next(seam.sides for seam in build.seams if seam.name == once.seam)
        found: dict[Copy, Placed] = {}
        for side, copy in zip(sides, once.sides, strict=True):
            if side.edges and copy in parts:
                found[copy] = parts[copy]
        yield once.seam, list(found.values())


def misses(build: Assembled) -> Iterator[tuple[str, str, int]]:
    """For every tick of a further partner that lies by a hole of the first piece: the number of that hole."""
    pieces = {piece.name for piece in build.pieces}
    for seam, parts in seams_sewn(build):
        first = next((placed for placed in parts if placed.copy.part in pieces), None)
        own = [*rows(build, first, seam)] if first is not None else []
        if len(own) != 1 or own[0][0].path.closed:
            continue
        holes = own[0][1]
        for placed in (one for one in parts if one is not first):
            for line, _, ticks in rows(build, placed, seam):
                for tick in ticks[1:-1] if not line.path.closed else ():
                    off = [math.dist(tick, hole) for hole in holes]
                    near = [k for k, mm in enumerate(off) if mm < min(off) + SAME_MM]  # two where halves are folded
                    if min(off) < NEAR_MM:
                        yield seam, placed.copy.part, min(near, key=lambda k: k % 10)


def test_ticks_of_all_partners_meet_counted_from_where_the_seam_begins() -> None:
    told: list[tuple[str, str, str, int]] = []
    for path in SPECS:
        for build in builds_of(path):
            told += ((build.code, *miss) for miss in misses(build))
    assert len(told) > 150
    assert [one for one in told if one[3] % 10] == []
