"""Check of the two halves of what closes: they come to lie on each other once their part is folded."""

import math
import re
from collections.abc import Iterator
from itertools import combinations

from docgen.assemble import Copy, Placed
from docgen.checks.naming import NAME_RE
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.halves import pair_snaps
from docgen.geometry.outline import outline_box
from docgen.geometry.vector import cross, dot, subtract, unit
from docgen.problems import line_words, lines_words, list_words
from docgen.resolve import Hardware, Hole, Piece
from docgen.tables.sewing import ONE_PIECE_MEET_MM
from docgen.written.units.telling import format_mm

Half = tuple[Piece, Hole]
TINY_MM = 1e-6
BEHIND_MM = 10.0  # more than all that lies between a flap and its stud: our choice
SAME_WIDTH_MM = 1.0
SAME_MM = 0.3  # of two lengths that are one: our choice
STUD_RE = r"(?i)\bstuds?\b"
LOCK_RE = r"(?i)\b(?:turn|twist|tuck|press|push)[ -]?(?:locks?|catch(?:es)?)\b"


@check(
    "snap-halves-apart",
    "The halves of a snap meet within {snaps_meet} when the part that closes is folded over, and within "
    f"{format_mm(ONE_PIECE_MEET_MM)} where both are in one piece.",
    "solid geometry, by the angles of its folds; what leather gives is our choice",
    needs_whole=True,
    gives_way=("hole-on-fold", "fold-in-seam"),
    waits_for=("landing-across-fold",),
)
def find_halves_apart(subject: Subject) -> Iterator[Found]:
    """Snaps of one half in a part that bends at open folds by half a turn in all, and one in another, both where only
    the spec can have them."""
    for (piece, hole), (other, twin), apart_mm in closed_halves(subject):
        if apart_mm > (ONE_PIECE_MEET_MM if piece is other else subject.build.limits.snaps_meet_mm) + TINY_MM:
            away = subject.length(apart_mm)
            what = f'folded over, "{piece.name}" has its half of the snap {away} from the one in "{other.name}"'
            if piece is other:
                what = f'folded up, the two halves of the snap in "{piece.name}" lie {away} beside each other'
            what += f" (line {hole.place.line}){_tell_measure(subject, piece, apart_mm)}"
            yield twin.place, what, halves_mend(subject, piece), other.name


def _tell_measure(subject: Subject, piece: Piece, apart_mm: float) -> str:
    """The measure in the words of a piece's size or folds that is as long as its half is off, or the two of them that
    differ by that: one is missing in a sum, or stands in place of another."""
    own = subject.piece_spec(piece.name)
    values = [*own.size, *(fold.at for fold in own.folds if fold.at)] if own else []
    names = {name for value in values for name in NAME_RE.findall(value.value)}
    made = {item.name: item for item in subject.spec.measures if item.name in names}
    long_mm = {name: plain_mm(item.length.value) for name, item in made.items()}
    for name, mm in long_mm.items():
        if abs(mm - apart_mm) < SAME_MM:
            return f', as far as "{name}" is long{line_words(made[name].length.place.line)}'
    for name, other in combinations(long_mm, 2):
        if min(long_mm[name], long_mm[other]) > 0 and abs(abs(long_mm[name] - long_mm[other]) - apart_mm) < SAME_MM:
            lines = lines_words([made[one].length.place.line for one in (name, other)])
            return f', as far as "{name}" and "{other}" differ ({lines})'
    return ""


def halves_mend(subject: Subject, piece: Piece) -> str:
    """What mends halves that miss each other, with the lines of the folds, the size and the landing that lay this one where
    it comes down."""
    own = subject.piece_spec(piece.name)
    if own is None:
        return "measure both holes and the folds again"
    folds = sorted({fold.at.place.line for fold in own.folds if fold.at})
    told = ["both holes"]
    if folds:
        told.append(f"the fold{'s' * (len(folds) > 1)} ({lines_words(folds)})")
    if own.size:
        told.append(f'the size of "{piece.name}"{line_words(own.size[-1].place.line)}')
    lands = [it for one in subject.spec.pieces for it in one.landings if it.piece and it.piece.value == piece.name]
    told += [f"where it lands{line_words(it.at.place.line)}" for it in lands[:1] if it.at]
    return f"measure {list_words(told)} again"


def closed_halves(subject: Subject) -> Iterator[tuple[Half, Half, float]]:
    """Both halves of each snap in a part that bends over another or itself, that of the part which bends first, and how far
    apart they lie once it is folded, mm."""
    for cap, stud in _pairs(subject):
        is_first = cap[0].bends_over or (not stud[0].bends_over and _comes_over(subject, cap[0], stud[0]))
        (piece, hole), (other, twin) = (cap, stud) if is_first else (stud, cap)
        is_over = piece.bends_over or _comes_over(subject, piece, other)
        if not (is_over or (piece is other and _closes(piece, hole, twin))) or (piece.bends_over and piece is other):
            continue
        one, two = (subject.space.part(Copy(part.name)) for part in (piece, other))
        if one is None or two is None or (two.host != one.copy and (_may_turn(one) or _may_turn(two))):
            continue
        yield (piece, hole), (other, twin), _beside_mm(one, hole, two, twin)


