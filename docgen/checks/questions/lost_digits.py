"""Figures that have lost a digit: a strip that its own laps take up, a ring hardly wider than it is thick, folds too
near to each other, a piece with no room between its rows, a corner too tight for its strip, a welt that the row misses."""

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.naming import tell_measures
from docgen.checks.questions.places import corner_radii, is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, WHOLE, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import Place
from docgen.read import PieceSpec
from docgen.resolve import Fold, Join, Piece
from docgen.tables.usual import NARROWEST_PIECE_MM, NARROWEST_POCKET_MM

TAKEN: Final = 0.5  # so much of a strip its laps may take before it is asked about: our choice
NARROW_RING: Final = 8.0  # a ring of leather that is no more thicknesses wide can hardly be bent or sewn: our choice
NEAR_FOLDS: Final = 3.0  # so many thicknesses apart two folds can be bent at all: our choice
MOST: Final = 60  # of more nothing is asked: a stranger's file
LEAST_BETWEEN_MM: Final = 10.0  # between the rows of two long sides: our choice
TIGHT_MM: Final = 5.0  # a strip hardly turns round a smaller corner: our choice
POCKETS: Final = ("pocket", "sleeve")
WELTS: Final = ("welt", "filler", "pipe", "piping")
PIPING: Final = ("pipe", "piping")


@question
def ask_small(subject: Subject) -> Iterator[Question]:
    """Folds, widths, corners and strips of a piece that are too small for what they are of."""
    for piece in subject.build.pieces:
        if piece.name in subject.specs:
            yield from _ask_folds(subject, piece)
            yield from _ask_narrow(subject, piece, subject.specs[piece.name])
            yield from _ask_tight(subject, piece, subject.specs[piece.name])
            yield from _ask_missed(subject, piece)


@question
def ask_strips(subject: Subject) -> Iterator[Question]:
    """Strips of a join whose laps take most of them, and joins that close to a ring as narrow as they are thick."""
    for join in subject.build.joins:
        for strip in subject.parts.strips(join.name):
            box = outline_box(strip.outline)
            joints = 2 if join.is_ring or len(join.pieces) > 2 else 1
            own = subject.specs.get(strip.name)
            if strip.by_length or own is None or box.height >= box.width or strip.is_solved:
                continue
            if joints * join.overlap_mm >= TAKEN * box.height:
                long, taken = map(subject.length, (box.height, joints * join.overlap_mm))
                what = f'"{strip.name}" is {long} long, and its laps in "{join.name}" take {taken} of that'
                answer = "look at its length; where so short a piece is meant there is nothing to do"
                yield Question(place=subject.size_place(strip, is_across=False), what=what, answer=answer)
        thick_mm = max((subject.parts.full_mm(strip) for strip in subject.parts.strips(join.name)), default=0.0)
        if join.is_ring and 0 < join.length_mm < NARROW_RING * math.pi * thick_mm:
            wide, thick = map(subject.length, (join.length_mm / math.pi, thick_mm))
            what = f'"{join.name}" closes to a ring {wide} across, of goods that are {thick} thick'
            answer = "look at what it goes round; where it is so narrow there is nothing to do"
            yield Question(place=_around_place(subject, join), what=what, answer=answer)


def _around_place(subject: Subject, join: Join) -> Place:
    """Where the diameter is written that a ring goes round; else the join."""
    for seam in subject.build.seams:
        names = seam.parts
        for name in sorted(names & subject.specs.keys()) if join.name in names else ():
            diameter = subject.specs[name].diameter
            if diameter is not None:
                return diameter.place
    return join.place


def _ask_folds(subject: Subject, piece: Piece) -> Iterator[Question]:
    """Two folds of one way that lie nearer to each other than the goods can be bent."""
    folds = [fold for fold in piece.own_folds if fold.is_open][:MOST]
    least_mm = NEAR_FOLDS * subject.parts.full_mm(piece)
    for one, other in combinations(folds, 2):
        apart_mm = max(abs(one.off_mm(at)) for at in (other.start, other.end))
        if 0 < apart_mm < least_mm:
            near, thick = map(subject.length, (apart_mm, subject.parts.full_mm(piece)))
            first = _first(one, other).place.line
            what = f'two folds of "{piece.name}" lie {near} apart (line {first}), and it is {thick} '
            is_across = abs(one.start.x - one.end.x) < abs(one.start.y - one.end.y)
            size = subject.size_place(piece, is_across=is_across)
            place = _last(one, other).place
            own = tell_measures(place, subject.spec).split(", ")
            measures = [told for told in tell_measures(size, subject.spec).split(", ") if told and told not in own]
            what += f"thick; in its size {', '.join(measures)}" if measures else "thick"
            answer = "measure both again; where they are one soft bend there is nothing to do"
            yield Question(place=place, what=what, answer=answer)


