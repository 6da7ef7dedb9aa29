"""Which way the halves of a snap look: a cap is seen on the outer side of its part, its socket behind it; the stud looks to
the socket that closes on it. Common practice, no published source."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Literal, NamedTuple

from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Fastened, Half
from docgen.assemble.halves import SNAP
from docgen.assemble.space import Metal, inner
from docgen.assemble.space.straps import CLOSES_MM
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, distance, dot, scale, subtract, unit
from docgen.resolve import Fold, by_name
from docgen.tables.hardware import half_of_snap
from docgen.tables.sewing import HOLES_MEET_MM

LEAST_TURN = 0.1  # sine of the least angle at which two folds cross: our choice

Looks = Literal["out", "in", ""]


class SnapHalf(NamedTuple):
    """A half of a snap: which, the part with the other one ("" where several have it), and on which side of its own part it
    looks, the cap with its head; "" where that does not follow."""

    half: Half
    other: str
    looks: Looks


def find_snap_half(build: Assembled, fit: Fastened) -> SnapHalf | None:
    """The half of a snap that is set in a part; None for what is no half, or has none to close on. Of one that closes the
    turned end of a strap both are in that: its cap looks out, its stud to what lies back."""
    if fit.around and fit.half:
        return SnapHalf(fit.half, fit.part, "out" if fit.half == "cap" else "in")
    own = _half(build, fit)
    others = [
        one for one in build.assembly.fastened if _half(build, one) not in ("", own) and _is_pair(build, fit, one)
    ]
    if not own or not others:
        return None
    other = others[0].part if len({one.part for one in others}) == 1 else ""
    looks: Looks = "out" if own == "cap" or _is_strapped(build, others) else _looks(build, fit, others)
    return SnapHalf(own, other, looks)


def _half(build: Assembled, fit: Fastened) -> Half:
    item = by_name(build.hardware).get(fit.hardware)
    return (fit.half or half_of_snap(item.what)) if item is not None and item.kind == SNAP else ""


def _is_pair(build: Assembled, one: Fastened, other: Fastened) -> bool:
    """Whether two halves are of one snap, or each the only one of its kind that is hardware of its own."""
    halves = {item.name: half_of_snap(item.what) for item in build.hardware if item.kind == SNAP}
    own = {name: half for name, half in halves.items() if half}
    is_halved = len(own) == 2 and {*own.values()} == {"cap", "stud"}
    return one.hardware == other.hardware or (is_halved and {one.hardware, other.hardware} == {*own})


def _is_strapped(build: Assembled, caps: Sequence[Fastened]) -> bool:
    """Whether caps are in straps, which close over the outer side of what they close on."""
    return {one.part for one in caps} <= {strap.name for strap in build.straps}


def _looks(build: Assembled, fit: Fastened, caps: Sequence[Fastened]) -> Looks:
    """On which side of its part a stud looks: as the caps do that close on it; nothing where none lies there."""
    metal = [one for one in build.space.metal if one.part not in build.space.doubtful]
    own, closing = (fit.hardware, fit.part), {(one.hardware, one.part) for one in caps}
    studs = [one for one in metal if (one.hardware, one.part.part) == own and one.half != "cap"]
    there = [one for one in metal if (one.hardware, one.part.part) in closing and one.half != "stud"]
    ways = {_way(stud, cap) for stud in studs for cap in there if math.dist(stud.at, cap.at) < CLOSES_MM}
    return ways.pop() if len(ways) == 1 else "" if ways else _pinched(build, fit, caps)


def _pinched(build: Assembled, fit: Fastened, caps: Sequence[Fastened]) -> Looks:
    """Of studs that close on caps of their own part where two of its folds cross, as at the corners of a tray: the corner
    folds between both, and so the stud looks to the side on which the sockets are."""
    piece = by_name(build.pieces).get(fit.part)
    if piece is None or {one.part for one in caps} != {fit.part}:
        return ""
    closing = {place for one in caps for place in one.places}
    studs = [hole.at for hole in piece.marks.holes if hole.place in fit.places]
    heads = [hole.at for hole in piece.marks.holes if hole.place in closing]
    mirrors = [it for one, other in combinations(piece.own_folds, 2) for it in _list_mirrors(one, other)]
    met = [any(distance(_mirrored(at, it), head) <= HOLES_MEET_MM for it in mirrors for head in heads) for at in studs]
    return "in" if met and all(met) else ""


def _list_mirrors(one: Fold, other: Fold) -> list[tuple[Point, Point]]:
    """The two lines, each a point and its way, that halve the angles of folds which cross; none of folds that do not."""
    ways = [unit(subtract(fold.end, fold.start)) for fold in (one, other)]
    turn = cross(*ways)
    if abs(turn) < LEAST_TURN:
        return []
    at = add(one.start, scale(ways[0], cross(subtract(other.start, one.start), ways[1]) / turn))
    return [(at, unit(add(*ways))), (at, unit(subtract(*ways)))]


def _mirrored(at: Point, mirror: tuple[Point, Point]) -> Point:
    foot = add(mirror[0], scale(mirror[1], dot(subtract(at, mirror[0]), mirror[1])))
    return subtract(scale(foot, 2.0), at)


def _way(stud: Metal, cap: Metal) -> Looks:
    return "out" if inner(stud.axis, cap.axis) > 0 else "in"
