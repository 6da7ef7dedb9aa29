"""Pieces that are folded before they are sewn flat on another: their edges are sewn up to the fold, through both halves."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from docgen.geometry.folding import kept_half, mirror_over
from docgen.geometry.measure import chords, distance_to_path
from docgen.geometry.nearest import Stretch, nearest_along
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_length, point_at, transform_path
from docgen.geometry.run import is_whole, run_path
from docgen.geometry.shapes import Outline, Path, Point
from docgen.geometry.vector import cross, subtract
from docgen.problems import Place
from docgen.read import FoldSpec
from docgen.resolve.piece import Piece
from docgen.resolve.pieces.outlines import Recipe
from docgen.resolve.pieces.positions import find_line
from docgen.resolve.seams.partners import Partners
from docgen.resolve.values import Reader, flag
from docgen.tables.defaults import FOLD_IS_OPEN

ON_FOLD_MM = 0.01
Folded = Mapping[Place, tuple[FoldSpec, ...]]
"""The closed folds of the sides of seams that are sewn as they are folded, by where these are written."""


def find_folded(recipes: Mapping[str, Recipe], partners: Mapping[str, Partners]) -> Folded:
    """Sides that are sewn as they are folded: the one that has edges, all of them, in a seam on a part that lies flat
    beneath and is not folded itself."""
    found: dict[Place, tuple[FoldSpec, ...]] = {}
    for sides in partners.values():
        with_edges = [side for side in sides if side.edges]
        beneath = [side.part for side in sides if not side.edges]
        if len(with_edges) != 1 or not beneath or with_edges[0].ends or with_edges[0].part in beneath:
            continue
        if any(name in recipes and _closed_folds(recipes[name]) for name in beneath):
            continue
        side = with_edges[0]
        if side.part in recipes and (folds := _closed_folds(recipes[side.part])):
            found[side.place] = folds
    return found


def _closed_folds(recipe: Recipe) -> tuple[FoldSpec, ...]:
    """The closed folds of a piece, those of its model too where its marks come along as they are."""
    folds: list[FoldSpec] = []
    for spec in recipe.chain:
        if spec.mirror is not None or (spec.marks is not None and not spec.marks.value):
            folds = []
        folds += (fold for fold in spec.folds if not flag(fold.open, FOLD_IS_OPEN))
    return tuple(folds)


def folded_stretch(
    measures: Reader, folds: tuple[FoldSpec, ...], outline: Outline, edges: tuple[str, ...]
) -> Stretch | None:
    """What of a run lies on the half that stays, from where to where along it; None for all of it, and where it is no one
    stretch. A fold that cannot be read is noted where the piece is made."""
    if is_whole(outline, edges):
        return None
    quiet = Reader(measures=measures.measures, problems=[], unreadable=measures.unreadable)
    run, shape = run_path(outline, edges), outline_path(outline)
    begin, end = 0.0, path_length(run)
    for fold in folds:
        guide = find_line(quiet, fold.at, outline)
        lines = chords(shape, guide.point, guide.direction) if guide else ()
        kept = _keep(run, shape, *lines[0]) if len(lines) == 1 else None
        if kept is not None:
            begin, end = max(begin, kept[0]), min(end, kept[1])
    is_part = begin > 0 or end < path_length(run)
    return (begin, end) if is_part and end - begin > ON_FOLD_MM else None


def fold_down(path: Path, piece: Piece) -> Path:
    """Where a line of a piece lies once that is folded: mirrored over each closed fold from the half that is turned; as it
    is where it crosses the fold."""
    shape = outline_path(piece.sewn_outline)
    for fold in piece.marks.folds:
        if fold.is_open or fold.of_hem or len(chords(shape, fold.start, subtract(fold.end, fold.start))) != 1:
            continue
        way = subtract(fold.end, fold.start)
        hand = cross(way, subtract(kept_half(shape, fold.start, fold.end), fold.start))
        if all(hand * cross(way, subtract(at, fold.start)) < 0 for at in flatten(path)):
            path = transform_path(path, mirror_over(fold.start, fold.end))
    return path


def _keep(run: Path, shape: Path, start: Point, end: Point) -> Stretch | None:
    """The stretch of a run on the half of a shape that stays; None where there is none, or more than one."""
    whole_mm, middle = path_length(run), kept_half(shape, start, end)
    hand = cross(subtract(end, start), subtract(middle, start))
    on = [nearest_along(run, at) for at in (start, end) if distance_to_path(run, at) < ON_FOLD_MM]
    parts = [*pairwise(sorted({0.0, *on, whole_mm}))]
    kept = [
        part
        for part in parts
        if hand * cross(subtract(end, start), subtract(point_at(run, sum(part) / 2)[0], start)) > 0
    ]
    return kept[0] if len(kept) == 1 and len(parts) > 1 else None
