"""Checks of seams that run across a fold: how long they are hangs on whether the fold is made before."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.folding import kept_half
from docgen.geometry.measure import chords
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_length
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import cross, distance, subtract
from docgen.problems import line_words
from docgen.resolve import Fold, Piece, Seam, SeamSide, side_words

LITTLE_MM = 20.0  # so far beyond a fold a run was meant to end at it: our choice
SAME_MM = 0.5  # a run that a fold only touches does not cross it
Half = tuple[Fold, float]  # a fold, and on which hand of it the half stays


@check(
    "seam-across-fold",
    "A seam ends at the fold of what is sewn as it is folded, or its partner folds there too.",
    "plane geometry",
    needs_whole=True,
)
def find_seams_across_folds(subject: Subject) -> Iterator[Found]:
    """Sides whose run goes across a fold, and that are measured along the flat piece: with how much of the run lies on the
    half that stays. A fold that bends by an angle, and one that others hold straight, are told by where its piece lies."""
    told = {doubt.at for doubt in subject.space.doubts if doubt.check == "fold-held-straight"}
    for seam in subject.build.seams:
        by_edge = [side for side in seam.sides if side.edges]
        for side in (side for side in by_edge if not side.ends and side.part not in told):
            piece = subject.parts.pieces.get(side.part)
            others = [subject.parts.pieces.get(other.part) for other in seam.sides if other.part != side.part]
            is_flat_on = any(not other.edges for other in seam.sides if other.part != side.part)
            folds = _folds(piece, is_flat_on=is_flat_on)
            if piece is None or any(_folds(other, is_flat_on=is_flat_on) for other in others):
                continue  # both are sewn flat, and folded after
            if sum(other.part == side.part for other in by_edge) > 1:
                continue  # its own edges to each other
            for line in piece.marks.stitch_lines if folds else ():
                if line.seam == seam.name and line.row == 0:
                    across = [fold for fold in folds if _crosses(fold, line.path)]
                    kept_mm = _kept_mm(piece, across, line.path)
                    if kept_mm < path_length(line.path) - SAME_MM:
                        yield _tell(subject, seam, side, across[0], kept_mm)
                    break


@check(
    "fold-in-seam",
    "A seam ends at an open fold, or goes on well beyond it.",
    "plane geometry; how far is well beyond is our choice",
    needs_whole=True,
)
def find_folds_in_seams(subject: Subject) -> Iterator[Found]:
    """Open folds that bend by an angle, and beyond which both ends of a run between edges reach a little; once for a fold.
    A partner that folds too, or lines the piece, goes with it."""
    for seam in subject.build.seams:
        for side in (side for side in seam.sides if side.edges and all(other.edges for other in seam.sides)):
            piece = subject.parts.pieces.get(side.part)
            others = [subject.parts.pieces.get(other.part) for other in seam.sides if other.part != side.part]
            is_held = any(other is None or not subject.lies_behind(side.part, other.name) for other in others)
            if piece is None or not is_held or any(other is not None and other.own_folds for other in others):
                continue
            lines = [line.path for line in piece.marks.stitch_lines if line.seam == seam.name and line.row == 0]
            for fold in (fold for fold in piece.own_folds if fold.is_open and fold.angle_deg and len(lines) == 1):
                run = flatten(lines[0])
                ends = [fold.off_mm(run[0]), fold.off_mm(run[-1])]
                beyond_mm = min(abs(off) for off in ends)
                is_little = beyond_mm > SAME_MM and max(abs(off) for off in ends) <= LITTLE_MM
                if is_little and ends[0] * ends[1] > 0 and _crosses(fold, lines[0]):
                    line = line_words(seam.place.line)
                    what = (
                        f'the seam "{seam.name}"{line} goes {subject.length(beyond_mm)} beyond a fold of "{piece.name}", '
                        "and its partners have none there"
                    )
                    yield (
                        fold.place,
                        what,
                        "measure both from one edge: the seam ends at the fold, or before it",
                        piece.name,
                    )


def _folds(piece: Piece | None, *, is_flat_on: bool) -> list[Fold]:
    """The folds of a piece that lay one half of it elsewhere than the other: closed ones, and of what is sewn flat on
    something those that bend, nobody says how far."""
    marked = piece.marks.folds if piece else ()
    return [fold for fold in marked if not fold.of_hem and (not fold.is_open or (is_flat_on and not fold.angle_deg))]


def _crosses(fold: Fold, path: Path) -> bool:
    """Whether a line goes on to either side of a fold."""
    off = [_hand(fold, at) / distance(fold.start, fold.end) for at in flatten(path)]
    return min(off) < -SAME_MM and max(off) > SAME_MM


def _kept_mm(piece: Piece, folds: Sequence[Fold], path: Path) -> float:
    """How much of a line lies on the half that stays at every one of these folds."""
    shape = outline_path(piece.sewn_outline)
    halves = [half for fold in folds if (half := _half_of(shape, fold)) is not None]
    points = flatten(path)
    return sum(_leg_mm(*leg, halves) for leg in pairwise(points))


def _half_of(shape: Path, fold: Fold) -> Half | None:
    """None where the line of the fold is not one that parts the piece."""
    lines = chords(shape, fold.start, subtract(fold.end, fold.start))
    return (fold, _hand(fold, kept_half(shape, *lines[0]))) if len(lines) == 1 else None


def _hand(fold: Fold, at: Point) -> float:
    return cross(subtract(fold.end, fold.start), subtract(at, fold.start))


def _leg_mm(start: Point, end: Point, halves: Sequence[Half]) -> float:
    """How much of a straight leg lies on all halves."""
    low, high = 0.0, 1.0
    for fold, hand in halves:
        before, after = _hand(fold, start) * hand, _hand(fold, end) * hand
        if max(before, after) <= 0:
            return 0.0
        if min(before, after) < 0:
            share = before / (before - after)
            low, high = (max(low, share), high) if before < 0 else (low, min(high, share))
    return max(0.0, high - low) * distance(start, end)


def _tell(subject: Subject, seam: Seam, side: SeamSide, fold: Fold, kept_mm: float) -> Found:
    line = line_words(fold.place.line)
    what = (
        f'the seam "{seam.name}" runs along {side_words(side)} across its fold{line}: it is reckoned along the flat piece, '
        f"{subject.length(side.length_mm)}, of which {subject.length(kept_mm)} lie on the half that stays when it is folded"
    )
    mend = "name the edges up to the fold, or accept this where it is sewn flat and folded after"
    if fold.is_open:
        mend = "write the angle by which it bends, or name the edges up to the fold"
    elif all(other.edges for other in seam.sides):
        mend = "write open = true for a fold that only bends once all is sewn, or name the edges up to the fold"
    return seam.place_of(side), what, mend, seam.name
