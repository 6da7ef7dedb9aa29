"""Check of tabs that hardware alone holds: whichever way they point, they lie clear of the edges and seams of what they
are set on."""

from collections.abc import Iterator
from itertools import pairwise

from docgen.assemble import Placed, Vec
from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import gap_finder, is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_area
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import between, distance, transform_point
from docgen.resolve import Hole, Piece, Seam

OVER_MM = 1.0  # by so much less nothing hangs over an edge: our choice
IN_LINE_MM = 0.5
COARSE_MM, FINE_MM = 3.0, 0.25  # by which a row is looked at, first whether any of it lies there
ON_FACE_MM = 0.5
LEAST_MM = 5.0  # of a row under a tab, more than a stitch at its rim: our choice


@check(
    "tab-over-seam",
    "What is riveted on beside an edge stays within it, and clear of the seam that sews that edge to another wall.",
    "plane geometry; what a seam is to catch too has a landing",
    needs_whole=True,
    gives_way=("hole-near-edge", "hole-on-stitch-line"),
)
def find_tabs_over_seams(subject: Subject) -> Iterator[Found]:
    """Pieces that no landing places, by the least from their hole to an edge of their own: so far they reach to every side;
    once for a hole of what they are set on. Not what has the other half of a snap."""
    snaps = {item.name for item in subject.build.hardware if item.kind == "snap"}
    titles = {piece.title: piece for piece in subject.build.pieces}
    landed = {(base.name, landing.piece) for base in subject.build.pieces for landing in base.marks.landings}
    for base in subject.build.pieces:
        for hole in (one for one in base.marks.holes if one.takes not in snaps):
            tabs = [titles[it] for it in hole.meets if it in titles and _is_tab(titles[it], base, landed)]
            for tab, reach_mm in ((one, _reach_mm(one, base)) for one in tabs):
                seam = _covered(subject, base, hole, tab, reach_mm)
                edge_mm = gap_finder(outline_path(base.outline))(hole.at)
                if not seam and edge_mm > reach_mm - OVER_MM:
                    continue
                is_over = edge_mm < reach_mm - OVER_MM
                covers = (
                    "hangs over the edge" if is_over else f'covers the stitch line of "{seam.name if seam else ""}"'
                )
                what = (
                    f'"{tab.name}" is set on "{base.name}" {subject.length(edge_mm)} from the edge, reaches '
                    f"{subject.length(reach_mm)} to every side of its hole, and {covers}"
                )
                least_mm = edge_mm + reach_mm - (_line_gap_mm(base, seam.name, hole) if seam else edge_mm)
                mend = f"put this hole {subject.length(least_mm)} from the edge, or more"
                if seam:
                    mend += f'; where the seam is to catch it, write in landings of "{base.name}" where it lies'
                yield hole.place, what, mend, base.name
                break


def _is_tab(tab: Piece, base: Piece, landed: set[tuple[str, str]]) -> bool:
    """Whether neither of two pieces has a place on the other, and this one is smaller and held at one spot: by one hole, or
    folded round a fitting."""
    is_placed = (base.name, tab.name) in landed or (tab.name, base.name) in landed
    areas = [path_area(outline_path(piece.outline)) for piece in (tab, base)]
    is_held = len(tab.marks.holes) == 1 or any(fold.around for fold in tab.own_folds)
    return is_held and tab is not base and not is_placed and areas[0] < areas[1]


def _reach_mm(tab: Piece, base: Piece) -> float:
    """The least from a hole of a tab that is there for this piece to its own edge."""
    gap = gap_finder(outline_path(tab.outline))
    return min((gap(one.at) for one in tab.marks.holes if base.title in one.meets), default=0.0)


def _covered(subject: Subject, base: Piece, hole: Hole, tab: Piece, reach_mm: float) -> Seam | None:
    """The seam that sews an edge of the piece to another wall, and whose line lies beneath the tab, uncaught."""
    near = {line.seam for line in base.marks.stitch_lines if gap_finder(line.path)(hole.at) < reach_mm - IN_LINE_MM}
    caught = {once.seam for once in subject.build.assembly.sewn if near and tab.name in once.stack.parts}
    return next(
        (seam for seam in subject.build.seams if seam.name in near - caught and _is_corner(subject, seam)), None
    )


def _is_corner(subject: Subject, seam: Seam) -> bool:
    """Whether two parts of leather meet in a seam by their edges, edge on edge."""
    walls = [
        side.part
        for side in seam.sides
        if side.edges and not side.lap_mm and all(_is_leather(subject, it) for it in subject.parts.strips(side.part))
    ]
    return len({*walls} & {*subject.parts.pieces, *subject.parts.joins}) > 1


