"""Flaps that come over the depth of a bag in one bend: leather goes across, and bends once more there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import ALIKE, Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import Band, is_in_ring
from docgen.assemble.space.vectors import Vec, along, inner, minus, times
from docgen.resolve import Fold

LEAST_MM = 6.0  # what lies nearer together is thick leather, and no depth: our choice
SAMPLES = (0.5, 1.0)  # shares of the way to the far end of a flap at which it is looked for what lies beneath


def go_over_depth(scene: Scene) -> None:
    """Bend each such flap twice, as far apart as what it goes over is deep, with all that lies along it."""
    for copy, placed in [*scene.placed.items()]:
        for end in _ends(placed):
            deep_mm = 0.0 if _is_held(scene, copy, end) else _depth_mm(scene, placed, end)
            if deep_mm:
                _bend_twice(scene, placed, end, deep_mm)


def _ends(placed: Placed) -> Iterator[int]:
    """The first or last band of a part that comes down again behind its inner side, from one open fold of half a turn."""
    surface, last = placed.surface, len(placed.surface.bands) - 1
    if last < 1 or surface.pleat or surface.asides or not any(fold.is_open for fold in placed.item.folds):
        return
    for end, beside in ((0, 1), (last, last - 1)):
        is_down = inner(placed.out(end), placed.out(beside)) < -ALIKE and not placed.folds_out(_bend(end))
        if is_down and any(fold.is_open for fold in placed.folds_at(_bend(end))):
            yield end


def _bend(end: int) -> int:
    """The bend between the first or last band of a part and the one beside it."""
    return max(end - 1, 0)


def _fold_mm(placed: Placed, end: int) -> float:
    """How far along a part the fold before its end lies."""
    return placed.surface.bands[_bend(end)].end_mm


def _is_held(scene: Scene, copy: Copy, end: int) -> bool:
    """Whether a seam holds that end of a part to what does not bend with it."""
    surface = scene.placed[copy].surface
    return any(
        tie.other in scene.placed
        and surface.band_of(tie.mine.middle) == end
        and scene.placed[tie.other].surface.bands != surface.bands
        for tie in scene.ties_of(copy)
    )


def _corner(placed: Placed, end: int) -> Vec:
    """Where the fold lies before the end of a part."""
    band = placed.surface.bands[end]
    return band.at if end else along(band.at, band.way, band.end_mm - band.begin_mm)


def _depth_mm(scene: Scene, placed: Placed, end: int) -> float:
    """How deep what the end of a part comes down on lies before it, with the leather of both; 0 where nothing does."""
    out, corner = placed.out(end), _corner(placed, end)
    ring = [at for band, part in placed.surface.rings(placed.ring) if band == end for at in part]
    reach = [placed.surface.measure(at)[0] for at in ring]
    if not reach:
        return 0.0
    fold_mm = _fold_mm(placed, end)
    long_mm = max(reach) - fold_mm if end else fold_mm - min(reach)
    mid = sum(placed.surface.measure(at)[1] for at in ring) / len(ring)
    found = [0.0]
    for copy, other in scene.placed.items():
        if other is placed or other.is_inner or other.surface.bands == placed.surface.bands:
            continue
        for k, band in enumerate(other.surface.bands):
            high_mm = inner(minus(band.at, corner), out)
            if high_mm <= LEAST_MM or inner(other.out(k), out) < ALIKE:
                continue
            both_mm = high_mm + _thick_mm(scene, placed.copy) + _thick_mm(scene, copy)
            for share in SAMPLES:
                down_mm = long_mm * share - both_mm
                spot = placed.surface.spot(fold_mm + (down_mm if end else -down_mm), mid)
                at = along(placed.surface.point(spot, end), out, high_mm)
                foot, _ = other.surface.foot(band, at)
                if down_mm > 0 and foot is not None and is_in_ring(other.ring, foot):
                    found.append(both_mm)
    return max(found)


def _thick_mm(scene: Scene, copy: Copy) -> float:
    return max((scene.goods.full_mm(strip.piece) for strip in scene.item(copy).strips), default=0.0)


def _bend_twice(scene: Scene, placed: Placed, end: int, deep_mm: float) -> None:
    """The part with its end laid so far before the rest, and what bends as it does; what lies on that end goes with it."""
    old, out, corner = placed.surface.bands, placed.out(end), _corner(placed, end)
    one = old[end]
    start_mm = _fold_mm(placed, end)
    over = along(corner, out, deep_mm)
    if end:
        at_mm = start_mm + deep_mm
        bands = (*old[:-1], Band(start_mm, at_mm, corner, out), Band(at_mm, at_mm, over, one.way))
    else:
        at_mm = start_mm - deep_mm
        bands = (Band(at_mm, at_mm, over, one.way), Band(at_mm, start_mm, over, times(out, -1.0)), *old[1:])
    start, finish = (placed.surface.spot(at_mm, far_mm) for far_mm in (0.0, 1.0))
    bend = Fold(start=start, end=finish, is_open=True, inside="" if placed.is_grain_out else "grain")
    by = minus(times(out, deep_mm), times(one.way, deep_mm if end else -deep_mm))
    for guest in [*scene.placed.values()]:
        if guest.surface.bands == old:
            item = replace(guest.item, folds=(*guest.item.folds, bend)) if guest.item.folds else guest.item
            surface = replace(guest.surface, bands=bands)
            scene.move(replace(guest, surface=surface, lifts=((0.0, 0.0, 0.0),) * len(bands), item=item))
        elif guest.host == placed.copy and inner(guest.out(0), out) * guest.level > 0:
            scene.move(replace(guest, surface=guest.surface.shifted(by)))
