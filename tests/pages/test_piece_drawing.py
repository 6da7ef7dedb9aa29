"""One piece as marks: true sizes, one look for each kind of line, hatched skives, words clear of lines."""

import math
from itertools import combinations

import by_hand
import pytest
from demos import demo_build
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as shapely_box

from docgen.geometry.outline import outline_path, rectangle_outline
from docgen.geometry.path import box_path, end_point, flatten, path_area, path_box, polyline, start_point
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import distance
from docgen.pages.drawn.piece_drawing import draw_piece, draw_stretch, fit_dash, kinds_of, piece_lines
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style, words
from docgen.pages.marks.moving import text_box
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pattern.legend import SAMPLES, legend_figure
from docgen.resolve import Fold, Hole, Landing, Notch, Piece, Skive, Slit, StitchLine

STYLE = load_pattern_style()
OUTLINE = rectangle_outline(100.0, 80.0)


def make_piece(**fields: object) -> Piece:
    return by_hand.make_piece("back", OUTLINE, material="hide", **fields)


def paths_of(piece: Piece) -> list[PathMark]:
    return [mark for mark in draw_piece(piece, STYLE, "in") if isinstance(mark, PathMark)]


def drawn_with(piece: Piece, stroke: object) -> list[PathMark]:
    return [mark for mark in paths_of(piece) if mark.stroke == stroke]


def texts_of(piece: Piece) -> list[TextMark]:
    return [mark for mark in draw_piece(piece, STYLE, "in") if isinstance(mark, TextMark)]


def test_outline_is_drawn_at_full_size_with_the_cut_line_and_last() -> None:
    marks = draw_piece(make_piece(), STYLE, "in")
    (cut,) = drawn_with(make_piece(), STYLE["cut"])
    assert marks[-1] == cut
    assert cut.layer == "cut"
    assert cut.path == outline_path(OUTLINE)
    assert path_area(cut.path) == pytest.approx(8000.0)


@pytest.mark.parametrize("diameter_mm", [1.5, 3.175, 4.0, 12.7])
def test_hole_is_a_circle_of_its_true_size_with_a_cross_over_its_rim(diameter_mm: float) -> None:
    at = Point(30.0, 40.0)
    circle, *cross = paths_of(make_piece(holes=(Hole(at=at, diameter_mm=diameter_mm),)))[:3]
    points = flatten(circle.path, 0.001)
    assert circle.path.closed
    assert [distance(at, point) for point in points] == pytest.approx([diameter_mm / 2] * len(points), abs=0.002)
    assert len(cross) == 2
    for arm in cross:
        assert path_box(arm.path).centre == pytest.approx(at)
        assert distance(start_point(arm.path), end_point(arm.path)) == pytest.approx(diameter_mm + 3.0)


def test_size_of_the_punch_stands_beside_the_first_hole_of_a_run() -> None:
    row = tuple(Hole(at=Point(x, 40.0), diameter_mm=4.7625) for x in (20.0, 40.0, 60.0))
    (text,) = texts_of(make_piece(holes=row))
    assert text.text == "3/16 in"
    box = text_box(text)
    assert 0.5 < 20.0 - 4.7625 / 2 - box.right < 4.0
    assert len(texts_of(make_piece(holes=(*row, Hole(at=Point(80.0, 60.0), diameter_mm=3.175))))) == 2


@pytest.mark.parametrize("at", [Point(50, 40), Point(94, 40), Point(50, 75), Point(94, 74), Point(6, 6)])
def test_size_of_the_punch_is_clear_of_every_line_and_inside(at: Point) -> None:
    fold = Fold(start=Point(0, 50), end=Point(100, 50))
    piece = make_piece(holes=(Hole(at=at, diameter_mm=3.175),), folds=(fold,))
    (text,) = texts_of(piece)
    box = text_box(text)
    place = shapely_box(box.left, box.bottom, box.right, box.top)
    assert Polygon(flatten(outline_path(OUTLINE), 0.1)).contains(place)
    for mark in paths_of(piece):
        points = flatten(mark.path, 0.1)
        assert not LineString([*points, points[0]] if mark.path.closed else points).intersects(place)


