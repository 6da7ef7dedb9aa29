"""Goods bought by length and sewn in or on: how many layers the needle meets, what is added at the ends, how they are cut.

All figures are common practice, no published source; a spec may write its own for each.
"""

from docgen.classes import dataclass

SPARE = 0.05  # bought on top of what is cut, for a join that must not fall on a corner
LEAST_RELAXED = 0.3  # elastic stretches to about three times its length at most
MOST_SPARE = 0.5  # more than that is a number mistaken: our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmingKind:
    """`layers` of it lie under the needle; `ends_mm` is added at each end; `is_at_edge` where it lies along the cut edge
    and not along the stitch line, `is_flat` where it is a tape that may be sewn by both its edges; `is_sewn` where it
    hardly ever is tied or drawn through; `cut` says how it is cut, `ends` what is done with its ends later."""

    layers: int
    ends_mm: float
    cut: str
    ends: str
    is_at_edge: bool = False
    is_flat: bool = True
    is_sewn: bool = True


TRIMMING_KINDS = {
    "zip": TrimmingKind(
        layers=1,
        ends_mm=25.0,
        cut="cut the tapes square",
        ends="take the teeth off where the ends are sewn in; trim these level once its sides are sewn",
    ),
    "webbing": TrimmingKind(
        layers=1, ends_mm=25.0, cut="cut square", ends="turn the ends under, or seal them against fraying"
    ),
    "elastic": TrimmingKind(
        layers=1, ends_mm=10.0, cut="cut square, not stretched", ends="sew the ends in", is_sewn=False
    ),
    "cord": TrimmingKind(
        layers=0,
        ends_mm=25.0,
        is_flat=False,
        is_sewn=False,
        cut="wind tape round it and cut through the tape",
        ends="knot the ends, or leave on them the tape that was wound round to cut it",
    ),
    "piping-cord": TrimmingKind(
        layers=0,
        ends_mm=10.0,
        is_flat=False,
        cut="cut square",
        ends="it ends before a seam that crosses it; right round a rim its ends butt",
    ),
    "binding": TrimmingKind(layers=2, ends_mm=15.0, is_at_edge=True, cut="cut square", ends="turn the ends under"),
    "bead": TrimmingKind(
        layers=2,
        ends_mm=15.0,
        is_flat=False,
        cut="cut square",
        ends="clip its flange where it goes round a corner or curve",
    ),
}
