"""Checks of hems: seams of a piece to itself along the edge that is turned over, and holes where that edge comes to lie."""

from collections.abc import Iterator
from math import copysign

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.geometry.path import end_point, start_point
from docgen.geometry.vector import distance, dot, subtract, unit
from docgen.problems import Place, line_words
from docgen.resolve import Fold, Hole, Piece, Seam, StitchLine, side_words

MEASURED = "measure where it lands again: it is told from the cut edge, which the hem turns over"
NOTHING_MM = 1e-6
ON_FOLD_MM = 0.1


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


@check(
    "row-in-hem",
    "What is sewn flat on a piece is sewn on what stays, and not on what a hem turns over.",
    "plain from the work; a facing that is meant to turn with the hem may be accepted",
    needs_whole=True,
    gives_way=("seam-off-host", "landing-over-edge", "landing-across-fold"),
)
def find_rows_in_hems(subject: Subject) -> Iterator[Found]:
    """Seams whose row on a piece beneath lies wholly beyond the fold of one of its hems, or on that; once for a seam."""
    pieces = [piece for piece in subject.build.pieces if piece.hems]
    for seam in subject.build.seams if pieces else ():
        flat = {side.part for side in seam.sides if not side.edges}
        others = [side.part for side in seam.sides if side.part not in flat]
        for piece in (piece for piece in pieces if piece.name in flat and others):
            lines = [line for line in piece.marks.stitch_lines if line.seam == seam.name and not line.row]
            hems = [(fold, _beyond_mm(piece, fold, line)) for fold in _folds(piece) for line in lines]
            fold, deep_mm = max(hems, key=lambda one: one[1], default=(None, 0.0))
            if fold is None or deep_mm < -ON_FOLD_MM:
                continue
            lies = f"{subject.length(deep_mm)} beyond" if deep_mm > ON_FOLD_MM else "on"
            what = (
                f'the seam "{seam.name}" sews "{others[0]}" on "{piece.name}", and its row lies {lies} the fold of the '
            )
            what += f"hem{line_words(fold.place.line)}: turned over, it goes inside with it"
            places = [it.place for it in piece.marks.landings if it.piece in others]
            yield places[0] if places else _place(seam, piece), what, MEASURED, seam.name
            break


def _folds(piece: Piece) -> list[Fold]:
    return [fold for fold in piece.marks.folds if fold.of_hem]


def _beyond_mm(piece: Piece, fold: Fold, line: StitchLine) -> float:
    """How far a row keeps beyond a fold by its end that is nearest to it; below 0 for one that does not."""
    way = copysign(1.0, fold.off_mm(outline_box(piece.sewn_outline).centre))
    return min(-way * fold.off_mm(at) for at in (start_point(line.path), end_point(line.path)))


@check(
    "hole-at-hem",
    "The centre of a hole keeps {hole_edge} its size from where the cut edge of a hem comes to lie.",
    PRACTICE,
    gives_way=("hole-near-edge", "marks-askew"),
)
def find_holes_at_hems(subject: Subject) -> Iterator[Found]:
    """For each hole or row of holes that is written, the first through which the turned edge runs, or beside it."""
    told: set[Place] = set()
    for piece in subject.build.pieces:
        hems = [fold for fold in piece.marks.folds if fold.of_hem and not fold.is_open and fold.turned_mm]
        for hole in (hole for hole in piece.marks.holes if hems and hole.place not in subject.odd_punches):
            least_mm = subject.build.limits.hole_edge * hole.diameter_mm
            near = next((fold for fold in hems if _lies_at_hem(piece, fold, hole, least_mm)), None)
            if near is None or hole.place in told:
                continue
            told.add(hole.place)
            down_mm = abs(near.off_mm(hole.at))
            what = (
                f'a hole of {subject.length(hole.diameter_mm)} in "{piece.name}" lies {subject.length(down_mm)} from the '
                f"fold of its hem, whose cut edge comes to lie {subject.length(near.turned_mm)} from there"
            )
            far_mm = near.turned_mm + least_mm
            mend = f"keep its centre {subject.length(far_mm)} from the fold or more"
            if near.turned_mm - least_mm >= least_mm:
                mend += f", or {subject.length(near.turned_mm - least_mm)} or less: then it goes through both layers"
            yield hole.place, what, mend, piece.name


def _lies_at_hem(piece: Piece, fold: Fold, hole: Hole, least_mm: float) -> bool:
    """Whether the cut edge of a turned hem comes nearer than that to a hole on the rest of its piece."""
    own_mm, rest_mm = fold.off_mm(hole.at), fold.off_mm(outline_box(piece.outline).centre)
    along_mm = dot(subtract(hole.at, fold.start), unit(subtract(fold.end, fold.start)))
    if own_mm * rest_mm <= 0 or not 0 <= along_mm <= distance(fold.start, fold.end):
        return False
    return abs(abs(own_mm) - fold.turned_mm) < least_mm - NOTHING_MM


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