@check(
    "snap-halves-aside",
    "The halves of a snap in two pieces that are as wide as each other lie as far from the middle, and one in a piece on "
    "the line of the strap that leads to it, within {snaps_meet}.",
    "plane geometry; what leather gives is our choice",
    needs_whole=True,
)
def find_halves_aside(subject: Subject) -> Iterator[Found]:
    """Where folds do not tell how the piece that closes comes to lie: rectangles as wide as each other, one of which has
    a fold across it."""
    judged = {half.place for *halves, _ in closed_halves(subject) for _, half in halves}
    for (piece, hole), (other, twin) in _pairs(subject):
        is_flat = all(one.shape == "rectangle" for one in (piece, other)) and not piece.bends_over
        if piece is other or not is_flat or hole.place in judged:
            continue
        one, two = outline_box(piece.outline), outline_box(other.outline)
        folded = [fold for part in (piece, other) for fold in part.marks.folds if fold.is_open]
        off_mm = [abs(hole.at.x - one.centre.x), abs(twin.at.x - two.centre.x)]
        is_across = any(abs(fold.start.y - fold.end.y) < TINY_MM for fold in folded)
        is_so = is_across and not other.bends_over and abs(one.width - two.width) < SAME_WIDTH_MM
        if is_so and abs(off_mm[0] - off_mm[1]) > subject.build.limits.snaps_meet_mm:
            there = [subject.length(mm) for mm in off_mm]
            what = (
                f'one half of the snap lies {there[0]} from the middle of "{piece.name}" (line {hole.place.line}), and the '
                f'other {there[1]} from that of "{other.name}"'
            )
            yield twin.place, what, "measure both from the middle", other.name
    yield from _tell_beside_strap(subject)


def _tell_beside_strap(subject: Subject) -> Iterator[Found]:
    """Straps with one half that lead from a piece round to the other half in that: it lies in line with them, whichever
    folds across that line the piece has."""
    pairs = [(cap.name, stud.name) for cap, stud in pair_snaps(subject)]
    takes = {one: other for pair in pairs for one, other in (pair, pair[::-1])}
    takes |= {item.name: item.name for item in subject.build.hardware if item.kind == "snap" and item.name not in takes}
    for base in subject.build.pieces:
        for end in base.strap_landings if base.cut == 1 and len(base.strap_landings) == 1 else ():
            strap = subject.parts.straps.get(end.strap)
            halves = [hole for hole in strap.piece.marks.holes if hole.takes in takes] if strap else []
            twins = [hole for hole in base.marks.holes if halves and hole.takes == takes[halves[0].takes]]
            is_across = all(abs(dot(unit(subtract(it.end, it.start)), end.way)) < TINY_MM for it in base.own_folds)
            if len(halves) != 1 or len(twins) != 1 or not base.own_folds or not is_across:
                continue
            off_mm = abs(cross(end.way, subtract(twins[0].at, end.at)))
            if off_mm > subject.build.limits.snaps_meet_mm:
                what = (
                    f'"{end.strap}" leads to its snap in a line that passes the other half in "{base.name}" by '
                    f"{subject.length(off_mm)} (line {end.place.line})"
                )
                yield twins[0].place, what, "measure both from one edge", base.name


def closes_flap(item: Hardware) -> bool:
    """Whether it is a stud or a lock, by its words."""
    return item.kind == "other" and bool(re.search(STUD_RE, item.what) or re.search(LOCK_RE, item.what))


def _may_turn(placed: Placed) -> bool:
    """Whether a part may lie at another angle; a flap that goes on from the edge it is sewn to, or lies on a part by a
    landing, bends at its own folds."""
    return placed.is_free and placed.how not in ("goes on", "lies on")


def _beside_mm(one: Placed, hole: Hole, other: Placed, twin: Hole) -> float:
    """How far holes lie beside each other along the face of the other part: what lies between fills out the rest."""
    off, before_mm = _apart(one, hole, other, twin)
    return math.sqrt(max(0.0, sum(a * a for a in off) - before_mm * before_mm))


def _apart(one: Placed, hole: Hole, other: Placed, twin: Hole) -> tuple[list[float], float]:
    """The way from a hole to another, and how far that other lies before the grain side of its part."""
    off = [a - b for a, b in zip(one.surface.point(hole.at), other.surface.point(twin.at), strict=True)]
    normal = other.surface.normal(other.surface.band_of(twin.at))
    return off, sum(a * n for a, n in zip(off, normal, strict=True))


