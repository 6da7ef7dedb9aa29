"""Placing all copies one after the other: each by the first rule that tells where it lies."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from docgen.assemble.assembly import Assembled, Copy
from docgen.assemble.goods import Goods
from docgen.assemble.space.build_up import build_up, close, join_straight
from docgen.assemble.space.close import find_gaps, find_meetings, settle
from docgen.assemble.space.doubts import find_doubts
from docgen.assemble.space.first import put_first
from docgen.assemble.space.lay import follow_rim, hang, land, line
from docgen.assemble.space.placed import Space, Unplaced
from docgen.assemble.space.scene import Scene

Rule = Callable[[Scene, Copy], bool]


def place_parts(build: Assembled) -> Space:
    """Where every copy of every piece and join lies when all is done. Nothing in it can fail: what does not follow from
    the spec is told as not placed, and why."""
    scene = Scene(Goods(build), build.assembly)
    first = put_first(scene)
    if first is None:
        return Space(unplaced=tuple(Unplaced(copy=copy, why="nothing to begin with") for copy in scene.items.copies))
    while _place_one(scene):
        pass
    gaps = tuple(find_gaps(scene))
    doubts = [*find_doubts(scene, gaps)]
    return Space(
        kind=scene.kind,
        front=first,
        parts=tuple(scene.placed[copy] for copy in scene.items.copies if copy in scene.placed),
        gaps=gaps,
        meetings=tuple(find_meetings(scene)),
        unplaced=tuple(_tell_unplaced(scene)),
        doubtful=tuple(dict.fromkeys(copy for _, copies in doubts for copy in copies)),
        doubts=tuple(problem for problem, _ in doubts),
    )


def _place_one(scene: Scene) -> bool:
    """Place all that one rule can; the ones that guess least come first."""
    left = [copy for copy in scene.items.copies if copy not in scene.placed]

    def place(rule: Rule) -> bool:
        return sum(rule(scene, copy) for copy in left) > 0

    def place_next(rule: Rule) -> bool:
        return any(rule(scene, copy) for copy in left)

    return (
        place(land)
        or place(build_up)
        or place_next(join_straight)
        or place_next(follow_rim)
        or settle(scene)
        or place(_place_inner)
        or place(hang)
        or place_next(_place_at_best)
    )


def _place_inner(scene: Scene, copy: Copy) -> bool:
    return scene.item(copy).is_inner and line(scene, copy)


def _place_at_best(scene: Scene, copy: Copy) -> bool:
    """A part whose lines come to lie on no others: where they miss least, so that the gap can be told."""
    ties = scene.placed_ties(copy)
    return bool(ties) and close(scene, copy, ties, math.inf)


def _tell_unplaced(scene: Scene) -> Iterator[Unplaced]:
    for copy in scene.items.copies:
        if copy not in scene.placed:
            yield Unplaced(copy=copy, why=_why(scene, copy))


def _why(scene: Scene, copy: Copy) -> str:
    if scene.ties_of(copy):
        return "its seams do not tell how it lies"
    if any(True for _ in scene.flat_ties(copy)):
        return "it is sewn flat on a part, and no landing says where"
    if any(hole.takes and hole.through for hole in scene.item(copy).holes):
        return "the part that it is riveted to has no hole for it"
    return "no seam, landing or hole says where it lies"
