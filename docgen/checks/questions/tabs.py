"""Tabs that are folded round a fitting and caught by both ends: one end thinned or longer than the other, a band of a skive
that goes over the fold."""

from collections.abc import Iterator
from itertools import combinations

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Point
from docgen.resolve import Fold, Piece

UNLIKE_MM = 5.0  # by so much ends that are meant to be alike do not differ: our choice


@question
def ask_tabs(subject: Subject) -> Iterator[Question]:
    """Rectangles with one closed fold round a fitting, and no hole to close it."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.own_folds if not fold.is_open]
        if len(folds) == len(piece.own_folds) == 1 and folds[0].around and not piece.marks.holes:
            yield from _ask_ends(subject, piece, folds[0])
            yield from _ask_caught(subject, piece)


def _ask_ends(subject: Subject, piece: Piece, fold: Fold) -> Iterator[Question]:
    box = outline_box(piece.outline)
    is_upright = abs(fold.end.x - fold.start.x) < abs(fold.end.y - fold.start.y)
    one, other = ("left", "right") if is_upright else ("bottom", "top")
    if piece.shape == "strip":
        one, other = ("start", "end") if not is_upright else ("left", "right")
    ends = {one: abs(fold.off_mm(Point(box.left, box.bottom))), other: abs(fold.off_mm(Point(box.right, box.top)))}
    own = subject.piece_spec(piece.name)
    skives = [(it, {*it.edges.value.split()}) for it in own.skives if it.edges] if own else []
    thinned = {end: [it for it, edges in skives if end in edges or "all" in edges] for end in ends}
    bare = [end for end in ends if not thinned[end]]
    if len(bare) == 1:
        skived = one if bare[0] == other else other
        what = f'"{piece.name}" is folded round "{fold.around}", and is skived along its {skived} and not its {bare[0]}'
        answer = f'add a skive along "{bare[0]}"; where one end is to stay thick there is nothing to do'
        yield Question(place=thinned[skived][0].place, what=what, answer=answer)
    for skive in piece.marks.skives:
        for end in (end for end in ends if end in skive.edges.split() and skive.width_mm > ends[end]):
            place = next((it.width.place for it in thinned[end] if it.width), piece.place)
            wide, long = map(subject.length, (skive.width_mm, ends[end]))
            what = f'the band along the {end} of "{piece.name}" is {wide} wide, and its fold lies {long} from there'
            answer = "look at both; where it is to be thin round its fitting there is nothing to do"
            yield Question(place=place, what=what, answer=answer)
    sewn = subject.edges_sewn(piece.name)
    if abs(ends[one] - ends[other]) > UNLIKE_MM and sewn.isdisjoint(ends):
        first, second = subject.length(ends[one]), subject.length(ends[other])
        what = (
            f'the fold of "{piece.name}" lies {first} from its {one} and {second} from its {other}: one is caught alone'
        )
        answer = "look where it is folded; where one end is to end short of the seam there is nothing to do"
        yield Question(place=fold.place, what=what, answer=answer)


def _ask_caught(subject: Subject, piece: Piece) -> Iterator[Question]:
    """One that no seam names, which has to be caught where it lands: by no row at all, or by rows of two edges."""
    build, own = subject.build, piece.name
    sewn_on = own in subject.sewn or any(own in hole.through for one in build.cut for hole in one.marks.holes)
    hosts = [base for base in build.pieces if base.cut == 1 and any(it.piece == own for it in base.marks.landings)]
    spec = subject.piece_spec(hosts[0].name) if len(hosts) == 1 and not sewn_on else None
    lands = [it for it in spec.landings if it.piece and it.piece.value == own and it.at] if spec else []
    if len(lands) != 1 or hosts[0].name not in subject.sewn:
        return
    host, place = hosts[0].name, lands[0].at.place if lands[0].at else lands[0].place
    seams = {seam.name: seam for seam in build.seams}
    rows = {once.seam: once for once in build.assembly.sewn if own in once.stack.parts}
    runs = [run for run in build.assembly.runs if own in run.stack.parts]
    if not rows and not runs:
        what = f'"{own}" has no hole and lies on "{host}", and no row of a seam goes through it there'
        answer = "look where it lands: its ends reach into a seam; where it is glued on there is nothing to do"
        yield Question(place=place, what=what, answer=answer)
    edges = {
        name: {edge for side in seams[name].sides if side.part == host for edge in side.edges}
        for name in rows
        if host in seams[name].parts
    }
    for name, other in combinations(edges, 2):
        if edges[name].isdisjoint(edges[other]):
            what = f'"{own}" is caught on "{host}" by two rows, those of "{name}" and of "{other}"'
            answer = (
                "look where it lands, and what lies beside it; where both are to go through it there is nothing to do"
            )
            yield Question(place=place, what=what, answer=answer)
            break
