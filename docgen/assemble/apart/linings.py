"""How much of the inner side of a part is seen once something lies behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed
from docgen.geometry.path import ring_area
from docgen.geometry.shapes import Point

ALL_OVER = 0.85  # of its area: what is covered so far has no more than a rim that is seen

Lined = Mapping[Copy, tuple[tuple[Point, ...], ...]]
"""Parts that something lies behind, each with what is covered, by rings on the piece; with none where all of it is."""


def find_lined(bodies: Sequence[Body], is_there: Callable[[Copy, Copy], bool]) -> Lined:
    """What linings, foam and board cover, of those that are there on their hosts."""
    known = {body.copy: body for body in bodies}
    found: dict[Copy, list[tuple[Point, ...]]] = {}
    for body in bodies:
        host = known.get(body.placed.host) if body.placed.is_inner and body.placed.host else None
        if host is not None and is_there(body.copy, host.copy):
            found.setdefault(host.copy, []).extend(_on_host(host.placed, body.placed))
    return {copy: () if _is_covered(known[copy], rings) else tuple(rings) for copy, rings in found.items()}


def _is_covered(body: Body, rings: Sequence[tuple[Point, ...]]) -> bool:
    return sum(abs(ring_area(ring)) for ring in rings) > ALL_OVER * abs(ring_area(body.placed.ring))


def _on_host(host: Placed, cover: Placed) -> Iterator[tuple[Point, ...]]:
    """The rings of what lies behind a part, on the piece of that."""
    bends_with = host.surface.bands == cover.surface.bands
    for band, ring in cover.surface.rings(cover.ring):
        under = host.surface.bands[band if bends_with else band_under(host, cover)]
        yield tuple(host.surface.foot_in_plane(under, cover.surface.point(at, band))[0] for at in ring)
