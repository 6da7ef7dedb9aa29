"""Check of seams of a piece to itself: along the edge that is turned over."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import Place, line_words
from docgen.resolve import Piece, Seam, side_words


@check(
    "hem-not-there",
    "A seam of a piece to itself sews an edge that is turned over on it.",
    "plain from the work",
    needs_whole=True,
)
def find_lost_hems(subject: Subject) -> Iterator[Found]:
    """Seams along an edge and flat through the same piece, which has no hem there and no fold to lay it on itself."""
    for seam in subject.build.seams:
        flat = {side.part for side in seam.sides if not side.edges}
        for side in seam.sides:
            piece = subject.parts.pieces.get(side.part)
            if piece is None or not side.edges or side.part not in flat:
                continue
            hemmed = piece.hemmed
            if not ("all" in hemmed or set(side.edges) <= hemmed or _is_folded(piece)):
                others = f"; its hem is at {' '.join(sorted(hemmed))}" if hemmed else ""
                sews = f'the seam "{seam.name}" sews {side_words(side)} to "{piece.name}" itself'
                what = f"{sews}, and no hem is turned there"
                spec = subject.piece_spec(piece.name)
                down = _sewn_down(subject, piece, seam) if spec and len(spec.hems) == 1 and spec.hems[0].edges else None
                if down and spec and spec.hems[0].edges:
                    lines = [line_words(place.line) for place in (seam.place_of(side), _place(down, piece))]
                    what += f'{lines[0]}, and "{down.name}" sews its hem down{lines[1]}'
                    mend = f'write edges = "{" ".join(side.edges)}" in the hem, or name its edge in the seam'
                    yield spec.hems[0].edges.place, what, mend, piece.name
                    continue
                mend = "name the edge of the hem, or the part that it is sewn to"
                yield seam.place_of(side), what + others, mend, seam.name


def _place(seam: Seam, piece: Piece) -> Place:
    """Where a seam names a piece."""
    return seam.place_of(next(side for side in seam.sides if side.part == piece.name))


def _sewn_down(subject: Subject, piece: Piece, but: Seam) -> Seam | None:
    """Another seam that sews the hem of a piece flat on another, and not the edge that this one sews."""
    own = {edge for side in but.sides if side.part == piece.name for edge in side.edges}
    for seam in subject.build.seams:
        edges = {edge for side in seam.sides if side.part == piece.name for edge in side.edges}
        is_flat = any(not side.edges and side.part != piece.name for side in seam.sides)
        if seam is not but and is_flat and piece.hemmed <= edges and edges.isdisjoint(own):
            return seam
    return None


def _is_folded(piece: Piece) -> bool:
    """Whether a fold lays the piece on itself; the folds of hems are told by the hem."""
    return any(not fold.is_open and not fold.of_hem for fold in piece.marks.folds)
