"""Figures that have lost a digit: a strip that its own laps take up, a ring hardly wider than it is thick, folds too
near to each other, a keeper wider than what it holds, a welt that the row misses, a handle as long as a sling."""

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.questions.places import corner_radii, is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, WHOLE, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import Place, line_words
from docgen.read import PieceSpec, StrapSpec
from docgen.resolve import Fold, Join, Piece, Strap
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import (
    HANDLE_LONG_MM,
    KEEPER_WIDE_MM,
    KEEPER_WIDE_TIMES,
    NARROWEST_PIECE_MM,
    NARROWEST_POCKET_MM,
)

TAKEN: Final = 0.5  # so much of a strip its laps may take before it is asked about: our choice
NARROW_RING: Final = 8.0  # a ring of leather that is no more thicknesses wide can hardly be bent or sewn: our choice
NEAR_FOLDS: Final = 3.0  # so many thicknesses apart two folds can be bent at all: our choice
MOST: Final = 60  # of more nothing is asked: a stranger's file
SAME_MM: Final = 0.1
SHORT: Final = ("chape", "tab", "loop")
MOST_BACK: Final = 0.5  # and hardly more lies back at its ends, unless it is a tab: our choice
MOST_OVER_MM: Final = 60.0  # mostly no more of an end lies fast: our choice
MOST_HELD: Final = 0.6  # of a strap hardly more lies fast: our choice
THICK_BAR: Final = 1 / 3  # of what it is inside a ring or buckle is hardly as thick: our choice
WIDE_TAB: Final = 0.8  # and of a tab for a ring or buckle: our choice
WIDE_STRAP: Final = 0.4  # of its length a strap is hardly wider: our choice
LEAST_BETWEEN_MM: Final = 10.0  # between the rows of two long sides: our choice
TIGHT_MM: Final = 5.0  # a strip hardly turns round a smaller corner: our choice
POCKETS: Final = ("pocket", "sleeve")
WELTS: Final = ("welt", "filler", "pipe", "piping")
PIPING: Final = ("pipe", "piping")
TWINS: Final = (("left", "right"), ("left-strap", "right-strap"), ("strap-left", "strap-right"))
UNLIKE: Final = 3.0  # so many times as long a strap is no twin of another: our choice


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
            answer = "measure both again; where they are one soft bend there is nothing to do"
            yield Question(place=_last(one, other).place, what=f"{what}thick", answer=answer)


