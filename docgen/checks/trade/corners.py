"""Checks of a box that is sewn of walls: their corners, and their feet on the base."""

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


@check(
    "foot-open",
    "Where three walls of a box are sewn to its base, the fourth that stands between two of them is.",
    "our choice; a wall that hangs free may be accepted",
    needs_whole=True,
)
def find_open_feet(subject: Subject) -> Iterator[Found]:
    """Rectangles with walls sewn to three of their edges, and a part that is sewn to both walls beside the fourth."""
    joined = [{(side.part, side.copy) for side in seam.sides if side.edges} for seam in subject.build.seams]
    sewn: dict[Copy, set[str]] = {}
    for side in (side for seam in subject.build.seams for side in seam.sides):
        sewn.setdefault((side.part, side.copy), set()).update(side.edges)
    for base in subject.build.pieces:
        walls = _walls(subject, base)
        bare = [edge for edge in ROUND[:4] if edge not in walls]
        if (
            len(walls) != LEAST_SEWN
            or not _stand_alike(subject, base, walls)
            or bare[0] in sewn.get((base.name, 0), ())
        ):
            continue
        at = ROUND.index(bare[0])
        before, after = walls[ROUND[at - 1] if at else ROUND[3]], walls[ROUND[at + 1]]
        for between in dict.fromkeys(one for pair in joined if before in pair for one in sorted(pair - {before})):
            is_wall = {between, after} in joined and between not in walls.values() and between[0] != base.name
            if is_wall and len(sewn[between]) == 2:  # a wall of an open box has its foot sewn too
                what = f'"{between[0]}" stands between two walls of "{base.name}", and no seam sews it to that'
                yield base.place, what, "add the seam of that edge, or accept it where it stays open", base.name
                break


def _stand_alike(subject: Subject, base: Piece, walls: dict[str, Copy]) -> bool:
    """Whether all walls stand on a base by edges of one name, as by their feet: a wall has others beside it."""
    copies = {*walls.values()}
    feet = {
        side.edges
        for seam in subject.build.seams
        if base.name in seam.parts
        for side in seam.sides
        if (side.part, side.copy) in copies
    }
    return len(feet) == 1


def _walls(subject: Subject, base: Piece) -> dict[str, Copy]:
    """Edge of a base -> the part, and which copy, that a seam sews to it alone."""
    found: dict[str, Copy] = {}
    for seam in subject.build.seams:
        own = [side for side in seam.sides if side.part == base.name and len(side.edges) == 1]
        others = [side for side in seam.sides if side.part != base.name and side.edges]
        if len(seam.sides) == 2 and own and others and own[0].edges[0] in ROUND:
            found[own[0].edges[0]] = (others[0].part, others[0].copy)
    return found
