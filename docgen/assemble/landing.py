"""Where parts come to lie on others, copy by copy, and what holds them there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import replace
from itertools import chain

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import EVERY, Bench, Lying
from docgen.assemble.carried import lay_carried
from docgen.assemble.goods import SAME_SIZE_MM, Goods
from docgen.assemble.stand_off import stands_off
from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.path import transform_path
from docgen.geometry.vector import subtract, translation
from docgen.resolve import Piece, Seam, Step, is_punching
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import is_glue

Handling = tuple[Step, frozenset[str]]  # a step, and every part that it handles
Place = tuple[Copy, int, Lying]  # a host, the end that is held there, how it lies
STUFFED = ("foam", "board")
LAYING = ("glue", "lay", "stick", "put", "cement", "tack", "fix")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A place on a host, and the copy that lands there; None for a place that stays empty. `seams` hold it there."""

    host: Copy
    lying: Lying
    copy: Copy | None
    seams: tuple[str, ...]


def find_slots(goods: Goods, *, is_off: bool = False) -> dict[str, tuple[Slot, ...]]:
    """Part -> its places in the order of the spec, first those on copies that its seams name; its copies are handed out to
    them one by one. With `is_off` the places of what stands off its host, else of what lies on it."""
    places: dict[str, list[Place]] = {}
    for piece in goods.pieces.values():
        for part, end, lying in _landings_of(goods, piece.name):
            if bool(stands_off(goods.seams.values(), part, piece.name)) == is_off:
                places.setdefault(part, []).extend((host, end, lying) for host in _hosts(goods, piece, part))
    for part, found in places.items():
        named = _named_hosts(goods, part)
        found.sort(key=lambda place: place[0] not in named)
    return {part: tuple(_hand_out(goods, part, found)) for part, found in places.items()}


def _hosts(goods: Goods, piece: Piece, part: str) -> Sequence[Copy]:
    """The copies of a piece on which a part lands: of a strip of a join one that stands for all, as they share their
    template; each by its number where the strip comes several times in the one join that has it, and of what lands there
    are copies enough for all."""
    if piece.name not in goods.joined_strips:
        return goods.copies(piece.name)
    strips, each = _times_joined(goods, piece.name), sum(one.piece == part for one in piece.marks.landings)
    if strips < 2 or not each or goods.counts[part] < each * strips:
        return (Copy(piece.name, EVERY),)
    return tuple(Copy(piece.name, number) for number in range(1, strips + 1))


def _times_joined(goods: Goods, name: str) -> int:
    """How often a strip comes in the one join that has it, where that is made once; 0 for any other piece."""
    return goods.strips_of_join(goods.as_joined(Copy(name)).part).count(name)


def _named_hosts(goods: Goods, part: str) -> set[Copy]:
    """The copies on which a part is said to be sewn flat, of hosts that are cut several times."""
    return {
        Copy(host.part, host.copy)
        for seam in goods.seams.values()
        if any(side.part == part and side.edges for side in seam.sides)
        for host in seam.sides
        if host.copy and not host.edges
    }


def _landings_of(goods: Goods, name: str) -> Iterator[tuple[str, int, Lying]]:
    """What lands on a piece, and by which end, 0 of what has none."""
    piece = goods.pieces[name]
    for landing in piece.marks.landings:
        if landing.piece in goods.pieces:
            own = Copy(landing.piece)
            lying = Lying(copy=own, outline=landing.outline, move=landing.move, is_inside=landing.is_inside)
            yield landing.piece, 0, lying
    for strap in piece.strap_landings:
        yield strap.strap, strap.end, Lying(copy=Copy(strap.strap), outline=strap.outline)


def _hand_out(goods: Goods, part: str, places: Sequence[Place]) -> Iterator[Slot]:
    """Each end of a copy of a strap, and each copy of a piece, lands in one place."""
    copies = goods.copies(part)
    taken: Counter[int] = Counter()
    for host, end, lying in places:
        copy = copies[taken[end]] if taken[end] < len(copies) else None
        taken[end] += 1
        held = replace(lying, copy=copy or lying.copy)
        yield Slot(host=host, lying=held, copy=copy, seams=seams_between(goods, part, host.part))


