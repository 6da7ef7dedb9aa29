from collections.abc import Callable
from dataclasses import fields, replace

import by_hand
import pytest
from by_hand import BODY, MAIN, make_strap

from docgen.assemble import Assembled, assemble, place_parts
from docgen.geometry.outline import rectangle_outline, strip_outline
from docgen.geometry.shapes import Line, Path, Point
from docgen.resolve import Build, Care, Join, Material, Piece, Printing, Seam, SeamSide, Shop, Stitch, StitchLine, Strap

EMPTY = Build(
    code="bag",
    title="Bag",
    version="1",
    changed="",
    show="mm",
    makes=1,
    digest="0123456789",
    source_name="bag.toml",
    source=b"",
    shop=Shop(),
    printing=Printing(paper="a4", margin_mm=6.0, overlap_mm=10.0),
    materials=(BODY,),
    stitches=(MAIN,),
    pieces=(),
    joins=(),
    seams=(),
    straps=(),
    hardware=(),
    steps=(),
    care=Care(card="A6", extra="", repair=""),
    cautions=(),
)


@pytest.fixture
def body() -> Material:
    return BODY


@pytest.fixture
def main() -> Stitch:
    return MAIN


@pytest.fixture
def make_build() -> Callable[..., Build]:
    """A build of nothing, with these fields put in; one leather (2 mm) and one machine stitch (4 mm). It is known how it
    goes together, but for the layers of its seams, which stay as they are given, and hardware that is `fastened`."""

    def make(**given: object) -> Assembled:
        own = {name: value for name, value in given.items() if name != "fastened"}
        build = replace(EMPTY, **own)  # type: ignore[arg-type]
        assembly = assemble(build)
        if "fastened" in given:
            assembly = replace(assembly, fastened=given["fastened"])
        parts = {item.name: getattr(build, item.name) for item in fields(Build)}
        return Assembled(**parts, assembly=assembly, space=place_parts(build, assembly))

    return make


@pytest.fixture
def make_piece() -> Callable[..., Piece]:
    """A rectangle (or strip) of the leather: `make_piece("back", 200, 150, cut=2)`."""

    def make(name: str, width_mm: float, height_mm: float, **more: object) -> Piece:
        outline = (strip_outline if more.get("shape") == "strip" else rectangle_outline)(width_mm, height_mm)
        return by_hand.make_piece(name, outline, **more)

    return make


@pytest.fixture
def make_seam() -> Callable[..., Seam]:
    """A seam of two layers in the one stitch: `make_seam("side", 400, "back", "front")`."""

    def make(name: str, length_mm: float, *parts: str, **fields: object) -> Seam:
        sides = tuple(SeamSide(part=part, edges=("left",), length_mm=length_mm) for part in parts)
        plain = Seam(
            name=name,
            title=name.title(),
            stitch="main",
            sides=sides,
            length_mm=length_mm,
            stitches=round(length_mm / 4),
            pitch_mm=4.0,
            stack_mm=4.0,
        )
        return replace(plain, **fields)  # type: ignore[arg-type]

    return make


@pytest.fixture
def make_join() -> Callable[..., Join]:
    """A join of strips: `make_join("gusset", "side", "base", "side")`."""

    def make(name: str, *pieces: str, **fields: object) -> Join:
        plain = Join(
            name=name,
            title=name.title(),
            pieces=pieces,
            overlap_mm=12.0,
            stitch="main",
            rows=2,
            length_mm=400.0,
            width_mm=60.0,
        )
        return replace(plain, **fields)  # type: ignore[arg-type]

    return make


@pytest.fixture
def handle(make_piece) -> Strap:
    """A strap of 20 x 400 mm, stitched along both edges."""
    lines = tuple(
        StitchLine(seam="handle", stitch="main", path=Path((Line(Point(x, 0), Point(x, 400)),))) for x in (5, 15)
    )
    piece = make_piece("handle", 20, 400, shape="strip", is_strap=True, stitch_lines=lines)
    return make_strap(piece, cut=2, stitch="main", thickness_mm=2.6)