def _comes_over(subject: Subject, piece: Piece, other: Piece) -> bool:
    """Whether a piece comes over at the one fold that it has, of which no angle is said: it goes over the depth between
    both, or is sewn to the other along several edges."""
    if piece is other or len(piece.own_folds) != 1 or not piece.own_folds[0].is_open or piece.own_folds[0].angle_deg:
        return False
    placed = subject.space.part(Copy(piece.name))
    between = [seam for seam in subject.build.seams if {piece.name, other.name} <= seam.parts]
    edges = {edge for seam in between for side in seam.sides if side.part == piece.name for edge in side.edges}
    return placed is not None and (len(placed.surface.bands) > 2 or len(edges) > 1)


def _closes(piece: Piece, hole: Hole, twin: Hole) -> bool:
    """Whether a piece bends round a whole turn between two of its holes, at open folds, all along."""
    folds = piece.own_folds
    between = [fold for fold in folds if (fold.off_mm(hole.at) > 0) != (fold.off_mm(twin.at) > 0)]
    is_open = all(fold.is_open and fold.angle_deg for fold in folds)
    return is_open and len(between) == len(folds) and round(sum(fold.angle_deg for fold in between)) == 360


def _pairs(subject: Subject) -> Iterator[tuple[Half, Half]]:
    """The holes of each snap that has two in all: of one item, or of a cap and a stud."""
    items = pair_snaps(subject)
    names = [{cap.name, stud.name} for cap, stud in items]
    names += [
        {item.name} for item in subject.build.hardware if item.kind == "snap" and item.name not in set().union(*names)
    ]
    for taken in names:
        found = [(p, hole) for p in subject.build.pieces if p.cut == 1 for hole in p.marks.holes if hole.takes in taken]
        if len(found) == 2:
            yield found[0], found[1]


@check(
    "stud-misses-flap",
    f"A flap that is folded over a stud or a lock has its hole there, within {{snaps_meet}}, and within "
    f"{format_mm(ONE_PIECE_MEET_MM)} where both are in one piece.",
    "solid geometry, by the angles of its folds; what leather gives is our choice",
    needs_whole=True,
    gives_way=("fold-in-seam",),
)
def find_missed_studs(subject: Subject) -> Iterator[Found]:
    """Button studs, and parts with holes for nothing else that bend over by half a turn, or round to their own stud; locks,
    and such parts with holes for their plates, or oblong ones; once for a stud or lock."""
    studs = {item.name for item in subject.build.hardware if closes_flap(item)}
    locks = {item.name for item in subject.build.hardware if item.name in studs and re.search(LOCK_RE, item.what)}
    flaps = [piece for piece in subject.build.pieces if studs and piece.cut == 1 and piece.own_folds]
    for piece in subject.build.pieces if flaps else ():
        for twin in piece.marks.holes if piece.cut == 1 else ():
            two = subject.space.part(Copy(piece.name)) if twin.takes in studs else None
            for flap in flaps if two and not two.is_free else ():
                one = subject.space.part(Copy(flap.name))
                is_lock = twin.takes in locks
                holes = [
                    hole
                    for hole in flap.marks.holes
                    if ((is_lock and hole.takes in locks) or not (hole.takes or (hole.long_mm and not is_lock)))
                    and (_closes(piece, hole, twin) if flap is piece else flap.bends_over)
                ]
                if one is None or two is None or (flap is not piece and _may_turn(one)) or not holes:
                    continue
                apart_mm, nearest = min(
                    ((_beside_mm(one, hole, two, twin), hole) for hole in holes), key=lambda it: it[0]
                )
                behind_mm = -_apart(one, nearest, two, twin)[1] * (-1 if piece.shows == "flesh" else 1)
                if apart_mm <= subject.build.limits.snaps_meet_mm and behind_mm > BEHIND_MM:
                    what = (
                        f'folded over, the hole of "{flap.name}" lies {subject.length(behind_mm)} behind the stud in '
                        f'"{piece.name}", which stands out on its other side'
                    )
                    yield twin.place, what, f"{halves_mend(subject, flap)}, also from which side", flap.name
                    continue
                if apart_mm > (ONE_PIECE_MEET_MM if flap is piece else subject.build.limits.snaps_meet_mm):
                    kind = "lock" if is_lock else "stud"
                    where = f'in "{piece.name}"' if flap is not piece else "in it"
                    what = (
                        f'folded over, the hole of "{flap.name}" lies {subject.length(apart_mm)} from the {kind} {where} '
                        f"(line {twin.place.line})"
                    )
                    what += _tell_measure(subject, flap, apart_mm)
                    yield nearest.place, what, halves_mend(subject, flap), flap.name
