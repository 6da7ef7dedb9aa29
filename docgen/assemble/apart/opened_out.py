"""What is folded over what lies on its inner side, as a wallet over its pockets, opened out as far as it goes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from docgen.assemble.apart.agreed import side_of_host
from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.laid_flat import carry_guests, follow, unfold
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.apart.records import OpenedOut
from docgen.assemble.apart.unsure import find_crossing
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.spread import TURNED_BACK
from docgen.assemble.space.vectors import inner

HALVES = 2
FLAT = 0.999  # the cosine between flat parts that lie in one plane
LEAST_SHARE = 0.35  # of its length, that each half of what opens as a book does has: a flap is shorter


def open_out(
    build: Assembled, bodies: Mapping[Copy, Body], metal: Iterable[MetalBody], held: Collection[Copy]
) -> OpenedOut | None:
    """None where nothing opens so, or nothing that is drawn lies inside. What is `held` folded stays so; `metal` is as it
    is placed."""
    if build.space.kind != "lying":
        return None
    shut = {copy: way for copy, body in bodies.items() if copy not in held and (way := _way_in(body.placed))}
    covers = [copy for copy in shut if bodies[copy].placed.host not in shut]
    if len(covers) != 1 or any(_holds_shut(build, bodies, cover) for cover in shut):
        return None
    opened = carry_guests(bodies, unfold(bodies, held), build.space.hung)
    cover, way = opened[covers[0]], shut[covers[0]]
    outs = [cover.placed.out(band) for band in range(len(cover.placed.surface.bands))]
    outer = [body for body in opened.values() if not body.placed.is_inner]
    within = [body for body in outer if body is not cover and not body.is_strap]
    has_inside = any(side * way > 0 for body in within for side in side_of_host(body, cover))
    is_flat = all(inner(out, outs[0]) > FLAT for out in outs)
    if not has_inside or not is_flat or any(find_crossing(outer)):
        return None
    return OpenedOut(
        bodies=tuple(opened.values()),
        metal=tuple(follow(one, bodies, opened) for one in metal if one.copy in opened),
        covers=(cover.title,),
        is_up=outs[0][2] * way > 0,
    )


def _way_in(placed: Placed) -> int:
    """Of what begins the whole, or goes with it, and has two halves that face each other, at one fold or with a back
    between: 1 where their outer sides do, -1 for their inner sides; 0 for anything else."""
    surface = placed.surface
    if placed.how not in ("begun with", "back to back") or len(surface.bands) == 1:
        return 0
    along_mm = [surface.measure(at)[0] for at in placed.ring]
    low, high = min(along_mm), max(along_mm)
    ends_mm = [low, *(band.end_mm for band in surface.bands[:-1]), high]
    wide = [k for k in range(len(surface.bands)) if ends_mm[k + 1] - ends_mm[k] > LEAST_SHARE * (high - low)]
    if len(wide) != HALVES or inner(placed.out(wide[0]), placed.out(wide[1])) > TURNED_BACK:
        return 0
    return 1 if placed.folds_out(wide[0]) else -1


def _holds_shut(build: Assembled, bodies: Mapping[Copy, Body], cover: Copy) -> bool:
    """Whether a part that does not fold is sewn to both halves of what does."""
    return any(
        len({*_bands_of(bodies[cover], once.seam)}) > 1
        for once in build.assembly.sewn
        if cover in once.sides
        for other in once.sides
        if other != cover and other in bodies and len(bodies[other].faces) == 1
    )


def _bands_of(body: Body, seam: str) -> Iterable[int]:
    return (band for line in body.lines if line.kind == "stitch" and line.name == seam for band in line.bands)
