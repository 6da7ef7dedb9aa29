"""Checks of holes: against edges, stitch lines, the hardware they take, and each other through the layers."""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.checks.trade.meeting import tell_folded, tell_landed, tell_riveted, tell_shifted, tell_single
from docgen.geometry.measure import gap_finder
from docgen.geometry.nearby import nearest_finder
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, distance, dot, subtract, unit
from docgen.problems import Place, line_words, lines_words
from docgen.resolve import Fold, Hole, Piece, by_name, from_end_mm
from docgen.tables.hardware import HOLE_BY_KIND_MM, HOLE_SLACK_MM
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM, SAME_PUNCH_MM
from docgen.written.units.telling import format_mm

ON_BEND_MM = (
    1.0  # from a bend to the rim of a hole in which something is set, which would keep it from bending: our choice
)
SAME_SIZE_MM = 1.0  # pieces that differ less lie upon each other when they are sewn together


@check(
    "hole-near-edge",
    "The centre of a hole keeps {hole_edge} its size from the edge.",
    PRACTICE,
    gives_way=("marks-askew", "strap-tip-short"),
)
def find_holes_near_edge(subject: Subject) -> Iterator[Found]:
    """For each hole or row of holes that is written, the one that lies nearest."""
    nearest: dict[Place, tuple[float, Hole, Piece]] = {}
    for piece in subject.build.cut:
        find_gap = gap_finder(outline_path(piece.outline))
        for hole in (hole for hole in piece.marks.holes if hole.place not in subject.odd_punches):
            gap_mm = _gap_mm(find_gap, hole)
            if gap_mm < nearest.get(hole.place, (subject.build.limits.hole_edge * hole.diameter_mm, hole, piece))[0]:
                nearest[hole.place] = (gap_mm, hole, piece)
    for place, (gap_mm, hole, piece) in nearest.items():
        least_mm = subject.build.limits.hole_edge * hole.diameter_mm
        what = (
            f'a hole of {subject.length(hole.diameter_mm)} in "{piece.name}" lies '
            f"{subject.length(gap_mm)} from the edge"
        )
        mend = f"keep its centre {subject.length(least_mm)} from the edge or more"
        if piece.is_strap and outline_box(piece.outline).width < 2 * least_mm:
            most_mm = outline_box(piece.outline).width / 2 / subject.build.limits.hole_edge
            mend = f"punch it {subject.length(most_mm)} or smaller, or cut the strap wider"
        yield place, what, mend, piece.name


@check(
    "punch-unusual",
    "A hole is at most {largest_punch} across, and at most twice as large as what it takes needs.",
    PRACTICE,
)
def find_odd_punches(subject: Subject) -> Iterator[Found]:
    """Each once, with what else is punched in that piece, or what its hardware needs."""
    told: set[Place] = set()
    hardware = by_name(subject.build.hardware)
    for piece in subject.build.cut:
        for hole in piece.marks.holes:
            if hole.place not in subject.odd_punches or hole.place in told:
                continue
            told.add(hole.place)
            item = hardware.get(hole.takes)
            least, most = HOLE_BY_KIND_MM.get(item.kind, (0.0, 0.0)) if item else (0.0, 0.0)
            others = {other.diameter_mm for other in piece.marks.holes} - {hole.diameter_mm}
            beside = f", and its others are {subject.length(min(others))}" if others else ""
            if item and (item.hole_mm or most):
                wanted = subject.length(item.hole_mm) if item.hole_mm else f"{format_mm(least)} to {format_mm(most)}"
                beside = f", and {item.what} needs {wanted}"
            what = f'a hole in "{piece.name}" is {subject.length(hole.diameter_mm)} across{beside}'
            yield hole.place, what, "look at punch = ... and its unit", piece.name


@check(
    "hole-on-stitch-line",
    "A hole keeps its rim {hole_stitch} from stitch lines.",
    PRACTICE,
    needs_whole=True,
    gives_way=("tongue-slot", "marks-askew", "strap-tip-short"),
)
def find_holes_on_stitches(subject: Subject) -> Iterator[Found]:
    """For each hole or row of holes that is written, the first that is too near to a line."""
    told: set[Place] = set()
    for piece in subject.build.cut:
        found = [(line.seam, gap_finder(line.path)) for line in piece.marks.stitch_lines]
        for hole in piece.marks.holes:
            lines = [
                seam
                for seam, find_gap in found
                if _gap_mm(find_gap, hole) < hole.diameter_mm / 2 + subject.build.limits.hole_stitch_mm
            ]
            if lines and hole.place not in told | subject.odd_punches:
                told.add(hole.place)
                what = (
                    f'a hole of {subject.length(hole.diameter_mm)} in "{piece.name}" lies on the '
                    f'stitch line of "{lines[0]}"'
                )
                mend = f"keep its rim {subject.length(subject.build.limits.hole_stitch_mm)} from the line or more"
                yield hole.place, what, mend, piece.name


