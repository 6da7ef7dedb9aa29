"""Check of holes that hardware goes through a part without: where it is to be punched, and the line that says so."""

from collections.abc import Iterator, Sequence

from docgen.assemble import laid_places, riveted_places
from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import edge_names, outline_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, distance
from docgen.read import LandingSpec
from docgen.resolve import Hole, Landing, Piece, Strap, StrapLanding
from docgen.tables.sewing import HOLES_MEET_MM, OTHER_HOLE_MM
from docgen.written.units.table import MM_PER_INCH
from docgen.written.units.telling import Show, format_mm, format_short

STEPS_MM = {"in": MM_PER_INCH / 32, "mm": 0.5}  # what a rule reads
EXACT_MM = 0.01
UNLIKE_MM = 1.0  # what two holes for one fitting may differ
SIDES = ("left", "right", "top", "bottom")


@check(
    "hole-without-mate",
    "Where hardware goes through a part that lands and the one beneath, both have the hole, within "
    f"{format_mm(HOLES_MEET_MM)}.",
    "plain from the work",
    needs_whole=True,
)
def find_holes_without_mate(subject: Subject) -> Iterator[Found]:
    """Of each part that lands, all holes that the one beneath lacks, with the lines that would mark them."""
    for base in subject.build.pieces:
        lacking: dict[str, list[Hole]] = {}
        for landing in base.marks.landings:
            lacking.setdefault(landing.piece, []).extend(landing.holes)
        for end in base.strap_landings:
            lacking.setdefault(end.strap, []).extend(end.holes)
        for name, holes in lacking.items():
            if holes:
                yield holes[0].place, *_tell(subject, base, name, holes), base.name


@check(
    "strap-end-misses-rivet",
    "Where a strap lies fast, what goes through it from the piece beneath finds a hole in it, and lies on what lies fast.",
    "plain from the work",
    needs_whole=True,
)
def find_missed_strap_ends(subject: Subject) -> Iterator[Found]:
    """Holes of a piece through a strap that lands there: none in the strap, or one beyond what lies fast. Ends that are
    turned, and those whose own holes lack theirs beneath, are told elsewhere."""
    for base in subject.build.pieces:
        written = [
            item for spec in subject.spec.pieces if spec.name == base.name for item in spec.landings if item.strap
        ]
        for landing in base.strap_landings:
            strap = subject.parts.straps.get(landing.strap)
            item = next((item for item in written if item.place == landing.place), None)
            if strap is None or item is None or landing.holes or strap.ends[landing.end].shape == "turned":
                continue
            spots = [riveted_places(strap, landing, hole.at) for hole in strap.piece.marks.holes]
            for hole in base.marks.holes:
                gap_mm = min((distance(at, hole.at) for places in spots for at in places), default=OTHER_HOLE_MM + 1)
                meets, is_near = gap_mm <= HOLES_MEET_MM + EXACT_MM, gap_mm <= OTHER_HOLE_MM  # near: told as apart
                is_missed = is_inside(landing.outline, hole.at) != meets and (meets or not is_near)
                if strap.name in hole.through and is_missed:
                    yield _tell_missed(subject, base, strap, item, hole, meets)
                    break


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
            by = Point(landing.dx_mm, landing.dy_mm)
            for hole in piece.marks.holes if piece else ():
                places = [add(at, by) for at in laid_places(piece, hole.at)] if piece else []
                met = [own for own in base.marks.holes if any(distance(own.at, at) <= HOLES_MEET_MM for at in places)]
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


def _tell_missed(subject: Subject, base: Piece, strap: Strap, item: LandingSpec, hole: Hole, meets: bool) -> Found:
    at = f'the hole of "{base.name}" at {tell_place(base, hole, subject.show)} (line {hole.place.line})'
    if meets:
        place = item.over.place if item.over else item.place
        what = f'{at} goes through "{strap.name}" beyond what of it lies fast'
        return place, what, "look at over: what lies fast goes on beyond its last rivet", base.name
    punches = next((spec.punches for spec in subject.spec.straps if spec.name == strap.name), ())
    place = punches[0].place if punches else strap.piece.place
    what = f'{at} goes through "{strap.name}", which has no hole there (its punches begin in line {place.line})'
    return place, what, "look at the punches of the strap, and where it lands", strap.name


def _tell(subject: Subject, base: Piece, name: str, holes: list[Hole]) -> tuple[str, str]:
    takes = holes[0].takes
    goes = f'the "{takes}" of "{name}" goes' if takes else f'what is set in "{name}" goes'
    what = f'{goes} through "{base.name}" too, on which it lands, and "{base.name}" has no hole there'
    lines = ", ".join(_hole_line(base, hole, subject.show) for hole in holes)
    return what, f'add to the holes of "{base.name}": {lines}'


def _hole_line(base: Piece, hole: Hole, show: Show) -> str:
    takes = f', takes = "{hole.takes}"' if hole.takes else ""
    return f'{{ at = "{tell_place(base, hole, show)}", punch = "{format_short(hole.diameter_mm, show)}"{takes} }}'


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
    "hole-off-landing",
    "Where a hole goes through what lands on its piece, that lies there, and has its hole there.",
    "plain from the work",
    needs_whole=True,
)
def find_holes_off_landings(subject: Subject) -> Iterator[Found]:
    """Holes that name what lands on their piece, beside all its landings there, or where it has no hole; once for each
    hole. What lands with holes of its own that the base lacks is told by them."""
    for base in subject.build.pieces:
        ends = {name: [it for it in base.strap_landings if it.strap == name] for name in subject.parts.straps}
        for hole in base.marks.holes:
            for name in hole.through if hole.takes else ():
                found: list[StrapLanding | Landing] = [*ends.get(name, ())]
                found += [it for it in base.marks.landings if it.piece == name]
                if not found or any(it.holes for it in found):
                    continue
                here = [it for it in found if is_inside(it.outline, hole.at)]
                title = subject.build.part_titles[name]
                if not here:
                    what = f'a hole in "{base.name}" goes through "{name}", which lands beside it'
                elif title not in hole.meets and _is_bare(subject, here, hole):
                    what = f'a hole in "{base.name}" goes through "{name}", and where that lands it has no hole'
                else:
                    continue
                yield hole.place, what, f'measure the hole, the landing and the holes of "{name}" again', base.name
                break


def _is_bare(subject: Subject, here: Sequence[StrapLanding | Landing], hole: Hole) -> bool:
    """Whether what lands there has holes, and none near this one. A strap whose end is turned may be punched through both
    its layers, and what has no hole at all is marked through."""
    spots: list[Point] = []
    for landing in here:
        if isinstance(landing, StrapLanding):
            strap = subject.parts.straps[landing.strap]
            if any(end.shape == "turned" for end in strap.ends):
                return False
            holes = strap.piece.marks.holes[strap.row_holes :]
            spots += [at for one in holes for at in riveted_places(strap, landing, one.at)]
        else:
            piece, by = subject.parts.pieces[landing.piece], Point(landing.dx_mm, landing.dy_mm)
            spots += [add(at, by) for one in piece.marks.holes for at in laid_places(piece, one.at)]
    return bool(spots) and min(distance(at, hole.at) for at in spots) > OTHER_HOLE_MM
