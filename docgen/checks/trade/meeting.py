"""Holes of one fitting in two layers that lie on each other: through a fold, a hem, a turned end, and where a piece
lands."""

from collections.abc import Iterator, Sequence

from docgen.assemble import laid_places, riveted_places
from docgen.checks.trade.check import Found, Subject
from docgen.geometry.measure import is_inside
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, dot, scale, subtract, transform_point, turn_left, undone, unit
from docgen.problems import lines_words
from docgen.resolve import Fold, Hole, Landing, Piece, Strap, StrapLanding
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM
from docgen.written.units.telling import format_short

Laid = tuple[Hole, tuple[Point, ...]]
"""A hole, and where it may come to lie on the other layer."""

ROUNDED_MM = 1e-6
SAME_MM = 0.3  # of two offsets that are one: our choice
EVEN_MM = 0.1  # what figures of a rule leave between places that are meant to be even
SHIFTED_MM = 60.0  # what lies farther off is meant for another place: our choice


def tell_folded(subject: Subject) -> Iterator[Found]:
    """Holes on both sides of a closed fold, a hem's or that of a turned end, that miss each other once it is turned."""
    for piece, fold, takes in _folds(subject):
        holes = [hole for hole in piece.marks.holes[_row_length(subject, piece) :] if not hole.long_mm]
        near = [(hole, (hole.at,)) for hole in holes if _side(hole, fold) > 0]
        far = [(hole, (fold.across(hole.at),)) for hole in holes if _side(hole, fold) < 0]
        is_tab = bool(fold.around) and not piece.is_strap
        for one, other, gap_mm in (*_misses(near, far, takes), *(_far_pair(near, far) if is_tab else ())):
            still, moved = sorted((one, other), key=lambda hole: (hole.place.line, hole is one))
            what = (
                f'two holes in "{piece.name}" take the same "{one.takes or other.takes or takes}", and lie '
                f"{subject.length(gap_mm)} apart when it is turned over at its fold"
            )
            line = f" and the fold (line {fold.place.line})" if fold.place.line and not piece.is_strap else ""
            if line and _are_even(piece, fold, still.at, moved.at):
                what += f", and as far from either end ({lines_words([still.place.line, moved.place.line])})"
                yield fold.place, what, "fold it in its middle, or measure both holes again", piece.name
                continue
            mend = _mend(subject, piece, moved, fold.across(still.at), f"{_line_words(still)}{line}")
            yield moved.place, what, mend, piece.name


def _are_even(piece: Piece, fold: Fold, one: Point, other: Point) -> bool:
    """Whether two holes lie on either side of the middle of a piece, across which its fold lies aside, evenly."""
    way = turn_left(unit(subtract(fold.end, fold.start)))
    middle_mm = dot(outline_box(piece.outline).centre, way)
    holes_mm = (dot(one, way) + dot(other, way)) / 2
    return abs(holes_mm - middle_mm) < EVEN_MM and abs(dot(fold.start, way) - middle_mm) > EVEN_MM


def tell_single(subject: Subject) -> Iterator[Found]:
    """Of a closed fold whose other holes for one fitting all meet, the one that finds none on the other side."""
    for piece, fold, takes in _folds(subject):
        if piece.is_strap or fold.of_hem or takes:
            continue
        holes = [hole for hole in piece.marks.holes if hole.takes and not hole.long_mm and not hole.through]
        sides = [[hole for hole in holes if _side(hole, fold) * way > 0] for way in (1, -1)]
        few, many = sorted(sides, key=len)
        if not few or len(many) != len(few) + 1 or len({hole.takes for hole in holes}) != 1:
            continue
        every = (*few, *(hole for hole in piece.marks.holes if hole.through))
        near = near_finder([fold.across(hole.at) for hole in every], HOLES_MEET_MM)
        alone = [hole for hole in many if not near(hole.at)]
        if len(alone) == 1:
            yield alone[0].place, *_tell_single(subject, piece, fold, alone[0], (len(many), len(few))), piece.name


def _tell_single(subject: Subject, piece: Piece, fold: Fold, hole: Hole, counts: tuple[int, int]) -> tuple[str, str]:
    what = (
        f'folded over, all holes for "{hole.takes}" in "{piece.name}" lie on each other but this one: {counts[0]} on one '
        f"side of the fold (line {fold.place.line}), {counts[1]} on the other"
    )
    to, box = fold.across(hole.at), outline_box(piece.outline)
    across, up = (format_short(mm, subject.show) for mm in (to.x - box.left, to.y - box.bottom))
    foot = "start" if piece.shape == "strip" else "bottom"
    return what, f"add the one that lies on it, {across} from left, {up} from {foot}, or take this one out"