def spread_over_strips(goods: Goods, slots: Sequence[Slot]) -> Iterator[tuple[Slot, int]]:
    """The places of a strap on a strip that comes several times in its join, on each of these by its number, where the
    copies of the strap suffice for all: each strip bears both ends of its own. None of one that lands otherwise."""
    name, host = slots[0].lying.copy.part, slots[0].host.part
    strips = _times_joined(goods, host) if {slot.host.part for slot in slots} == {host} else 0
    if strips < 2 or name not in goods.straps:
        return
    ends = [one.end for one in goods.pieces[host].strap_landings if one.strap == name]
    copies, taken = goods.copies(name), Counter[int]()
    if len(copies) < max(Counter(ends).values()) * strips:
        return
    for strip in range(strips):
        for slot, end in zip(slots, ends, strict=True):
            copy = copies[taken[end]]
            taken[end] += 1
            yield replace(slot, copy=copy, lying=replace(slot.lying, copy=copy)), strip


def seams_between(goods: Goods, part: str, host: str) -> tuple[str, ...]:
    parts = {host, *goods.joined_strips.get(host, ())}
    return tuple(
        seam.name
        for seam in goods.seams.values()
        if part in seam.parts and any(side.part in parts for side in seam.sides)
    )


ACROSS_WAY, UP_WAY = ("left", "right"), ("bottom", "top")


def lay_with_seam(
    goods: Goods, bench: Bench, seam: Seam, copies: Sequence[Copy], slots: Mapping[str, Sequence[Slot]]
) -> None:
    """What comes to lie on something by being sewn: what has its place there, and what lines a partner."""
    for copy in copies:
        for slot in slots.get(copy.part, ()):
            if slot.copy == copy and seam.name in slot.seams:
                bench.lay(slot.host, slot.lying)
    for cover in copies:
        for host in _like_first(goods, cover.part, copies):
            if cover.part != host.part and goods.covers(cover.part, host.part) and not bench.covers(cover):
                bench.lay(*_behind(goods, cover, host))
    lay_carried(goods, bench, copies)


def _behind(goods: Goods, cover: Copy, host: Copy) -> tuple[Copy, Lying]:
    """A lining with what it lies behind: of a strip of a join as far as that goes."""
    lying, base = _cover(goods, cover, host.part), goods.pieces.get(host.part)
    if base is None or host.part not in goods.joined_strips:
        return host, lying
    return Copy(host.part, EVERY), replace(lying, outline=lying.outline or goods.outline(base))


def is_glued_by(step: Step, lining: str) -> bool:
    """Whether a step glues a lining to what it lines, before a seam holds it."""
    has_glue = any(is_glue(tool) for tool in step.tools)
    return has_glue and lining in step.pieces and any(has_phrase(step.do, phrase) for phrase in LAYING)


def is_laid_by(seams: Iterable[Seam], step: Step, lining: str) -> bool:
    """Whether a step lays a lining behind what it lines, before a seam holds it: it glues it there, or its order says when;
    but not what is sewn face to face and turned."""
    is_timed = ("pieces", lining) in step.timed
    return is_glued_by(step, lining) or (is_timed and not any(one.is_turned for one in seams if lining in one.parts))


def _cover(goods: Goods, copy: Copy, host: str) -> Lying:
    """A lining behind its host: all over, or where it reaches when it is a smaller one of the same shape. Foam and board
    of a shape of their own that is smaller both ways lie in its middle."""
    cover, base = goods.pieces.get(copy.part), goods.pieces.get(host)
    if cover is None or base is None:
        return Lying(copy=copy, is_cover=True)
    if cover.model != base.model:
        near = _in_the_middle(goods, copy, cover, base) or _by_its_edges(goods, copy, cover, base)
        return near or Lying(copy=copy, is_cover=True)
    if cover.inset_mm <= base.inset_mm:
        return Lying(copy=copy, is_cover=True)
    inset_mm = cover.inset_mm - base.inset_mm
    return Lying(copy=copy, outline=goods.outline(cover), inset_mm=inset_mm, is_cover=True)


def _in_the_middle(goods: Goods, copy: Copy, cover: Piece, base: Piece) -> Lying | None:
    """Foam or board with its middle on that of its host, where room is left all round it."""
    own, under = outline_box(cover.outline), outline_box(base.outline)
    inset_mm = min(under.width - own.width, under.height - own.height) / 2
    if inset_mm <= SAME_SIZE_MM or goods.materials[cover.material].kind not in STUFFED:
        return None
    move = translation(*subtract(under.centre, own.centre))
    outline = transform_path(goods.outline(cover), move)
    return Lying(copy=copy, outline=outline, move=move, inset_mm=inset_mm, is_cover=True)