def _is_leather(subject: Subject, piece: Piece) -> bool:
    material = subject.material(piece)
    return material is not None and material.kind == "leather"


def _line_gap_mm(base: Piece, seam: str, hole: Hole) -> float:
    """How far a hole lies from the line of a seam on its piece; far from one that has none there."""
    lines = [line for line in base.marks.stitch_lines if line.seam == seam]
    return min((gap_finder(line.path)(hole.at) for line in lines), default=float("inf"))


@check(
    "row-under-tab",
    "What is riveted on before a row is sewn does not lie on that row, or has a landing, so that its layers are counted.",
    "plain from the work; what lies under the needle is told of landings and seams alone",
    needs_whole=True,
    gives_way=("tab-over-seam", "hole-near-edge", "hole-on-stitch-line"),
)
def find_rows_under_tabs(subject: Subject) -> Iterator[Found]:
    """Pieces that hang by their holes alone, by the rows of the part that they hang on which a later event sews, and which
    do not count them; once for a piece."""
    told: set[str] = set()
    for tab in subject.space.parts:
        host = subject.space.part(tab.host) if tab.host and tab.how == "hangs on" else None
        if host is None or tab.copy.part in told or {tab.copy, host.copy} & {*subject.space.doubtful}:
            continue
        if found := _find_row_under(subject, tab, host):
            told.add(tab.copy.part)
            yield found


def _find_row_under(subject: Subject, tab: Placed, host: Placed) -> Found | None:
    name, assembly = tab.copy.part, subject.build.assembly
    names = {host.copy.part, *(strip.piece.name for strip in host.item.strips)}
    posts = [one for one in assembly.fastened if name in one.stack.parts and not names.isdisjoint(one.stack.parts)]
    if not posts or name not in subject.parts.pieces:
        return None
    first = min(posts, key=lambda one: one.event)
    for once in assembly.sewn:
        if once.event <= first.event or name in once.stack.parts or names.isdisjoint(once.parts):
            continue
        under_mm = _under_mm(tab, host, once.seam, FINE_MM) if _under_mm(tab, host, once.seam, COARSE_MM) else 0.0
        if under_mm < LEAST_MM:
            continue
        piece = subject.parts.pieces[name]
        rings = dict.fromkeys(fold.around for fold in piece.own_folds if fold.around)
        held = " and ".join([f'"{name}"', *(f'"{ring}" in its fold' for ring in rings)])
        what = (
            f'"{name}" is set on "{_strip_of(tab, host)}" before the seam "{once.seam}" is sewn, and lies on '
            f"{subject.length(under_mm)} of its row: the needle meets {held}, which is not counted there"
        )
        mend = (
            f"set it farther from that row, or after it; where the row is to catch it, write in landings of "
            f'"{_strip_of(tab, host)}" where it lies'
        )
        return first.place, what, mend, name
    return None


def _strip_of(tab: Placed, host: Placed) -> str:
    """The piece on which it hangs: of a join that strip which its hole names, else the nearest to it."""
    strips = [strip.piece.name for strip in host.item.strips]
    named = [one for hole in tab.item.holes for one in hole.through if one in strips]
    titles = {title for hole in tab.item.holes for title in hole.meets}
    met = [strip.piece.name for strip in host.item.strips if strip.piece.title in titles]
    return next(iter([*named, *met]), strips[0] if len(strips) == 1 else host.copy.part)


def _under_mm(tab: Placed, host: Placed, seam: str, step_mm: float) -> float:
    """How much of the row of a seam on its host lies under a tab."""
    outline, under_mm = outline_path(tab.item.outline), 0.0
    for points in _rows(host, seam):
        for start, end in pairwise(points):
            count = max(1, round(distance(start, end) / step_mm))
            spots = (host.surface.point(between(start, end, (k + 0.5) / count)) for k in range(count))
            under_mm += distance(start, end) / count * sum(_lies_under(tab, outline, at) for at in spots)
    return under_mm


def _rows(host: Placed, seam: str) -> list[tuple[Point, ...]]:
    """The rows of a seam on a part: of a join those on its strips, else along it."""
    own = [
        tuple(transform_point(at, strip.move) for at in flatten(line.path))
        for strip in host.item.strips
        for line in strip.piece.marks.stitch_lines
        if line.seam == seam
    ]
    return own or [flatten(mark.path) for mark in host.item.marks if (mark.kind, mark.name) == ("stitch", seam)]


def _lies_under(tab: Placed, outline: Path, at: Vec) -> bool:
    feet = (tab.surface.foot(band, at) for band in tab.surface.bands)
    return any(foot is not None and abs(lift_mm) < ON_FACE_MM and is_inside(outline, foot) for foot, lift_mm in feet)
