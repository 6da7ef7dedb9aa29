"""What is held by nothing, or stays open: straps, and the ends of a part between two that are sewn to each other."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from docgen.assemble.assembly import Copy, Sewn
from docgen.assemble.goods import Goods
from docgen.geometry.outline import WHOLE, edge_names
from docgen.problems import Problem, make_caution
from docgen.resolve import Strap

NARROW_MM = 40.0  # tapes, zips and welts are cut narrower, and their ends are caught beside them: our choice
HELD_KINDS = ("ring", "buckle")  # hooks and the like hold on by themselves, also where they are counted as rings
HOOK_RE = re.compile(r"\b(hook|clip|carabiner)s?\b", re.I)
Run = tuple[Copy, tuple[str, ...]]


def find_loose_straps(goods: Goods) -> Iterator[Problem]:
    """Straps that nothing fastens, where there are pieces: those that a step makes where pieces are sewn together, and
    those that are punched for what is to hold them. One that closes on itself, or hooks on, is a thing of its own."""
    if not goods.pieces:
        return
    made = {name for step in goods.build.steps for name in step.straps} if goods.seams else set()
    fast = _fast_straps(goods)
    for strap in goods.straps.values():
        if (strap.name in made or _is_punched(strap)) and strap.name not in fast:
            what = f'nothing fastens "{strap.name}": no landing, seam, ring or hardware holds it to another part'
            mend = f'write a landing for it, {{ strap = "{strap.name}", at = ... }}, or name it in through of a hole'
            yield make_caution(strap.piece.place, what, mend, "strap-unfastened", strap.name)


def _is_punched(strap: Strap) -> bool:
    """Whether it has holes besides a row for a buckle, slots for a tongue, and what closes its own ends; one with rows at
    both ends buckles on."""
    others = strap.piece.marks.holes[strap.row_holes :]
    is_plain = not (strap.hole_tips_mm and strap.first_tips_mm) and not any(end.takes for end in strap.ends)
    return is_plain and any(not hole.long_mm for hole in others)


def _fast_straps(goods: Goods) -> set[str]:
    """Straps that are fastened, one by the other."""
    folded = {fold.around for piece in goods.pieces.values() for fold in piece.marks.folds if fold.around}
    fast = {one.strap for piece in goods.pieces.values() for one in piece.strap_landings}
    fast |= {side.part for seam in goods.seams.values() for side in seam.sides}
    fast |= {name for piece in goods.pieces.values() for hole in piece.marks.holes for name in hole.through}
    fast |= {name for strap in goods.straps.values() for hole in strap.piece.marks.holes for name in hole.through}
    fast |= {strap.name for strap in goods.straps.values() if _is_own(goods, strap, folded)}
    for _ in goods.straps:
        rings = {ring for name in fast & goods.straps.keys() for end in goods.straps[name].ends for ring in end.rings}
        fast |= {strap.name for strap in goods.straps.values() if _hangs_on(goods, strap, fast, rings)}
    return fast


def _is_own(goods: Goods, strap: Strap, folded: set[str]) -> bool:
    """Whether a strap turns round what a piece holds, hooks on, closes on itself, or goes round another one."""
    kinds = {item.name: item.kind for item in goods.build.hardware}
    rings = [ring for end in strap.ends for ring in end.rings]
    called = {item.name for item in goods.build.hardware if HOOK_RE.search(item.what)}
    hooks = any(ring in folded or ring in called or kinds.get(ring) not in HELD_KINDS for ring in rings)
    closes = bool(strap.hole_tips_mm) and any(kinds.get(ring) == "buckle" for ring in rings)
    return hooks or closes or bool(strap.keeper_for)


def _hangs_on(goods: Goods, strap: Strap, fast: set[str], rings: set[str]) -> bool:
    partners = {strap.partner, *(one.name for one in goods.straps.values() if one.partner == strap.name)}
    own = {ring for end in strap.ends for ring in end.rings}
    buckles = {item.name for item in goods.build.hardware if item.kind == "buckle"}
    if not own.isdisjoint(buckles) and any(goods.straps[name].hole_tips_mm for name in fast & goods.straps.keys()):
        return True  # it buckles on to what is fast
    return not partners.isdisjoint(fast) or not own.isdisjoint(rings)


def find_open_ends(goods: Goods, sewn: Sequence[Sewn]) -> Iterator[Problem]:
    """Parts sewn along two opposite edges to parts that are sewn to each other right beside them, and that have their
    other edges open: the corners of a base whose ends are sewn to nothing."""
    runs = [[*_runs(goods, once)] for once in sewn]
    told: set[str] = set()
    for part in dict.fromkeys(copy.part for run in runs for copy, _ in run):
        ends = _open_ends(goods, part)
        if ends and part not in told and goods.is_leather(part) and min(goods.size_mm(part)) > NARROW_MM:
            found = next((pair for pair in _between(goods, runs, part) if _meet_beside(goods, runs, *pair)), None)
            if found is not None:
                (one, _), (other, _) = found
                place = goods.joins[part].place if part in goods.joins else goods.pieces[part].place
                what = (
                    f'the {" and the ".join(ends)} of "{part}" are sewn to nothing, and "{one.part}" and "{other.part}" on '
                    "both sides of it are sewn to each other: they stay open"
                )
                mend = f'sew them on too, for example meet = ["{part}: {ends[0]}", "{one.part}: ..."]'
                yield make_caution(place, what, mend, "ends-stay-open", part)


def _runs(goods: Goods, once: Sewn) -> Iterator[Run]:
    sides = goods.seams[once.seam].sides
    yield from ((copy, side.edges) for copy, side in zip(once.sides, sides, strict=True) if side.edges)


def _edges(goods: Goods, part: str) -> tuple[str, ...]:
    if part in goods.pieces:
        return edge_names(goods.pieces[part].sewn_outline)
    return ("start", "right", "end", "left") if part in goods.joins else ()


def _open_ends(goods: Goods, part: str) -> tuple[str, ...]:
    """The two edges of a part with four that no seam takes, where it is sewn along both others."""
    names = _edges(goods, part)
    taken = {
        edge for _, side in goods.edge_sides.get(part, ()) for edge in (names if WHOLE in side.edges else side.edges)
    }
    free = tuple(name for name in names if name not in taken)
    is_opposite = len(names) == 4 and len(free) == 2 and abs(names.index(free[0]) - names.index(free[1])) == 2
    flat = any(side.part == part and not side.edges for seam in goods.seams.values() for side in seam.sides)
    return free if is_opposite and not flat else ()


def _between(goods: Goods, runs: Sequence[Sequence[Run]], part: str) -> Iterator[tuple[Run, Run]]:
    """Two other parts, each with the edges along which it is sewn to either side of a part."""
    beside = [
        (own, other)
        for run in runs
        for copy, own in run
        if copy == Copy(part)
        for other in run
        if other[0].part != part and goods.is_leather(other[0].part)
    ]
    for k, (own, one) in enumerate(beside):
        yield from ((one, other) for its, other in beside[k + 1 :] if set(own).isdisjoint(its) and one[0] != other[0])


def _meet_beside(goods: Goods, runs: Sequence[Sequence[Run]], one: Run, other: Run) -> bool:
    """Whether two parts are sewn to each other along edges next to those that are sewn to what lies between."""
    for run in runs:
        mine = [edges for copy, edges in run if copy == one[0]]
        its = [edges for copy, edges in run if copy == other[0]]
        if mine and its and _touch(goods, one, mine[0]) and _touch(goods, other, its[0]):
            return True
    return False


def _touch(goods: Goods, run: Run, edges: Sequence[str]) -> bool:
    names = _edges(goods, run[0].part)
    if WHOLE in edges or WHOLE in run[1] or not set(edges).isdisjoint(run[1]):
        return False
    steps = {abs(names.index(a) - names.index(b)) for a in edges for b in run[1] if a in names and b in names}
    return not steps.isdisjoint({1, len(names) - 1})
