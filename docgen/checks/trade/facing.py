"""Checks of panels that face each other: across a wall their corners must come opposite each other, and two that are sewn
back to back do not both face out by the same edge."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise, product

from docgen.assemble import Assembled
from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.fitting import lay_on
from docgen.geometry.outline import SWAPPED, edge_path
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Line, Path, Point
from docgen.geometry.vector import distance, transform_point
from docgen.read import Spec
from docgen.resolve import Seam, SeamSide
from docgen.tables.sewing import EDGES_APART_MM
from docgen.written.units.telling import format_length, format_mm, format_number

PLACES = 80
LEAST_TURN = math.radians(10)

Panel = tuple[Seam, str, Path]
"""A seam of a wall, the panel that it sews there, and its stitch line on that."""


@check(
    "corners-apart",
    f"Panels on both sides of one wall turn at the same places along it, within {format_mm(EDGES_APART_MM)}.",
    "plane geometry; what leather gives is our choice",
    stops=True,
    needs_whole=True,
)
def find_corners_apart(subject: Subject) -> Iterator[Found]:
    """A strip of one width stands on both runs alike, so that the one must lie on the other, as it is or turned over."""
    build = subject.build
    for wall in _walls(build):
        for one in _panels_on(build, wall, "left"):
            for other in _panels_on(build, wall, "right"):
                if _is_one_panel(one, other):
                    continue
                first, second = _places(one[2]), _lay_on(_places(one[2]), _places(other[2]))
                apart_mm = max(map(distance, first, second))
                if apart_mm > EDGES_APART_MM + max(one[0].eased_mm, other[0].eased_mm):
                    yield other[0].place, *_tell(subject, wall, (one, other), (first, second), apart_mm), wall


def _is_one_panel(one: Panel, other: Panel) -> bool:
    """Whether copies of one piece are sewn there by the same edges, the one before a hem at their ends is turned over and
    the other after: they are alike, and only their rows are not."""
    own, its = ([side for side in seam.sides if side.part == part] for seam, part, _ in (one, other))
    alike = one[1] == other[1] and [side.edges for side in own] == [side.edges for side in its]
    return alike and {side.is_unturned for side in own} != {side.is_unturned for side in its}


def _walls(build: Assembled) -> Iterator[str]:
    """Strips with two straight edges of one length, and joins of strips."""
    yield from (join.name for join in build.joins if not join.is_ring)
    for piece in build.pieces:
        if piece.shape in ("strip", "rectangle"):
            paths = [edge_path(piece.outline, name) for name in ("left", "right")]
            is_straight = all(len(path.segments) == 1 and isinstance(path.segments[0], Line) for path in paths)
            if is_straight and math.isclose(path_length(paths[0]), path_length(paths[1]), abs_tol=1e-6):
                yield piece.name


def _panels_on(build: Assembled, wall: str, edge: str) -> list[Panel]:
    """Panels along an edge of a wall: pieces with one open stitch line there that turns. What is straight, as a lining of
    the wall, follows it."""
    lines: dict[tuple[str, str], list[Path]] = {}
    for piece in build.pieces:
        for line in piece.marks.stitch_lines:
            if line.row == 0:
                lines.setdefault((piece.name, line.seam), []).append(line.path)
    found = []
    for seam in build.seams:
        if any(side.part == wall and side.edges == (edge,) and not side.stretch_mm for side in seam.sides):
            for side in seam.sides:
                paths = lines.get((side.part, seam.name), [])
                if side.part != wall and side.edges and len(paths) == 1 and _is_bent(paths[0]):
                    found.append((seam, side.part, paths[0]))
    return found


def _is_bent(path: Path) -> bool:
    """Whether a run turns, and does not close on itself."""
    return not path.closed and max(map(abs, _turns(_places(path)))) > LEAST_TURN


def _places(path: Path) -> list[Point]:
    """Points at equal distances along a path."""
    length_mm = path_length(path)
    return [at for at, _ in points_at(path, (length_mm * k / PLACES for k in range(PLACES + 1)))]


def _lay_on(under: Sequence[Point], points: Sequence[Point]) -> list[Point]:
    """The second run laid on the first where it fits it best: from either end, as it is or turned over; of ways that fit
    alike but for the last bits the first."""
    ways = product((points, points[::-1]), (False, True))
    laid = [(way, *lay_on(way, under, is_mirrored=is_mirrored)) for way, is_mirrored in ways]
    best, move, _ = min(laid, key=lambda way: round(way[2], 6))
    return [transform_point(at, move) for at in best]


def _tell(
    subject: Subject, wall: str, panels: tuple[Panel, Panel], runs: tuple[list[Point], list[Point]], apart_mm: float
) -> tuple[str, str]:
    """What is wrong, where the one has turned farthest beyond the other."""
    one, other = (_turns(run) for run in runs)
    worst = max(range(len(one)), key=lambda k: round(abs(abs(one[k]) - abs(other[k])), 6))
    show, along_mm = subject.show, panels[0][0].length_mm * (worst + 0.5) / PLACES  # in the middle of its stretch
    degrees = [format_number(abs(math.degrees(turns[worst])), 0) for turns in (one, other)]
    what = (
        f'"{wall}" stands between "{panels[0][1]}" and "{panels[1][1]}", and their corners do not come opposite each '
        f"other: {format_length(along_mm, show)} along the seam the first has turned by {degrees[0]} degrees and the "
        f"second by {degrees[1]}, so that their edges lie up to {format_length(apart_mm, show)} apart"
    )
    return what, "give both panels the same corners"


def _turns(run: Sequence[Point]) -> list[float]:
    """How far the run has turned at each place since its start, in radians."""
    headings = [math.atan2(b.y - a.y, b.x - a.x) for a, b in pairwise(run)]
    turns = [0.0]
    for before, after in pairwise(headings):
        turns.append(turns[-1] + math.remainder(after - before, math.tau))
    return turns


@check(
    "both-face-out",
    "Of two parts that are sewn back to back, left of the one meets right of the other where both face out.",
    "solid geometry",
    needs_whole=True,
    gives_way=("pair-not-mirrored",),
)
def find_both_facing_out(subject: Subject) -> Iterator[Found]:
    """Pairs that say which side of both faces out, and are sewn by a side edge of one name; once for a pair."""
    shown, told = tell_shown(subject.spec), set[frozenset[str]]()
    for placed in subject.space.parts:
        host = subject.space.faced_by(placed)
        names = frozenset((placed.copy.part, host.copy.part)) if host else frozenset()
        if host is None or not names <= shown or names in told:
            continue
        told.add(names)
        name, other = placed.copy.part, host.copy.part
        found = find_other_edge(subject.build, name, other)
        if found is not None:
            seam, side, edges = found
            own = " ".join(side.edges)
            what = (
                f'the seam "{seam.name}" sews {own} of "{name}" to {own} of "{other}", and the same side of both is said '
                "to face out: so one of them lies turned over"
            )
            mend = f'write "{side.part}: {edges}"; or shows = "flesh" for the one whose flesh side is seen'
            yield seam.place_of(side), what, mend, name


def tell_shown(spec: Spec) -> frozenset[str]:
    """The pieces that say which of their sides faces out."""
    return frozenset(piece.name for piece in spec.pieces if piece.shows is not None)


def swap_words(side: SeamSide) -> str:
    """A run as it is named where the part lies turned over, left for right, with the places of its ends."""
    told = " ".join(SWAPPED.get(edge, edge) for edge in reversed(side.edges))
    if side.ends is None:
        return told
    ends = (" ".join(SWAPPED.get(word, word) for word in words.split()) for words in reversed(side.ends))
    return f"{told} from {' to '.join(ends)}"


def find_other_edge(build: Assembled, name: str, host: str) -> tuple[Seam, SeamSide, str] | None:
    """The seam by which a side edge of a part, or a run that has only one of its side edges, meets that of the same name
    of another, both flesh to flesh, the side of it to change, and what meets the other where the grain side of both faces
    out: left of the one meets right of the other. That of a part which is sewn by all of its edges there stays."""
    for seam in build.seams:
        sides = {side.part: side for side in seam.sides if side.part in (name, host)}
        edges = sides[name].edges if len(sides) == 2 else ()
        if edges and edges == sides[host].edges and len({*edges} & {*SWAPPED}) == 1:
            is_of_host = sides[host].stretch_mm is not None and sides[name].stretch_mm is None
            side = sides[host if is_of_host else name]
            return seam, side, swap_words(side)
    return None
