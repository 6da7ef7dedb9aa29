"""Check of the holes that close the turned ends of straps: as many as are set there, on what lies back."""

import math
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.straps import END_NAMES
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.resolve import Hole, Strap, StrapEnd, closing_spots, from_end_mm
from docgen.tables.sewing import CLOSED_WITHIN_MM, OTHER_HOLE_MM
from docgen.written.units.telling import Show, format_mm, format_short


@check(
    "strap-end-unpunched",
    "Hardware that closes a turned end has its holes there, and no more.",
    "counted",
    needs_whole=True,
    gives_way=("strap-turn-back",),
)
def find_unpunched_ends(subject: Subject) -> Iterator[Found]:
    """Turned ends that hardware closes, with fewer or more holes on what lies back than it takes."""
    for strap in subject.build.straps:
        for which, end in enumerate(strap.ends):
            spots = closing_spots(strap, which)
            if end.takes and len(spots) < end.number:
                count = f"only {len(spots)}" if spots else "none"
                what = (
                    f'the {END_NAMES[which][0]} end of the strap "{strap.name}" takes {end.number} of "{end.takes}", '
                    f"and {count} of the holes for it can be found in punches"
                )
                there = _spot_words(end, which, spots, subject.show)
                stray = _find_stray(strap, which)
                if spots and stray is None and _is_counted(subject, end, end.number - len(spots)):
                    mend = (
                        f"write number = {len(spots)}, as many as there are and are counted, or add a hole at {there}"
                    )
                    yield end.place, what, mend, strap.name
                    continue
                beyond = None if stray else _find_beyond(strap, which)
                if beyond is not None:
                    off = subject.length(from_end_mm(strap, 1 - which, beyond.at))
                    names = (END_NAMES[1 - which][1], END_NAMES[which][1])
                    what += f"; this one lies {off} from its {names[0]}, where nothing takes it"
                    yield beyond.place, what, f"measure it from {names[1]}, or put it at {there}", strap.name
                    continue
                if stray is None:
                    yield end.place, what, f"add to punches a hole at {there}, or where you want it", strap.name
                    continue
                off = subject.length(from_end_mm(strap, which, stray.at))
                what += (
                    f"; this one lies {off} from its {END_NAMES[which][1]}, and {subject.length(end.back_mm)} lie back "
                    f"(line {end.place.line})"
                )
                twin = strap.ends[1 - which]
                is_alike = (twin.rings, twin.takes) == (end.rings, end.takes)
                if is_alike and from_end_mm(strap, which, stray.at) < twin.back_mm:
                    what += f", of its other end {subject.length(twin.back_mm)} (line {twin.place.line})"
                    back = format_short(twin.back_mm, subject.show)
                    mend = f'write back = "{back}", as of its other end, or put it at {there}'
                    yield end.place, what, mend, strap.name
                    continue
                yield stray.place, what, f"put it at {there}, or let more lie back", strap.name
            elif end.takes and len(spots) == end.number > count_closing(strap, which):
                far = [hole for hole in _closing(strap, which) if from_end_mm(strap, which, hole.at) > end.back_mm]
                for hole in far[:1]:
                    off = subject.length(from_end_mm(strap, which, hole.at))
                    what = (
                        f'the {END_NAMES[which][0]} end of the strap "{strap.name}" takes {end.number} of "{end.takes}", '
                        f"and this hole for it lies {off} from its {END_NAMES[which][1]}, of which "
                        f"{subject.length(end.back_mm)} lie back (line {end.place.line}): through the other layer it "
                        "nearly meets another"
                    )
                    yield hole.place, what, "let more lie back, or measure the hole again", strap.name
            elif end.takes and count_closing(strap, which) > end.number:
                what = (
                    f'the {END_NAMES[which][0]} end of the strap "{strap.name}" takes {end.number} of "{end.takes}", '
                    f"and {len(spots)} holes for it are punched there"
                )
                yield (
                    end.place,
                    what,
                    f"write number = {len(spots)}, or leave out the hole that is too many",
                    strap.name,
                )


@check(
    "strap-end-snapped",
    "A snap that closes the turned end of a strap is named at that end: its halves are set each in its own layer.",
    "plain from the work",
    stops=True,
    needs_whole=True,
)
def find_snapped_ends(subject: Subject) -> Iterator[Found]:
    """Ends round hardware that nothing closes, with a hole for a snap in what lies back: set through both layers, as holes
    that meet through a fold are, it would shut them for good."""
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"}
    for strap in subject.build.straps if snaps else ():
        for which, end in enumerate(strap.ends):
            is_bare = end.shape == "turned" and bool(end.around) and not (end.takes or end.sewn)
            for hole in [hole for hole in _lying_back(strap, which) if hole.takes in snaps][: int(is_bare)]:
                own = f'{END_NAMES[which][0]} end of the strap "{strap.name}"'
                what = (
                    f'a hole for "{hole.takes}" (line {hole.place.line}) lies in the {own}, which is turned back, and '
                    "nothing says that this closes it"
                )
                mend = f'write takes = "{hole.takes}" for it, so that it opens'
                yield end.place, what, f"{mend}; or sewn = a stitch, where the snap closes on another part", strap.name


