"""A piece turned over, left for right, to be traced on the flesh side."""

from __future__ import annotations

from dataclasses import replace

from docgen.geometry import (
    Point,
    mirror_x,
    outline_box,
    transform_outline,
    transform_path,
    transform_point,
)
from docgen.resolve import Piece


def mirror_piece(piece: Piece) -> Piece:
    """The piece with everything on it mirrored about its upright middle."""
    move = mirror_x(outline_box(piece.outline).centre.x)

    def moved(point: Point) -> Point:
        return transform_point(point, move)

    return replace(
        piece,
        outline=transform_outline(piece.outline, move),
        holes=tuple(replace(hole, at=moved(hole.at)) for hole in piece.holes),
        notches=tuple(
            replace(notch, at=moved(notch.at), inward=Point(-notch.inward.x, notch.inward.y))
            for notch in piece.notches
        ),
        folds=tuple(replace(fold, start=moved(fold.start), end=moved(fold.end)) for fold in piece.folds),
        slits=tuple(replace(slit, start=moved(slit.start), end=moved(slit.end)) for slit in piece.slits),
        skives=tuple(replace(skive, band=transform_path(skive.band, move)) for skive in piece.skives),
        landings=tuple(
            replace(landing, outline=transform_path(landing.outline, move)) for landing in piece.landings
        ),
        stitch_lines=tuple(
            replace(line, path=transform_path(line.path, move)) for line in piece.stitch_lines
        ),
        drawn=tuple(replace(line, path=transform_path(line.path, move)) for line in piece.drawn),
    )