def test_skived_band_is_hatched_inside_itself() -> None:
    band = box_path(Box(0, 0, 100, 12))
    skive = Skive(edges="bottom", band=band, width_mm=12, to_mm=1, to_words="2.5 oz")
    marks = drawn_with(make_piece(skives=(skive,)), STYLE["skive"])
    assert [mark for mark in marks if mark.path == band]
    hatch = [mark.path for mark in marks if mark.path != band]
    # 45 degrees, 3 mm apart: along the band a line every 3 * sqrt(2) mm.
    assert len(hatch) == pytest.approx((100 + 12) / (3 * math.sqrt(2)), abs=2)
    for path in hatch:
        run = end_point(path)[0] - start_point(path)[0], end_point(path)[1] - start_point(path)[1]
        assert abs(run[0]) == pytest.approx(abs(run[1]), abs=1e-6)
        assert shapely_box(0, 0, 100, 12).buffer(1e-6).contains(LineString(flatten(path, 0.1)))


def test_notch_stands_on_the_edge_and_points_inward() -> None:
    notch = Notch(at=Point(50.0, 0.0), inward=Point(0.0, 1.0), edge="bottom")
    (line,) = drawn_with(make_piece(notches=(notch,)), STYLE["notch"])[:1]
    assert start_point(line.path) == (50.0, 0.0)
    assert end_point(line.path) == (50.0, 4.0)
    (triangle,) = drawn_with(make_piece(notches=(notch,)), STYLE["punch"])
    assert path_box(triangle.path).bottom == pytest.approx(0.0)
    assert path_box(triangle.path).top == pytest.approx(4.0)
    assert path_box(triangle.path).width == pytest.approx(2 * 4.0 / 3), "narrower than it is high"


def test_slit_is_as_heavy_as_the_outline_and_has_bars_at_its_ends() -> None:
    slit = Slit(start=Point(50.0, 20.0), end=Point(50.0, 40.0))
    marks = [mark for mark in paths_of(make_piece(slits=(slit,))) if mark.layer == "cut"][:3]
    assert marks[0].stroke == STYLE["cut"]
    assert distance(start_point(marks[0].path), end_point(marks[0].path)) == 20.0
    assert [path_box(bar.path).centre for bar in marks[1:]] == [(50.0, 20.0), (50.0, 40.0)]


def test_stitch_lines_folds_and_landings_have_their_own_strokes() -> None:
    stitch = polyline((Point(4, 4), Point(96, 4)))
    landing = box_path(Box(20, 20, 60, 60))
    piece = make_piece(
        stitch_lines=(StitchLine(seam="foot", stitch="main", path=stitch),),
        folds=(Fold(start=Point(0, 70), end=Point(100, 70)),),
        landings=(Landing(piece="pocket", outline=landing, dx_mm=0, dy_mm=0),),
    )
    assert [mark.path for mark in drawn_with(piece, STYLE["stitch"])] == [stitch]
    assert [mark.path for mark in drawn_with(piece, STYLE["landing"])] == [landing]
    assert [mark.path for mark in drawn_with(piece, STYLE["fold"])] == [polyline((Point(0, 70), Point(100, 70)))]


def test_labels_keep_clear_of_everything_that_is_drawn() -> None:
    piece = make_piece(
        holes=(Hole(at=Point(30, 40), diameter_mm=4),),
        folds=(Fold(start=Point(0, 70), end=Point(100, 70)),),
        slits=(Slit(start=Point(50, 20), end=Point(50, 40)),),
        notches=(Notch(at=Point(50, 0), inward=Point(0, 1), edge="bottom"),),
    )
    kept = [line if isinstance(line, Box) else path_box(line) for line in piece_lines(piece)]
    for mark in paths_of(piece):
        box = path_box(mark.path)
        assert any(
            keep.left - 1.6 <= box.left
            and box.right <= keep.right + 1.6
            and keep.bottom - 1.6 <= box.bottom
            and box.top <= keep.top + 1.6
            for keep in kept
        ), box


