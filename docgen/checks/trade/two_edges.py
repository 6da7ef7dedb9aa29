"""Check of small parts that are sewn flat on another by two of their edges."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten
from docgen.resolve import Seam, SeamSide

CLEAR_MM = 10.0  # nearer to the edge, a seam along that holds it too: our choice
ACROSS = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


@check(
    "held-by-one-corner",
    "A part that two seams sew on, each by one edge, is sewn by edges across from each other.",
    "plain from the work; a loop that is sewn by edges beside each other is shut at one end",
    needs_whole=True,
)
def find_parts_on_one_corner(subject: Subject) -> Iterator[Found]:
    """Rectangles that lie flat on one host by two seams of their own, one edge each, and nowhere else."""
    for piece in subject.build.pieces:
        if piece.shape != "rectangle" or piece.marks.folds or piece.marks.holes:
            continue
        found = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == piece.name]
        if len(found) != 2 or not all(len(side.edges) == 1 and side.edges[0] in ACROSS for _, side in found):
            continue
        (first, one), (second, other) = found
        hosts = [_hosts(*pair) for pair in found]
        is_flat = hosts[0] == hosts[1] != set()
        if is_flat and other.edges[0] not in (one.edges[0], ACROSS[one.edges[0]]) and _is_clear(subject, piece.name):
            what = (
                f'"{piece.name}" is sewn on by its {one.edges[0]} (line {first.place.line}) and by its {other.edges[0]}, '
                "which meet at one corner"
            )
            mend = f'write "{piece.name}: {ACROSS[one.edges[0]]}", or accept it where it is to stand open there'
            yield other.place if other.place.line else second.place, what, mend, piece.name


def _hosts(seam: Seam, own: SeamSide) -> set[str]:
    """What a part lies flat on in a seam that sews nothing else; nothing where it is sewn edge to edge."""
    others = [side for side in seam.sides if side is not own]
    return set() if any(side.edges for side in others) else {side.part for side in others}


def _is_clear(subject: Subject, name: str) -> bool:
    """Whether it lands clear of the edges of its hosts, so that no other seam holds it."""
    landed = [(base, mark) for base in subject.build.pieces for mark in base.marks.landings if mark.piece == name]
    return bool(landed) and all(
        distance_to_path(outline_path(base.outline), at) > CLEAR_MM
        for base, mark in landed
        for at in flatten(mark.outline)
    )
