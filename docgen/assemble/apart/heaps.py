"""What a step joins: heaps of parts that hung together before it, and the way each of them goes on."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, Group, group_before, step_of
from docgen.assemble.apart.free_way import bulk_mm3, is_free_way, overlap_along, size_mm
from docgen.assemble.apart.ways import list_ways, turn_back, way_off
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import LAYER_MM
from docgen.assemble.space.vectors import Vec, inner
from docgen.classes import dataclass
from docgen.resolve import by_name

ABOUT_AS_LARGE = 1.3
MOST_PARTED = 5  # with linings among them, lifted off what stays: our choice
UP: Vec = (0.0, 0.0, 1.0)
SAME_WAY = 0.99  # and between ways that are one
STEEP = 0.5  # and between a way and up, where it leads down
NOTHING_MM = 1.0  # between the seams of a wall that is folded flat


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """Parts that hang together, and the unit vector along which they are lifted off what they are joined to; `rank` is
    how many of those that go the same way lie beneath. Of a part that lies round
    another, both are its `rings`: it comes off over an end."""

    copies: tuple[Copy, ...]
    way: Vec
    rank: int = 0
    rings: tuple[Copy, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Folding:
    """How a piece lies that is folded part way: the way its `inside` looks where it lies flat, the way from there to what
    stands up, and places of its edges that are to meet."""

    inside: Vec
    stands: Vec
    meets: tuple[tuple[Vec, Vec], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heap:
    """All that hangs together after a step, and did not before: what stays in its place, what is lifted off it, and the
    pairs that are joined: linings with what they lie behind first, then those with what stays. It `leaves` straps that
    hang in rings which come on here. What is `handled` is of it before the step, which joins nothing to it,
    unless it folds that (`folding`)."""

    base: tuple[Copy, ...]
    moved: tuple[Moved, ...]
    bonds: tuple[Bond, ...]
    leaves: frozenset[Copy] = frozenset()
    handled: frozenset[Copy] = frozenset()
    folding: Folding | None = None

    @property
    def new(self) -> frozenset[Copy]:
        """The parts that the step is about."""
        return self.handled.union(copy for bond in self.bonds for copy in (bond.one, bond.other))

    @property
    def copies(self) -> frozenset[Copy]:
        """All that hangs together."""
        return frozenset((*self.base, *(copy for one in self.moved for copy in one.copies)))


class UnsureError(Exception):
    """Why a step cannot be drawn."""


def find_heaps(bodies: Mapping[Copy, Body], bonds: Sequence[Bond], step: int, *, may_rise: bool = True) -> list[Heap]:
    """What a step (from 0) joins, heaps of the same parts once; none where it joins nothing. UnsureError where that is
    not sure; where nothing `may_rise`, also where only straight up is free."""
    copies = [*bodies]
    before, after = group_before(copies, bonds, step), group_before(copies, bonds, step + 1)
    heaps: dict[tuple[str, ...], Heap] = {}
    for group in after:
        parts = [part for part in before if part[0] in group]
        names = tuple(sorted(copy.part for copy in group))
        if len(parts) > 1 and names not in heaps:
            mine = [bond for bond in bonds if bond.step == step and bond.one in group]
            heaps[names] = _read_heap(bodies, parts, mine, may_rise)
            _hold_crowd(heaps[names], bodies)
            _hold_pressed(heaps[names], bodies)
    return list(heaps.values())


def find_fresh(copies: Sequence[Copy], bonds: Sequence[Bond], step: int) -> set[Copy]:
    """All that hangs together once a step has joined some of it."""
    heads = {copy: group[0] for group in group_before(copies, bonds, step) for copy in group}
    fresh = {bond.one for bond in bonds if bond.step == step and heads[bond.one] != heads[bond.other]}
    after = group_before(copies, bonds, step + 1)
    return {copy for group in after if not fresh.isdisjoint(group) for copy in group}


def _hold_crowd(heap: Heap, bodies: Mapping[Copy, Body]) -> None:
    """UnsureError where linings lie between so many parts that these cover each other, or several welts lie on each other
    between two panels, and would be lifted past these."""
    moved = [bodies[copy] for one in heap.moved for copy in one.copies if copy in bodies]
    welts = [one for one in moved if one.placed.how == "lies on" and one.placed.level < 0 and not one.placed.is_inner]
    pairs = ((one, other) for one, other in combinations(welts, 2) if one.placed.host == other.placed.host)
    is_thick = any(overlap_along([one], [other], one.placed.surface.normal()) for one, other in pairs)
    new = [bodies[copy].placed for copy in heap.new if copy in bodies]
    if is_thick and any(one.how == "back to back" for one in new):
        raise UnsureError("several welts come between two panels at once")
    count = max(len(heap.moved) + 1, len(heap.new))
    if any(one.is_inner for one in new) and (len(heap.moved) >= MOST_PARTED or count > MOST_PARTED + 1):
        raise UnsureError(f"{count} parts come together at once, too many for one picture")


def _hold_pressed(heap: Heap, bodies: Mapping[Copy, Body]) -> None:
    """UnsureError where a wall is sewn that lies folded flat between its seams at last, as a bellows: a mere line."""
    for copy in heap.new & bodies.keys():
        pleat = bodies[copy].placed.surface.pleat
        if pleat and abs(pleat[-1][1]) < NOTHING_MM:
            raise UnsureError(f"{bodies[copy].title} is placed as it lies folded flat, and is sewn open")


def find_missing(build: Assembled, lost: Collection[Copy], step: int) -> list[str]:
    """Titles of what a step sews or sets to other parts, and that cannot be drawn."""
    sewn = {copy for once in build.assembly.sewn if step_of(build, once.event) == step for copy in once.sides}
    stacks = [one.stack.parts for one in build.assembly.fastened if step_of(build, one.event) == step]
    held = [copy for copy in lost if copy in sewn or any(copy.part in parts and len(parts) > 1 for parts in stacks)]
    return _titles(build, held)


def find_likeness(build: Assembled, bodies: Mapping[Copy, Body], heap: Heap) -> tuple[object, ...]:
    """How the parts of a heap come together: what joins each to what stays there, and how it lies."""
    seams = by_name(build.seams)
    found = []
    for bond in heap.bonds:
        sides = {side.part: side.edges for side in seams[bond.seam].sides} if bond.seam in seams else {}
        found.append(sorted((_lies(bodies[copy]), sides.get(copy.part, ())) for copy in (bond.one, bond.other)))
    return tuple(sorted(map(repr, found)))


def _lies(body: Body) -> tuple[object, ...]:
    """How a part lies on others; of what stays where it is nothing."""
    placed = body.placed
    return (placed.how, placed.level, body.is_leather) if placed.level or placed.is_free else ("", 0, body.is_leather)


def _titles(build: Assembled, copies: Iterable[Copy]) -> list[str]:
    return sorted({build.part_titles[copy.part] for copy in copies})


def _read_heap(bodies: Mapping[Copy, Body], parts: Sequence[Group], bonds: Sequence[Bond], may_rise: bool) -> Heap:
    fresh = [bond for bond in bonds if not any(bond.one in part and bond.other in part for part in parts)]
    left_out = find_hung_apart(bodies, parts, fresh)
    fresh = [bond for bond in fresh if not (bond.is_hung and bond.other in left_out)]
    parts = _hang_together(parts, fresh)
    here = frozenset(copy for part in parts for copy in part)
    base = max(parts, key=lambda part: _weight(bodies, part, here))
    fresh.sort(key=lambda bond: _order(bodies, bond, base))
    moved = _lift(bodies, parts, base, fresh, may_rise)
    there = {*base, *(copy for one in moved for copy in one.copies)}
    return Heap(base=base, moved=tuple(moved), bonds=tuple(fresh), leaves=left_out - there)


def find_hung_apart(bodies: Mapping[Copy, Body], parts: Sequence[Group], bonds: Sequence[Bond]) -> frozenset[Copy]:
    """Straps whose rings come on from several sides in this step, or that go on with another strap from one ring to the
    next: they hang there once it is done, and are not lifted with them."""
    hung: dict[Copy, list[Copy]] = {}
    for bond in bonds:
        if bond.is_hung:
            hung.setdefault(bond.other, []).append(bond.one)
    group = {copy: part for part in parts for copy in part}
    apart = set()
    for strap, tabs in hung.items():
        hosts = [(bodies[tab].placed.host, tab) for tab in tabs]
        coming = [
            (host, tab) for host, tab in hosts if host in group and tab in group and group[host] is not group[tab]
        ]
        ways = {_rounded(way_off(bodies[host].placed, bodies[tab].placed)) for host, tab in coming if host in bodies}
        if coming and (len(ways) > 1 or len(coming) < len(tabs) or len(tabs) == 1):
            apart.add(strap)
    return frozenset(apart)


def _rounded(way: Vec) -> Vec:
    return round(way[0], 3), round(way[1], 3), round(way[2], 3)


def _hang_together(parts: Sequence[Group], bonds: Sequence[Bond]) -> list[Group]:
    """The parts of a heap, straps with what holds the rings in which they hang: they go on together."""
    found = [*parts]
    for bond in bonds:
        one, other = (next(part for part in found if copy in part) for copy in (bond.one, bond.other))
        if bond.is_hung and one is not other:
            found = [part for part in found if part not in (one, other)] + [(*one, *other)]
    return found


def _weight(bodies: Mapping[Copy, Body], part: Group, here: frozenset[Copy]) -> tuple[bool, int, int, int]:
    """What stays in its place: the largest of outer parts, but no strap; of two about as large the bulkiest. A lining is
    one as long as what it lines is not `here`. Straps in its rings make it no larger."""
    found = [bodies[copy] for copy in part]
    outer = [body for body in found if not body.placed.is_inner or body.placed.host not in here]
    if not outer:
        return False, 0, 0, len(part)
    pieces = [body for body in outer if not body.is_strap]
    is_piece, outer = bool(pieces), pieces or outer
    return is_piece, round(math.log(size_mm(outer) + 1, ABOUT_AS_LARGE)), round(bulk_mm3(outer)), len(part)


def _lift(
    bodies: Mapping[Copy, Body], parts: Sequence[Group], base: Group, bonds: Sequence[Bond], may_rise: bool
) -> list[Moved]:
    """Each part of the heap, one joined to the other from the base on, along the way that is free."""
    moved: list[Moved] = []
    done: dict[Copy, Vec] = dict.fromkeys(base, (0.0, 0.0, 0.0))
    left = sorted((part for part in parts if part != base), key=lambda part: _level(bodies, part))
    while left:
        found = [(part, pair) for part in left for pair in bonds if _touches(pair, part, done)]
        if not found:
            break
        part, pair = next((one for one in found if not _are_walls(bodies, one[1])), found[0])
        ring = _find_ring(bodies, pair)
        way = _way_off_end(bodies, ring, part, done) if ring else _find_way(bodies, pair, part, done, may_rise)
        moved.append(Moved(copies=part, way=way, rings=ring or ()))
        done |= dict.fromkeys(part, way)
        left.remove(part)
    return [replace(one, rank=_rank(bodies, one, moved)) for one in moved]


def _find_ring(bodies: Mapping[Copy, Body], pair: Bond) -> tuple[Copy, Copy] | None:
    """A ring, and the one that lies round it: it bends as that does."""
    for host, guest in ((pair.one, pair.other), (pair.other, pair.one)):
        one, other = bodies[host].placed, bodies[guest].placed
        is_on = other.host == host and other.how == "lies on"
        if is_on and one.item.is_ring and other.item.is_ring and one.surface.bands == other.surface.bands:
            return host, guest
    return None


def _way_off_end(
    bodies: Mapping[Copy, Body], ring: tuple[Copy, Copy], part: Sequence[Copy], done: Mapping[Copy, Vec]
) -> Vec:
    """The way over the end of a ring that is nearer to what lies round it, else over the other."""
    host, guest = (bodies[copy] for copy in ring)
    axis = host.placed.surface.aside
    low, high, begin, end = (
        pick(inner(at, axis) for face in body.faces for at in face.corners)
        for body in (host, guest)
        for pick in (min, max)
    )
    is_at_end = high - end < begin - low
    sign = 1.0 if guest.copy in part else -1.0
    still = [bodies[copy] for copy in done if not bodies[copy].placed.is_inner]
    for to_end in (is_at_end, not is_at_end):
        way = axis if to_end == (sign > 0) else turn_back(axis)
        if is_free_way([bodies[copy] for copy in part], still, way):
            return way
    raise UnsureError("no way is free along which its parts come together")


def _order(bodies: Mapping[Copy, Body], bond: Bond, base: Group) -> tuple[bool, bool, bool, bool]:
    """Linings first, then what is joined to what stays, of that first what was placed by it; two walls of one seam, which
    go by the panel between them, last."""
    one, other = bodies[bond.one].placed, bodies[bond.other].placed
    is_placed_by = one.host == bond.other or other.host == bond.one
    is_off_base = bond.one not in base and bond.other not in base
    return not _is_lining(bodies, bond), _are_walls(bodies, bond), is_off_base, not is_placed_by


def _are_walls(bodies: Mapping[Copy, Body], bond: Bond) -> bool:
    """Whether two parts are walls of one seam, on both sides of the panel between them."""
    one, other = bodies[bond.one].placed, bodies[bond.other].placed
    is_placed_by = one.host == bond.other or other.host == bond.one
    return one.how == other.how == "stands on" and not is_placed_by


def _is_lining(bodies: Mapping[Copy, Body], bond: Bond) -> bool:
    """Whether one of two parts lies behind the other, and goes on with that."""
    one, other = bodies[bond.one].placed, bodies[bond.other].placed
    return (one.is_inner and one.host == bond.other) or (other.is_inner and other.host == bond.one)


def _touches(pair: Bond, part: Sequence[Copy], done: Mapping[Copy, Vec]) -> bool:
    return (pair.one in done and pair.other in part) or (pair.other in done and pair.one in part)


def _rank(bodies: Mapping[Copy, Body], one: Moved, moved: Sequence[Moved]) -> int:
    """How many heights of what goes the same way are beneath it, of what it comes to lie over."""
    own, mine = [bodies[copy] for copy in one.copies], _height(bodies, one)
    under = {
        high
        for other in moved
        if other is not one
        and inner(one.way, other.way) > SAME_WAY
        and (high := _height(bodies, other)) < mine
        and overlap_along(own, [bodies[copy] for copy in other.copies], one.way)
    }
    return len(under)


def _height(bodies: Mapping[Copy, Body], one: Moved) -> float:
    """How far along its way a part begins where it lies, as layers are drawn apart; a wall stands on what lies there; a
    strap begins where it is held."""
    is_wall = all(
        bodies[copy].placed.how == "stands on" or bodies[copy].placed.host in one.copies for copy in one.copies
    )
    heights = [high for copy in one.copies for high in _heights(bodies[copy], one.way)]
    return round((min(heights) + max(heights)) / 2 if is_wall else min(heights), 2)


def _heights(body: Body, way: Vec) -> Iterator[float]:
    if body.is_strap:
        held = body.held_band
        lift = body.placed.lift_in_plane(held)
        yield inner(body.placed.surface.point(body.placed.anchor, held), way) + inner(lift, way) * LAYER_MM
    else:
        yield from (inner(at, way) for face in body.faces for at in face.corners)


def _level(bodies: Mapping[Copy, Body], part: Sequence[Copy]) -> int:
    return min(abs(bodies[copy].placed.level) for copy in part)


def _find_way(
    bodies: Mapping[Copy, Body], pair: Bond, part: Sequence[Copy], done: Mapping[Copy, Vec], may_rise: bool
) -> Vec:
    """The way along which a part is lifted off what is there already: at right angles to the face where both meet, else
    up unless that leads against it; the first that is free of what does not go the same way, linings left out, or leads
    back from what it lies on, and ends half-way."""
    outer = [(bodies[copy], other) for copy, other in done.items() if not bodies[copy].placed.is_inner]
    moving = [bodies[copy] for copy in part]
    ways = [*list_ways(bodies, pair, part)]
    ways += [UP] if may_rise and inner(ways[0], UP) > -STEEP else []
    held = pair.one if pair.one in done else pair.other
    folded = [bodies[held]] if bodies[held].bridges else []
    for way in ways:
        if inner(done[held], way) < -SAME_WAY:
            return way
        if not is_free_way(moving, folded, way, LAYER_MM / 2):
            continue  # it lies between the halves of a fold
        if is_free_way(moving, [body for body, other in outer if inner(other, way) < SAME_WAY], way):
            return way
    raise UnsureError("no way is free along which its parts come together")