def _by_its_edges(goods: Goods, copy: Copy, cover: Piece, base: Piece) -> Lying | None:
    """A lining that ends short of its host, level with it by the edges that one seam sews of both; where that sews none of
    the one way, as a facing by its top alone, and both are as wide, by that."""
    own, under = outline_box(cover.outline), outline_box(base.outline)
    pairs = [
        (mine.edges, side.edges)
        for seam in goods.seams.values()
        for mine in seam.sides
        for side in seam.sides
        if (mine.part, side.part) == (cover.name, base.name)
    ]
    names = {edge for mine, others in pairs for edge in mine if edge in others}
    level = [{under.level(edge) - own.level(edge) for edge in ways if edge in names} for ways in (ACROSS_WAY, UP_WAY)]
    sizes = (under.width - own.width, under.height - own.height)
    same = (under.left - own.left, under.bottom - own.bottom)
    if names:
        level = [
            found or ({mm} if abs(more) <= SAME_SIZE_MM else set())
            for found, more, mm in zip(level, sizes, same, strict=True)
        ]
    is_short = max(sizes) > SAME_SIZE_MM
    if not is_short or any(not found or max(found) - min(found) > SAME_SIZE_MM for found in level):
        return None
    move = translation(min(level[0]), min(level[1]))
    return Lying(copy=copy, outline=transform_path(goods.outline(cover), move), move=move, is_cover=True)


def _is_sewn_on(goods: Goods, slot: Slot) -> bool:
    """Whether stitches of its own sew an end of a strap on there: it comes to lie there with these."""
    host, outline = goods.pieces.get(slot.host.part), slot.lying.outline
    return host is not None and any(
        landing.stitch and landing.strap == slot.lying.copy.part and landing.outline == outline
        for landing in host.strap_landings
    )


def lay_in_step(
    goods: Goods,
    bench: Bench,
    work: Sequence[Handling],
    at: int,
    name: str,
    slots: Mapping[str, Sequence[Slot]],
    waiting: Collection[Slot],
) -> None:
    """What comes to lie on something because step `at` handles both, and no seam holds it: pieces in their places, and
    lining, foam and board behind what they line. What no step handles together with its host comes to lie there when it
    is handled last; what is only made ready with it, and riveted or glued on by a later step, lies there then; not what
    is `waiting` for a seam."""
    step, handled = work[at] if at < len(work) else (Step(do=""), frozenset())
    is_last = not any(name in (*later.pieces, *later.straps) for later, _ in work[at + 1 :])
    for slot in slots.get(name, ()):
        hosts = {slot.host.part, *goods.joined_strips.get(slot.host.part, ())}
        is_late = _is_riveted_later(goods, work, at, slot) or any(one is slot for one in waiting)
        if slot.copy is None or slot.seams or is_late or _is_sewn_on(goods, slot):
            continue  # a post or a seam lays it
        waits = _is_laid_later(work, at, name) or (prepares(step) and is_set_later(goods, work[at + 1 :], name, hosts))
        is_with = not hosts.isdisjoint(handled) and not waits
        is_alone = hosts.isdisjoint(handled) and lays(step) and _ever_both(work[:at], name, hosts)
        if is_with or is_alone or (is_last and not _ever_both(work, name, hosts)):
            bench.lay(slot.host, slot.lying)
    joins = goods.joined_strips.get(name, ())
    if any(goods.covers(join, part) for join in joins for part in _sewn_to(goods, join) - {join}):
        return  # its ring is what lies there, with its seam
    sewn_to = _sewn_to(goods, name)
    if sewn_to and not is_laid_by(goods.seams.values(), step, name):
        return  # its seam lays it
    landed = {
        slot.host.part for slot in slots.get(name, ())
    }  # what lands on a strip does not lie behind its join besides
    hosts_of = [host for host in list_hosts(goods, name) if landed.isdisjoint(goods.strips_of_join(host.part))]
    lined_parts = {host.part for host in hosts_of}
    if _is_laid_later(work, at, name) or (prepares(step) and is_set_later(goods, work[at + 1 :], name, lined_parts)):
        return
    lined = [host for host in hosts_of if host.part in sewn_to] or _outer_first(goods, name, hosts_of)
    near = [host for host in lined if host.part in handled]
    kept = _kept_for(work[at + 1 :], name, lined_parts - {host.part for host in near})
    if not near and (is_last or any(has_phrase(step.do, phrase) for phrase in LAYING)):
        near = [host for host in lined if host.part not in {*chain(*kept)}] or [*lined]
    if is_last and name in goods.pieces:  # what is left of it lies where it is said to, though no step has both in hand
        near += [host for host in lined if host not in near and host.part in goods.pieces[name].lines]
    free = [copy for copy in goods.copies(name) if not bench.covers(copy)]
    bare = [host for host in near if not _has_cover(bench, host, name)]
    for copy, host in zip(free[: max(len(free) - len(kept), 1)], bare, strict=False):
        bench.lay(host, _cover(goods, copy, host.part))


