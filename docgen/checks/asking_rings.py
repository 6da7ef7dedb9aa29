"""Figures that have lost a digit, asked of the maker: a strip that its own laps take up, a ring hardly wider than it is
thick, folds too near to each other, a keeper wider than what it holds, a welt that the row misses, a handle as long as a
sling."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.assemble import Assembled
from docgen.checks.laid import corner_radii, is_on
from docgen.checks.question import Question
from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import Place
from docgen.read import PieceSpec, Spec
from docgen.resolve import Fold, Join, Parts, Piece, Strap
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import HANDLE_LONG_MM, KEEPER_WIDE_MM, KEEPER_WIDE_TIMES, NARROWEST_POCKET_MM
from docgen.written.units.telling import format_length

TAKEN: Final = 0.5  # so much of a strip its laps may take before it is asked about: our choice
NARROW_RING: Final = 8.0  # a ring of leather that is no more thicknesses wide can hardly be bent or sewn: our choice
NEAR_FOLDS: Final = 3.0  # so many thicknesses apart two folds can be bent at all: our choice
MOST: Final = 60
SAME_MM: Final = 0.1
SHORT: Final = ("chape", "tab", "loop")
MOST_BACK: Final = 0.5  # and hardly more lies back at its ends, unless it is a tab: our choice
MOST_HELD: Final = 0.6  # of a strap hardly more lies fast: our choice
THICK_BAR: Final = 1 / 3  # of what it is inside a ring or buckle is hardly as thick: our choice
WIDE_STRAP: Final = 0.4  # of its length a strap is hardly wider: our choice
NARROWEST_PIECE_MM: Final = 9.0  # a row of stitches and leather on both sides of it: our choice
LEAST_BETWEEN_MM: Final = 10.0  # between the rows of two long sides: our choice
TIGHT_MM: Final = 5.0  # a strip hardly turns round a smaller corner: our choice
POCKETS: Final = ("pocket", "sleeve")
WELTS: Final = ("welt", "filler", "pipe", "piping")
PIPING: Final = ("pipe", "piping")
TWINS: Final = (("left", "right"), ("left-strap", "right-strap"), ("strap-left", "strap-right"))
UNLIKE: Final = 3.0  # so many times as long a strap is no twin of another: our choice
PI: Final = 3.14159


def ask_rings(spec: Spec, build: Assembled, parts: Parts) -> Iterator[Question]:
    specs = {piece.name: piece for piece in spec.pieces}
    yield from _ask_strips(build, parts, specs)
    for piece in build.pieces:
        if piece.name in specs:
            yield from _ask_folds(build, parts, piece)
            yield from _ask_narrow(build, piece, specs[piece.name])
            yield from _ask_tight(build, parts, piece, specs[piece.name])
            yield from _ask_missed(build, piece, specs)
    yield from _ask_straps(spec, build, parts)
    yield from _ask_twins(spec, build, parts)
    yield from _ask_bars(spec, build)


def _ask_strips(build: Assembled, parts: Parts, specs: dict[str, PieceSpec]) -> Iterator[Question]:
    """Strips of a join whose laps take most of them, and joins that close to a ring as narrow as they are thick."""
    for join in build.joins:
        for strip in parts.strips(join.name):
            box = outline_box(strip.outline)
            joints = 2 if join.is_ring or len(join.pieces) > 2 else 1
            own = specs.get(strip.name)
            if strip.by_length or own is None or box.height >= box.width or strip.is_solved:
                continue
            if joints * join.overlap_mm >= TAKEN * box.height:
                long, taken = (format_length(mm, build.show) for mm in (box.height, joints * join.overlap_mm))
                what = f'"{strip.name}" is {long} long, and its laps in "{join.name}" take {taken} of that'
                answer = "look at its length; where so short a piece is meant there is nothing to do"
                yield Question(place=own.size[-1].place if own.size else own.place, what=what, answer=answer)
        thick_mm = max((parts.full_mm(strip) for strip in parts.strips(join.name)), default=0.0)
        if join.is_ring and 0 < join.length_mm < NARROW_RING * PI * thick_mm:
            wide, thick = (format_length(mm, build.show) for mm in (join.length_mm / PI, thick_mm))
            what = f'"{join.name}" closes to a ring {wide} across, of goods that are {thick} thick'
            answer = "look at what it goes round; where it is so narrow there is nothing to do"
            yield Question(place=_around_place(build, specs, join), what=what, answer=answer)


def _around_place(build: Assembled, specs: dict[str, PieceSpec], join: Join) -> Place:
    """Where the diameter is written that a ring goes round; else the join."""
    for seam in build.seams:
        names = {side.part for side in seam.sides}
        for name in sorted(names & specs.keys()) if join.name in names else ():
            diameter = specs[name].diameter
            if diameter is not None:
                return diameter.place
    return join.place


def _ask_folds(build: Assembled, parts: Parts, piece: Piece) -> Iterator[Question]:
    """Two folds of one way that lie nearer to each other than the goods can be bent."""
    folds = [fold for fold in piece.own_folds if fold.is_open][:MOST]
    least_mm = NEAR_FOLDS * parts.full_mm(piece)
    for one, other in combinations(folds, 2):
        apart_mm = max(abs(one.off_mm(at)) for at in (other.start, other.end))
        if 0 < apart_mm < least_mm:
            near, thick = (format_length(mm, build.show) for mm in (apart_mm, parts.full_mm(piece)))
            first = _first(one, other).place.line
            what = f'two folds of "{piece.name}" lie {near} apart (line {first}), and it is {thick} '
            answer = "measure both again; where they are one soft bend there is nothing to do"
            yield Question(place=_last(one, other).place, what=f"{what}thick", answer=answer)


def _ask_narrow(build: Assembled, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Rectangles and strips hardly wider than two rows of stitches; pockets and sleeves by their word that take nothing;
    strips for piping that are not folded."""
    box = outline_box(piece.outline)
    words = f"{piece.name} {piece.title}"
    is_pocket = any(has_phrase(words, word) for word in POCKETS) and piece.shape == "rectangle"
    least_mm = NARROWEST_POCKET_MM if is_pocket else NARROWEST_PIECE_MM
    number = int(box.height < box.width)
    if piece.shape in ("rectangle", "strip") and min(box.width, box.height) < least_mm and not piece.by_length:
        wide, least = (format_length(mm, build.show) for mm in (min(box.width, box.height), least_mm))
        what = f'"{piece.name}" is {wide} {"high" if number else "wide"}, and such pieces are mostly over {least}'
        answer = "look at its size; where it is so narrow there is nothing to do"
        place = own.size[number].place if len(own.size) == 2 else own.place
        yield Question(place=place, what=what, answer=answer)
    elif piece.shape in ("rectangle", "strip") and not any(has_phrase(words, word) for word in WELTS):
        yield from _ask_between(build, piece, own)
    if piece.shape == "strip" and not piece.marks.folds and any(has_phrase(words, word) for word in PIPING):
        what = f'"{piece.name}" is a strip for piping, and has no fold'
        answer = 'write folds = [{ at = "centre" }]; where it goes round a cord by itself there is nothing to do'
        yield Question(place=piece.place, what=what, answer=answer)


