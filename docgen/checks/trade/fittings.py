"""Rings, buckles and other fittings that leather is folded round: how many there are, and the way for a tongue."""

import math
from collections.abc import Iterator, Sequence

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.problems import count_words
from docgen.read import NamedTable, Text
from docgen.resolve import Fold, Hardware, Piece, Strap
from docgen.written.units.telling import format_mm

TONGUELESS = ("side-release", "side release", "quick-release", "ladder", "slide", "slider", "cam", "clip", "no tongue")
SET_KINDS = frozenset({"rivet", "tubular-rivet", "copper-rivet", "screw-post", "snap", "eyelet"})
HELD_KINDS = frozenset({"ring", "buckle"})
MET_AT_RING = (3, 4)  # straps that meet in one ring: our choice
LEAST_WEBBING_MM = 1.0
TONGUE_OVER_MM = 0.5  # what a hole gives: leather lets a round tongue pass that is a little larger
MOST_HOLE_IN_TONGUES = 2.0  # times the tongue that its hole is at most
MOST_SLOT = 2.0  # times the width of the strap, or what the tongue needs


def tell_held(subject: Subject, item: Hardware) -> Iterator[Found]:
    """A count that does not go with what is folded round the item. A ring may hold a piece and a strap, two ends of
    straps, or one end of each of several; a buckle, and what has no name of its own, hangs on one thing alone."""
    pieces, ends = count_holders(subject, item)
    allowed = _counts_for(item, sum(pieces.values()), [*ends.values()])
    if not allowed or item.count in allowed:
        return
    held = ", ".join(f"{name} {count}" for name, count in (*pieces.items(), *ends.items()))
    words = count_words(sum(pieces.values()) + sum(ends.values()), "part")
    what = f'"{item.name}" is held by {words} of one make ({held}), and the count is {item.count}'
    near = sorted(allowed, key=lambda count: abs(count - item.count))
    others = "".join(f", or {count}" for count in near[1:])
    mend = f"write count = {near[0]}{others}; or cut as many of each as there are{_round_words(subject, item)}"
    odd = _other_round(subject, item) if near[0] < item.count else ""
    mend = f'write around = "{item.name}" at the other end of "{odd}" too; or {mend}' if odd else mend
    yield subject.written_at(subject.spec.hardware, item.name, "count"), what, mend, item.name


def _round_words(subject: Subject, item: Hardware) -> str:
    """What else to look at: where it is written what goes round an item."""
    folds = [
        fold.place.line for piece in subject.build.pieces for fold in piece.marks.folds if fold.around == item.name
    ]
    ends = [end.place.line for strap in subject.build.straps for end in strap.ends if item.name in end.rings]
    lines = sorted({*folds, *ends} - {0})
    return (
        f"; or look whether each is to go round it (lines {', '.join(map(str, lines))})" if 1 < len(lines) < 6 else ""
    )


def _other_round(subject: Subject, item: Hardware) -> str:
    """The strap one end of which goes round an item, and the other, made like it, round another for a strap as wide."""
    inside_mm = {one.name: one.inside_mm for one in subject.build.hardware}
    for strap in subject.build.straps:
        one, other = strap.ends
        rings = {*one.rings, *other.rings}
        is_alike = one.shape == other.shape == "turned" and one.back_mm == other.back_mm
        if is_alike and item.name in rings and len(rings) == 2 and len({inside_mm.get(name) for name in rings}) == 1:
            return strap.name
    return ""


def count_holders(subject: Subject, item: Hardware) -> tuple[dict[str, int], dict[str, int]]:
    """Pieces and straps that are folded round an item, and how often."""
    pieces: dict[str, int] = {}
    for piece in subject.build.pieces:
        if any(fold.around == item.name for fold in piece.marks.folds):
            pieces[piece.name] = piece.cut
    ends: dict[str, int] = {}
    for strap in subject.build.straps:
        count = sum(item.name in end.rings for end in strap.ends)
        if count:
            ends[strap.name] = count * strap.cut
    return pieces, ends


def joins_straps(subject: Subject, item: Hardware) -> bool:
    """Whether one ring that no piece holds joins the ends of several straps."""
    pieces, ends = count_holders(subject, item)
    return item.count == 1 and not pieces and _may_join(item, [*ends.values()])


def _may_join(item: Hardware, by_strap: Sequence[int]) -> bool:
    """Whether it is a ring with three ends, or another odd number, of several straps: the middle one of a harness."""
    return item.kind == "ring" and len(by_strap) > 1 and sum(by_strap) > 2 and sum(by_strap) % 2 == 1


def _may_meet(by_strap: Sequence[int], each: int) -> bool:
    """Whether so many ends meet in each of several rings, of every strap one at most, as at those of a harness."""
    rings, over = divmod(sum(by_strap), each)
    return rings > 1 and not over and len(by_strap) > each and max(by_strap) <= rings