def _folds(subject: Subject) -> Iterator[tuple[Piece, Fold, str]]:
    """Folds that lay one part of a piece or strap on the other, and what closes the turned end of a strap."""
    for piece in subject.build.pieces:
        yield from ((piece, fold, "") for fold in piece.marks.folds if not fold.is_open)
    for strap in subject.build.straps:
        turned = [end for end in strap.ends if end.shape == "turned"]
        yield from ((strap.piece, fold, end.takes) for fold, end in zip(strap.piece.marks.folds, turned, strict=True))


def _row_length(subject: Subject, piece: Piece) -> int:
    """How many holes of a strap are its row for a buckle: they come first."""
    return subject.parts.straps[piece.name].row_holes if piece.is_strap else 0


def _side(hole: Hole, fold: Fold) -> float:
    return cross(subtract(fold.end, fold.start), subtract(hole.at, fold.start))


def tell_landed(subject: Subject) -> Iterator[Found]:
    """Holes of a piece that lands that miss those beneath; one with a fold lies there with either half. Where all of them
    do, that is told at once."""
    drawn_in = [*tell_drawn_in(subject)]
    yield from drawn_in
    known = {name for *_, name in drawn_in}
    for base in subject.build.pieces:
        for landing in base.marks.landings:
            piece = subject.parts.pieces.get(landing.piece)
            if piece is None or piece.name in known:
                continue
            laid = [
                (hole, tuple(transform_point(at, landing.move) for at in laid_places(piece, hole.at)))
                for hole in piece.marks.holes
            ]
            beneath = [(hole, (hole.at,)) for hole in base.marks.holes]
            named = [
                each
                for each in beneath
                if piece.name in each[0].through and piece.cut == 1 and is_inside(landing.outline, each[0].at)
            ]
            for hole, under, gap_mm in (*_misses(laid, beneath), *_far_pair(laid, named)):
                what = (
                    f'a hole in "{piece.name}" and one in "{base.name}" take the same "{hole.takes or under.takes}", '
                    f"and lie {subject.length(gap_mm)} apart"
                )
                to = min(
                    laid_places(piece, transform_point(under.at, undone(landing.move))),
                    key=lambda at: distance(at, hole.at),
                )
                mend = f'{_mend(subject, piece, hole, to, _line_words(under))}, or look where it lands on "{base.name}"'
                yield hole.place, what, mend, piece.name


def tell_shifted(subject: Subject) -> Iterator[Found]:
    """Pieces that land so that all their holes miss those of the host that name them, each by as much and the same way."""
    for base in subject.build.pieces:
        spec = subject.piece_spec(base.name)
        for landing in base.marks.landings:
            piece = subject.parts.pieces.get(landing.piece)
            items = [item for item in spec.landings if item.piece and item.piece.value == landing.piece] if spec else []
            if piece is None or piece.cut > 1 or piece.marks.folds or len(items) != 1:
                continue
            laid = sorted(transform_point(hole.at, landing.move) for hole in piece.marks.holes if not hole.through)
            beneath = sorted(hole.at for hole in base.marks.holes if piece.name in hole.through)
            offs = [subtract(one, other) for one, other in zip(laid, beneath, strict=False)]
            if len(laid) != len(beneath) or len(offs) < 2:
                continue
            off_mm = distance(offs[0], Point(0.0, 0.0))
            if all(distance(off, offs[0]) <= HOLES_MEET_MM for off in offs) and OTHER_HOLE_MM < off_mm < SHIFTED_MM:
                what = f'all holes of "{piece.name}" lie {subject.length(off_mm)} beside those of "{base.name}"'
                yield (
                    items[0].place,
                    what,
                    f"measure again where it lands, {subject.length(off_mm)} from there",
                    piece.name,
                )