def test_an_oblong_hole_is_told_by_its_width_and_length() -> None:
    """3/16 in wide, 1 1/4 in long; the round hole beside it of the same punch is told too."""
    slot = Hole(at=Point(30, 40), diameter_mm=4.7625, slot=Point(0, (31.75 - 4.7625) / 2))
    piece = make_piece(holes=(slot, Hole(at=Point(60, 40), diameter_mm=4.7625)))
    assert [mark.text for mark in texts_of(piece)] == ["3/16 × 1 1/4 in", "3/16 in"]
    labels = [mark.text for mark in draw_piece(piece, STYLE, "mm") if isinstance(mark, TextMark)]
    assert labels == ["4.8 × 31.8 mm", "4.8 mm"]


def test_line_types_differ_in_black_and_white() -> None:
    kinds = {name: STYLE[name] for name in ("cut", "stitch", "fold", "landing", "skive")}
    assert all(stroke.grey == 0.0 for stroke in kinds.values())
    for (one, first), (other, second) in combinations(kinds.items(), 2):
        assert first.dash_mm != second.dash_mm or abs(first.width_mm - second.width_mm) > 0.25, (one, other)


EVERY = frozenset(words("lines")) - {"start", "end", "first_end", "second_end", "top"}


def test_the_legend_has_what_the_pattern_shows_and_no_more() -> None:
    """The roll is sewn by hand; it has no fold, no skive, no slit and no arrow."""
    pieces = demo_build("cable-roll").cut
    kinds = {kind for piece in pieces for kind in kinds_of(piece)}
    assert kinds == {"cut", "drawn", "hand", "landing", "notch", "punch"}
    drawn = legend_figure(STYLE, load_page_style(), 80.0, kinds)
    said = words("lines")
    assert [mark.text for mark in drawn.marks if isinstance(mark, TextMark)] == [said[k] for k in said if k in kinds]


def test_legend_shows_each_kind_once_and_no_two_alike() -> None:
    figure = legend_figure(STYLE, load_page_style(), 80.0, EVERY)
    names = [mark.text for mark in figure.marks if isinstance(mark, TextMark)]
    said = words("lines")
    assert names == [said[kind] for kind in said if kind in EVERY]
    assert len(names) == len(set(names))
    rows = [
        tuple(
            (mark.stroke, mark.fill, mark.path.closed, len(mark.path.segments), round(path_box(mark.path).width, 3))
            for mark in figure.marks
            if isinstance(mark, PathMark) and abs(path_box(mark.path).centre.y - y) < 3.3
        )
        for y in [
            mark.y_mm + load_page_style().body_type_mm * 0.33 for mark in figure.marks if isinstance(mark, TextMark)
        ]
    ]
    assert all(rows)
    assert len(set(rows)) == len(rows)
    assert all(mark.stroke.grey == 0 for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke)


def test_samples_of_the_legend_are_level_with_their_words_and_clear_of_them_and_of_each_other() -> None:
    kinds = words("lines").keys() & {*SAMPLES, *STYLE.lines}
    figure = legend_figure(STYLE, load_page_style(), 80.0, kinds)
    said = [mark for mark in figure.marks if isinstance(mark, TextMark)]
    assert {mark.text for mark in said} == {words("lines")[kind] for kind in kinds}
    row_mm, above = figure.height_mm / len(said), figure.height_mm
    for row, name in enumerate(said):
        low = figure.height_mm - (row + 1) * row_mm
        drawn = [path_box(mark.path) for mark in figure.marks if isinstance(mark, PathMark)]
        own = [box for box in drawn if low < box.centre.y < low + row_mm]
        bottom, top = min(box.bottom for box in own), max(box.top for box in own)
        assert top < above - 0.2, name.text
        left, right = min(box.left for box in own), max(box.right for box in own)
        assert left >= 0
        assert right < name.x_mm - 2
        level = text_box(name).centre.y
        assert bottom - 0.5 <= level <= top + 0.5, name.text
        above = bottom


