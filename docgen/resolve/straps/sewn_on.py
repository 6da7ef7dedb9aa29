"""Straps that are sewn on to pieces: the stitching of their ends, on the strap and on the piece beneath. mm."""

import math
from collections.abc import Iterator
from dataclasses import replace

from docgen.geometry.inset import inset_run
from docgen.geometry.path import transform_path
from docgen.geometry.shapes import GeometryError, Path, Point
from docgen.geometry.vector import Transform, compose, rotation, translation
from docgen.resolve.parts import Parts
from docgen.resolve.piece import StrapLanding
from docgen.resolve.seams.seam import INSET_CHECK, Stitch
from docgen.resolve.seams.stitch_lines import lay_stitches, tell_apart
from docgen.resolve.straps.strap import Strap, sewn_on_name
from docgen.resolve.straps.strap_outline import lying_outline, onto_piece
from docgen.resolve.values import Reader
from docgen.written.units.telling import format_mm


def sew_straps_on(reader: Reader, parts: Parts) -> Parts:
    """The parts with the stitching of every end that is sewn on a piece; what does not fit is noted."""
    pieces, straps = dict(parts.pieces), dict(parts.straps)
    for base in parts.pieces.values():
        for landing in base.strap_landings:
            strap, stitch = straps.get(landing.strap), parts.stitches.get(landing.stitch)
            if strap is None or stitch is None:
                continue
            name = sewn_on_name(strap.name, landing.end, base.name)
            on_strap, on_piece = (
                _onto_strap(strap, landing.end),
                onto_piece(strap, landing.end, landing.at, landing.leads),
            )
            for row, path in enumerate(_rows(reader, strap, landing, stitch)):
                own, beneath = (
                    lay_stitches(name, stitch, transform_path(path, by), row, None) for by in (on_strap, on_piece)
                )
                piece, host = straps[strap.name].piece, pieces[base.name]
                lines = piece.marks.stitch_lines
                if all(line.path != own.path for line in lines):
                    piece = piece.with_marks(stitch_lines=(*lines, own))
                    straps[strap.name] = replace(straps[strap.name], piece=piece)
                pieces[base.name] = host.with_marks(stitch_lines=(*host.marks.stitch_lines, beneath))
    sewn_on = {name for name, piece in pieces.items() if piece is not parts.pieces[name]}
    pieces |= {name: tell_apart(pieces[name]) for name in sewn_on}
    return replace(parts, pieces=pieces, straps=straps)


def _rows(reader: Reader, strap: Strap, landing: StrapLanding, stitch: Stitch) -> Iterator[Path]:
    """The rows along both edges and across the very end, with the end at the bottom and its lower left at (0, 0)."""
    outline = lying_outline(strap, landing.end, landing.over_mm)
    for row in range(stitch.rows):
        inset_mm = stitch.inset_mm + row * stitch.row_gap_mm
        try:
            yield inset_run(outline, ("left", "start", "right"), inset_mm)
        except GeometryError:
            wide_mm = strap.end_width_mm(landing.end)
            what = (
                f'the stitch "{stitch.name}" does not fit the end of "{strap.name}", {format_mm(wide_mm)} wide, of which '
                f"{format_mm(landing.over_mm)} lie here"
            )
            reader.error(
                landing.place, what, "use a smaller inset, or let more of it lie here", INSET_CHECK, stitch.name
            )
            return


def _onto_strap(strap: Strap, which: int) -> Transform:
    """From an end by itself to that end of the strap as it is cut: beyond what is turned back."""
    wide_mm, turned_mm = strap.end_width_mm(which), strap.ends[which].takes_mm
    aside = translation((strap.width_mm - wide_mm) / 2, 0.0)
    if not which:
        return compose(aside, translation(0.0, turned_mm))
    return compose(rotation(math.pi, Point(wide_mm / 2, (strap.cut_length_mm - turned_mm) / 2)), aside)
