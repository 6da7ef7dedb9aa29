"""Check of tabs that hardware alone holds: whichever way they point, they lie clear of the edges and seams of what they
are set on."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import gap_finder
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_area
from docgen.resolve import Hole, Piece, Seam

OVER_MM = 1.0  # by so much less nothing hangs over an edge: our choice
IN_LINE_MM = 0.5


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
