"""Goods whose figure is not the one in their own words, a pocket that is called inner and lies outside, and a fold that
bends otherwise than all its like, asked of the maker."""

import re
from collections import Counter
from collections.abc import Iterator
from typing import Final

from docgen.assemble import Assembled
from docgen.checks.question import Question, plain_mm
from docgen.geometry.vector import distance
from docgen.problems import shorten
from docgen.read import Spec, TrimmingSpec, Value
from docgen.written.units.telling import format_length

SIZE_RE: Final = re.compile(r"\d+(?:\.\d+)?(?: \d+/\d+)? ?(?:mm|cm|in)\b|\d+/\d+ ?in\b")
INNER_RE: Final = re.compile(r"\b(?:inner|inside|interior)\b", re.IGNORECASE)
HELD_KINDS: Final = ("ring", "buckle")
BY_WIDTH: Final = ("zip", "webbing", "elastic", "binding")
UNLIKE: Final = 0.25  # of the size in words; a fitting for a strap is a little wider inside: our choice
UNLIKE_MM: Final = 2.0
LEAST_FOLDS: Final = 3


def ask_sizes(spec: Spec, build: Assembled) -> Iterator[Question]:
    inside_mm = {item.name: item.inside_mm for item in build.hardware if item.kind in HELD_KINDS}
    for item in spec.hardware:
        yield from _ask_size(build, item.what, item.inside, inside_mm.get(item.name, 0.0), f'"{item.name}" inside')
    width_mm = {goods.name: goods.width_mm for goods in build.trimmings if goods.kind in BY_WIDTH}
    for goods in spec.trimmings:
        yield from _ask_size(build, goods.what, goods.width, width_mm.get(goods.name, 0.0), f'"{goods.name}"')
        if goods.kind and goods.kind.value == "cord":
            yield from _ask_cord(build, goods)
    yield from _ask_inner(spec, build)
    yield from _ask_angles(spec)


def _ask_size(
    build: Assembled, what: Value[str] | None, value: Value[str] | None, own_mm: float, called: str, way: str = "wide"
) -> Iterator[Question]:
    """A width that is far from the one size that the words of the goods have."""
    said = SIZE_RE.findall(what.value) if what else []
    said_mm = plain_mm(said[0]) if len(said) == 1 else 0.0
    if what and value and own_mm and said_mm and abs(own_mm - said_mm) > max(UNLIKE_MM, UNLIKE * said_mm):
        told = f'{called} is {format_length(own_mm, build.show)} {way}, and its words say "{shorten(what.value, 40)}"'
        yield Question(place=value.place, what=told, answer="look at both; where both are right there is nothing to do")


def _ask_cord(build: Assembled, goods: TrimmingSpec) -> Iterator[Question]:
    """A cord that is not as thick as its words say, or is shorter than the rows of eyelets are long."""
    cord = next(item for item in build.trimmings if item.name == goods.name)
    yield from _ask_size(build, goods.what, goods.thickness, cord.thickness_mm, f'"{goods.name}"', "thick")
    eyelets = {item.name for item in build.hardware if item.kind == "eyelet"}
    rows = [(piece.cut, [hole.at for hole in piece.marks.holes if hole.takes in eyelets]) for piece in build.pieces]
    long_mm = sum(cut * sum(map(distance, row, row[1:])) for cut, row in rows)
    own_mm = plain_mm(goods.length.value) if goods.length else 0.0
    if goods.length and 0 < own_mm < long_mm:
        own, there = (format_length(mm, build.show) for mm in (own_mm, long_mm))
        what = f'"{goods.name}" is {own} long, and the eyelets it may go through lie {there} from the first to the last'
        yield Question(
            place=goods.length.place, what=what, answer="look at it; where it goes elsewhere there is nothing to do"
        )


def _ask_inner(spec: Spec, build: Assembled) -> Iterator[Question]:
    """Pieces that are called inner, and land on the side that shows of a part that is no lining."""
    titles = {piece.name: f"{piece.title.value if piece.title else piece.name}" for piece in spec.pieces}
    linings = {piece.name for piece in build.pieces if piece.lines}
    for piece in spec.pieces:
        for item in piece.landings if piece.name not in linings else ():
            name = item.piece.value if item.piece else ""
            is_inside = bool(item.inside and item.inside.value)
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


def _ask_angles(spec: Spec) -> Iterator[Question]:
    """The one fold of a piece that bends by another angle than the three or more others."""
    for piece in spec.pieces:
        angles = [fold.angle for fold in piece.folds if fold.angle]
        counts = Counter(angle.value for angle in angles).most_common()
        if len(counts) == 2 and counts[1][1] == 1 and counts[0][1] >= LEAST_FOLDS:
            odd = next(angle for angle in angles if angle.value == counts[1][0])
            what = (
                f'a fold of "{piece.name}" bends by {odd.value} degrees, and the other {counts[0][1]} by {counts[0][0]}'
            )
            yield Question(place=odd.place, what=what, answer="look at it; where it is meant so there is nothing to do")