def _ask_narrow(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Rectangles and strips hardly wider than two rows of stitches; pockets and sleeves by their word that take nothing;
    strips for piping that are not folded."""
    box = outline_box(piece.outline)
    is_pocket = is_called(piece, POCKETS) and piece.shape == "rectangle"
    least_mm = NARROWEST_POCKET_MM if is_pocket else NARROWEST_PIECE_MM
    number = int(box.height < box.width)
    if piece.shape in ("rectangle", "strip") and min(box.width, box.height) < least_mm and not piece.by_length:
        wide, least = map(subject.length, (min(box.width, box.height), least_mm))
        what = f'"{piece.name}" is {wide} {"high" if number else "wide"}, and such pieces are mostly over {least}'
        answer = "look at its size; where it is so narrow there is nothing to do"
        place = own.size[number].place if len(own.size) == 2 else own.place
        yield Question(place=place, what=what, answer=answer)
    elif piece.shape in ("rectangle", "strip") and not is_called(piece, WELTS):
        yield from _ask_between(subject, piece, own)
    if piece.shape == "strip" and not piece.marks.folds and is_called(piece, PIPING):
        what = f'"{piece.name}" is a strip for piping, and has no fold'
        answer = 'write folds = [{ at = "centre" }]; where it goes round a cord by itself there is nothing to do'
        yield Question(place=piece.place, what=what, answer=answer)


def _ask_between(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Pieces that are sewn along both long sides, with hardly anything between the two rows."""
    box = outline_box(piece.outline)
    sewn = {
        edge: subject.inset_mm(seam.stitch)
        for seam in subject.build.seams
        for side in seam.sides
        if side.part == piece.name
        for edge in side.edges
    }
    for number, (one, other) in enumerate((SIDES[0::2], SIDES[1::2])):
        mm = (box.width, box.height)[number]
        if one in sewn and other in sewn and 0 < mm - sewn[one] - sewn[other] < LEAST_BETWEEN_MM and len(own.size) == 2:
            between = subject.length(mm - sewn[one] - sewn[other])
            what = f'"{piece.name}" is sewn along its {one} and its {other}, with {between} between the rows'
            answer = "look at its size; where it is so narrow there is nothing to do"
            yield Question(place=own.size[number].place, what=what, answer=answer)


def _ask_tight(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Round corners so small that the strip or zip that is sewn round them hardly follows; square ones are meant."""
    rounded = [mm for mm in corner_radii(piece).values() if mm > 0]
    radii = [item.length for item in own.round if item.length]
    for seam in subject.build.seams if radii and rounded and min(rounded) < TIGHT_MM else ():
        sides = {side.part: side for side in seam.sides if side.edges}
        strips = [
            strip
            for name, other in sides.items()
            if len(other.edges) == 1
            for strip in subject.parts.strips(name)
            if strip.shape == "strip"
        ]
        zips = {item.name for item in subject.build.trimmings if item.kind == "zip"} & {
            it.name for it in seam.trimmings
        }
        is_round = piece.name in sides and (len(sides[piece.name].edges) > 1 or WHOLE in sides[piece.name].edges)
        if is_round and (strips or zips):
            small, least = map(subject.length, (min(rounded), TIGHT_MM))
            thing = "a strip" if strips else "a zip"
            what = (
                f'"{seam.name}" sews {thing} round corners of {small} of "{piece.name}": mostly they are over {least}'
            )
            answer = "look at the radius; where the strip is clipped and eased there is nothing to do"
            yield Question(place=radii[0].place, what=what, answer=answer)
            return


def _first(one: Fold, other: Fold) -> Fold:
    return min(one, other, key=lambda fold: fold.place.line)


def _last(one: Fold, other: Fold) -> Fold:
    return max(one, other, key=lambda fold: fold.place.line)


def _ask_missed(subject: Subject, base: Piece) -> Iterator[Question]:
    """Narrow pieces within a seam, in none themselves, along an edge that is sewn farther in than they are wide."""
    in_seams = subject.sewn.keys()
    around = outline_box(base.outline)
    for landing in base.marks.landings if len(base.marks.landings) <= MOST else ():
        box = path_box(landing.outline)
        wide_mm, sides = min((box.width, SIDES[0::2]), (box.height, SIDES[1::2]))
        if landing.piece in in_seams or not landing.is_inside or not _is_strip(box):
            continue
        for seam in subject.build.seams:
            edges = [edge for side in seam.sides if side.part == base.name for edge in side.edges]
            along = [side for side in sides if side in edges and is_on(box, around, side)]
            inset_mm = subject.inset_mm(seam.stitch)
            if along and wide_mm <= inset_mm:
                wide, inset = map(subject.length, (wide_mm, inset_mm))
                what = (
                    f'"{landing.piece}" is {wide} wide along the {along[0]} of "{base.name}", and "{seam.name}" is sewn '
                    f"{inset} in: the needle goes past it"
                )
                yield Question(place=_width_place(subject, landing.piece, base), what=what, answer="look at its width")


def _width_place(subject: Subject, name: str, base: Piece) -> Place:
    own = subject.specs.get(name)
    return (own.size[0].place if own.size else own.place) if own else base.place


def _is_strip(box: Box) -> bool:
    return max(box.width, box.height) > 2 * min(box.width, box.height) > 0
