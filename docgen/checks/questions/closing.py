"""What lies on, closes or is folded and leaves a doubt: a snap near the edge by which its flap is sewn, a loop that is
sewn across its fold, a square corner under a round one."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from math import dist

from docgen.assemble import OTHER_HALF
from docgen.checks.questions.places import shape_spec
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.closing import closes_flap
from docgen.geometry.outline import ACROSS, SIDES, outline_box, outline_path
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box, Point
from docgen.problems import line_words
from docgen.resolve import Fold, Hole, Piece, Seam, SeamSide

SAME_MM = 1.0
LEAST_EDGES = 3  # by so many edges a wall goes round a panel
SPINE_LESS_MM = 10.0  # so much nearer than the wall is wide two folds are taken up by what gives: our choice
SPINE_MORE, SPINE_MORE_MM = 1.5, 20.0  # and so much farther apart they leave room for what is full: our choice
NEAR_TIMES = 3.0  # so many times nearer to one edge than to the others a snap is set beside that: our choice
Sides = dict[str, list[tuple[Seam, SeamSide]]]


@question
def ask_sewn_across(subject: Subject) -> Iterator[Question]:
    """Snaps near the edge by which their piece is sewn, and loops that are sewn across their fold."""
    sewn: Sides = {}
    for seam in subject.build.seams:
        for side in (side for side in seam.sides if side.edges):
            sewn.setdefault(side.part, []).append((seam, side))
    yield from _ask_fasteners(subject, sewn)
    yield from _ask_loops(subject, sewn)


@question
def ask_spines(subject: Subject) -> Iterator[Question]:
    """Two folds by which a panel goes over the wall between it and the other panel, nearer to each other than that is wide,
    or far wider apart."""
    deep_mm: dict[str, tuple[float, str]] = {}
    copies: defaultdict[str, set[int]] = defaultdict(set)  # that one seam sews to each other, a panel between them
    for seam in subject.build.seams:
        for part, count in Counter(part for part, _ in {(side.part, side.copy) for side in seam.sides}).items():
            copies[part] |= {side.copy for side in seam.sides if side.part == part and count > 1}
    for seam in subject.build.seams:
        walls = [side for side in seam.sides if side.part in subject.parts.joins or _is_strip(subject, side.part)]
        for side in seam.sides:
            if len(side.edges) >= LEAST_EDGES and len(walls) == 1 and len(walls[0].edges) == 1:
                inset_mm = subject.parts.stitches[seam.stitch].inset_mm
                between = len(copies[walls[0].part]) or 1
                deep_mm[side.part] = between * (_wide_mm(subject, walls[0].part) - 2 * inset_mm), walls[0].part
    for piece in subject.build.pieces if deep_mm else ():
        folds = [fold for fold in piece.own_folds if fold.is_open and fold.angle_deg in (0, 90)]
        if piece.name not in deep_mm or len(folds) != 2 or len(piece.own_folds) != 2:
            continue
        gap_mm, (wall_mm, wall) = abs(folds[0].off_mm(folds[1].start)), deep_mm[piece.name]
        if not wall_mm - SPINE_LESS_MM <= gap_mm <= SPINE_MORE * wall_mm + SPINE_MORE_MM:
            gap, deep = map(subject.length, (gap_mm, wall_mm))
            own = subject.piece_spec(wall)
            line = line_words(own.size[0].place.line if own and own.size else None)
            many = len(copies[wall])
            told = f'{many} of "{wall}" are {deep} between their' if many else f'"{wall}" is {deep} between its'
            what = f'two folds of "{piece.name}" lie {gap} apart, and {told} seams{line}'
            answer = "look at the folds and at that; where it is to close so there is nothing to do"
            yield Question(place=folds[-1].place, what=what, answer=answer)


def _is_strip(subject: Subject, name: str) -> bool:
    piece = subject.parts.pieces.get(name)
    return piece is not None and piece.shape == "strip"


def _wide_mm(subject: Subject, name: str) -> float:
    if name in subject.parts.joins:
        return subject.parts.joins[name].width_mm
    return outline_box(subject.parts.pieces[name].outline).width


def _ask_fasteners(subject: Subject, sewn: Sides) -> Iterator[Question]:
    """Halves of a snap that lie nearer to the one edge by which their piece is sewn than to the loose edge across; of a
    pocket or panel that is sewn on three sides, nearer to its foot than to its mouth. Where a flap
    bends over it, a check knows where that comes down."""
    lone = {one.hardware for one in subject.build.space.unset if one.why == OTHER_HALF}  # told as that
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"} - lone
    bent = {
        piece.name
        for piece in subject.build.pieces
        if any(fold.is_open and not fold.of_hem for fold in piece.marks.folds)
        and any(hole.takes in snaps for hole in piece.marks.holes)
    }
    flat = {side.part for seam in subject.build.seams for side in seam.sides if not side.edges}
    for piece in subject.build.pieces:
        holes = [hole for hole in piece.marks.holes if hole.takes in snaps]
        sides = _sewn_sides(piece, sewn)
        if (
            len(holes) != 1
            or piece.name in flat  # by which of its edges it is sewn is not said then
            or len(sides) not in (1, 3)
            or (len(sides) == 3 and any(name != piece.name for name in bent))
        ):
            continue
        shut = sides[0] if len(sides) == 1 else ACROSS[next(side for side in SIDES if side not in sides)]
        near_mm, far_mm = (outline_box(piece.outline).off(holes[0].at, side) for side in (shut, ACROSS[shut]))
        if near_mm < far_mm:
            near, far = map(subject.length, (near_mm, far_mm))
            what = f'the snap of "{piece.name}" is {near} from its {shut}, by which it is sewn, and {far} from the '
            what += "edge that opens"
            answer = "look from which edge it is measured; where it is to close there is nothing to do"
            yield Question(place=holes[0].place, what=what, answer=answer)
        elif len(sides) == 1:
            yield from _ask_hinges(subject, piece, holes[0], shut, sewn)


def _ask_hinges(subject: Subject, piece: Piece, hole: Hole, shut: str, sewn: Sides) -> Iterator[Question]:
    """A snap amid the way from the sewn edge to the loose one across, and far nearer to an edge beside them."""
    off_mm = {side: outline_box(piece.outline).off(hole.at, side) for side in SIDES}
    near = min(SIDES, key=lambda side: off_mm[side])
    is_amid = abs(off_mm[shut] - off_mm[ACROSS[shut]]) < SAME_MM
    if (
        is_amid
        and near not in (shut, ACROSS[shut])
        and NEAR_TIMES * off_mm[near] < min(off_mm[shut], off_mm[ACROSS[near]])
    ):
        away = subject.length(off_mm[near])
        what = f'"{piece.name}" is sewn by its {shut}, and its snap is {away} from its {near}, amid the way across'
        answer = f"look which edge is sewn, {ACROSS[near]} or {shut}; where it is meant so there is nothing to do"
        seam, side = next(it for it in sewn[piece.name] if len(it[1].edges) == 1)
        yield Question(place=seam.place_of(side), what=what, answer=answer)


def _sewn_sides(piece: Piece, sewn: Sides) -> list[str]:
    """The sides of what is around a piece along which it is sewn to another, by edges of whatever name."""
    box = outline_box(piece.outline)
    named = {
        edge
        for seam, side in sewn.get(piece.name, [])
        if any(other.part != piece.name for other in seam.sides)
        for edge in side.edges
    }
    hemmed = piece.hemmed
    paths = [path_box(edge.path) for edge in piece.outline.edges if edge.name in named - hemmed]
    return [side for side in SIDES if any(_lies_along(path, box, side) for path in paths)]


def _lies_along(path: Box, box: Box, side: str) -> bool:
    """Whether an edge lies along a side of the box, and does not only end there."""
    far = ACROSS[side]
    off_mm, far_off_mm = (abs(path.level(one) - box.level(side)) for one in (side, far))
    across_mm = abs(box.level(far) - box.level(side))
    return far_off_mm < SAME_MM or (off_mm < SAME_MM and far_off_mm < across_mm / 4)


@question
def ask_halves(subject: Subject) -> Iterator[Question]:
    """Snaps of which one half has its hole, and a strap has one besides of which nothing says what it takes."""
    bare = [
        (strap, hole)
        for strap in subject.build.straps
        for hole in strap.piece.marks.holes[strap.row_holes :]
        if not (hole.takes or hole.meets or hole.long_mm or any(end.takes for end in strap.ends))
    ]
    for item in (one for one in subject.build.space.unset if one.why == OTHER_HALF):
        taking = next(one for one in subject.build.assembly.fastened if one.hardware == item.hardware)
        if taking.count == item.count and bare:
            strap, hole = bare[-1]
            what = f'"{taking.part}" takes one half of "{item.hardware}", and nothing says where the other is set'
            answer = f'write takes = "{item.hardware}" at its hole; one of the strap "{strap.name}" takes nothing yet'
            yield Question(place=hole.place, what=what, answer=answer)
        elif taking.count == item.count and taking.part in subject.specs:  # in a strap it may close on another end
            of = next(one for one in subject.build.cut if one.name == taking.part)
            place = next((hole.place for hole in of.marks.holes if hole.takes == item.hardware), of.place)
            what = (
                f'"{taking.part}" has a hole for one half of "{item.hardware}", and no other part has one for the half '
            )
            answer = (
                f'write takes = "{item.hardware}" at the hole of the part that closes on it; where that is a thing '
            )
            answer += "of its own there is nothing to do"
            yield Question(place=place, what=f"{what}that closes on it", answer=answer)


def _ask_loops(subject: Subject, sewn: Sides) -> Iterator[Question]:
    """Pieces with one closed fold that one seam alone sews, by an edge across it: the ends that lie on each other are
    held by nothing else."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.marks.folds if not fold.is_open]
        sides = sewn.get(piece.name, [])
        if len(folds) != 1 or folds[0].around or folds[0].of_hem or len(sides) != 1 or piece.marks.holes:
            continue
        seam, side = sides[0]
        if len(side.edges) == 1 and side.edges[0] in _across(folds[0]):
            what = f'"{piece.name}" is folded, and sewn by its {side.edges[0]} alone, across the fold'
            answer = (
                "name the edge that lies across from the fold; where its ends are to stay loose there is nothing to do"
            )
            yield Question(place=seam.place_of(side), what=what, answer=answer)


