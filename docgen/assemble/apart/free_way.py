"""Whether parts can be lifted off others along a straight way: nothing of these is met on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from docgen.assemble.apart.bodies import Body, BodyFace
from docgen.assemble.apart.side import Side
from docgen.assemble.space.placed import LAYER_MM
from docgen.assemble.space.vectors import Vec, inner

AHEAD_MM = 3.0  # what is met no farther on lies on the part: a layer, or what it stands on
STEEP = 0.1  # the cosine between a way and a face that it leads along
ALONGSIDE = 0.99  # and between faces that lie on each other
LAID_INSIDE = ("lies on", "hangs on", "turned out")
INSIDE_MM = 3.0  # from the outline of a layer, where it is in the way of another


def is_free_way(moving: Sequence[Body], still: Sequence[Body], way: Vec, ahead_mm: float = AHEAD_MM) -> bool:
    """Whether no ray along the way, from places on what moves, goes through what stays, nor through a closed fold of it,
    farther on than `ahead_mm`, or a layer nearer that lies along what moves: none on a hidden side, on which what moves
    closes down."""
    across, up = _square(way)
    faces = [(face, _is_wall(body)) for body in still for face in (*body.faces, *body.bridges)]
    sides = [
        (side, face.grain, is_over) for face, is_over in faces if (side := _side(face, across, up, way)) is not None
    ]
    if not sides:
        return True
    for body in moving:
        own_is_over = _is_wall(body)
        for at, grain in _places(body):
            x, y, far = inner(at, across), inner(at, up), inner(at, way)
            for side, its, is_over in sides:
                off_mm = side.near(x, y) - far
                if off_mm > ahead_mm and side.holds(x, y):
                    return False
                is_layer = off_mm > LAYER_MM / 2 and abs(inner(grain, its)) > ALONGSIDE
                if is_over and own_is_over and is_layer and side.depth_at(x, y) > INSIDE_MM:
                    return False
    return True


def _is_wall(body: Body) -> bool:
    """Whether it is no part that lies on the hidden side of another."""
    return body.placed.level >= 0 or body.placed.how not in LAID_INSIDE


def _side(face: BodyFace, across: Vec, up: Vec, way: Vec) -> Side | None:
    """A face as it is seen along the way; None where that leads along it."""
    cosine = inner(face.grain, way)
    if abs(cosine) < STEEP:
        return None
    return Side([(inner(at, across), inner(at, up), inner(at, way)) for at in face.corners], cosine)


def _places(body: Body) -> Iterator[tuple[Vec, Vec]]:
    """The middle of each face, and points between there and its corners, well inside, with the way its grain looks."""
    for face in body.faces:
        count = len(face.corners)
        x, y, z = (sum(axis) / count for axis in zip(*face.corners, strict=True))
        yield (x, y, z), face.grain
        step = max(1, count // 6)
        for cx, cy, cz in (*face.corners[::step], *(_outermost(face.corners) if step > 1 else ())):
            yield (x + (cx - x) * 0.9, y + (cy - y) * 0.9, z + (cz - z) * 0.9), face.grain


def _outermost(corners: Sequence[Vec]) -> Iterator[Vec]:
    """The corners that lie outermost on the eight ways between the axes."""
    for x, y, z in product((1.0, -1.0), repeat=3):
        yield max(corners, key=lambda at: round(at[0] * x + at[1] * y + at[2] * z, 3))


def _square(way: Vec) -> tuple[Vec, Vec]:
    """Two unit vectors at right angles to a way and to each other, so that (across, up, way) is right-handed."""
    x, y, z = way
    least = min(range(3), key=lambda k: abs(way[k]))
    axis = [(0.0, z, -y), (-z, 0.0, x), (y, -x, 0.0)][least]
    long = inner(axis, axis) ** 0.5
    across = axis[0] / long, axis[1] / long, axis[2] / long
    up = y * across[2] - z * across[1], z * across[0] - x * across[2], x * across[1] - y * across[0]
    return across, up


def size_mm(bodies: Sequence[Body]) -> float:
    """The diagonal of the box round some bodies."""
    axes = [*zip(*(at for body in bodies for face in body.faces for at in face.corners), strict=True)]
    return float(sum((max(axis) - min(axis)) ** 2 for axis in axes) ** 0.5)


def bulk_mm3(bodies: Sequence[Body]) -> float:
    """What the box round some bodies holds, each side counted as 1 mm at least."""
    axes = [*zip(*(at for body in bodies for face in body.faces for at in face.corners), strict=True)]
    found = 1.0
    for axis in axes:
        found *= max(max(axis) - min(axis), 1.0)
    return found


def overlap_along(one: Sequence[Body], other: Sequence[Body], way: Vec) -> bool:
    """Whether the boxes round some bodies overlap, seen along a way."""
    for axis in _square(way):
        reach = [
            [inner(at, axis) for body in bodies for face in body.faces for at in face.corners]
            for bodies in (one, other)
        ]
        if min(max(reach[0]), max(reach[1])) - max(min(reach[0]), min(reach[1])) < AHEAD_MM:
            return False
    return True
