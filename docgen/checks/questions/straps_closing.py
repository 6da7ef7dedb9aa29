"""Straps that are held on a flap: a fold under the end that lies fast, and a buckle that the strap does not come to, or
that lies under the flap it closes."""

from collections.abc import Iterator
from typing import Final

from docgen.assemble import Copy, Placed
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.closing import Closing, closed_halves, closed_studs, halves_mend, most_apart_mm
from docgen.checks.trade.reach import bars_on
from docgen.geometry.measure import is_inside, to_edge
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, dot, scale, subtract, transform_point, undone
from docgen.resolve import Fold, Piece, Strap, StrapLanding, closing_spots, from_end_mm

LEAST_MM: Final = 5.0  # so far a fold lies within what is held before it is asked about: our choice
SAME_MM: Final = 1.0
OFF_MM: Final = 8.0  # so far a buckle may lie beyond the last hole: what is thick between takes that up; our choice
NEAR_MM: Final = 6.0  # so far halves of a snap lie apart before it is asked about: our choice
STUD_MM: Final = 8.0  # so far a stud and its hole do, of which the slit takes up some: our choice
INSIDE_MM: Final = 3.0  # from its edge, where what lies on a cover is counted: our choice
GIVES_MM: Final = 2.0  # so much too short a strap still closes: our choice
DEEP: Final = 4  # pieces that land on each other
MOST: Final = 200  # of more nothing is asked: a stranger's file


