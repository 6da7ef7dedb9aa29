"""Check of pieces that are sewn by their edges to the one on which they land: both say where they lie."""

from collections.abc import Iterator, Sequence

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, edge_names, edge_path
from docgen.geometry.path import path_length, point_at
from docgen.geometry.shapes import Point
from docgen.geometry.vector import transform_point
from docgen.problems import line_words
from docgen.resolve import Landing, Piece, Seam, SeamSide

APART_MM = 5.0  # an edge that lies no farther off was laid short or over on purpose: our choice


@check(
    "landing-against-seam",
    "Edges that a seam sews to each other lie on each other where the one piece lands on the other.",
    "plain from the work",
    needs_whole=True,
)
def find_landed_apart(subject: Subject) -> Iterator[Found]:
    """Seams of two edges, not turned nor lapped, of a flat piece and the flat one on which it lands; once for a seam."""
    pieces = subject.parts.pieces
    for base in subject.build.pieces:
        for name in dict.fromkeys(one.piece for one in base.marks.landings if not one.is_over):
            landed = [one for one in base.marks.landings if one.piece == name]
            own = pieces.get(name)
            if own is None or own.own_folds or base.own_folds:
                continue
            for seam in subject.build.seams:
                found = _find_apart(seam, own, base, landed)
                if found is not None:
                    side, mm = found
                    what = (
                        f'the seam "{seam.name}" sews the {side.edge_words} of "{name}" to an edge of "{base.name}"; as '
                        f"it lands there{line_words(landed[0].place.line)} that lies {subject.length(mm)} from it"
                    )
                    mend = (
                        "look which of both is meant; write the other edge in the seam, or another place where it lands"
                    )
                    yield seam.place_of(side), what, mend, seam.name


def _find_apart(seam: Seam, own: Piece, base: Piece, landed: Sequence[Landing]) -> tuple[SeamSide, float] | None:
    """The side of a piece in a seam to its base that lies off that by every landing, and by how much at the least."""
    mine = [side for side in seam.sides if side.part == own.name and side.edges]
    its = [side for side in seam.sides if side.part == base.name and side.edges]
    if len(mine) != 1 or len(its) != 1 or seam.is_turned or mine[0].stretch_mm or any(one.lap_mm for one in seam.sides):
        return None
    spots = [_middle(own, edge) for edge in _edges(own, mine[0])]
    paths = [edge_path(base.sewn_outline, edge) for edge in _edges(base, its[0])]
    off_mm = min(
        max(min(distance_to_path(path, transform_point(at, one.move_of_lines)) for path in paths) for at in spots)
        for one in landed
    )
    return (mine[0], off_mm) if off_mm > APART_MM else None


def _edges(piece: Piece, side: SeamSide) -> Sequence[str]:
    return edge_names(piece.sewn_outline) if WHOLE in side.edges else side.edges


def _middle(piece: Piece, edge: str) -> Point:
    path = edge_path(piece.sewn_outline, edge)
    return point_at(path, path_length(path) / 2)[0]
