"""Build and its assembly -> Space: every copy of every part in its place, by its seams, landings and holes."""

from docgen.assemble.space.flap import way_of_flap
from docgen.assemble.space.in_folds import InFold, keeper_on, list_in_fold
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.place import place_parts
from docgen.assemble.space.placed import (
    FACES_UNTOLD,
    LINE_UNTOLD,
    NO_HOLD,
    NO_HOLE,
    ON_STRIP,
    OTHER_HALF,
    PLACE_UNTOLD,
    POINTS_UNTOLD,
    SPOT_UNTOLD,
    WAY_UNTOLD,
    Face,
    Gap,
    Kind,
    LineInSpace,
    Placed,
    Space,
    Unplaced,
    Unset,
)
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, along, inner, plus, times

__all__ = [
    "FACES_UNTOLD",
    "LINE_UNTOLD",
    "NO_HOLD",
    "NO_HOLE",
    "ON_STRIP",
    "OTHER_HALF",
    "PLACE_UNTOLD",
    "POINTS_UNTOLD",
    "SPOT_UNTOLD",
    "WAY_UNTOLD",
    "Face",
    "Gap",
    "InFold",
    "Kind",
    "LineInSpace",
    "Metal",
    "Placed",
    "Space",
    "Unplaced",
    "Unset",
    "Vec",
    "along",
    "inner",
    "is_in_ring",
    "keeper_on",
    "list_in_fold",
    "place_parts",
    "plus",
    "times",
    "way_of_flap",
]
