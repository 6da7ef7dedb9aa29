"""Whether two parts lie in a picture as their section shows them: which side of each looks at the other.

Pictures follow from where parts are placed, sections from what lies on what. Where both tell of the same two parts and
differ, one of them is wrong, and the picture is not drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from itertools import combinations, pairwise, product

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import step_of
from docgen.assemble.apart.heaps import Heap, UnsureError
from docgen.assemble.apart.shifts import shift_heap
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy, Fastened, Run, Sewn
from docgen.assemble.piles import pile_post, pile_run, pile_seam
from docgen.assemble.plies import Pile, Ply
from docgen.assemble.space.placed import LAYER_MM
from docgen.assemble.space.vectors import Vec, inner, minus, plus
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.resolve import divider_name

NEAR_MM = 3.0  # a part that comes no nearer to a place of a row does not lie there
FLAT, UPRIGHT = 0.9, 0.75  # the cosine between faces that lie on each other, and between a panel and a wall on it
MOST_PLACES = 3  # holes of one part
SHARES = 4  # of a row, between which it is looked at
STANDS_MM = 1.0  # off a panel, at least, the middle of a wall lies
LIFT_MM = 100.0  # farther than layers lie apart
NONE: Vec = (0.0, 0.0, 0.0)
LEAST_ORDERED = 2  # layers, of which either may be the first
LEADS = 0.5  # the cosine between a way and a face that it leads off

Toward = tuple[bool, bool]
"""Of two parts, whether the grain side of each looks at the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a section tells: its layers, the row or the hardware that goes through them, and what it is called."""

    pile: Pile
    title: str
    row: str = ""
    hardware: str = ""
    sides: tuple[Copy, ...] = ()


def hold_agreed(build: Assembled, bodies: Mapping[Copy, Body], heaps: Sequence[Heap], step: int) -> None:
    """UnsureError where a step (from 0) makes a section that shows two of its parts otherwise than they are drawn, or lifts
    one to the other side of what it lies on."""
    ways = dict[Copy, Vec]()
    for heap in heaps:
        ways |= shift_heap(bodies, heap, lambda one: LIFT_MM * (1 + one.rank), LIFT_MM)
    shown = {copy: bodies[copy] for heap in heaps for copy in heap.copies if _is_shown(bodies[copy], heap)}
    joins, parts = _parts_of(build, shown)
    for told in _list_told(build, parts, step) if shown else ():
        for one, other in (*_find_contrary(joins, shown, ways, told), *_find_misplaced(joins, shown, ways, told)):
            raise UnsureError(f'"{one}" and "{other}" would lie otherwise than in the section of "{told.title}"')
    for heap in heaps:
        for crossed in _find_crossed(bodies, heap):
            titles = " and ".join(sorted(build.part_titles[copy.part] for copy in crossed))
            raise UnsureError(f"{titles} would be lifted past each other")


def _parts_of(build: Assembled, copies: Iterable[Copy]) -> tuple[Mapping[str, str], Set[str]]:
    """Of each strip its join; the names of what copies are of, and of the strips of those that are joins."""
    joins, names = build.join_of, {copy.part for copy in copies}
    return joins, names | {piece for piece, join in joins.items() if join in names}


def find_disagreeing(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[tuple[str, str, str]]:
    """Pairs of parts that bodies of the finished article show otherwise than a section, and of what; none of a seam that
    is turned right side out, whose section is of before."""
    turned = {seam.name for seam in build.seams if seam.is_turned}
    joins, parts = _parts_of(build, bodies)
    for told in _list_told(build, parts):
        is_turned = told.row in turned
        found = (
            () if is_turned else (*_find_contrary(joins, bodies, {}, told), *_find_misplaced(joins, bodies, {}, told))
        )
        for one, other in found:
            yield joins.get(one, one), joins.get(other, other), told.title


def _is_shown(body: Body, heap: Heap) -> bool:
    return not body.placed.is_inner or body.copy in heap.new


def _list_told(build: Assembled, parts: Set[str], step: int | None = None) -> Iterator[Told]:
    """The sections of what a step (from 0), or any, sews and sets through several of some parts."""
    made = build.assembly

    def is_of(one: Sewn | Run | Fastened) -> bool:
        return step in (None, step_of(build, one.event)) and len(parts & {*one.stack.parts}) > 1

    for once in filter(is_of, made.sewn):
        for pile in pile_seam(build, once):
            yield Told(pile=pile, title=once.seam, row=once.seam, sides=once.sides)
    for run in (one for one in made.runs if one.kind in ("dividers", "landings") and is_of(one)):
        row = divider_name(run.part) if run.kind == "dividers" else run.line or run.part
        yield Told(pile=pile_run(build, run) or (), title=run.work, row=row)
    for fit in filter(is_of, made.fastened):
        yield Told(pile=pile_post(build, fit) or (), title=fit.hardware, hardware=fit.hardware)


def _find_contrary(
    joins: Mapping[str, str], bodies: Mapping[Copy, Body], ways: Mapping[Copy, Vec], told: Told
) -> Iterator[tuple[str, str]]:
    """Pairs of parts of a section that are drawn otherwise, by their names, as they lie and once they are lifted off each
    other, each by its `ways`; nothing is told of what lies there twice. `joins` tell what a strip is part of."""
    found = [*_list_drawn(joins, bodies, told)]
    for (upper, mine), (lower, its) in combinations(found, 2) if len(found) > 1 else ():
        wanted = _toward(upper, lower)
        if mine[0].copy.part == its[0].copy.part or wanted == (None, None):
            continue
        pairs = [*product(mine, its)]
        if all(_is_contrary(wanted, pairs, lifted, told) for lifted in ({}, *([ways] if ways else []))):
            yield upper.part, lower.part


def _list_drawn(
    joins: Mapping[str, str], bodies: Mapping[Copy, Body], told: Told
) -> Iterator[tuple[Ply, Sequence[Body]]]:
    """The layers of a section that are drawn and lie there once, from the top down, each with the bodies that it may be."""
    counts = Counter(ply.part for ply in told.pile)
    for ply in (ply for ply in told.pile if counts[ply.part] == 1):
        part = joins.get(ply.part, ply.part)
        if drawn := [body for copy, body in bodies.items() if copy.part == part and _is_sewn(told, body)]:
            yield ply, drawn


def _find_misplaced(
    joins: Mapping[str, str], bodies: Mapping[Copy, Body], ways: Mapping[Copy, Vec], told: Told
) -> Iterator[tuple[str, str]]:
    """Pairs of parts of a section of three or more that are drawn in another order at a place of the row, as they are
    lifted off each other: whichever side of them is up, their order is one."""
    found = [(ply.part, drawn[0]) for ply, drawn in _list_drawn(joins, bodies, told) if len(drawn) == 1]
    for _, mine in found if len(found) > LEAST_ORDERED else ():
        for at, band in _places(mine, told):
            offs = [(part, _off_mm(mine, one, at, band, ways)) for part, one in found]
            there = [(part, off) for part, off in offs if off is not None]
            steps = [(one, other, two - off) for (one, off), (other, two) in pairwise(there)]
            for one, other, step in steps:
                if step * (there[-1][1] - there[0][1]) < 0:
                    yield one, other
                    return


def _off_mm(one: Body, other: Body, at: Vec, band: int, ways: Mapping[Copy, Vec]) -> float | None:
    """How far off a flat part, along the way its grain looks, another lies at a place of it, as layers are drawn apart and
    both are lifted; None where it does not lie on that there."""
    face = next((face for face in one.faces if face.band == band), None)
    foot = _foot(other, at)
    if face is None or foot is None or abs(inner(face.grain, foot[2])) <= FLAT:
        return None
    under, beneath, _ = foot
    apart = minus(ways.get(other.copy, NONE), ways.get(one.copy, NONE))
    return inner(plus(minus(other.point(beneath, under), plus(at, one.lifts[band])), apart), face.grain)


def _is_contrary(
    wanted: tuple[bool | None, bool | None], pairs: Sequence[tuple[Body, Body]], lifted: Mapping[Copy, Vec], told: Told
) -> bool:
    seen = {way for mine, its in pairs for way in _list_ways(mine, its, lifted, told)}
    return len(seen) == 1 and any(want not in (None, is_so) for want, is_so in zip(wanted, seen.pop(), strict=True))


def _toward(upper: Ply, lower: Ply) -> tuple[bool | None, bool | None]:
    """Of two layers, the first above the second, whether the grain side of each looks at the other; None where it is not
    told."""
    return upper.grain == "down" if upper.grain else None, lower.grain == "up" if lower.grain else None


def _is_sewn(told: Told, *bodies: Body) -> bool:
    """Whether bodies are of the copies that a seam sews, those of its sides."""
    parts = {side.part for side in told.sides}
    return all(body.copy.part not in parts or body.copy in told.sides for body in bodies)


def _list_ways(one: Body, other: Body, lifted: Mapping[Copy, Vec], told: Told) -> Iterator[Toward]:
    """How two parts look at each other where the row or the hardware of a section goes through both, at places of the one
    that has more flat parts, else of the other."""
    is_one = len(one.placed.surface.bands) >= len(other.placed.surface.bands)
    for mine, its in ((one, other), (other, one)) if is_one else ((other, one), (one, other)):
        apart = minus(lifted.get(its.copy, NONE), lifted.get(mine.copy, NONE))
        ways = [way for at, band in _places(mine, told) if (way := _look(mine, its, at, band, apart)) is not None]
        yield from ways if mine is one else [(way[1], way[0]) for way in ways]
        if ways:
            return


def _places(body: Body, told: Told) -> list[tuple[Vec, int]]:
    """Places on a row, or holes, where no picture lifts them, and the flat parts that they are in."""
    if told.hardware:
        surface, holes = (
            body.placed.surface,
            [hole.at for hole in body.placed.item.holes if hole.takes == told.hardware],
        )
        return [(surface.point(at), surface.band_of(at)) for at in holes[:MOST_PLACES]]
    legs = [line for line in body.lines if line.kind == "stitch" and line.name == told.row]
    picked = [legs[len(legs) * k // SHARES] for k in range(1, SHARES)] if legs else []
    return [(minus(_between(leg.start, leg.end), body.lifts[leg.bands[0]]), leg.bands[0]) for leg in picked]


def _between(start: Vec, end: Vec) -> Vec:
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2, (start[2] + end[2]) / 2


def _look(one: Body, other: Body, at: Vec, band: int, apart: Vec) -> Toward | None:
    """Whether the grain sides of two parts look at each other at a place of the first, as layers are drawn apart and the
    other is lifted off; of a wall on a panel, whose edges are turned out along their row, whether each looks to where the
    other is. None where it is not seen, as where halves of a closed fold lie, of which either may be sewn there."""
    its = _foot(other, at)
    face = next((face for face in one.faces if face.band == band), None)
    if its is None or face is None or _foot(one, at) is None:
        return None
    under, beneath, side = its
    lean = inner(face.grain, side)
    if abs(lean) > FLAT:
        off = plus(minus(other.point(beneath, under), plus(at, one.lifts[band])), apart)
        return (inner(off, face.grain) > 0, inner(off, side) < 0) if abs(inner(off, side)) > LAYER_MM / 2 else None
    if abs(lean) > UPRIGHT:
        return None
    ways = inner(face.grain, _middle(other, under, at)), inner(side, _middle(one, band, at))
    return (ways[0] > 0, ways[1] > 0) if min(map(abs, ways)) > STANDS_MM else None


def _middle(body: Body, band: int, at: Vec) -> Vec:
    """The way from a place to the middle of a flat part."""
    corners = next(face.corners for face in body.faces if face.band == band)
    x, y, z = (sum(axis) / len(corners) for axis in zip(*corners, strict=True))
    return minus(minus((x, y, z), body.lifts[band]), at)


def _foot(body: Body, at: Vec) -> tuple[int, Point, Vec] | None:
    """The flat part of a body that lies nearest to a place, the point of it there and the way its grain looks; None where
    none is near, or two that look against each other, as the halves of a closed fold."""
    surface, box = body.placed.surface, body.placed.item.box
    found: list[tuple[float, int, Point, Vec]] = []
    last = len(surface.bands) - 1
    for face in body.faces:
        band = surface.bands[face.band]
        if (
            0 < face.band < last
            and not -NEAR_MM < inner(minus(at, band.at), band.way) < band.end_mm - band.begin_mm + NEAR_MM
        ):
            continue
        foot, lift_mm = surface.foot(band, at)
        if foot is not None and abs(lift_mm) < NEAR_MM:
            is_across = box.left - NEAR_MM < foot.x < box.right + NEAR_MM
            if is_across and box.bottom - NEAR_MM < foot.y < box.top + NEAR_MM:
                found.append((round(abs(lift_mm), 3), face.band, foot, face.grain))
    if not found:
        return None
    off_mm, nearest, foot, grain = min(found)
    is_shut = any(inner(side, grain) < -FLAT for mm, _, _, side in found if mm < off_mm + LAYER_MM / 2)
    return None if is_shut else (nearest, foot, grain)


def _find_crossed(bodies: Mapping[Copy, Body], heap: Heap) -> Iterator[tuple[Copy, Copy]]:
    """Pairs of which one is lifted off the other to where it is not: of a flat panel, from the side on which a layer or a
    wall lies on it. What is joined to several that are lifted goes on with one of them."""
    for one in heap.moved:
        bonds = [bond for bond in heap.bonds if (bond.one in one.copies) != (bond.other in one.copies)]
        if not all({bond.one, bond.other} & {*heap.base} for bond in bonds):
            continue
        for bond in bonds:
            stays, goes = (bond.other, bond.one) if bond.one in one.copies else (bond.one, bond.other)
            if stays in bodies and goes in bodies:
                ways = ((stays, goes, one.way), (goes, stays, minus((0.0, 0.0, 0.0), one.way)))
                if any(_is_crossed(bodies[panel], bodies[guest], way, bond.seam) for panel, guest, way in ways):
                    yield stays, goes


def _is_crossed(panel: Body, guest: Body, way: Vec, seam: str) -> bool:
    out = panel.placed.out(0)
    leads = inner(way, out)
    is_inner = panel.placed.is_inner and guest.placed.is_inner
    if is_inner or len(panel.placed.surface.bands) > 1 or abs(leads) < LEADS:
        return False
    places = _places(guest, Told(pile=(), title=seam, row=seam)) if seam else [*_middles(guest)]
    sides = {side > 0 for at, band in places if (side := _side_of(panel, guest, at, band, out))}
    return len(sides) == 1 and sides.pop() != (leads > 0)


def side_of_host(guest: Body, host: Body) -> Iterator[float]:
    """On which side of another each flat part of one lies, where it lies on it: the outer one for more than nothing."""
    for at, band in _middles(guest):
        under = _foot(host, at)
        if under is not None:
            off = minus(plus(at, guest.lifts[band]), host.point(under[1], under[0]))
            off_mm = inner(off, host.placed.out(under[0]))
            yield from (off_mm,) if abs(off_mm) > LAYER_MM / 2 else ()


def _middles(body: Body) -> Iterator[tuple[Vec, int]]:
    for face in body.faces:
        x, y, z = (sum(axis) / len(face.corners) for axis in zip(*face.corners, strict=True))
        yield minus((x, y, z), body.lifts[face.band]), face.band


def _side_of(panel: Body, guest: Body, at: Vec, band: int, out: Vec) -> float:
    """On which side of a panel a part lies at a place of it: the outer one for more than nothing, the inner one for less;
    nothing where that is not seen, or of what is folded and stands there, as piping does, which turns either way."""
    under = _foot(panel, at)
    face = next((face for face in guest.faces if face.band == band), None)
    if under is None or face is None:
        return 0.0
    lean = abs(inner(under[2], face.grain))
    if lean > FLAT:
        off_mm = inner(minus(plus(at, guest.lifts[band]), panel.point(under[1], under[0])), out)
        return off_mm if abs(off_mm) > LAYER_MM / 2 else 0.0
    is_wall = lean < UPRIGHT and not guest.placed.item.folds
    off_mm = inner(_middle(guest, band, at), out) if is_wall else 0.0
    return off_mm if abs(off_mm) > STANDS_MM else 0.0
