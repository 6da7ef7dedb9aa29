"""Checks of marks that stand alike left and right of a piece's middle, but for one figure."""

from collections import defaultdict
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box, Point
from docgen.problems import Place
from docgen.read import PieceSpec
from docgen.resolve import Piece
from docgen.written.units.telling import format_mm

SLANTS = 1.2  # so far a slit of an outline may slant: more is meant
EXACT_MM = 0.1
LONG_SIDES = ("left", "right")
NOTCHES = "notches"
Mark = tuple[Point, Place]
"""Where a mark is, and the value that says so."""


@check(
    "marks-askew",
    "Two marks of one kind, left and right of a piece's middle, stand alike; within {marks_askew} it is asked whether they "
    "should.",
    "our choice",
    needs_whole=True,
    gives_way=(
        "strap-end-hole-lacks",
        "hole-on-fold",
        "hole-without-mate",
        "holes-apart",
        "stud-misses-flap",
        "rings-not-opposite",
    ),
)
def find_askew_marks(subject: Subject) -> Iterator[Found]:
    """Holes of one size and use, landings of one part, and ends of one strap: where all but two have their like across
    the middle, and these two nearly do. Once for a piece."""
    for piece in subject.build.pieces:
        box = outline_box(piece.outline)
        for name, marks in _groups(subject, piece).items():
            odd = _list_odd(box, marks)
            if len(odd) == 2 and len({(place.line, place.column) for _, place in odd}) == 2:
                told = _tell(subject, piece, box, name, odd)
                if told:
                    yield told
                    break


def _groups(subject: Subject, piece: Piece) -> dict[str, list[Mark]]:
    """The marks that are alike, by what they are called."""
    groups: dict[tuple[float, float, str, tuple[str, ...]], list[Mark]] = defaultdict(list)
    for hole in piece.marks.holes:
        key = (round(hole.diameter_mm, 2), round(hole.long_mm, 2), hole.takes, hole.through)
        groups[key].append((hole.at, hole.place))
    named: dict[str, list[Mark]] = {}
    for (size_mm, _, takes, _), marks in groups.items():
        if _closes_across(subject, piece, takes, marks):
            continue  # where its halves come to lie is held against its folds
        named.setdefault(f'holes for "{takes}"' if takes else f"holes of {format_mm(size_mm)}", []).extend(marks)
    spec = subject.piece_spec(piece.name)
    own = [item.at.place for item in spec.landings if item.piece and item.at] if spec else []
    if len(own) == len(piece.marks.landings):
        for landing, place in zip(piece.marks.landings, own, strict=True):
            named.setdefault(f'places for "{landing.piece}"', []).append((path_box(landing.outline).centre, place))
    for end in piece.strap_landings:
        named.setdefault(f'places for "{end.strap}"', []).append((end.at, end.place))
    named |= _others(piece, spec)
    return {name: marks for name, marks in named.items() if marks}


def _closes_across(subject: Subject, piece: Piece, takes: str, marks: list[Mark]) -> bool:
    """Whether two holes are for both halves of one snap, in a piece that is folded from left or right."""
    item = next((item for item in subject.build.hardware if item.name == takes), None)
    is_one = item is not None and item.kind == "snap" and len(marks) == 2 and item.count == piece.cut
    return is_one and any(abs(fold.start.x - fold.end.x) <= EXACT_MM for fold in piece.marks.folds)


def _others(piece: Piece, spec: PieceSpec | None) -> dict[str, list[Mark]]:
    """The ends of slits, where two are alike, and the notches of a piece with one on either long side."""
    found: dict[str, list[Mark]] = {}
    slits = [item for item in spec.slits if item.start and item.end] if spec else []
    if len(slits) == len(piece.marks.slits) == 2:
        pairs = zip(piece.marks.slits, slits, strict=True)
        found["ends of slits"] = [
            mark
            for slit, item in pairs
            if item.start and item.end
            for mark in ((slit.start, item.start.place), (slit.end, item.end.place))
        ]
    notches = [(mark, item) for mark, item in zip(piece.marks.notches, spec.notches, strict=False)] if spec else []
    sides = [(mark.at, item.at.place if item.at else item.place) for mark, item in notches if mark.edge in LONG_SIDES]
    if spec and len(spec.notches) == len(piece.marks.notches) and len(sides) == 2:
        found[NOTCHES] = sides
    return found


def _list_odd(box: Box, marks: list[Mark]) -> list[Mark]:
    """The marks that none mirrors."""
    points = [at for at, _ in marks]
    near = near_finder(points, 2 * EXACT_MM)
    width_mm = box.left + box.right
    across = [Point(width_mm - at.x, at.y) for at in points]
    return [
        mark
        for mark, place in zip(marks, across, strict=True)
        if not any(_is_at(place, points[number]) for number in near(place))
    ]


