"""Ends of straps under a piece that is laid over them, as a patch over strap ends: what is written first lies beneath."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.geometry.path import boxes_overlap, path_box
from docgen.resolve import Piece, StrapLanding


def list_covered(base: Piece) -> Iterator[tuple[str, StrapLanding]]:
    """The pieces that land on a piece over ends of straps that are written before them, each with such an end."""
    order = base.landing_names if base.strap_landings and base.marks.landings else ()
    for landing in base.marks.landings:
        for end in base.strap_landings:
            is_beneath = not landing.is_inside and order.index(end.strap) < order.index(landing.piece)
            if is_beneath and boxes_overlap(path_box(landing.outline), path_box(end.outline)):
                yield landing.piece, end
