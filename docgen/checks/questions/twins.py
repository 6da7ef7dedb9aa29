"""Names, places and sizes that one slip makes unlike their twin: a size with height and width in each other's place, an
edge whose name is nearly its twin's, pockets that are measured from another side, two dividing lines that are not
mirrored, holes of a lining that meet none, straps that buckle of two leathers, and things too thin."""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.questions.places import PLACE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS, SWAPPED, outline_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.problems import is_misspelt
from docgen.read import HoleRowSpec, PieceSpec, Value
from docgen.resolve import Parts, Piece, Strap
from docgen.tables.cautions import has_phrase

UPRIGHT: Final = frozenset({"tall", "high", "height"})
BESIDE: Final = frozenset({"wide", "width", "across"})
MEETS_MM: Final = 1.0
LEAST_ALIKE: Final = 3
FAR: Final = 2.0  # so many times as far from its side a dividing line is no more the twin of another: our choice
THIN_MM: Final = 2.0  # what is thinner is a card or a sheet: common practice, no published source
FLAT: Final = (
    "card",
    "paper",
    "sheet",
    "note",
    "bill",
    "banknote",
    "photo",
    "print",
    "ticket",
    "letter",
    "leaf",
    "stamp",
)
TWIN_WORDS: Final = {"left": "right", "right": "left", "front": "back", "back": "front"}
MOST: Final = 200


@question
def ask_written_alike(subject: Subject) -> Iterator[Question]:
    """Names, places and lines of one piece that are not as their twins."""
    for own in subject.spec.pieces:
        yield from _ask_size_names(own)
        yield from _ask_edge_names(own)
        yield from _ask_sides(own, subject.parts)
        yield from _ask_dividers(own, subject)
        yield from _ask_slits(own)
    yield from _ask_rows(subject)


def _ask_size_names(own: PieceSpec) -> Iterator[Question]:
    """A width that is called a height beside a height that is called a width."""
    if len(own.size) == 2:
        first, second = ({*value.value.replace("-", " ").split()} for value in own.size)
        if first & UPRIGHT and second & BESIDE and not (first & BESIDE or second & UPRIGHT):
            what = f'"{own.size[0].value}" is the width of "{own.name}" here, and "{own.size[1].value}" its height'
            answer = "write them the other way about; where the piece is turned there is nothing to do"
            yield Question(place=own.size[0].place, what=what, answer=answer)


def _ask_edge_names(own: PieceSpec) -> Iterator[Question]:
    """Edges of which one is called as another but for its side, and for one slip of the pen."""
    names = [point.edge for point in own.points if point.edge and "-" in point.edge.value]
    stems = [(value, value.value.split("-")) for value in names]
    for (value, words), (other, others) in combinations(stems, 2):
        unlike = [(one, two) for one, two in zip(words, others, strict=False) if one != two]
        turned = [pair for pair in unlike if ACROSS.get(pair[0]) == pair[1]]
        odd = [pair for pair in unlike if pair not in turned]
        if len(words) == len(others) and len(turned) == len(odd) == 1 and is_misspelt(*odd[0]):
            at = value if len(odd[0][0]) < len(odd[0][1]) else other
            what = f'one edge of "{own.name}" is called "{value.value}", and its twin "{other.value}"'
            yield Question(
                place=at.place, what=what, answer="write both alike; where they are none there is nothing to do"
            )


def _ask_sides(own: PieceSpec, parts: Parts) -> Iterator[Question]:
    """The one of three or more pieces as wide and high that lands measured from another side than the others."""
    found: dict[tuple[int, int], list[tuple[str, Value[str]]]] = {}
    for item in own.landings:
        piece = parts.pieces.get(item.piece.value) if item.piece and item.at else None
        words = item.at.value.split(", ") if item.at else []
        match = PLACE_RE.match(words[-1]) if len(words) == 2 else None
        if piece and item.at and match:
            box = outline_box(piece.outline)
            found.setdefault((round(box.width), round(box.height)), []).append((match[2], item.at))
    for likes in found.values():
        counts = Counter(side for side, _ in likes).most_common()
        if (
            len(likes) >= LEAST_ALIKE
            and len(counts) == 2
            and counts[1][1] == 1
            and ACROSS.get(counts[0][0]) == counts[1][0]
        ):
            place = next(at.place for side, at in likes if side == counts[1][0])
            what = f"one of {len(likes)} pieces of one size is measured from the {counts[1][0]}, the others from the "
            answer = "look from which side it is measured; where it is meant so there is nothing to do"
            yield Question(place=place, what=f"{what}{counts[0][0]}", answer=answer)


