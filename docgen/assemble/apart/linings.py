"""How much of the inner side of a part is seen once something lies behind it, and whether a flesh side is seen then."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed
from docgen.classes import dataclass
from docgen.geometry.path import ring_area
from docgen.geometry.shapes import Point

ALL_OVER = 0.85  # of its area: what is covered so far has no more than a rim that is seen

Rings = tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lined:
    """Parts that something lies behind, each with what is `covered`, by rings on the piece; with none where all of it is.
    Of those that `show_flesh` it is leather, its flesh side in sight."""

    covered: Mapping[Copy, Rings]
    show_flesh: frozenset[Copy] = frozenset()

    def hides(self, copy: Copy) -> bool:
        """Whether nothing of the inner side of a part is seen."""
        return self.covered.get(copy) == ()

    def is_hatched(self, body: Body) -> bool:
        """Whether a flesh side of it is in sight: its outer one, else its own inner one or that of what lines it."""
        if not body.placed.item.is_grain_out:
            return body.is_leather
        return body.copy in self.show_flesh or (body.is_leather and not self.hides(body.copy))

    def bare(self, body: Body) -> Rings:
        """Where on a part that is hatched it is not."""
        is_seen = body.copy in self.show_flesh or not body.placed.item.is_grain_out
        return () if is_seen else self.covered.get(body.copy, ())


def find_lined(bodies: Sequence[Body], is_there: Callable[[Copy, Copy], bool], doubled: Collection[Copy]) -> Lined:
    """What linings, foam and board cover, of those that are there on their hosts; of `doubled` parts all of it is."""
    known = {body.copy: body for body in bodies}
    found: dict[Copy, list[tuple[Point, ...]]] = {}
    sides: dict[Copy, set[bool]] = {}
    for body in bodies:
        host = known.get(body.placed.host) if body.placed.is_inner and body.placed.host else None
        if host is not None and is_there(body.copy, host.copy):
            found.setdefault(host.copy, []).extend(_on_host(host.placed, body.placed))
            sides.setdefault(host.copy, set()).add(body.is_leather and not body.placed.item.is_grain_out)
    covered: dict[Copy, Rings] = {
        copy: () if _is_covered(known[copy], rings) else tuple(rings) for copy, rings in found.items()
    }
    fleshy = frozenset(copy for copy, shown in sides.items() if shown == {True} and copy not in doubled)
    return Lined(covered=covered | dict.fromkeys(doubled, ()), show_flesh=fleshy)


def _is_covered(body: Body, rings: Sequence[tuple[Point, ...]]) -> bool:
    return sum(abs(ring_area(ring)) for ring in rings) > ALL_OVER * abs(ring_area(body.placed.ring))


def _on_host(host: Placed, cover: Placed) -> Iterator[tuple[Point, ...]]:
    """The rings of what lies behind a part, on the piece of that."""
    bends_with = host.surface.bands == cover.surface.bands
    for band, ring in cover.surface.rings(cover.ring):
        under = host.surface.bands[band if bends_with else band_under(host, cover)]
        yield tuple(host.surface.foot_in_plane(under, cover.surface.point(at, band))[0] for at in ring)
