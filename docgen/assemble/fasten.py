"""Hardware in its place: when each is set, and through which layers that lie there at that time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy, Fastened, Half, Stack
from docgen.assemble.bench import EVERY, Bench
from docgen.assemble.goods import Goods
from docgen.assemble.halves import SNAP, find_half, other_halves
from docgen.assemble.landing import Slot
from docgen.assemble.sewn_round import is_doubled
from docgen.assemble.strap_ends import end_layers, thin_closings
from docgen.assemble.under_posts import Named, column, spots_on
from docgen.classes import dataclass
from docgen.geometry.nearby import near_finder
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.problems import Place
from docgen.resolve import Hole, Layer, Piece, Strap, StrapEnd, closes_end, closing_spots
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM

HELD_ALONE = frozenset({SNAP, "other"})  # set in one part, unless that says what it goes through


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """One place that takes hardware: a hole of a copy of a piece, or the turned end of a strap."""

    hardware: str
    copy: Copy
    hole: Hole | None = None
    end: StrapEnd | None = None

    @property
    def around(self) -> str:
        return self.end.around if self.end else ""


def find_posts(goods: Goods) -> Iterator[Post]:
    """Every place that takes hardware, holes that meet through a fold or a hem once, as those that another part's hole
    for the same hardware names."""
    known = {item.name for item in goods.build.hardware}
    told = list_told(goods)
    for piece in goods.cut.values():
        for hole in _own_holes(goods, piece):
            if hole.takes in known and (hole.through or (piece.name, hole.takes) not in told):
                yield from (Post(hardware=hole.takes, copy=copy, hole=hole) for copy in goods.copies(piece.name))
    for strap in goods.straps.values():
        for end in strap.ends:
            if end.takes in known:
                yield from (Post(hardware=end.takes, copy=copy, end=end) for copy in goods.copies(strap.name))


def _own_holes(goods: Goods, piece: Piece) -> list[Hole]:
    """Holes that take hardware, without those that a fold lays on one before them, or so near that one is meant."""
    strap = goods.straps.get(piece.name)
    passed: set[int] = set()
    holes = piece.marks.holes
    find = near_finder([hole.at for hole in holes], OTHER_HOLE_MM)
    found = []
    for index, hole in enumerate(holes):
        if index not in passed and hole.takes and not (strap and closes_end(strap, hole)):
            found.append(hole)
            for spot in goods.folded_spots(piece, hole.at, with_hems=True):
                near = [k for k in find(spot) if k != index and holes[k].takes == hole.takes]
                passed |= {min(near, key=lambda k: distance(holes[k].at, spot))} if near else set()
    return found


def list_told(goods: Goods) -> set[tuple[str, str]]:
    """Pieces and the hardware for which they have as many holes as holes of others name them for it: both are one place,
    which is told with the other. The two halves of a snap are two."""
    items = {item.name for item in goods.build.hardware if item.kind != SNAP}
    named: Counter[tuple[str, str]] = Counter()
    naming: dict[tuple[str, str], set[str]] = {}
    for piece in goods.pieces.values():
        for hole in _own_holes(goods, piece) if any(hole.through for hole in piece.marks.holes) else ():
            strips = {strip.name for name in hole.through for strip in _cut_as(goods, name)} - {piece.name}
            for place in ((name, hole.takes) for name in strips if hole.takes in items):
                named[place] += len(goods.copies(piece.name))
                naming.setdefault(place, set()).add(piece.name)
    return {place for place, count in named.items() if count == _count_own(goods, *place, naming[place])}


def _cut_as(goods: Goods, part: str) -> tuple[Piece, ...]:
    """The pieces that a part is cut as: itself, the strips of a join, or a strap."""
    return (goods.straps[part].piece,) if part in goods.straps else goods.strips(part)


def _count_own(goods: Goods, name: str, takes: str, naming: set[str]) -> int:
    """How many holes a part has for some hardware that others name it for, without those for what else lands there."""
    piece = goods.cut[name]
    landed = [it.outline for it in piece.marks.landings if it.piece not in naming]
    landed += [it.outline for it in piece.strap_landings if it.strap not in naming]
    own = [hole for hole in _own_holes(goods, piece) if hole.takes == takes and not hole.through]
    own = [hole for hole in own if not any(goods.is_within(path, hole.at) for path in landed)]
    return len(own) * len(goods.copies(name))


def _is_mate(twin: Hole, hole: Hole, spots: Sequence[Point]) -> bool:
    return twin.takes == hole.takes and any(distance(twin.at, spot) <= HOLES_MEET_MM for spot in spots)


def pinned_there(goods: Goods, post: Post, slots: Mapping[str, Sequence[Slot]]) -> set[str]:
    """Pieces and straps that land on the piece of a post, with a hole of their own there for the same hardware, or for
    what comes."""
    if post.hole is None or _kind(goods, post) == SNAP:
        return set()
    hosted = ((name, slot) for name, found in slots.items() for slot in found if slot.host.part == post.copy.part)
    return {name for name, slot in hosted if _has_hole_at(goods, name, slot, post.hole)}


def _has_hole_at(goods: Goods, name: str, slot: Slot, hole: Hole) -> bool:
    piece = goods.cut[name]
    laid = ((own, at) for own in piece.marks.holes for at in (own.at, *goods.folded_spots(piece, own.at)))
    found = ((own, spots_on(goods, slot.host, slot.lying, at)) for own, at in laid)
    return any(
        own.takes in ("", hole.takes) and _is_mate(hole, replace(own, takes=hole.takes), spots) for own, spots in found
    )


def set_posts(
    goods: Goods,
    bench: Bench,
    posts: Sequence[Post],
    handled: frozenset[str],
    slots: Mapping[str, Sequence[Slot]],
    event: int,
    told: Container[tuple[str, str]],
) -> Iterator[Fastened]:
    """Posts that one event sets, with these parts in hand; those of which the part beneath has the same hole are told with
    that part, unless that is itself `told` with another."""
    for post in posts:
        _hold_together(goods, bench, post, handled, slots)
    for post in posts:
        if post.hole is None:
            yield from _set_end(goods, bench, post, slots, event)
        elif not _is_told_beneath(goods, bench, post, told):
            yield from _set_post(goods, bench, post, event)


def _hold_together(
    goods: Goods, bench: Bench, post: Post, handled: frozenset[str], slots: Mapping[str, Sequence[Slot]]
) -> None:
    """What a post itself fastens: a part that no seam holds in its place, or both have the hole, or the step that sets
    it handles both."""
    if post.hole is None or _kind(goods, post) == SNAP:
        return
    pinned = [name for name in pinned_there(goods, post, slots) if name in handled]
    for name in dict.fromkeys((*post.hole.through, *sorted(pinned))):
        for slot in slots.get(name, ()):
            if slot.copy is not None and slot.host in (post.copy, Copy(post.copy.part, EVERY)):
                bench.lay(slot.host, slot.lying)
    for slot in slots.get(post.copy.part, ()):
        names_both = {slot.host.part, post.copy.part} <= handled and _kind(goods, post) not in HELD_ALONE
        if slot.copy == post.copy and (not slot.seams or names_both or _has_mate(goods, slot, post.hole)):
            bench.lay(slot.host, slot.lying)


def _has_mate(goods: Goods, slot: Slot, hole: Hole) -> bool:
    host = goods.pieces[slot.host.part]
    piece = goods.cut.get(slot.lying.copy.part)
    own = (hole.at, *(goods.folded_spots(piece, hole.at) if piece else ()))
    spots = [spot for at in own for spot in spots_on(goods, slot.host, slot.lying, at)]
    return any(_is_mate(other, hole, spots) for other in host.marks.holes)


def _is_fast_on(goods: Goods, bench: Bench, name: str, model: str) -> bool:
    """Whether a piece of the shape of another is sewn to it all round by now."""
    return is_doubled(goods, name, model) and bench.is_sewn(Copy(name), Copy(model))


def _is_told_beneath(goods: Goods, bench: Bench, post: Post, told: Container[tuple[str, str]]) -> bool:
    assert post.hole is not None
    is_snap, model = _kind(goods, post) == SNAP, goods.cut[post.copy.part].model
    if is_snap and model in goods.pieces and _is_fast_on(goods, bench, post.copy.part, model):
        return any(hole.takes == post.hardware for hole in goods.pieces[model].marks.holes)
    return any(
        _has_mate(goods, Slot(host=host, lying=lying, copy=post.copy, seams=()), post.hole)
        for host, lying in bench.under(post.copy)
        if host.part in goods.pieces and (lying.is_cover or not is_snap) and (host.part, post.hardware) not in told
    )


def _kind(goods: Goods, post: Post) -> str:
    return next(item.kind for item in goods.build.hardware if item.name == post.hardware)


def _set_post(goods: Goods, bench: Bench, post: Post, event: int) -> Iterator[Fastened]:
    assert post.hole is not None
    is_snap = _kind(goods, post) == SNAP
    layers = column(
        goods, bench, post.copy, post.hole.at, is_own=is_snap or _is_told_off(goods, bench, post, post.hole)
    )
    half = find_half(goods, post.hardware, post.copy.part, post.hole) if is_snap else ""
    other = other_halves(goods, post.hardware, post.copy.part, post.hole) if is_snap else []
    doubled = [name for name in goods.pieces if is_snap and _is_fast_on(goods, bench, name, post.copy.part)]
    doubled = [name for name in doubled if name not in post.hole.through]
    named = [one for one in (post.copy.part, *post.hole.through, *doubled) if one not in other]
    for index, name in enumerate(named):  # what its own hole names besides is one more of it
        if not _is_there(goods, name, named[: index + 1].count(name), layers):
            there = {copy for copy, _ in layers}  # a lining on which the part of the hole itself lies among them
            layers += [one for one in _through(goods, bench, name, post) if one[0].part == name or one[0] not in there]
    bench.pin([copy for copy, _ in layers])
    yield _fastened(post, layers, event, half)
    for name in other:
        if not _has_hole(goods, name, post.hardware):
            stud = _through(goods, bench, name, post)
            yield replace(_fastened(post, stud, event, "stud"), part=name)


def _is_told_off(goods: Goods, bench: Bench, post: Post, hole: Hole) -> bool:
    """Whether a hole names what it goes through, and that is not what its part lies on, which others of it name: it is
    meant for where the part reaches beyond that."""
    hosts = {host.part for host, lying in bench.under(post.copy) if not lying.is_cover}
    others = {name for one in goods.cut[post.copy.part].marks.holes if one.takes == hole.takes for name in one.through}
    return bool(hole.through) and hosts.isdisjoint(hole.through) and not hosts.isdisjoint(others)


def _is_there(goods: Goods, name: str, times: int, layers: Named) -> bool:
    """Whether a part that is named so often lies there as often already: a folded one does at once, and a join with any
    strip of it, or the other way round."""
    as_named = {name, *goods.strips_of_join(name), *goods.joined_strips.get(name, ())}
    return sum(copy.part in as_named for copy, _ in layers) >= times


def _has_hole(goods: Goods, part: str, hardware: str) -> bool:
    return any(hole.takes == hardware for piece in _cut_as(goods, part) for hole in piece.marks.holes)


def _through(goods: Goods, bench: Bench, name: str, post: Post) -> Named:
    """A part that a hole names besides, as thick as it is at its own holes for that, and what lines it: each of its layers
    where it is folded."""
    assert post.hole is not None
    if name not in goods.counts:
        return []
    copy = Copy(name, min(post.copy.number, goods.counts[name]))
    own = goods.layers_for(name, post.hole.diameter_mm, post.hardware)
    times = len(own) if any(not fold.is_open for piece in goods.strips(name) for fold in piece.marks.folds) else 1
    linings = [item.copy for item in bench.lying_on(copy) if item.is_cover]
    return [*((copy, layer) for layer in own), *((one, goods.whole_layer(one.part)) for one in linings * times)]


def _set_end(
    goods: Goods, bench: Bench, post: Post, slots: Mapping[str, Sequence[Slot]], event: int
) -> Iterator[Fastened]:
    """What closes the turned end of a strap: through the strap twice, with its lining between, apart where it is skived;
    and through what it lies on, where that has a hole for it. Of a snap the cap through what lies back alone, and the stud
    through the rest, so that it opens."""
    strap, end = goods.straps[post.copy.part], post.end
    assert end is not None
    thin = thin_closings(strap, end)
    beneath = _beneath_end(goods, bench, post, slots)
    for number, turned_mm in ((end.number - thin, None), (thin, end.skive.to_mm if end.skive else None)):
        if number:
            own = [(post.copy, layer) for layer in end_layers(goods, strap, turned_mm)]
            halves: list[tuple[Named, Half]] = [([*own, *beneath], "")]
            if _kind(goods, post) == SNAP:
                halves = [(own[-1:], "cap"), ([*own[:-1], *beneath], "stud")]
            for layers, half in halves:
                made = _fastened(post, layers, event, half)
                yield replace(made, count=number, around=end.around, place=end.place)


def _beneath_end(goods: Goods, bench: Bench, post: Post, slots: Mapping[str, Sequence[Slot]]) -> Named:
    """What lies at a hole of what a turned end lies on, where that is beneath all that closes it."""
    strap = goods.straps[post.copy.part]
    which = next(k for k, end in enumerate(strap.ends) if end is post.end)
    spots = closing_spots(strap, which)
    for slot in slots.get(strap.name, ()):
        if slot.copy != post.copy or slot.host.part not in goods.pieces:
            continue
        holes = [
            hole
            for spot in spots
            for at in spots_on(goods, slot.host, slot.lying, _on_top(strap, which, spot))[:1]
            for hole in goods.pieces[slot.host.part].marks.holes
            if hole.takes in ("", post.hardware) and distance(hole.at, at) <= HOLES_MEET_MM
        ]
        if holes and len(holes) == len(spots):
            bench.lay(slot.host, slot.lying)
            host = slot.host._replace(number=max(slot.host.number, 1))
            found = column(goods, bench, host, holes[0].at, is_own=True)
            return [named for named in found if named[0].part != strap.name]
    return []


def _on_top(strap: Strap, which: int, spot: Point) -> Point:
    """Where what closes a turned end goes through the layer that does not lie back."""
    along_mm = 2 * strap.ends[which].fold_mm - spot.y
    return Point(spot.x, strap.cut_length_mm - along_mm if which else along_mm)


def _fastened(post: Post, layers: Sequence[tuple[Copy, Layer]], event: int, half: Half = "") -> Fastened:
    stack = Stack(
        layers=tuple(layer for _, layer in layers),
        usual_mm=sum(layer.thickness_mm for _, layer in layers),
        thinnest_mm=sum(layer.least_mm for _, layer in layers),
        thickest_mm=sum(layer.most_mm for _, layer in layers),
    )
    place = post.hole.place if post.hole else Place()
    return Fastened(
        hardware=post.hardware, part=post.copy.part, count=1, event=event, stack=stack, half=half, place=place
    )


def group_alike(found: Sequence[Fastened]) -> tuple[Fastened, ...]:
    """Alike ones as one, with their number, at the place of the first."""
    alike: dict[object, list[Fastened]] = {}
    for one in found:
        alike.setdefault((one.event, one.hardware, one.part, one.half, one.around, one.stack), []).append(one)
    groups = alike.values()
    return tuple(_as_one(group) for group in groups)


def _as_one(group: Sequence[Fastened]) -> Fastened:
    places = tuple(dict.fromkeys(one.place for one in group))
    return replace(group[0], count=sum(one.count for one in group), places=places)
