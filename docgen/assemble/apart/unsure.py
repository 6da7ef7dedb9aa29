"""Placed parts that a picture leaves out, since they may lie otherwise: on the other side, open, or not where they fit."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import chain, pairwise, permutations

from docgen.assemble.apart.bodies import Body, BodyFace
from docgen.assemble.apart.two_ways import DARTED, folds_two_ways
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.fold_ways import folds_either_way
from docgen.assemble.space.placed import FACES_UNTOLD, FOLDS_TWO_WAYS, LAYER_MM, LINE_UNTOLD, Placed, Space
from docgen.assemble.space.scene import rooms_meet
from docgen.assemble.space.spread import TURNED_BACK, find_sewn_leaves
from docgen.assemble.space.straps import CLOSES_MM, list_closings
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, along, inner, minus
from docgen.geometry.crossing import leg_distance
from docgen.geometry.shapes import Point
from docgen.resolve import Hardware, Seam, by_name
from docgen.tables.sewing import EDGES_APART_MM

BEYOND_MM = 40.0  # from the middle of what lies fast of a strap
BEHIND_MM = 0.5  # what is farther behind a side lies behind it
OFF_MM = 2.5  # what reaches no farther beyond a face lies on it
THROUGH_MM = 6.0  # an edge that goes on so far on both sides of a part goes through it
FOLD_UNTOLD = "nothing says which of its sides lies inside its fold"
SNAP_APART = "its snap does not come to lie on the other half"
SNAP_AWAY = (
    "its snap looks away from the other half: a flap that closes over its outer side has inside written at its fold"
)
SEWN_BESIDE = "its seam lies beside the part that it is sewn flat on"
PLEATED = "it lies narrower in its pleats than it is cut, and is drawn flat alone"
CREASED_IN = "its flanges are creased inward, and it is drawn with its edges outside alone"
SHUT_IN = "it lies folded between the parts that it joins"
HELD = "held by what is not drawn"
LAYER_UNTOLD = 'nothing says which of "{}" and "{}" lies outside: write lines in the one that is a lining'
CLOSERS = ("snap", "other")
CLASPS = ("snap", "magnet", "lock", "clasp")
LIES_BACK = 0.99  # the cosine between what looks to opposite sides
INSIDE_MM = 3.0  # from the outline of that part, where it does


def find_unsure(build: Assembled, lifted: Space) -> dict[Copy, str]:
    """Copies that may lie otherwise than they are placed, each with the reason; `lifted` tells them apart in layers."""
    space = build.space
    found = dict.fromkeys(space.doubtful, "its place is in doubt")
    landed = {lies.copy for lies in build.assembly.lies}
    for placed in space.parts:
        if placed.how == "lies on" and placed.is_free and placed.copy not in landed:
            found.setdefault(placed.copy, LINE_UNTOLD)
        if space.kind != "lying" and folds_two_ways(placed):
            found.setdefault(placed.copy, FOLDS_TWO_WAYS)
        if placed.copy in space.darted and len(placed.surface.bands) > 1:
            found.setdefault(placed.copy, DARTED)
        if _is_shut_gusset(build, placed):
            found.setdefault(placed.copy, SHUT_IN)
        if placed.is_creased_in:
            found.setdefault(placed.copy, CREASED_IN)
        if folds_either_way(build, placed):
            found.setdefault(placed.copy, FOLD_UNTOLD)
        if _is_laid_on_its_back(space, placed):
            found.setdefault(placed.copy, FACES_UNTOLD)
        if (host := space.faced_by(placed)) is not None:
            found.update(dict.fromkeys((placed.copy, host.copy), FACES_UNTOLD))
    pleated = {piece.name for piece in build.pieces if piece.is_pleated}
    for copy in _sewn_beside(build):
        found.setdefault(copy, PLEATED if copy.part in pleated else SEWN_BESIDE)
    for copy in (*_sewn_apart(space), *_hinged_apart(build)):
        found.setdefault(copy, "its seams do not come together as it is placed")
    for copy, why in _open_snaps(build, lifted):
        found.setdefault(copy, _tell_layer(build, copy) or why)
    for placed in space.parts:  # hosts come before what lies on them
        if placed.host in found:
            found.setdefault(placed.copy, HELD)
    return found


def _is_shut_gusset(build: Assembled, placed: Placed) -> bool:
    """Whether a part lies folded flat between two that a seam each sews to its edges, as the gusset of a wallet does: all
    the more hidden is which of the layers beside it lies where."""
    if placed.how != "folds between" or inner(placed.out(0), placed.out(len(placed.surface.bands) - 1)) > -LIES_BACK:
        return False
    mates = [seam.parts - {placed.copy.part} for seam in build.seams if placed.copy.part in seam.parts]
    return len(mates) > 1 and len(frozenset().union(*mates)) > 1


def _sewn_beside(build: Assembled) -> Iterator[Copy]:
    """Copies with a run that does not lie on the part beneath it, and that do not go over the edge of that."""
    seams = by_name(build.seams)
    for gap in build.space.gaps:
        is_flat = any(side.part == gap.other.part and not side.edges for side in seams[gap.seam].sides)
        placed = build.space.part(gap.one)
        if is_flat and gap.apart_mm > OFF_MM and placed is not None and placed.host == gap.other and not placed.is_free:
            yield gap.one


def _sewn_apart(space: Space) -> Iterator[Copy]:
    """Copies with a run that lies farther off that of another than leather gives, where one of them may turn about a line,
    so that nothing is said against the edges: of the two that which was placed last."""
    order = {copy: number for number, copy in enumerate(space.order)}
    for gap in space.gaps:
        if gap.over_mm > EDGES_APART_MM and gap.one != gap.other:
            yield max(gap.one, gap.other, key=lambda copy: order.get(copy, 0))


def _hinged_apart(build: Assembled) -> Iterator[Copy]:
    """Copies that one straight edge alone holds where they stand, where a third part, as a gusset, is sewn to both and does
    not come to the other: how far such a part is turned about that edge is not known."""
    space = build.space
    gaps = [gap for gap in space.gaps if gap.over_mm > EDGES_APART_MM and gap.one != gap.other]
    for one, other in chain.from_iterable(((gap.one, gap.other), (gap.other, gap.one)) for gap in gaps):
        third = space.part(one)
        pair = [space.part(copy) for copy in (other, third.host if third else None) if copy is not None]
        for placed, host in permutations(pair) if len(pair) == 2 else ():
            if placed and host and placed.how == "stands on" and placed.host == host.copy and _is_hinged(build, placed):
                yield placed.copy


def _is_hinged(build: Assembled, placed: Placed) -> bool:
    """Whether one seam, by one edge of each, holds a part on the one where it stands."""
    both = {placed.copy.part, placed.host.part} if placed.host else {placed.copy.part}
    held = [seam for seam in build.seams if both <= seam.parts]
    return len(held) == 1 and all(len(side.edges) == 1 for side in held[0].sides if side.part in both)


def _is_laid_on_its_back(space: Space, placed: Placed) -> bool:
    """Whether a part lies on a lining that fits only with its drawn side to what it lines: left and right of the one are
    not those of the other."""
    host = space.part(placed.host) if placed.host and not placed.is_inner else None
    return host is not None and host.how == "lies behind" and host.is_grain_out != host.item.is_grain_out


def closes_on(build: Assembled, placed: Placed) -> bool:
    """Whether a strap that goes round something comes to what it closes on: with a hole beyond where it is held to a stud,
    a snap or a buckle, or with its own buckle or hook to what goes into that."""
    space, own = build.space, placed.copy
    spots = [placed.surface.point(at) for at in list_free_holes(placed)]
    metal = [one for one in space.metal if one.part != own]
    there = list_closings(build.hardware, (one for one in space.parts if one.copy != own), metal)
    mine = [one.far for one in space.metal if one.part == own and one.shape != "cap"]
    rings = [one.far for one in metal if one.shape != "cap"]
    is_met = any(math.dist(at, to) < CLOSES_MM for at in spots for to in there)
    is_hooked = any(math.dist(at, to) < CLOSES_MM for at in mine for to in rings)
    return is_met or is_hooked or any(meeting.host == own for meeting in space.buckled)


def list_free_holes(placed: Placed) -> list[Point]:
    """The holes of a strap beyond where it is held: by a bend, or so far away that they are not for its rivets."""
    surface, held = placed.surface, placed.surface.measure(placed.anchor)[0]
    home = surface.band_at(held)
    reach = [(hole.at, surface.measure(hole.at)[0]) for hole in placed.item.holes]
    return [at for at, mm in reach if surface.band_at(mm) != home or abs(mm - held) > BEYOND_MM]


def has_rival_leaves(placed: Placed) -> bool:
    """Whether ends of a part that are folded over from both sides lie over each other, and nothing says which is on top:
    one that is sewn to the middle, as the front of a pouch is, lies under the other, its flap."""
    surface = placed.surface
    outs = [placed.out(k) for k in range(len(surface.bands))]
    closed = [k for k in range(len(outs) - 1) if inner(outs[k], outs[k + 1]) < TURNED_BACK]
    if len(closed) != 2 or closed[1] != closed[0] + 1:
        return False
    reach = [surface.measure(at)[0] for at in placed.ring]
    ends = closed[0], closed[1] + 1
    sewn = [end for end in ends if end in find_sewn_leaves(placed, closed[1])]
    if len(sewn) == 1 and surface.band_of(placed.anchor) in (sewn[0], closed[1]):
        return False
    first, middle, last = (surface.bands[k] for k in (closed[0], closed[1], closed[1] + 1))
    ends_mm = (first.end_mm - min(reach)) + (max(reach) - last.begin_mm)
    return ends_mm > middle.end_mm - middle.begin_mm + OFF_MM


def _open_snaps(build: Assembled, lifted: Space) -> Iterator[tuple[Copy, str]]:
    """Parts with a snap of which the other half is in another part, and lies elsewhere; and those of which both halves look
    away from each other, so that neither part comes to lie on the other; each with that as the reason. Halves may be of one
    name, or each of its own."""
    snaps = sorted(item.name for item in build.hardware if item.kind == "snap" or _is_clasp(item))
    alone = {one.hardware: one.part for one in build.assembly.fastened if one.hardware in snaps and not one.half}
    for name in snaps:
        halves = {
            half: {one.part for one in build.assembly.fastened if one.hardware == name and one.half == half}
            for half in ("cap", "stud")
        }
        for cap, (far_mm, is_off) in _nearest(lifted, halves["cap"], name, halves["stud"], name):
            if (far_mm > CLOSES_MM or is_off) and not _leads_on(lifted, cap):
                yield cap, SNAP_APART
    straps = {placed.copy.part for placed in lifted.parts if _leads_on(lifted, placed.copy)}
    for one, other in permutations(alone, 2) if straps.isdisjoint(alone.values()) else ():
        for copy, (_, is_off) in _nearest(lifted, {alone[one]}, one, {alone[other]}, other) if len(alone) == 2 else ():
            if is_off:
                yield copy, SNAP_AWAY


def _tell_layer(build: Assembled, copy: Copy) -> str:
    """Why it is not known on which side the half of a snap in a part looks out: that part, or one that holds it, and
    another of its size are sewn to the same wall, and neither is said to line the other; else nothing."""
    space, own = build.space, build.space.part(copy)
    while own is not None:
        for one in space.parts:
            if one.how == "back to back" and one.host is not None and own.copy in (one.copy, one.host):
                names = one.host.part, one.copy.part
                host = space.part(one.host)
                walled = any({*names} < seam.parts and not _lies_between(build, seam, one) for seam in build.seams)
                if walled and host is not None and _are_alike(one, host):
                    return LAYER_UNTOLD.format(*sorted(names))
        own = space.part(own.host) if own.host else None
    return ""


def _lies_between(build: Assembled, seam: Seam, one: Placed) -> bool:
    """Whether all that a seam sews besides two parts that lie back to back lies flat on either, as a welt does."""
    both = {one.copy, one.host}
    others = [placed for placed in build.space.parts if placed.copy.part in seam.parts and placed.copy not in both]
    return all(placed.how == "lies on" and placed.host in both for placed in others)


def _are_alike(one: Placed, other: Placed) -> bool:
    """Whether two parts are of one size, and neither a lining."""
    box, its = one.item.box, other.item.box
    alike = max(abs(box.width - its.width), abs(box.height - its.height)) < OFF_MM
    return alike and not (one.is_inner or other.is_inner)


def _is_clasp(item: Hardware) -> bool:
    """Whether hardware of no kind of its own is called as what closes by two halves is."""
    return item.kind == "other" and any(word in item.what.lower() for word in CLASPS)


def _leads_on(space: Space, copy: Copy) -> bool:
    """Whether it is a strap that leads on from where it is held: where it comes to nothing it is drawn open, and told."""
    placed = space.part(copy)
    return placed is not None and placed.how == "leads from"


def _nearest(
    lifted: Space, parts: Collection[str], name: str, others: Collection[str], its: str
) -> Iterator[tuple[Copy, tuple[float, bool]]]:
    """Copies of some parts with how far a hole of theirs is from the nearest of other parts at least, and whether each of
    the two is behind the outer side of the other."""
    for placed in (placed for placed in lifted.parts if placed.copy.part in parts):
        there = [
            hole
            for other in lifted.parts
            if other.copy.part in others and other.copy.part != placed.copy.part
            for hole in _holes(other, its)
        ]
        pairs = ((math.dist(at, to), at, way, to, out) for at, way in _holes(placed, name) for to, out in there)
        nearest = min(pairs, default=None)
        if nearest is not None:
            far_mm, at, way, to, out = nearest
            apart = minus(to, at)
            yield placed.copy, (far_mm, max(inner(apart, way), -inner(apart, out)) < -BEHIND_MM)


def _holes(placed: Placed, hardware: str) -> list[tuple[Vec, Vec]]:
    """Holes for some hardware, as they are drawn, of a lining those of what it lines, each with the way that the outer side
    of the part looks there."""
    found = []
    for hole in placed.item.holes:
        if hole.takes == hardware:
            band = placed.surface.band_of(hole.at)
            at, layer_mm = placed.surface.point(hole.at, band), 0.0 if placed.is_inner else LAYER_MM
            found.append((along(at, placed.lifts[band], layer_mm), placed.out(band)))
    return found


def find_crossing(bodies: Sequence[Body]) -> Iterator[tuple[Copy, Copy]]:
    """Pairs of parts that go through each other as they are drawn; not of a strap where it lies next to its host, through
    which the other reaches no farther than leather gives."""
    boxes = {body.copy: [_box(face) for face in body.faces] for body in bodies}
    placed = {body.copy: body.placed for body in bodies}
    for k, one in enumerate(bodies):
        for other in bodies[k + 1 :]:
            if other.placed.host == one.copy or one.placed.host == other.copy:
                continue
            hosts = [placed[body.placed.host] for body in (one, other) if body.is_strap and body.placed.host in placed]
            spots = chain(_find_spots(one, other, boxes), _find_spots(other, one, boxes))
            if any(not any(_is_next_to(host, at) for host in hosts) for at in spots):
                yield one.copy, other.copy


def _is_next_to(host: Placed, at: Vec) -> bool:
    feet = (host.surface.foot(band, at) for band in host.surface.bands)
    return any(foot is not None and abs(lift_mm) < THROUGH_MM and is_in_ring(host.ring, foot) for foot, lift_mm in feet)


Boxes = Mapping[Copy, Sequence[tuple[Vec, Vec]]]


def _find_spots(one: Body, other: Body, boxes: Boxes) -> Iterator[Vec]:
    """Where an edge of the first goes through a face of the second, well inside of it."""
    for face, box in zip(one.faces, boxes[one.copy], strict=True):
        for through, its in zip(other.faces, boxes[other.copy], strict=True):
            if rooms_meet(box, its, 0.0):
                yield from _pierce(face, through)


def _pierce(face: BodyFace, through: BodyFace) -> Iterator[Vec]:
    at = through.corners[0]
    sides = [inner((x - at[0], y - at[1], z - at[2]), through.grain) for x, y, z in face.corners]
    if min(sides) > -THROUGH_MM or max(sides) < THROUGH_MM:
        return
    corners = [*zip(face.corners, sides, strict=True)]
    for (start, before), (end, after) in pairwise((*corners, corners[0])):
        if before * after < 0 and min(abs(before), abs(after)) > OFF_MM:
            share = before / (before - after)
            spot = along(start, (end[0] - start[0], end[1] - start[1], end[2] - start[2]), share)
            if _is_well_inside(through, spot):
                yield spot


def _is_well_inside(face: BodyFace, at: Vec) -> bool:
    """Whether a point in the plane of a face lies inside of its ring, and not at its edge."""
    axis = max(range(3), key=lambda k: abs(face.grain[k]))
    flat = [Point(*(value for k, value in enumerate(corner) if k != axis)) for corner in face.corners]
    spot = Point(*(value for k, value in enumerate(at) if k != axis))
    inside = False
    for (x1, y1), (x2, y2) in pairwise((*flat, flat[0])):
        if (y1 > spot.y) != (y2 > spot.y) and spot.x < x1 + (spot.y - y1) * (x2 - x1) / (y2 - y1):
            inside = not inside
    return inside and min(leg_distance(leg, spot) for leg in pairwise((*flat, flat[0]))) > INSIDE_MM


def _box(face: BodyFace) -> tuple[Vec, Vec]:
    xs, ys, zs = zip(*face.corners, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def is_left_straight(build: Assembled, body: Body) -> bool:
    """Whether a strap that would close with a hole lies straight on, since that comes to nothing. A hole alone, where
    nothing is set in the build that it could go on, is for what hangs on it, as the button of an instrument."""
    if body.placed.how != "leads from" or body.is_bent or not list_free_holes(body.placed):
        return False
    strap = by_name(build.straps)[body.copy.part]
    if not strap.row_holes and not any(item.kind in CLOSERS for item in build.hardware):
        return False
    return not any(end.rings for end in strap.ends) and not closes_on(build, body.placed)
