"""Goods whose figure is not the one in their own words, a pocket that is called inner and lies outside, a fold that
bends otherwise than all its like, and a loop that is folded off its middle."""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import plain_mm, said_size
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.vector import distance
from docgen.problems import shorten
from docgen.read import TrimmingSpec, Value
from docgen.resolve import Piece
from docgen.tables.cautions import has_phrase
from docgen.tables.trimmings import TRIMMING_KINDS

INNER_RE: Final = re.compile(r"\b(?:inner|inside|interior)\b", re.IGNORECASE)
HELD_KINDS: Final = ("ring", "buckle")
UNLIKE: Final = 0.25  # of the size in words; a fitting for a strap is a little wider inside: our choice
UNLIKE_MM: Final = 2.0
NARROWER_MM: Final = (
    3.5  # so much narrower than its words a fitting hardly is, but a split ring, which goes by its outside
)
LEAST_FOLDS: Final = 3
OFF_MM: Final = 3.0
LOOP_MM: Final = 150.0  # what is longer is no loop, or its end is meant to hang: our choice
BESIDE: Final = (("left",), ("right",))
ALONG: Final = (("top",), ("bottom",), ("start",), ("end",))


@question
def ask_sizes(subject: Subject) -> Iterator[Question]:
    """Goods whose figure is another than their words say, and loops that are folded off their middle."""
    inside_mm = {item.name: item.inside_mm for item in subject.build.hardware if item.kind in HELD_KINDS}
    for item in subject.spec.hardware:
        yield from _ask_size(subject, item.what, item.inside, inside_mm.get(item.name, 0.0), f'"{item.name}" inside')
    width_mm = {goods.name: goods.width_mm for goods in subject.build.trimmings if TRIMMING_KINDS[goods.kind].is_flat}
    for goods in subject.spec.trimmings:
        yield from _ask_size(subject, goods.what, goods.width, width_mm.get(goods.name, 0.0), f'"{goods.name}"')
        if goods.kind and goods.kind.value == "cord":
            yield from _ask_cord(subject, goods)
    for piece in subject.build.pieces:
        yield from _ask_halves(subject, piece)


def _ask_halves(subject: Subject, piece: Piece) -> Iterator[Question]:
    """A loop that is folded off its middle, round no fitting, and sewn by one end alone between edges."""
    folds = [fold for fold in piece.own_folds if not fold.is_open]
    sides = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == piece.name]
    is_loop = len(folds) == len(sides) == 1 and piece.shape in ("rectangle", "strip") and not piece.marks.holes
    if not is_loop or folds[0].around or not all(other.edges for other in sides[0][0].sides):
        return
    fold, edges = folds[0], sides[0][1].edges
    box = outline_box(piece.outline)
    is_up = abs(fold.start.x - fold.end.x) < abs(fold.start.y - fold.end.y)
    whole_mm = box.width if is_up else box.height
    half_mm = abs(fold.start.x - box.left) if is_up else abs(fold.start.y - box.bottom)
    off_mm = abs(whole_mm - 2 * half_mm)
    if edges in (BESIDE if is_up else ALONG) and off_mm > OFF_MM and whole_mm <= LOOP_MM:
        off = subject.length(off_mm)
        what = f'"{piece.name}" is sewn by its {edges[0]}, and its fold makes one half {off} longer than the other'
        yield Question(
            place=fold.place, what=what, answer="measure it again; where it is meant so there is nothing to do"
        )


def _ask_size(
    subject: Subject, what: Value[str] | None, value: Value[str] | None, own_mm: float, called: str, way: str = "wide"
) -> Iterator[Question]:
    """A width that is far from the one size that the words of the goods have."""
    _, said_mm = said_size(what.value if what else "")
    is_split = what is not None and has_phrase(what.value, "split")  # which goes by its outside
    is_narrow = own_mm < said_mm - NARROWER_MM and not is_split
    is_off = is_narrow or own_mm - said_mm > (UNLIKE_MM if is_split else max(UNLIKE_MM, UNLIKE * said_mm))
    if what and value and own_mm and said_mm and is_off:
        told = f'{called} is {subject.length(own_mm)} {way}, and its words say "{shorten(what.value, 40)}"'
        yield Question(place=value.place, what=told, answer="look at both; where both are right there is nothing to do")


