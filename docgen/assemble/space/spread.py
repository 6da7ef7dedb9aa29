"""What a part folds over is between its halves: beyond a closed fold everything is lifted clear of that."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed, Space, held_band
from docgen.assemble.space.scene import Sheet
from docgen.assemble.space.vectors import Vec, inner, minus, plus, times
from docgen.geometry.path import flatten

TURNED_BACK = -0.999  # the cosine between the faces of two bands that lie on each other
ONE_PLANE_MM = 1.0
OVERLAP_MM = 2.0
FREE = ("begun with", "back to back")  # what lies on its host folds towards that, and nothing but itself is between
Leaf = tuple[Copy, int, tuple[Vec, ...]]
"""A flat part of a placed part: its band and its corners, not lifted."""


class Lifting:
    """The placed parts while they are lifted, in the order in which they came, and their flat parts by their corners in
    space, with the band of each; which of them a seam that is `turned` joins edge to edge, and which are `hung`: linings
    of two parts that are sewn to each other alone. It does not leave this room."""

    def __init__(self, space: Space, turned: Container[str]) -> None:
        parts = {one.copy: one for one in space.parts}
        self.placed = {copy: parts[copy] for copy in space.order}
        self.sheets: dict[Copy, tuple[Sheet, ...]] = {
            copy: tuple(placed.sheets(placed.ring)) for copy, placed in self.placed.items()
        }
        self.turned = {frozenset((gap.one, gap.other)) for gap in space.gaps if gap.seam in turned}
        behind = {one.copy: one.host for one in space.parts if one.is_inner and one.how == "lies behind"}
        sides: dict[str, set[Copy]] = {}
        for gap in space.gaps:
            sides.setdefault(gap.seam, set()).update((gap.one, gap.other))
        pairs = [(one.seam, one.one, one.other) for one in space.gaps if one.one in behind and one.other in behind]
        apart = [pair for seam, *pair in pairs if sides[seam].isdisjoint(behind[copy] for copy in pair)]
        self.hung = {copy for pair in apart if behind[pair[0]] != behind[pair[1]] for copy in pair}


def spread_folds(lifting: Lifting) -> None:
    """Lift what lies beyond each closed fold clear of all that lies between; hosts come before what lies on them."""
    if not any(list_closed(placed) for placed in lifting.placed.values()):
        return
    leaves = [*_leaves(lifting)]
    for copy, placed in lifting.placed.items():
        if placed.how not in FREE or _bends_with_host(lifting, placed):
            continue
        home = placed.surface.band_of(placed.anchor)
        sides = [(bend, bend + 1) if bend >= home else (bend + 1, bend) for bend in list_closed(placed)]
        sewn = find_sewn_leaves(placed, home)
        for near, far in sorted(sides, key=lambda side: (abs(side[0] - home), side[1] not in sewn)):
            bend = min(near, far)
            inward = times(placed.out(near), 1.0 if placed.folds_out(bend) else -1.0)
            _spread(lifting, leaves, copy, (near, far), inward)


def find_sewn_leaves(placed: Placed, middle: int) -> frozenset[int]:
    """The bands of a part that a seam of its own sews to its `middle` one."""
    bands: dict[str, list[frozenset[int]]] = {}
    for mark in placed.item.marks if len(placed.surface.bands) > 2 else ():
        if mark.kind == "stitch":
            legs = placed.surface.split(flatten(mark.path))
            bands.setdefault(mark.name, []).append(frozenset(band for band, _, _ in legs))
    pairs = [
        frozenset().union(*rows) for rows in bands.values() if len(rows) > 1 and all(len(row) == 1 for row in rows)
    ]
    return frozenset(band for pair in pairs if middle in pair and len(pair) == 2 for band in pair) - {middle}


def _bends_with_host(lifting: Lifting, placed: Placed) -> bool:
    return placed.host is not None and lifting.placed[placed.host].surface.bands == placed.surface.bands


def list_closed(placed: Placed) -> list[int]:
    """The bends beyond which a part lies back on itself, each by the band before it."""
    surface = placed.surface
    pairs = ((k, surface.normal(k), surface.normal(k + 1)) for k in range(len(surface.bands) - 1))
    return [k for k, before, after in pairs if inner(before, after) < TURNED_BACK]


def _leaves(lifting: Lifting) -> Iterator[Leaf]:
    for copy in lifting.placed:
        yield from ((copy, band, corners) for band, corners in lifting.sheets[copy])


def _spread(lifting: Lifting, leaves: list[Leaf], copy: Copy, sides: tuple[int, int], inward: Vec) -> None:
    """Lift the far side of a fold, with all that bends with it, beyond what lies on the near side, the way in."""
    (near, far), host = sides, lifting.placed[copy]
    beyond = range(far, len(host.surface.bands)) if far > near else range(far + 1)
    family = {one for one, placed in lifting.placed.items() if placed.surface.bands == host.surface.bands}
    riding = {copy: band for copy, band in _list_riding(lifting, family) if band in beyond}
    moved = [leaf for leaf in leaves if (leaf[0] in family and leaf[1] == far) or riding.get(leaf[0]) == far]
    height = inner(host.lifts[far], inward)
    inside = [leaf for leaf in moved if _height(lifting, leaf, inward) <= height + 1e-6]
    others = [
        leaf
        for leaf in leaves
        if not (leaf[0] in family and leaf[1] in beyond)
        and leaf[0] not in riding
        and any(_overlap(leaf[2], one[2], inward) for one in inside)
    ]
    if not inside or not others:
        return
    short = (
        max(_height(lifting, leaf, inward) for leaf in others)
        + 1
        - min(_height(lifting, leaf, inward) for leaf in inside)
    )
    if short <= 1e-6:
        return
    for one in (*family, *riding):
        placed = lifting.placed[one]
        lifts = (
            plus(lift, times(inward, short)) if k in beyond or one in riding else lift
            for k, lift in enumerate(placed.lifts)
        )
        lifting.placed[one] = replace(placed, lifts=tuple(lifts))


def _list_riding(lifting: Lifting, family: Container[Copy]) -> Iterator[tuple[Copy, int]]:
    """What is held on parts by a hole, with the band of these in which that is."""
    for copy, placed in lifting.placed.items():
        if placed.host in family and copy not in family and placed.host is not None:
            band = held_band(lifting.placed[placed.host], placed)
            if band is not None:
                yield copy, band


def _height(lifting: Lifting, leaf: Leaf, way: Vec) -> float:
    return inner(lifting.placed[leaf[0]].lifts[leaf[1]], way)


def _overlap(one: tuple[Vec, ...], other: tuple[Vec, ...], normal: Vec) -> bool:
    """Whether two flat parts lie in one plane and the upright boxes round them overlap."""
    if any(abs(inner(minus(at, other[0]), normal)) > ONE_PLANE_MM for at in one):
        return False
    shared = 0
    for axis, its in zip(zip(*one, strict=True), zip(*other, strict=True), strict=True):
        gap = min(max(axis), max(its)) - max(min(axis), min(its))
        if gap < -ONE_PLANE_MM:
            return False
        shared += gap > OVERLAP_MM
    return shared > 1
