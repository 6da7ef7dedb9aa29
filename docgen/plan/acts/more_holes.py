"""The part on top of a row sewn by hand has holes where what is beneath ends at its cut edge: it has more of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import edge_names, edge_path
from docgen.geometry.path import end_point, path_length, start_point
from docgen.plan.act import Act, act
from docgen.plan.acts.places import LEVEL_MM
from docgen.plan.acts.work import Work
from docgen.resolve import Seam, StitchLine

ENDS = {1: "one_end", 2: "both_ends"}


def more_hole_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """At how many ends of a row the first partner has a hole where another has none, since the thread goes over its edge
    there; the other way round the front page says how such rows end."""
    lines = {side.part: line for side in seam.sides if (line := _row_of(work, seam, side.part)) is not None}
    counts = {part: len(line.holes_mm) for part, line in lines.items()}
    if work.stitch(seam.stitch).by != "hand" or not counts:
        return
    most, least = next(iter(counts)), min(counts, key=lambda part: counts[part])
    ends = sum(_has_end_holes(lines[most])) - sum(_has_end_holes(lines[least]))
    if ends in ENDS and counts[most] - counts[least] == ends:
        edge = act(_edge_word(work, least, lines[least]))
        numbers = {"more": str(counts[most]), "fewer": str(counts[least])}
        yield act(
            "more_holes", part=work.titles[most], other=work.titles[least], ends=act(ENDS[ends]), edge=edge, **numbers
        )


def _edge_word(work: Work, part: str, line: StitchLine) -> str:
    """What a row goes over where it lacks its end hole: a hem ends at its fold."""
    piece = work.pieces[part]
    folds = [edge_path(piece.sewn_outline, edge) for edge in edge_names(piece.outline) if edge in piece.hemmed]
    ends = zip((start_point(line.path), end_point(line.path)), _has_end_holes(line), strict=True)
    found = {any(distance_to_path(fold, at) < LEVEL_MM for fold in folds) for at, has_hole in ends if not has_hole}
    return {frozenset((True,)): "folded_edge", frozenset((False,)): "cut_edge"}.get(frozenset(found), "any_edge")


def _row_of(work: Work, seam: Seam, part: str) -> StitchLine | None:
    """The first row of a seam on a piece, where it is one open line of it."""
    piece = work.pieces.get(part)
    lines = [line for line in piece.marks.stitch_lines if line.seam == seam.name and line.row == 0] if piece else []
    return lines[0] if len(lines) == 1 and not lines[0].path.closed and lines[0].holes_mm else None


def _has_end_holes(line: StitchLine) -> tuple[bool, bool]:
    """Whether there is a hole at its beginning, and at its end."""
    near_mm = min((after - before for before, after in pairwise(line.holes_mm)), default=1.0)
    return line.holes_mm[0] < near_mm / 2, path_length(line.path) - line.holes_mm[-1] < near_mm / 2
