"""Straps that go through the buckle or the ring of another part: under its far side, and over its bar and that part."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import Placed, Space
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, along

NEAR_MM = 3.0  # off the plane of a strap, what it goes through
ASIDE = 0.25  # of its inside width, at most, that its middle lies beside the middle of a strap

Ring = tuple[Copy, str]
"""A part with the name of the hardware in its fold."""


def list_through(space: Space, parts: Iterable[Placed], straps: Container[str]) -> Iterator[tuple[Copy, Ring]]:
    """The straps that go through a buckle by a hole, or lie both under the far side of a ring and over its bar, each with
    that."""
    buckled = {one.part: (one.host, one.takes) for one in space.buckled}
    yield from buckled.items()
    rings = [one for one in space.metal if one.deep_mm and one.shape != "hook"]
    for placed in parts if rings else ():
        if placed.copy.part in straps and placed.copy not in buckled:
            yield from ((placed.copy, (one.part, one.hardware)) for one in rings if _goes_through(placed, one))


def _goes_through(placed: Placed, ring: Metal) -> bool:
    if placed.copy == ring.part:
        return False
    beyond = along(ring.far, ring.way, ring.deep_mm / 2)
    before = along(ring.at, ring.way, -ring.deep_mm / 2)
    return all(_lies_over(placed, at, ASIDE * ring.wide_mm) for at in (beyond, ring.far, ring.at, before))


def _lies_over(placed: Placed, at: Vec, aside_mm: float) -> bool:
    """Whether the middle of a strap lies over a place, or under it."""
    middle = placed.item.box.centre.x
    feet = (placed.surface.foot(band, at) for band in placed.surface.bands)
    near = (foot for foot, off_mm in feet if foot is not None and abs(off_mm) < NEAR_MM)
    return any(abs(foot.x - middle) < aside_mm and is_in_ring(placed.ring, foot) for foot in near)
