"""Cross-checks between the parts of a build, in shop words: what would cost leather, or break in use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from docgen.geometry import distance_to_path, outline_box, outline_path
from docgen.problems import Place, Problem, make_caution, make_error
from docgen.read import Spec
from docgen.resolve.build import Hardware, Hole, Material, Piece, Stitch, Strap
from docgen.tables.thread import (
    MOST_THREAD_IN_BLADE,
    NEEDLE_SIZES,
    find_least_needle,
    format_needle,
    thread_diameter_mm,
)
from docgen.units import Show, format_length, format_thickness

HOLE_EDGE_DIAMETERS = 1.5  # hole centre to edge, in hole diameters: common practice, no published source


def check_piece(piece: Piece, material: Material, show: Show) -> Iterator[Problem]:
    """The piece against what it is cut from: skives against the leather, width against the roll."""
    if piece.skives and material.kind != "leather":
        yield make_error(
            piece.place, f'"{piece.name}" is {material.kind}, which cannot be skived', "leave out its skives"
        )
    elif any(skive.to_mm >= material.thickness_mm for skive in piece.skives):
        most_mm = max(skive.to_mm for skive in piece.skives)
        yield make_error(
            piece.place,
            f'"{piece.name}" is skived to {format_thickness(most_mm, material.kind)}, and its leather is '
            f"{format_thickness(material.thickness_mm, material.kind)} thick",
            "skive to less than the leather",
        )
    box = outline_box(piece.outline)
    across_mm = min(box.width, box.height)
    if 0 < material.roll_width_mm < across_mm:
        yield make_caution(
            piece.place,
            f'"{piece.name}" is {format_length(across_mm, show)} across, and "{material.name}" is '
            f"{format_length(material.roll_width_mm, show)} wide",
            "cut it from two pieces, or take wider goods",
        )


def check_holes(pieces: Iterable[Piece], show: Show) -> Iterator[Problem]:
    """Holes against the edge: for each hole or row of holes that is written, the one that lies nearest."""
    nearest: dict[Place, tuple[float, Hole, Piece]] = {}
    for piece in pieces:
        shape = outline_path(piece.outline)
        for hole in piece.holes:
            gap_mm = distance_to_path(shape, hole.at)
            if gap_mm < nearest.get(hole.place, (HOLE_EDGE_DIAMETERS * hole.diameter_mm, hole, piece))[0]:
                nearest[hole.place] = (gap_mm, hole, piece)
    for gap_mm, hole, piece in nearest.values():
        least_mm = HOLE_EDGE_DIAMETERS * hole.diameter_mm
        yield make_caution(
            hole.place,
            f'a hole of {format_length(hole.diameter_mm, show)} in "{piece.name}" lies '
            f"{format_length(gap_mm, show)} from the edge",
            f"keep its centre {format_length(least_mm, show)} from the edge or more",
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
            f"needle {format_needle(stitch.needle_nm)} is too fine for {stitch.thread_words}: the thread "
            "is about "
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
                f'the strap "{strap.name}" is {format_length(strap.width_mm, show)} wide, and {ring.what} '
                "takes only "
                f"{format_length(ring.inside_mm, show)}",
                "cut the strap narrower, or use a wider fitting",
            )
        if end.shape == "turned" and end.back_mm < strap.width_mm:
            yield make_caution(
                strap.piece.place,
                f'the strap "{strap.name}" turns back only {format_length(end.back_mm, show)}, less than '
                "its width",
                "turn back at least the width of the strap, so that stitches or rivets find room",
            )


def check_use(spec: Spec) -> Iterator[Problem]:
    """What is written and never used: usually a name that was changed in one place only.

    For a spec without errors: what hangs on a mistake would seem unused.
    """
    of = {value.value for value in (*(p.of for p in spec.pieces), *(s.of for s in spec.straps)) if value}
    for material in spec.materials:
        if material.name not in of:
            yield make_caution(
                material.place, f'no piece or strap is cut from "{material.name}"', "use it, or take it out"
            )
    stitches = [
        *(seam.stitch for seam in spec.seams),
        *(join.stitch for join in spec.joins),
        *(strap.stitch for strap in spec.straps),
    ]
    sewn = {stitch.value for stitch in stitches if stitch}
    for stitch in spec.stitches:
        if stitch.name not in sewn:
            yield make_caution(
                stitch.place, f'nothing is sewn with the stitch "{stitch.name}"', "use it, or take it out"
            )
    if spec.steps:
        yield from _check_steps(spec)


def _check_steps(spec: Spec) -> Iterator[Problem]:
    """Work that no step speaks of, once the steps are written by hand."""
    seams = {value.value for step in spec.steps for value in step.seams}
    joins = {value.value for step in spec.steps for value in step.joins}
    straps = {value.value for step in spec.steps for value in step.straps}
    for kind, entries, told in (
        ("join", spec.joins, joins), ("seam", spec.seams, seams), ("strap", spec.straps, straps)
    ):  # fmt: skip
        for entry in entries:
            if entry.name not in told:
                yield make_caution(
                    entry.place,
                    f'no step makes the {kind} "{entry.name}"',
                    f'write {kind}s = ["{entry.name}"] in a step',
                )