def _gap_mm(find_gap: Callable[[Point], float], hole: Hole) -> float:
    ends = (add(hole.at, hole.slot), subtract(hole.at, hole.slot)) if hole.long_mm else ()
    return min(map(find_gap, (hole.at, *ends)))


@check(
    "hole-on-fold",
    "A round hole does not lie on a fold that bends, nor on that of a hem; the rim of one that something is set in keeps "
    f"{ON_BEND_MM:g} mm from it.",
    "plain from the work; how far is our choice",
    needs_whole=True,
)
def find_holes_on_folds(subject: Subject) -> Iterator[Found]:
    """Once for a piece, at the first of its holes or rows that are written; holes at a fold round a fitting let its tongue
    through."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.marks.folds if fold.is_open or fold.of_hem]
        on = {
            hole.place: (hole, fold) for fold in folds[::-1] for hole in piece.marks.holes[::-1] if _is_on(hole, fold)
        }
        found = sorted(on.values(), key=lambda one: one[0].place.line)
        for hole, fold in found[:1]:
            name = "the fold of its hem" if fold.of_hem else "its fold"
            what = f'a hole of {subject.length(hole.diameter_mm)} in "{piece.name}" lies on {name}'
            what += line_words(fold.place.line)
            what += f", and others on {lines_words([one.place.line for one, _ in found[1:]])}" if found[1:] else ""
            yield hole.place, what, "measure the hole and the fold again", piece.name


def _is_on(hole: Hole, fold: Fold) -> bool:
    """Whether a round hole lies on a fold, or what is set in it beside that."""
    way = unit(subtract(fold.end, fold.start))
    off_mm = abs(cross(way, subtract(hole.at, fold.start)))
    along_mm = dot(way, subtract(hole.at, fold.start))
    reach_mm = hole.diameter_mm / 2 + (ON_BEND_MM if hole.takes else 0.0)
    return off_mm < reach_mm and 0 <= along_mm <= distance(fold.start, fold.end) and not hole.long_mm


@check("hole-size", "A hole is as large as its hardware needs.", PRACTICE, needs_whole=True)
def find_wrong_punches(subject: Subject) -> Iterator[Found]:
    hardware = by_name(subject.build.hardware)
    told: set[Place] = set()
    for piece in subject.build.cut:
        closing = _closing(subject, piece)
        for hole in piece.marks.holes:
            item = hardware.get(hole.takes or closing.get(hole.place, ""))
            if item is None or hole.place in told | subject.odd_punches:
                continue
            least, most = HOLE_BY_KIND_MM.get(item.kind, (0.0, 1000.0))
            if item.hole_mm:
                least, most = item.hole_mm - HOLE_SLACK_MM, item.hole_mm + HOLE_SLACK_MM
            if not least - 1e-6 <= hole.diameter_mm <= most + 1e-6:
                told.add(hole.place)
                wanted = format_mm(item.hole_mm) if item.hole_mm else f"{format_mm(least)} to {format_mm(most)}"
                what = (
                    f'a hole of {format_mm(hole.diameter_mm)} in "{piece.name}" takes {item.what}, which needs {wanted}'
                )
                yield hole.place, what, "use the punch that fits, or say the hole that it needs", piece.name


def _closing(subject: Subject, part: Piece) -> dict[Place, str]:
    """What closes the turned ends of a strap, by where the holes for it are written: round ones on what lies back."""
    strap = subject.parts.straps.get(part.name)
    if strap is None:
        return {}
    return {
        hole.place: end.takes
        for which, end in enumerate(strap.ends)
        for hole in part.marks.holes[strap.row_holes :]
        if end.takes and not hole.long_mm and from_end_mm(strap, which, hole.at) < 2 * end.fold_mm
    }


@check(
    "holes-apart",
    f"Holes for one fitting meet through the layers within {format_mm(HOLES_MEET_MM)}.",
    PRACTICE,
    needs_whole=True,
    gives_way=("strap-end-unpunched",),
)
def find_holes_apart(subject: Subject) -> Iterator[Found]:
    """Holes for one fitting that miss each other: through a fold, a hem or a turned end, of pieces and straps that
    land, and of partners of one size. For each hole or row that is written, the first."""
    told: set[Place] = set()
    for found in (
        *tell_folded(subject),
        *tell_shifted(subject),
        *tell_landed(subject),
        *tell_riveted(subject),
        *_tell_partners(subject),
    ):
        if found[0] not in told:
            told.add(found[0])
            yield found


def _tell_partners(subject: Subject) -> Iterator[Found]:
    for hole, piece, other, gap_mm in _seam_pairs(subject):
        what = (
            f'a hole in "{piece.name}" and one in "{other.name}" take the same "{hole.takes}", and lie '
            f"{subject.length(gap_mm)} apart"
        )
        yield hole.place, what, "measure both again from one edge", piece.name


@check(
    "hole-single-at-fold",
    "Where the holes of a piece lie on each other once it is folded, each does.",
    "counted; one that goes through a single layer may be accepted",
    needs_whole=True,
)
def find_single_holes(subject: Subject) -> Iterator[Found]:
    yield from tell_single(subject)


@check(
    "hole-not-in-partner",
    "A part that hardware goes through has a hole of the same size.",
    "plain from the work",
    needs_whole=True,
    gives_way=("hole-size", "punch-unusual", "holes-on-one-post-unlike", "hole-without-mate"),
)
def find_lost_holes(subject: Subject) -> Iterator[Found]:
    """For each hole or row that is written, and each part that it goes through: none of its size there; and once for a
    part and another that shows no hole at all for the same hardware."""
    seen: set[tuple[Place, str]] = set()
    bare: set[tuple[str, str, str, float]] = set()
    for piece in subject.build.cut:
        for hole in piece.marks.holes:
            for name in hole.through if hole.takes else ():
                if (hole.place, name) in seen:
                    continue
                seen.add((hole.place, name))
                partners = layers_of(name, subject)
                # a hole that takes nothing is there for what comes through from another layer
                twins = [
                    twin for part in partners for twin in free_holes(subject, part) if twin.takes in ("", hole.takes)
                ]
                off = {twin: abs(twin.diameter_mm - hole.diameter_mm) for twin in twins}
                is_there = min(off.values(), default=math.inf) <= SAME_PUNCH_MM
                none = (piece.name, name, hole.takes, hole.diameter_mm)
                if not partners or is_there or none in bare:
                    continue
                bare |= set() if off else {none}
                size = subject.length(hole.diameter_mm)
                what = f'a hole of {size} in "{piece.name}" goes through "{name}", and '
                twin = min(off, key=off.__getitem__, default=None)
                what += (
                    f"the hole there is {subject.length(twin.diameter_mm)} (line {twin.place.line})"
                    if twin
                    else f'the template of "{name}" shows no hole for "{hole.takes}"'
                )
                mend = f'give "{name}" a hole of {size}, or accept that it is marked through "{piece.name}"'
                meant = _find_meant(subject, piece, hole)
                alone = "" if meant else _find_waiting(subject, piece, hole)
                mend = f'write through = ["{meant}"], as the others of "{piece.name}" do; or {mend}' if meant else mend
                mend = f'write through = ["{alone}"], whose hole waits for one; or {mend}' if alone else mend
                yield hole.place, what, mend, piece.name


@check(
    "hole-through-itself",
    "A hole goes through its own piece a second time only where that is folded over.",
    "plain from the work",
    needs_whole=True,
)
def find_own_layers(subject: Subject) -> Iterator[Found]:
    for piece in subject.build.pieces:
        hole = next((hole for hole in piece.marks.holes if piece.name in hole.through), None)
        if hole is not None and not any(not fold.is_open for fold in piece.marks.folds):
            what = f'a hole of "{piece.name}" is said to go through "{piece.name}" besides, which has no fold'
            yield hole.place, what, "name under through the other part that it goes through", piece.name


def _find_meant(subject: Subject, piece: Piece, hole: Hole) -> str:
    """The one part that other holes of a piece for the same hardware go through, and that has a hole left over."""
    others = [one for one in piece.marks.holes if one.takes == hole.takes and one.through]
    names = {name for one in others for name in one.through} - {*hole.through}
    left = [
        name
        for name in names
        if sum(name in one.through for one in others)
        < sum(twin.takes in ("", hole.takes) for part in layers_of(name, subject) for twin in free_holes(subject, part))
    ]
    return left[0] if len(names) == len(left) == 1 else ""


def _find_waiting(subject: Subject, piece: Piece, hole: Hole) -> str:
    """The one part besides with a hole of the same size that takes nothing, and that no hole goes through."""
    named = {name for part in subject.build.cut for one in part.marks.holes for name in one.through} | {piece.name}
    found = [
        part.name
        for part in subject.build.cut
        if part.name not in named
        and any(
            not twin.takes and not twin.long_mm and abs(twin.diameter_mm - hole.diameter_mm) <= SAME_PUNCH_MM
            for twin in free_holes(subject, part)
        )
    ]
    return found[0] if len(found) == 1 else ""


def layers_of(name: str, subject: Subject) -> list[Piece]:
    """The piece or strap of this name; of a join its strips, one of which has the hole."""
    joins = {join.name: join.pieces for join in subject.build.joins}
    cut = by_name(subject.build.cut)
    return [cut[part] for part in dict.fromkeys(joins.get(name, (name,))) if part in cut]


def tell_fewer(subject: Subject, bringers: Counter[str], there: int) -> str:
    """How many would have to be cut of the one piece whose hardware goes through another, that each meets a hole there;
    `bringers` has how many holes of each do. Nothing where that is not plain."""
    (part, of_one), *more = bringers.items()
    if more or there % of_one or part not in subject.specs:
        return ""
    place = subject.written_at(subject.spec.pieces, part, "cut")
    return f', or cut = {there // of_one} for "{part}" (line {place.line})'


def free_holes(subject: Subject, part: Piece) -> Iterator[Hole]:
    """Its holes, without those of a strap that are its row for a buckle, or that its own turned ends are closed
    through."""
    strap = subject.parts.straps.get(part.name)
    for hole in part.marks.holes[strap.row_holes if strap else 0 :]:
        if strap is None or not any(
            end.takes and from_end_mm(strap, which, hole.at) < 2 * end.fold_mm for which, end in enumerate(strap.ends)
        ):
            yield hole


Pair = tuple[Hole, Piece, Piece, float]


def _seam_pairs(subject: Subject) -> Iterator[Pair]:
    for seam in subject.build.seams:
        first, *others = [subject.parts.pieces.get(side.part) for side in seam.sides if side.edges]
        for other in others:
            if first is not None and other is not None and _have_one_size(first, other):
                yield from _partner_pairs(first, other)


def _have_one_size(first: Piece, other: Piece) -> bool:
    one, two = outline_box(first.outline), outline_box(other.outline)
    return abs(one.width - two.width) <= SAME_SIZE_MM and abs(one.height - two.height) <= SAME_SIZE_MM


def _partner_pairs(first: Piece, other: Piece) -> list[Pair]:
    """Holes of the first that miss one of the other, laid on it the way its holes lie nearer: as it is, or turned
    over."""
    one, two = outline_box(first.outline), outline_box(other.outline)

    def lay(at: Point) -> Point:
        return Point(at.x - one.left + two.left, at.y - one.bottom + two.bottom)

    def turn(at: Point) -> Point:
        return Point(two.right - (at.x - one.left), at.y - one.bottom + two.bottom)

    return min((_misses(first, other, move) for move in (lay, turn)), key=lambda found: found[0])[1]


def _misses(first: Piece, other: Piece, move: Callable[[Point], Point]) -> tuple[float, list[Pair]]:
    """How far the holes lie from their nearest ones altogether, and the pairs that miss."""
    twins: defaultdict[str, list[Point]] = defaultdict(list)
    for twin in other.marks.holes:
        twins[twin.takes].append(twin.at)
    finders = {takes: nearest_finder(places) for takes, places in twins.items() if takes}
    found = [(hole, finders[hole.takes](move(hole.at)) if hole.takes in finders else 0.0) for hole in first.marks.holes]
    missed = [(hole, first, other, mm) for hole, mm in found if HOLES_MEET_MM < mm <= OTHER_HOLE_MM]
    return sum(mm for _, mm in found), missed