def _across(fold: Fold) -> tuple[str, ...]:
    """The sides of a rectangle that a fold runs across."""
    if abs(fold.start.x - fold.end.x) < SAME_MM:
        return ("top", "bottom", "start", "end")
    return ("left", "right") if abs(fold.start.y - fold.end.y) < SAME_MM else ()


@question
def ask_corners(subject: Subject) -> Iterator[Question]:
    """Rectangles with a square corner in which another lies whose corner is round; once for a piece."""
    for base in (piece for piece in subject.build.pieces if piece.shape == "rectangle" and piece.name in subject.specs):
        ring = outline_path(base.outline)
        for landing in base.marks.landings:
            laid = subject.parts.pieces.get(landing.piece)
            if laid is None or laid.shape != "rectangle":
                continue
            box = path_box(landing.outline)
            points = flatten(landing.outline)
            round_ = [at for at in _corners(path_box(ring)) if _is_corner(at, box) and _off(at, points) > SAME_MM]
            if any(_off(at, flatten(ring)) < SAME_MM / 2 for at in round_):
                what = f'"{landing.piece}" has a round corner where it lies in a square one of "{base.name}"'
                answer = "write round = ... for it; where the corner is to stay square there is nothing to do"
                yield Question(place=shape_spec(subject.specs, base.name).place, what=what, answer=answer)
                break


def _corners(box: Box) -> list[Point]:
    return [Point(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]


def _is_corner(at: Point, box: Box) -> bool:
    return any(dist(at, corner) < SAME_MM for corner in _corners(box))


def _off(at: Point, points: Sequence[Point]) -> float:
    return min(dist(at, point) for point in points)


@question
def ask_lone_studs(subject: Subject) -> Iterator[Question]:
    """Studs and locks set in a piece where a flap comes over, and no other part has a hole that takes nothing."""
    studs = {item.name for item in subject.build.hardware if closes_flap(item)}
    flaps = [piece for piece in subject.build.pieces if studs and piece.bends_over]
    for piece in subject.build.pieces if flaps else ():
        hole = next((one for one in piece.marks.holes if one.takes in studs), None)
        others = [one for one in subject.build.cut if one.name != piece.name]
        is_met = any(it.takes in studs or not (it.takes or it.meets) for one in others for it in one.marks.holes)
        if hole is not None and piece not in flaps and not is_met:
            what = f'"{hole.takes}" is set in "{piece.name}", and no other part has a hole that goes over it'
            answer = f'add one to the holes of "{flaps[0].name}"; where it closes otherwise there is nothing to do'
            yield Question(place=hole.place, what=what, answer=answer)
