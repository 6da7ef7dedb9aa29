"""Checks of the ends of straps where they lie fast on a piece: what fastens them, and what they go through."""

from collections import Counter
from collections.abc import Iterator

from docgen.assemble import laid_places, riveted_places
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.closing import closes_flap
from docgen.checks.trade.holes import free_holes
from docgen.checks.trade.stray_holes import find_stray
from docgen.geometry.measure import is_inside
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.problems import count_words
from docgen.resolve import Hole, Piece, Strap, StrapLanding, from_end_mm
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM

BACK = {"left": "right", "right": "left", "up": "down", "down": "up"}
"""The way against each in which the end of a strap leads."""


@check(
    "strap-end-unheld",
    "What fastens the end of a strap goes through the part of it that lies fast.",
    "plane geometry",
    needs_whole=True,
)
def find_unheld_ends(subject: Subject) -> Iterator[Found]:
    """Ends that no stitch holds, where the piece has holes that name the strap, and none in what lies fast of it."""
    for base in subject.build.pieces:
        for end in base.strap_landings:
            through = [hole for hole in base.marks.holes if end.strap in hole.through]
            if end.stitch or not through or any(_is_in(end, hole) for hole in through):
                continue
            nearest = min(through, key=lambda hole: distance(hole.at, end.at))
            if sum(other.strap == end.strap for other in base.strap_landings) > len(through):
                continue  # told by how many there are
            what = (
                f'{subject.length(end.over_mm)} of "{end.strap}" lie on "{base.name}", and no hole that fastens it goes '
                f"through that (line {nearest.place.line})"
            )
            mend = "look at over and its unit, and measure the hole and the landing again"
            if is_inside(end.outline, Point(2 * end.at.x - nearest.at.x, 2 * end.at.y - nearest.at.y)):
                mend = f'write leads = "{BACK[end.leads]}", or {mend}'
            yield end.place, what, mend, base.name


@check(
    "strap-end-hole-lacks",
    "Where a strap lies fast, it has as many holes as the piece has there for what fastens it.",
    "counted; what is punched through when it lies there may be accepted",
    needs_whole=True,
)
def find_lacking_holes(subject: Subject) -> Iterator[Found]:
    """Ends with some of the holes that the piece beneath has for one fitting, and not all; once for a strap."""
    told: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            if strap is None or strap.ends[end.end].shape == "turned":
                continue
            here = [hole for hole in base.marks.holes if hole.takes and _is_in(end, hole)]
            met = [hole for hole in here if _is_met(subject, strap, end, hole)]
            takes = {hole.takes for hole in met}
            lacking = [hole for hole in here if hole not in met and hole.takes in takes]
            if lacking and end.strap not in told:
                told.add(end.strap)
                idle = _find_idle(subject, strap, end, here)
                what = (
                    f'"{base.name}" has {count_words(len(here), "hole")} where "{strap.name}" lies fast, and the strap '
                    f"{len(met)} of them (line {end.place.line})"
                )
                stray = None if idle else find_stray(subject, strap, end, lacking[0])
                if stray is not None:
                    what += f": this one of the strap meets none (line {lacking[0].place.line})"
                    yield stray[0].place, what, f"put it {stray[1]}, or measure both again", base.name
                elif idle is None:
                    yield (
                        lacking[0].place,
                        what,
                        f'punch "{strap.name}" there too, or measure this hole again',
                        base.name,
                    )
                else:
                    what += f": this one of the strap meets none (line {lacking[0].place.line})"
                    yield idle.place, what, f'measure it and that of "{base.name}" again', base.name


def _find_idle(subject: Subject, strap: Strap, end: StrapLanding, here: list[Hole]) -> Hole | None:
    """The only hole of a strap near an end that lies fast that meets none of those beneath."""
    idle = [
        twin
        for twin in free_holes(subject, strap.piece)
        if 2 * from_end_mm(strap, end.end, twin.at) < strap.cut_length_mm
        and all(
            distance(spot, hole.at) > HOLES_MEET_MM for spot in riveted_places(strap, end, twin.at) for hole in here
        )
    ]
    return idle[0] if len(idle) == 1 else None


def _is_in(end: StrapLanding, hole: Hole) -> bool:
    return is_inside(end.outline, hole.at)


def _is_met(subject: Subject, strap: Strap, end: StrapLanding, hole: Hole) -> bool:
    own = free_holes(subject, strap.piece)
    return any(distance(spot, hole.at) <= HOLES_MEET_MM for twin in own for spot in riveted_places(strap, end, twin.at))


@check(
    "strap-wider-than-any",
    "A strap with holes goes through some buckle of the build.",
    "plain from the goods",
    needs_whole=True,
)
def find_too_wide(subject: Subject) -> Iterator[Found]:
    """Straps that name no partner and turn round no buckle, each at its ends with holes."""
    insides = {item.name: item.inside_mm for item in subject.build.hardware if item.kind == "buckle"}
    if not insides or not all(insides.values()):
        return
    widest = max(insides, key=lambda name: insides[name])
    line = subject.written_at(subject.spec.hardware, widest, "inside").line
    for strap in subject.build.straps:
        rows = [which for which, row in enumerate((strap.first_tips_mm, strap.hole_tips_mm)) if row]
        if strap.partner or any(name in insides for end in strap.ends for name in end.rings):
            continue
        wide_mm = min((strap.end_width_mm(which) for which in rows), default=0.0)
        if wide_mm > insides[widest] + 1e-6:
            what = (
                f'the strap "{strap.name}" is {subject.length(wide_mm)} wide at its holes, and the widest buckle, '
                f'"{widest}", takes {subject.length(insides[widest])} (line {line})'
            )
            place = subject.written_at(subject.spec.straps, strap.name, "width")
            yield place, what, f"make it {subject.length(insides[widest])} or less, or take a wider buckle", strap.name


