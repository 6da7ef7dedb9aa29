"""How much of the inner side of a part is seen once something lies behind it, and whether a flesh side is seen then."""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterator, Mapping, Sequence
from dataclasses import field

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.apart.through import name_of_row
from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.space.inside_layers import is_lining, lies_inside
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import box_round, room_holds
from docgen.assemble.space.vectors import Vec, apart
from docgen.classes import dataclass
from docgen.geometry.path import ring_area
from docgen.geometry.shapes import Point

OPEN_MM = 12.0  # a hole behind another lies no farther off, with the layers between drawn apart
ALL_OVER = 0.85  # of its area: what is covered so far has no more than a rim that is seen

Rings = tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lined:
    """Parts that something lies behind, each with what is `covered`, by rings on the piece; with none where all of it is.
    Of those that `show_flesh` it is leather, its flesh side in sight. `beneath` are the rows of stitches on each that do
    not go through what lies behind it; what is `buried` lies between a part and what lines that, or between two that are
    sewn on each other and lined, with all that is on it;
    `open_at` are the places at which what lies behind each has holes."""

    covered: Mapping[Copy, Rings]
    show_flesh: frozenset[Copy] = frozenset()
    beneath: Mapping[Copy, frozenset[str]] = field(default_factory=dict)
    buried: frozenset[Copy] = frozenset()
    open_at: Mapping[Copy, tuple[Vec, ...]] = field(default_factory=dict)

    def shut_holes(self, body: Body) -> frozenset[int]:
        """The holes of a part, by their numbers, that are not seen on its inner side."""
        if not self.hides(body.copy) or body.is_strap:
            return frozenset()
        near = self.open_at.get(body.copy, ())
        holes = enumerate(body.holes)
        return frozenset(k for k, one in holes if not any(apart(one.middle, at) < OPEN_MM for at in near))

    def hides(self, copy: Copy) -> bool:
        """Whether nothing of the inner side of a part is seen."""
        return self.covered.get(copy) == ()

    def hidden_rows(self, copy: Copy) -> frozenset[str]:
        """The rows on a part that are not seen on its inner side."""
        return self.beneath.get(copy, frozenset()) if self.hides(copy) else frozenset()

    def is_hatched(self, body: Body) -> bool:
        """Whether a flesh side of it is in sight: its outer one, else its own inner one or that of what lines it."""
        if not body.placed.item.is_grain_out:
            return body.is_leather
        return body.copy in self.show_flesh or (body.is_leather and not self.hides(body.copy))

    def bare(self, body: Body) -> Rings:
        """Where on a part that is hatched it is not."""
        is_seen = body.copy in self.show_flesh or not body.placed.item.is_grain_out
        return () if is_seen else self.covered.get(body.copy, ())


def find_lined(
    made: Assembly, bodies: Sequence[Body], is_there: Callable[[Copy, Copy], bool], doubled: Collection[Copy]
) -> Lined:
    """What linings, foam and board cover, of those that are there on their hosts; of `doubled` parts all of it is."""
    known = {body.copy: body for body in bodies}
    found: dict[Copy, list[tuple[Point, ...]]] = {}
    behind: dict[Copy, list[Body]] = {}
    for body in bodies:
        host = known.get(body.placed.host) if body.placed.is_inner and body.placed.host else None
        if host is not None and is_there(body.copy, host.copy):
            found.setdefault(host.copy, []).extend(_on_host(host.placed, body.placed))
            behind.setdefault(host.copy, []).append(body)
    covered: dict[Copy, Rings] = {
        copy: () if _is_covered(known[copy], rings) else tuple(rings) for copy, rings in found.items()
    }
    fleshy = frozenset(copy for copy, covers in behind.items() if copy not in doubled and all(_list_fleshy(covers)))
    beneath = {
        copy: frozenset(_rows_beneath(made, copy, [one.copy.part for one in covers])) for copy, covers in behind.items()
    }
    linings = [one for covers in behind.values() for one in covers]
    pairs = [
        (one.copy, one.placed.host) for one in bodies if one.placed.how == "back to back" and one.placed.host in known
    ]
    shut = frozenset(copy for pair in pairs if is_there(*pair) for copy in pair)
    buried = frozenset((*_list_buried(made, known, linings), *_list_shut_in(known, linings, shut)))
    return Lined(
        covered=covered | dict.fromkeys(doubled, ()),
        show_flesh=fleshy,
        beneath=beneath,
        buried=buried,
        open_at={copy: tuple(_list_open(known[copy], covers)) for copy, covers in behind.items()},
    )


