"""Sheets: names, match marks that two sheets share, lines to trim by, and free room that is truly free."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from on_paper import make_template
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as shapely_box

from docgen.geometry.path import flatten, path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import LabelLine, set_label
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.moving import text_box
from docgen.pages.marks.page import ClipMark, CodeMark, PathMark, Stroke, TextMark
from docgen.pages.pattern.grid import Placed, Window, join_strip
from docgen.pages.pattern.moving import into_footprint, out_of_footprint
from docgen.pages.pattern.sheet_tag import Block, SheetWords, _frame, tag_block, tall_tag_block
from docgen.pages.pattern.sheets import (
    JOIN_STROKE,
    MATCH_MM,
    SMALL_MATCH_MM,
    DrawnGrid,
    draw_grids,
    draw_sheet,
    letter_name,
)
from docgen.pages.pattern.upright import _list_boxes
from docgen.pages.setting.frame import Stamp

STYLE = load_pattern_style()
WINDOW = Window(width_mm=200.0, height_mm=260.0, across_mm=10.0, down_mm=10.0)
ORIGIN = Point(6.0, 6.0)
STAMP = Stamp(
    title="Tuner Satchel",
    code="TUNER-SATCHEL",
    version="1",
    date="2026-03-31",
    digest="9F2C61AB04",
    units="mm",
    document_title="Pattern",
)


def draw(*sizes: tuple[float, float], join: str = "trim") -> tuple[DrawnGrid, ...]:
    templates = tuple(make_template(f"part-{i}", *size) for i, size in enumerate(sizes))
    return draw_grids(templates, WINDOW, join=join)  # type: ignore[arg-type]


def clip_of(marks: tuple[object, ...]) -> ClipMark:
    return next(mark for mark in marks if isinstance(mark, ClipMark))


def test_grids_have_letters_and_their_sheets_numbers_by_rows() -> None:
    large, small = draw((300, 400), (190, 250))
    assert [large.name, small.name] == ["A", "B"]
    assert [large.sheet_name(cell) for cell in large.grid.sheets] == ["A1", "A2", "A3", "A4"]
    assert large.grid.sheets == ((0, 1), (1, 1), (0, 0), (1, 0))
    assert small.sheet_name((0, 0)) == "B"


def test_letters_go_on_after_z() -> None:
    letters = [letter_name(index) for index in (0, 1, 25, 26, 27, 51, 52, 701, 702)]
    assert " ".join(letters) == "A B Z AA AB AZ BA ZZ AAA"


def test_every_join_has_two_marks_of_its_own_name_far_apart() -> None:
    (grid,) = draw((300, 400))
    assert len(grid.grid.joins) == 4
    names = [match.name for match in grid.matches]
    assert names == ["1a", "1b", "2a", "2b", "3a", "3b", "4a", "4b"]
    for first, second in zip(grid.matches[::2], grid.matches[1::2], strict=True):
        assert max(abs(first.at.x - second.at.x), abs(first.at.y - second.at.y)) > 80


def test_joins_are_numbered_on_from_grid_to_grid() -> None:
    grids = draw((300, 240), (300, 240))
    names = [match.name for grid in grids for match in grid.matches]
    assert names == ["1a", "1b", "2a", "2b"]


@pytest.mark.parametrize("join", ["trim", "overlap"])
def test_match_mark_is_drawn_on_both_sheets_at_the_same_place_of_the_drawing(join: str) -> None:
    (grid,) = draw((300, 240), join=join)
    places = []
    for cell in grid.grid.sheets:
        clip = clip_of(draw_sheet(grid, cell, WINDOW, ORIGIN, STYLE, join))  # type: ignore[arg-type]
        sheet = WINDOW.sheet(*cell)
        assert (clip.dx_mm, clip.dy_mm) == (ORIGIN.x - sheet.left, ORIGIN.y - sheet.bottom)
        diamonds = [
            path_box(m.path).centre
            for m in clip.marks
            if isinstance(m, PathMark) and m.stroke == Stroke(0.3) and m.path.closed
        ]
        shown = shapely_box(clip.box.left, clip.box.bottom, clip.box.right, clip.box.top)
        for at in diamonds:
            diamond = Polygon(
                [
                    (at.x + clip.dx_mm + dx, at.y + clip.dy_mm + dy)
                    for dx, dy in ((MATCH_MM, 0), (0, MATCH_MM), (-MATCH_MM, 0), (0, -MATCH_MM))
                ]
            )
            assert diamond.intersection(shown).area >= diamond.area / 2 - 1e-6
        places.append(diamonds)
    assert places[0] == places[1]
    assert len(places[0]) == 2


def test_marks_lie_on_the_edge_to_trim_or_in_the_middle_of_the_overlap() -> None:
    (trimmed,), (lapped,) = draw((300, 240)), draw((300, 240), join="overlap")
    strip = join_strip(trimmed.grid.joins[0], WINDOW)
    assert (strip.left, strip.right) == (190.0, 200.0)
    assert {match.at.x for match in trimmed.matches} == {190.0}
    assert {match.at.x for match in lapped.matches} == {195.0}


def test_grey_line_shows_where_the_next_sheet_comes_to_lie() -> None:
    (grid,) = draw((300, 400))
    lines = {}
    for cell in grid.grid.sheets:
        marks = draw_sheet(grid, cell, WINDOW, ORIGIN, STYLE, "trim")
        lines[cell] = [path_box(m.path) for m in marks if isinstance(m, PathMark) and m.stroke == JOIN_STROKE]
    # 10 mm of overlap: the right sheet begins 190 mm from the left edge, the lower one ends 10 mm above the foot.
    assert [round(box.left, 6) for box in lines[0, 1]] == [196.0, 6.0]
    assert [round(box.bottom, 6) for box in lines[0, 1]] == [6.0, 16.0]
    assert lines[1, 0] == []


def test_sheet_shows_no_more_than_its_window() -> None:
    (grid,) = draw((300, 240))
    clip = clip_of(draw_sheet(grid, (0, 0), WINDOW, ORIGIN, STYLE, "trim"))
    assert clip.box == Box(6.0, 6.0, 206.0, 266.0)


def test_match_marks_move_aside_for_lines_where_they_can() -> None:
    plain = draw((300, 240))[0]
    spot = plain.matches[0].at
    template = make_template("part-0", 300, 240)
    crossing = PathMark(path=polyline((Point(0, spot.y), Point(300, spot.y))), stroke=Stroke(0.3))
    busy = draw_grids((replace(template, marks=(*template.marks, crossing)),), WINDOW, join="trim")[0]
    assert abs(busy.matches[0].at.y - spot.y) > MATCH_MM + 5


def test_number_of_a_match_mark_is_clear_of_a_line_beside_the_join() -> None:
    """6.5 mm inside the sheet that is laid on top: clear of the diamond, and where its number would stand."""
    template = make_template("part-0", 300, 240)
    x = draw((300, 240))[0].matches[0].at.x + 6.5
    beside = PathMark(path=polyline((Point(x, 0), Point(x, 240))), stroke=Stroke(0.3))
    (grid,) = draw_grids((replace(template, marks=(*template.marks, beside)),), WINDOW, join="trim")
    clip = clip_of(draw_sheet(grid, (1, 0), WINDOW, ORIGIN, STYLE, "trim"))
    line = LineString(flatten(next(mark.path for mark in grid.parts[0].marks if mark.stroke == beside.stroke), 0.1))
    boxes = [text_box(mark) for mark in clip.marks if isinstance(mark, TextMark)]
    assert len(boxes) == 2
    assert not any(line.intersects(shapely_box(box.left, box.bottom, box.right, box.top)) for box in boxes)


@pytest.mark.parametrize("is_turned", [False, True])
def test_box_goes_into_a_footprint_and_out_again(is_turned: bool) -> None:
    placed = Placed(name="a", box=Box(20, 30, 120, 90), is_turned=is_turned)
    box = Box(25, 40, 60, 50)
    inner = into_footprint(box, placed)
    assert out_of_footprint(inner, placed) == pytest.approx(box)
    # By hand: turned to the left, the footprint's left side is the lower one on the sheet.
    assert inner == pytest.approx(Box(10, 60, 20, 95) if is_turned else Box(5, 10, 40, 20))


def test_number_of_a_match_mark_stands_inside_its_sheet() -> None:
    (grid,) = draw((300, 240))
    for cell in grid.grid.sheets:
        clip = clip_of(draw_sheet(grid, cell, WINDOW, ORIGIN, STYLE, "trim"))
        sheet = WINDOW.sheet(*cell)
        texts = [mark for mark in clip.marks if isinstance(mark, TextMark)]
        assert [mark.text for mark in texts] == ["1a", "1b"]
        for mark in texts:
            reach = 8.0 if mark.anchor == "start" else -8.0
            assert sheet.left < mark.x_mm < sheet.right
            assert sheet.left < mark.x_mm + reach < sheet.right


@pytest.mark.parametrize("join", ["trim", "overlap"])
def test_number_of_a_join_is_not_struck_through_where_lines_run_all_along_it(join: str) -> None:
    """Slanted lines 30 mm apart, and one along the join where the numbers would stand."""
    template = make_template("part-0", 300, 240)
    lines = [polyline((Point(170, y), Point(215, y + 20))) for y in range(0, 240, 30)]
    lines.append(polyline((Point(180.5, 0), Point(180.5, 240))))
    marks = tuple(PathMark(path=path, stroke=Stroke(0.5)) for path in lines)
    (grid,) = draw_grids(
        (replace(template, marks=(*template.marks, *marks)),),
        WINDOW,
        join=join,  # type: ignore[arg-type]
    )
    drawn = [LineString(flatten(path, 0.1)) for path in lines]
    for cell in grid.grid.sheets:
        clip = clip_of(draw_sheet(grid, cell, WINDOW, ORIGIN, STYLE, join))  # type: ignore[arg-type]
        for mark in clip.marks:
            if isinstance(mark, TextMark):
                box = text_box(mark)
                place = shapely_box(box.left, box.bottom, box.right, box.top)
                assert not any(line.intersects(place) for line in drawn)


@pytest.mark.parametrize(("rows_mm", "farthest_mm"), [((-6.3, 7.0), 12.0), ((), 7.0)])
def test_number_of_a_join_stands_beyond_a_row_that_runs_along_it(
    rows_mm: tuple[float, ...], farthest_mm: float
) -> None:
    """Two pieces whose cut edges lie 1.6 and 2.5 mm from a join all along it, with a row 5 mm inside each, where numbers
    would stand, or without one: there they stand as near as ever."""
    template = make_template("long", 190, 400)
    (plain,) = draw_grids((template,), WINDOW, join="trim")
    bottom = plain.parts[0].placed.box.bottom
    (join,) = {round(match.at.y, 6) for match in plain.matches}
    levels = [(-1.6, "cut"), (2.5, "cut"), *((mm, "stitch") for mm in rows_mm)]
    lines = tuple(
        PathMark(
            path=polyline((Point(0, join + mm - bottom), Point(190, join + mm - bottom))),
            stroke=Stroke(0.4),
            layer=layer,
        )
        for mm, layer in levels
    )
    (grid,) = draw_grids((replace(template, marks=(*template.marks, *lines)),), WINDOW, join="trim")
    drawn = [LineString([(0, join + mm), (200, join + mm)]) for mm, _ in levels]
    for cell in grid.grid.sheets:
        numbers = clip_of(draw_sheet(grid, cell, WINDOW, ORIGIN, STYLE, "trim")).marks
        boxes = [text_box(mark) for mark in numbers if isinstance(mark, TextMark) and mark.text in ("1a", "1b")]
        assert len(boxes) == 2
        for box in boxes:
            assert not any(line.intersects(shapely_box(box.left, box.bottom, box.right, box.top)) for line in drawn)
            assert max(abs(box.top - join), abs(box.bottom - join)) < farthest_mm


def test_the_line_of_a_join_shows_where_a_printer_has_one_tone() -> None:
    """Wherever a line of 0.25 mm lies between the pixels of 110 dpi, 0.231 mm each, one row of them is covered by half
    or more: (0.25 / 0.231) / 2 = 0.54."""
    pixel_mm = 25.4 / 110
    assert JOIN_STROKE.grey == 0
    assert JOIN_STROKE.width_mm / pixel_mm / 2 > 0.5
    assert JOIN_STROKE.dash_mm[0] > 2 * pixel_mm


def test_a_match_mark_beside_a_line_is_smaller_rather_than_touch_it() -> None:
    """A line 2.7 mm beside the whole of a join: a mark of 2.6 mm would come within 0.1 mm of it, one of 1.7 keeps 1 mm."""
    template = make_template("long", 190, 400)
    (grid,) = draw_grids((template,), WINDOW, join="trim")
    (join,) = {round(match.at.y, 6) for match in grid.matches}
    (part,) = grid.parts
    line = PathMark(
        path=polyline((Point(0, join - 2.7 - part.placed.box.bottom), Point(190, join - 2.7 - part.placed.box.bottom))),
        stroke=Stroke(0.3),
    )
    crossed = replace(template, marks=(*template.marks, line))
    (grid,) = draw_grids((crossed,), WINDOW, join="trim")
    assert {match.reach_mm for match in grid.matches} == {SMALL_MATCH_MM}


@pytest.mark.parametrize(("aside_mm", "reach_mm"), [(2.0, SMALL_MATCH_MM), (3.3, MATCH_MM)])
def test_a_match_mark_stands_between_two_lines_along_its_join(aside_mm: float, reach_mm: float) -> None:
    """Two lines 2 mm from the whole of a join: one of 1.7 mm is clear of both by 0.3 mm, one of 2.6 would lie across; at
    3.3 mm the larger one keeps 0.7 mm."""
    template = make_template("long", 190, 400)
    (grid,) = draw_grids((template,), WINDOW, join="trim")
    (join,) = {round(match.at.y, 6) for match in grid.matches}
    (part,) = grid.parts
    heights = [join + way - part.placed.box.bottom for way in (aside_mm, -aside_mm)]
    lines = [PathMark(path=polyline((Point(0, y), Point(190, y))), stroke=Stroke(0.3)) for y in heights]
    (grid,) = draw_grids((replace(template, marks=(*template.marks, *lines)),), WINDOW, join="trim")
    assert {match.reach_mm for match in grid.matches} == {reach_mm}


@pytest.mark.parametrize("draw_block", [tag_block, tall_tag_block])
def test_the_white_round_a_code_takes_nothing_of_the_frame(draw_block: Callable[..., Block]) -> None:
    """A code clears the ground about it; the frame is drawn after it."""
    sheet = SheetWords(stamp=STAMP, document="PATTERN", number=2, count=3, name="A1")
    kinds = [type(mark) for mark in draw_block(sheet, STYLE, load_page_style()).marks]
    assert kinds.index(CodeMark) < max(place for place, kind in enumerate(kinds) if kind is PathMark)
    assert kinds.count(PathMark) == 1


def test_frame_of_a_tag_runs_round_all_of_it() -> None:
    assert path_box(_frame(106.0, 26.0, STYLE).path) == Box(0.0, 0.0, 106.0, 26.0)


@pytest.mark.parametrize("digest", ["9F2C61AB04", "0" * 10])
@pytest.mark.parametrize("version", ["1", "2026-11-30-third-try"])
def test_code_of_a_tag_lies_in_the_middle_of_its_room_with_its_quiet_zone(version: str, digest: str) -> None:
    stamp = replace(STAMP, version=version, digest=digest)
    sheet = SheetWords(stamp=stamp, document="pattern", number=2, count=9, name="A1")
    block = tag_block(sheet, STYLE, load_page_style())
    (code,) = [mark for mark in block.marks if isinstance(mark, CodeMark)]
    right, above = block.width_mm - code.x_mm - code.size_mm, block.height_mm - code.y_mm - code.size_mm
    assert right == pytest.approx(code.y_mm)
    assert above == pytest.approx(code.y_mm)
    assert right > 4 * code.size_mm / len(code.rows), "ISO/IEC 18004: a quiet zone of four modules"


@pytest.mark.parametrize("is_after", [True, False])
def test_the_name_of_a_part_stands_at_the_end_of_its_leader(*, is_after: bool) -> None:
    """Of a piece that is not turned, whose leader runs across; one that is turned has its label in the middle."""
    texts = ("Hole strap", "cut 1", "bridle leather, 5 oz (2 mm)", "version 3")
    lines = tuple(LabelLine(text=text, size_mm=3.0) for text in texts)
    leader = Point(100.0, 80.0)
    first = next(_list_boxes(lines, leader, is_turned=False, is_after=is_after))
    name, *others = (text_box(mark) for mark in set_label(lines, first, 0.0))
    assert name.bottom < leader.y < name.top
    assert all(box.top < leader.y for box in others)
    assert next(_list_boxes(lines, leader, is_turned=True, is_after=is_after)).centre.x == pytest.approx(leader.x)
