"""A piece turned over, left for right, to be traced on the flesh side."""

from __future__ import annotations

from dataclasses import replace

from docgen.geometry import Point, mirror_x, outline_box, path_box, transform_outline, transform_path, transform_point
from docgen.resolve import Landing, Piece


def mirror_piece(piece: Piece) -> Piece:
    """The piece with everything on it mirrored about its upright middle."""
    middle = outline_box(piece.outline).centre.x
    move = mirror_x(middle)

    def moved(point: Point) -> Point:
        return transform_point(point, move)

    return replace(
        piece,
        outline=transform_outline(piece.outline, move),
        holes=tuple(replace(hole, at=moved(hole.at), slot=Point(-hole.slot.x, hole.slot.y)) for hole in piece.holes),
        notches=tuple(
            replace(notch, at=moved(notch.at), inward=Point(-notch.inward.x, notch.inward.y)) for notch in piece.notches
        ),
        folds=tuple(replace(fold, start=moved(fold.start), end=moved(fold.end)) for fold in piece.folds),
        slits=tuple(replace(slit, start=moved(slit.start), end=moved(slit.end)) for slit in piece.slits),
        skives=tuple(replace(skive, band=transform_path(skive.band, move)) for skive in piece.skives),
        landings=tuple(_mirror_landing(landing, middle) for landing in piece.landings),
        stitch_lines=tuple(replace(line, path=transform_path(line.path, move)) for line in piece.stitch_lines),
        drawn=tuple(replace(line, path=transform_path(line.path, move)) for line in piece.drawn),
    )


def _mirror_landing(landing: Landing, middle_x: float) -> Landing:
    """The landing mirrored; its move is that of the other piece mirrored about its own middle."""
    dx_mm = landing.dx_mm + 2 * (middle_x - path_box(landing.outline).centre.x)
    return replace(landing, outline=transform_path(landing.outline, mirror_x(middle_x)), dx_mm=dx_mm)