def _list_open(host: Body, covers: Sequence[Body]) -> Iterator[Vec]:
    """The holes in what lies behind a part, and its own that are there for that too."""
    for cover in covers:
        yield from (hole.middle for hole in cover.holes)
        names = {cover.copy.part, *(strip.piece.name for strip in cover.placed.item.strips)}
        for hole in host.placed.item.holes:
            if not names.isdisjoint(hole.through):
                yield host.point(hole.at, host.placed.surface.band_of(hole.at))


def _list_buried(made: Assembly, bodies: Mapping[Copy, Body], linings: Sequence[Body]) -> Iterator[Copy]:
    """What is laid on the inner side of a part before one of its linings is, or on the hidden side of that, and is no
    larger than it; and what lies on such parts."""
    for lining in (one for one in linings if is_lining(one.placed)):
        host, room = lining.placed.host or lining.copy, box_round(_points_of(lining))
        order = *made.laid_order(host.part, lining.copy.part), 1
        for copy, body in bodies.items():
            is_under = body.placed.host == host and (*made.laid_order(host.part, copy.part), 0) < order
            is_between = lies_inside(body.placed) and (is_under or body.placed.host == lining.copy)
            if is_between and not is_lining(body.placed) and room_holds(room, box_round(_points_of(body))):
                yield from (one for one in bodies if one == copy or _hangs_on(bodies, one, copy))


def _list_shut_in(bodies: Mapping[Copy, Body], linings: Sequence[Body], shut: Collection[Copy]) -> Iterator[Copy]:
    """What lies on the lining of a part that is sewn back to back with another: between the two, and no larger."""
    for lining in (one for one in linings if one.placed.host in shut):
        room = box_round(_points_of(lining))
        for copy, body in bodies.items():
            is_on = body.placed.host == lining.copy and body.placed.how == "lies on"
            if is_on and not body.is_strap and room_holds(room, box_round(_points_of(body))):
                yield from (one for one in bodies if one == copy or _hangs_on(bodies, one, copy))


def _hangs_on(bodies: Mapping[Copy, Body], copy: Copy, host: Copy) -> bool:
    """Whether a part is placed by another, or by one that is."""
    for _ in range(len(bodies)):
        its = bodies[copy].placed.host
        if its is None or its not in bodies:
            return False
        if its == host:
            return True
        copy = its
    return False


def _list_fleshy(covers: Sequence[Body]) -> Iterator[bool]:
    """Of each that lies behind a part, and is seen, whether its flesh side is: foam under a lining is not."""
    boxes = [box_round(_points_of(body)) for body in covers]
    for body, box in zip(covers, boxes, strict=True):
        over = (its for one, its in zip(covers, boxes, strict=True) if one.placed.level < body.placed.level)
        if not any(room_holds(its, box) for its in over):
            yield body.is_leather and not body.placed.item.is_grain_out


def _points_of(body: Body) -> list[Vec]:
    """The corners of a part, not lifted."""
    return [at for _, corners in body.placed.sheets(body.placed.ring) for at in corners]


def _rows_beneath(made: Assembly, host: Copy, behind: Container[str]) -> Iterator[str]:
    """The rows on a part that go through nothing behind it."""
    for once in (once for once in made.sewn if host in once.sides):
        if not any(part in behind for part in once.stack.parts):
            yield once.seam
    for run in (run for run in made.runs if host.part in run.stack.parts):
        if not any(part in behind for part in run.stack.parts):
            yield name_of_row(run)


def _is_covered(body: Body, rings: Sequence[tuple[Point, ...]]) -> bool:
    return sum(abs(ring_area(ring)) for ring in rings) > ALL_OVER * abs(ring_area(body.placed.ring))


def _on_host(host: Placed, cover: Placed) -> Iterator[tuple[Point, ...]]:
    """The rings of what lies behind a part, on the piece of that."""
    bends_with = host.surface.bands == cover.surface.bands
    for band, ring in cover.surface.rings(cover.ring):
        under = host.surface.bands[band if bends_with else band_under(host, cover)]
        yield tuple(host.surface.foot_in_plane(under, cover.surface.point(at, band))[0] for at in ring)
