"""Check of holes that hardware goes through a part without: where it is to be punched, and the line that says so."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from itertools import combinations

from docgen.assemble import laid_places, riveted_places
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.fast import BACK
from docgen.checks.trade.holes import find_holes_apart, free_holes, layers_of
from docgen.checks.trade.meeting import tell_drawn_in
from docgen.geometry.folding import mirror_over
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import SIDES, edge_names, outline_box
from docgen.geometry.vector import distance, scale, subtract, transform_point
from docgen.resolve import Hole, Piece
from docgen.tables.sewing import HOLES_MEET_MM
from docgen.written.units.table import MM_PER_INCH
from docgen.written.units.telling import Show, format_mm, format_short, format_short_punch

STEPS_MM = {"in": MM_PER_INCH / 32, "mm": 0.5}  # what a rule reads
EXACT_MM = 0.01
SPREAD_MM = 3.0
MOST_HOLES = 300  # of one part, whose distances from each other are held against those of another
UNLIKE_MM = 1.0  # what two holes for one fitting may differ


@check(
    "hole-without-mate",
    "Where hardware goes through a part that lands and the one beneath, both have the hole, within "
    f"{format_mm(HOLES_MEET_MM)}.",
    "plain from the work",
    needs_whole=True,
    gives_way=(
        "strap-end-hole-lacks",
        "strap-end-without-hole",
        "marked-twice",
        "hole-on-fold",
        "twins-lead-unlike",
        "strap-shorter-than-over",
        "strap-end-unheld",
    ),
)
def find_holes_without_mate(subject: Subject) -> Iterator[Found]:
    """Of each part that lands, all holes that the one beneath lacks, with the lines that would mark them; those that only
    lie apart are told as that."""
    apart = {place for place, _, _, _ in find_holes_apart(subject)}
    drawn_in = {name for *_, name in tell_drawn_in(subject)}
    for base in subject.build.pieces:
        lacking: dict[str, list[Hole]] = {}
        for landing in (one for one in base.marks.landings if one.piece not in drawn_in):
            lacking.setdefault(landing.piece, []).extend(one for one in landing.holes if one.place not in apart)
        for end in base.strap_landings:
            lacking.setdefault(end.strap, []).extend(end.holes)
        for name, holes in lacking.items():
            idle = _find_idle(subject, base, holes) if len(holes) == 1 else []
            if len(idle) == 1:
                yield _tell_idle(subject, base, name, holes[0], idle[0])
            elif holes and _is_free_hole(subject, base, name, holes):
                what, mend = _tell(subject, base, name, holes)
                yield holes[0].place, what, f"measure it from the other end of the strap, or {mend}", base.name
            elif holes:
                yield holes[0].place, *_tell(subject, base, name, holes), base.name


def _is_free_hole(subject: Subject, base: Piece, name: str, holes: list[Hole]) -> bool:
    """Whether the only hole of a strap lies where that is sewn on, takes nothing, and its other end lies nowhere."""
    strap = subject.parts.straps.get(name)
    ends = [end for end in base.strap_landings if end.strap == name]
    is_only = strap is not None and len(strap.piece.marks.holes) == 1 == len(holes) == len(ends)
    return is_only and not holes[0].takes and bool(ends[0].stitch)


def _is_bare_like(own: Hole, hole: Hole) -> bool:
    """Whether a hole takes nothing, meets none, and is as large as another."""
    return not own.takes and not own.meets and abs(own.diameter_mm - hole.diameter_mm) <= EXACT_MM


def _find_idle(subject: Subject, base: Piece, holes: list[Hole]) -> list[Hole]:
    """The holes of a piece for what some holes of another take that meet none of what lands, those for what goes through
    it besides left out: one of them may be meant."""
    titles = subject.build.part_titles
    naming = {
        titles[piece.name] for piece in subject.build.cut for hole in piece.marks.holes if base.name in hole.through
    }
    is_apart = not naming or any(not own.takes and not own.long_mm for own in base.marks.holes)
    takes = {hole.takes for hole in holes} - {""}
    return [
        own
        for own in (base.marks.holes if is_apart else ())
        if (own.takes in takes or _is_bare_like(own, holes[0]))
        and not own.through
        and naming.issuperset(own.meets)
        and not own.long_mm
    ]


def _tell_idle(subject: Subject, base: Piece, name: str, hole: Hole, own: Hole) -> Found:
    """A hole of what lands, told with the one beneath that is left over, at the landing that brings it."""
    ends = [end.place for end in base.strap_landings if any(one is hole for one in end.holes)]
    laid = [one for one in base.marks.landings if one.piece == name]
    number = next((at for at, one in enumerate(laid) if any(lacking is hole for lacking in one.holes)), 0)
    spec = subject.piece_spec(base.name)
    own_places = [it.at.place for it in spec.landings if it.at and it.piece and it.piece.value == name] if spec else []
    what = (
        f'the "{hole.takes}" of "{name}" comes to lie {subject.length(distance(hole.at, own.at))} from the hole of '
        f'"{base.name}" that takes one (line {own.place.line}), where "{base.name}" has none'
    )
    mend = f'measure the place of "{name}" and that hole again'
    end = next((end for end in base.strap_landings if any(one is hole for one in end.holes)), None)
    turned = subtract(scale(end.at, 2.0), hole.at) if end else None
    if end and turned and distance(turned, own.at) <= HOLES_MEET_MM:
        mend = f'write leads = "{BACK[end.leads]}" there: led the other way, it comes to lie on that hole'
    return (ends or own_places[number:] or [hole.place])[0], what, mend, base.name


@check(
    "holes-unlike",
    f"Holes that lie on each other where a piece lands are of one size, within {format_mm(UNLIKE_MM)}.",
    "our choice",
    needs_whole=True,
)
def find_unlike_holes(subject: Subject) -> Iterator[Found]:
    """Of each landing the first pair; told at the larger hole, which is seldom meant."""
    for base in subject.build.pieces:
        for landing in base.marks.landings:
            piece = subject.parts.pieces.get(landing.piece)
            find = near_finder([own.at for own in base.marks.holes], HOLES_MEET_MM)
            for hole in piece.marks.holes if piece else ():
                places = [transform_point(at, landing.move) for at in laid_places(piece, hole.at)] if piece else []
                met = [base.marks.holes[number] for number in sorted({own for at in places for own in find(at)})]
                other = next((own for own in met if abs(own.diameter_mm - hole.diameter_mm) > UNLIKE_MM), None)
                if other is not None and not (hole.long_mm or other.long_mm):
                    first, second = sorted((hole, other), key=lambda one: one.diameter_mm, reverse=True)
                    what = (
                        f'a hole of "{landing.piece}" and the one beneath it in "{base.name}" are '
                        f"{subject.length(hole.diameter_mm)} and {subject.length(other.diameter_mm)} (line "
                        f"{second.place.line})"
                    )
                    mend = "look at both punches: what goes through both needs one size"
                    yield first.place, what, mend, base.name
                    break
        yield from _tell_unlike_ends(subject, base)


def _tell_unlike_ends(subject: Subject, base: Piece) -> Iterator[Found]:
    """Holes in ends of straps that lie fast, and those beneath; once for a strap and piece."""
    told: set[str] = set()
    for end in base.strap_landings:
        strap = subject.parts.straps.get(end.strap)
        for hole in strap.piece.marks.holes if strap and end.strap not in told else ():
            places = riveted_places(strap, end, hole.at) if strap and not hole.long_mm else ()
            met = [own for own in base.marks.holes if any(distance(own.at, at) <= HOLES_MEET_MM for at in places)]
            other = next((own for own in met if abs(own.diameter_mm - hole.diameter_mm) > UNLIKE_MM), None)
            if other is not None and end.strap not in told:
                told.add(end.strap)
                what = (
                    f'a hole of the strap "{end.strap}" is {subject.length(hole.diameter_mm)}, and the one beneath it in '
                    f'"{base.name}" {subject.length(other.diameter_mm)} (line {other.place.line})'
                )
                yield hole.place, what, "look at both punches: what goes through both needs one size", end.strap


@check(
    "holes-on-one-post-unlike",
    f"What goes through several parts finds a hole of one size in each, within {format_mm(UNLIKE_MM)}.",
    "our choice",
    needs_whole=True,
    gives_way=("hole-size", "punch-unusual"),
)
def find_unlike_on_post(subject: Subject) -> Iterator[Found]:
    """Holes that say what they go through, where that piece has as many holes as are meant and not as many of that size."""
    for base in subject.build.pieces:
        told: set[str] = set()
        unlike = {(hole.through, hole.diameter_mm): hole for hole in reversed(base.marks.holes)}
        for hole in reversed(unlike.values()):
            for name in dict.fromkeys(hole.through):
                piece = subject.parts.pieces.get(name)
                own = [one for one in piece.marks.holes if not one.long_mm] if piece and piece is not base else []
                odd = [one for one in own if one.diameter_mm - hole.diameter_mm > UNLIKE_MM]
                meant = hole.through.count(name)
                if name in told or not odd or len(own) < meant or len(own) - len(odd) >= meant:
                    continue
                told.add(name)
                what = (
                    f'"{hole.takes}" goes through a hole of {subject.length(odd[0].diameter_mm)} in "{name}" and one of '
                    f'{subject.length(hole.diameter_mm)} in "{base.name}" (line {hole.place.line})'
                )
                yield odd[0].place, what, "look at both punches: what goes through both needs one size", name


def _tell(subject: Subject, base: Piece, name: str, holes: list[Hole]) -> tuple[str, str]:
    takes = holes[0].takes
    goes = f'the "{takes}" of "{name}" goes' if takes else f'what is set in "{name}" goes'
    what = f'{goes} through "{base.name}" too, on which it lands, and "{base.name}" has no hole there'
    lines = ", ".join(_hole_line(base, hole, subject.show) for hole in holes)
    return what, f'add to the holes of "{base.name}": {lines}'


def _hole_line(base: Piece, hole: Hole, show: Show) -> str:
    takes = f', takes = "{hole.takes}"' if hole.takes else ""
    return f'{{ at = "{tell_place(base, hole, show)}", punch = "{format_short_punch(hole.diameter_mm, show)}"{takes} }}'


def tell_place(piece: Piece, hole: Hole, show: Show) -> str:
    """Where a hole lies on a piece, measured from its sides or its middle, whichever gives figures that a rule has:
    "6 7/8 in from bottom, 3 1/2 in left of centre"."""
    box = outline_box(piece.outline)
    names = set(edge_names(piece.outline))
    foot, head = ("start", "end") if {"start", "end"} <= names else ("bottom", "top")
    is_upright = piece.shape in ("rectangle", "strip") or names.isdisjoint(SIDES)
    off, over = hole.at.x - box.centre.x, hole.at.y - box.centre.y
    across = [(abs(off), "right of centre" if off > 0 else "left of centre")]
    up = [(abs(over), "above middle" if over > 0 else "below middle")]
    if is_upright:
        up = [(hole.at.y - box.bottom, f"from {foot}"), (box.top - hole.at.y, f"from {head}"), *up]
        across += [(hole.at.x - box.left, "from left"), (box.right - hole.at.x, "from right")]
    return f"{_best(up, 'middle', show)}, {_best(across, 'centre', show)}"


def _best(ways: list[tuple[float, str]], middle: str, show: Show) -> str:
    """The first that a rule has, else the first; in the very middle its name alone."""
    if any(word.endswith(middle) and mm < EXACT_MM for mm, word in ways):
        return middle
    step_mm = STEPS_MM[show]
    mm, word = min(ways, key=lambda way: abs(way[0] / step_mm - round(way[0] / step_mm)) * step_mm > EXACT_MM)
    return f"{format_short(mm, show)} {word}"


@check(
    "holes-spread",
    f"Holes of a part that go through another lie as far from each other as those there, within {format_mm(SPREAD_MM)}.",
    "plane geometry; what leather gives is our choice",
    needs_whole=True,
    gives_way=("marks-askew", "strap-end-hole-lacks"),
)
def find_spread_holes(subject: Subject) -> Iterator[Found]:
    """Two holes or more of one piece through one copy of another part that has as many for them: how far each is from
    its nearest. Once for a pair of parts. A handle stands off between its ends: its holes lie farther apart."""
    build = subject.build
    for piece in build.pieces:
        through: dict[tuple[str, str], list[Hole]] = {}
        for hole in piece.marks.holes:
            for name in dict.fromkeys(hole.through) if hole.takes else ():
                through.setdefault((name, hole.takes), []).append(hole)
        for (name, takes), holes in through.items():
            layers = layers_of(name, subject)
            part = layers[0] if len(layers) == 1 else None
            if part is None or len(holes) < 2:
                continue
            twins = [twin for twin in free_holes(subject, part) if twin.takes in ("", takes) and not twin.long_mm]
            if part.marks.folds and not part.is_strap:
                twins = _half_of(part, twins)
            twins = [twin for twin in twins if piece.name in twin.through] or twins
            if max(len(holes), len(twins)) > MOST_HOLES:
                continue
            if part.cut > 1:
                if piece.cut == 1:
                    yield from _tell_copies_pairs(subject, piece, part, holes, twins)
                continue
            if piece.cut > 1:
                yield from _tell_other_pairs(subject, piece, name, holes, twins)
                continue
            gaps = [sorted(_nearest(one)) for one in (holes, twins)] if len(twins) == len(holes) else [[], []]
            offs = [abs(a - b) for a, b in zip(*gaps, strict=True)]
            if offs and max(offs) > SPREAD_MM and not _stands_off(subject, part, twins, gaps):
                worst = offs.index(max(offs))
                apart, there = (subject.length(gap[worst]) for gap in gaps)
                line = next((f" (line {twin.place.line})" for twin in reversed(twins)), "")
                what = (
                    f'holes of "{piece.name}" that go through "{name}" lie {apart} from each other, and those of "{name}" '
                    f"{there}{line}"
                )
                yield holes[-1].place, what, "measure both again", piece.name


def _half_of(part: Piece, holes: list[Hole]) -> list[Hole]:
    """The holes on one side of the only fold of a part, where it lays each on one of the other side; else none."""
    folds = [fold for fold in part.marks.folds if not fold.of_hem]
    if len(folds) != 1 or folds[0].is_open:
        return []
    turned, met = mirror_over(folds[0].start, folds[0].end), near_finder([hole.at for hole in holes], SPREAD_MM)
    half = [hole for hole in holes if folds[0].off_mm(hole.at) > 0]
    is_paired = 2 * len(half) == len(holes) and all(met(transform_point(hole.at, turned)) for hole in half)
    return half if is_paired else []


def _stands_off(subject: Subject, part: Piece, twins: list[Hole], gaps: list[list[float]]) -> bool:
    """Whether a strap is held by a hole near either end, and is longer between them, the second of the gaps, than what it
    is held on, the first: an arch. One with a row of holes closes on a buckle instead."""
    strap = subject.parts.straps.get(part.name)
    if strap is not None and strap.row_holes:
        return False
    middle_mm = outline_box(part.outline).centre.y
    is_held_twice = {twin.at.y > middle_mm for twin in twins} == {True, False}
    return part.is_strap and is_held_twice and max(gaps[1]) > max(gaps[0])


def _tell_copies_pairs(
    subject: Subject, piece: Piece, part: Piece, holes: list[Hole], twins: list[Hole]
) -> Iterator[Found]:
    """Of a part that is cut several times, each held by two holes or more of one piece, two holes that lie as not enough
    of those do."""
    if len(twins) < 2 or len(holes) != len(twins) * part.cut:
        return
    there = sorted(distance(one.at, other.at) for one, other in combinations(holes, 2))
    for one, other in combinations(twins, 2):
        apart_mm = distance(one.at, other.at)
        if bisect_right(there, apart_mm + SPREAD_MM) - bisect_left(there, apart_mm - SPREAD_MM) < part.cut:
            near_mm = min(there, key=lambda mm: abs(mm - apart_mm))
            if _stands_off(subject, part, [one, other], [[near_mm], [apart_mm]]):
                continue
            what = (
                f'holes of "{part.name}" that lie on "{piece.name}" lie {subject.length(apart_mm)} from each other, and no '
                f'{part.cut} pairs of "{piece.name}" do; the nearest lie {subject.length(near_mm)} apart (line '
                f"{holes[-1].place.line})"
            )
            yield other.place, what, "measure both again", part.name
            return


def _tell_other_pairs(
    subject: Subject, piece: Piece, name: str, holes: list[Hole], twins: list[Hole]
) -> Iterator[Found]:
    """Of a piece that is cut several times, two holes that lie as no two of those do which wait for all its copies; or as
    too few: then those that are left over."""
    if len(twins) != len(holes) * piece.cut:
        return
    there = [distance(one.at, other.at) for one, other in combinations(twins, 2)]
    for one, other in combinations(holes, 2):
        apart_mm = distance(one.at, other.at)
        near_mm = min(there, key=lambda mm: abs(mm - apart_mm))
        what = f'holes of "{piece.name}" that go through "{name}" lie {subject.length(apart_mm)} from each other'
        if abs(near_mm - apart_mm) > SPREAD_MM:
            what += (
                f', and no two of "{name}" do; the nearest is {subject.length(near_mm)} (line {twins[-1].place.line})'
            )
            yield other.place, what, "measure both again", piece.name
            return
        left = _left_over(twins, apart_mm)
        if len(holes) == 2 == len(left):
            first, last = left
            off = subject.length(distance(first.at, last.at))
            what += f' (line {other.place.line}), and these two of "{name}" {off} (line {first.place.line})'
            yield last.place, what, "measure both again", name
            return


def _left_over(holes: list[Hole], apart_mm: float) -> list[Hole]:
    """What is left of some holes when pairs that lie so far from each other are taken out, the best first."""
    pairs = combinations(range(len(holes)), 2)
    off_mm = {pair: abs(distance(holes[pair[0]].at, holes[pair[1]].at) - apart_mm) for pair in pairs}
    taken: set[int] = set()
    for pair in sorted((pair for pair in off_mm if off_mm[pair] <= SPREAD_MM), key=off_mm.__getitem__):
        taken |= {*pair} if taken.isdisjoint(pair) else set()
    return [hole for number, hole in enumerate(holes) if number not in taken]


def _nearest(holes: list[Hole]) -> Iterator[float]:
    for one in holes:
        yield min(distance(one.at, other.at) for other in holes if other is not one)
