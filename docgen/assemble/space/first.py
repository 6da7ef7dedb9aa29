"""Which part is placed first, and how it is put: everything else follows from it."""

from __future__ import annotations

from itertools import pairwise

from docgen.assemble.assembly import Copy, group_joined
from docgen.assemble.space.placed import Kind
from docgen.assemble.space.roll import roll
from docgen.assemble.space.scene import Scene, Tie, crosses
from docgen.assemble.space.surface import flat
from docgen.assemble.space.vectors import Vec, plus, times
from docgen.classes import dataclass
from docgen.geometry.folding import kept_half
from docgen.geometry.measure import chords
from docgen.geometry.outline import edge_names, outline_box, outline_path
from docgen.geometry.run import is_whole
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, dot, scale, subtract, unit
from docgen.resolve import Fold

# How each kind is put: where x and y of its first part point.
WAYS: dict[Kind, tuple[Vec, Vec]] = {
    "standing": ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "on its floor": ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    "tube": ((0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
    "lying": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
}
UP, DOWN = Point(0.0, 1.0), Point(0.0, -1.0)
LEAST_WALLS = 3  # a piece with so many others round it is a floor


def put_first(scene: Scene) -> Copy | None:
    """Place the first part; None where there is no outer part."""
    found = _choose(scene)
    if found is None:
        return None
    copy, scene.kind = found
    if scene.kind == "lying" and roll(scene, copy):
        scene.kind = "standing"
        return copy
    right, up = WAYS[scene.kind]
    x, y = _upmost(scene, copy)
    right, up = plus(times(right, y), times(up, x)), plus(times(right, -x), times(up, y))
    scene.put(copy, "begun with", scene.bent(copy, flat((0.0, 0.0, 0.0), right, up), anchor_of(scene, copy)))
    return copy


def _upmost(scene: Scene, copy: Copy) -> Point:
    """The way on the first part that is put up, of a floor to the front: its y, but for floors and round ends."""
    if scene.kind == "on its floor":
        return _front_of_floor(scene, copy)
    return _top_of_tube(scene, copy) if scene.kind == "tube" else UP


def _front_of_floor(scene: Scene, copy: Copy) -> Point:
    """The way on a floor to the wall that is the front: the one that is named so, else the one with the most that lands
    on it, else what is sewn to its bottom."""
    ties = [tie for tie in _outer_ties(scene, copy) if tie.mine.is_straight]
    scores = [(tie.other == Copy(scene.goods.build.front), _score_front(scene, tie.other)) for tie in ties]
    if len({*scores}) < 2 or scores.count(max(scores)) > 1:
        return DOWN
    mine = ties[scores.index(max(scores))].mine
    return Point(mine.way.y, -mine.way.x)


def _top_of_tube(scene: Scene, copy: Copy) -> Point:
    """The way on a round end by which straps on the wall lead up: to where the wall begins and ends, or away from
    there."""
    piece = scene.goods.pieces.get(copy.part)
    for tie in _outer_ties(scene, copy) if piece is not None and piece.shape == "circle" else ():
        strips = scene.item(tie.other).strips
        landings = [(strip.piece, one) for strip in strips for one in strip.piece.strap_landings]
        away = [one.way.y * (one.at.y - outline_box(base.outline).centre.y) for base, one in landings]
        if away:
            begin = unit(subtract(tie.mine.points[0], scene.item(copy).box.centre))
            return begin if sum(away) > 0 else scale(begin, -1.0)
    return UP


def anchor_of(scene: Scene, copy: Copy) -> Point:
    """The point of a part that stays where it is when it is bent: where it is held; of what lies first on its widest
    panel."""
    held = _held_at(scene, copy)
    is_first = next(iter(scene.placed), copy) == copy
    return _on_wide_panel(scene, copy, held) if is_first and scene.kind == "lying" else held


def _held_at(scene: Scene, copy: Copy) -> Point:
    """The middle of the first line along which a part is sewn to an outer part, else of what takes hardware, else of its
    box; of what lands folded a place in the half by which it does."""
    for ties in scene.outer_partners(copy).values():
        return ties[0].mine.middle
    item = scene.item(copy)
    spots = [track.middle for _, track, _ in scene.flat_ties(copy)]
    spots += [hole.at for hole in item.holes if hole.takes]
    kept = find_kept(scene, copy)
    if kept is not None:
        return next((at for at in spots if kept.holds(at)), kept.at)
    return next(iter(spots), item.box.centre)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """The half of a folded part that stays when it is folded, by a place in it."""

    fold: Fold
    at: Point

    def holds(self, at: Point) -> bool:
        way = subtract(self.fold.end, self.fold.start)
        return cross(way, subtract(at, self.fold.start)) * cross(way, subtract(self.at, self.fold.start)) > 0


def find_kept(scene: Scene, copy: Copy) -> Kept | None:
    """The half of what lands folded once that stays: its landing is drawn by that."""
    item = scene.item(copy)
    folds = [fold for fold in item.folds if not fold.is_open]
    is_landed = any(lies.copy == copy and not lies.is_cover for lies in scene.assembly.lies)
    if len(item.folds) != 1 or not folds or not is_landed:
        return None
    (fold,), shape = folds, outline_path(item.outline)
    is_across = len(chords(shape, fold.start, subtract(fold.end, fold.start))) == 1
    return Kept(fold=fold, at=kept_half(shape, fold.start, fold.end)) if is_across else None


def _on_wide_panel(scene: Scene, copy: Copy, held: Point) -> Point:
    """A point on the widest panel between the folds of a part, level with `held`; of several on the right one, else the
    lower one: the front of a cover lies up, and no cover on its spine."""
    folds = [fold for fold, _ in scene.angles(copy)]
    if not folds:
        return held
    along = unit(subtract(folds[0].end, folds[0].start))
    way = max((Point(along.y, -along.x), Point(-along.y, along.x)), key=lambda one: (round(one.x, 6), -one.y))
    reach = [dot(at, way) for at in scene.item(copy).ring]
    cuts = sorted((min(reach), max(reach), *(dot(fold.start, way) for fold in folds)))
    _, middle = max((round(end - begin, 3), (begin + end) / 2) for begin, end in pairwise(cuts))
    return add(held, scale(way, middle - dot(held, way)))


def _choose(scene: Scene) -> tuple[Copy, Kind] | None:
    every = _find_largest(scene)
    if not every:
        return None
    landing = {lies.copy for lies in scene.assembly.lies if not lies.is_cover}
    landing |= {copy for copy in every if any(scene.flat_ties(copy)) and not scene.outer_partners(copy)}
    outer = [copy for copy in every if copy not in landing and copy not in scene.welts] or every
    walls = _find_walls(scene, outer)
    named = Copy(scene.goods.build.front)
    # What a flap that bends hangs on stands up, and is put first.
    is_flap = named in outer and bool(scene.item(named).folds) and _has_depth(scene, named)
    if named in outer and named not in walls and not is_flap:
        return named, "standing" if _has_depth(scene, named) else "lying"
    if walls:
        wall = max(walls, key=lambda copy: sum(scene.item(tie.other).area_mm2 for tie in walls[copy]))
        return _choose_panel(scene, [tie for tie in walls[wall] if tie.other in outer])
    floors = [copy for copy in outer if len(scene.outer_partners(copy)) >= LEAST_WALLS and _is_floor(scene, copy)]
    if floors:
        return max(floors, key=lambda copy: len(scene.outer_partners(copy))), "on its floor"
    return max(outer, key=lambda copy: _score_flat(scene, copy)), "lying"


def _find_largest(scene: Scene) -> list[Copy]:
    """The outer parts that are joined to each other by seams and landings, of several such groups the largest; with the
    one that is named the front where there is one."""
    copies = scene.items.copies
    pairs = [[link.copy for link in sewing.links] for sewing in scene.sewings]
    hosts = {lies: [copy for copy in copies if copy.part == lies.host.part] for lies in scene.assembly.lies}
    pairs += [[*found, lies.copy] for lies, found in hosts.items()]
    known = {*copies}
    groups = group_joined(copies, [pair for pair in pairs if pair and known.issuperset(pair)])
    outer = [[copy for copy in group if not scene.item(copy).is_inner] for group in groups]
    front = Copy(scene.goods.build.front)
    return max(filter(None, outer), key=lambda group: (front in group, *_weigh(scene, group)), default=[])


def _weigh(scene: Scene, group: list[Copy]) -> tuple[bool, float]:
    return len(group) > 1, sum(scene.item(copy).area_mm2 for copy in group)


def _find_walls(scene: Scene, outer: list[Copy]) -> dict[Copy, list[Tie]]:
    """Parts with a straight line that is sewn to a curved one, with these seams."""
    found = {copy: [tie for tie in _outer_ties(scene, copy) if is_wall_tie(tie)] for copy in outer}
    return {copy: ties for copy, ties in found.items() if any(tie.other in outer for tie in ties)}


def is_wall_tie(tie: Tie) -> bool:
    """Whether the copy stands as a wall along its partner's curve."""
    return tie.mine.is_straight and not tie.its.is_straight


def _outer_ties(scene: Scene, copy: Copy) -> list[Tie]:
    return [tie for ties in scene.outer_partners(copy).values() for tie in ties]


def _has_depth(scene: Scene, copy: Copy) -> bool:
    return any(
        (tie.its.is_straight and not tie.mine.is_straight) or len(scene.outer_partners(tie.other)) > 1
        for tie in _outer_ties(scene, copy)
    )


def _choose_panel(scene: Scene, ties: list[Tie]) -> tuple[Copy, Kind]:
    """Of the panels on one wall: a single one that is sewn all round is a floor, two closed ones are the ends of a
    tube, else the one that is most like a front."""
    panels = list(dict.fromkeys(tie.other for tie in ties))
    tracks = {tie.other: tie.its for tie in ties}
    closed = [copy for copy in panels if tracks[copy].is_closed or _is_sewn_all_round(scene, copy)]
    if len(closed) == len(panels) and not _is_shallow(scene, ties[0]):
        return panels[0], "tube" if len(panels) > 1 else "on its floor"
    return max(panels, key=lambda copy: (_score_front(scene, copy), -panels.index(copy))), "standing"


def _is_shallow(scene: Scene, tie: Tie) -> bool:
    """Whether a wall between two panels is not as wide as these are either way: they are front and back, not ends."""
    piece = scene.goods.pieces.get(tie.other.part)
    is_round = piece is not None and piece.shape == "circle"
    is_between = len(scene.outer_partners(tie.own)) > 1
    return is_between and not is_round and scene.item(tie.own).box.width < scene.item(tie.other).sizes_mm[0]


def _is_sewn_all_round(scene: Scene, copy: Copy) -> bool:
    names = set(edge_names(scene.item(copy).outline))
    taken: set[str] = set()
    for sewing in scene.sewings:
        is_outer = any(link.copy != copy and not scene.item(link.copy).is_inner for link in sewing.links)
        for side in sewing.seam.sides if is_outer else ():
            if side.part == copy.part and side.edges:
                taken |= names if is_whole(scene.item(copy).outline, side.edges) else set(side.edges)
    return names <= taken


def _is_floor(scene: Scene, copy: Copy) -> bool:
    """Whether each of its partners takes one edge of it, and is sewn to another of them."""
    partners = scene.outer_partners(copy)
    return all(
        len(ties) == 1 and any(other in scene.outer_partners(tie.other) for other in partners if other != tie.other)
        for ties in partners.values()
        for tie in ties
    )


def _score_front(scene: Scene, copy: Copy) -> int:
    """What lands on a panel speaks for the front; what has a fold and goes over the top, and straps, for the back."""
    score = 0
    for lies in scene.assembly.lies:
        if lies.host == copy and not lies.is_behind and lies.copy.part in scene.goods.pieces:
            score += -1 if any(fold.is_open for fold in scene.goods.pieces[lies.copy.part].marks.folds) else 1
    piece = scene.goods.pieces.get(copy.part)
    return score - (len(piece.strap_landings) if piece else 0) - len(scene.item(copy).folds)


def _score_flat(scene: Scene, copy: Copy) -> tuple[bool, bool, int, float]:
    """Of parts that lie flat: what folds along a line that is sewn comes first, then what is sewn at all."""
    ties = _outer_ties(scene, copy)
    folds = [fold for fold, _ in scene.angles(copy)]
    bends_with_seam = any(crosses(fold, tie.mine) for fold in folds for tie in ties)
    pieces = scene.goods.pieces
    is_lined = any(tie.other.part in pieces and pieces[tie.other.part].model == copy.part for tie in ties)
    bends_beside = bool(folds) and not bends_with_seam and not is_lined  # what is like it bends with it
    is_sewn = bool(ties) or any(link.copy == copy for sewing in scene.sewings for link in sewing.links)
    return bends_with_seam, is_sewn, (not bends_beside) + _score_front(scene, copy), scene.item(copy).area_mm2
