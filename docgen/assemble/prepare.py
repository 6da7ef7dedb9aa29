"""What a proposed order does to the pieces before anything is joined: skived, punched and cut, creased."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.assemble.step_groups import PREPARE
from docgen.resolve import Build, Marks, Step, find_windows


def prepare_pieces(build: Build, begun: tuple[Step, ...]) -> Iterator[Step]:
    """What is done to the pieces before anything is joined, but for those of a part whose steps handle them."""
    handled = {(name, step.place.path) for step in begun for name in step.pieces}
    done = {name for step in begun for name in step.skives}
    pieces = [piece for piece in build.pieces if (piece.name, piece.place.path) not in handled]
    skived = tuple(piece.name for piece in build.pieces if piece.marks.skives and piece.name not in done)
    punched = tuple(piece.name for piece in pieces if piece.marks.holes or piece.marks.slits)
    known = {item.name for item in build.hardware}  # a fold round one of these is made where it is put in
    folded = tuple(piece.name for piece in pieces if any(fold.around not in known for fold in piece.marks.folds))
    if skived:
        yield Step(do="Skive the edges marked on the pattern.", group=PREPARE, skives=skived, tools=("skiving knife",))
    if punched:
        yield _punch_step(punched, [piece.marks for piece in pieces])
    if folded:
        yield Step(do="Crease the folds marked on the pattern.", group=PREPARE, pieces=folded, tools=("bone folder",))


def _punch_step(punched: tuple[str, ...], marks: Sequence[Marks]) -> Step:
    """Holes, slits and windows, in the words of those that there are."""
    has_holes, has_windows = any(one.holes for one in marks), any(find_windows(one.slits) for one in marks)
    has_slits = any(len(one.slits) > 4 * len(find_windows(one.slits)) for one in marks)
    said = (has_holes, "punch the holes"), (has_slits, "cut the slits"), (has_windows, "cut out the windows")
    *first, last = (words for is_there, words in said if is_there)
    return Step(
        do=f"{', '.join(first)}{' and ' if first else ''}{last} marked on the pattern.".capitalize(),
        group=PREPARE,
        pieces=punched,
        tools=(*(("hole punch", "mallet") if has_holes else ()), *(("knife",) if has_slits or has_windows else ())),
    )
