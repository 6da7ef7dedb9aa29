"""Pieces to export: those of the demos, and one with everything that is hard to draw."""

from dataclasses import replace

from by_hand import make_piece
from demos import demo_build

from docgen.geometry.inset import inset_run
from docgen.geometry.outline import Corner, corner_outline
from docgen.geometry.shapes import Point
from docgen.pages.drawn.export import Drawing, draw_pieces
from docgen.resolve import Build, Hole, Piece, Slit, StitchLine


def odd_piece() -> Piece:
    """A piece with a Bezier edge, a wide and a narrow rounding, a corner that turns in, holes and a slit."""
    outline = corner_outline(
        [
            Corner(Point(10, -5), radius=8),
            Corner(Point(130, 0), handles=(Point(160, 30), Point(110, 50))),
            Corner(Point(135, 80)),
            Corner(Point(70, 60), radius=5),
            Corner(Point(0, 90), radius=2),
        ]
    )
    holes = (Hole(at=Point(40, 20), diameter_mm=4), Hole(at=Point(90, 33.3), diameter_mm=6.35))
    return make_piece(
        "odd",
        outline,
        material=demo_build().materials[0].name,
        shape="outline",
        holes=holes,
        slits=(Slit(start=Point(30, 30), end=Point(30, 45)),),
        stitch_lines=(StitchLine(seam="hem", stitch="saddle", path=inset_run(outline, ("all",), 4.0)),),
    )


def odd_build(**changes: object) -> Build:
    return replace(demo_build(), pieces=(replace(odd_piece(), **changes),), straps=())


def every_piece() -> list[tuple[Build, Piece]]:
    builds = (demo_build(), demo_build("notebook-sleeve"), odd_build())
    return [(build, piece) for build in builds for piece in build.cut]


def varied_pieces() -> list[tuple[Build, Piece]]:
    """One of each kind of outline, for what takes long."""
    seen = {(piece.shape, piece.is_strap): (build, piece) for build, piece in every_piece()}
    assert len(seen) > 3
    return list(seen.values())


def draw(build: Build, piece: Piece, kerf_mm: float = 0.0) -> Drawing:
    return draw_pieces(build, kerf_mm=kerf_mm, names=(piece.name,))[0]