def _ask_dividers(own: PieceSpec, subject: Subject) -> Iterator[Question]:
    """Two dividing lines, one from either side, of which one lies far nearer to its side than the other."""
    found = [(value, match) for item in own.dividers if (value := item.at) and (match := PLACE_RE.match(value.value))]
    if len(found) == len(own.dividers) == 2:
        (_, first), (_, second) = found
        near = sorted(((plain_mm(match[1]), value) for value, match in found), key=lambda it: it[0])
        if ACROSS.get(first[2]) == second[2] and 0 < near[0][0] * FAR < near[1][0]:
            told = [subject.length(mm) for mm, _ in near]
            what = (
                f'a dividing line of "{own.name}" lies {told[0]} from its side, and the other {told[1]} from the other'
            )
            answer = "look at both figures; where they are meant to be unlike there is nothing to do"
            yield Question(place=near[0][1].place, what=what, answer=answer)


def _ask_slits(own: PieceSpec) -> Iterator[Question]:
    """Cuts whose ends are measured from opposite sides, by unlike figures."""
    for item in own.slits:
        words = [end.value.split(", ") for end in (item.start, item.end) if end]
        for one, other in zip(*words, strict=False) if len(words) == 2 else ():
            first, last = PLACE_RE.match(one), PLACE_RE.match(other)
            if first and last and item.start and ACROSS.get(first[2]) == last[2] and first[1] != last[1]:
                what = f'a cut of "{own.name}" begins {first[0]}, and ends {last[0]}'
                answer = "look from which side each is measured; where they are meant so there is nothing to do"
                yield Question(place=item.start.place, what=what, answer=answer)


def _ask_rows(subject: Subject) -> Iterator[Question]:
    """Rows of holes of a piece and of its model, as many, that differ in one figure: at the rarer of the two."""
    specs = subject.specs
    rows = [row for own in specs.values() for row in own.hole_rows]
    often = Counter(words for row in rows for words in _row_words(row).values())
    for own in specs.values():
        model = specs.get(own.like.value) if own.like else None
        if model is None or len(model.hole_rows) != len(own.hole_rows):
            continue
        for one, other in zip(own.hole_rows, model.hole_rows, strict=True):
            first, second = _row_words(one), _row_words(other)
            unlike = [key for key in first.keys() | second.keys() if first.get(key) != second.get(key)]
            if len(unlike) == 1 and unlike[0] != "takes" and {*unlike} <= first.keys() & second.keys():
                key = unlike[0]
                row = one if often[first[key]] <= often[second[key]] else other
                value = getattr(row, key)
                what = (
                    f'a row of holes of "{own.name}" has {first[key]}, and of "{model.name}", its model, {second[key]}'
                )
                answer = "look at both figures; where they are meant to be unlike there is nothing to do"
                yield Question(place=value.place, what=what, answer=answer)


def _row_words(row: HoleRowSpec) -> dict[str, str]:
    keys = ("start", "end", "count", "punch", "takes")
    return {key: f"{key} {value.value}" for key in keys if (value := getattr(row, key)) is not None}


@question
def ask_lining_holes(subject: Subject) -> Iterator[Question]:
    """A hole of a part like another that meets none of that, where the others do and one of that is left over."""
    for piece in subject.build.pieces:
        model = subject.parts.pieces.get(piece.model)
        if model is None or model is piece or not 1 < len(piece.marks.holes) <= MOST or len(model.marks.holes) > MOST:
            continue
        twice_mm = 2 * outline_box(piece.outline).centre.x if _is_turned(piece, model) else 0.0
        off = [
            hole
            for hole in piece.marks.holes
            if all(_apart_mm(hole.at, other.at, twice_mm) > MEETS_MM for other in model.marks.holes)
        ]
        left = [
            hole
            for hole in model.marks.holes
            if all(_apart_mm(other.at, hole.at, twice_mm) > MEETS_MM for other in piece.marks.holes)
        ]
        if len(off) == len(left) == 1 and not off[0].takes:
            line = left[0].place.line
            what = f'a hole of "{piece.name}" meets none of "{model.name}", whose hole in line {line} meets none'
            answer = "measure both again; where they are not to meet there is nothing to do"
            yield Question(place=off[0].place, what=what, answer=answer)


