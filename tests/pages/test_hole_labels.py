"""The size of a punch: beside its hole, led to it, or in the piece's label, and never over a line that is cut."""

import itertools
from dataclasses import replace
from pathlib import Path as FilePath

import by_hand
import pytest
from shapely.geometry import LineString, Polygon, box

from docgen.checks import resolve_build
from docgen.geometry.outline import circle_outline, outline_path, rectangle_outline
from docgen.geometry.path import box_path, flatten
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.piece_drawing import draw_piece
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pattern.piece_template import make_template
from docgen.read import read_spec
from docgen.resolve import Build, Hole, Landing, Piece, Slit

STYLE = load_pattern_style()
SPEC = FilePath(__file__).parents[2] / "specs" / "field-bag.toml"


def make_piece(outline, **marks) -> Piece:
    return by_hand.make_piece("washer", outline, material="leather", shape="circle", **marks)


def sizes_on(piece: Piece) -> list[TextMark]:
    return [mark for mark in draw_piece(piece, STYLE, "in") if isinstance(mark, TextMark)]


def label_of(piece: Piece) -> list[str]:
    build: Build = resolve_build(read_spec(SPEC))
    piece = replace(piece, material=build.materials[0].name)
    return [line.text.replace("\u00a0", " ") for line in make_template(build, piece, STYLE, (200.0, 250.0)).label]


@pytest.mark.parametrize("across_mm", [6.0, 8.0, 11.0, 16.0, 19.0, 24.0, 31.0, 60.0])
def test_size_of_a_washers_hole_lies_on_the_leather_clear_of_its_edge(across_mm: float) -> None:
    piece = make_piece(
        circle_outline(across_mm), holes=(Hole(at=Point(across_mm / 2, across_mm / 2), diameter_mm=4.0),)
    )
    leather = Polygon(flatten(outline_path(piece.outline), 0.001)).buffer(-0.25)  # half of a cut line 0.5 mm wide
    sizes = sizes_on(piece)
    assert all(leather.contains(box(*_sides(mark_box(mark)))) for mark in sizes)
    assert ([mark.text for mark in sizes], "punch 5/32 in" in label_of(piece)) in ((["5/32 in"], False), ([], True))


def _sides(area: Box) -> tuple[float, float, float, float]:
    return area.left, area.bottom, area.right, area.top


def test_a_washer_of_16_mm_says_its_punch_in_its_label() -> None:
    piece = make_piece(circle_outline(16.0), holes=(Hole(at=Point(8.0, 8.0), diameter_mm=4.0),))
    assert sizes_on(piece) == []
    assert "punch 5/32 in" in label_of(piece)


def test_a_hole_hemmed_in_by_lines_that_are_not_cut_is_led_to_from_outside_them() -> None:
    close = box_path(Box(43.0, 33.0, 57.0, 47.0))
    piece = make_piece(
        rectangle_outline(100.0, 80.0),
        holes=(Hole(at=Point(50.0, 40.0), diameter_mm=4.0),),
        landings=(Landing(piece="tab", outline=close, dx_mm=0.0, dy_mm=0.0),),
    )
    (size,) = sizes_on(piece)
    (leader,) = (
        mark for mark in draw_piece(piece, STYLE, "in") if isinstance(mark, PathMark) and mark.layer == "words"
    )
    drawn = box(*_sides(mark_box(size)))
    line = LineString(flatten(leader.path, 0.001))
    assert not drawn.intersects(box(43.0, 33.0, 57.0, 47.0))
    assert line.distance(LineString([(50, 40), (50, 40)])) == pytest.approx(2.0 + 1.5 + 0.7)  # past rim and cross
    assert 0.0 < line.distance(drawn) < 1.5


def test_no_leader_runs_over_a_slit() -> None:
    """A hole in a box of four slits: no size stands inside it, and none is led across it."""
    low, high = Point(43, 33), Point(57, 47)
    corners = (low, Point(high.x, low.y), high, Point(low.x, high.y), low)
    slits = tuple(Slit(start=start, end=end) for start, end in itertools.pairwise(corners))
    piece = make_piece(
        rectangle_outline(100.0, 80.0), holes=(Hole(at=Point(50.0, 40.0), diameter_mm=4.0),), slits=slits
    )
    assert sizes_on(piece) == []
    assert "punch 5/32 in" in label_of(piece)
