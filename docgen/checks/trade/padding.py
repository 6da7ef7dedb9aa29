"""Padding of straps against the rows beside it."""

import math
from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.trade.check import Found, Subject
from docgen.geometry.measure import cut_to_box
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box
from docgen.geometry.vector import between
from docgen.resolve import Strap

TINY_MM = 1e-6


def tell_sewn_padding(subject: Subject) -> Iterator[Found]:
    """Straps whose padding is wider than what their rows leave between them, or reaches where they draw in along a
    taper."""
    stitches = subject.parts.stitches
    for spec in subject.spec.straps:
        strap = subject.parts.straps.get(spec.name)
        stitch = stitches.get(strap.stitch) if strap and strap.padding else None
        if strap is None or stitch is None or spec.padding is None or spec.padding.width is None:
            continue
        free_mm = strap.width_mm - 2 * (stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm)
        own, line = subject.length(strap.padding_width_mm), strap.piece.place.line
        if strap.padding_width_mm > free_mm + TINY_MM:
            what = (
                f'the padding of "{strap.name}" is {own} wide, and its rows leave '
                f"{subject.length(free_mm)} between them (line {line}): the needle goes through it"
            )
            yield spec.padding.width.place, what, "cut it narrower than that", strap.name
            continue
        most_mm = _clear_long_mm(strap)
        if strap.padding_length_mm > most_mm + TINY_MM:
            long, most = subject.length(strap.padding_length_mm), subject.length(max(0.0, math.floor(most_mm)))
            what = (
                f'the padding of "{strap.name}" is {own} wide and {long} long, and the strap draws in (line {line}): its '
                f"rows leave that width over {most} alone, and the needle goes through its ends"
            )
            place = (spec.padding.length or spec.padding.width).place
            shorter = f"make it {most} long or shorter, or narrower" if most_mm >= 1 else "cut it narrower"
            yield place, what, shorter, strap.name


def _clear_long_mm(strap: Strap) -> float:
    """How long padding of its width may be, about the middle of where it lies, so that no row of the strap is met."""
    lies = path_box(next(landing.outline for landing in strap.piece.marks.landings if landing.title == "padding"))
    whole = path_box(outline_path(strap.piece.outline))
    band = Box(lies.left + TINY_MM, whole.bottom, lies.right - TINY_MM, whole.top)
    rows = [flatten(line.path) for line in strap.piece.marks.stitch_lines if line.seam == strap.name]
    legs = [leg for row in rows for leg in pairwise(row)]
    cut = [(leg, shares) for leg in legs if (shares := cut_to_box(*leg, band)) is not None]
    reached = [abs(between(*leg, share).y - lies.centre.y) for leg, shares in cut for share in shares]
    return 2 * min(reached, default=whole.height)
