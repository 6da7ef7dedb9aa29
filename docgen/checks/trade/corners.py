"""Check of the corners of a box: walls that stand beside each other on one base."""

from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.trade.check import Found, Subject, check
from docgen.resolve import Piece

ROUND = ("bottom", "right", "top", "left", "bottom")
LEAST_SEWN = 3  # of four corners: where so many are sewn, the last is meant to be too; our choice

Copy = tuple[str, int]


@check(
    "corner-open",
    "Where three corners of a box are sewn, the fourth is.",
    "our choice; a corner that stays open may be accepted",
    needs_whole=True,
)
def find_open_corners(subject: Subject) -> Iterator[Found]:
    """Rectangles with a wall sewn to each of their four edges, and seams that sew these walls to each other."""
    joined = [
        {(side.part, side.copy) for side in seam.sides if side.edges}
        for seam in subject.build.seams
        if len(seam.sides) == 2
    ]
    for base in subject.build.pieces:
        walls = _walls(subject, base)
        if len(walls) != 4:
            continue
        corners = [{walls[one], walls[other]} for one, other in pairwise(ROUND)]
        is_sewn = [corner in joined for corner in corners]
        if len({frozenset(corner) for corner in corners}) == 4 and sum(is_sewn) == LEAST_SEWN:
            one, other = sorted(corners[is_sewn.index(False)])
            names = " and ".join(f'"{name} {copy}"' if copy else f'"{name}"' for name, copy in (one, other))
            what = (
                f'{names} stand beside each other on "{base.name}", and no seam sews their corner as it does the others'
            )
            yield base.place, what, "add the seam of that corner, or accept it where it stays open", base.name


def _walls(subject: Subject, base: Piece) -> dict[str, Copy]:
    """Edge of a base -> the part, and which copy, that a seam sews to it alone."""
    found: dict[str, Copy] = {}
    for seam in subject.build.seams:
        own = [side for side in seam.sides if side.part == base.name and len(side.edges) == 1]
        others = [side for side in seam.sides if side.part != base.name and side.edges]
        if len(seam.sides) == 2 and own and others and own[0].edges[0] in ROUND:
            found[own[0].edges[0]] = (others[0].part, others[0].copy)
    return found
