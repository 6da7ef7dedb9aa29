"""Checks of straps: width against fittings, turned ends, tip."""

import math
import re
from collections import Counter
from collections.abc import Iterator
from itertools import combinations, pairwise

from docgen.checks.sizes_said import said_size
from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.checks.trade.fittings import joins_straps
from docgen.checks.trade.instead import meant_round
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.resolve import Hardware, Hole, Strap, StrapEnd, by_name, closing_spots, from_end_mm
from docgen.tables import sewing
from docgen.tables.hardware import HOLE_BY_KIND_MM
from docgen.written.units.telling import format_mm, format_number

KEY_RING_RE = re.compile(r"\b(split|key)[ -]?rings?\b", re.I)
"""Rings of which nothing hangs straight."""

PITCH_TINY_MM = 1e-6
SAID_MM = 1.0  # what a fitting is wider than it is called, or less
END_NAMES = (("first", "start"), ("second", "end"))
"""How each end is called, and its edge in a position."""


@check(
    "holes-far-apart",
    "The holes of a strap stand at most {holes_apart} apart.",
    "common practice, no published source: they mostly stand 20 mm to 30 mm apart",
    needs_whole=True,
)
def find_wide_rows(subject: Subject) -> Iterator[Found]:
    """Rows of a strap for a buckle or stud; once for a strap, at its row."""
    specs = {spec.name: spec for spec in subject.spec.straps}
    for strap in subject.build.straps:
        tips = [sorted(row) for row in (strap.hole_tips_mm, strap.first_tips_mm)]
        widest_mm = max((b - a for row in tips for a, b in pairwise(row)), default=0.0)
        if widest_mm > subject.build.limits.holes_apart_mm + PITCH_TINY_MM:
            what = f'two holes of "{strap.name}", one after the other, stand {subject.length(widest_mm)} apart'
            row = specs[strap.name].holes
            place = row.pitch.place if row and row.pitch else specs[strap.name].place
            yield place, what, "look at pitch, or accept it where so few are meant", strap.name