def test_legend_is_drawn_with_the_strokes_of_the_pattern() -> None:
    figure = legend_figure(STYLE, load_page_style(), 80.0, EVERY)
    strokes = {mark.stroke for mark in figure.marks if isinstance(mark, PathMark)}
    assert {STYLE[kind] for kind in ("cut", "stitch", "fold", "landing", "skive", "punch", "notch")} <= strokes


def test_line_of_a_drawing_is_in_the_legend_only_where_there_is_one() -> None:
    plain = legend_figure(STYLE, load_page_style(), 80.0, {"cut", "fold"})
    more = legend_figure(STYLE, load_page_style(), 80.0, {"cut", "fold", "drawn"})
    assert words("lines")["drawn"] in [mark.text for mark in more.marks if isinstance(mark, TextMark)]
    assert words("lines")["drawn"] not in [mark.text for mark in plain.marks if isinstance(mark, TextMark)]


@pytest.mark.parametrize("length_mm", [1.0, 4.0, 8.0, 19.0, 21.0, 300.0])
@pytest.mark.parametrize("kind", ["fold", "centre", "stitch"])
def test_short_line_still_shows_two_dashes_and_a_gap(kind: str, length_mm: float) -> None:
    plain = STYLE[kind]
    fitted = fit_dash(plain, length_mm)
    dash, *rest = fitted.dash_mm
    assert 2 * dash + sum(rest) <= length_mm + 1e-9
    assert dash >= sum(rest) - 1e-9 or fitted == plain
    if 3 * plain.dash_mm[0] + 2 * sum(plain.dash_mm[1:]) <= length_mm:
        assert fitted == plain


@pytest.mark.parametrize("length_mm", [16.0, 19.0, 25.4])
def test_a_fold_of_a_small_piece_is_three_dashes(length_mm: float) -> None:
    """A slit or a hole that crosses the only gap of two would make it a cut."""
    dash, gap = fit_dash(STYLE["fold"], length_mm).dash_mm
    assert 3 * dash + 2 * gap == pytest.approx(length_mm)
    assert gap == STYLE["fold"].dash_mm[1]


def test_unbroken_line_stays_unbroken_and_one_without_length_keeps_its_dashes() -> None:
    assert fit_dash(STYLE["cut"], 3.0) == STYLE["cut"]
    assert fit_dash(STYLE["fold"], 0.0) == STYLE["fold"]
    assert STYLE["fold"].dash_mm


def test_arrow_of_least_stretch_keeps_clear_of_a_stitch_line() -> None:
    plain = make_piece(least_stretch="up")
    tips = [mark.path for mark in draw_stretch(plain, STYLE)]
    x = path_box(tips[0]).centre.x
    line = StitchLine(seam="s", stitch="t", path=polyline((Point(x, 0), Point(x, 200))), holes_mm=(), by="machine")
    moved = draw_stretch(plain.with_marks(stitch_lines=(line,)), STYLE)
    assert moved
    for mark in moved:
        box = path_box(mark.path)
        assert not box.left - 0.5 < x < box.right + 0.5


def test_ring_and_zigzag_are_in_the_legend_only_where_there_are_any() -> None:
    plain = legend_figure(STYLE, load_page_style(), 80.0, {"cut", "fold"})
    more = legend_figure(STYLE, load_page_style(), 80.0, {"cut", "fold", "middle", "broken"})
    names, more_names = ([mark.text for mark in figure.marks if isinstance(mark, TextMark)] for figure in (plain, more))
    assert more_names == [*names, words("lines")["middle"], words("lines")["broken"]]
