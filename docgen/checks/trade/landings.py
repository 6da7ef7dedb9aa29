"""Checks of pieces that land on others: that they lie on them."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import farthest_out_mm
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_length, points_at
from docgen.geometry.shapes import Path
from docgen.written.units.telling import format_mm

# What a landing may reach over an edge without being told, in mm: cutting is no finer. Our choice.
OVER_EDGE_MM = 0.5
STEPS = 200


@check(
    "landing-over-edge",
    f"A piece lies within the one it lands on, within {format_mm(OVER_EDGE_MM)}.",
    "plane geometry; the half millimetre is our choice",
    needs_whole=True,
)
def find_overhangs(subject: Subject) -> Iterator[Found]:
    """Pieces that reach over the edge of the one they land on. One with a fold may be folded round that edge, and is
    passed over."""
    for spec in subject.spec.pieces:
        base = subject.parts.pieces.get(spec.name)
        if base is None:
            continue
        shape = outline_path(base.outline)
        for item, landing in zip((it for it in spec.landings if it.piece), base.marks.landings, strict=False):
            landed = subject.parts.pieces.get(landing.piece)
            over_mm = 0.0 if landed is None or landed.marks.folds else _over_mm(shape, landing.outline)
            if over_mm > OVER_EDGE_MM and item.at is not None:
                what = (
                    f'"{landing.piece}" reaches {subject.length(over_mm)} over the edge of '
                    f'"{base.name}", on which it lands'
                )
                mend = "measure again where it lands, or make it smaller; accept this if it is to hang over"
                yield item.at.place, what, mend, base.name


def _over_mm(shape: Path, outline: Path) -> float:
    """How far the one outline reaches out of the other, mm; judged at its corners and at many points between."""
    step_mm = path_length(outline) / STEPS
    spots = [*flatten(outline), *(at for at, _ in points_at(outline, (k * step_mm for k in range(STEPS))))]
    return farthest_out_mm(shape, spots)
