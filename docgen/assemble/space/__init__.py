"""Assembled -> Space: every copy of every part in its place, by its seams, landings and holes."""

from docgen.assemble.space.place import place_parts
from docgen.assemble.space.placed import Face, Gap, LineInSpace, Meeting, Placed, Space, Unplaced
from docgen.assemble.space.vectors import Vec, along, inner

__all__ = [
    "Face",
    "Gap",
    "LineInSpace",
    "Meeting",
    "Placed",
    "Space",
    "Unplaced",
    "Vec",
    "along",
    "inner",
    "place_parts",
]
