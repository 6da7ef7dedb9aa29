"""Cross-checks between the parts of a build, in shop words: what would cost leather, or break in use."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.geometry import distance_to_path, outline_path
from docgen.problems import Place, Problem, make_caution, make_error
from docgen.read import Spec
from docgen.resolve.build import Hardware, Material, Piece, Seam, Stitch, Strap
from docgen.tables.thread import (
    MOST_THREAD_IN_BLADE,
    NEEDLE_SIZES,
    find_least_needle,
    format_needle,
    thread_diameter_mm,
)
from docgen.units import Show, format_length

HOLE_EDGE_DIAMETERS = 1.5  # hole centre to edge, in hole diameters: common practice, no published source


def check_piece(piece: Piece, material: Material, show: Show) -> Iterator[Problem]:
    """Skives against the leather, holes against the edge."""
    if piece.skives and material.kind != "leather":
        yield make_error(
            piece.place, f'"{piece.name}" is {material.kind}, which cannot be skived', "leave out its skives"
        )
    for skive in piece.skives:
        if skive.to_mm >= material.thickness_mm:
            yield make_error(
                piece.place,
                f'"{piece.name}" is skived to {format_length(skive.to_mm, show)}, and the leather is only '
                f"{format_length(material.thickness_mm, show)} thick",
                "skive to less than the leather",
            )
    shape = outline_path(piece.outline)
    for hole in piece.holes:
        gap_mm = distance_to_path(shape, hole.at)
        if gap_mm < HOLE_EDGE_DIAMETERS * hole.diameter_mm:
            yield make_caution(
                hole.place,
                f'a hole of {format_length(hole.diameter_mm, show)} in "{piece.name}" lies {format_length(gap_mm, show)} '
                "from the edge",
                f"keep its centre {format_length(HOLE_EDGE_DIAMETERS * hole.diameter_mm, show)} from the edge or more",
            )


def check_stitch(stitch: Stitch, place: Place) -> Iterator[Problem]:
    """Needle against thread: the thread fills at most 40 % of the blade."""
    diameter_mm = thread_diameter_mm(stitch.thread_tex, stitch.thread_fibre)
    if stitch.by == "machine" and diameter_mm > MOST_THREAD_IN_BLADE * stitch.needle_nm / 100:
        least = min(
            (
                size
                for size in NEEDLE_SIZES
                if size >= find_least_needle(stitch.thread_tex, stitch.thread_fibre)
            ),
            default=max(NEEDLE_SIZES),
        )
        yield make_caution(
            place,
            f"needle {format_needle(stitch.needle_nm)} is too fine for {stitch.thread_words}: the thread is about "
            f"{diameter_mm:.2f} mm thick, over 40 % of the blade",
            f"use needle {format_needle(least)} or thicker, and test on scrap",
        )


def check_strap(strap: Strap, hardware: Mapping[str, Hardware], show: Show) -> Iterator[Problem]:
    """Strap width against the fittings it goes round."""
    for end in strap.ends:
        ring = hardware.get(end.around)
        if ring is not None and 0 < ring.inside_mm < strap.width_mm:
            yield make_error(
                strap.piece.place,
                f'the strap "{strap.name}" is {format_length(strap.width_mm, show)} wide, and {ring.what} takes only '
                f"{format_length(ring.inside_mm, show)}",
                "cut the strap narrower, or use a wider fitting",
            )
        if end.shape == "turned" and end.back_mm < strap.width_mm:
            yield make_caution(
                strap.piece.place,
                f'the strap "{strap.name}" turns back only {format_length(end.back_mm, show)}, less than its width',
                "turn back at least the width of the strap, so that stitches or rivets find room",
            )


def check_use(
    spec: Spec, pieces: Mapping[str, Piece], straps: Mapping[str, Strap], seams: tuple[Seam, ...]
) -> Iterator[Problem]:
    """Materials and stitches that nothing uses: usually a name that was changed in one place only."""
    used = {piece.material for piece in pieces.values()} | {strap.material for strap in straps.values()}
    for material in spec.materials:
        if material.name not in used and not has_wrong_piece(spec, pieces):
            yield make_caution(
                material.place, f'no piece or strap is cut from "{material.name}"', "use it, or take it out"
            )
    sewn = {seam.stitch for seam in seams} | {strap.stitch for strap in straps.values()}
    sewn |= {join.stitch.value for join in spec.joins if join.stitch}
    for stitch in spec.stitches:
        if stitch.name not in sewn and len(seams) == len(spec.seams):
            yield make_caution(
                stitch.place, f'nothing is sewn with the stitch "{stitch.name}"', "use it, or take it out"
            )


def has_wrong_piece(spec: Spec, pieces: Mapping[str, Piece]) -> bool:
    """True when some piece of the spec could not be made, so that nothing can be said of what is left over."""
    return len(pieces) < len(spec.pieces)
