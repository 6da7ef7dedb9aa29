"""The first step that does each thing, and the step that closes a piece in: what the order of the steps is held against."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from docgen.assemble.assembly import Assembly
from docgen.assemble.goods import Goods
from docgen.classes import dataclass
from docgen.geometry.outline import WHOLE, edge_names, outline_path
from docgen.geometry.path import path_length
from docgen.resolve import Build, Seam, SeamSide, Step, closes, find_punching, side_pieces

CLOSED_SHARE = 0.5  # a piece sewn along this share of its outline cannot be reached from both sides: our choice
Late = tuple[int, str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """For each name the first step (from 0) that sews, joins, makes, punches, handles or closes it."""

    goods: Goods
    assembly: Assembly
    first: Mapping[tuple[str, str], int]
    punched: Mapping[str, int]
    handled: Mapping[str, int]
    closed: Mapping[str, int]
    shut: Mapping[str, int]  # closed, and not merely sewn flat to what lies behind it

    @property
    def steps(self) -> tuple[Step, ...]:
        return self.assembly.steps

    def step_of(self, kind: str, name: str) -> int:
        """The first step that does it; the number of steps for none."""
        return self.first.get((kind, name), len(self.steps))


def read_work(build: Build, assembly: Assembly) -> Work:
    goods, steps = Goods(build), assembly.steps
    first: dict[tuple[str, str], int] = {}
    for event in assembly.events:
        first.setdefault((event.kind, event.name), event.step)
    handled: dict[str, int] = {}
    for at, step in enumerate(steps):
        for name in _handled(goods, step):
            handled.setdefault(name, at)
    return Work(
        goods=goods,
        assembly=assembly,
        first=first,
        punched=find_punching(build, steps),
        handled=handled,
        closed=_find_closed(goods, assembly),
        shut=_find_closed(goods, assembly, is_flat_open=True),
    )


def _handled(goods: Goods, step: Step) -> Iterator[str]:
    yield from (*step.pieces, *step.skives, *step.straps)
    yield from (strip.name for join in step.joins for strip in goods.strips(join))
    sides = (side for name in step.seams for side in goods.sides(name))
    yield from (name for side in sides for name in side_pieces(goods.build, side))


def _find_closed(goods: Goods, assembly: Assembly, *, is_flat_open: bool = False) -> dict[str, int]:
    """Piece -> the step whose seam closes it in: its own edges together, or one other piece on it alone. With
    `is_flat_open` what is sewn flat to it closes nothing."""
    closed: dict[str, int] = {}
    sewn = dict.fromkeys(once.seam for once in assembly.sewn)
    steps = {event.name: event.step for event in reversed(assembly.events) if event.kind == "seams"}
    for name, piece in goods.pieces.items():
        least_mm, edges_mm = CLOSED_SHARE * path_length(outline_path(piece.outline)), 0.0
        for seam in (goods.seams[one] for one in sewn):
            sides = [side for side in seam.sides if name in side_pieces(goods.build, side)]
            if is_hem(sides) or (is_flat_open and _lies_flat(goods, name, seam)):
                continue
            edges_mm += sum(_side_mm(goods, name, seam, side) for side in sides if side.edges)
            if edges_mm >= least_mm or (any(not side.edges for side in sides) and closes(seam, piece)):
                closed[name] = steps[seam.name]
                break
    return closed


def is_hem(sides: Iterable[SeamSide]) -> bool:
    """Whether a piece is sewn to itself: along edges, and flat beneath them."""
    return {bool(side.edges) for side in sides} == {True, False}


def is_rolled(sides: Iterable[SeamSide], name: str) -> bool:
    """Whether a seam sews both long edges of a part to each other, and nothing else."""
    return sorted((side.part, side.edges) for side in sides) == [(name, ("left",)), (name, ("right",))]


def _lies_flat(goods: Goods, name: str, seam: Seam) -> bool:
    """Whether what the seam sews lies flat, so that a punch goes through all of it: parts that are sewn to each other all
    round have no mouth, and what lines the piece is glued behind it."""
    others = [side.part for side in seam.sides if side.part != name]
    is_lined = bool(others) and all(goods.covers(other, name) or goods.covers(name, other) for other in others)
    return is_lined or all(is_whole(goods, side) for side in seam.sides)


def is_whole(goods: Goods, side: SeamSide) -> bool:
    piece = goods.pieces.get(side.part)
    return piece is not None and (WHOLE in side.edges or {*edge_names(piece.outline)} <= {*side.edges})


def _side_mm(goods: Goods, name: str, seam: Seam, side: SeamSide) -> float:
    """How much of a piece's edge this side of the seam takes."""
    lines = [line for line in goods.pieces[name].marks.stitch_lines if line.seam == seam.name and line.row == 0]
    return sum(path_length(line.path) for line in lines) if lines else side.length_mm


def too_late(at: int, before: int, does: str, did: str, mend: str, name: str) -> Late:
    what = f"step {at + 1} {does}, which step {before + 1} {did} already"
    return at, what, f"{mend} before step {before + 1}", name