def tell_drawn_in(subject: Subject) -> Iterator[Found]:
    """Pieces folded in their middle that land so that all their holes miss those of the host by as much, square to the
    fold: they are cut too short or too long. Once for a piece."""
    told: set[str] = set()
    for base in subject.build.pieces:
        for landing in base.marks.landings:
            piece = subject.parts.pieces.get(landing.piece)
            folds = [fold for fold in piece.marks.folds if not fold.is_open and not fold.of_hem] if piece else []
            if piece is None or piece.name in told or len(folds) != 1 or not _is_in_middle(piece, folds[0]):
                continue
            off_mm = _drawn_in_mm(piece, base, landing, folds[0])
            if HOLES_MEET_MM < abs(off_mm) < SHIFTED_MM:
                told.add(piece.name)
                shift = subject.length(abs(off_mm))
                what = (
                    f'all holes of "{piece.name}", folded, lie {shift} from those of "{base.name}" on which it lands, '
                )
                by, longer = subject.length(2 * abs(off_mm)), "longer" if off_mm > 0 else "shorter"
                mend = f'make it {by} {longer}, or measure again where it lands, or the holes of "{base.name}"'
                is_across = abs(folds[0].start.x - folds[0].end.x) < EVEN_MM
                place = subject.size_place(piece, is_across=is_across)
                yield place, f"{what}all the same way", mend, piece.name


def _is_in_middle(piece: Piece, fold: Fold) -> bool:
    return abs(fold.off_mm(outline_box(piece.outline).centre)) < EVEN_MM


def _drawn_in_mm(piece: Piece, base: Piece, landing: Landing, fold: Fold) -> float:
    """How much farther from its fold than its own the holes lie beneath a folded piece, where all do by as much and it has
    two or more; else 0."""
    takes = {hole.takes for hole in piece.marks.holes} - {""}
    start, end = (transform_point(at, landing.move) for at in (fold.start, fold.end))
    away = turn_left(unit(subtract(end, start)))
    middle = path_box(landing.outline).centre
    away = away if dot(subtract(middle, start), away) > 0 else scale(away, -1.0)
    along = turn_left(away)
    spots: list[tuple[float, float]] = []
    for hole in piece.marks.holes:
        places = (transform_point(at, landing.move) for at in laid_places(piece, hole.at))
        for at in (at for at in places if is_inside(landing.outline, at)):
            spot = dot(subtract(at, start), away), dot(subtract(at, start), along)
            if all(abs(spot[0] - one[0]) + abs(spot[1] - one[1]) > SAME_MM for one in spots):
                spots.append(spot)
    beneath = [
        (dot(subtract(hole.at, start), away), dot(subtract(hole.at, start), along))
        for hole in base.marks.holes
        if hole.takes in takes
    ]
    near = [one for one in beneath if any(abs(one[1] - spot[1]) < SAME_MM for spot in spots) and one[0] > 0]
    if len(spots) < 2 or len(near) != len(spots):
        return 0.0
    offs = [far - own for (own, _), (far, _) in zip(sorted(spots), sorted(near), strict=True)]
    sides = [abs(far - own) for (_, own), (_, far) in zip(sorted(spots), sorted(near), strict=True)]
    return offs[0] if max(offs) - min(offs) < SAME_MM and max(sides) < SAME_MM else 0.0


def tell_riveted(subject: Subject) -> Iterator[Found]:
    """Holes in the end of a strap that lies fast on a piece that miss those beneath. Of a turned end it is not said which
    of its layers lies beneath."""
    for base in subject.build.pieces:
        for landing in base.strap_landings:
            strap = subject.parts.straps.get(landing.strap)
            if strap is None or strap.ends[landing.end].shape == "turned":
                continue
            laid = [(hole, riveted_places(strap, landing, hole.at)) for hole in strap.piece.marks.holes]
            beneath = [(hole, (hole.at,)) for hole in base.marks.holes if is_inside(landing.outline, hole.at)]
            missing = [*_misses(laid, beneath)]
            if (shift_mm := _shift_mm(strap, landing, missing)) and landing.place.line:
                what = (
                    f'the {len(missing)} holes at this end of the strap "{strap.name}" all lie '
                    f'{subject.length(shift_mm)} from those in "{base.name}", the same way'
                )
                yield landing.place, what, f'measure again where it lands, or the holes in "{base.name}"', base.name
                continue
            for hole, under, gap_mm in missing:
                what = (
                    f'a hole in the strap "{strap.name}" and one in "{base.name}" take the same '
                    f'"{hole.takes or under.takes}", and lie {subject.length(gap_mm)} apart'
                )
                along_mm = dot(subtract(under.at, landing.at), landing.way)
                off_mm = cross(landing.way, subtract(under.at, landing.at))
                up_mm = strap.cut_length_mm - along_mm if landing.end else along_mm
                spots = (Point(strap.width_mm / 2 + side_mm, up_mm) for side_mm in (off_mm, -off_mm))
                to = min(spots, key=lambda at: distance(at, hole.at))
                mend = _mend(subject, strap.piece, hole, to, _line_words(under))
                mend = f'{mend}, or look where it lands on "{base.name}"'
                yield hole.place, what, mend, strap.name


