"""Checks of holes that one layer has and the next lacks: under one end of a strap, and beside what lands."""

from collections.abc import Iterator

from docgen.assemble import riveted_places
from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.stray_holes import find_stray
from docgen.geometry.measure import is_inside
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import distance, dot, subtract
from docgen.resolve import Hole, Piece, Strap, StrapLanding, from_end_mm
from docgen.tables.hardware import KINDS_WITH_ANVIL
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM

ENDS = ("first", "second")
SET = KINDS_WITH_ANVIL - {"snap", "eyelet"} | {"screw-post"}


@check(
    "strap-end-without-hole",
    "Where one end of a strap has a hole for what its host takes beneath it, the other has its own.",
    "plain from the work",
    needs_whole=True,
)
def find_ends_without_hole(subject: Subject) -> Iterator[Found]:
    """Ends of a strap that land on holes for a rivet or the like and have none near them, where another end of it meets
    such holes; once for a strap."""
    lacking: dict[str, tuple[Piece, StrapLanding, Hole]] = {}
    met: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            holes = strap.piece.marks.holes if strap else ()
            places = [at for hole in holes for at in riveted_places(strap, end, hole.at)] if strap else []
            under = [hole for hole in _set_holes(subject, base) if is_inside(end.outline, hole.at)]
            if any(distance(hole.at, at) <= OTHER_HOLE_MM for hole in under for at in places):
                met.add(end.strap)
            elif under:
                lacking.setdefault(end.strap, (base, end, under[0]))
    for name in (name for name in lacking if name in met):
        base, end, hole = lacking[name]
        what = (
            f'the {ENDS[end.end]} end of the strap "{name}" lies on a hole of "{base.name}" for "{hole.takes}" (line '
            f"{hole.place.line}), and has no hole there"
        )
        if stray := find_stray(subject, subject.parts.straps[name], end, hole):
            mend = _beneath_words(subject.parts.straps[name], end, hole, stray[0])
            mend = mend or f"put it {stray[1]}, or measure all again"
            yield stray[0].place, f"{what}: this one of the strap meets none", mend, name
            continue
        mend = "add it to punches of the strap, or measure hole and landing again"
        yield subject.parts.straps[name].piece.place, what, mend, name


def _beneath_words(strap: Strap, end: StrapLanding, beneath: Hole, own: Hole) -> str:
    """What is to be measured on the piece, where the hole of the strap stands as far in as that beneath it, and so aside,
    or as far as the one at its other end; nothing where neither."""
    far_mm, wanted_mm = from_end_mm(strap, end.end, own.at), dot(subtract(beneath.at, end.at), end.way)
    others = [hole for hole in strap.piece.marks.holes if hole is not own]
    if abs(far_mm - wanted_mm) <= OTHER_HOLE_MM / 2:
        return f"measure again where that end lands (line {end.place.line}), or that hole of the piece"
    if any(abs(far_mm - from_end_mm(strap, 1 - end.end, hole.at)) <= HOLES_MEET_MM for hole in others):
        return f"measure that hole of the piece again, or where that end lands (line {end.place.line})"
    return ""


def _set_holes(subject: Subject, piece: Piece) -> Iterator[Hole]:
    """Holes that say what they take, where that is set on an anvil or screwed through."""
    kinds = {item.name: item.kind for item in subject.build.hardware}
    return (hole for hole in piece.marks.holes if kinds.get(hole.takes) in SET and not hole.long_mm)


@check(
    "hole-beside-landing",
    "What goes through a part that lands on its host goes through the host where that part lies.",
    "plane geometry",
    needs_whole=True,
    gives_way=("snap-halves-apart",),
)
def find_holes_beside_landings(subject: Subject) -> Iterator[Found]:
    """Holes that name a piece which lands on theirs, and lie within none of its landings; once for a piece. Ends of
    straps are told by what fastens them, where one has no hole at all."""
    for base in subject.build.pieces:
        outlines: dict[str, list[Path]] = {}
        for mark in base.marks.landings:
            outlines.setdefault(mark.piece, []).append(mark.outline)
        outlines |= _held_ends(base)
        lying = {**outlines}
        for end in base.strap_landings:
            lying.setdefault(end.strap, []).append(end.outline)
        beside: dict[str, Hole] = {}
        missed: dict[str, set[Point]] = {}
        for hole in base.marks.holes if outlines else ():
            for name in hole.through:
                if name in outlines and not any(is_inside(outline, hole.at) for outline in outlines[name]):
                    beside.setdefault(name, hole)
                    missed.setdefault(name, set()).add(hole.at)
        for name, hole in beside.items():
            own = subject.piece_spec(name)
            host = subject.piece_spec(base.name)
            items = [item for item in host.landings if item.piece and item.piece.value == name] if host else []
            lands = items[0].place.line if items else 0
            sized = own.size[0].place.line if own and own.size else 0
            lines = " and ".join(
                [*([f"line {lands}"] if lands else []), *([f"its size line {sized}"] if sized else [])]
            )
            what = f'"{hole.takes}" goes through "{name}", which lands beside this hole of "{base.name}"'
            what += f" ({lines})" if lines else ""
            every = [one for one in base.marks.holes if name in one.through]
            if len(items) == 1 < len(every) and items[0].at and all(one.at in missed[name] for one in every):
                what = f'none of the {len(every)} holes of "{base.name}" for "{name}" goes through it where it lands'
                what += f" (lines {', '.join(str(one.place.line) for one in every)})"
                yield items[0].at.place, what, "measure where it lands, or how large it is", base.name
                continue
            here = [part for part, laid in lying.items() if any(is_inside(outline, hole.at) for outline in laid)]
            punched = {part.name for part in subject.build.cut if part.marks.holes}
            if len(here) == 1 and here[0] in punched - {*hole.through}:
                what += f'; "{here[0]}" lies there'
                yield hole.place, what, f'did you mean through = ["{here[0]}"]? else measure both again', base.name
                continue
            yield hole.place, what, "measure the hole again, where that lands, or how large it is", base.name


def _held_ends(base: Piece) -> dict[str, list[Path]]:
    """Straps all of whose ends that lie fast on a piece have a hole that names them, with where these ends lie."""
    ends: dict[str, list[Path]] = {}
    for end in base.strap_landings:
        ends.setdefault(end.strap, []).append(end.outline)
    through = {name: [hole.at for hole in base.marks.holes if name in hole.through] for name in ends}
    return {
        name: outlines
        for name, outlines in ends.items()
        if all(any(is_inside(outline, at) for at in through[name]) for outline in outlines)
    }
