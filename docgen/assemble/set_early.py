"""When the posts of a proposed order are set that go through a lining: once that is in, and before the work is closed."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from itertools import takewhile

from docgen.assemble.goods import Goods
from docgen.assemble.step_groups import PREPARE
from docgen.resolve import Build, Piece, Step
from docgen.tables.cautions import STRUCK_TO_SETTER


def set_once_lined(build: Build, steps: Sequence[Step], setting: Iterable[Step]) -> tuple[Step, ...]:
    """The steps with those that set hardware among them: each as soon as all hangs together that its posts go through,
    where that is before the last seam; else behind them all, in their order."""
    goods = Goods(build)
    done = list(steps)
    placed, late = list[Step](), list[Step]()
    for step in setting:
        at = _find_place(goods, done, step)
        if at is None:
            late.append(step)
        else:
            done.insert(at + sum(1 for _ in takewhile(placed.__contains__, done[at:])), step)
            placed.append(step)
    return (*done, *late)


def _find_place(goods: Goods, steps: Sequence[Step], setting: Step) -> int | None:
    """Where in the order a step that strikes hardware in pieces alone has all its layers joined, before the last seam;
    None where it goes through a strap, or some of it hangs on nothing till then."""
    kinds = {item.kind for item in goods.build.hardware if item.name in setting.hardware}
    if setting.straps or not setting.pieces or not kinds <= STRUCK_TO_SETTER.keys():
        return None
    layers = [
        _layers_of(goods, goods.pieces[name], setting.hardware) for name in setting.pieces if name in goods.pieces
    ]
    groups: list[set[str]] = [{name} for name in (*goods.pieces, *goods.joins, *goods.straps)]
    prepared = sum(1 for _ in takewhile(lambda step: step.group == PREPARE, steps))
    last = max((k for k, step in enumerate(steps) if step.seams), default=0)
    for k, step in enumerate(steps[:last]):
        for parts in _joined_by(goods, step):
            met = [group for group in groups if not group.isdisjoint(parts)]
            groups = [group for group in groups if group not in met] + [set[str]().union(*met)]
        is_joined = all(any(names <= group for group in groups) for names in layers)
        if is_joined and k + 1 >= prepared and not _goes_on(goods, steps[k + 1], layers):
            return k + 1
    return None


def _goes_on(goods: Goods, step: Step, layers: Sequence[Collection[str]]) -> bool:
    """Whether a step only sews layers of one post to each other, and closes none of them."""
    sewn = [[side.part for side in goods.seams[name].sides] for name in step.seams if name in goods.seams]
    return bool(sewn) and all(
        len({*parts}) == len(parts) and any({*parts} <= {*names} for names in layers) for parts in sewn
    )


def _layers_of(goods: Goods, piece: Piece, hardware: Collection[str]) -> set[str]:
    """A piece with all that may lie where posts go through it: what its holes name, what lands on it, and what lines it."""
    through = {name for hole in piece.marks.holes if hole.takes in hardware for name in hole.through}
    landed = {landing.piece for landing in piece.marks.landings} | {landing.strap for landing in piece.strap_landings}
    return {piece.name} | through | landed | {name for name in goods.pieces if goods.covers(name, piece.name)}


def _joined_by(goods: Goods, step: Step) -> list[set[str]]:
    """The parts that a step joins to each other: each of its seams, the strips of its joins, what it fixes or lays."""
    joins = [{name, *goods.joins[name].pieces} for name in step.joins if name in goods.joins]
    seams = [{side.part for side in goods.seams[name].sides} for name in step.seams if name in goods.seams]
    covers = [{cover, part} for cover in step.pieces for part in goods.pieces if goods.covers(cover, part)]
    landed = [
        {name, one.piece} for name in step.pieces if name in goods.pieces for one in goods.pieces[name].marks.landings
    ]
    laid = [] if step.group == PREPARE else [*covers, *(pair for pair in landed if pair <= {*step.pieces})]
    return [*joins, *seams, *laid]