def _shift_mm(strap: Strap, landing: StrapLanding, missing: Sequence[tuple[Hole, Hole, float]]) -> float:
    """How far two holes or more of an end that lands miss those beneath, where all do so aside, by as much and the same
    way; else 0."""
    offs = [cross(landing.way, subtract(under.at, landing.at)) for _, under, _ in missing]
    own = [hole.at.x - strap.width_mm / 2 for hole, _, _ in missing]
    is_aside = all(abs(abs(off) - gap_mm) < SAME_MM for off, (_, _, gap_mm) in zip(offs, missing, strict=True))
    is_one = len(missing) > 1 and max(offs) - min(offs) < SAME_MM and all(abs(at) < SAME_MM for at in own)
    return abs(offs[0]) if is_one and is_aside else 0.0


def _misses(ones: Sequence[Laid], others: Sequence[Laid], takes: str = "") -> Iterator[tuple[Hole, Hole, float]]:
    """Pairs of holes for one fitting that miss each other, and by how much: of those that meet none."""
    places = [(at, number) for number, other in enumerate(others) for at in other[1]]
    find = near_finder([at for at, _ in places], OTHER_HOLE_MM + ROUNDED_MM)
    near = [sorted({places[found][1] for at in one[1] for found in find(at)}) for one in ones]
    met = [
        {number for number in numbers if _gap_mm(one, others[number]) <= HOLES_MEET_MM}
        for one, numbers in zip(ones, near, strict=True)
    ]
    taken = set().union(*met)
    for one, numbers, own in zip(ones, near, met, strict=True):
        gaps = [
            (_gap_mm(one, others[number]), others[number][0])
            for number in numbers
            if not own and number not in taken and _take_one(one[0], others[number][0], takes)
        ]
        gap_mm, other_hole = min(gaps, key=lambda found: found[0], default=(OTHER_HOLE_MM + 1, one[0]))
        if gap_mm <= OTHER_HOLE_MM:
            yield one[0], other_hole, gap_mm


def _far_pair(ones: Sequence[Laid], others: Sequence[Laid]) -> Iterator[tuple[Hole, Hole, float]]:
    """The only hole of either layer that meets none, where they take one fitting and lie so far apart that they seem to be
    two."""
    ones, others = _unmet(ones, others), _unmet(others, ones)
    if len(ones) != 1 or len(others) != 1 or not _take_one(ones[0][0], others[0][0], ""):
        return
    gap_mm = _gap_mm(ones[0], others[0])
    is_set_apart = bool(ones[0][0].through and others[0][0].through)
    if gap_mm > OTHER_HOLE_MM and not is_set_apart:
        yield ones[0][0], others[0][0], gap_mm


def _unmet(ones: Sequence[Laid], others: Sequence[Laid]) -> list[Laid]:
    """Those of some holes that meet none of others."""
    find = near_finder([at for other in others for at in other[1]], HOLES_MEET_MM + ROUNDED_MM)
    return [one for one in ones if not any(find(at) for at in one[1])]


def _gap_mm(one: Laid, other: Laid) -> float:
    """How far two holes miss each other, without what reckoning adds."""
    return round(min(distance(at, to) for at in one[1] for to in other[1]), 6)


def _take_one(one: Hole, other: Hole, takes: str) -> bool:
    """Whether two holes take one fitting; a hole that takes nothing is there for what comes through from the other."""
    return len({one.takes, other.takes, takes} - {""}) == 1


def _line_words(hole: Hole) -> str:
    return f"the other (line {hole.place.line})"


def _mend(subject: Subject, piece: Piece, hole: Hole, to: Point, others: str) -> str:
    """Where to put a hole, or what else to look at; of a row, and where that is off the piece, how to measure again."""
    is_row = sum(other.place == hole.place for other in piece.marks.holes) > 1
    if is_row or not is_inside(outline_path(piece.outline), to):
        return "measure both again from one edge"
    box = outline_box(piece.outline)
    foot = "start" if piece.shape == "strip" else "bottom"
    across, up = (format_short(mm, subject.show) for mm in (to.x - box.left, to.y - box.bottom))
    return f'put the one in "{piece.name}" at "{across} from left, {up} from {foot}", or measure {others} again'