@question
def ask_held_ends(subject: Subject) -> Iterator[Question]:
    """Ends of straps that are held on a piece which bends."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    for base in subject.build.pieces:
        if base.marks.folds and 0 < len(base.strap_landings) * len(base.marks.folds) <= MOST:
            yield from _ask_folds(subject, base)
            if base.cut == len(base.strap_landings) == 1:
                yield from _ask_snap(subject, base)
            if buckles and len(subject.build.pieces) <= MOST and base.cut == 1 and base.bends_over:
                yield from _ask_buckles(subject, base, buckles)


@question
def ask_near_halves(subject: Subject) -> Iterator[Question]:
    """Halves of a snap on a flap and beneath it that miss each other by less than what a check tells; not where a flap
    goes over the depth of a bag in one bend, of which that is an estimate."""
    room = subject.build.assembly.room
    for one in closed_halves(subject):
        is_over_depth = room and room.kind == "box" and len(one.piece.own_folds) == 1
        if not is_over_depth and NEAR_MM < one.apart_mm <= most_apart_mm(subject, one):
            away = subject.length(one.apart_mm)
            what = f'folded over, "{one.piece.name}" has its half of the snap {away} from the one in '
            what += f'"{one.other.name}" (line {one.hole.place.line})'
            yield Question(place=one.twin.place, what=what, answer=_pull_tight(subject, one))


@question
def ask_near_studs(subject: Subject) -> Iterator[Question]:
    """Holes of a flap that miss their stud by less than what a check tells, where two folds say what depth it goes over."""
    for one, kind in closed_studs(subject):
        folds = one.piece.own_folds
        is_deep = len(folds) == 2 and all(fold.angle_deg == 90 for fold in folds)
        if is_deep and STUD_MM < one.apart_mm <= most_apart_mm(subject, one):
            away = subject.length(one.apart_mm)
            what = f'folded over, the hole of "{one.piece.name}" lies {away} from the {kind} in "{one.other.name}" '
            what += f"(line {one.twin.place.line})"
            yield Question(place=one.hole.place, what=what, answer=_pull_tight(subject, one))


def _pull_tight(subject: Subject, one: Closing) -> str:
    return f"{halves_mend(subject, one.piece)}; where it is to pull tight there is nothing to do"


@question
def ask_unset(subject: Subject) -> Iterator[Question]:
    """Turned ends with a hole in what lies back that take nothing, where the other end of the strap takes hardware."""
    for strap in subject.parts.straps.values():
        for which, (end, other) in enumerate((strap.ends, strap.ends[::-1])):
            is_unset = end.shape == other.shape == "turned" and not (end.takes or end.sewn) and other.takes
            if is_unset and closing_spots(strap, which):
                what = (
                    f'this end of "{strap.name}" has a hole in what lies back, and takes nothing, as the other takes '
                )
                what += f'"{other.takes}"'
                answer = f'write takes = "{other.takes}"; where it is sewn there is nothing to do'
                yield Question(place=end.place, what=what, answer=answer)


def _ask_snap(subject: Subject, base: Piece) -> Iterator[Question]:
    """A strap with half of a snap that leads off one edge of a cover, and round to the other half on its far side: how far
    along itself that lies once the cover is closed: over the edges of both halves, with the thickest thing that it holds
    between them, to all of these, or to as much as its spine has room for."""
    landing, folds = base.strap_landings[0], base.own_folds
    strap, way = subject.parts.straps.get(landing.strap), landing.way
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"}
    halves = [hole for hole in strap.piece.marks.holes if hole.takes in snaps] if strap else []
    twins = [hole for hole in base.marks.holes if hole.takes in snaps]
    along = [dot(subtract(fold.start, landing.at), way) for fold in folds]
    is_across = all(fold.is_open and abs(dot(subtract(fold.end, fold.start), way)) < SAME_MM for fold in folds)
    if strap is None or len(halves) != 1 or len(twins) != 1 or not is_across or max(along) >= 0:
        return
    off_mm = dot(subtract(twins[0].at, landing.at), way)
    if off_mm > max(along):
        what = f'"{landing.strap}" leads off "{base.name}" (line {landing.place.line}), and its other half lies '
        answer = "look from which side it is measured; where it closes otherwise there is nothing to do"
        yield Question(place=twins[0].place, what=f"{what}on the same side of the fold", answer=answer)
    if off_mm >= min(along):
        return  # it does not lie beyond the folds, as seen from the strap
    held = add(landing.at, scale(way, landing.over_mm))
    outline = outline_path(base.sewn_outline)
    there_mm = to_edge(outline, held, way) + to_edge(outline, twins[0].at, scale(way, -1.0))
    spine_mm = max(along) - min(along)
    own_mm = from_end_mm(strap, landing.end, halves[0].at) - landing.over_mm
    stack_mm = _closed_mm(subject, base, landing, twins[0].at)
    held_mm = [min(held.size_mm) for held in subject.build.holds]
    least_mm = there_mm + stack_mm + max(held_mm, default=0.0)
    most_mm = there_mm + max(spine_mm, stack_mm + sum(held_mm))
    if own_mm < least_mm - GIVES_MM or own_mm - most_mm > subject.build.limits.snaps_meet_mm:
        own, least, most = map(subject.length, (own_mm, least_mm, most_mm))
        room = least if least == most else f"{least} to {most}"
        what = f'"{landing.strap}" has its half of the snap {own} from where it leaves "{base.name}" '
        what += f"(line {landing.place.line}), and round to the other half it is {room}"
        what += f": {subject.length(least_mm - there_mm)} of it over its edges, closed on what it holds"
        answer = "measure strap, landing and snap again; where it closes otherwise there is nothing to do"
        yield Question(place=halves[0].place, what=what, answer=answer)


def _closed_mm(subject: Subject, base: Piece, landing: StrapLanding, twin: Point) -> float:
    """Thickness over which a strap goes from one edge of a cover to the other across: what lies at either, one upon the
    other once it is closed."""
    outline = outline_path(base.sewn_outline)
    spots = [
        add(at, scale(way, to_edge(outline, at, way) - INSIDE_MM))
        for at, way in ((landing.at, landing.way), (twin, scale(landing.way, -1.0)))
    ]
    edged = [{side.part for side in seam.sides if side.edges} for seam in subject.build.seams]
    names = {base.name}.union(*(parts for parts in edged if base.name in parts))
    layers = [piece for piece in subject.build.pieces if piece.name in names and piece.model == base.model]
    return sum(_thick_mm(subject, one, at, DEEP) for one in layers for at in spots)


def _thick_mm(subject: Subject, piece: Piece, at: Point, deep: int) -> float:
    """A piece at one point, and what lands on it there, with what lands on that; so `deep` and no deeper."""
    material = subject.material(piece)
    found_mm = material.thickness_mm if material else 0.0
    for landing in piece.marks.landings if deep else ():
        laid = subject.parts.pieces.get(landing.piece)
        if laid is not None and is_inside(landing.outline, at):
            found_mm += _thick_mm(subject, laid, transform_point(at, undone(landing.move)), deep - 1)
    return found_mm


def _ask_folds(subject: Subject, base: Piece) -> Iterator[Question]:
    """Folds that part the end of a strap where it lies fast; of one fold and strap once."""
    asked = set()
    for landing in base.strap_landings:
        for fold in (fold for fold in base.marks.folds if landing.strap in subject.parts.straps):
            least_mm = min(_reach(landing, fold))
            if least_mm > LEAST_MM and (fold, landing.strap) not in asked:
                asked.add((fold, landing.strap))
                what = (
                    f'a fold of "{base.name}" runs beneath the end of "{landing.strap}" (line {landing.place.line}), '
                )
                what += f"{subject.length(least_mm)} within what lies fast there"
                answer = "measure both again; where the end is to bend with it there is nothing to do"
                yield Question(place=fold.place, what=what, answer=answer)


def _reach(landing: StrapLanding, fold: Fold) -> tuple[float, float]:
    """How far what is held reaches to either side of a fold."""
    off = [fold.off_mm(at) for at in flatten(landing.outline)]
    return max(0.0, max(off)), max(0.0, -min(off))


def _ask_buckles(subject: Subject, base: Piece, buckles: set[str]) -> Iterator[Question]:
    """Straps with holes that lead on from a flap, against the buckle in line with them once it is closed."""
    flap = subject.build.space.part(Copy(base.name))
    first = {landing.strap: landing for landing in reversed(base.strap_landings) if not landing.end}
    for landing in first.values() if flap is not None else ():
        strap = subject.parts.straps.get(landing.strap)
        if strap is None or not _reach_mm(strap) or flap is None:
            continue
        found = [*_bars_mm(subject, flap, landing, strap, buckles)]
        if not found:
            continue
        away_mm = min(found, key=lambda mm: abs(mm - _reach_mm(strap)[1]))
        edge_mm = to_edge(outline_path(base.sewn_outline), landing.at, landing.way)
        away, edge, least, most = map(subject.length, (away_mm, edge_mm, min(_reach_mm(strap)), max(_reach_mm(strap))))
        what = f'closed, the buckle of "{landing.strap}" lies {away} from where the strap begins on "{base.name}"'
        if away_mm < edge_mm - SAME_MM:
            what += f", beneath the flap, whose edge lies {edge} from there"
        elif min(_reach_mm(strap)) - OFF_MM <= away_mm <= max(_reach_mm(strap)) + OFF_MM:
            continue
        else:
            what += f", and its holes {least} to {most}"
        answer = "measure flap, strap and buckle again; where it is meant so there is nothing to do"
        yield Question(place=landing.place, what=what, answer=answer)


def _reach_mm(strap: Strap) -> tuple[float, ...]:
    """From its first end to its nearest, middle and farthest hole, of a strap that is worn so, or made up to a length."""
    if strap.worn_mm or not strap.hole_tips_mm:
        return strap.worn_mm
    near, far = strap.finished_mm - max(strap.hole_tips_mm), strap.finished_mm - min(strap.hole_tips_mm)
    return (near, (near + far) / 2, far)


def _bars_mm(subject: Subject, flap: Placed, landing: StrapLanding, strap: Strap, buckles: set[str]) -> Iterator[float]:
    """How far along the closed strap the bars of buckles lie that are in line with it, on panels that stay."""
    way = landing.way
    begin = add(landing.at, scale(way, _reach_mm(strap)[1]))
    hole, on = (flap.surface.point(add(begin, scale(way, mm))) for mm in (0.0, 1.0))
    along = [b - a for a, b in zip(hole, on, strict=True)]
    for panel in subject.build.pieces:
        placed = (
            subject.build.space.part(Copy(panel.name))
            if panel.cut == 1 and (panel.marks.landings or panel.strap_landings)
            else None
        )
        if placed is None or panel.name == flap.copy.part or placed.is_free:
            continue
        for _, at in bars_on(subject, panel, buckles):
            off = [b - a for a, b in zip(hole, placed.surface.point(at), strict=True)]
            normal = placed.surface.normal(placed.surface.band_of(at))
            on_mm = sum(a * b for a, b in zip(off, along, strict=True))
            up_mm = sum(a * b for a, b in zip(off, normal, strict=True))
            beside = max(0.0, sum(a * a for a in off) - on_mm**2 - up_mm**2) ** 0.5
            if beside <= strap.width_mm / 2:
                yield _reach_mm(strap)[1] + on_mm
