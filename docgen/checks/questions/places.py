"""How what lies on a piece lies there, for several questions: along which edge, where that is written, how round its
corners are, and from which side a place is measured."""

import re
from collections.abc import Mapping
from typing import Final

from docgen.geometry.outline import SIDES, corner_names, outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import Place
from docgen.read import PieceSpec
from docgen.resolve import Landing, Piece

ALONG_MM: Final = 1.0  # what lies so near to an edge lies on it
PLACE_RE: Final = re.compile(r"^(.*) from (left|right|bottom|top|start|end)$")
SIDE_RE: Final = re.compile(r"(^|-)(left|right)(?=-|$)")  # in the name of one of a left and a right part


def is_on(one: Box, other: Box, side: str) -> bool:
    """Whether a side of one box lies on that of another."""
    return abs(one.level(side) - other.level(side)) <= ALONG_MM


def along_and_across(box: Box, side: str) -> tuple[float, float]:
    """How long a box is along one of its sides, and across from that, mm."""
    return (box.height, box.width) if side in SIDES[0::2] else (box.width, box.height)


def landing_place(own: PieceSpec, landing: Landing) -> Place:
    """Where it is written that this one lands on the piece; of several of one name the first on that side."""
    found = [one for one in own.landings if one.at and one.piece and one.piece.value == landing.piece]
    turned = [one for one in found if bool(one.inside and one.inside.value) == landing.is_inside]
    return next((one.at.place for one in (*turned, *found) if one.at), own.place)


def shape_spec(specs: Mapping[str, PieceSpec], name: str) -> PieceSpec:
    """The table that gives the shape of a piece: its own, else that of the piece that it is like."""
    own = specs[name]
    for _ in specs:
        if own.like is None or own.like.value not in specs:
            break
        own = specs[own.like.value]
    return own


def corner_radii(piece: Piece) -> dict[str, float]:
    """Round corner of a rectangle -> its radius, mm: from the square corner to where its first edge begins or ends."""
    box, found = outline_box(piece.outline), {}
    edges = {edge.name: path_box(edge.path) for edge in piece.outline.edges}
    for name in corner_names(piece.outline) if piece.shape == "rectangle" else ():
        up, across = name.split("-")
        if up in edges and across in edges:
            end = edges[up].left if across == "left" else edges[up].right
            found[name] = abs(end - box.level(across))
    return found
