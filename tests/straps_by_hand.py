"""Straps made by hand, for tests of what comes after resolving."""

from dataclasses import replace

from docgen.resolve import Piece, Strap, StrapEnd

SQUARE = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)


def make_strap(piece: Piece, **fields: object) -> Strap:
    """A plain strap of this strip, square at both ends and as long as cut, with these fields put in."""
    width_mm, length_mm = piece.outline.edges[1].path.segments[0].end
    plain = Strap(
        name=piece.name,
        title=piece.title,
        material=piece.material,
        cut=piece.cut,
        width_mm=width_mm,
        cut_length_mm=length_mm,
        finished_mm=length_mm,
        worn_mm=(),
        hole_tips_mm=(),
        punch_mm=0.0,
        ends=(SQUARE, SQUARE),
        partner="",
        stitch="",
        piece=piece,
        note="",
    )
    return replace(plain, **fields)  # type: ignore[arg-type]
