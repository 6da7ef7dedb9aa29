"""Checks of what is marked twice, or on what is marked there already."""

from collections import Counter, defaultdict
from collections.abc import Container, Iterator, Sequence
from dataclasses import fields
from itertools import chain, combinations

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.crossing import leg_distance
from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import grow_box, holds_box, path_box
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import add, cross, distance, subtract
from docgen.problems import Place, line_words
from docgen.read import PieceSpec
from docgen.resolve import Hole, Landing, Piece, StrapLanding

MARKS = ("holes", "hole_rows", "notches", "folds", "slits", "skives", "hems", "dividers", "laid", "landings", "punches")
SAME_MM = 0.01
SQUARES_MOST = 400  # of a net, that one hole is entered in
MOST_STEP = 0.25  # of the height of the lower one
STEPPED_MM = 1.0  # pockets that begin at one side or foot lie over each other in steps
MOST_BESIDE = 24  # pockets whose steps are held against those of others


@check("marked-twice", "Nothing is marked twice at one place.", "plain from the work", needs_whole=True)
def find_twice_marked(subject: Subject) -> Iterator[Found]:
    """Lines of a piece or strap that are written twice, and say the same both times."""
    for spec in (*subject.spec.pieces, *subject.spec.straps):
        for key in MARKS:
            items = getattr(spec, key, ())
            seen: list[dict[str, object]] = []
            for item in items if isinstance(items, tuple) else ():
                said = {field.name: _said(getattr(item, field.name)) for field in fields(item) if field.name != "place"}
                if said in seen:
                    what = f'"{spec.name}" has the same line twice in {key.replace("_", "-")}'
                    yield item.place, what, "leave one out, or measure where it is meant to be", spec.name
                seen.append(said)


def _said(value: object) -> object:
    """What is written, without its place."""
    if isinstance(value, tuple):
        return tuple(_said(one) for one in value)
    return getattr(value, "value", None)


@check(
    "holes-overlap",
    "No hole is cut into another.",
    "plane geometry",
    needs_whole=True,
    gives_way=("strap-end-unpunched",),
)
def find_overlapping_holes(subject: Subject) -> Iterator[Found]:
    """Once for each line: holes whose rims cross, or that lie on one spot. Lines written twice are told as such."""
    twice = {found[0].line for found in find_twice_marked(subject)}
    told: set[Place] = set()
    for piece in subject.build.cut:
        for one, other in _near_pairs(piece, told):
            place = other.place
            is_odd = one.place in subject.odd_punches or place in subject.odd_punches
            if is_odd or place.line in twice or _gap_mm(one, other) >= -SAME_MM:
                continue
            told.add(place)
            if found := _row_on_punch(subject, piece, one, other):
                yield found
                break
            what = (
                f'two holes in "{piece.name}", of {subject.length(one.diameter_mm)} and '
                f"{subject.length(other.diameter_mm)}, are cut into each other: their middles lie "
                f"{subject.length(distance(one.at, other.at))} apart (line {one.place.line})"
            )
            mend = "measure both again, or leave one out"
            yield place, what, mend, piece.name


def _row_on_punch(subject: Subject, piece: Piece, one: Hole, other: Hole) -> Found | None:
    """A row of a strap for a buckle that reaches the holes by which its other end is held: its length is too short."""
    strap = subject.parts.straps.get(piece.name)
    row = {hole.place for hole in piece.marks.holes[: strap.row_holes]} if strap else set()
    if not row or (one.place in row) == (other.place in row):
        return None
    punch = other if one.place in row else one
    place = subject.written_at(subject.spec.straps, piece.name, "wears", "finished")
    what = f'the row of holes of "{piece.name}" reaches the hole in line {punch.place.line}, which is cut into it'
    return place, what, "look at its length and its unit, and where both are measured from", piece.name


