"""Snaps: which half a hole takes, and which parts have the other one."""

from __future__ import annotations

import math

from docgen.assemble.assembly import Half
from docgen.assemble.goods import Goods
from docgen.assemble.sewn_round import is_doubled
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, subtract, unit
from docgen.resolve import Hole, Piece
from docgen.tables.hardware import half_of_snap

SNAP = "snap"
FOLD_MM = 5.0  # beyond a fold, where rows that end at it may still lie


def other_halves(goods: Goods, hardware: str, part: str, hole: Hole) -> list[str]:
    """The parts with the other half of a snap, by the hole of one: not a lining of its own part, which its post goes
    through; none where both halves are hardware of their own."""
    halves = {item.name: half_of_snap(item.what) for item in goods.build.hardware if item.kind == SNAP}
    if halves.get(hardware) and {*halves.values()} >= {"cap", "stud"}:
        return []
    return [name for name in hole.through if not (goods.covers(name, part) or is_doubled(goods, name, part))]


def find_half(goods: Goods, hardware: str, part: str, hole: Hole) -> Half:
    """A snap's cap is in the part whose hole names the other, else in that one of two which bends over with it, as a strap
    does that closes on a piece; else the later of two parts in the spec has the stud, and of two holes in one part that
    take one snap the one that is not in its flap, else the second. A lining has its holes for what its part takes."""
    if other_halves(goods, hardware, part, hole):
        return "cap"
    having = [piece for piece in goods.cut.values() if any(hole.takes == hardware for hole in piece.marks.holes)]
    others = [
        piece
        for piece in having
        if not any(goods.covers(piece.name, host.name) or is_doubled(goods, piece.name, host.name) for host in having)
    ]
    if any(part in hole.through for piece in others for hole in piece.marks.holes if hole.takes == hardware):
        return "stud"
    if len(others) < 2:
        return _half_of_pair(goods, hardware, part, hole)
    straps = [piece for piece in others if piece.is_strap]
    flaps = straps or [
        piece for piece in others if any(_is_on_flap(goods, piece, one, hardware) for one in piece.marks.holes)
    ]
    outer = flaps[0] if len(flaps) == 1 else others[0]
    return "cap" if part == outer.name else "stud"


def _is_on_flap(goods: Goods, piece: Piece, hole: Hole, hardware: str) -> bool:
    """Whether a hole for it lies beyond an open fold, where the piece is sewn to its lining alone, or to what it lines. A
    lining of one shape with that bends as it does."""
    if hole.takes != hardware:
        return False
    lined = [one for one in goods.pieces.values() if one.model == piece.model and goods.covers(piece.name, one.name)]
    rows = next((rows for one in (piece, *lined) if (rows := _joining_rows(goods, one))), [])
    folds = next((one.marks.folds for one in (piece, *lined) if one.marks.folds), ())
    for fold in (fold for fold in folds if fold.is_open and not fold.of_hem):
        along = unit(subtract(fold.end, fold.start))
        side = math.copysign(1.0, cross(along, subtract(hole.at, fold.start)))
        if rows and all(side * cross(along, subtract(at, fold.start)) <= FOLD_MM for at in rows):
            return True
    return False


def _joining_rows(goods: Goods, piece: Piece) -> list[Point]:
    """Points on the rows by which a piece is sewn to anything but its linings and what it lines, or edge on edge to
    itself, as a body is that is folded up to a pouch."""
    own = {piece.name, *(one for one in goods.counts if goods.covers(one, piece.name) or goods.covers(piece.name, one))}
    joining = {
        seam.name
        for seam in goods.seams.values()
        if not seam.parts <= own or [side.part for side in seam.sides if side.edges].count(piece.name) > 1
    }
    return [at for line in piece.marks.stitch_lines if line.seam in joining for at in flatten(line.path)]


def _half_of_pair(goods: Goods, hardware: str, part: str, hole: Hole) -> Half:
    """The half of a snap that closes one part on itself: there are two holes for each that is counted. The caps are in its
    flap, where one half of the holes are, else each has the first of its two holes."""
    piece = goods.cut[part]
    holes = [hole for hole in piece.marks.holes if hole.takes == hardware]
    count = next(item.count for item in goods.build.hardware if item.name == hardware)
    if len(holes) * piece.cut != 2 * count or hole not in holes:
        return ""
    on_flap = [_is_on_flap(goods, piece, one, hardware) for one in holes]
    if 2 * sum(on_flap) == len(holes):
        return "cap" if on_flap[holes.index(hole)] else "stud"
    return "stud" if holes.index(hole) % 2 else "cap"