def _outer_first(goods: Goods, name: str, hosts: Sequence[Copy]) -> list[Copy]:
    """The hosts of a lining, foam or board without those that are linings themselves, where it is like none of these."""
    like = goods.pieces[name].like if name in goods.pieces else ""
    linings = {
        host.part for host in hosts if host.part != like and any(goods.covers(host.part, one) for one in goods.pieces)
    }
    return [host for host in hosts if host.part not in linings] or [*hosts]


def _kept_for(later: Sequence[Handling], name: str, hosts: Set[str]) -> list[Set[str]]:
    """The hosts that each later step has in hand with a part which it names: copies of that wait for them, one each."""
    found = (hosts & handled for step, handled in later if name in step.pieces)
    return [one for one in found if one]


def _sewn_to(goods: Goods, name: str) -> set[str]:
    """All parts in seams of a part, itself with them."""
    return {side.part for seam in goods.seams.values() if name in seam.parts for side in seam.sides}


def prepares(step: Step) -> bool:
    """Whether a step only punches or skives what it has in hand."""
    return (is_punching(step) or bool(step.skives)) and not (step.hardware or lays(step))


def lays(step: Step) -> bool:
    """Whether a step says that it lays something, or has glue for it."""
    return any(map(is_glue, step.tools)) or any(has_phrase(step.do, phrase) for phrase in LAYING)


def _is_laid_later(work: Sequence[Handling], at: int, name: str) -> bool:
    """Whether a step lays nothing nor sets or sews anything, and a later one that names the part does lay something."""
    step = work[at][0] if at < len(work) else Step(do="")
    is_idle = not (lays(step) or step.hardware or step.seams or step.joins)
    return is_idle and any(name in later.pieces and lays(later) for later, _ in work[at + 1 :])


def is_set_later(goods: Goods, work: Sequence[Handling], name: str, hosts: Set[str]) -> bool:
    """Whether a later step sets hardware with both in hand, or with the part in hand what a hole of its host takes, or
    one of its own that goes through its host."""
    taken = {hole.takes for host in hosts if host in goods.pieces for hole in goods.pieces[host].marks.holes}
    own = goods.pieces[name].marks.holes if name in goods.pieces else ()
    taken |= {hole.takes for hole in own if hole.takes and ("" in taken or not hosts.isdisjoint(hole.through))}
    return any(
        step.hardware and name in handled and not (hosts.isdisjoint(handled) and taken.isdisjoint(step.hardware))
        for step, handled in work
    )


def _is_riveted_later(goods: Goods, work: Sequence[Handling], at: int, slot: Slot) -> bool:
    """Whether a step that has an end of a strap in hand without its host only makes it, and a later one sets the hardware
    that goes through both."""
    name = slot.lying.copy.part
    if at >= len(work) or name not in goods.straps or slot.host.part in work[at][1] or slot.lying.outline is None:
        return False
    holes = goods.pieces[slot.host.part].marks.holes
    taken = {one.takes for one in holes if name in one.through and goods.is_within(slot.lying.outline, one.at)}
    sets = [not taken.isdisjoint(step.hardware) for step, _ in work[at:]]
    return any(sets) and not sets[0]


def _ever_both(work: Sequence[Handling], name: str, hosts: set[str]) -> bool:
    """Whether any step handles a part together with what it lands on."""
    return any(name in handled and not hosts.isdisjoint(handled) for _, handled in work)


def list_hosts(goods: Goods, name: str) -> list[Copy]:
    """Copies of the parts behind which a lining, foam or board may lie, first of the one that it is said to be like."""
    if name not in goods.pieces:
        return []
    parts = [part for part in (*goods.pieces, *goods.joins) if part != name and goods.covers(name, part)]
    hosts = [copy for part in parts if part not in goods.joined_strips for copy in goods.copies(part)]
    return _like_first(goods, name, hosts)


def _like_first(goods: Goods, name: str, hosts: Sequence[Copy]) -> list[Copy]:
    """The hosts in their order, but first those of the part that a cover is said to be like: a base may be like its
    lid, and its board like the base."""
    like = goods.pieces[name].like if name in goods.pieces else ""
    return sorted(hosts, key=lambda host: host.part != like)


def _has_cover(bench: Bench, host: Copy, name: str) -> bool:
    return any(lying.copy.part == name for lying in bench.lying_on(host))


def step_parts(goods: Goods, step: Step) -> Iterator[str]:
    """Every part that a step handles: named, sewn or joined."""
    yield from (*step.pieces, *step.straps)
    for name in step.seams:
        yield from (side.part for side in goods.sides(name))
    for name in step.joins:
        yield from (name, *(strip.name for strip in goods.strips(name)))
