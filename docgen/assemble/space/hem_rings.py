"""What hems turn over, as it lies back on their piece."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from docgen.assemble.space.surface import clip
from docgen.assemble.space.track import trace
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.shapes import Path, Point
from docgen.resolve import Fold, Piece


def hem_rings(piece: Piece) -> Iterator[tuple[Point, ...]]:
    """What hems turn over, as it lies back on the piece: the cut outline beyond each of their folds, mirrored; of a double
    one as much as lies on it. At a corner it ends at the fold of the hem beside."""
    ring, middle = ring_of(outline_path(piece.outline)), outline_box(piece.sewn_outline).centre
    hems = {hem.place: hem for hem in piece.hems}
    folds = [fold for fold in piece.marks.folds if fold.of_hem and fold.place in hems]
    folds = [fold for fold in folds if fold.turned_mm >= hems[fold.place].depth_mm]

    def inward(fold: Fold, at: Point) -> float:
        """How far a point lies within a fold."""
        return math.copysign(1.0, fold.off_mm(middle)) * fold.off_mm(at)

    for fold in folds:
        beyond = clip(ring, [-inward(fold, at) for at in ring])
        laid: Sequence[Point] = clip(beyond, [hems[fold.place].turned_mm + inward(fold, at) for at in beyond])
        laid = [fold.across(at) for at in laid]
        for other in (other for other in folds if other is not fold):
            laid = clip(laid, [inward(other, at) for at in laid])
        yield tuple(laid)


def ring_of(path: Path) -> tuple[Point, ...]:
    """The corners of a closed path, each once."""
    points = trace(path).points
    return points[:-1] if math.dist(points[0], points[-1]) < 1e-6 else points
