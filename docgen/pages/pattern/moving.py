"""Boxes of a footprint in its own coordinates, from its lower left before it is turned, and in those of its grid."""

from docgen.geometry.shapes import Box
from docgen.pages.pattern.grid import Placed


def into_footprint(box: Box, placed: Placed) -> Box:
    """A box of the grid in the coordinates of a footprint placed there."""
    own = placed.box
    if not placed.is_turned:
        return Box(box.left - own.left, box.bottom - own.bottom, box.right - own.left, box.top - own.bottom)
    return Box(box.bottom - own.bottom, own.right - box.right, box.top - own.bottom, own.right - box.left)


def out_of_footprint(box: Box, placed: Placed) -> Box:
    """A box of a footprint in the coordinates of the grid where it is placed."""
    own = placed.box
    if not placed.is_turned:
        return Box(box.left + own.left, box.bottom + own.bottom, box.right + own.left, box.top + own.bottom)
    return Box(own.right - box.top, box.left + own.bottom, own.right - box.bottom, box.right + own.bottom)
