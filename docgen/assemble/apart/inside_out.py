"""What is sewn with its outer sides together, as it lies while it is sewn: inside out. A closed article inside out is its
mirror image with the other side of each part out: what lay on the outside lies inside, linings lie outside."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, group_before
from docgen.assemble.apart.heaps import Heap, UnsureError
from docgen.assemble.apart.laid_flat import band_under, depth_of
from docgen.assemble.apart.turned import lead_inward
from docgen.assemble.assembly import Copy
from docgen.assemble.space.lift import TABS
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.vectors import Vec, minus, plus, times

LAYERS = ("lies on", "lies behind", "hangs on")  # what lies on one side of its host stays on that side of it
OFF_MM = 3.0  # what is farther off the plane of its host does not lie on it


def lay_as_sewn(
    bodies: Mapping[Copy, Body], bonds: Sequence[Bond], step: int, turned: Collection[str]
) -> dict[Copy, Body]:
    """The bodies with what a step (from 0) sews by `turned` seams inside out, but linings alone; without what stands
    off its host: nothing says how that lies then. UnsureError where the step joins it, or sews some of a heap otherwise."""
    found = dict(bodies)
    for group in group_before([*bodies], bonds, step + 1):
        new = [bond for bond in bonds if bond.step == step and bond.one in group]
        seams = {bond.seam for bond in new if bond.seam}
        if seams.isdisjoint(turned) or is_lining_alone(bodies, group):
            continue
        if not seams <= {*turned}:
            raise UnsureError("some of its seams are turned, and others are not")
        linings = linings_laid_over(bodies, new)
        if linings:
            if len(linings) < len(new) or any(body.placed.host in linings for body in bodies.values()):
                raise UnsureError("linings are sewn face to face with more than what they line")
            found |= {copy: _lay_over(bodies, copy) for copy in linings}
            continue
        inside_out, off = _turn_inside_out(bodies, group, turned)
        joined = sorted({bodies[copy].title for bond in new for copy in (bond.one, bond.other) if copy in off})
        if joined:
            raise UnsureError(f"nothing says how {', '.join(joined)} lies while the work is inside out")
        found |= inside_out
        found = {copy: body for copy, body in found.items() if copy not in off}
    return found


def is_inside_out(bodies: Mapping[Copy, Body], heap: Heap) -> bool:
    """Whether a heap joined by turned seams is drawn inside out: neither a lining by itself, nor one that is laid over."""
    return not is_lining_alone(bodies, heap.copies) and not linings_laid_over(bodies, heap.bonds)


def is_lining_alone(bodies: Mapping[Copy, Body], group: Collection[Copy]) -> bool:
    """Whether all of a group lines other parts, or is placed by what does: as it is sewn, right side in, it stays."""
    return all(_goes_with_lining(bodies, copy) for copy in group)


def _goes_with_lining(bodies: Mapping[Copy, Body], copy: Copy) -> bool:
    """What lies behind a lining, as one that a facing holds, does not lie as it does at last."""
    placed = bodies[copy].placed
    host = bodies.get(placed.host) if placed.host is not None else None
    if host is None or placed.how == "lies behind":
        return host is not None and not host.placed.is_inner
    return _goes_with_lining(bodies, host.copy)


def linings_laid_over(bodies: Mapping[Copy, Body], bonds: Sequence[Bond]) -> list[Copy]:
    """What seams join to nothing but to what it lines: turned, they sew it face to face with that, on its outer side."""
    sides: dict[str, dict[Copy, None]] = {}
    for bond in bonds:
        sides.setdefault(bond.seam, {}).update(dict.fromkeys((bond.one, bond.other)))
    pairs = [copies for seam, copies in sides.items() if seam and len(copies) > 1]
    placed = {copy: bodies[copy].placed for copies in pairs for copy in copies}
    return [
        copy
        for copies in pairs
        for copy in copies
        if placed[copy].how == "lies behind" and {*copies} == {copy, placed[copy].host}
    ]


def _lay_over(bodies: Mapping[Copy, Body], copy: Copy) -> Body:
    """A lining on the outer side of what it lines, its right side on that."""
    placed = bodies[copy].placed
    host = bodies[placed.host].placed if placed.host else placed
    same = placed.surface.bands == host.surface.bands
    unders = [host.lifts[band if same else band_under(host, placed)] for band in range(len(placed.lifts))]
    lifts = tuple(minus(times(under, 2.0), lift) for under, lift in zip(unders, placed.lifts, strict=True))
    return bodies[copy].with_place(replace(placed, lifts=lifts, level=-placed.level))


def _turn_inside_out(
    bodies: Mapping[Copy, Body], group: Collection[Copy], turned: Collection[str]
) -> tuple[dict[Copy, Body], set[Copy]]:
    """The parts of a group inside out; and those that stand off what they are on, with all that is on them."""
    found: dict[Copy, Body] = {}
    off: set[Copy] = set()
    for copy in sorted(group, key=lambda one: depth_of(bodies, one)):
        body = bodies[copy]
        host = bodies[body.placed.host] if body.placed.host is not None and body.placed.host in group else None
        is_off = host is not None and not body.placed.is_inner and not _lies_on(body.placed, host.placed)
        if body.is_strap or body.placed.how == "hinges" or is_off or (host is not None and host.copy in off):
            off.add(copy)
        after = found.get(host.copy) if host is not None else None
        found[copy] = body.with_place(_turned(bodies, body.placed, host, after))
        if body.placed.how in TABS:
            found[copy] = lead_inward(found[copy], turned)
    return found, off


def _lies_on(placed: Placed, host: Placed) -> bool:
    """Whether a part that lies on a side of its host lies flat there."""
    if placed.how not in LAYERS or placed.surface.bands == host.surface.bands:
        return True
    band = host.surface.bands[band_under(host, placed)]
    corners = (at for _, points in placed.sheets(placed.ring) for at in points)
    return all(abs(host.surface.foot_in_plane(band, at)[2]) <= OFF_MM for at in corners)


def _turned(bodies: Mapping[Copy, Body], placed: Placed, host: Body | None, after: Body | None) -> Placed:
    surface = placed.surface
    bands = tuple(replace(band, at=_mirrored(band.at), way=_mirrored(band.way)) for band in surface.bands)
    asides = tuple(map(_mirrored, surface.asides))
    surface = replace(surface, bands=bands, aside=_mirrored(surface.aside), asides=asides)
    is_layer = host is not None and placed.how in LAYERS
    on_lining = host is not None and _is_of_lining(bodies, host.placed)
    return replace(
        placed,
        surface=surface,
        lifts=tuple(_lift(placed, band, host, after, is_layer=is_layer) for band in range(len(bands))),
        level=-placed.level if is_layer and not on_lining else placed.level,
        is_grain_out=placed.is_grain_out == _is_of_lining(bodies, placed),
    )


def _is_of_lining(bodies: Mapping[Copy, Body], placed: Placed) -> bool:
    """Whether a part lines another one, or lies on what does: its outer side is the one that is seen inside out too."""
    if placed.how == "lies behind":
        return True
    host = bodies.get(placed.host) if placed.host else None
    return host is not None and placed.how in LAYERS and _is_of_lining(bodies, host.placed)


def _lift(placed: Placed, band: int, host: Body | None, after: Body | None, *, is_layer: bool) -> Vec:
    """The layers by which a band is lifted: what is a layer of its host stays on the same side of it."""
    if host is None or after is None:
        return _mirrored(placed.lifts[band])
    same = placed.surface.bands == host.placed.surface.bands
    under = band if same else band_under(host.placed, placed)
    over = _mirrored(minus(placed.lifts[band], host.placed.lifts[under]))
    return plus(after.placed.lifts[under], times(over, -1.0) if is_layer else over)


def _mirrored(at: Vec) -> Vec:
    return -at[0], at[1], at[2]
