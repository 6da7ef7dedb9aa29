"""The finished article: what of it is drawn closed, what open, and what not, as parts that cannot lie as they would be
drawn, which are told."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from docgen.assemble.apart.agreed import find_disagreeing, side_of_host
from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.boxes import find_boxes
from docgen.assemble.apart.flap_down import lay_flaps_down
from docgen.assemble.apart.laid_flat import band_under, carry_guests, depth_of, unfold
from docgen.assemble.apart.straight import straighten
from docgen.assemble.apart.two_ways import list_flat_alone
from docgen.assemble.apart.unsure import closes_on, find_crossing, has_rival_leaves, is_left_straight
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.over_edges import is_across
from docgen.assemble.space.over_the_edge import NEAR_MM, WITHIN_MM
from docgen.assemble.space.placed import ALIKE, LAYER_MM
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, inner, times
from docgen.classes import dataclass
from docgen.geometry.crossing import leg_distance
from docgen.geometry.outline import outline_box

SAME_MM = 2 * LAYER_MM  # corners of copies of one part, which lie nearer, lie in one place
IN_ONE_PLACE = "two of it would lie in one place"
OTHERWISE = 'it would lie otherwise than in the section of "{}"'
SCANTY = "the finished article: less than half of its pieces can be drawn"
LEAST_DRAWN = 0.5  # of the area of its outer pieces
BEHIND_MM = 6.0  # what comes down nearer is folded round the edge of its host: our choice
BEHIND = (
    'laid inside "{}" it comes down behind that, in the air: write the seam that sews its end on, or lay it outside'
)
THROUGH = (
    'it would go through "{}", well within the edge of that: write the at of its fold so that it bends at the edge'
)
OTHER_SIDE = 'it would lie on the other side of "{}"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """The bodies as they are drawn; what of them is `opened` though it closes, or straight though it bends; those that are
    `gone`, of which it is told otherwise of what is `wrong`."""

    bodies: Mapping[Copy, Body]
    opened: tuple[Copy, ...]
    gone: tuple[Copy, ...]
    wrong: Mapping[Copy, str]


def finish(build: Assembled, bodies: Mapping[Copy, Body], metal: Sequence[Metal]) -> Finished:
    """What goes through other parts as it is placed, flaps and straps first, is drawn straight on where it is free then,
    else left out."""
    closers = {item.name for item in build.hardware if item.kind in ("snap", "other")}
    found, bad = {**bodies}, list_flat_alone(bodies.values(), build.space.darted)
    if build.space.kind == "lying":
        found = lay_flaps_down(found, [one for one in metal if one.hardware in closers])
    opened = [copy for copy, body in bodies.items() if _is_loose(build, body)]
    found = straighten(found, opened)
    straight = [copy for copy, body in bodies.items() if is_left_straight(build, body)]
    rivals = [copy for copy, body in bodies.items() if body.placed.host is None and has_rival_leaves(body.placed)]
    if rivals:
        opened, found = [*opened, *rivals], unfold(found)
    crossing = [*find_crossing(_outer(found))]
    if straps := _list_straps(found, crossing, opened):
        opened += straps
        crossing = [*find_crossing(_outer(straighten(found, opened)))]
    for one, other in crossing:
        loose = [copy for copy in (one, other) if found[copy].placed.is_free] or [one, other]
        opened += [] if {*opened} & {*loose} else loose
    found = carry_guests(bodies, straighten(found, opened), build.space.hung)
    bad += {copy for pair in find_crossing(_outer(found)) for copy in pair if copy in opened} if opened else ()
    wrong = find_wrong(build, {copy: body for copy, body in found.items() if copy not in bad})
    gone = (*bad, *wrong)
    return Finished(
        bodies={copy: body for copy, body in found.items() if copy not in gone},
        opened=tuple(copy for copy in (*opened, *straight) if copy not in gone),
        gone=gone,
        wrong=wrong,
    )


def _outer(bodies: Mapping[Copy, Body]) -> list[Body]:
    return [body for body in bodies.values() if not body.placed.is_inner]


def _list_straps(
    bodies: Mapping[Copy, Body], crossing: Iterable[tuple[Copy, Copy]], opened: Container[Copy]
) -> list[Copy]:
    """The straps that go through what is none, and is not opened: how they arch is our choice, and opens no flap."""
    found = list[Copy]()
    for pair in crossing:
        straps = [copy for copy in pair if bodies[copy].is_strap and bodies[copy].placed.is_free]
        if len(straps) == 1 and not any(copy in opened for copy in pair):
            found += straps
    return [*dict.fromkeys(found)]


def is_scanty(build: Assembled, drawn: Container[Copy]) -> bool:
    """Whether so much of the outer pieces is not drawn that the rest is not the article, as a panel without its bag.
    Linings and straps do not count, and boxes that are drawn by themselves are all of it."""
    if find_boxes(build):
        return False
    joins, hidden = build.join_of, {one.copy for one in build.space.parts if one.is_inner}
    hidden |= {lies.copy for lies in build.assembly.lies if lies.is_behind}
    areas_mm2 = {join.name: join.width_mm * join.length_mm for join in build.joins}
    for piece in (piece for piece in build.pieces if piece.name not in joins):
        box = outline_box(piece.outline)
        areas_mm2[piece.name] = 0.0 if piece.lines else box.width * box.height
    outer = [copy for copy in build.assembly.copies if copy.part in areas_mm2 and copy not in hidden]
    whole_mm2 = sum(areas_mm2[copy.part] for copy in outer)
    return sum(areas_mm2[copy.part] for copy in outer if copy in drawn) < LEAST_DRAWN * whole_mm2


def _is_loose(build: Assembled, body: Body) -> bool:
    """Whether a strap is held at one end alone, and comes to nothing that its other end would close on."""
    return body.placed.how == "leads from" and body.is_bent and not closes_on(build, body.placed)


def find_wrong(build: Assembled, bodies: Mapping[Copy, Body]) -> dict[Copy, str]:
    """Outer copies that cannot lie as they are drawn, each with the reason: of two that do not agree that which was placed
    last. What lies on them goes with them."""
    outer = {copy: body for copy, body in bodies.items() if not body.placed.is_inner}
    found = {copy: IN_ONE_PLACE for pair in _find_in_one_place(build, outer) for copy in pair}
    for copy, host in _find_on_other_side(build, outer):
        found.setdefault(copy, OTHER_SIDE.format(host.part))
    found |= {copy: BEHIND.format(host.part) for copy, host in _find_hung_behind(outer)}
    for copy, host in _find_bent_through(outer):
        found.setdefault(copy, THROUGH.format(host.part))
    order = {copy: number for number, copy in enumerate(build.space.order)}
    for one, other, title in find_disagreeing(build, outer):
        pair = [copy for copy in outer if copy.part in (one, other)]
        last = max(pair, key=lambda copy: (order.get(copy, len(order)), copy))
        found |= {copy: OTHERWISE.format(title) for copy in pair if copy.part == last.part and copy not in found}
    for copy in sorted(bodies, key=lambda copy: depth_of(bodies, copy)) if found else ():
        under = bodies[copy].placed.host
        if under in found:
            found.setdefault(copy, found[under])
    return found


def _find_hung_behind(bodies: Mapping[Copy, Body]) -> Iterator[tuple[Copy, Copy]]:
    """Parts laid inside that bend over the edge of their host and hang down behind it in the air, each with the host."""
    for copy, body in bodies.items():
        placed, host = body.placed, bodies.get(body.placed.host) if body.placed.host is not None else None
        if host is None or placed.how != "lies on" or placed.level >= 0:
            continue
        home = placed.surface.band_of(placed.anchor)
        is_inward = inner(placed.out(home), host.placed.out(band_under(host.placed, placed))) < 0
        if is_inward and is_across(placed, home, BEHIND_MM):
            yield copy, host.copy


def _find_bent_through(bodies: Mapping[Copy, Body]) -> Iterator[tuple[Copy, Copy]]:
    """Flaps that bend by an open fold well within the face of a part, on whose outer side they lie, to its inner side."""
    for body in bodies.values():
        placed = body.placed
        if body.is_strap or placed.how != "lies on" or not placed.is_free:
            continue
        for bend in range(len(placed.surface.bands) - 1):
            folds = [fold for fold in placed.folds_at(bend) if fold.is_open]
            for lain, through in ((bend, bend + 1), (bend + 1, bend)) if folds else ():
                at = placed.surface.point(folds[0].middle, lain)
                way = times(placed.surface.bands[through].way, 1.0 if through > lain else -1.0)
                others = (one for one in bodies.values() if one is not body)
                for other in (one for one in others if placed.level > 0 or one.copy != placed.host):
                    if _is_through(other, at, placed.out(lain), way):
                        yield body.copy, other.copy


def _is_through(body: Body, at: Vec, out: Vec, way: Vec) -> bool:
    """Whether a place lies well inside a face that looks the way `out`, and a way leads from there behind it."""
    placed = body.placed
    for k, band in enumerate(placed.surface.bands):
        face = placed.out(k)
        if inner(face, out) < ALIKE or inner(face, way) > -ALIKE:
            continue
        foot, off_mm = placed.surface.foot(band, at)
        if foot is not None and abs(off_mm) < NEAR_MM and is_in_ring(placed.ring, foot):
            corners = pairwise((*placed.ring, placed.ring[0]))
            return min(leg_distance(leg, foot) for leg in corners) >= WITHIN_MM
    return False


def _find_in_one_place(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[tuple[Copy, Copy]]:
    """Copies of one part that lie in one place, and nothing lays the one on the other."""
    laid = {frozenset((lies.copy, lies.host)) for lies in build.assembly.lies}
    for one, other in combinations(bodies.values(), 2):
        pair = frozenset((one.copy, other.copy))
        if one.copy.part != other.copy.part or len(one.faces) != len(other.faces) or pair in laid:
            continue
        if not any(pair <= {*once.sides} for once in build.assembly.sewn) and _is_in_one_place(one, other):
            yield one.copy, other.copy


def _is_in_one_place(one: Body, other: Body) -> bool:
    pairs = (
        (at, to)
        for mine, its in zip(one.faces, other.faces, strict=True)
        for at, to in zip(mine.corners, its.corners, strict=False)
    )
    return all(math.dist(at, to) < SAME_MM for at, to in pairs)


def _find_on_other_side(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[tuple[Copy, Copy]]:
    """Parts with a landing that lie on the side of their host on which that is not, each with the host."""
    for lies in build.assembly.lies:
        guest, host = bodies.get(lies.copy), bodies.get(lies.host)
        if guest is not None and host is not None and not lies.is_behind:
            sides = {side > 0 for side in side_of_host(guest, host)}
            if sides == {lies.is_inside}:
                yield guest.copy, host.copy
