"""How often each seam is sewn for one make, and with which copies of its sides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Slot
from docgen.assemble.work_order import is_rolled
from docgen.geometry.outline import WHOLE
from docgen.problems import Problem, is_are, make_caution, make_error, name_words
from docgen.resolve import Seam, SeamSide, side_words


def count_times(goods: Goods, slots: Mapping[str, Sequence[Slot]]) -> tuple[dict[str, int], list[Problem]]:
    """How often each seam is sewn, and what of that is doubtful.

    A seam is sewn as often as its most numerous side is cut for it, shared among the seams that name the same edges of
    that side; but no more often than each side has copies, or places where it lands.
    """
    times: dict[str, int] = {}
    doubts: list[Problem] = []
    for seam in goods.seams.values():
        most, why = _most_times(goods, seam, slots)
        wanted = max((_wanted(goods, seam, side) for side in seam.sides if side.edges), default=1)
        times[seam.name] = seam.times or max(1, min(most, wanted))
        if seam.times > most:
            what = f'the seam "{seam.name}" is sewn {seam.times} times, and {why}'
            doubts.append(make_error(seam.place, what, f"write times = {most}, or cut more", "seam-times", seam.name))
        elif not seam.times:
            doubts += _find_readings(goods, seam, times[seam.name])
        doubts += _find_lost_copies(goods, seam)
    doubts += _find_spare_copies(goods, times)
    return times, doubts


def _most_times(goods: Goods, seam: Seam, slots: Mapping[str, Sequence[Slot]]) -> tuple[int, str]:
    """What the copies of its sides allow, and by which of them."""
    found = [(_copies_for(goods, seam, side), side) for side in seam.sides if side.edges]
    most, side = min(found, key=lambda item: item[0])
    why = f'there {is_are(goods.counts[side.part])} {goods.counts[side.part]} of "{side.part}"'
    for host in seam.sides:
        places = _count_places(seam, host, slots) if not host.edges else 0
        if 0 < places < most:
            most, why = places, f'{places} of its places are marked on "{host.part}"'
    return max(most, 1), why


def _copies_for(goods: Goods, seam: Seam, side: SeamSide) -> int:
    """How often a seam can be sewn with the copies of one side; one that names the same edges twice takes two."""
    taken = sum(goods.do_meet(other, side) for other in seam.sides)
    return goods.counts[side.part] // max(taken, 1)


def _count_places(seam: Seam, host: SeamSide, slots: Mapping[str, Sequence[Slot]]) -> int:
    landing = {side.part for side in seam.sides if side.edges}
    return sum(slot.host.part == host.part for part in landing for slot in slots.get(part, ()))


def _rivals(goods: Goods, side: SeamSide) -> int:
    """Sides of all seams that take the same edges of a part."""
    return sum(goods.do_meet(other, side) for _, other in goods.edge_sides[side.part])


def _wanted(goods: Goods, seam: Seam, side: SeamSide) -> int:
    return math.ceil(goods.counts[side.part] / _rivals(goods, side) - 1e-9)


def _find_readings(goods: Goods, seam: Seam, times: int) -> Iterator[Problem]:
    """A side whose copies cannot be shared out evenly among the seams that take the same edges."""
    for side in seam.sides:
        count = goods.counts[side.part]
        if side.copy or count == 1 or times == 1:
            continue
        rivals = _rivals(goods, side) if side.edges else 1
        others = {seam.name: seam for seam, one in goods.edge_sides.get(side.part, ()) if goods.do_meet(one, side)}
        is_said = any(other.times for other in others.values() if other is not seam)
        if count <= rivals or count % rivals == 0 or is_said:
            continue
        what = (
            f'"{side.part}" is cut {count} times, and {rivals} seams take its {side.edge_words}: "{seam.name}" may '
            f"be sewn {count // rivals} or {count // rivals + 1} times"
        )
        yield make_error(seam.place, what, "write times = ... in these seams", "seam-times", seam.name)


def _find_lost_copies(goods: Goods, seam: Seam) -> Iterator[Problem]:
    for side in seam.sides:
        if side.copy > goods.counts[side.part]:
            count = goods.counts[side.part]
            what = f'the seam "{seam.name}" means copy {side.copy} of "{side.part}", and {count} {is_are(count)} cut'
            yield make_error(seam.place, what, f'write "{side.part} {count}", or cut more', "seam-copy", seam.name)
    sides = [side for side in seam.sides if side.edges and not side.copy]
    for index, side in enumerate(sides):
        named, count = 1 + sum(goods.do_meet(other, side) for other in sides[:index]), goods.counts[side.part]
        if named > count:
            what = f'the seam "{seam.name}" names {side_words(side)} {named} times, and {count} {is_are(count)} cut'
            place = seam.place_of(side)
            yield make_error(place, what, "name the part that is meant, or cut more", "seam-copy", seam.name)


def _find_spare_copies(goods: Goods, times: Mapping[str, int]) -> Iterator[Problem]:
    """Pieces of which more are cut than the seams that take them can sew; where one part is short for several of them,
    that part."""
    spare: dict[str, int] = {}
    short: dict[str, list[str]] = {}
    for name, piece in goods.pieces.items():
        if piece.cut == 1 or name in goods.joined_strips:
            continue
        sides = [(seam, side) for seam in goods.seams.values() for side in seam.sides if side.part == name]
        if not sides or any(seam.times or side.copy for seam, side in sides):
            continue
        taken = sum(times[seam.name] for seam, _ in sides)
        if min(times[seam.name] for seam, _ in sides) > 1:  # a batch of alike: every copy goes into each of its seams
            taken = max(sum(times[seam.name] for seam, it in sides if goods.do_meet(it, side)) for _, side in sides)
        if taken < piece.cut:
            spare[name] = taken
            for part in dict.fromkeys(side.part for seam, _ in sides for side in seam.sides if side.edges):
                if goods.counts[part] < piece.cut and part in goods.pieces:
                    short.setdefault(part, []).append(name)
    for part, names in short.items():
        if len(names) > 1 and len({goods.counts[name] for name in names}) == 1 and all(name in spare for name in names):
            yield _tell_short(goods, part, names)
            spare = {name: taken for name, taken in spare.items() if name not in names}
    for name, taken in spare.items():
        piece = goods.pieces[name]
        what = f'{piece.cut} of "{name}" are cut, and its seams sew {taken}'
        few = [part for part, names in short.items() if name in names]
        mend = f'cut = {piece.cut} for "{few[0]}"' if few else f"times = {piece.cut} in the seam"
        yield make_caution(piece.place, what, f"write cut = {taken}, or {mend}", "copies-left-over", name)


def _tell_short(goods: Goods, part: str, names: Sequence[str]) -> Problem:
    count, want = goods.counts[part], goods.counts[names[0]]
    others = name_words(names)
    what = f'{count} of "{part}" {is_are(count)} cut, and {want} of {others}, which are sewn to it'
    mend = f"write cut = {want}, or cut fewer of the others"
    return make_caution(goods.pieces[part].place, what, mend, "copies-left-over", part)


def choose_copies(goods: Goods, bench: Bench, seam: Seam, slots: Mapping[str, Sequence[Slot]]) -> tuple[Copy, ...]:
    """The copies that a seam sews now: of each side the one that is named, else the one whose edges are least sewn and
    that is not sewn to its partner yet; beneath a part the copy on which that has its place. A strap whose long edges are
    sewn to each other is one of them."""
    chosen: dict[int, Copy] = {}
    for index in sorted(range(len(seam.sides)), key=lambda k: not seam.sides[k].edges):
        side = seam.sides[index]
        own = [one for one in chosen.values() if side.part in goods.straps and is_rolled(seam.sides, side.part)]
        chosen[index] = own[0] if own else _choose(goods, bench, side, list(chosen.values()), slots)
    return tuple(chosen[index] for index in range(len(seam.sides)))


def _choose(
    goods: Goods, bench: Bench, side: SeamSide, chosen: Sequence[Copy], slots: Mapping[str, Sequence[Slot]]
) -> Copy:
    own = [copy for copy in chosen if copy.part == side.part]
    if side.copy:
        return Copy(side.part, min(side.copy, goods.counts[side.part]))
    if not side.edges:
        placed = (slot.host for copy in chosen for slot in slots.get(copy.part, ()) if slot.copy == copy)
        there = next((host for host in placed if host.part == side.part), None)
        return there or (own[0] if own else min(goods.copies(side.part), key=bench.all_uses))
    free = [copy for copy in goods.copies(side.part) if copy not in own] or own
    ties = {copy: _ties(goods, bench, copy, chosen) for copy in free}
    return min(free, key=lambda copy: (bench.uses(copy, side.edges), ties[copy], bench.all_uses(copy), copy.number))


def _ties(goods: Goods, bench: Bench, copy: Copy, chosen: Sequence[Copy]) -> int:
    """Seams that join a copy to those of the other sides already: a lining goes on with the one it lies behind, a wall
    with the next one round."""
    ties = 0
    for other in chosen:
        is_lining = goods.covers(copy.part, other.part) or goods.covers(other.part, copy.part)
        ties += bench.is_sewn(copy, other) * (-1 if is_lining else 1)
    return ties


def list_rivals(goods: Goods, bench: Bench, side: SeamSide, copy: Copy) -> tuple[Copy, ...]:
    """Copies that a seam may mean as well: no less often sewn along these edges, and not named."""
    if side.copy or not side.edges or goods.counts[side.part] == 1 or WHOLE in side.edges:
        return ()
    least = bench.uses(copy, side.edges)
    return tuple(one for one in goods.copies(side.part) if one != copy and bench.uses(one, side.edges) == least)