def _ask_between(build: Assembled, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Pieces that are sewn along both long sides, with hardly anything between the two rows."""
    box = outline_box(piece.outline)
    insets = {stitch.name: stitch.inset_mm for stitch in build.stitches}
    sewn = {
        edge: insets.get(seam.stitch, 0.0)
        for seam in build.seams
        for side in seam.sides
        if side.part == piece.name
        for edge in side.edges
    }
    for number, (one, other) in enumerate((SIDES[0::2], SIDES[1::2])):
        mm = (box.width, box.height)[number]
        if one in sewn and other in sewn and 0 < mm - sewn[one] - sewn[other] < LEAST_BETWEEN_MM and len(own.size) == 2:
            between = format_length(mm - sewn[one] - sewn[other], build.show)
            what = f'"{piece.name}" is sewn along its {one} and its {other}, with {between} between the rows'
            answer = "look at its size; where it is so narrow there is nothing to do"
            yield Question(place=own.size[number].place, what=what, answer=answer)


def _ask_tight(build: Assembled, parts: Parts, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """Round corners so small that the strip that is sewn round them hardly follows; square ones are meant."""
    rounded = [mm for mm in corner_radii(piece).values() if mm > 0]
    radii = [item.length for item in own.round if item.length]
    for seam in build.seams if radii and rounded and min(rounded) < TIGHT_MM else ():
        sides = {side.part: side for side in seam.sides if side.edges}
        strips = [
            strip
            for name, other in sides.items()
            if len(other.edges) == 1
            for strip in parts.strips(name)
            if strip.shape == "strip"
        ]
        if piece.name in sides and len(sides[piece.name].edges) > 1 and strips:
            small, least = (format_length(mm, build.show) for mm in (min(rounded), TIGHT_MM))
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


def _ask_missed(build: Assembled, base: Piece, specs: dict[str, PieceSpec]) -> Iterator[Question]:
    """Narrow pieces within a seam, in none themselves, along an edge that is sewn farther in than they are wide."""
    in_seams = {side.part for seam in build.seams for side in seam.sides}
    insets = {stitch.name: stitch.inset_mm for stitch in build.stitches}
    around = outline_box(base.outline)
    for landing in base.marks.landings if len(base.marks.landings) <= MOST else ():
        box = path_box(landing.outline)
        wide_mm, sides = min((box.width, SIDES[0::2]), (box.height, SIDES[1::2]))
        if landing.piece in in_seams or not landing.is_inside or not _is_strip(box):
            continue
        for seam in build.seams:
            edges = [edge for side in seam.sides if side.part == base.name for edge in side.edges]
            along = [side for side in sides if side in edges and is_on(box, around, side)]
            inset_mm = insets.get(seam.stitch, 0.0)
            if along and wide_mm <= inset_mm:
                wide, inset = (format_length(mm, build.show) for mm in (wide_mm, inset_mm))
                what = (
                    f'"{landing.piece}" is {wide} wide along the {along[0]} of "{base.name}", and "{seam.name}" is sewn '
                    f"{inset} in: the needle goes past it"
                )
                yield Question(place=_width_place(landing.piece, specs, base), what=what, answer="look at its width")


def _width_place(name: str, specs: dict[str, PieceSpec], base: Piece) -> Place:
    own = specs.get(name)
    return (own.size[0].place if own.size else own.place) if own else base.place


def _is_strip(box: Box) -> bool:
    return max(box.width, box.height) > 2 * min(box.width, box.height) > 0


def _ask_straps(spec: Spec, build: Assembled, parts: Parts) -> Iterator[Question]:
    """Keepers narrower or wider than is usual, and handles by their word that are as long as a sling."""
    for own in spec.straps:
        strap = parts.straps.get(own.name)
        if strap is None or own.width is None:
            continue
        if strap.keeper_for:
            held = parts.straps.get(strap.keeper_for)
            least_mm, most_mm = (times * held.width_mm if held else 0.0 for times in KEEPER_WIDE_TIMES)
            most_mm = max(most_mm, KEEPER_WIDE_MM)
            if not least_mm - SAME_MM <= strap.width_mm <= most_mm + SAME_MM:
                wide, least, most = (format_length(mm, build.show) for mm in (strap.width_mm, least_mm, most_mm))
                what = f'the keeper "{own.name}" is {wide} wide, and such keepers mostly {least} to {most}'
                answer = "look at its width; where it is so there is nothing to do"
                yield Question(place=own.width.place, what=what, answer=answer)
        held = parts.straps.get(strap.keeper_for)
        if held is not None and own.of and strap.material != held.material:
            what = f'the keeper "{own.name}" is of "{strap.material}", and "{held.name}" of "{held.material}"'
            answer = "look at both names; where it is meant so there is nothing to do"
            yield Question(place=own.of.place, what=what, answer=answer)
        back_mm = strap.ends[0].back_mm if strap.ends[0].shape == "turned" else 0.0
        if own.wears and strap.worn_mm and 0 < min(strap.worn_mm) <= back_mm:
            least, back = (format_length(mm, build.show) for mm in (min(strap.worn_mm), back_mm))
            what = f'"{own.name}" is {least} long at its first hole, which lies in what lies back, {back} long'
            answer = "look at wears and at its holes; where it is so short there is nothing to do"
            yield Question(place=own.wears.place, what=what, answer=answer)
        held_mm = sum(end.over_mm for base in build.pieces for end in base.strap_landings if end.strap == own.name)
        if own.finished and held_mm > MOST_HELD * strap.cut * strap.finished_mm > 0:
            fast, long = (format_length(mm, build.show) for mm in (held_mm / strap.cut, strap.finished_mm))
            what = f'"{own.name}" is {long} long, and lies fast over {fast} of that'
            answer = "look at both figures; where it is to lie fast so far there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)
        turned_mm = sum(end.back_mm for end in strap.ends if end.shape == "turned")
        is_short = any(has_phrase(f"{strap.name} {strap.title}", word) for word in SHORT)
        if own.finished and not is_short and turned_mm >= MOST_BACK * strap.finished_mm > 0:
            back, long = (format_length(mm, build.show) for mm in (turned_mm, strap.finished_mm))
            what = f'"{own.name}" is {long} long when finished, and {back} lies back at its ends'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)
        if own.finished and strap.width_mm > WIDE_STRAP * strap.finished_mm > 0:
            wide, long = (format_length(mm, build.show) for mm in (strap.width_mm, strap.finished_mm))
            what = f'the strap "{own.name}" is {wide} wide and {long} long'
            answer = "look at both figures; where it is so short there is nothing to do"
            yield Question(place=own.width.place, what=what, answer=answer)
        if own.finished and strap.finished_mm > HANDLE_LONG_MM and _is_handle(strap):
            long, most = (format_length(mm, build.show) for mm in (strap.finished_mm, HANDLE_LONG_MM))
            what = f'the handle "{own.name}" is {long} long, and such handles mostly no more than {most}'
            answer = "look at its length; where it goes over the shoulder there is nothing to do"
            yield Question(place=own.finished.place, what=what, answer=answer)


def _ask_twins(spec: Spec, build: Assembled, parts: Parts) -> Iterator[Question]:
    """Straps called left and right of which one is many times as long as the other."""
    owns = {own.name: own for own in spec.straps if own.finished}
    for one, other in TWINS:
        if one in owns and other in owns and one in parts.straps and other in parts.straps:
            longs = [parts.straps[name].finished_mm for name in (one, other)]
            if 0 < UNLIKE * min(longs) <= max(longs):
                later = max((owns[one], owns[other]), key=lambda own: own.place.line)
                told = [format_length(mm, build.show) for mm in longs]
                what = f'"{one}" is {told[0]} long, and "{other}" {told[1]}'
                answer = "look at both figures; where they are meant to be so unlike there is nothing to do"
                yield Question(place=later.finished.place if later.finished else later.place, what=what, answer=answer)


def _ask_bars(spec: Spec, build: Assembled) -> Iterator[Question]:
    """Rings and buckles with a bar far too thick for how wide they are."""
    bars = {item.name: item.bar for item in spec.hardware}
    for item in build.hardware:
        value = bars.get(item.name)
        if value and item.inside_mm and item.bar_mm > THICK_BAR * item.inside_mm:
            bar, wide = (format_length(mm, build.show) for mm in (item.bar_mm, item.inside_mm))
            what = f'"{item.name}" is {wide} wide inside, and its bar {bar} thick'
            answer = "look at both figures; where it is so thick there is nothing to do"
            yield Question(place=value.place, what=what, answer=answer)


def _is_handle(strap: Strap) -> bool:
    words = f"{strap.name} {strap.title}"
    return has_phrase(words, "handle") and not has_phrase(words, "shoulder")