def _ask_narrow(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Rectangles and strips hardly wider than two rows of stitches; pockets and sleeves by their word that take nothing;
    strips for piping that are not folded."""
    box = outline_box(piece.outline)
    words = f"{piece.name} {piece.title}"
    is_pocket = any(has_phrase(words, word) for word in POCKETS) and piece.shape == "rectangle"
    least_mm = NARROWEST_POCKET_MM if is_pocket else NARROWEST_PIECE_MM
    number = int(box.height < box.width)
    if piece.shape in ("rectangle", "strip") and min(box.width, box.height) < least_mm and not piece.by_length:
        wide, least = map(subject.length, (min(box.width, box.height), least_mm))
        what = f'"{piece.name}" is {wide} {"high" if number else "wide"}, and such pieces are mostly over {least}'
        answer = "look at its size; where it is so narrow there is nothing to do"
        place = own.size[number].place if len(own.size) == 2 else own.place
        yield Question(place=place, what=what, answer=answer)
    elif piece.shape in ("rectangle", "strip") and not any(has_phrase(words, word) for word in WELTS):
        yield from _ask_between(subject, piece, own)
    if piece.shape == "strip" and not piece.marks.folds and any(has_phrase(words, word) for word in PIPING):
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
    """Round corners so small that the strip that is sewn round them hardly follows; square ones are meant."""
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
        if piece.name in sides and (len(sides[piece.name].edges) > 1 or WHOLE in sides[piece.name].edges) and strips:
            small, least = map(subject.length, (min(rounded), TIGHT_MM))
            what = (
                f'"{seam.name}" sews a strip round corners of {small} of "{piece.name}": mostly they are over {least}'
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


@question
def ask_straps(subject: Subject) -> Iterator[Question]:
    """Keepers narrower or wider than is usual, and handles by their word that are as long as a sling."""
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        if strap is None or own.width is None:
            continue
        if strap.keeper_for:
            held = subject.parts.straps.get(strap.keeper_for)
            least_mm, most_mm = (times * held.width_mm if held else 0.0 for times in KEEPER_WIDE_TIMES)
            most_mm = max(most_mm, KEEPER_WIDE_MM)
            if not least_mm - SAME_MM <= strap.width_mm <= most_mm + SAME_MM:
                wide, least, most = map(subject.length, (strap.width_mm, least_mm, most_mm))
                what = f'the keeper "{own.name}" is {wide} wide, and such keepers mostly {least} to {most}'
                answer = "look at its width; where it is so there is nothing to do"
                yield Question(place=own.width.place, what=what, answer=answer)
        held = subject.parts.straps.get(strap.keeper_for)
        if held is not None and own.of and strap.material != held.material and _is_odd_keeper(subject, strap):
            what = f'the keeper "{own.name}" is of "{strap.material}", and "{held.name}" of "{held.material}"'
            answer = "look at both names; where it is meant so there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)
        back_mm = strap.ends[0].back_mm if strap.ends[0].shape == "turned" else 0.0
        if own.wears and strap.worn_mm and 0 < min(strap.worn_mm) <= back_mm:
            least, back = map(subject.length, (min(strap.worn_mm), back_mm))
            what = f'"{own.name}" is {least} long at its first hole, which lies in what lies back, {back} long'
            answer = "look at wears and at its holes; where it is so short there is nothing to do"
            yield Question(place=own.wears.place, what=what, answer=answer)
        yield from _ask_held(subject, own, strap)
        yield from _ask_even(own)
        yield from _ask_free_end(subject, own, strap)
        turned_mm = sum(end.back_mm for end in strap.ends if end.shape == "turned")
        is_short = any(has_phrase(f"{strap.name} {strap.title}", word) for word in SHORT)
        if own.finished and not is_short and turned_mm >= MOST_BACK * strap.finished_mm > 0:
            back, long = map(subject.length, (turned_mm, strap.finished_mm))
            what = f'"{own.name}" is {long} long when finished, and {back} lies back at its ends'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)
        is_tab = any(end.shape == "turned" and end.around for end in strap.ends)
        if own.finished and strap.width_mm > (WIDE_TAB if is_tab else WIDE_STRAP) * strap.finished_mm > 0:
            wide, long = map(subject.length, (strap.width_mm, strap.finished_mm))
            what = f'the strap "{own.name}" is {wide} wide and {long} long'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=own.width.place, what=what, answer=answer)
        if own.finished and strap.finished_mm > HANDLE_LONG_MM and _is_handle(strap):
            long, most = map(subject.length, (strap.finished_mm, HANDLE_LONG_MM))
            what = f'the handle "{own.name}" is {long} long, and such handles mostly no more than {most}'
            answer = "look at its length; where it goes over the shoulder there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)


def _ask_free_end(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Handles by their word that land by one end alone, and whose other end has nothing that holds it."""
    ends = {end.end: end for base in subject.build.pieces for end in base.strap_landings if end.strap == own.name}
    if len(ends) != 1 or not _is_handle(strap):
        return
    ((which, landing),) = ends.items()
    other, middle_mm = strap.ends[1 - which], strap.cut_length_mm / 2
    has_hole = any((hole.at.y > middle_mm) != bool(which) for hole in strap.piece.marks.holes)
    is_sewn = any(side.part == strap.name for seam in subject.build.seams for side in seam.sides)
    if other.shape != "turned" and not has_hole and not is_sewn:
        name = ("first", "second")[1 - which]
        what = f'the handle "{own.name}" is held by its {("first", "second")[which]} end alone'
        answer = f'write end = "{name}" in one of its landings; where it hangs free there is nothing to do'
        yield Question(place=landing.place, what=what, answer=answer)


def _ask_even(own: StrapSpec) -> Iterator[Question]:
    """Rows of buckle holes without a middle one, of straps that do not say how long they are worn."""
    rows = [own.holes, *(end.holes for end in own.ends)]
    for row in rows if own.wears is None else ():
        if row is not None and row.count is not None and row.count.value % 2 == 0:
            what = f'{row.count.value} holes of "{own.name}" have no middle one'
            answer = "write one more or one less; where none is to be the middle there is nothing to do"
            yield Question(place=row.count.place, what=what, answer=answer)


def _is_odd_keeper(subject: Subject, keeper: Strap) -> bool:
    """Whether a keeper is of thicker leather than what it holds, or another keeper is of the leather of what that holds:
    mostly one is cut from a thinner leather of the subject.build."""
    thick = {item.name: item.thickness_mm for item in subject.build.materials}
    held = subject.parts.straps[keeper.keeper_for]
    others = [
        one
        for one in subject.parts.straps.values()
        if one.keeper_for in subject.parts.straps and one.name != keeper.name
    ]
    is_thicker = thick.get(keeper.material, 0.0) > thick.get(held.material, 0.0)
    return is_thicker or any(subject.parts.straps[one.keeper_for].material == one.material for one in others)


def _ask_held(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Straps that lie fast over nearly all their length: farther than up to what lies back at a free end."""
    ends = [end for base in subject.build.pieces for end in base.strap_landings if end.strap == own.name]
    held_mm = sum(end.over_mm for end in ends) / strap.cut
    is_doubted = len(ends) > strap.cut * 2 or any(end.over_mm > strap.finished_mm for end in ends)
    held = {end.end for end in ends}
    free_mm = sum(end.back_mm for which, end in enumerate(strap.ends) if end.shape == "turned" and which not in held)
    is_short = held_mm > MOST_HELD * strap.finished_mm > 0 and (
        not free_mm or held_mm > strap.finished_mm - free_mm + SAME_MM
    )
    if own.finished and is_short and not is_doubted and not (len(held) == 1 and len(ends) > strap.cut):
        fast, long = map(subject.length, (held_mm, strap.finished_mm))
        what = f'"{own.name}" is {long} long, and lies fast over {fast} of that'
        overs = [
            item.over
            for piece in subject.spec.pieces
            for item in piece.landings
            if item.strap and item.strap.value == own.name
        ]
        over = overs[0] if len(overs) == 1 and held_mm > MOST_OVER_MM else None
        what += line_words(own.finished.place.line) if over else ""
        answer = "look at both figures; where it is to lie fast so far there is nothing to do"
        yield Question(place=over.place if over else own.finished.place, what=what, answer=answer)


@question
def ask_twins(subject: Subject) -> Iterator[Question]:
    """Straps called left and right of which one is many times as long as the other."""
    owns = {own.name: own for own in subject.spec.straps if own.finished}
    for one, other in TWINS:
        if one in owns and other in owns and one in subject.parts.straps and other in subject.parts.straps:
            longs = [subject.parts.straps[name].finished_mm for name in (one, other)]
            if 0 < UNLIKE * min(longs) <= max(longs):
                later = max((owns[one], owns[other]), key=lambda own: own.place.line)
                told = [subject.length(mm) for mm in longs]
                what = f'"{one}" is {told[0]} long, and "{other}" {told[1]}'
                answer = "look at both figures; where they are meant to be so unlike there is nothing to do"
                yield Question(place=later.finished.place if later.finished else later.place, what=what, answer=answer)


@question
def ask_bars(subject: Subject) -> Iterator[Question]:
    """Rings and buckles with a bar far too thick for how wide they are."""
    bars = {item.name: item.bar for item in subject.spec.hardware}
    for item in subject.build.hardware:
        value = bars.get(item.name)
        if value and item.inside_mm and item.bar_mm > THICK_BAR * item.inside_mm:
            bar, wide = map(subject.length, (item.bar_mm, item.inside_mm))
            what = f'"{item.name}" is {wide} wide inside, and its bar {bar} thick'
            answer = "look at both figures; where it is so thick there is nothing to do"
            yield Question(place=value.place, what=what, answer=answer)


def _is_handle(strap: Strap) -> bool:
    words = f"{strap.name} {strap.title}"
    return has_phrase(words, "handle") and not has_phrase(words, "shoulder")
