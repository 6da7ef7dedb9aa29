"""Checks of slits and oblong holes of pieces: astride the fold round a buckle, clear of holes, and short beside one."""

import math
import re
from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import gap_finder
from docgen.geometry.outline import outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, distance, dot, scale, subtract, unit
from docgen.problems import Place, line_words
from docgen.resolve import Fold, Piece
from docgen.tables.sewing import SLOT_OFF_FOLD_MM
from docgen.written.units.telling import format_mm, format_short

Cut = tuple[Point, Point, Place]
STUD_MM_RE = re.compile(r"\bstuds?\b[^,]*, (\d+(?:\.\d+)?) mm", re.IGNORECASE)
STUD_RE = r"(?i)\bstuds?\b"
NEAR_HOLE_MM = 25.0  # so near in line, a slit and a hole are meant for one stud: our choice
AT_RIM_MM = 1.0  # so near to the rim of a hole, a slit is meant to begin there: our choice


@check(
    "slit-off-fold",
    f"The slit for a buckle's tongue runs across the fold round it, and has its middle there, within "
    f"{format_mm(SLOT_OFF_FOLD_MM)}.",
    "our choice",
    needs_whole=True,
)
def find_slits_off_fold(subject: Subject) -> Iterator[Found]:
    """Of each fold round a buckle the slit or oblong hole that lies nearest, where it runs across the fold."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    for piece in subject.build.pieces:
        cuts = _cuts(subject, piece)
        for number, fold in enumerate(piece.marks.folds):
            if fold.around not in buckles or not cuts:
                continue
            off_mm, cut = min(((_off_mm(cut, fold), cut) for cut in cuts), key=lambda found: found[0])
            if off_mm <= SLOT_OFF_FOLD_MM and _runs_along(cut, fold):
                what = (
                    f'the slit of "{piece.name}" runs along the fold round "{fold.around}": the tongue turns across it'
                )
                yield cut[2], what, "measure both ends again: one on each side of the fold", piece.name
            if SLOT_OFF_FOLD_MM < off_mm < distance(cut[0], cut[1]) / 2:  # else nothing is cut there, told as that
                line = fold.place.line or _fold_place(subject, piece, number).line
                what = (
                    f'the slit of "{piece.name}" has its middle {subject.length(off_mm)} off the fold round '
                    f'"{fold.around}"{line_words(line)}: the tongue does not come through at the bar'
                )
                long = format_short(distance(cut[0], cut[1]), subject.show)
                yield (
                    cut[2],
                    what,
                    f"measure both again: half of the slit's {long} on each side of the fold",
                    piece.name,
                )


def _cuts(subject: Subject, piece: Piece) -> list[Cut]:
    specs = {spec.name: spec for spec in subject.spec.pieces}
    own = [item for name in (piece.name, piece.model) if name in specs for item in specs[name].slits]
    places = [item.start.place for item in own if item.start] or [piece.place]
    found = [(slit.start, slit.end, places[min(k, len(places) - 1)]) for k, slit in enumerate(piece.marks.slits)]
    found += [
        (add(hole.at, hole.slot), subtract(hole.at, hole.slot), hole.place)
        for hole in piece.marks.holes
        if hole.long_mm
    ]
    return found


def _off_mm(cut: Cut, fold: Fold) -> float:
    """How far the middle of a cut lies from the line of a fold."""
    middle = scale(add(cut[0], cut[1]), 0.5)
    return abs(cross(unit(subtract(fold.end, fold.start)), subtract(middle, fold.start)))


def _runs_along(cut: Cut, fold: Fold) -> bool:
    """Whether a cut runs more along a fold than across it."""
    return abs(cross(unit(subtract(fold.end, fold.start)), unit(subtract(cut[1], cut[0])))) < math.sqrt(0.5)


def _fold_place(subject: Subject, piece: Piece, number: int) -> Place:
    spec = subject.piece_spec(piece.name)
    return spec.folds[number].place if spec and number < len(spec.folds) else piece.place


@check(
    "slit-through-hole",
    "A slit begins at the rim of a hole or clear of it, and does not run across it.",
    "plain from the work",
)
def find_slits_across_holes(subject: Subject) -> Iterator[Found]:
    for piece in subject.build.pieces:
        for start, end, place in _cuts(subject, piece)[: len(piece.marks.slits)]:
            way, long_mm = unit(subtract(end, start)), distance(start, end)
            for hole in piece.marks.holes:
                to = subtract(hole.at, start)
                along_mm, off_mm = to.x * way.x + to.y * way.y, abs(cross(way, to))
                if off_mm < hole.diameter_mm / 2 and 0 < along_mm < long_mm:
                    what = f'a slit of "{piece.name}" runs across a hole of {subject.length(hole.diameter_mm)}'
                    yield place, what, "begin it at the rim of the hole, or measure both again", piece.name
                    break


@check("slits-meet", "No slit runs into another along its way.", "plain from the work")
def find_slits_that_meet(subject: Subject) -> Iterator[Found]:
    """Two slits of one line of which an end of either lies within the other: one end was measured from the other side."""
    for piece in subject.build.pieces:
        cuts = _cuts(subject, piece)[: len(piece.marks.slits)]
        for number, (start, end, place) in enumerate(cuts):
            along = unit(subtract(end, start))
            for other in cuts[:number]:
                is_in_line = all(abs(cross(along, subtract(at, start))) < AT_RIM_MM for at in other[:2])
                spans = sorted(
                    sorted(dot(subtract(at, start), along) for at in both) for both in (other[:2], (start, end))
                )
                if is_in_line and spans[1][0] < spans[0][1] + AT_RIM_MM:
                    what = f'two slits of "{piece.name}" lie on each other (line {other[2].line})'
                    yield place, what, "measure the ends of both again, also from which side", piece.name


@check(
    "slit-long-for-hole",
    "A slit that begins at the rim of a hole, for the head of a stud, is at most {slit_hole} as long as that is wide.",
    PRACTICE,
    needs_whole=True,
)
def find_long_slits(subject: Subject) -> Iterator[Found]:
    """Slits of which either end lies at the rim of a hole, or in it."""
    most = subject.build.limits.slit_hole
    for piece in subject.build.pieces:
        for start, end, place in _cuts(subject, piece)[: len(piece.marks.slits)]:
            long_mm = distance(start, end)
            for hole in piece.marks.holes:
                from_rim_mm = min(distance(hole.at, at) for at in (start, end)) - hole.diameter_mm / 2
                if from_rim_mm <= AT_RIM_MM and not hole.long_mm and long_mm > most * hole.diameter_mm + 1e-6:
                    what = (
                        f'a slit of "{piece.name}" begins at a hole of {subject.length(hole.diameter_mm)} (line '
                        f"{hole.place.line}) and is {subject.length(long_mm)} long"
                    )
                    yield place, what, "measure both ends of the slit again", piece.name
                    break


@check(
    "slit-without-hole",
    "Where one slit of a piece begins at a hole, for the head of a stud, all do.",
    "plain from the work",
    needs_whole=True,
)
def find_slits_without_hole(subject: Subject) -> Iterator[Found]:
    """Slits as long as each other, of which some have a hole at either end and some have none; once for a piece."""
    for piece in subject.build.pieces:
        cuts = _cuts(subject, piece)[: len(piece.marks.slits)]
        at_hole = [
            any(
                distance(hole.at, at) - hole.diameter_mm / 2 <= AT_RIM_MM
                for hole in piece.marks.holes
                for at in cut[:2]
            )
            for cut in cuts
        ]
        bare = [cut for cut, is_there in zip(cuts, at_hole, strict=True) if not is_there]
        others = [distance(*cut[:2]) for cut, is_there in zip(cuts, at_hole, strict=True) if is_there]
        if bare and any(abs(long_mm - distance(*bare[0][:2])) <= AT_RIM_MM for long_mm in others):
            what = f'a slit of "{piece.name}" has no hole at either end, and another of it begins at one'
            yield bare[0][2], what, "add the hole that the stud goes through, or measure both again", piece.name


@check(
    "stud-hole-wide",
    "A hole with a slit, for the head of a stud, is smaller than the head.",
    "plain from the work",
    needs_whole=True,
)
def find_wide_stud_holes(subject: Subject) -> Iterator[Found]:
    """Holes at either end of a slit, by the largest stud whose words say how large its head is; once for a hole."""
    heads = [float(mm) for item in subject.build.hardware for mm in STUD_MM_RE.findall(item.what)]
    for piece in subject.build.pieces if heads else ():
        ends = [at for slit in piece.marks.slits for at in (slit.start, slit.end)]
        for hole in piece.marks.holes if ends else ():
            at_rim = any(distance(hole.at, at) - hole.diameter_mm / 2 <= AT_RIM_MM for at in ends)
            if at_rim and not hole.takes and hole.diameter_mm >= max(heads):
                what = (
                    f'a hole of {subject.length(hole.diameter_mm)} in "{piece.name}" has a slit for a stud, and the head '
                    f"of that is {format_mm(max(heads))}"
                )
                yield hole.place, what, "take a punch as wide as the neck of the stud", piece.name


@check(
    "slit-off-hole",
    f"A slit for the head of a stud begins at its hole: none ends {format_mm(AT_RIM_MM)} to {format_mm(NEAR_HOLE_MM)} from "
    "a hole in line with it that takes nothing, and none at most {slit_hole} as long as the only such hole is wide.",
    "plain from the work; how near is our choice",
    needs_whole=True,
    gives_way=("stud-misses-flap", "slit-without-hole", "slit-through-hole"),
)
def find_slits_off_holes(subject: Subject) -> Iterator[Found]:
    """Slits of pieces in a build with a stud, of which neither end lies at a hole; one as short as for a head wherever its
    piece has one such hole. Once for a slit."""
    most = subject.build.limits.slit_hole
    for piece, cut in _stud_slits(subject):
        holes = [hole for hole in piece.marks.holes if not (hole.takes or hole.meets or hole.long_mm)]
        gaps = [(min(distance(hole.at, at) for at in cut[:2]) - hole.diameter_mm / 2, hole) for hole in holes]
        if not gaps or min(gap for gap, _ in gaps) <= AT_RIM_MM:
            continue
        gap_mm, hole = min(gaps, key=lambda found: found[0])
        off_mm = abs(cross(unit(subtract(cut[1], cut[0])), subtract(hole.at, cut[0])))
        is_alone = len(holes) == len(piece.marks.slits) == 1 and distance(*cut[:2]) <= most * hole.diameter_mm
        if off_mm <= AT_RIM_MM and (gap_mm <= NEAR_HOLE_MM or is_alone):
            what = (
                f'a slit of "{piece.name}" ends {subject.length(gap_mm)} short of the hole in line with it (line '
                f"{hole.place.line}): the head of the stud does not go through"
            )
            yield cut[2], what, "begin it at the rim of that hole: measure both again, also from which side", piece.name


@check(
    "slit-toward-edge",
    "The slit of a hole for a stud runs from it toward the fold, away from the edge that is pulled.",
    PRACTICE,
    needs_whole=True,
    gives_way=("stud-misses-flap",),
)
def find_slits_toward_edges(subject: Subject) -> Iterator[Found]:
    """Slits that begin at a hole and end farther from every fold of their piece than that, and nearer to its edge."""
    for piece, cut in _stud_slits(subject):
        for hole in piece.marks.holes if piece.own_folds else ():
            near, far = sorted(cut[:2], key=lambda at: distance(hole.at, at))
            if hole.takes or hole.long_mm or distance(hole.at, near) - hole.diameter_mm / 2 > AT_RIM_MM:
                continue
            gap = gap_finder(outline_path(piece.outline))
            folds = [(abs(fold.off_mm(hole.at)), abs(fold.off_mm(far))) for fold in piece.own_folds]
            if gap(far) < gap(hole.at) - AT_RIM_MM and all(end > own + AT_RIM_MM for own, end in folds):
                what = (
                    f'a slit of "{piece.name}" runs from its hole (line {hole.place.line}) toward the edge: the pull of '
                    "the flap opens it over the stud"
                )
                yield cut[2], what, "measure both its ends so that it runs toward the fold", piece.name


def _stud_slits(subject: Subject) -> Iterator[tuple[Piece, Cut]]:
    """The slits of pieces in a build that has a stud."""
    if any(re.search(STUD_RE, item.what) for item in subject.build.hardware):
        for piece in subject.build.pieces:
            yield from ((piece, cut) for cut in _cuts(subject, piece)[: len(piece.marks.slits)])
