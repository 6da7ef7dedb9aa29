"""Whether the front of an article looks at whoever sees it as its parts are placed."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.assembled import Assembled
from docgen.assemble.space.flap import way_of_flap
from docgen.geometry.path import ring_area

FRONT = "front"  # what a piece is called that is the front where the spec says nothing
LARGE = 0.9  # of the largest flat part, from which another is as large
AWAY = 0.1  # the cosine between the front and the way to whoever looks, from which it looks away


def looks_away(build: Assembled, bodies: Sequence[Body]) -> bool:
    """Whether the front, as the spec names it, else the piece of that name, looks away with all of its large parts. A flap
    hangs before the rest of what stands as that is placed; the one of a body in one piece where that leads it."""
    flap = way_of_flap(body.placed for body in bodies) if build.space.kind == "standing" else None
    name = build.front or FRONT
    body = next((body for body in bodies if body.copy.part == name and not body.placed.is_inner), None)
    is_lying = build.space.kind == "lying"
    if flap is not None and (body is None or body.placed.item.folds):
        return flap[1] > AWAY if abs(flap[1]) > abs(flap[0]) else flap[0] < 0  # its right is seen from the front
    if body is None or (body.placed.item.folds and not is_lying):
        return False
    sizes = {face.band: abs(ring_area(face.ring)) for face in body.faces}
    outs = [body.placed.out(band) for band, size in sizes.items() if size > LARGE * max(sizes.values())]
    return all((out[2] if is_lying else -out[1]) < -AWAY for out in outs)
