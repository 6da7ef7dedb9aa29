"""What the order of the steps changes on the sides of seams: what is sewn before the hem beside it is turned over runs out
to the cut edge, the row of a hem ends at the seams that are sewn before, and any other at edges that all its sides have
turned in by then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from contextlib import suppress
from dataclasses import replace

from docgen.geometry.measure import distance_to_path
from docgen.geometry.nearest import inset_stretch
from docgen.geometry.path import end_point, path_length, start_point
from docgen.geometry.shapes import GeometryError, Outline, Path, Point
from docgen.read import Spec, StepSpec
from docgen.resolve.build import Step
from docgen.resolve.piece import Piece
from docgen.resolve.seams.partners import Partners
from docgen.resolve.seams.seam import Join, SeamSide, Stitch
from docgen.resolve.sequence import find_turning
from docgen.resolve.values import flag, names
from docgen.tables.defaults import IS_TURNED

SAME_MM = 0.5  # what the sides of a seam have more than between their folds is the same within this
ON_EDGE_MM = 0.1  # a row that ends no farther from an edge ends at it


def follow_steps(
    spec: Spec,
    partners: Mapping[str, Partners],
    stitches: Mapping[str, Stitch],
    pieces: Mapping[str, Piece],
    joins: Mapping[str, Join],
) -> dict[str, Partners]:
    """The partners of every seam as the steps find them: unturned where all of a seam that is sewn before their hems are
    turned over go on as far beyond the folds; shorter where the row of a hem comes to joints and turned
    seams that are sewn by then, and where any other comes to edges that other parts have been sewn and turned on."""
    steps = [_read_step(one) for one in spec.steps if one.do is not None]
    turning = find_turning([*pieces.values()], {name: join.pieces for name, join in joins.items()}, partners, steps)
    sewn = _first_at((at, name) for at, step in enumerate(steps) for name in step.seams)
    joined = _first_at((at, name) for at, step in enumerate(steps) for name in step.joins)
    turned = {one.name: sewn[one.name] for one in spec.seams if flag(one.turned, IS_TURNED) and one.name in sewn}
    found = dict(partners)
    for name, at in sewn.items() if turning else ():
        sides = partners.get(name, ())
        edged = [side for side in sides if side.edges]
        is_early = all(at < turning.get(side.part, -1) and not side.ends for side in edged)
        if edged and is_early and name in stitches and _have_same_more(edged, pieces, stitches[name]):
            found[name] = tuple(replace(side, is_unturned=True) if side.edges else side for side in sides)
        elif len(edged) == 1 and name in stitches:
            before = [join for join in joins.values() if joined.get(join.name, at) < at]
            inset_mm = _turned_before(turned, at, partners, stitches)
            found[name] = tuple(
                replace(side, lost_mm=_lost_mm(side, before, pieces, stitches[name], inset_mm)) if side.edges else side
                for side in sides
            )
    for name in sewn.keys() & stitches.keys():
        sides, at = found.get(name, ()), sewn[name]
        if name not in turned and sum(bool(side.edges) for side in sides) < 2:
            continue  # the row of a hem, or of what lies flat on another part
        inset_mm = _turned_before(turned, at, partners, stitches, {side.part for side in sides})
        lost = [_turned_in_mm(side, pieces, stitches[name], inset_mm) if side.edges else (0.0, 0.0) for side in sides]
        alike = {tuple(sorted(mm)) for side, mm in zip(sides, lost, strict=True) if side.edges}  # from either end
        if len(alike) == 1 and alike != {(0.0, 0.0)} and not any(side.is_unturned for side in sides):
            found[name] = tuple(
                replace(side, lost_mm=mm) if side.edges else side for side, mm in zip(sides, lost, strict=True)
            )
    return found


def _turned_before(
    turned: Mapping[str, int],
    at: int,
    partners: Mapping[str, Partners],
    stitches: Mapping[str, Stitch],
    closed: Set[str] = frozenset(),
) -> dict[tuple[str, str], float]:
    """Part and edge -> what is turned in there before a step, mm: by no seam that sews two of `closed` to each other."""
    return {
        (side.part, edge): stitches[name].inset_mm
        for name, when in turned.items()
        if when < at and name in stitches and len(closed & {side.part for side in partners.get(name, ())}) < 2
        for side in partners.get(name, ())
        for edge in (side.edges if not side.ends else ())
    }


def _read_step(spec: StepSpec) -> Step:
    """What of a step tells when hems are turned over."""
    return Step(
        do=spec.do.value if spec.do else "",
        pieces=names(spec.pieces),
        skives=names(spec.skives),
        joins=names(spec.joins),
        seams=names(spec.seams),
    )


def _first_at(done: Iterable[tuple[int, str]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, name in done:
        found.setdefault(name, at)
    return found


def _lost_mm(
    side: SeamSide,
    joins: Sequence[Join],
    pieces: Mapping[str, Piece],
    stitch: Stitch,
    inset_mm: Mapping[tuple[str, str], float],
) -> tuple[float, float]:
    """What of the row of a hem lies in joints and turned seams that are sewn before: the ends of a ring's strip over each
    other, and what is turned in at the edges (`inset_mm`) at which the row begins and ends."""
    piece = pieces.get(side.part)
    hemmed = piece.hemmed if piece else frozenset()
    if piece is None or not {*side.edges} <= hemmed or side.ends:
        return 0.0, 0.0
    over_mm = next((one.overlap_mm for one in joins if one.is_ring and one.pieces == (side.part,)), 0.0)
    if over_mm:
        return 0.0, over_mm
    return _turned_in_mm(side, pieces, stitch, inset_mm)


def _turned_in_mm(
    side: SeamSide, pieces: Mapping[str, Piece], stitch: Stitch, inset_mm: Mapping[tuple[str, str], float]
) -> tuple[float, float]:
    """What of the row of a side is turned in at the edges (`inset_mm`) at which it begins and ends."""
    piece = pieces.get(side.part)
    line = _line_of(piece.sewn_outline, side, stitch) if piece and not side.ends else None
    if piece is None or line is None:
        return side.lost_mm
    ends = (start_point(line), end_point(line)) if not line.closed else ()
    lost = [max([0.0, *(inset_mm.get((side.part, edge), 0.0) for edge in _edges_at(piece, at))]) for at in ends]
    return (lost[0], lost[1]) if lost and sum(lost) < path_length(line) else (0.0, 0.0)


def _edges_at(piece: Piece, at: Point) -> Iterator[str]:
    """The edges of a piece on which a point lies."""
    return (edge.name for edge in piece.sewn_outline.edges if distance_to_path(edge.path, at) < ON_EDGE_MM)


def _have_same_more(sides: Sequence[SeamSide], pieces: Mapping[str, Piece], stitch: Stitch) -> bool:
    """Whether all sides are longer by as much along the cut edge as between the folds of their hems."""
    more = []
    for side in sides:
        piece = pieces[side.part]
        hemmed = piece.hemmed
        lengths = [_length_mm(outline, side, stitch) for outline in (piece.outline, piece.sewn_outline)]
        if {*side.edges} & hemmed or "all" in hemmed or None in lengths:
            return False
        more.append((lengths[0] or 0.0) - (lengths[1] or 0.0))
    return min(more) > SAME_MM and max(more) - min(more) < SAME_MM


def _length_mm(outline: Outline, side: SeamSide, stitch: Stitch) -> float | None:
    """How long the stitch line of a side is on an outline; None where it does not fit."""
    line = _line_of(outline, side, stitch)
    return None if line is None else path_length(line)


def _line_of(outline: Outline, side: SeamSide, stitch: Stitch) -> Path | None:
    with suppress(GeometryError):
        return inset_stretch(outline, side.edges, side.line_mm(stitch.inset_mm), None)
    return None
