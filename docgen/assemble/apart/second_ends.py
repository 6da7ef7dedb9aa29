"""Flanges: what is sewn flat by its one end to the part that it lies on, and by its other to another part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.flap_down import SQUARE
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import ALIKE, LAYER_MM
from docgen.assemble.space.surface import lower_end
from docgen.assemble.space.vectors import direction, inner, outer, times

OFF_MM = 5.0  # what stands off a part reaches so far at least


def lay_second_ends(build: Assembled, bodies: Mapping[Copy, Body]) -> dict[Copy, Body]:
    """The bodies with each such end a layer off the other part, on the side on which the rest of it is."""
    found = {**bodies}
    for guest, host in _list_sewn_on(build, bodies):
        found[guest] = _lay_end(found[guest], found[host])
    return found


def _list_sewn_on(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[tuple[Copy, Copy]]:
    flat = {(seam.name, side.part) for seam in build.seams for side in seam.sides if not side.edges}
    for once in build.assembly.sewn:
        there = [side for side in once.sides if side in bodies]
        hosts = [side for side in there if (once.seam, side.part) in flat]
        guests = [side for side in there if side not in hosts and len(bodies[side].placed.surface.bands) > 2]
        yield from (
            (guest, host)
            for guest in guests
            for host in hosts
            if bodies[guest].placed.host not in (host, None) and not _bends_along(bodies, guest)
        )


def _bends_along(bodies: Mapping[Copy, Body], guest: Copy) -> bool:
    """Whether a part bends as what it lies on does, as the lining of a flap: it ends where that does."""
    placed = bodies[guest].placed
    host = bodies.get(placed.host) if placed.host is not None else None
    return host is not None and host.placed.surface.bands == placed.surface.bands


def _lay_end(guest: Body, host: Body) -> Body:
    own, its = guest.placed.surface, host.placed.surface
    last = len(own.bands) - 1
    for end, beside in ((0, 1), (last, last - 1)):
        for k, band in enumerate(its.bands):
            normal = direction(outer(band.way, its.aside))
            foot, off_mm = its.foot(band, own.bands[end].at)
            is_flat = abs(inner(own.normal(end), normal)) > ALIKE and abs(inner(own.normal(beside), normal)) < SQUARE
            _, rest_mm = its.foot(band, own.point(guest.placed.item.box.centre))
            if foot is None or not is_flat or abs(off_mm) > LAYER_MM or abs(rest_mm) < OFF_MM:
                continue
            hand = 1.0 if rest_mm > 0 else -1.0
            is_at_mm = off_mm + inner(guest.lifts[end], normal) - inner(host.lifts[k], normal)
            surface = replace(own, bands=lower_end(own.bands, (end, beside), times(normal, hand * LAYER_MM - is_at_mm)))
            return guest.with_place(replace(guest.placed, surface=surface))
    return guest
