"""Checks of straps: width against fittings, turned ends, tip."""

from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.resolve import Strap, StrapEnd, by_name
from docgen.tables import sewing
from docgen.tables.hardware import HOLE_BY_KIND_MM
from docgen.written.units.telling import Show, format_mm, format_number, format_short

END_NAMES = (("first", "start"), ("second", "end"))
"""How each end is called, and its edge in a position."""


@check(
    "strap-wider-than-fitting",
    "A strap is no wider than the fitting it goes round.",
    "plain from the goods",
    stops=True,
)
def find_wide_straps(subject: Subject) -> Iterator[Found]:
    hardware = by_name(subject.build.hardware)
    for strap in subject.build.straps:
        for end in strap.ends:
            ring = hardware.get(end.around)
            if ring is not None and 0 < ring.inside_mm < strap.width_mm:
                what = (
                    f'the strap "{strap.name}" is {subject.length(strap.width_mm)} wide, and {ring.what} '
                    f"takes only {subject.length(ring.inside_mm)}"
                )
                yield strap.piece.place, what, "cut the strap narrower, or use a wider fitting", strap.name


@check(
    "strap-loose-in-fitting",
    "A strap, or a piece folded round it, is at most {strap_play} narrower than its ring or buckle.",
    "makers' pages differ, from none to 2 mm; common practice, no published source",
)
def find_loose_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap or piece, with the widest fitting that it turns round, where that is not too narrow for it."""
    hardware = by_name(subject.build.hardware)
    most_mm = subject.build.limits.strap_play_mm
    widths = {spec.name: spec.width for spec in subject.spec.straps}
    insides = {spec.name: spec.inside for spec in subject.spec.hardware}
    for name, title, width_mm, rings in _folded_round(subject):
        widest = max(
            (hardware[ring] for ring in rings if ring in hardware), key=lambda ring: ring.inside_mm, default=None
        )
        if widest is not None and width_mm < widest.inside_mm - most_mm - 1e-6:
            width, inside = widths.get(name), insides.get(widest.name)
            place = width.place if width else subject.parts.pieces[name].place
            line = f" (line {inside.place.line})" if inside else ""
            what = (
                f"{title} is {subject.length(width_mm)} wide, and {widest.what} takes {subject.length(widest.inside_mm)}"
                f"{line}: it slides and turns there"
            )
            yield place, what, "look at both figures: a wider strap, or a narrower fitting", name


def _folded_round(subject: Subject) -> Iterator[tuple[str, str, float, list[str]]]:
    """Straps and pieces with what they are folded round: name, what they are called, width across the fold, hardware."""
    for strap in subject.build.straps:
        rings = [end.around for end in strap.ends if end.around]
        yield strap.name, f'the strap "{strap.name}"', strap.width_mm, rings
    for piece in subject.build.pieces:
        for fold in piece.marks.folds:
            if fold.around:
                yield piece.name, f'"{piece.name}"', distance(fold.start, fold.end), [fold.around]


@check(
    "strap-narrow-for-hole",
    f"A strap has {format_number(2 * sewing.HOLE_EDGE_DIAMETERS, 2)} times the width of the holes that close its ends.",
    PRACTICE,
)
def find_riveted_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap: narrower than the hole of what closes its end, and the leather beside it."""
    hardware = by_name(subject.build.hardware)
    for strap in subject.build.straps:
        items = [hardware[end.takes] for end in strap.ends if end.takes in hardware]
        hole_mm = max((item.hole_mm or HOLE_BY_KIND_MM.get(item.kind, (0.0, 0.0))[0] for item in items), default=0.0)
        least_mm = 2 * sewing.HOLE_EDGE_DIAMETERS * hole_mm
        if strap.width_mm < least_mm - 1e-6:
            what = (
                f'the strap "{strap.name}" is {subject.length(strap.width_mm)} wide, and its ends are '
                f"closed through holes of {subject.length(hole_mm)}"
            )
            mend = f"cut it {subject.length(least_mm)} wide or wider"
            yield strap.piece.place, what, mend, strap.name


