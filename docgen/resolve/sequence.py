"""Which step punches what, and which seam closes a piece in."""

from collections.abc import Sequence

from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_length
from docgen.resolve.build import Build, Step
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide
from docgen.tables.cautions import has_phrase

# A piece that is sewn along this share of its outline cannot be reached from both sides any more: our choice.
CLOSED_SHARE = 0.5


def find_punching(build: Build, steps: Sequence[Step]) -> dict[str, int]:
    """Piece with holes or slits -> the step (from 0) that makes them: the first that speaks of punching or holes, else
    the first that names the piece; of one that none names the first that skives, joins or sews it."""
    found: dict[str, int] = {}
    worked = [_worked_in(build, step) for step in steps]
    for piece in build.pieces:
        named = [at for at, step in enumerate(steps) if piece.name in step.pieces]
        named = named or [at for at, names in enumerate(worked) if piece.name in names]
        punching = [at for at in named if is_punching(steps[at])]
        if (piece.marks.holes or piece.marks.slits) and named:
            found[piece.name] = (punching or named)[0]
    return found


def _worked_in(build: Build, step: Step) -> set[str]:
    """The pieces that a step skives, joins or sews."""
    joined = {name for join in build.joins if join.name in step.joins for name in join.pieces}
    sewn = {
        name for seam in build.seams if seam.name in step.seams for s in seam.sides for name in side_pieces(build, s)
    }
    return {*step.skives, *joined, *sewn}


def side_pieces(build: Build, side: SeamSide) -> tuple[str, ...]:
    """The pieces or the strap of one side of a seam, each once; of a join its strips."""
    join = next((join for join in build.joins if join.name == side.part), None)
    return tuple(dict.fromkeys(join.pieces)) if join else (side.part,)


def closes(seam: Seam, piece: Piece) -> bool:
    """True when the seam alone runs round so much of the piece that it cannot be reached from both sides."""
    return seam.length_mm >= CLOSED_SHARE * path_length(outline_path(piece.outline))


def is_punching(step: Step) -> bool:
    """Whether a step speaks of punching, or has the tools for it to hand."""
    said = (step.do, *step.tools)
    return any(has_phrase(words, phrase) for words in said for phrase in ("punch", "hole", "awl", "drill"))
