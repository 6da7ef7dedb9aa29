"""Every drawing of a piece has the piece's own shape, as wide and as high as it should be: on the pattern, turned over
too, in the small drawings, in the lists, in an export. The body of the cable roll measures 342 by 180 mm, as its path
in the SVG adds up by hand, with eyes of 5 mm that stand 16 mm apart one above the other."""

import re

import pytest
from demos import demo_build, demo_plan

from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.pages.drawn.export import draw_pieces
from docgen.pages.drawn.piece_drawing import draw_piece
from docgen.pages.drawn.small_drawing import small_drawer
from docgen.pages.drawn.tiny_drawing import draw_tiny_piece
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, Mark, PathMark
from docgen.plan import DrawnPiece
from docgen.resolve import Piece

PATTERN, PAGE = load_pattern_style(), load_page_style()
SIZES = {
    ("cable-roll", "body"): (342.0, 180.0),  # drawn
    ("cable-roll", "pocket"): (256.0, 80.0),
    ("field-bag", "back"): (304.8, 234.95),  # 12 by 9 1/4 in
    ("field-bag", "gusset-side"): (88.9, 209.55),  # 3 1/2 by 8 1/4 in
}


def find_piece(build: str, name: str) -> Piece:
    return next(piece for piece in demo_build(build).pieces if piece.name == name)


def size(box: Box) -> tuple[float, float]:
    return box.width, box.height


def paths(marks: tuple[Mark, ...]) -> list[PathMark]:
    inner = [own for mark in marks if isinstance(mark, ClipMark) for own in paths(mark.marks)]
    return [*inner, *(mark for mark in marks if isinstance(mark, PathMark))]


@pytest.mark.parametrize(("build", "name"), SIZES)
@pytest.mark.parametrize("is_turned", [False, True])
def test_the_pattern_shows_a_piece_as_wide_and_as_high_as_it_is(build, name, is_turned) -> None:
    piece = find_piece(build, name)
    marks = draw_piece(piece.turned_over() if is_turned else piece, PATTERN, "mm")
    cut = max((path_box(mark.path) for mark in paths(marks) if mark.layer == "cut"), key=lambda box: box.width)
    assert size(cut) == pytest.approx(SIZES[build, name], abs=0.01)


@pytest.mark.parametrize("is_turned", [False, True])
def test_holes_of_a_drawing_are_round_and_as_far_apart_as_drawn(is_turned) -> None:
    body = find_piece("cable-roll", "body")
    holes = (body.turned_over() if is_turned else body).marks.holes
    rims = [path_box(hole.path) for hole in holes]
    assert [size(rim) for rim in rims] == [pytest.approx((5.0, 5.0), abs=0.01)] * 2
    upper, lower = (rim.centre for rim in rims)
    assert (upper.x - lower.x, upper.y - lower.y) == pytest.approx((0.0, 16.0), abs=0.01)


@pytest.mark.parametrize(("build", "name"), SIZES)
def test_a_small_drawing_is_to_scale_both_ways(build, name) -> None:
    drawn = DrawnPiece(name=name, seams=(), is_skived=False, is_punched=True)
    figure = small_drawer(demo_plan(build), (drawn,), 66.0, PAGE, {})(80.0)
    assert figure is not None
    scale = float(re.search(r"1:([\d.]+)", figure.caption)[1])
    outline, *_ = paths(figure.marks)  # drawn first, so that holes lie over it
    wide, high = SIZES[build, name]
    lies = high > 3 * wide
    expected = (high, wide) if lies else (wide, high)
    assert size(path_box(outline.path)) == pytest.approx([side / scale for side in expected], abs=0.01)


@pytest.mark.parametrize(("build", "name"), SIZES)
def test_a_tiny_drawing_keeps_the_shape(build, name) -> None:
    outline, *_ = paths(draw_tiny_piece(find_piece(build, name), 24.0, 13.0, PAGE).marks)
    wide, high = size(path_box(outline.path))
    ratio = SIZES[build, name][0] / SIZES[build, name][1]
    assert wide / high == pytest.approx(1 / ratio if ratio < 1 / 3 else ratio, rel=0.001)


@pytest.mark.parametrize(("build", "name"), SIZES)
def test_an_export_is_at_full_size_both_ways(build, name) -> None:
    (drawing,) = draw_pieces(demo_build(build), names=(name,))
    cut = next(layer for layer in drawing.layers if layer.name == "cut").paths[-1]
    assert size(path_box(cut)) == pytest.approx(SIZES[build, name], abs=0.01)


def test_only_the_middle_hole_of_a_row_is_ringed() -> None:
    strap = next(strap for strap in demo_build().straps if len(strap.hole_tips_mm) % 2)
    row = strap.piece.marks.holes[: len(strap.hole_tips_mm)]
    middle = row[len(row) // 2]
    assert [hole.is_middle for hole in row] == [hole is middle for hole in row]
    rims = [path_box(hole.path) for hole in strap.piece.marks.holes]
    closed = [path_box(mark.path) for mark in paths(draw_piece(strap.piece, PATTERN, "mm")) if mark.path.closed]
    round_holes = [box for box in closed if any(_is_around(box, rim) for rim in rims)]
    rings = [box for box in round_holes if box not in rims]
    assert [box.centre for box in rings] == [pytest.approx(middle.at)]


def _is_around(box: Box, rim: Box) -> bool:
    near = abs(box.centre.x - rim.centre.x) + abs(box.centre.y - rim.centre.y) < 0.01
    return near and rim.width - 0.01 <= box.width < rim.width + 10
