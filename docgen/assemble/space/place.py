"""Placing all copies one after the other: each by the first rule that tells where it lies."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.goods import Goods
from docgen.assemble.space.build_up import build_up, close, join_straight
from docgen.assemble.space.close import find_buckled, find_gaps, settle
from docgen.assemble.space.doubts import find_doubts
from docgen.assemble.space.first import anchor_of, put_first
from docgen.assemble.space.fittings import find_unset, set_metal
from docgen.assemble.space.hinges import hinge
from docgen.assemble.space.holds import hang_metal
from docgen.assemble.space.hung_on import hang, has_spots
from docgen.assemble.space.lay import follow_rim, land, lie_between, line
from docgen.assemble.space.line_walls import line_wall
from docgen.assemble.space.over_depth import go_over_depth
from docgen.assemble.space.over_the_edge import bend_at_edges
from docgen.assemble.space.placed import (
    BY_AN_END,
    FOLDS_TWO_WAYS,
    NO_HOLE,
    ON_STRIP,
    PLACE_UNTOLD,
    SPOT_UNTOLD,
    Gap,
    How,
    Placed,
    Space,
    Unplaced,
)
from docgen.assemble.space.pleat import across_of
from docgen.assemble.space.scene import CORNER, Scene, do_cross
from docgen.assemble.space.straps import place_straps
from docgen.assemble.space.surface import clip
from docgen.assemble.space.turned_out import turn_out
from docgen.assemble.space.wide import find_darted, find_unbent
from docgen.resolve import Build
from docgen.tables.sewing import EDGES_APART_MM

Rule = Callable[[Scene, Copy], bool]
Result = tuple[Scene, tuple[Gap, ...]]
BESIDE = "nothing joins it to the parts that are placed"
MOST_TURNS, MOST_TRIES = 3, 6  # a build that does not close is tried anew so often

ON_HOST: Collection[How] = ("lies on", "goes on")


def place_parts(build: Build, assembly: Assembly) -> Space:
    """Where every copy of every piece and join lies when all is done. Nothing in it can fail: what does not follow from
    the spec is told as not placed, and why."""
    goods = Goods(build)
    assembly = replace(assembly, lies=(*assembly.lies, *assembly.stood_off))
    scene, gaps = _place_all(goods, assembly)
    if any(gap.over_mm > EDGES_APART_MM for gap in gaps) or any(_facing_alike(scene)):
        scene, gaps = _turn_pieces(scene, gaps)
    turn_out(scene)
    go_over_depth(scene)
    bend_at_edges(scene)
    hung = [*hang_metal(scene)]
    unplaced = [*_tell_unplaced(scene), *place_straps(scene, hung)]
    metal = [*set_metal(scene, hung)]
    doubts = [*find_doubts(scene, gaps)]
    unsure = [*(copy for _, copies in doubts for copy in copies), *find_unbent(scene, gaps)]
    return Space(
        kind=scene.kind,
        front=next((copy for copy, placed in scene.placed.items() if placed.host is None), None),
        parts=tuple(_anchored(scene, copy) for copy in _in_order(scene)),
        order=tuple(scene.placed),
        gaps=gaps,
        buckled=tuple(find_buckled(scene, metal)),
        unplaced=tuple(unplaced),
        metal=tuple(metal),
        unset=tuple(find_unset(scene, metal)),
        hung=tuple(scene.hung),
        doubtful=tuple(dict.fromkeys(unsure)),
        doubts=tuple(problem for problem, _ in doubts),
        darted=tuple(dict.fromkeys(find_darted(scene, gaps))),
    )


def _in_order(scene: Scene) -> list[Copy]:
    """What is placed: pieces and joins in the order of the spec, then straps in that of placing."""
    straps = [copy for copy in scene.placed if copy.part in scene.goods.straps]
    return [*(copy for copy in scene.items.copies if copy in scene.placed), *straps]


def _anchored(scene: Scene, copy: Copy) -> Placed:
    """A placed copy with the point of it that stays: of a strap where it is held, as it was placed by that; of what lies
    back to back with another where it is sewn to that, be it sewn to others before; of what bends and lies on another part,
    there."""
    placed = scene.placed[copy]
    if placed.how in ON_HOST and len(placed.surface.bands) > 1 and placed.anchor != CORNER:
        return placed
    ties = [tie for tie in scene.ties_of(copy) if tie.other == placed.host] if placed.how == "back to back" else []
    at = ties[0].mine.middle if ties else anchor_of(scene, copy)
    return placed if placed.how in BY_AN_END else replace(placed, anchor=at)


def _place_all(goods: Goods, assembly: Assembly, turned: Collection[str] = ()) -> Result:
    scene = Scene(goods, assembly, turned)
    if put_first(scene) is not None:
        while _place_one(scene):
            pass
        _lay_over(scene)
    return scene, tuple(find_gaps(scene))


def _lay_over(scene: Scene) -> None:
    """What stands where another part stands on which it is sewn flat, as a band round the foot of a wall, lies on that,
    with all that was placed by it; not on what was."""
    for copy, placed in [*scene.placed.items()]:
        hosts = [host for _, _, host in scene.flat_ties(copy) if host in scene.placed and placed.how == "stands on"]
        hosts = [host for host in hosts if scene.placed[host].host != copy]
        under = next((host for host in hosts if placed.surface.bends_as(scene.placed[host].surface)), None)
        if under is not None:
            del scene.placed[copy]
            surface = replace(placed.surface, bands=scene.placed[under].surface.bands)
            tie = next(tie for tie in scene.ties_of(copy) if tie.other == placed.host and tie.mine.is_straight)
            ring = clip(placed.item.ring, [across_of(tie.mine, at) for at in placed.item.ring])
            scene.put(copy, "lies on", surface, under, side=1, ring=ring)
            for one in [one for one, other in scene.placed.items() if other.host == copy]:
                scene.placed[one] = scene.placed.pop(one)


def _turn_pieces(scene: Scene, gaps: tuple[Gap, ...]) -> Result:
    """The best of what comes out when pieces that are the same turned over are read so, one after the other: a maker
    who looks into a bag calls left what is right from outside."""
    best, turned = (scene, gaps), list[str]()
    for _ in range(MOST_TURNS):
        wide = [gap for gap in best[1] if gap.over_mm > EDGES_APART_MM]
        parts = dict.fromkeys([*(copy.part for gap in wide for copy in (gap.one, gap.other)), *_facing_alike(best[0])])
        free = [part for part in parts if part not in turned and scene.items.may_turn(part)]
        tries = [(part, _place_all(scene.goods, scene.assembly, [*turned, part])) for part in free[:MOST_TRIES]]
        part, found = min(tries, key=lambda one: _misfit(one[1]), default=("", best))
        if _misfit(found) >= _misfit(best):
            break
        best, turned = found, [*turned, part]
    return best


def _misfit(result: Result) -> tuple[int, int, int, float]:
    """How many parts are not placed, how many seams are farther apart than leather gives, how many parts are sewn face
    to face and face alike, and by how much those seams are apart in all."""
    scene, gaps = result
    wide = [gap.over_mm for gap in gaps if gap.over_mm > EDGES_APART_MM]
    alike = [*_facing_alike(scene)]
    return len(scene.items.copies) - len(scene.placed), len(wide), len(alike), round(sum(wide), 3)


def _facing_alike(scene: Scene) -> Iterator[str]:
    """Parts that look the way of another one to which a turned seam joins them: sewn face to face they cannot."""
    for copy, placed in scene.placed.items():
        host = scene.placed[placed.host] if placed.how == "back to back" and placed.host else None
        turned = [tie for tie in scene.ties_of(copy) if tie.seam.is_turned and tie.other == placed.host]
        if host is not None and turned and placed.looks_as(host):
            yield copy.part


def _place_one(scene: Scene) -> bool:
    """Place all that one rule can; the ones that guess least come first."""
    left = [copy for copy in scene.items.copies if copy not in scene.placed]
    left.sort(key=lambda copy: scene.landing_order.get(copy.part, (0, 0)))
    ready = [copy for copy in left if not _waits_for_lining(scene, copy)]
    return _place_any(scene, ready) or (len(ready) < len(left) and _place_any(scene, left))


def _waits_for_lining(scene: Scene, copy: Copy) -> bool:
    """Whether a part lands on the lining of another one that is not placed yet: it lies on that, whatever outer part a
    seam through both sews it to."""
    hosts = [one.host for one in scene.assembly.lies if one.copy == copy and not one.is_cover]
    return any(one in scene.items.covers and one not in scene.placed for one in hosts)


def _place_any(scene: Scene, left: Sequence[Copy]) -> bool:
    """The first rule that tells where any of these lies."""
    waiting = {lies.copy for lies in scene.assembly.lies if not lies.is_cover and lies.host not in scene.placed}
    ready = [copy for copy in left if copy not in waiting]

    def place(rule: Rule) -> bool:
        """All, before those whose place on another part is told, and that would wait for it, where there are any."""
        return sum(rule(scene, copy) for copy in ready) > 0 or sum(rule(scene, copy) for copy in left) > 0

    def place_next(rule: Rule) -> bool:
        return any(rule(scene, copy) for copy in left)

    return (
        place(land)
        or place(build_up)
        or place(lie_between)
        or place_next(join_straight)
        or place_next(follow_rim)
        or settle(scene)
        or place(_place_inner)
        or place(line_wall)
        or place(hang)
        or place(hinge)
        or place_next(_place_at_best)
    )


def _place_inner(scene: Scene, copy: Copy) -> bool:
    return scene.item(copy).is_inner and line(scene, copy)


def _place_at_best(scene: Scene, copy: Copy) -> bool:
    """A part whose lines come to lie on no others: where they miss least, so that the gap can be told. Linings that are
    sewn into a bag of their own hang in the other, and need not lie on that: nothing is said of these."""
    ties = scene.placed_ties(copy)
    hangs = scene.item(copy).is_inner and any(scene.item(tie.other).is_inner for tie in scene.ties_of(copy))
    return bool(ties) and not hangs and close(scene, copy, ties, math.inf)


def _tell_unplaced(scene: Scene) -> Iterator[Unplaced]:
    unplaced = [copy for copy in scene.items.copies if copy not in scene.placed]
    riveted = _list_riveted(scene) if unplaced else {}
    for copy in unplaced:
        yield Unplaced(copy=copy, why=_why(scene, copy, riveted[copy.part]))


def _why(scene: Scene, copy: Copy, riveted: Collection[str]) -> str:
    if not scene.placed:
        return "there is nothing to begin with"
    if copy in scene.untold_ways:
        return scene.untold_ways[copy]
    if scene.ties_of(copy):
        is_beside = all(other not in scene.placed for other in scene.outer_partners(copy))
        return BESIDE if is_beside else "its seams do not tell how it lies"
    lies = (lies.host.part for lies in scene.assembly.lies if lies.copy == copy and not lies.is_cover)
    holders = {*lies, *riveted}
    if holders and holders.isdisjoint(one.part for one in scene.placed):
        return BESIDE
    if any(True for _ in scene.flat_ties(copy)):
        return SPOT_UNTOLD
    if any(hole.takes and hole.through for hole in scene.item(copy).holes):
        return "its holes lie otherwise than those that it is riveted to" if has_spots(scene, copy) else NO_HOLE
    if do_cross(scene.item(copy).folds):
        return FOLDS_TWO_WAYS
    strips = (scene.goods.pieces[name] for name in scene.goods.joined_strips)
    is_on_strip = any(mark.piece == copy.part for strip in strips for mark in strip.marks.landings)
    return ON_STRIP if is_on_strip else PLACE_UNTOLD


def _list_riveted(scene: Scene) -> Mapping[str, set[str]]:
    """The parts with what each is riveted to, as the holes of either say."""
    parts = dict.fromkeys(copy.part for copy in scene.items.copies)
    found: dict[str, set[str]] = {part: set() for part in parts}
    for part in parts:
        holes = (hole for hole in scene.item(Copy(part)).holes if hole.takes)
        for other in {name for hole in holes for name in hole.through} & parts.keys():
            found[part].add(other)
            found[other].add(part)
    return found
