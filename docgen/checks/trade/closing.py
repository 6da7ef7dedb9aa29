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
from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.vector import cross, dot, subtract, unit
from docgen.problems import line_words, lines_words, list_words
from docgen.resolve import Hardware, Hole, Piece
from docgen.tables.sewing import ONE_PIECE_MEET_MM
from docgen.written.units.telling import format_mm

Half = tuple[Piece, Hole]
ALIGNED = 0.9  # the faces of a flap and of what it comes over look one way: so much of the whole at least
TINY_MM = 1e-6
BEHIND_MM = 10.0  # more than all that lies between a flap and its stud: our choice
SAME_WIDTH_MM = 1.0
SAME_MM = 0.3  # of two lengths that are one: our choice
STUD_RE = r"(?i)\bstuds?\b"
LOCK_RE = r"(?i)\b(?:turn|twist|tuck|press|push)[ -]?(?:locks?|catch(?:es)?)\b"


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """Two holes that meet when a part is closed, that of the part which comes over first: how far apart they lie along the
    face of the other part, where what lies between fills out the rest; how far the first comes to lie beneath that face;
    whether their faces look away from each other; and whether one part goes from one half of the other round to its
    other half."""

    piece: Piece
    hole: Hole
    other: Piece
    twin: Hole
    apart_mm: float
    short_mm: float
    is_opposed: bool
    is_laid_on: bool


@check(
    "snap-halves-apart",
    "The halves of a snap meet within {snaps_meet} when the part that closes is folded over, and within "
    f"{format_mm(ONE_PIECE_MEET_MM)} where both are in one piece, or a tab goes from one half of a cover to the other.",
    "solid geometry, by the angles of its folds; what leather gives is our choice",
    needs_whole=True,
    gives_way=("hole-on-fold", "fold-in-seam"),
    waits_for=("landing-across-fold",),
)
def find_halves_apart(subject: Subject) -> Iterator[Found]:
    """Snaps of one half in a part that bends at open folds by half a turn in all, and one in another, both where only
    the spec can have them."""
    for one in closed_halves(subject):
        if told := _tell_opposed(subject, one, "half of the snap") or _tell_short(subject, one):
            yield told
        elif one.apart_mm > most_apart_mm(subject, one) + TINY_MM:
            away = subject.length(one.apart_mm)
            what = f'folded over, "{one.piece.name}" has its half of the snap {away} from the one in "{one.other.name}"'
            if one.piece is one.other:
                what = f'folded up, the two halves of the snap in "{one.piece.name}" lie {away} beside each other'
            what += f" (line {one.hole.place.line}){_tell_measure(subject, one.piece, one.apart_mm)}"
            yield one.twin.place, what, halves_mend(subject, one.piece), one.other.name


def most_apart_mm(subject: Subject, one: Closing) -> float:
    """How far apart what closes may lie: little where both are in one piece, or a tab goes from one half of a cover round
    to the other, with nothing but its own folds between."""
    is_one = one.piece is one.other or one.is_laid_on
    return ONE_PIECE_MEET_MM if is_one else subject.build.limits.snaps_meet_mm


def _tell_opposed(subject: Subject, one: Closing, what: str) -> Found | None:
    """What closes on the face that looks away from it."""
    if one.piece is one.other or not one.is_opposed or one.apart_mm > most_apart_mm(subject, one):
        return None
    if abs(one.short_mm) <= BEHIND_MM or not (one.is_laid_on or what == "stud"):
        return None
    told = (
        f'folded over, the hole of "{one.piece.name}" lies {subject.length(abs(one.short_mm))} behind the {what} in '
        f'"{one.other.name}", which stands out on its other side'
    )
    return one.twin.place, told, f"{halves_mend(subject, one.piece)}, also from which side", one.piece.name


def _tell_short(subject: Subject, one: Closing) -> Found | None:
    """What goes round the edge of a cover to its other half, and has too little between its folds for that."""
    is_short = one.is_laid_on and not one.is_opposed and one.short_mm > ONE_PIECE_MEET_MM + TINY_MM
    if not is_short or one.apart_mm > most_apart_mm(subject, one) + TINY_MM:
        return None
    short = subject.length(one.short_mm)
    told = (
        f'"{one.piece.name}" goes round the edge of "{one.other.name}", and is {short} too short between its folds for '
        f"what lies there: its hole does not come to the one in that (line {one.twin.place.line})"
    )
    own = subject.piece_spec(one.piece.name)
    folds = [fold.at.place for fold in own.folds if fold.at] if own else []
    return (
        max(folds, key=lambda place: place.line, default=one.hole.place),
        told,
        halves_mend(subject, one.piece),
        one.piece.name,
    )


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


def closed_halves(subject: Subject) -> Iterator[Closing]:
    """Both halves of each snap in a part that bends over another or itself, that of the part which bends first, or which
    lies on the other."""
    for cap, stud in _pairs(subject):
        is_first = cap[0].bends_over or (not stud[0].bends_over and _comes_over(subject, cap[0], stud[0]))
        halves = (cap, stud) if is_first else (stud, cap)
        placed = [subject.space.part(Copy(part.name)) for part, _ in halves]
        if placed[1] and halves[1][0].bends_over and placed[1].host == Copy(halves[0][0].name):
            halves, placed = halves[::-1], placed[::-1]
        (piece, hole), (other, twin) = halves
        is_over = piece.bends_over or _comes_over(subject, piece, other)
        if not (is_over or (piece is other and _closes(piece, hole, twin))) or (piece.bends_over and piece is other):
            continue
        one, two = placed
        if one is None or two is None or (two.host != one.copy and (_may_turn(one) or _may_turn(two))):
            continue
        yield _closing((piece, hole, one), (other, twin, two))


