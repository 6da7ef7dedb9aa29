"""Check of marks that come along with the shape of another piece: holes, and notches that are marked anew."""

from collections import Counter
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import line_words
from docgen.resolve import Piece, Seam


@check(
    "marks-taken-over",
    "A piece of other goods takes over the holes of its model only where what is set in them is counted for both, and none "
    "takes over a notch where it has its own.",
    "counted",
    needs_whole=True,
)
def find_taken_over(subject: Subject) -> Iterator[Found]:
    """Pieces like another, with its marks, whose holes alone make more places for an item than are counted, or that mark a
    notch of it once more."""
    counts = {item.name: item.count for item in subject.build.hardware}
    places: Counter[str] = Counter()
    of_part: Counter[tuple[str, str]] = Counter()
    for one in subject.build.assembly.fastened:
        places[one.hardware] += one.items
        of_part[one.part, one.hardware] += one.items
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        model = subject.parts.pieces.get(own.like.value) if own and own.like else None
        if own is None or own.like is None or model is None:
            continue
        edge = _marked_twice(piece) if own.notches and len(model.marks.notches) < len(piece.marks.notches) else ""
        if edge:
            what = f'"{piece.name}" takes over the marks of "{model.name}", and has its notch on {edge} itself too'
            mend = f"write marks = false in [pieces.{piece.name}], or leave out its own notch"
            yield own.like.place, what, mend, piece.name
            continue
        if model.material == piece.material or own.holes:
            continue
        taken = {hole.takes for hole in piece.marks.holes if hole.takes in counts}
        more = [name for name in taken if places[name] > counts[name] == places[name] - of_part[piece.name, name]]
        if taken and len(more) == len(taken):
            what = (
                f'"{piece.name}" takes over the holes of "{model.name}", which take "{more[0]}", and that is counted '
                f"without them: {counts[more[0]]}"
            )
            mend = f"write marks = false in [pieces.{piece.name}]"
            if model.name in piece.lines and (lone := _sewn_alone(subject, piece.name)):
                what += f', and "{lone.name}"{line_words(lone.place_of(lone.sides[0]).line)} sews it to nothing'
                mend = f'name "{model.name}" in that seam too, or {mend}'
            elif late := _sewn_after(subject, {model.name, piece.name}, more[0]):
                what += f', and set before "{late.name}"{line_words(late.place.line)} sews both to each other'
                mend = f"set it once they are sewn, or {mend}"
            yield own.like.place, what, mend, piece.name


def _sewn_alone(subject: Subject, name: str) -> Seam | None:
    """The one seam of a part, which sews it to no other."""
    own = [seam for seam in subject.build.seams if name in seam.parts]
    return own[0] if len(own) == 1 and own[0].parts == {name} else None


def _sewn_after(subject: Subject, names: set[str], hardware: str) -> Seam | None:
    """The seam that sews two parts to each other in a later step than the one that sets an item first."""
    steps = subject.build.steps
    setting = next((at for at, step in enumerate(steps) if hardware in step.hardware), len(steps))
    later = {name for step in steps[setting + 1 :] for name in step.seams}
    return next((seam for seam in subject.build.seams if seam.name in later and names <= seam.parts), None)


def _marked_twice(piece: Piece) -> str:
    """The edge on which a piece has two notches in one place; "" where none."""
    at = [(notch.edge, round(notch.at.x, 1), round(notch.at.y, 1)) for notch in piece.marks.notches]
    return next((one[0] for one in at if at.count(one) > 1), "")
