"""Check of straps that close a bag: from the panel that holds them, across its wall, to the buckle on the other panel."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import to_edge
from docgen.geometry.outline import SWAPPED, outline_box, outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, scale, transform_point
from docgen.resolve import Hardware, Piece, Strap, StrapLanding, by_name
from docgen.written.units.telling import format_short

TINY_MM = 0.01
WAYS = {"up": Point(0.0, 1.0), "down": Point(0.0, -1.0)}

Way = tuple[float, float, float, Piece]
"""From where a strap is held to the edge, across the wall, from the other panel's edge to its buckle; that panel."""


@check(
    "strap-misses-buckle",
    "A strap that closes over a wall reaches the buckle on the other panel with one of its holes.",
    "counted from the pieces; the leather is taken to lie flat",
    needs_whole=True,
)
def find_straps_off_buckle(subject: Subject) -> Iterator[Found]:
    """Straps held by their first end, with holes, where all buckles in line with them are equally far away."""
    for base in subject.build.pieces:
        for name, landing in {landing.strap: landing for landing in base.strap_landings if landing.end == 0}.items():
            strap = subject.parts.straps.get(name)
            is_held = (
                strap is not None and strap.ends[0].shape != "turned" and not base.own_folds
            )  # off a flap it hangs
            if strap is None or not is_held or not strap.worn_mm or strap.partner:
                continue
            ways = [*_ways_round(subject, base, strap, landing)]
            if len({round(sum(way[:3]), 3) for way in ways}) == 1:
                yield from _tell(subject, base, strap, ways[0])


@check(
    "strap-unlike-its-buckle",
    "A strap goes through the buckle it closes with, and is at most {strap_play} narrower.",
    "plain from the goods; makers' pages differ on the play, from none to 2 mm: common practice, no published source",
    needs_whole=True,
)
def find_straps_unlike_buckles(subject: Subject) -> Iterator[Found]:
    """Straps that close over a wall, against the buckle in line with them on the other panel; once for a strap."""
    hardware = by_name(subject.build.hardware)
    most_mm = subject.build.limits.strap_play_mm
    for base in subject.build.pieces:
        for name, landing in {landing.strap: landing for landing in base.strap_landings if landing.end == 0}.items():
            strap = subject.parts.straps.get(name)
            if strap is None or not strap.worn_mm or strap.partner:
                continue
            for buckle in dict.fromkeys(_buckles_across(subject, base, strap, landing)):
                item = hardware[buckle]
                if item.inside_mm and not item.inside_mm - most_mm <= strap.width_mm <= item.inside_mm:
                    yield _tell_width(subject, strap, item)
                    break


def _buckles_across(subject: Subject, base: Piece, strap: Strap, landing: StrapLanding) -> Iterator[str]:
    """Buckles that pieces on the panel across the wall hold in line with a strap."""
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    off_mm = _off_centre_mm(base, landing.at)
    for panel, _ in panels_across(subject, base):
        for buckle, at in bars_on(subject, panel, buckles):
            if abs(_off_centre_mm(panel, at) - off_mm) <= strap.width_mm / 2:
                yield buckle


def _tell_width(subject: Subject, strap: Strap, item: Hardware) -> Found:
    specs = {spec.name: spec.width for spec in subject.spec.straps}
    insides = {spec.name: spec.inside for spec in subject.spec.hardware}
    width, inside = specs[strap.name], insides[item.name]
    line = f" (line {inside.place.line})" if inside else ""
    what = (
        f'the strap "{strap.name}" is {subject.length(strap.width_mm)} wide, and the {item.what} it closes with takes '
        f"{subject.length(item.inside_mm)}{line}"
    )
    return width.place if width else strap.piece.place, what, "look at both figures: they belong together", strap.name


def _tell(subject: Subject, base: Piece, strap: Strap, way: Way) -> Iterator[Found]:
    shortest_mm, longest_mm, needed_mm = min(strap.worn_mm), max(strap.worn_mm), sum(way[:3])
    if shortest_mm - TINY_MM <= needed_mm <= longest_mm + TINY_MM:
        return
    up, across, down, needed = map(subject.length, (*way[:3], needed_mm))
    what = (
        f'the strap "{strap.name}" wears {subject.length(shortest_mm)} to {subject.length(longest_mm)}, and its buckle '
        f'is {needed} away: {up} to the edge of "{base.name}", {across} across, {down} from that of "{way[3].name}"'
    )
    wears = next(spec.wears for spec in subject.spec.straps if spec.name == strap.name)
    place = wears.place if wears else strap.piece.place
    yield place, what, f'write wears = "{format_short(needed_mm, subject.show)}", or move the buckle', strap.name


def _ways_round(subject: Subject, base: Piece, strap: Strap, landing: StrapLanding) -> Iterator[Way]:
    """The way to each buckle that a piece on the panel across holds in line with a strap."""
    if landing.leads not in WAYS:
        return
    way = WAYS[landing.leads]
    buckles = {item.name for item in subject.build.hardware if item.kind == "buckle"}
    off_mm = _off_centre_mm(base, landing.at)
    for panel, across_mm in panels_across(subject, base):
        for _, at in bars_on(subject, panel, buckles):
            if abs(_off_centre_mm(panel, at) - off_mm) <= strap.width_mm / 2:
                far_mm = to_edge(outline_path(panel.sewn_outline), at, way)
                yield to_edge(outline_path(base.sewn_outline), landing.at, way), across_mm, far_mm, panel


def panels_across(subject: Subject, base: Piece) -> Iterator[tuple[Piece, float]]:
    """Panels that a wall of one width holds apart from this one, and that width."""
    sides = [
        (seam, side)
        for seam in subject.build.seams
        for side in seam.sides
        if len(side.edges) == 1 and side.edges[0] in SWAPPED and not side.stretch_mm
    ]
    for seam, near in sides:
        if near.part != base.name and base.name in seam.parts:
            for other, far in sides:
                if far.part == near.part and far.edges == (SWAPPED[near.edges[0]],):
                    names = {side.part for side in other.sides if side.edges} - {far.part, base.name}
                    panels = (piece for piece in subject.build.pieces if piece.name in names)
                    yield from ((panel, _width_mm(subject, far.part)) for panel in panels)


def _width_mm(subject: Subject, wall: str) -> float:
    if wall in subject.parts.joins:
        return subject.parts.joins[wall].width_mm
    return outline_box(subject.parts.pieces[wall].sewn_outline).width if wall in subject.parts.pieces else 0.0


def bars_on(subject: Subject, panel: Piece, buckles: set[str]) -> Iterator[tuple[str, Point]]:
    """The buckles round which pieces that land on a panel are folded, or the far ends of straps, and where on that."""
    for landing in panel.marks.landings:
        piece = subject.parts.pieces.get(landing.piece)
        for fold in piece.marks.folds if piece else ():
            if fold.around in buckles:
                yield fold.around, transform_point(fold.middle, landing.move)
    for held in panel.strap_landings:
        strap = subject.parts.straps.get(held.strap)
        rings = strap.ends[1 - held.end].rings if strap else ()
        if strap and strap.finished_mm and not buckles.isdisjoint(rings):
            bar = next(name for name in rings if name in buckles)
            yield bar, add(held.at, scale(held.way, strap.finished_mm))


def _off_centre_mm(piece: Piece, at: Point) -> float:
    return abs(at.x - outline_box(piece.sewn_outline).centre.x)