def _ask_cord(subject: Subject, goods: TrimmingSpec) -> Iterator[Question]:
    """A cord that is not as thick as its words say, or is shorter than the rows of eyelets are long."""
    cord = next(item for item in subject.build.trimmings if item.name == goods.name)
    yield from _ask_size(subject, goods.what, goods.thickness, cord.thickness_mm, f'"{goods.name}"', "thick")
    eyelets = {item.name for item in subject.build.hardware if item.kind == "eyelet"}
    rows = [
        (piece.cut, [hole.at for hole in piece.marks.holes if hole.takes in eyelets]) for piece in subject.build.pieces
    ]
    long_mm = sum(cut * sum(map(distance, row, row[1:])) for cut, row in rows)
    own_mm = plain_mm(goods.length.value) if goods.length else 0.0
    if goods.length and 0 < own_mm < long_mm:
        own, there = map(subject.length, (own_mm, long_mm))
        what = f'"{goods.name}" is {own} long, and the eyelets it may go through lie {there} from the first to the last'
        yield Question(
            place=goods.length.place, what=what, answer="look at it; where it goes elsewhere there is nothing to do"
        )


@question
def ask_inner(subject: Subject) -> Iterator[Question]:
    """Pieces that are called inner, and land on the side that shows of a part that is no lining; belt loops inside."""
    titles = {piece.name: f"{piece.title.value if piece.title else piece.name}" for piece in subject.spec.pieces}
    linings = {piece.name for piece in subject.build.pieces if piece.lines}
    for piece in subject.spec.pieces:
        for item in piece.landings if piece.name not in linings else ():
            name = item.piece.value if item.piece else ""
            is_inside = bool(item.inside and item.inside.value)
            if is_inside and has_phrase(titles.get(name, "").replace("-", " "), "belt loop"):
                what = f'"{name}" is called "{shorten(titles[name], 40)}", and lies on the inside of "{piece.name}"'
                answer = "leave inside out; where the belt goes through within there is nothing to do"
                yield Question(place=item.inside.place if item.inside else piece.place, what=what, answer=answer)
            if (
                not is_inside
                and INNER_RE.search(titles.get(name, "").replace("-", " "))
                and not _is_inner(titles, piece.name)
            ):
                what = f'"{name}" is called "{shorten(titles[name], 40)}", and lies on the outside of "{piece.name}"'
                answer = "write inside = true; where it is meant so there is nothing to do"
                place = item.inside.place if item.inside else item.at.place if item.at else piece.place
                yield Question(place=place, what=what, answer=answer)


def _is_inner(titles: dict[str, str], name: str) -> bool:
    return bool(INNER_RE.search(titles[name].replace("-", " ")) or "lining" in titles[name].lower())


@question
def ask_angles(subject: Subject) -> Iterator[Question]:
    """The one fold of a piece that bends by another angle than the three or more others."""
    for piece in subject.spec.pieces:
        angles = [fold.angle for fold in piece.folds if fold.angle]
        counts = Counter(angle.value for angle in angles).most_common()
        if len(counts) == 2 and counts[1][1] == 1 and counts[0][1] >= LEAST_FOLDS:
            odd = next(angle for angle in angles if angle.value == counts[1][0])
            what = (
                f'a fold of "{piece.name}" bends by {odd.value} degrees, and the other {counts[0][1]} by {counts[0][0]}'
            )
            yield Question(place=odd.place, what=what, answer="look at it; where it is meant so there is nothing to do")