@check(
    "strap-wider-than-fitting",
    "A strap is no wider than the fitting it goes round.",
    "plain from the goods",
    stops=True,
)
def find_wide_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap, with the narrowest fitting that it is too wide for."""
    hardware = by_name(subject.build.hardware)
    insides = {spec.name: spec.inside for spec in subject.spec.hardware}
    for strap in subject.build.straps:
        ends = [
            (strap.end_width_mm(k), hardware[name], strap.ends[k].place)
            for k in (0, 1)
            for name in strap.ends[k].rings
            if name in hardware
        ]
        narrow = [(ring.inside_mm, width_mm, ring, at) for width_mm, ring, at in ends if 0 < ring.inside_mm < width_mm]
        if narrow:
            inside_mm, width_mm, ring, at = min(narrow, key=lambda found: found[0])
            inside = insides[ring.name]
            what = (
                f'the strap "{strap.name}" is {subject.length(width_mm)} wide, and {ring.what} takes only '
                f"{subject.length(inside_mm)}{f' (line {inside.place.line})' if inside else ''}"
            )
            place = subject.written_at(subject.spec.straps, strap.name, "width")
            if meant := meant_round(subject, width_mm):
                what += f'; nothing goes round "{meant}", which takes it'
                yield at, f"{what} (line {place.line})", f'did you mean around = "{meant}"?', strap.name
                continue
            said, said_mm = said_size(ring.what)
            if inside and said_mm >= width_mm - SAID_MM and said_mm > inside_mm + SAID_MM:
                what += f', and its words say "{said}"'
                yield inside.place, f"{what} (line {place.line})", "look at the inside, and at what it is", strap.name
                continue
            yield place, what, "cut the strap narrower, or use a wider fitting", strap.name


@check(
    "strap-loose-in-fitting",
    "A strap, or a piece folded round it, is at most {strap_play} narrower than its ring or buckle; in a key ring, "
    "which is round and holds narrower ones as a rule, no less than half as wide.",
    "makers' pages differ, from none to 2 mm; common practice, no published source",
)
def find_loose_straps(subject: Subject) -> Iterator[Found]:
    """Once for a strap or piece, with the widest fitting that it turns round, where that is not too narrow for it."""
    most_mm = subject.build.limits.strap_play_mm
    widths = {spec.name: spec.width for spec in subject.spec.straps}
    insides = {spec.name: spec.inside for spec in subject.spec.hardware}
    for name, title, rings in _folded_round(subject):
        own = [(ring, mm) for ring, mm in rings if not joins_straps(subject, ring)]
        widest, width_mm = max(own, key=lambda found: found[0].inside_mm, default=(None, 0.0))
        is_round = widest is not None and KEY_RING_RE.search(widest.what)
        play_mm = widest.inside_mm / 2 if widest is not None and is_round else most_mm
        if widest is not None and width_mm < widest.inside_mm - play_mm - 1e-6:
            width, inside = widths.get(name), insides.get(widest.name)
            place = width.place if width else subject.parts.pieces[name].place
            line = f" (line {inside.place.line})" if inside else ""
            what = (
                f"{title} is {subject.length(width_mm)} wide, and {widest.what} takes {subject.length(widest.inside_mm)}"
                f"{line}: it slides and turns there"
            )
            yield place, what, "look at both figures: a wider strap, or a narrower fitting", name


def _folded_round(subject: Subject) -> Iterator[tuple[str, str, list[tuple[Hardware, float]]]]:
    """Straps and pieces: name, what they are called, and each ring or buckle they are folded round with their width
    there."""
    hardware = by_name(subject.build.hardware)
    for strap in subject.build.straps:
        rings = [(name, strap.end_width_mm(k)) for k in (0, 1) for name in strap.ends[k].rings]
        named = [(hardware[name], width_mm) for name, width_mm in rings if name in hardware]
        yield strap.name, f'the strap "{strap.name}"', named
    for piece in subject.build.pieces:
        folds = [(fold.around, distance(fold.start, fold.end)) for fold in piece.marks.folds]
        yield piece.name, f'"{piece.name}"', [(hardware[name], mm) for name, mm in folds if name in hardware]


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
    "strap-holes-close",
    "As much leather stays between the holes of a strap as they are wide, and {between_holes} or more.",
    PRACTICE,
)
def find_close_holes(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for _, row in _rows(strap):
            gaps = [distance(one.at, other.at) - one.diameter_mm for one, other in pairwise(row)]
            least_mm = max(subject.build.limits.between_holes_mm, row[0].diameter_mm)
            if gaps and min(gaps) < least_mm - 1e-6:
                left = subject.length(min(gaps))
                what = f'{left} of leather stay between the holes of the strap "{strap.name}"'
                mend = f"leave {subject.length(least_mm)} or more: a longer pitch, or a smaller punch"
                yield row[0].place, what, mend, strap.name
        yield from _tell_close_punches(subject, strap)


def _tell_close_punches(subject: Subject, strap: Strap) -> Iterator[Found]:
    """The first two round holes beside its rows with less leather between them; those cut into each other are told so."""
    punches = [hole for hole in strap.piece.marks.holes[strap.row_holes :] if not hole.long_mm]
    for one, other in combinations(punches, 2):
        left_mm = distance(one.at, other.at) - (one.diameter_mm + other.diameter_mm) / 2
        if 0 < left_mm < subject.build.limits.between_holes_mm - 1e-6:
            what = (
                f'{subject.length(left_mm)} of leather stay between two holes of the strap "{strap.name}" (line '
                f"{one.place.line})"
            )
            yield other.place, what, "measure both again, also from which end", strap.name
            return


def _rows(strap: Strap) -> list[tuple[int, tuple[Hole, ...]]]:
    """The rows of holes of a strap, each with the end that carries it, the hole nearest to the tip first."""
    count, holes = len(strap.hole_tips_mm), strap.piece.marks.holes
    rows = ((1, holes[:count]), (0, holes[count : strap.row_holes]))
    return [(which, row) for which, row in rows if row]


@check(
    "strap-turn-back",
    "A turned end lies back at least the width of its strap, or is sewn, for itself or under a second layer, with "
    f"{sewing.LEAST_END_STITCHES} stitches on either edge.",
    PRACTICE,
)
def find_short_turns(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for which, end in enumerate(strap.ends):
            is_short = end.shape == "turned" and end.back_mm < strap.end_width_mm(which)
            is_known = not end.sewn or end.sewn in subject.parts.stitches  # one that cannot be read is told there
            if is_short and is_known and _end_stitches(subject, strap, end) < sewing.LEAST_END_STITCHES:
                what = f'the strap "{strap.name}" turns back only {subject.length(end.back_mm)}, less than its width'
                mend = "turn back at least the width of the strap, so that stitches or rivets find room"
                yield end.place if end.place.line else strap.piece.place, what, mend, strap.name


def _end_stitches(subject: Subject, strap: Strap, end: StrapEnd) -> int:
    """How many stitches close an end on either edge: its own, or those along the strap where it lies back under a second
    layer that is sewn on; 0 where neither holds it."""
    along = strap.stitch if strap.lining else ""
    stitch = subject.parts.stitches.get(end.sewn or along)
    if stitch is None:
        return 0
    long_mm = end.back_mm - stitch.inset_mm if end.sewn else end.back_mm
    return int(long_mm / stitch.pitch_mm + 1e-9)


@check(
    "strap-loop-loose",
    "What lies back of an open loop is held by stitches, or by hardware.",
    "counted",
    needs_whole=True,
)
def find_loose_loops(subject: Subject) -> Iterator[Found]:
    """Open loops at an end that nothing closes: no stitch of its own, no hardware, and no hole for it."""
    for strap in subject.build.straps:
        for which, end in enumerate(strap.ends):
            if end.loop_mm and not (end.takes or end.sewn or closing_spots(strap, which)):
                what = f'nothing closes the loop at the {END_NAMES[which][0]} end of the strap "{strap.name}"'
                yield end.place, what, "add sewn = a stitch, or takes = hardware with its holes in punches", strap.name


@check(
    "strap-end-unclosed",
    "A turned end is closed: by stitches of its own or of its strap, by hardware, or where it lands.",
    "plain from the work; one that is glued alone may be accepted",
    needs_whole=True,
)
def find_unclosed_ends(subject: Subject) -> Iterator[Found]:
    """Ends that turn round hardware, in a build that closes the other end of that strap, with nothing that holds what
    lies back."""
    over_mm = {(end.strap, end.end): end.over_mm for base in subject.build.pieces for end in base.strap_landings}
    landed = over_mm.keys()
    named = {name for piece in subject.build.cut for hole in piece.marks.holes for name in hole.through}
    sewn = subject.sewn.keys()
    for strap in subject.build.straps:
        if strap.stitch or strap.name in sewn:
            continue
        open_ = [
            which
            for which, end in enumerate(strap.ends)
            if end.shape == "turned" and not (end.takes or end.sewn or end.loop_mm or closing_spots(strap, which))
        ]
        if (
            strap.name in named
        ):  # what goes through its other end, where that alone lands, does not reach what lies back
            open_ = [
                which
                for which in open_
                if strap.finished_mm - strap.ends[which].back_mm >= over_mm.get((strap.name, 1 - which), math.inf)
            ]
        for which in open_:
            is_short = strap.ends[which].back_mm < strap.end_width_mm(which)  # told as that
            if (strap.name, which) not in landed and not is_short:
                other = strap.ends[1 - which].sewn
                what = f'nothing closes the {END_NAMES[which][0]} end of the strap "{strap.name}", which is turned'
                mend = (
                    f'write sewn = "{other}" for it' if other else "write sewn = a stitch, or takes = hardware, for it"
                )
                yield strap.ends[which].place, what, f"{mend}; or accept it where glue holds it", strap.name


@check(
    "strap-skive-long",
    "The end of a strap is thinned at most as far as it lies double, and {skive_beyond} more.",
    PRACTICE,
    needs_whole=True,
)
def find_long_skives(subject: Subject) -> Iterator[Found]:
    """Turned ends that are thinned over more than what lies back, the bend, and as much beneath."""
    for strap in subject.build.straps:
        for end in strap.ends:
            most_mm = 2 * end.fold_mm + subject.build.limits.skive_beyond_mm
            if end.shape == "turned" and end.skive and end.skive.over_mm > most_mm + 1e-6:
                what = (
                    f'an end of "{strap.name}" is thinned {subject.length(end.skive.over_mm)} from its cut end on, and '
                    f"lies back {subject.length(end.back_mm)} (line {end.place.line})"
                )
                yield end.skive.place, what, "look at both figures", strap.name


@check("keeper-count", "Every end that holds a keeper has one of its own.", "counted", needs_whole=True)
def find_few_keepers(subject: Subject) -> Iterator[Found]:
    needed: Counter[str] = Counter()
    for strap in subject.build.straps:
        for end in strap.ends:
            needed[end.keeper] += strap.cut if end.keeper else 0
    for keeper in subject.build.straps:
        if keeper.cut < needed[keeper.name]:
            what = (
                f'ends of straps hold {needed[keeper.name]} of the keeper "{keeper.name}", and only {keeper.cut} is cut'
            )
            yield keeper.piece.place, what, f"write cut = {needed[keeper.name]}", keeper.name


@check("strap-tip-short", "A strap goes on after its last hole for {strap_tip} its width there.", PRACTICE)
def find_short_tips(subject: Subject) -> Iterator[Found]:
    for strap in subject.build.straps:
        for which, row in _rows(strap):
            least_mm = subject.build.limits.strap_tip * strap.end_width_mm(which)
            left_mm = from_end_mm(strap, which, row[0].at)
            if left_mm < least_mm - 1e-6:
                what = f'the strap "{strap.name}" ends {subject.length(left_mm)} after its last hole'
                mend = f"leave {subject.length(least_mm)} or more, so that the tip stays in its keeper"
                spec = next(spec for spec in subject.spec.straps if spec.name == strap.name)
                ends = [end.holes for end in spec.ends]
                own = (ends[which] if which < len(ends) else None) or spec.holes
                yield own.tip.place if own and own.tip else row[0].place, what, mend, strap.name


@check("strap-bar-unknown", "The bar that a strap turns round has a thickness.", "plane geometry")
def find_bars_unknown(subject: Subject) -> Iterator[Found]:
    """Turned ends round hardware whose bar the spec does not give: it goes into the cut length."""
    hardware = by_name(subject.build.hardware)
    written = {spec.name for spec in subject.spec.hardware if spec.bar}
    for strap in subject.build.straps:
        found = ((end, hardware.get(name)) for end in strap.ends for name in end.rings)
        for end, ring in found:
            if (
                ring is not None and not ring.bar_mm and ring.name not in written
            ):  # one that cannot be read is told there
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
                ((abs(from_end_mm(strap, which, hole.at) - end.fold_mm), hole) for hole in slots),
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
