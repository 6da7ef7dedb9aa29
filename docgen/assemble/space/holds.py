"""What holds straps: the places where their ends land, and the rings that lie in the folds of parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.landing import Slot, find_slots, spread_over_strips
from docgen.assemble.space.arch import Hold
from docgen.assemble.space.first import anchor_of
from docgen.assemble.space.lay import HOLES_MM
from docgen.assemble.space.metal import DEEP_BY_SHAPE, Metal, shape_of
from docgen.assemble.space.placed import ALIKE, Placed, held_band, hole_band
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, direction, inner, minus, times
from docgen.geometry.shapes import Point
from docgen.geometry.vector import (
    Transform,
    add,
    between,
    distance,
    dot,
    scale,
    subtract,
    transform_point,
    transform_vector,
    turn_left,
    unit,
)
from docgen.resolve import Fold, Hardware, StrapLanding, by_name

BEHIND_MM = 0.5  # a hold that lies less behind another's face lies in it
SPREAD = 0.7  # a strap with both ends in one ring leaves it so far aside for each mm on: our choice
End = tuple[Copy, int]  # a copy of a strap, and which of its ends: 0 or 1
Turned = tuple[Copy, int, tuple[str, ...]]  # an end, and the hardware in its fold


def hang_metal(scene: Scene) -> Iterator[Metal]:
    """Every ring, buckle or hook that lies in a fold of a placed piece, in the order of placing."""
    hardware = by_name(scene.goods.build.hardware)
    for copy, placed in scene.placed.items():
        for fold in placed.item.folds:
            if fold.around in hardware:
                yield _in_fold(scene, copy, placed, fold, hardware[fold.around])


def _in_fold(scene: Scene, copy: Copy, placed: Placed, fold: Fold, item: Hardware) -> Metal:
    """What lies in a fold goes on from it, away from the half that holds it."""
    home = _outer_hole(scene, placed)
    home = home or next((hole.at for hole in placed.item.holes if hole.takes), anchor_of(scene, copy))
    middle = between(fold.start, fold.end, 0.5)
    way = turn_left(unit(subtract(fold.end, fold.start)))
    way = way if dot(way, subtract(middle, home)) > 0 else scale(way, -1.0)
    band = placed.surface.band_of(home)
    return make_metal(
        item,
        copy,
        item.inside_mm or distance(fold.start, fold.end),
        at=placed.surface.point(middle, band),
        axis=placed.out(band),
        way=placed.surface.heading(way, band),
    )


def _outer_hole(scene: Scene, placed: Placed) -> Point | None:
    """The hole of a tab that is riveted on a part, or lands there, in its half that looks away from that: the outer one, by
    which what hangs in its fold looks out."""
    host = scene.placed[placed.host] if placed.how in ("hangs on", "lies on") and placed.host is not None else None
    if host is None:
        return None
    spots = [placed.surface.point(hole.at) for hole in placed.item.holes]
    band = held_band(host, placed)
    band = hole_band(host.surface, [hole.at for hole in host.item.holes], spots, HOLES_MM) if band is None else band
    if band is None:
        return None
    outs = ((hole.at, placed.out(placed.surface.band_of(hole.at))) for hole in placed.item.holes)
    return next((at for at, out in outs if inner(out, host.out(band)) > ALIKE), None)


def make_metal(item: Hardware, part: Copy, wide_mm: float, *, at: Vec, axis: Vec, way: Vec) -> Metal:
    """A ring, buckle or hook on its bar."""
    shape = shape_of(item)
    deep_mm = DEEP_BY_SHAPE[shape] * wide_mm
    return Metal(
        hardware=item.name,
        part=part,
        shape=shape,
        at=at,
        axis=axis,
        way=way,
        wide_mm=wide_mm,
        deep_mm=deep_mm,
        bar_mm=item.bar_mm,
    )


def find_holds(scene: Scene, metal: Sequence[Metal]) -> dict[End, Hold]:
    """Ends of straps that something placed holds: where they land, else the rings that they turn round, one for each end
    in the order of the spec; a hook that no piece holds goes into a ring that is left. A strap whose other end finds no
    ring of its own goes back into the same one."""
    found = dict(_land_ends(scene))
    turned = [(copy, which, rings) for copy, which, rings in _turned_ends(scene) if (copy, which) not in found]
    free = [one for one in metal if one.shape != "buckle"]
    in_rings: dict[Copy, Metal] = {}
    for copy, which, rings in turned:
        ring = next((one for one in free if one.hardware in rings), None)
        hook_mm = _hook_mm(scene, metal, copy, rings)
        if ring is None and hook_mm:
            ring = next((one for one in free if one.shape != "hook"), None)
        if ring is not None:
            free.remove(ring)
            in_rings[copy] = ring
            found[copy, which] = _hold_in(ring, hook_mm if ring.hardware not in rings else 0.0)
        elif copy in in_rings and in_rings[copy].hardware in rings and (copy, 1 - which) in found:
            found[copy, 1 - which], found[copy, which] = _spread(found[copy, 1 - which])
    return found


def _turned_ends(scene: Scene) -> Iterator[Turned]:
    known = {item.name for item in scene.goods.build.hardware}
    for strap in scene.goods.straps.values():
        for copy in scene.goods.copies(strap.name):
            for which, end in enumerate(strap.ends):
                rings = tuple(name for name in end.rings if name in known)
                if end.shape == "turned" and rings:
                    yield copy, which, rings


def _hook_mm(scene: Scene, metal: Sequence[Metal], copy: Copy, rings: tuple[str, ...]) -> float:
    """How far a hook at the end of a strap, which no piece holds, reaches; 0 where there is none."""
    hardware = by_name(scene.goods.build.hardware)
    folded = {one.hardware for one in metal}
    hooks = [hardware[name] for name in rings if name not in folded and shape_of(hardware[name]) == "hook"]
    if not hooks:
        return 0.0
    return DEEP_BY_SHAPE["hook"] * (hooks[0].inside_mm or scene.goods.straps[copy.part].width_mm)


def _hold_in(ring: Metal, hook_mm: float) -> Hold:
    at = along(ring.far, ring.way, hook_mm)
    return Hold(host=ring.part, at=at, way=ring.way, out=ring.axis, is_ring=True, is_hooked=bool(hook_mm))


def _spread(hold: Hold) -> tuple[Hold, Hold]:
    """The hold of either end of a strap with both ends in one ring: it leaves it to both sides."""
    ways = [direction(along(hold.way, hold.out, SPREAD * hand)) for hand in (1.0, -1.0)]
    outs = [direction(along(times(hold.out, hand), hold.way, -SPREAD)) for hand in (1.0, -1.0)]
    first, second = (replace(hold, way=way, out=out) for way, out in zip(ways, outs, strict=True))
    return first, second


def _land_ends(scene: Scene) -> Iterator[tuple[End, Hold]]:
    for slots in find_slots(scene.goods).values():
        for slot, strip in [*spread_over_strips(scene.goods, slots)] or ((slot, None) for slot in slots):
            if slot.copy is not None and slot.copy.part in scene.goods.straps:
                yield from _land(scene, slot, slot.copy, strip)


def _land(scene: Scene, slot: Slot, copy: Copy, strip: int | None) -> Iterator[tuple[End, Hold]]:
    own = scene.goods.pieces[slot.host.part].strap_landings
    index = next(k for k, one in enumerate(own) if one.outline is slot.lying.outline)
    found = _find_host(scene, slot.host, strip if strip is not None else -own[index].end)
    if found is None:
        return
    host, move = found
    landing = own[index] if scene.item(host).strips[0].piece.name != slot.host.part else _as_it_lies(scene, host, index)
    placed = scene.placed[host]
    start, end = (
        transform_point(at, move) for at in (landing.at, add(landing.at, scale(landing.way, landing.over_mm)))
    )
    band = placed.surface.band_of(end)
    *lying, at = _along_bands(placed, start, end)
    way, out = direction(placed.surface.heading(transform_vector(landing.way, move), band)), placed.out(band)
    hold = Hold(host=host, at=at, way=way, out=out, lying=tuple(lying), order=index, band=band)
    yield (copy, landing.end), hold


def _along_bands(placed: Placed, start: Point, end: Point) -> Iterator[Vec]:
    """A line on a part in space from its start to its end: on what is round it goes round with that."""
    legs = [*placed.surface.split((start, end))]
    yield placed.surface.point(start, legs[0][0])
    yield from (placed.surface.point(to, band) for band, _, to in legs)


def _as_it_lies(scene: Scene, host: Copy, index: int) -> StrapLanding:
    """A landing on a copy of a piece, which may be mirrored."""
    return scene.item(host).strips[0].piece.strap_landings[index]


def _find_host(scene: Scene, host: Copy, strip: int) -> tuple[Copy, Transform] | None:
    """The placed part that an end lands on, with the movement on to it: of a strip that comes several times in its join
    on the one of that number. Where a strap does not suffice for each, its first end lands on the first (0), its second on
    the last (-1)."""
    if host in scene.placed:
        return host, Transform()
    for join in scene.goods.joined_strips.get(host.part, ()):
        if Copy(join) in scene.placed:
            strips = [one for one in scene.item(Copy(join)).strips if one.piece.name == host.part]
            return Copy(join), strips[strip].move
    return None


def legs_of(scene: Scene, first: Hold, second: Hold) -> tuple[float, float]:
    """How far a strap goes straight on from both its holds before it may turn: where the other one lies behind, to the end
    of its host, and of all that this hangs on."""
    one, other = (_leg_mm(scene, *pair) for pair in ((first, second), (second, first)))
    return one, other


def _leg_mm(scene: Scene, hold: Hold, other: Hold) -> float:
    if inner(minus(other.at, hold.at), hold.out) >= -BEHIND_MM:
        return 0.0
    found, one = [inner(hold.at, hold.way)], hold.host
    while one is not None:
        found += [inner(to, hold.way) for _, corners in scene.sheets(one) for to in corners]
        one = scene.placed[one].host
    return max(found) - found[0]