def _counts_for(item: Hardware, pieces: int, by_strap: list[int]) -> list[int]:
    """Counts that go with so many pieces and ends of straps; none where nothing holds it."""
    ends = sum(by_strap)
    if item.kind == "buckle":
        counts = [pieces + ends]
    elif pieces and ends:
        counts = [max(pieces, ends), pieces + ends]
    elif item.kind == "ring" and len(by_strap) > 2 and len({*by_strap}) == 1:
        counts = [by_strap[0], ends]
    elif item.kind == "ring" and ends and not ends % 2:
        counts = [ends, ends // 2, *([1] if len(by_strap) == 1 else [])]
    elif not pieces and _may_join(item, by_strap):
        counts = [ends, 1]
    else:
        counts = [pieces + ends]
    if item.kind == "ring" and not pieces:
        counts += [ends // each for each in MET_AT_RING if _may_meet(by_strap, each)]
    return [count for count in dict.fromkeys(counts) if count]


@check(
    "tongue-without-way",
    "What is folded round a buckle has a slit or an oblong hole across its fold, where a strap has holes for the tongue.",
    "plain from the work; a buckle without a tongue may be accepted",
    needs_whole=True,
)
def find_lost_slots(subject: Subject) -> Iterator[Found]:
    """Pieces and turned ends of straps; a slot that only misses the fold of a strap is told by another check."""
    build = subject.build
    buckles = {item.name for item in build.hardware if item.kind == "buckle" and not _is_tongueless(item)}
    has_holes = any(strap.row_holes for strap in build.straps)
    for piece in build.pieces if has_holes else ():
        for fold in piece.marks.folds:
            is_cut = piece.marks.slits or any(
                hole.long_mm for hole in piece.marks.holes
            )  # what misses is told elsewhere
            if fold.around in buckles and not is_cut:
                what = f'"{piece.name}" is folded round "{fold.around}", and nothing is cut there for the tongue'
                yield fold.place, what, "add a slit across the fold, or look at what it goes round", piece.name
    for strap in build.straps if has_holes else ():
        slots = [hole for hole in strap.piece.marks.holes if hole.long_mm]
        ends = [(name, end) for name, end in zip(("first", "second"), strap.ends, strict=True) if end.around in buckles]
        if len(slots) < len(ends):
            name, end = ends[0]
            what = f'the strap "{strap.name}" turns round "{end.around}", and has no oblong hole for the tongue'
            is_only = sum(one.shape == "turned" for one in strap.ends) == 1
            at = "the fold" if is_only else f"the {name} fold"
            mend = f'add to punches {{ at = "centre, at {at}", punch = ..., long = ... }}'
            yield end.place, what, mend, strap.name


def _is_tongueless(item: Hardware) -> bool:
    return any(words in item.what.lower() for words in TONGUELESS)


@check(
    "tongue-too-wide",
    f"The tongue of a buckle goes through the holes of the strap: it is at most {format_mm(TONGUE_OVER_MM)} wider, and "
    f"they are at most {MOST_HOLE_IN_TONGUES:g} times as wide.",
    "common practice, no published source",
    needs_whole=True,
)
def find_wide_tongues(subject: Subject) -> Iterator[Found]:
    """Buckles that a strap, or its partner, turns round, against its row of holes; once for a buckle."""
    hardware = {item.name: item for item in subject.build.hardware if item.kind == "buckle" and item.tongue_mm}
    specs = {spec.name: spec for spec in subject.spec.hardware}
    told: set[str] = set()
    for strap in subject.build.straps if hardware else ():
        partner = subject.parts.straps.get(strap.partner)
        ends = (*strap.ends, *(partner.ends if partner else ()))
        for item in (hardware[end.around] for end in ends if end.around in hardware and end.around not in told):
            is_loose = strap.punch_mm > MOST_HOLE_IN_TONGUES * item.tongue_mm + 1e-6
            if strap.row_holes and (is_loose or item.tongue_mm > strap.punch_mm + TONGUE_OVER_MM + 1e-6):
                told.add(item.name)
                row = next((hole.place for hole in strap.piece.marks.holes[: strap.row_holes]), strap.piece.place)
                what = (
                    f'the tongue of "{item.name}" is {subject.length(item.tongue_mm)}, and the holes of "{strap.name}" are '
                    f"{subject.length(strap.punch_mm)} (line {row.line})"
                )
                value = specs[item.name].tongue
                yield value.place if value else specs[item.name].place, what, "look at both figures", item.name


@check(
    "tongue-slot",
    f"The slot for a tongue runs along its strap, reaches half way round the bar, and is at most {MOST_SLOT:g} times as "
    "long as that, or as its strap is wide.",
    "plane geometry: the way round half the bar, along the middle of the strap; the most is our choice",
    needs_whole=True,
    waits_for=("thickness-unusual",),
)
def find_short_slots(subject: Subject) -> Iterator[Found]:
    """Oblong holes in straps that turn round a buckle: across, or shorter than the tongue needs to swing."""
    hardware = {item.name: item for item in subject.build.hardware if item.kind == "buckle"}
    for strap in subject.build.straps:
        least_mm = max(
            (_way_round_mm(strap, hardware[end.around]) for end in strap.ends if end.around in hardware), default=0.0
        )
        for hole in strap.piece.marks.holes if least_mm else ():
            if hole.long_mm and abs(hole.slot.x) > abs(hole.slot.y):
                what = f'the oblong hole for the tongue lies across the strap "{strap.name}"'
                yield hole.place, what, "turn it along the strap: leave out lies = ...", strap.name
            elif hole.long_mm and hole.long_mm < least_mm:
                what = (
                    f'the oblong hole for the tongue of the strap "{strap.name}" is {subject.length(hole.long_mm)} long, '
                    f"and half the way round the bar is {subject.length(least_mm)}"
                )
                yield hole.place, what, f"make it {subject.length(least_mm)} long or longer", strap.name
            elif hole.long_mm > MOST_SLOT * max(strap.width_mm, least_mm):
                what = (
                    f'the oblong hole for the tongue of the strap "{strap.name}" is {subject.length(hole.long_mm)} long, '
                    f"and half the way round the bar is {subject.length(least_mm)}"
                )
                yield hole.place, what, "look at the figure and its unit", strap.name


@check(
    "buckle-without-holes",
    "A buckle with a tongue goes with a strap that has holes.",
    "plain from the work; a strap that is made apart may be accepted",
    needs_whole=True,
)
def find_buckles_without_holes(subject: Subject) -> Iterator[Found]:
    """Buckles whose tongue is measured, in a build of which no strap and no piece has a row of holes for one; the first."""
    build = subject.build
    rows = any(strap.row_holes for strap in build.straps) or any(
        sum(not hole.takes and not hole.long_mm for hole in piece.marks.holes) > 1 for piece in build.pieces
    )
    for item in build.hardware if not rows else ():
        pieces, ends = count_holders(subject, item)
        if item.kind == "buckle" and item.tongue_mm and (pieces or ends):
            place = subject.written_at(subject.spec.hardware, item.name, "tongue")
            what = f'"{item.name}" has a tongue of {subject.length(item.tongue_mm)}, and no strap has holes for it'
            yield place, what, "write holes = { count = ..., punch = ... } for the strap that it closes", item.name
            return


def _way_round_mm(strap: Strap, item: Hardware) -> float:
    """Half the way round a bar, along the middle of the strap."""
    return math.pi * (item.bar_mm + strap.thickness_mm) / 2 if item.bar_mm else 0.0


@check(
    "fitting-taken-wrong",
    "Holes take what is set through them; leather is folded round a ring or a buckle.",
    "plain from the work",
    needs_whole=True,
    waits_for=("kind-contradicts-words",),
)
def find_wrong_takings(subject: Subject) -> Iterator[Found]:
    """Holes and closed ends that take a ring or a buckle, and folds round what is set."""
    kinds = {item.name: item.kind for item in subject.build.hardware}
    spec = subject.spec
    takes: list[tuple[NamedTable, Text]] = []
    around: list[tuple[NamedTable, Text]] = []
    for piece in spec.pieces:
        takes += [(piece, hole.takes) for hole in piece.holes]
        takes += [(piece, row.takes) for row in piece.hole_rows]
        around += [(piece, fold.around) for fold in piece.folds]
    for strap in spec.straps:
        takes += [(strap, end.takes) for end in strap.ends]
        around += [(strap, value) for end in strap.ends for value in end.around]
    turned = {value.value for _, value in around if value}
    for part, value in takes:
        if value and (
            kinds.get(value.value) in HELD_KINDS or (kinds.get(value.value) == "other" and value.value in turned)
        ):
            what = f'a hole of "{part.name}" takes "{value.value}", which leather is folded round'
            yield value.place, what, _other_words(kinds, SET_KINDS, "take"), part.name
    for part, value in around:
        if value and kinds.get(value.value) in SET_KINDS:
            what = f'"{part.name}" is folded round "{value.value}", which is a {kinds[value.value].replace("-", " ")}'
            yield value.place, what, _other_words(kinds, HELD_KINDS, "go round"), part.name


def _other_words(kinds: dict[str, str], wanted: frozenset[str], verb: str) -> str:
    names = [f'"{name}"' for name, kind in kinds.items() if kind in wanted]
    return f"let it {verb} {' or '.join(names)}" if names else "name what is meant"


@check(
    "fitting-in-cloth",
    f"What is folded round a fitting is leather, or webbing of {format_mm(LEAST_WEBBING_MM)} and more.",
    PRACTICE,
    needs_whole=True,
)
def find_cloth_round_fittings(subject: Subject) -> Iterator[Found]:
    """Pieces and straps of foam, or of thin cloth, that are folded round a fitting, take what is set, or are straps."""
    for part in subject.build.cut:
        material = subject.material(part)
        if material is None or material.kind == "leather":
            continue
        ends = subject.parts.straps[part.name].ends if part.is_strap else ()
        holds = part.is_strap or any(end.rings for end in ends) or any(fold.around for fold in part.marks.folds)
        is_weak = material.kind == "foam" or material.thickness_mm < LEAST_WEBBING_MM
        if holds and is_weak:
            specs = (*subject.spec.pieces, *subject.spec.straps)
            what = f'"{part.name}" has to bear a pull, and is cut from "{material.name}", {material.thickness_words}'
            yield subject.written_at(specs, part.name, "of"), what, "cut it from leather, or from webbing", part.name


@check(
    "strap-without-buckle",
    "A strap with holes goes with a buckle: its own, its partner's, or one that it reaches from where it lands.",
    "plain from the work",
    needs_whole=True,
)
def find_straps_without_buckle(subject: Subject) -> Iterator[Found]:
    """Straps with a row of holes that name no partner, turn round nothing and land nowhere; and those of two parts whose
    other end nothing holds: a hole of its own there goes on a stud or button."""
    landed = {end.strap for base in subject.build.pieces for end in base.strap_landings}
    sewn = subject.sewn.keys()
    named = {name for piece in subject.build.cut for hole in piece.marks.holes for name in hole.through}
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    tabs = {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    partners = {strap.partner for strap in subject.build.straps}
    rings_of = {strap.name: {name for end in strap.ends for name in end.rings} for strap in subject.build.straps}
    idle = buckles - tabs - {name for rings in rings_of.values() for name in rings}
    waiting = {
        strap.name
        for strap in subject.build.straps
        if not strap.worn_mm and any(name in buckles for end in strap.ends for name in end.rings)
    } - (landed | sewn | named | partners)
    for strap in subject.build.straps:
        held = landed | sewn | (set() if waiting else named)
        if not strap.worn_mm or strap.name in held or not buckles:
            continue
        rings = {name for end in strap.ends for name in end.rings}
        if not strap.partner and not (rings | tabs) & buckles:
            what = f'the strap "{strap.name}" has holes, and no buckle goes with it'
            of = waiting.pop() if len(waiting) == 1 else "..."
            yield strap.piece.place, what, f'write partner = "{of}" for the strap that has the buckle', strap.name
        elif strap.partner and not (rings or strap.has_end_hole) and all(end.shape != "turned" for end in strap.ends):
            what = f'nothing holds the other end of the strap "{strap.name}"'
            yield strap.piece.place, what, "turn its first end round a fitting, or say where it lands", strap.name
        elif idle and strap.partner in rings_of and not (rings | rings_of[strap.partner]) & buckles:
            ends = subject.parts.straps[strap.partner].ends
            what = f'no end of "{strap.partner}", with which the strap "{strap.name}" buckles, goes round a buckle: '
            item = next(one for one in subject.build.hardware if one.name in idle)
            what += f'nothing is folded round "{item.name}" (line {item.place.line})'
            mend = f'write around = "{item.name}" at one of its ends'
            yield max((end.place for end in ends), key=lambda place: place.line), what, mend, strap.partner


def find_bare_folds(subject: Subject) -> dict[str, tuple[Piece, Fold]]:
    """Ring or buckle -> the one piece with a closed fold round nothing, no wider than it, that a step with that in hand
    handles, where none is folded round it and the strap that is comes later: its fold is to name it."""
    found: dict[str, tuple[Piece, Fold]] = {}
    held = {fold.around for piece in subject.build.pieces for fold in piece.marks.folds}
    for item in subject.build.hardware:
        if item.kind not in HELD_KINDS or item.name in held:
            continue
        straps = {strap.name for strap in subject.build.straps if any(item.name in end.rings for end in strap.ends)}
        steps = [step for step in subject.build.steps if item.name in step.hardware and straps.isdisjoint(step.straps)]
        handled = {name for step in steps if straps for name in step.pieces}
        tabs = [
            (piece, piece.own_folds[0])
            for piece in subject.build.pieces
            if piece.name in handled and len(piece.own_folds) == 1 and not piece.own_folds[0].is_open
            if 0 < outline_box(piece.outline).width <= item.inside_mm
        ]
        if len(tabs) == 1:
            found[item.name] = tabs[0]
    return found
