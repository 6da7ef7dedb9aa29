"""What lies flesh to flesh in a cover that folds once is folded with it, the other way: its grain side lies inside."""

from collections.abc import Iterator
from dataclasses import replace

from docgen.geometry.vector import distance
from docgen.resolve.marks import Fold
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece

SAME_MM = 1.0  # folds that lie no farther apart are one in both layers
OTHER = {"flesh": "grain", "grain": "flesh"}


def fold_along(parts: Parts) -> Parts:
    """The parts with what lies inside the one open fold of each piece that is like another and sewn to it edge to edge,
    where that folds in the same place, and the fold of the piece does not say it."""
    found = dict(_folded(parts))
    if not found:
        return parts
    return replace(parts, pieces={name: found.get(name, piece) for name, piece in parts.pieces.items()})


def _folded(parts: Parts) -> Iterator[tuple[str, Piece]]:
    for name, _, own, its in layers_folded_along(parts):
        if not own.inside:
            piece, turned = parts.pieces[name], replace(own, inside=OTHER[its.inside or "flesh"])
            yield name, piece.with_marks(folds=tuple(turned if one == own else one for one in piece.marks.folds))


def layers_folded_along(parts: Parts) -> Iterator[tuple[str, str, Fold, Fold]]:
    """Each piece that is like another, sewn to it edge to edge and folded in the same place, with that and both folds."""
    for name, piece in parts.pieces.items():
        model = parts.pieces.get(piece.like)
        if model is not None and piece.shows == model.shows == "grain":
            own, its = _half_fold(piece), _half_fold(model)
            if own is not None and its is not None and _is_same(own, its) and _are_sewn(parts, name, model.name):
                yield name, model.name, own, its


def _are_sewn(parts: Parts, *names: str) -> bool:
    return any({*names} <= {side.part for side in seam.sides if side.edges} for seam in parts.seams)


def _half_fold(piece: Piece) -> Fold | None:
    """The only fold of what folds once, and is not folded flat for good."""
    folds = piece.own_folds
    return folds[0] if len(folds) == 1 and folds[0].is_open and folds[0].angle_deg in (0, 180) else None


def _is_same(one: Fold, other: Fold) -> bool:
    straight = max(distance(one.start, other.start), distance(one.end, other.end))
    crossed = max(distance(one.start, other.end), distance(one.end, other.start))
    return min(straight, crossed) <= SAME_MM