def _near_pairs(piece: Piece, told: Container[Place]) -> Iterator[tuple[Hole, Hole]]:
    """Pairs of holes of two lines that share a square of a net over the piece, the later line second, while that is not
    among those `told`. Squares are twice as wide as most holes; few holes are so large that they count as in all."""
    boxed = sorted(((hole.room(0.0), hole) for hole in piece.marks.holes), key=lambda pair: _order(pair[1]))
    wide = 2 * sorted(box.right - box.left for box, _ in boxed)[len(boxed) // 2] if boxed else 1.0
    squares: defaultdict[tuple[int, int], list[Hole]] = defaultdict(list)
    large: list[Hole] = []
    for index, (box, hole) in enumerate(boxed):
        across, up = (range(int(low // wide), int(high // wide) + 1) for low, high in _sides(box))
        is_large = len(across) * len(up) > SQUARES_MOST
        held = [squares[x, y] for x in across for y in up] if not is_large else []
        near = [large, *held] if not is_large else [[other for _, other in boxed[:index]]]
        for other in chain.from_iterable(near):
            if hole.place in told:
                break
            if other.place != hole.place:
                yield other, hole
        for square in held or [large]:
            square.append(hole)


def _order(hole: Hole) -> tuple[int, int]:
    return hole.place.line, hole.place.column


def _sides(box: Box) -> tuple[tuple[float, float], tuple[float, float]]:
    return (box.left, box.right), (box.bottom, box.top)


def _gap_mm(one: Hole, other: Hole) -> float:
    """Between their rims; less than nothing where they cross."""
    gaps = [leg_distance(_leg(one), at) for at in _leg(other)] + [leg_distance(_leg(other), at) for at in _leg(one)]
    return min(gaps) - (one.diameter_mm + other.diameter_mm) / 2


def _leg(hole: Hole) -> tuple[Point, Point]:
    return subtract(hole.at, hole.slot), add(hole.at, hole.slot)


@check(
    "landings-cross",
    "What lands on a piece has a place of its own there, or lies whole on what lies beneath.",
    "plane geometry; pockets in steps, which begin at one side or foot, are passed over",
    needs_whole=True,
    gives_way=("marked-twice",),
)
def find_crossing_landings(subject: Subject) -> Iterator[Found]:
    """Pieces that land across the edge of another that lands there, and two copies of a part on one spot."""
    for base in subject.build.pieces:
        spec = next(spec for spec in subject.spec.pieces if spec.name == base.name)
        places = _landing_places(subject, spec, base)
        marks = base.marks.landings
        boxes = [path_box(mark.outline) for mark in marks]
        hidden = _on_one_spot(boxes, marks)
        for k, one in enumerate(marks):
            for j, other in enumerate(marks[:k]):
                is_same = one.piece == other.piece
                is_of_part = places[j].path == places[k].path != subject.spec.path  # it lays them by its own measures
                is_apart = _has_step_between(boxes, j, k) or one.is_inside != other.is_inside
                if is_apart or {j, k} & hidden or _is_caught(subject, base.name, {one.piece, other.piece}):
                    continue
                is_stepped = is_of_part or (_is_off_step(boxes[j], boxes[k]) and _is_even_step(boxes, j, k))
                if _crosses(boxes[j], boxes[k], is_same=is_same, is_stepped=is_stepped):
                    box = outline_box(base.outline)
                    size = f"{subject.length(box.width)} x {subject.length(box.height)}"
                    line = line_words(subject.size_place(base, is_across=False).line)
                    what = f"{_crossing_words(base, other, one)}, {size}{line}"
                    yield places[k], what, "measure again where both land", base.name
                    break
        ends = base.strap_landings
        for k, end in enumerate(ends):
            if any(end.strap == other.strap and distance(end.at, other.at) < SAME_MM for other in ends[:k]):
                what = f'two ends of "{end.strap}" land on one spot of "{base.name}"'
                yield end.place, what, "measure again where both land", base.name
            elif twin := next((it for it in ends[:k] if _are_twins(subject, end, it)), None):
                line = line_words(twin.place.line)
                what = f'"{end.strap}" lands on the spot of "{base.name}" where "{twin.strap}" lies, its like{line}'
                yield end.place, what, "measure again where both land", base.name
            elif beneath := next((it for it in ends[:k] if _lie_askew(end, it)), None):
                what = f'two ends of "{end.strap}" land partly over each other on "{base.name}" (line {beneath.place.line})'
                yield end.place, what, "measure again where both land", base.name


def _on_one_spot(boxes: list[Box], marks: Sequence[Landing]) -> set[int]:
    """Those of different parts that lie just over each other: that is asked, and others cross them for it."""
    pairs = combinations(range(len(boxes[:MOST_BESIDE])), 2)
    found = (
        (j, k)
        for j, k in pairs
        if marks[j].piece != marks[k].piece
        and marks[j].is_inside == marks[k].is_inside
        and all(abs(boxes[j].level(side) - boxes[k].level(side)) <= SAME_MM for side in SIDES)
    )
    return {number for pair in found for number in pair}


def _is_caught(subject: Subject, host: str, pair: set[str]) -> bool:
    """Whether what is laid first, sewn on by no edge of its own, is caught by a seam that sews the other over it."""
    made, seams = subject.build.assembly, subject.build.seams
    lower, *upper = sorted(pair, key=lambda part: made.laid_at(host, part))
    is_loose = not any(lower == side.part for seam in seams for side in seam.sides)
    return is_loose and any(lower in once.stack.parts and {*upper} & once.parts for once in made.sewn)


def _are_twins(subject: Subject, one: StrapLanding, other: StrapLanding) -> bool:
    """Whether two straps alike but for their names come to lie on one spot, each sewn on there by itself."""
    straps = subject.parts.straps
    first, second = straps.get(one.strap), straps.get(other.strap)
    if first is None or second is None or first is second or not (one.stitch and other.stitch):
        return False
    is_alike = (first.material, first.width_mm, first.cut_length_mm) == (
        second.material,
        second.width_mm,
        second.cut_length_mm,
    )
    return is_alike and (one.end, one.leads) == (other.end, other.leads) and distance(one.at, other.at) < SAME_MM


def _lie_askew(one: StrapLanding, other: StrapLanding) -> bool:
    """Whether two ends of one strap that lead one way lie partly over each other, not one along the other."""
    if one.strap != other.strap or one.leads != other.leads:
        return False
    first, second = path_box(one.outline), path_box(other.outline)
    wide = min(first.right, second.right) - max(first.left, second.left)
    high = min(first.top, second.top) - max(first.bottom, second.bottom)
    aside = abs(cross(one.way, subtract(other.at, one.at)))
    return min(wide, high) > STEPPED_MM and aside > STEPPED_MM


def _landing_places(subject: Subject, spec: PieceSpec, base: Piece) -> list[Place]:
    own = [item.at.place for item in spec.landings if item.piece and item.at]
    return own if len(own) == len(base.marks.landings) else [base.place] * len(base.marks.landings)


def _crossing_words(base: Piece, one: Landing, other: Landing) -> str:
    if one.piece == other.piece:
        return f'two of "{one.piece}" land on each other on "{base.name}"'
    return f'"{other.piece}" lands across the edge of "{one.piece}" on "{base.name}"'


def _crosses(one: Box, other: Box, *, is_same: bool, is_stepped: bool) -> bool:
    """Whether boxes lie partly over each other, and do not begin at one side or foot; of copies of one part at all."""
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.top, other.top) - max(one.bottom, other.bottom)
    if min(wide, high) <= STEPPED_MM:
        return False
    if is_same:
        return True
    if not is_stepped and _is_off_step(one, other):
        return True
    sides = ((one.left, other.left), (one.right, other.right), (one.bottom, other.bottom), (one.top, other.top))
    if (
        any(abs(a - b) <= STEPPED_MM for a, b in sides)
        or abs(one.left + one.right - other.left - other.right) <= 2 * STEPPED_MM
    ):
        return False
    return not (_holds(one, other) or _holds(other, one))


def _has_step_between(boxes: list[Box], first: int, second: int) -> bool:
    """Whether a third of their width lies between two, as in a stack of pockets: each is held against the next."""
    low, high = sorted((boxes[first].bottom, boxes[second].bottom))
    return any(low + SAME_MM < box.bottom < high - SAME_MM for box in _in_line(boxes, first, second))


def _is_even_step(boxes: list[Box], first: int, second: int) -> bool:
    """Whether a third of their width lies above or below them by a step as high as theirs, or two beside them do so."""
    step_mm = boxes[second].bottom - boxes[first].bottom
    own = (boxes[first], boxes[second])
    alike = _in_line(boxes, first, second)
    tops_mm = own[1].top - own[0].top  # pockets that are not of one height are in steps by their mouths
    if any(abs(box.top - mm) <= STEPPED_MM for box in alike for mm in (own[0].top - tops_mm, own[1].top + tops_mm)):
        return True
    wanted_mm = (own[0].bottom - step_mm, own[1].bottom + step_mm)
    beside = [box for box in boxes[:MOST_BESIDE] if all(_is_aside(box, one) for one in own)]
    steps_mm = (abs(one.bottom - other.bottom) for one, other in combinations(beside, 2) if not _is_aside(one, other))
    return any(abs(box.bottom - mm) <= STEPPED_MM for box in alike for mm in wanted_mm) or any(
        abs(mm - abs(step_mm)) <= STEPPED_MM for mm in steps_mm
    )


def _in_line(boxes: list[Box], first: int, second: int) -> list[Box]:
    """Those that begin and end from left to right where two of them do."""
    return [box for box in boxes if not (_is_aside(box, boxes[first]) or _is_aside(box, boxes[second]))]


def _is_aside(one: Box, other: Box) -> bool:
    """Whether one begins or ends elsewhere from left to right than the other."""
    return abs(one.left - other.left) > STEPPED_MM or abs(one.right - other.right) > STEPPED_MM


def _is_off_step(one: Box, other: Box) -> bool:
    """Whether two of one width lie over each other by less than half: no step of pockets is so high."""
    if _is_aside(one, other):
        return False
    least_mm = min(one.height, other.height)
    is_within = _holds(one, other) or _holds(other, one)
    return not is_within and min(abs(one.bottom - other.bottom), abs(one.top - other.top)) > MOST_STEP * least_mm


def _holds(one: Box, other: Box) -> bool:
    return holds_box(grow_box(one, STEPPED_MM), other)


@check(
    "ends-fast-unlike",
    "The ends of one strap that lie fast on a piece do so as far as each other.",
    "our choice",
    needs_whole=True,
)
def find_unlike_overs(subject: Subject) -> Iterator[Found]:
    """Once for a piece and strap: at the end that is unlike most of the others."""
    for base in subject.build.pieces:
        for name in dict.fromkeys(end.strap for end in base.strap_landings):
            ends = [end for end in base.strap_landings if end.strap == name]
            counts = Counter(round(end.over_mm, 1) for end in ends)
            if len(counts) > 1:
                usual = counts.most_common(1)[0][0]
                odd = next(end for end in reversed(ends) if round(end.over_mm, 1) != usual)
                like = next(end for end in ends if round(end.over_mm, 1) == usual)
                what = (
                    f'an end of "{name}" lies fast on "{base.name}" for {subject.length(odd.over_mm)}, and another for '
                    f"{subject.length(like.over_mm)} (line {like.place.line})"
                )
                yield odd.place, what, "look at both figures, or accept it where it is meant", base.name
