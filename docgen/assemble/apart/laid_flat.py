"""What lies flat at the bench: what nothing folds yet, and walls that a step joins while they are not yet sewn to what they
stand along, with all that is on them."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, Group
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import BY_AN_END, Placed, held_band, hole_band
from docgen.assemble.space.surface import Surface
from docgen.assemble.space.track import trace
from docgen.assemble.space.vectors import NOWHERE, Vec, direction, inner, length, minus, outer, plus, times
from docgen.classes import dataclass

Frame = tuple[Vec, Vec, Vec, Vec]
"""A place, and three unit vectors at right angles."""
HOLE_MM = 3.0  # from a hole, what sits in it


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """How what is in one frame comes to be in another; nothing is stretched."""

    old: Frame
    new: Frame

    def way(self, way: Vec) -> Vec:
        parts = [times(to, inner(way, at)) for at, to in zip(self.old[1:], self.new[1:], strict=True)]
        return plus(plus(parts[0], parts[1]), parts[2])

    def place(self, at: Vec) -> Vec:
        return plus(self.new[0], self.way(minus(at, self.old[0])))

    def metal(self, metal: Metal) -> Metal:
        """Hardware moved along."""
        return replace(
            metal,
            at=self.place(metal.at),
            axis=self.way(metal.axis),
            way=self.way(metal.way),
            lift=self.way(metal.lift),
        )

    def body(self, body: Body, lift: Vec = NOWHERE) -> Body:
        """A part moved along, and lifted by so many layers more."""
        placed, surface = body.placed, body.placed.surface
        bands = tuple(replace(band, at=self.place(band.at), way=self.way(band.way)) for band in surface.bands)
        asides = tuple(map(self.way, surface.asides))
        surface = replace(surface, bands=bands, aside=self.way(surface.aside), asides=asides)
        lifts = tuple(plus(self.way(own), lift) for own in placed.lifts)
        return body.with_place(replace(placed, surface=surface, lifts=lifts))


GUESTS = ("leads from", "lies on", "hangs on")
CARRIED_MM = 2.0  # a strap that is no farther off its place on a part has gone on with it


def find_flat(
    bodies: Mapping[Copy, Body], groups: Sequence[Group], held: Container[Copy], is_open: Callable[[Copy], bool]
) -> Iterator[tuple[Copy, Group]]:
    """The walls, and what has open folds, as a panel with its flap, in groups of parts that hang together in which nothing
    bends them, each with its group, and what bends as a host does that is not there yet, as a lining; a ring where it
    `is_open` yet and no strap arches over it, whose shape would be another on the bench. What is `held` stays folded."""
    for group in groups:
        for copy in group:
            placed = bodies[copy].placed
            is_panel = (
                placed.how not in BY_AN_END and copy not in held and all(fold.is_open for fold in placed.item.folds)
            )
            bends = len(placed.surface.bands) - 1
            is_folded = is_panel and (bends == len(placed.item.folds) or _bends_later(bodies, copy, group))
            is_bent = (placed.how == "stands on" or is_folded) and bends > 0
            may_lie = not placed.item.is_ring or (
                is_open(copy) and not any(bodies[other].placed.how == "arches" for other in group)
            )
            if is_bent and may_lie and len(group) > 1 and all(_rides(bodies, other, copy) for other in group):
                yield copy, group


def _bends_later(bodies: Mapping[Copy, Body], copy: Copy, group: Group) -> bool:
    """Whether a part bends just as its host, which is not joined to it yet."""
    placed = bodies[copy].placed
    host = bodies.get(placed.host) if placed.host is not None else None
    return host is not None and host.copy not in group and host.placed.surface.bands == placed.surface.bands


def _rides(bodies: Mapping[Copy, Body], copy: Copy, wall: Copy) -> bool:
    """Whether a part is the wall, or was placed by it, or by what was, and lies on it."""
    for _ in range(len(bodies)):
        placed = bodies[copy].placed
        if copy == wall:
            return True
        if placed.host is None or placed.host not in bodies or placed.how in ("closes", "stands on"):
            return False
        copy = placed.host
    return False


def lay_flat(bodies: Mapping[Copy, Body], wall: Copy, group: Group) -> dict[Copy, Body]:
    """The parts of a group as they lie on the bench, the side up on which most of them are."""
    body = bodies[wall]
    home, found = body.largest_band, dict[Copy, Body]()
    guests = [bodies[copy].placed for copy in group if copy != wall]
    is_out_up = sum(1 if placed.level >= 0 else -1 for placed in guests) >= 0
    table = _on_table(body.placed, home, is_out_up=is_out_up)
    bent = {copy for copy in group if bodies[copy].placed.surface.bands == body.placed.surface.bands}
    for copy in group:
        if copy in bent:
            found[copy] = table.body(bodies[copy].flattened(home))
            continue
        band = band_under(body.placed, bodies[copy].placed)
        flat = found.get(wall) or table.body(body.flattened(home))
        found[copy] = _go_along(_let_go(bodies[copy]), body.placed, flat.placed, band)
    return found


def unfold(
    bodies: Mapping[Copy, Body], held: Container[Copy] = (), late: Mapping[Copy, int] | None = None
) -> dict[Copy, Body]:
    """The bodies with what is folded right over laid flat again, and all that is on it; what is `held` stays as it is
    folded, and so do tabs. Where some are `late`, these alone, from the band that stays."""
    homes: dict[Copy, int] = {}
    found: dict[Copy, Body] = {}
    for copy, body in sorted(bodies.items(), key=lambda one: depth_of(bodies, one[0])):
        placed = body.placed
        host = bodies.get(placed.host) if placed.host else None
        if host is not None and host.copy in homes and host.placed.surface.bands == placed.surface.bands:
            homes[copy] = homes[host.copy]
        elif copy in late if late is not None else _lies_open(placed) and copy not in held:
            homes[copy] = _anchored(placed) if late is None else late[copy]
        if copy in homes:
            found[copy] = body.flattened(homes[copy])
        else:
            found[copy] = body if host is None else carried(body, host, found[host.copy])
    return {copy: found[copy] for copy in bodies}


def _lies_open(placed: Placed) -> bool:
    return placed.how in ("begun with", "back to back") and len(placed.surface.bands) > 1


def unfold_late(bodies: Mapping[Copy, Body], held: Container[Copy], last: Iterable[Copy]) -> Mapping[Copy, Body]:
    """The bodies of what stands, with panels straight on that are `held` folded not yet but at last."""
    panels = [copy for copy in last if copy not in held and copy in bodies and _folds_alone(bodies[copy])]
    late = {copy: bodies[copy].largest_band for copy in panels}
    return unfold(bodies, late=late) if late else bodies


def raise_flaps(bodies: Mapping[Copy, Body], bonds: Iterable[Bond], held: Container[Copy]) -> dict[Copy, Body]:
    """The bodies with flaps straight up, of panels that only bend, and with tabs straight on: the seams of each, of those
    that are told, all lie on one band. What is `held` stays folded."""
    joined: dict[Copy, set[str]] = {}
    for bond in bonds:
        for own, other in ((bond.one, bond.other), (bond.other, bond.one)):
            if bond.seam and own in bodies and other in bodies and not _rides(bodies, other, own):
                joined.setdefault(own, set()).add(bond.seam)
    flaps = {copy: _sewn_bands(bodies[copy], seams) for copy, seams in joined.items() if copy not in held}
    return unfold(bodies, late={copy: min(bands) for copy, bands in flaps.items() if len(bands) == 1})


def _sewn_bands(body: Body, seams: Container[str]) -> frozenset[int]:
    """The bands of what only bends on which seams lie."""
    folds, bends = body.placed.item.folds, len(body.placed.surface.bands) - 1
    if not bends == len(folds) > 0 or not all(fold.is_open for fold in folds):
        return frozenset()
    return frozenset(line.bands[0] for line in body.lines if line.kind == "stitch" and line.name in seams)


def _folds_alone(body: Body) -> bool:
    """Whether all bends of a part are closed folds, and all that is sewn lies on its largest band: until it is folded the
    rest stands straight on from there."""
    placed, surface = body.placed, body.placed.surface
    bends = len(surface.bands) - 1
    rows = [at for mark in placed.item.marks if mark.kind == "stitch" for at in trace(mark.path).points]
    is_closed = 0 < bends == sum(not fold.is_open and not fold.around for fold in placed.item.folds)
    return is_closed and all(surface.band_of(at) == body.largest_band for at in rows)


def _anchored(placed: Placed) -> int:
    """The band that stays as it is where a part is bent."""
    return placed.surface.band_of(placed.anchor)


def carried(body: Body, before: Body, after: Body) -> Body:
    """A part as it goes with the band of its host that it lies on."""
    if before.placed.surface == after.placed.surface:
        return body
    band = band_under(before.placed, body.placed)
    return _go_along(_let_go(body), before.placed, after.placed, band)


def _let_go(body: Body) -> Body:
    """A strap that is held at one end straight on from there: it went round what is flat now, or not there yet."""
    return body.flattened(body.held_band) if body.placed.how == "leads from" and body.is_bent else body


def _go_along(body: Body, old: Placed, new: Placed, band: int) -> Body:
    """A part with a band of its host that lies otherwise than before, as many layers over it."""
    moving = _moving(old, new, band)
    return moving.body(body, minus(new.lifts[band], moving.way(old.lifts[band])))


def _moving(old: Placed, new: Placed, band: int) -> Moving:
    return Moving(old=_frame(old, band), new=_frame(new, band))


def depth_of(bodies: Mapping[Copy, Body], copy: Copy) -> int:
    """How many parts one after the other a part was placed by."""
    count, host = 0, bodies[copy].placed.host
    while host is not None and host in bodies and count < len(bodies):
        count, host = count + 1, bodies[host].placed.host
    return count


def follow(metal: MetalBody, before: Mapping[Copy, Body], bodies: Mapping[Copy, Body]) -> MetalBody:
    """Hardware where its part is drawn, that may be bent or lie otherwise than it is placed: as far over its part."""
    one = metal.metal
    old, new = before[one.part].placed, bodies[one.part].placed
    if old.surface == new.surface:
        return metal
    band = _held_band(old, metal)
    moving = _moving(old, new, band)
    lift = plus(new.lifts[band], moving.way(minus(one.lift, old.lifts[band])))
    return MetalBody(replace(moving.metal(one), lift=lift), metal.title, metal.room_mm)


def _held_band(placed: Placed, metal: MetalBody) -> int:
    """The band that hardware sits in: that of its hole, as others of a folded part may lie as near; else the nearest."""
    one, surface = metal.metal, placed.surface
    holes = [hole.at for hole in placed.item.holes if hole.takes == one.hardware]
    band = hole_band(surface, holes, [one.at], HOLE_MM)
    return nearest_band(surface, one.at) if band is None else band


def _frame(placed: Placed, band: int) -> Frame:
    one = placed.surface.bands[band]
    way = direction(one.way)
    return one.at, way, placed.surface.aside, direction(outer(way, placed.surface.aside))


def carry_guests(
    before: Mapping[Copy, Body], bodies: Mapping[Copy, Body], hung: Iterable[tuple[Copy, Copy]]
) -> dict[Copy, Body]:
    """The bodies with straps, handles, tabs and pockets on a part which lies otherwise than it is placed, as a flap that
    is straight, on it still, and with straps that are `hung` in the rings of such tabs alone."""
    found = {**bodies}
    for copy, body in bodies.items():
        host = body.placed.host
        is_guest = body.placed.how in GUESTS or body.placed.is_held_twice
        if not is_guest or host not in bodies or host is None or not bodies[host].placed.is_free:
            continue
        old, new, guest = before[host].placed, bodies[host].placed, before[copy].placed
        held = guest.surface.point(guest.anchor)
        band = nearest_band(old.surface, held) if guest.host_band is None else guest.host_band
        moving = _moving(old, new, band)
        is_left = length(minus(moving.place(held), body.placed.surface.point(guest.anchor))) > CARRIED_MM
        if old.surface != new.surface and is_left:
            found[copy] = _go_along(body, old, new, band)
    tabs: dict[Copy, list[Copy]] = {}
    for strap, tab in hung:
        tabs.setdefault(strap, []).append(tab)
    for strap, ends in tabs.items():
        if strap in found and all(end in found and found[end] is not bodies[end] for end in ends):
            moves = [_moving(before[end].placed, found[end].placed, 0) for end in ends]
            places = [moving.place(before[ends[0]].placed.surface.bands[0].at) for moving in moves]
            if found[strap].placed.surface == before[strap].placed.surface and _is_one_place(places):
                found[strap] = _go_along(bodies[strap], before[ends[0]].placed, found[ends[0]].placed, 0)
    return found


def _is_one_place(places: Sequence[Vec]) -> bool:
    return all(length(minus(at, places[0])) < CARRIED_MM for at in places)


def _on_table(placed: Placed, home: int, *, is_out_up: bool) -> Moving:
    """What lays a band flat, along the way that is wide."""
    old = _frame(placed, home)
    is_up = (inner(placed.out(home), old[3]) > 0) == is_out_up
    hand = 1.0 if is_up else -1.0
    return Moving(old=old, new=(NOWHERE, (1.0, 0.0, 0.0), (0.0, hand, 0.0), (0.0, 0.0, hand)))


def band_under(host: Placed, guest: Placed) -> int:
    """The band of a host on which a part lies, by where it is held, else its hole or its corner."""
    told = held_band(host, guest)
    if told is not None:
        return told
    corner = guest.item.holes[0].at if guest.item.holes else guest.ring[0]
    at = guest.surface.point(guest.anchor if guest.how in BY_AN_END else corner)
    return nearest_band(host.surface, at)


def nearest_band(surface: Surface, at: Vec) -> int:
    """The band in whose plane, and within which, a point is nearest."""
    feet = ((k, surface.foot(band, at)) for k, band in enumerate(surface.bands))
    near = [(round(abs(lift_mm), 3), k) for k, (foot, lift_mm) in feet if foot is not None]
    return min(near)[1] if near else 0