def _closing(first: tuple[Piece, Hole, Placed], second: tuple[Piece, Hole, Placed]) -> Closing:
    """How two holes come to lie, of which the first is in what comes over."""
    (piece, hole, one), (other, twin, two) = first, second
    off = [a - b for a, b in zip(one.surface.point(hole.at), two.surface.point(twin.at), strict=True)]
    normals = [each.surface.normal(each.surface.band_of(at.at)) for each, at in ((one, hole), (two, twin))]
    before_mm = sum(a * n for a, n in zip(off, normals[1], strict=True))
    faces = sum(a * b for a, b in zip(*normals, strict=True))
    return Closing(
        piece=piece,
        hole=hole,
        other=other,
        twin=twin,
        apart_mm=math.sqrt(max(0.0, sum(a * a for a in off) - before_mm * before_mm)),
        short_mm=before_mm if other.shows == "flesh" else -before_mm,
        is_opposed=(faces < 0) == (piece.shows == other.shows),
        is_laid_on=one.host == two.copy and piece.bends_over and other.bends_over,
    )


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
    judged = {half.place for one in closed_halves(subject) for half in (one.hole, one.twin)}
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
    """Whether it is a stud or a lock, by its words: one that is screwed home has a post of its own."""
    return item.kind in ("other", "screw-post") and bool(re.search(STUD_RE, item.what) or re.search(LOCK_RE, item.what))


def _may_turn(placed: Placed) -> bool:
    """Whether a part may lie at another angle; a flap that goes on from the edge it is sewn to, or lies on a part by a
    landing, bends at its own folds."""
    return placed.is_free and placed.how not in ("goes on", "lies on")


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
    f"{format_mm(ONE_PIECE_MEET_MM)} where both are in one piece, or a tab goes from one half of a cover to the other.",
    "solid geometry, by the angles of its folds; what leather gives is our choice",
    needs_whole=True,
    gives_way=("fold-in-seam",),
)
def find_missed_studs(subject: Subject) -> Iterator[Found]:
    """Button studs, and parts with holes for nothing else that bend over by half a turn, or round to their own stud, or lie
    on the part of a flap that does; locks, and such parts with holes for their plates, or oblong ones; once for a stud or
    lock."""
    for one, kind in closed_studs(subject):
        if told := _tell_opposed(subject, one, "stud") or _tell_short(subject, one):
            yield told
        elif one.apart_mm > most_apart_mm(subject, one):
            where = f'in "{one.other.name}"' if one.piece is not one.other else "in it"
            what = (
                f'folded over, the hole of "{one.piece.name}" lies {subject.length(one.apart_mm)} from the {kind} {where} '
                f"(line {one.twin.place.line})"
            )
            what += _tell_measure(subject, one.piece, one.apart_mm)
            yield one.hole.place, what, halves_mend(subject, one.piece), one.piece.name


def closed_studs(subject: Subject) -> Iterator[tuple[Closing, str]]:
    """Each stud or lock with the hole that comes nearest to it once all is folded over, and which of both it is."""
    studs = {item.name for item in subject.build.hardware if closes_flap(item)}
    locks = {item.name for item in subject.build.hardware if item.name in studs and re.search(LOCK_RE, item.what)}
    pieces = [piece for piece in subject.build.pieces if studs and piece.cut == 1]
    flaps = [piece for piece in pieces if piece.own_folds or not piece.marks.folds]
    for piece in pieces if any(flap.own_folds for flap in pieces) else ():
        for twin in piece.marks.holes:
            two = subject.space.part(Copy(piece.name)) if twin.takes in studs else None
            if two is None or two.is_free:
                continue
            found = [
                _closing((flap, hole, one), (piece, twin, two))
                for flap in flaps
                for one in (subject.space.part(Copy(flap.name)),)
                if one is not None and _may_close(subject, flap, one, piece, two, twin)
                for hole in _closing_holes(flap, piece, twin, locks)
            ]
            if found:
                yield min(found, key=lambda it: it.apart_mm), "lock" if twin.takes in locks else "stud"


def _closing_holes(flap: Piece, piece: Piece, twin: Hole, locks: set[str]) -> list[Hole]:
    """The holes of a flap that a stud or lock may be for."""
    is_lock = twin.takes in locks
    return [
        hole
        for hole in flap.marks.holes
        if ((is_lock and hole.takes in locks) or not (hole.takes or (hole.long_mm and not is_lock)))
        and (flap is not piece or _closes(piece, hole, twin))
    ]


def _may_close(subject: Subject, flap: Piece, one: Placed, piece: Piece, two: Placed, twin: Hole) -> bool:
    """Whether a part comes over another with a stud: it bends over, or lies on what does, where that comes over, with the
    one hole that it has."""
    if flap is piece or flap.own_folds:
        return flap is piece or (flap.bends_over and not _may_turn(one))
    host = subject.parts.pieces.get(one.host.part) if one.host and one.how in ("lies on", "lies behind") else None
    placed = subject.space.part(one.host) if host and host is not piece and host.bends_over and one.host else None
    lands = next((it for it in host.marks.landings if it.piece == flap.name), None) if host else None
    if placed is None or lands is None or _may_turn(placed) or len(flap.marks.holes) != 1:
        return False
    over = placed.surface.normal(placed.surface.band_of(path_box(lands.outline).centre))
    under = two.surface.normal(two.surface.band_of(twin.at))
    return sum(a * b for a, b in zip(over, under, strict=True)) > ALIGNED