@check(
    "through-uneven",
    "What comes through a part from others fills all of its holes, on as many copies of it as there are.",
    "counted",
    needs_whole=True,
)
def find_uneven_ways(subject: Subject) -> Iterator[Found]:
    """Pieces with several plain holes that others name, in a number that leaves one copy with some of them filled: told at
    the copies of what names them, where too few are cut, else at a hole of it."""
    for piece, by, plain, named in _uneven(subject):
        what = (
            f'{count_words(named, "hole")} of other parts {"goes" if named == 1 else "go"} through "{piece.name}", which '
            f"has {len(plain)} in each copy (line {plain[0].place.line}): some stay without"
        )
        wanted = _count_wanted(subject, piece, by, len(plain), named)
        if wanted:
            yield subject.written_at(subject.spec.pieces, by.name, "cut"), what, f"write cut = {wanted}", by.name
            continue
        last = [hole for hole in by.marks.holes if piece.name in hole.through and hole.takes][-1]
        bare = next((one for one in by.marks.holes if _is_left_bare(by, one, piece.name, last.takes)), None)
        mend = f'look whether a hole is missing that names "{piece.name}"'
        if bare is None:
            yield last.place, what, mend, piece.name
        else:
            yield bare.place, what, f'write through = ["{piece.name}"] for this one too, or {mend}', piece.name


def find_uneven_copies(subject: Subject) -> Iterator[Found]:
    """Those of them that are told at the copies of a piece."""
    yield from (found for found in find_uneven_ways(subject) if found[2].startswith("write cut"))


def _uneven(subject: Subject) -> Iterator[tuple[Piece, Piece, list[Hole], int]]:
    """Such pieces, with the last that names them, their holes, and how many holes do."""
    named: Counter[str] = Counter()
    last: dict[str, Piece] = {}
    for piece in subject.build.pieces:
        for hole in piece.marks.holes:
            for name in hole.through if hole.takes else ():
                named[name] += piece.cut
                last[name] = piece
    for piece in subject.build.pieces:
        plain = [hole for hole in piece.marks.holes if not hole.takes and not hole.long_mm]
        is_plain = len(plain) == len(piece.marks.holes) and len({hole.diameter_mm for hole in plain}) == 1
        if len(plain) > 1 and is_plain and named[piece.name] % len(plain) and not piece.marks.folds:
            yield piece, last[piece.name], plain, named[piece.name]


def _count_wanted(subject: Subject, piece: Piece, by: Piece, plain: int, named: int) -> int:
    """How many copies of the only piece that names another would fill its holes, where it is folded round hardware of
    which as many are counted; 0 where none would."""
    brought = sum(piece.name in hole.through and bool(hole.takes) for hole in by.marks.holes)
    around = {fold.around for fold in by.marks.folds}
    is_only = named == brought * by.cut and plain % brought == 0
    wanted = plain // brought
    return wanted if is_only and any(it.name in around and it.count == wanted for it in subject.build.hardware) else 0


def _is_left_bare(piece: Piece, hole: Hole, name: str, takes: str) -> bool:
    """Whether a hole takes what others take through a part, and neither names that nor is laid on one that does."""
    naming = [one.at for one in piece.marks.holes if name in one.through]
    places = laid_places(piece, hole.at)
    is_apart = all(distance(at, to) > OTHER_HOLE_MM for at in places for to in naming)
    return hole.takes == takes and name not in hole.through and is_apart


@check(
    "hole-covered",
    "No hole lies whole beneath what lands there, unless something goes through it.",
    "plain from the work; one that is meant may be accepted",
    needs_whole=True,
)
def find_covered_holes(subject: Subject) -> Iterator[Found]:
    """Oblong holes, round ones that take nothing and that no other part names, and those for eyelets, locks and the like,
    beneath a piece that is sewn on round three sides or more."""
    open_ = {item.name for item in subject.build.hardware if item.kind == "eyelet" or closes_flap(item)}
    named = {name for piece in subject.build.cut for hole in piece.marks.holes for name in hole.through}
    for base in subject.build.pieces:
        if base.name in named:
            continue
        for hole in base.marks.holes:
            over = next((name for name in _sewn_over(subject, base, hole)), "")
            if over and hole.takes in ("", *open_) and not hole.meets and over not in hole.through:
                line = subject.size_place(subject.parts.pieces[over], is_across=False).line
                what = (
                    f'a hole of "{base.name}" lies beneath "{over}" (line {line}), which lands on it and has none there'
                )
                yield hole.place, what, "measure again from which side it lies, or punch both", base.name


def _sewn_over(subject: Subject, base: Piece, hole: Hole) -> Iterator[str]:
    flat = {
        side.part
        for seam in subject.build.seams
        if any(other.part == base.name and not other.edges for other in seam.sides)
        for side in seam.sides
        if len(side.edges) >= 3
    }
    yield from (
        landing.piece
        for landing in base.marks.landings
        if landing.piece in flat and is_inside(landing.outline, hole.at)
    )
