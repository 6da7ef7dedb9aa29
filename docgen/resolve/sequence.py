"""Steps in a row -> which one sews, joins, punches and closes in what: for checks, and for the plan of the work."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_length
from docgen.resolve.build import Build, Step
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide
from docgen.tables.cautions import has_phrase

# A piece that is sewn along this share of its outline cannot be reached from both sides any more: our choice.
CLOSED_SHARE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """The steps and, for each name, the first one (from 0) that sews, joins, makes, punches or handles it."""

    build: Build
    steps: Sequence[Step]
    seams: Mapping[str, int]
    joins: Mapping[str, int]
    straps: Mapping[str, int]
    punched: Mapping[str, int]
    handled: Mapping[str, int]
    closed: Mapping[str, int]


def find_punching(build: Build, steps: Sequence[Step]) -> dict[str, int]:
    """Piece with holes or slits -> the step (from 0) that makes them: the first that speaks of punching or holes, else
    the first that names the piece."""
    found: dict[str, int] = {}
    for piece in build.pieces:
        named = [at for at, step in enumerate(steps) if piece.name in step.pieces]
        punching = [at for at in named if _is_punching(steps[at])]
        if (piece.marks.holes or piece.marks.slits) and named:
            found[piece.name] = (punching or named)[0]
    return found


def side_pieces(build: Build, side: SeamSide) -> tuple[str, ...]:
    """The pieces or the strap of one side of a seam, each once; of a join its strips."""
    join = next((join for join in build.joins if join.name == side.part), None)
    return tuple(dict.fromkeys(join.pieces)) if join else (side.part,)


def closes(seam: Seam, piece: Piece) -> bool:
    """True when the seam alone runs round so much of the piece that it cannot be reached from both sides."""
    return seam.length_mm >= CLOSED_SHARE * path_length(outline_path(piece.outline))


def _is_punching(step: Step) -> bool:
    said = (step.do, *step.tools)
    return any(has_phrase(words, phrase) for words in said for phrase in ("punch", "hole", "awl", "drill"))


def read_work(build: Build, steps: Sequence[Step]) -> Work:
    """What each step does first."""
    seams = _first(steps, lambda step: step.seams)
    return Work(
        build=build,
        steps=steps,
        seams=seams,
        joins=_first(steps, lambda step: step.joins),
        straps=_first(steps, lambda step: step.straps),
        punched=find_punching(build, steps),
        handled=_first(steps, lambda step: _handled(build, step)),
        closed=_find_closed(build, seams),
    )


def _first(steps: Sequence[Step], names_of: Callable[[Step], Iterable[str]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, step in enumerate(steps):
        for name in names_of(step):
            found.setdefault(name, at)
    return found


def _handled(build: Build, step: Step) -> Iterator[str]:
    """Pieces and straps that the step takes in hand, those of its seams and joins included."""
    yield from (*step.pieces, *step.skives, *step.straps)
    yield from (name for join in build.joins if join.name in step.joins for name in join.pieces)
    sides = (side for seam in build.seams if seam.name in step.seams for side in seam.sides)
    yield from (name for side in sides for name in side_pieces(build, side))


def _find_closed(build: Build, seams: Mapping[str, int]) -> dict[str, int]:
    """Piece -> the step whose seam closes it in: its own edges together, or one other piece on it alone."""
    closed: dict[str, int] = {}
    sewn = sorted((seam for seam in build.seams if seam.name in seams), key=lambda seam: seams[seam.name])
    for piece in build.pieces:
        least_mm, edges_mm = CLOSED_SHARE * path_length(outline_path(piece.outline)), 0.0
        for seam in sewn:
            sides = [side for side in seam.sides if piece.name in side_pieces(build, side)]
            edges_mm += sum(_side_mm(piece, seam, side) for side in sides if side.edges)
            if edges_mm >= least_mm or (any(not side.edges for side in sides) and closes(seam, piece)):
                closed[piece.name] = seams[seam.name]
                break
    return closed


def _side_mm(piece: Piece, seam: Seam, side: SeamSide) -> float:
    """How much of the piece's edge this side of the seam takes."""
    lines = [line for line in piece.marks.stitch_lines if line.seam == seam.name and line.row == 0]
    return sum(path_length(line.path) for line in lines) if lines else side.length_mm