def _is_at(one: Point, other: Point) -> bool:
    return abs(one.x - other.x) <= EXACT_MM and abs(one.y - other.y) <= EXACT_MM


def _tell(subject: Subject, piece: Piece, box: Box, name: str, odd: list[Mark]) -> Found | None:
    """Where they nearly stand alike: at one height, or as far from the middle."""
    (one, first), (other, second) = sorted(odd, key=lambda mark: (mark[1].line, mark[1].column))
    off = [abs(at.x - box.centre.x) for at in (one, other)]
    is_apart = (one.x - box.centre.x) * (other.x - box.centre.x) < -EXACT_MM
    near_mm = subject.build.limits.marks_askew_mm
    up_mm, out_mm = abs(one.y - other.y), abs(off[0] - off[1])
    if is_apart and out_mm <= EXACT_MM and (name != NOTCHES or up_mm <= near_mm):
        figures = [subject.length(at.y - box.bottom) for at in (one, other)]
        how = f"{figures[0]} and {figures[1]} above its foot"
    elif is_apart and up_mm <= EXACT_MM and out_mm <= near_mm:
        how = f"{subject.length(off[0])} and {subject.length(off[1])} from its middle"
    elif _is_along(piece, box, one, other) and abs(one.x - other.x) > EXACT_MM:
        figures = [subject.length(at.x - box.left) for at in (one, other)]
        how = f"{figures[0]} and {figures[1]} from its left"
    elif EXACT_MM < up_mm <= near_mm and abs(one.x - other.x) > 3 * near_mm:
        figures = [subject.length(at.y - box.bottom) for at in (one, other)]
        how = f"{figures[0]} and {figures[1]} above its foot"
    elif EXACT_MM < abs(one.x - other.x) <= near_mm and up_mm > 3 * near_mm and not is_apart:
        figures = [subject.length(at.x - box.left) for at in (one, other)]
        how = f"{figures[0]} and {figures[1]} from its left"
    else:
        return None
    lines = f"line {first.line}" + (f" and line {second.line}" if first.line != second.line else "")
    what = f'two {name} in "{piece.name}" nearly stand alike: {how} ({lines})'
    return second, what, "measure both again, or accept it where it is meant", piece.name


def _is_along(piece: Piece, box: Box, one: Point, other: Point) -> bool:
    """Whether two points of a strip lie as far from its middle along it, one towards either end."""
    return piece.shape == "strip" and abs(one.y + other.y - 2 * box.centre.y) <= EXACT_MM < abs(one.y - other.y)


@check(
    "slit-slants",
    "A slit runs along or across its piece, where that is a rectangle or a strip; one of another shape does not nearly.",
    "our choice; a slit that is meant to slant may be accepted",
    needs_whole=True,
)
def find_slanting_slits(subject: Subject) -> Iterator[Found]:
    """Slits one end of which lies to the side of the other."""
    for piece in subject.build.pieces:
        spec = subject.piece_spec(piece.name)
        is_upright = piece.shape in ("rectangle", "strip")
        items = spec.slits if spec and (is_upright or len(piece.marks.slits) == 1) else ()
        if len(items) != len(piece.marks.slits):
            continue
        for item, slit in zip(items, piece.marks.slits, strict=True):
            off_mm, long_mm = sorted((abs(slit.start.x - slit.end.x), abs(slit.start.y - slit.end.y)))
            if item.end and off_mm > EXACT_MM and (is_upright or off_mm < SLANTS * long_mm):
                what = (
                    f'a slit of "{piece.name}" slants: one end lies {subject.length(off_mm)} to the side of the other, '
                    f"and {subject.length(long_mm)} on"
                )
                yield item.end.place, what, "measure both ends from the same side, or accept it", piece.name


@check(
    "row-slants",
    "A row of holes runs along or across its piece, where that is a rectangle or a strip.",
    "our choice; a row that is meant to slant may be accepted",
    needs_whole=True,
)
def find_slanting_rows(subject: Subject) -> Iterator[Found]:
    for piece in subject.build.pieces:
        spec = subject.piece_spec(piece.name)
        rows = spec.hole_rows if spec and piece.shape in ("rectangle", "strip") else ()
        made = piece.spots_by_place if rows else {}
        for row in rows:
            if row.start is None or row.end is None:
                continue
            holes = made.get(row.place, [])
            if len(holes) < 2:
                continue
            across_mm, up_mm = abs(holes[0].x - holes[-1].x), abs(holes[0].y - holes[-1].y)
            if min(across_mm, up_mm) > EXACT_MM:
                what = (
                    f'a row of holes of "{piece.name}" slants: it goes {subject.length(across_mm)} across and '
                    f"{subject.length(up_mm)} up"
                )
                yield row.end.place, what, "measure both ends from the same side, or accept it", piece.name
