"""Seams that are not turned beside others that are, match marks that are cut in one of two pieces alone, and flaps that
are caught in the sides of what is turned."""

from collections.abc import Iterator
from itertools import permutations
from typing import Final

from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.vector import subtract, transform_vector
from docgen.read import PieceSpec
from docgen.resolve import Landing, Piece, Seam, SeamSide

LEAST_EDGES = 3  # by so many edges two panels are sewn round
SAME_MM: Final = 0.5
MOST = 100  # of more seams nothing is asked: a stranger's file


@question
def ask_turned(subject: Subject) -> Iterator[Question]:
    """Steps that sew two panels to each other round three edges or more and turn them, and two others that they do not
    turn, nor say so: a leather and its lining, both of which are sewn face to face."""
    written = {seam.name for seam in subject.spec.seams if seam.turned}
    seams = {seam.name: seam for seam in subject.build.seams}
    for step in subject.build.steps if len(seams) <= MOST else ():
        round_ = [seams[name] for name in dict.fromkeys(step.seams) if name in seams and _goes_round(seams[name])]
        turned = [seam for seam in round_ if seam.is_turned]
        flat = [seam for seam in round_ if not seam.is_turned and seam.name not in written]
        if len(turned) == len(flat) == 1 and turned[0].parts.isdisjoint(flat[0].parts):
            what = f'"{turned[0].name}" sews its parts face to face, to be turned, and "{flat[0].name}" of the same '
            what += "step does not"
            answer = (
                f'write turned = true for "{flat[0].name}" too; where it stays as it is sewn there is nothing to do'
            )
            yield Question(place=flat[0].place, what=what, answer=answer)


def _goes_round(seam: Seam) -> bool:
    sides = [side for side in seam.sides if len(side.edges) >= LEAST_EDGES]
    return len(sides) == len(seam.sides) == 2


@question
def ask_lone_notches(subject: Subject) -> Iterator[Question]:
    """Notches along the edges of a piece that no part has to meet, where it is sewn to a piece that is like it by the
    same edges."""
    seams = subject.build.seams if len(subject.build.seams) <= MOST else ()
    for seam in seams:
        sides = [side for side in seam.sides if side.edges]
        for side, other in permutations(sides, 2) if len(sides) == len(seam.sides) == 2 else ():
            piece, bare = (subject.parts.pieces.get(one.part) for one in (side, other))
            if piece is None or bare is None or piece is bare or {*side.edges} != {*other.edges}:
                continue
            own, twin = subject.piece_spec(piece.name), subject.piece_spec(bare.name)
            if own is None or twin is None or not (_is_like(own, twin) or _is_like(twin, own)):
                continue
            notched = _notched(piece, side)
            others = [it for one in seams if one is not seam for it in one.sides if it.part == piece.name]
            if notched and not _notched(bare, other) and notched.isdisjoint(edge for it in others for edge in it.edges):
                what = (
                    f'"{piece.name}" has a notch on {" ".join(sorted(notched))}, and "{bare.name}", which is like it '
                )
                what += f'and sewn to it by "{seam.name}", has none'
                answer = "give both one, or leave it out; where it marks something else there is nothing to do"
                yield Question(place=own.notches[0].place if own.notches else piece.place, what=what, answer=answer)


def _is_like(one: PieceSpec, other: PieceSpec) -> bool:
    return one.like is not None and one.like.value == other.name


def _notched(piece: Piece, side: SeamSide) -> set[str]:
    """The edges of a side that have a notch."""
    return {notch.edge for notch in piece.marks.notches} & {*side.edges}


@question
def ask_caught_flaps(subject: Subject) -> Iterator[Question]:
    """Flaps sewn on a panel before the seams along both its sides are, which are turned: wider than the mouth between
    these, where they come out of it."""
    for base in subject.build.pieces if len(subject.build.seams) <= MOST else ():
        own = subject.piece_spec(base.name)
        for landing in (one for one in base.marks.landings if one.is_over):
            sewn = [seam for seam in subject.build.seams if {base.name, landing.piece} <= seam.parts]
            flap = subject.parts.pieces.get(landing.piece)
            is_level = flap is not None and _goes_over_level(flap, landing)
            turned = [
                _turned_along(subject, base.name, side, after=sewn)
                for side in (("left", "right") if is_level else ("bottom", "top"))
            ]
            if own and flap and sewn and turned[0] and turned[1]:
                boxes = path_box(landing.outline), outline_box(base.sewn_outline)
                wide_mm, clear_mm = (box.width if is_level else box.height for box in boxes)
                clear_mm -= sum(subject.inset_mm(seam.stitch) for seam in turned if seam)
                if wide_mm > clear_mm + SAME_MM:
                    wide, clear = map(subject.length, (wide_mm, clear_mm))
                    what = f'"{landing.piece}" is {wide} wide where it comes out of the mouth at "{base.name}", and '
                    what += f"{clear} are left between the rows of its sides once they are turned"
                    answer = (
                        f"make it no wider than {clear} there; where it is to be caught in them, and is snipped at "
                    )
                    answer += "the mouth, there is nothing to do"
                    yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _turned_along(subject: Subject, part: str, edge: str, *, after: list[Seam]) -> Seam | None:
    """The turned seam along all of an edge of a part, that is sewn after others are."""
    order = [event.name for event in subject.build.assembly.events if event.kind == "seams"]
    first = max((order.index(seam.name) for seam in after if seam.name in order), default=len(order))
    return next(
        (
            seam
            for seam in subject.build.seams
            if seam.is_turned and seam.name in order[first + 1 :]
            if any(side.part == part and edge in side.edges and not side.ends for side in seam.sides)
        ),
        None,
    )


def _goes_over_level(flap: Piece, landing: Landing) -> bool:
    """Whether the folds of a flap, as it lies, run level: it goes over an upper or lower edge."""
    fold = next(fold for fold in flap.marks.folds if fold.is_open)
    along = transform_vector(subtract(fold.end, fold.start), landing.move)
    return abs(along.x) > abs(along.y)