@check(
    "strap-holes-close", f"{format_mm(sewing.HOLES_BETWEEN_MM)} of leather stay between the holes of a strap.", PRACTICE
)
def find_close_holes(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        gaps = [far - near - strap.punch_mm for near, far in pairwise(strap.hole_tips_mm)]
        if gaps and min(gaps) < sewing.HOLES_BETWEEN_MM - 1e-6:
            left = subject.length(min(gaps))
            what = f'{left} of leather stay between the holes of the strap "{strap.name}"'
            mend = f"leave {subject.length(sewing.HOLES_BETWEEN_MM)} or more: a longer pitch, or a smaller punch"
            yield strap.piece.marks.holes[0].place, what, mend, strap.name


@check("strap-turn-back", "A turned end lies back at least the width of its strap.", PRACTICE)
def find_short_turns(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for end in strap.ends:
            if end.shape == "turned" and end.back_mm < strap.width_mm:
                what = f'the strap "{strap.name}" turns back only {subject.length(end.back_mm)}, less than its width'
                mend = "turn back at least the width of the strap, so that stitches or rivets find room"
                yield strap.piece.place, what, mend, strap.name


@check(
    "strap-tip-short",
    f"A strap goes on after its last hole for {format_number(sewing.LEAST_TIP_WIDTHS, 2)} times its width.",
    PRACTICE,
)
def find_short_tips(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        least_mm = sewing.LEAST_TIP_WIDTHS * strap.width_mm
        if strap.hole_tips_mm and strap.hole_tips_mm[0] < least_mm - 1e-6:
            left_mm = strap.hole_tips_mm[0]
            what = f'the strap "{strap.name}" ends {subject.length(left_mm)} after its last hole'
            mend = f"leave {subject.length(least_mm)} or more, so that the tip stays in its keeper"
            yield strap.piece.marks.holes[0].place, what, mend, strap.name


@check("strap-bar-unknown", "The bar that a strap turns round has a thickness.", "plane geometry")
def find_bars_unknown(subject: Subject) -> Iterator[Found]:
    """Turned ends round hardware whose bar the spec does not give: it goes into the cut length."""
    hardware = by_name(subject.build.hardware)
    for strap in subject.build.straps:
        for end in strap.ends:
            ring = hardware.get(end.around)
            if ring is not None and not ring.bar_mm:
                what = (
                    f'the strap "{strap.name}" turns round the {ring.what}, and the thickness of its bar is not given: '
                    "the strap is cut too short by half the way round it"
                )
                yield (
                    end.place,
                    what,
                    f'measure the bar and add it to [hardware.{ring.name}]: bar = "4 mm"',
                    strap.name,
                )


@check("strap-end-unpunched", "Hardware that closes a turned end has its holes there.", "counted", needs_whole=True)
def find_unpunched_ends(subject: Subject) -> Iterator[Found]:
    """Turned ends that hardware closes, with fewer holes on what lies back than it takes."""
    for strap in subject.build.straps:
        for which, end in enumerate(strap.ends):
            spots = _closing_spots(strap, which)
            if end.takes and len(spots) < end.number:
                count = f"only {len(spots)}" if spots else "none"
                what = (
                    f'the {END_NAMES[which][0]} end of the strap "{strap.name}" takes {end.number} of "{end.takes}", '
                    f"and {count} of the holes for it can be found in punches"
                )
                mend = f"add to punches a hole at {_spot_words(end, which, spots, subject.show)}, or where you want it"
                yield end.place, what, mend, strap.name


def _from_end_mm(strap: Strap, which: int, at: Point) -> float:
    """Distance of a point from the cut end, first (0) or second (1), along the strap."""
    return strap.cut_length_mm - at.y if which else at.y


def _closing_spots(strap: Strap, which: int) -> list[Point]:
    """Round holes on the part of a turned end that lies back, across and from the cut end; those that meet through
    both layers once. Oblong holes and the row for the buckle close nothing."""
    end = strap.ends[which]
    spots: list[Point] = []
    for hole in strap.piece.marks.holes[len(strap.hole_tips_mm) :]:
        away_mm = _from_end_mm(strap, which, hole.at)
        spot = Point(hole.at.x, min(away_mm, 2 * end.fold_mm - away_mm))
        is_there = hole.slot == Point(0.0, 0.0) and 0 < spot.y <= end.back_mm
        if is_there and all(distance(spot, other) > sewing.HOLES_MEET_MM for other in spots):
            spots.append(spot)
    return spots


def _spot_words(end: StrapEnd, which: int, spots: list[Point], show: Show) -> str:
    """Where holes that are missing would lie: all of them evenly along what lies back, without those that are nearest
    to holes there are."""
    places_mm = [end.back_mm * (index + 0.5) / end.number for index in range(end.number)]
    for spot in spots:
        places_mm.remove(min(places_mm, key=lambda place_mm: abs(place_mm - spot.y)))
    names = [f'"centre, {format_short(place_mm, show)} from {END_NAMES[which][1]}"' for place_mm in places_mm]
    return " and ".join(names)


@check(
    "strap-slot-off-fold",
    f"The slot for a buckle's tongue has its middle at the fold, within {format_mm(sewing.SLOT_OFF_FOLD_MM)}.",
    "our choice",
    needs_whole=True,
)
def find_slots_off_fold(subject: Subject) -> Iterator[Found]:
    """Oblong holes for the tongue of a buckle that miss the fold; for each buckle the one that lies nearest."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    for strap in subject.build.straps:
        slots = [hole for hole in strap.piece.marks.holes if hole.slot != Point(0.0, 0.0)]
        is_only = sum(end.shape == "turned" for end in strap.ends) == 1
        for which, end in enumerate(strap.ends):
            if end.around not in buckles or not slots:
                continue
            off_mm, slot = min(
                ((abs(_from_end_mm(strap, which, hole.at) - end.fold_mm), hole) for hole in slots),
                key=lambda found: found[0],
            )
            if off_mm > sewing.SLOT_OFF_FOLD_MM:
                name, edge = END_NAMES[which]
                what = (
                    f'the oblong hole of the strap "{strap.name}" lies {subject.length(off_mm)} off the '
                    f"fold, which is {subject.length(end.fold_mm)} from {edge}: the tongue of the buckle "
                    "does not come through at the bar"
                )
                fold = "at the fold" if is_only else f"at the {name} fold"
                yield slot.place, what, f'write at = "centre, {fold}"', strap.name