@check(
    "strap-end-open",
    f"What closes the turned end of a strap goes through it {format_mm(CLOSED_WITHIN_MM)} or less from what the end goes "
    "round.",
    "common practice, no published source: 10 to 40 mm; the figure is our choice",
    needs_whole=True,
)
def find_open_ends(subject: Subject) -> Iterator[Found]:
    """Ends round hardware that rivets or screws alone close, with no loop that stands open: from the fold to the hole that
    is nearest to it. A ring may hang in a loop for the hand."""
    rings = {item.name for item in subject.build.hardware if item.kind == "ring"}
    for strap in subject.build.straps:
        for which, end in enumerate(strap.ends):
            is_plain = bool(end.takes) and end.around not in {"", *rings} and not (end.sewn or end.loop_mm)
            spots = closing_spots(strap, which) if is_plain else []
            open_mm = end.fold_mm - end.apart_mm - max((spot.y for spot in spots), default=math.inf)
            if open_mm > CLOSED_WITHIN_MM + 1e-6:
                what = (
                    f'{subject.length(end.back_mm)} of the {END_NAMES[which][0]} end of the strap "{strap.name}" lie back '
                    f'round "{end.around}", and "{end.takes}" nearest to that holds it {subject.length(open_mm)} away: it '
                    "hangs open between them"
                )
                mend = f"let less lie back, or punch nearer to the fold, {subject.length(end.fold_mm)} from the cut end"
                yield end.place, what, mend, strap.name


def _lying_back(strap: Strap, which: int) -> Iterator[Hole]:
    holes = strap.piece.marks.holes[strap.row_holes :]
    yield from (hole for hole in holes if from_end_mm(strap, which, hole.at) <= strap.ends[which].back_mm)


def _is_counted(subject: Subject, end: StrapEnd, less: int) -> bool:
    """Whether so many less at this end make the count of what closes it right."""
    places = sum(one.items for one in subject.build.assembly.fastened if one.hardware == end.takes)
    return any(item.name == end.takes and item.count == places - less for item in subject.build.hardware)


def _find_stray(strap: Strap, which: int) -> Hole | None:
    """The only hole beyond what lies back at the ends that takes nothing and meets none there through both layers, nearer
    to this end than to the other."""
    fold_mm, spots = strap.ends[which].fold_mm, closing_spots(strap, which)
    stray = [
        hole
        for hole in strap.piece.marks.holes[strap.row_holes :]
        if not hole.takes
        and not hole.long_mm
        and all(from_end_mm(strap, end, hole.at) > strap.ends[end].back_mm for end in (0, 1))
    ]
    stray = [
        hole
        for hole in stray
        if all(abs(2 * fold_mm - from_end_mm(strap, which, hole.at) - spot.y) > OTHER_HOLE_MM for spot in spots)
    ]
    is_near = len(stray) == 1 and 2 * from_end_mm(strap, which, stray[0].at) < strap.cut_length_mm
    return stray[0] if is_near else None


def _closing(strap: Strap, which: int) -> list[Hole]:
    """Round holes that lie in a turned end, or in what it lies back on, and may take what closes it."""
    end = strap.ends[which]
    return [
        hole
        for hole in strap.piece.marks.holes[strap.row_holes :]
        if not hole.long_mm and hole.takes in ("", end.takes) and from_end_mm(strap, which, hole.at) < 2 * end.fold_mm
    ]


def _find_beyond(strap: Strap, which: int) -> Hole | None:
    """The only hole that takes nothing near the other end of a strap, which is not turned."""
    if strap.ends[1 - which].shape == "turned":
        return None
    near = [
        hole
        for hole in strap.piece.marks.holes[strap.row_holes :]
        if not hole.takes and not hole.long_mm and from_end_mm(strap, 1 - which, hole.at) <= strap.ends[which].back_mm
    ]
    return near[0] if len(near) == 1 else None


def count_closing(strap: Strap, which: int) -> int:
    """How many holes close a turned end, where those that nearly meet through both layers are meant for one."""
    kept: list[Point] = []
    for spot in closing_spots(strap, which):
        if all(distance(spot, other) > OTHER_HOLE_MM for other in kept):
            kept.append(spot)
    return len(kept)


def _spot_words(end: StrapEnd, which: int, spots: list[Point], show: Show) -> str:
    """Where holes that are missing would lie: all of them evenly along what lies back, without those that are nearest
    to holes there are."""
    places_mm = [end.back_mm * (index + 0.5) / end.number for index in range(end.number)]
    for spot in spots:
        places_mm.remove(min(places_mm, key=lambda place_mm: abs(place_mm - spot.y)))
    names = [f'"centre, {format_short(place_mm, show)} from {END_NAMES[which][1]}"' for place_mm in places_mm]
    return " and ".join(names)
