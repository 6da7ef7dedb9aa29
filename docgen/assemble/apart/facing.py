"""Whether the front of an article looks at whoever sees it as its parts are placed."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.assembled import Assembled
from docgen.assemble.space.flap import way_of_flap
from docgen.assemble.space.over_mouth import MOUTH_MM
from docgen.assemble.space.placed import ALIKE
from docgen.assemble.space.vectors import Vec, inner
from docgen.geometry.path import ring_area

FRONT = "front"  # what a piece is called that is the front where the spec says nothing
LARGE = 0.9  # of the largest flat part, from which another is as large
AWAY = 0.1  # the cosine between the front and the way to whoever looks, from which it looks away
LEAST_BANDS = 3  # front, back and flap


def looks_away(build: Assembled, bodies: Sequence[Body]) -> bool:
    """Whether the front, as the spec names it, else the piece of that name, looks away with all of its large parts. A flap
    hangs before the rest of what stands as that is placed; the one of a body in one piece where that leads it. Of a pouch
    of one piece the front is what its flap closes over."""
    flap = way_of_flap(body.placed for body in bodies) if build.space.kind == "standing" else None
    name = build.front or FRONT
    places = (*(body.placed for body in bodies), *build.space.parts)  # also of what is left out of the picture
    front = next((placed for placed in places if placed.copy.part == name and not placed.is_inner), None)
    is_lying = build.space.kind == "lying"
    over = _way_of_pouch(bodies) if is_lying and (front is None or front.item.folds) else None
    if over is not None:
        return over[2] < -AWAY
    if flap is not None and (front is None or front.item.folds):
        return flap[1] > AWAY if abs(flap[1]) > abs(flap[0]) else flap[0] < 0  # its right is seen from the front
    if front is None or (front.item.folds and not is_lying):
        return False
    sizes = {band: abs(ring_area(ring)) for band, ring in front.surface.rings(front.ring)}
    outs = [front.out(band) for band, size in sizes.items() if size > LARGE * max(sizes.values())]
    return all((out[2] if is_lying else -out[1]) < -AWAY for out in outs)


def _way_of_pouch(bodies: Sequence[Body]) -> Vec | None:
    """The way the front of a pouch that is folded of one piece looks, over which its flap comes; None where no part is such
    a pouch, or several are."""
    found = [body.placed.out(end) for body in bodies if (end := _find_flap(body)) is not None]
    return found[0] if len(found) == 1 else None


def _find_flap(body: Body) -> int | None:
    """The end band of what is folded twice and sewn to itself at the other fold: the flap, that no such seam holds."""
    placed, bands = body.placed, body.placed.surface.bands
    if len(bands) < LEAST_BANDS or placed.is_inner or body.is_strap:
        return None
    seams: dict[str, set[int]] = {}
    for line in body.lines:
        if line.kind == "stitch" and line.name and not line.is_through:
            seams.setdefault(line.name, set()).update(line.bands)
    last = len(bands) - 1
    for end, step in ((last, -1), (0, 1)):
        beside = end + step
        if bands[beside].end_mm - bands[beside].begin_mm < MOUTH_MM:  # the flap bends twice there
            beside += step
        under = beside + step
        if not 0 <= under <= last:
            continue
        is_over = inner(placed.out(end), placed.out(under)) > ALIKE and inner(placed.out(end), placed.out(beside)) < 0
        if is_over and any({beside, under} <= held and end not in held for held in seams.values()):
            return end
    return None