def _is_turned(piece: Piece, model: Piece) -> bool:
    """Whether more of its holes lie on those of its model when it is turned over."""
    twice_mm = 2 * outline_box(piece.outline).centre.x
    plain, turned = (
        sum(_apart_mm(hole.at, other.at, mm) <= MEETS_MM for hole in piece.marks.holes for other in model.marks.holes)
        for mm in (0.0, twice_mm)
    )
    return turned > plain


def _apart_mm(one: Point, other: Point, twice_mm: float) -> float:
    return distance(Point(twice_mm - one.x, one.y) if twice_mm else one, other)


@question
def ask_buckled(subject: Subject) -> Iterator[Question]:
    """A short strap with a buckle, and the only other of its width with holes for a tongue, of two leathers."""
    straps = [strap for strap in subject.build.straps if not strap.keeper_for]
    rings = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    buckled = [one for one in straps if any(rings & {*end.rings} for end in one.ends) and not one.row_holes]
    places = {one.name: one.of.place for one in subject.spec.straps if one.of}
    for strap in buckled:
        others = [one for one in straps if one.row_holes and abs(one.width_mm - strap.width_mm) < MEETS_MM]
        is_pair = len(others) == 1 == sum(_is_like(strap, one) for one in buckled)
        if is_pair and not others[0].partner and others[0].material != strap.material:
            what = f'"{strap.name}" with the buckle is of "{strap.material}", and "{others[0].name}" of '
            answer = "look at both; where two leathers are meant there is nothing to do"
            place = places.get(strap.name, strap.piece.place)
            yield Question(place=place, what=f'{what}"{others[0].material}"', answer=answer)


def _is_like(one: Strap, other: Strap) -> bool:
    return abs(one.width_mm - other.width_mm) < MEETS_MM


@question
def ask_thin(subject: Subject) -> Iterator[Question]:
    """Things to hold that are thinner than any but cards and paper are."""
    for held, own in zip(subject.build.holds, subject.spec.holds, strict=False):
        thin = [number for number, mm in enumerate(held.size_mm) if mm < THIN_MM]
        is_flat = any(has_phrase(held.what, word) for word in FLAT)
        if len(thin) == 1 and not is_flat and len(own.size) > thin[0]:
            mm = subject.length(held.size_mm[thin[0]])
            what = f'"{held.what}" is {mm} thick here'
            answer = "look at the figure; where it is so thin there is nothing to do"
            yield Question(place=own.size[thin[0]].place, what=what, answer=answer)


@question
def ask_lone_seams(subject: Subject) -> Iterator[Question]:
    """Seams that are called left or right, front or back, without their twin, where what that would sew is in no seam."""
    names = {seam.name for seam in subject.build.seams}
    for seam in subject.build.seams[:MOST]:
        brought = next((use.name for use in subject.spec.parts if seam.name.startswith(f"{use.name}-")), "")
        own = {*seam.name.removeprefix(brought).split("-")} & TWIN_WORDS.keys()
        twin = brought + "-".join(TWIN_WORDS.get(word, word) for word in seam.name.removeprefix(brought).split("-"))
        if twin in names:
            continue
        swapped = own | {
            TWIN_WORDS[word] for word in own
        }  # a seam called left has a twin on the right of the same part
        for side in seam.sides:
            other = "-".join(TWIN_WORDS[word] if word in swapped else word for word in side.part.split("-"))
            edges = tuple(SWAPPED.get(edge, edge) for edge in side.edges)
            is_other = edges and (other, edges) != (side.part, side.edges)
            piece = subject.parts.pieces.get(other)
            known = {edge.name for edge in piece.outline.edges} if piece else set()
            if is_other and {*edges} <= known and not {*edges} & subject.edges_sewn(other):
                what = f'there is a seam "{seam.name}", and none that sews the {" ".join(edges)} of "{other}"'
                answer = f"write [seams.{twin}] as well; where that edge stays open there is nothing to do"
                yield Question(place=seam.place, what=what, answer=answer)
                break
