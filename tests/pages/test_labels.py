"""Labels: as large as there is room for, clear of every line, and only where all of them fits.

Outside check: shapely measures how far words lie from lines.
"""

import math

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry import box as shapely_box

from docgen.fonts import text_width_mm
from docgen.geometry.path import box_path, circle_path, flatten, path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import (
    FINEST_MM,
    READABLE_MM,
    WIDTHS_MM,
    LabelLine,
    find_free_box,
    label_size,
    make_room,
    place_label,
    set_label,
    shrink_lines,
    take_boxes,
    wrap_lines,
)
from docgen.pages.marks.moving import _keep_upright, text_box
from docgen.pages.marks.page import TextMark

SQUARE = box_path(Box(10, 20, 90, 120))
LINES = (LabelLine(text="Back panel", size_mm=6, face="bold"), LabelLine(text="cut 2", size_mm=3.5))


def as_polygon(box: Box):
    return shapely_box(box.left, box.bottom, box.right, box.top)


def test_label_stands_in_the_middle_of_an_empty_piece() -> None:
    marks = place_label(make_room(SQUARE, (), ()), LINES, (0.0,))
    assert [mark.text for mark in marks] == ["Back panel", "cut 2"]
    assert [mark.size_mm for mark in marks] == [6, READABLE_MM]
    assert [mark.x_mm for mark in marks] == pytest.approx([50, 50], abs=1.5)
    middle = (text_box(marks[0]).top + text_box(marks[1]).bottom) / 2
    assert middle == pytest.approx(70, abs=2)


def test_label_keeps_clear_of_lines_holes_and_bands() -> None:
    crossing = polyline((Point(10, 70), Point(90, 74)))
    hole, band = circle_path(Point(50, 100), 6), box_path(Box(10, 20, 90, 40))
    marks = place_label(make_room(SQUARE, (crossing, hole), (band,)), LINES, (0.0,))
    assert marks
    shapes = [LineString(flatten(crossing, 0.1)), Polygon(flatten(hole, 0.1)), Polygon(flatten(band, 0.1))]
    outline = Polygon(flatten(SQUARE, 0.1))
    for mark in marks:
        place = as_polygon(text_box(mark))
        assert outline.contains(place.buffer(1.0))
        assert min(shape.distance(place) for shape in shapes) > 0.5


def test_label_lies_wholly_inside_a_round_piece() -> None:
    disc = circle_path(Point(0, 0), 24)
    marks = place_label(make_room(disc, (), ()), LINES, (0.0,))
    assert marks
    assert all(Polygon(flatten(disc, 0.01)).contains(as_polygon(text_box(mark))) for mark in marks)


def test_label_shrinks_before_it_turns_and_turns_before_it_is_left_out() -> None:
    strip = make_room(box_path(Box(0, 0, 20, 200)), (), ())
    (first, _) = place_label(strip, LINES, (0.0, 90.0))
    assert first.angle_deg == 90.0
    assert first.size_mm == 6
    narrow = make_room(box_path(Box(0, 0, 28, 30)), (), ())
    (first, _) = place_label(narrow, LINES, (0.0,))
    assert first.size_mm < 6


def test_piece_too_small_for_a_label_gets_none() -> None:
    assert place_label(make_room(box_path(Box(0, 0, 12, 9)), (), ()), LINES, (0.0, 90.0)) == ()


def test_boxes_that_are_taken_are_not_free() -> None:
    room = make_room(SQUARE, (), (), [Box(10, 20, 90, 80)])
    assert find_free_box(room, 60, 30).bottom >= 80
    assert find_free_box(room, 60, 45) is None
    assert find_free_box(take_boxes(room, [Box(10, 100, 90, 120)]), 60, 30) is None


def test_free_box_is_the_one_nearest_to_the_point_asked_for() -> None:
    box = find_free_box(make_room(SQUARE, (), ()), 20, 20, Point(10, 20))
    assert box.left == pytest.approx(10, abs=1.5)
    assert box.bottom == pytest.approx(20, abs=1.5)


@pytest.mark.parametrize("angle", [0.0, 0.3, 1.1, 1.5707963, 2.2])
def test_cells_that_are_blocked_are_those_that_something_lies_in(angle: float) -> None:
    """Against shapely, cell by cell: for lines at every slope, a hole, a band, boxes inside and out over the edge. What is
    round is drawn there as it is in the room, a quarter of a cell too small at most."""
    outline, reach = Box(3, -7, 83, 53), 26.3
    centre, hole = Point(41.37, 22.81), circle_path(Point(61.3, 40.9), 5.17)
    across, up = reach * math.cos(angle), reach * math.sin(angle)
    line = polyline((Point(centre.x - across, centre.y - up), Point(centre.x + across, centre.y + up)))
    band = box_path(Box(9.1, -5.2, 22.3, 14.9))
    taken = [Box(-4.1, 44.3, 9.33, 71.2), Box(66.6, -3.3, 71.9, 2.2), Box(90.3, 10.1, 99.4, 20.2)]
    room = make_room(box_path(outline), (line, hole, taken[1]), (band,), (taken[0], taken[2]))
    ring = flatten(hole, room.cell_mm / 4)
    drawn = MultiLineString([flatten(line, 0.01), [*ring, ring[0]]])
    cell, columns = room.cell_mm, np.arange(1, room.columns - 1)
    boxes, filled = MultiPolygon([as_polygon(box) for box in taken]), as_polygon(path_box(band))
    for row in range(1, room.rows - 1):
        left, bottom = room.box.left + columns * cell, room.box.bottom + row * cell
        blocked = np.array([not room.is_free(int(column), row) for column in columns], dtype=bool)
        inner, outer, wide = (
            shapely.box(left - more, bottom - more, left + cell + more, bottom + cell + more)
            for more in (-0.02, 0.02, cell)
        )
        met = shapely.intersects(drawn, inner) | shapely.intersects(boxes, inner) | shapely.contains(filled, wide)
        clear = ~(
            shapely.intersects(drawn, outer) | shapely.intersects(boxes, outer) | shapely.intersects(filled, outer)
        )
        assert blocked[met].all(), row
        assert not blocked[clear].any(), row


@pytest.mark.parametrize("near", [None, Point(10, 20), Point(81, 63.5)])
def test_free_box_is_the_nearest_of_all_that_hold_no_blocked_cell(near: Point | None) -> None:
    """Against a search through every place, cell by cell."""
    room = make_room(circle_path(Point(50, 70), 45), [polyline((Point(20, 40), Point(75, 90)))], ())
    corner, cell = room.box, room.cell_mm
    across, up, rows, columns = 12, 9, room.rows, room.columns
    cells = np.array([[room.is_free(column, row) for column in range(columns)] for row in range(rows)])
    free = [
        (row, column)
        for row in range(rows - up + 1)
        for column in range(columns - across + 1)
        if cells[row : row + up, column : column + across].all()
    ]
    row_at, column_at = (rows - up) / 2, (columns - across) / 2
    if near is not None:
        row_at, column_at = (near.y - corner.bottom) / cell, (near.x - corner.left) / cell
    row, column = min(free, key=lambda at: ((at[0] - row_at) ** 2 + (at[1] - column_at) ** 2, at))
    found = find_free_box(room, across * cell - 0.01, up * cell - 0.01, near)
    assert (found.left, found.bottom) == pytest.approx((corner.left + column * cell, corner.bottom + row * cell))


def test_no_line_is_set_finer_than_10_pt_but_where_it_is_asked_for() -> None:
    assert pytest.approx(10 * 25.4 / 72) == READABLE_MM
    assert [line.size_mm for line in shrink_lines(LINES, 0.1)] == [READABLE_MM, READABLE_MM]
    assert [line.size_mm for line in shrink_lines(LINES, 0.1, FINEST_MM)] == [FINEST_MM, FINEST_MM]


def test_a_label_has_room_for_words_that_may_stand_there_and_longer_ones_are_set_smaller() -> None:
    short, long = (
        LabelLine(text=text, size_mm=4, widest="version 0.0.0") for text in ("version 1", "version 10.20.30")
    )
    assert label_size([short]) == label_size([long]) == (text_width_mm("version 0.0.0", "regular", 4), 5.0)
    (set_short,), (set_long,) = (set_label([line], Box(0, 0, 40, 5), 0.0) for line in (short, long))
    assert set_short.size_mm == 4
    assert text_width_mm(long.text, "regular", set_long.size_mm) == pytest.approx(label_size([long])[0])


def test_line_wider_than_a_label_is_broken_between_words() -> None:
    (one, *more) = wrap_lines((LabelLine(text="a word and " * 12, size_mm=6, face="bold"),), WIDTHS_MM[0])
    assert more
    for line in (one, *more):
        assert text_width_mm(line.text, "bold", 6) <= WIDTHS_MM[0]
        assert (line.size_mm, line.face) == (6, "bold")
    assert " ".join(line.text for line in (one, *more)) == ("a word and " * 12).strip()
    assert wrap_lines(LINES, WIDTHS_MM[0]) == LINES


def test_size_of_a_label_is_its_widest_line_and_all_heights() -> None:
    width, height = label_size(LINES)
    assert width == text_width_mm("Back panel", "bold", 6)
    assert height == pytest.approx((6 + 3.5) * 1.25)
    assert label_size(()) == (0.0, 0.0)


@pytest.mark.parametrize("angle", [0.0, 90.0, -90.0])
def test_set_label_stays_in_a_box_of_its_size(angle: float) -> None:
    width, height = label_size(LINES)
    size = (width, height) if angle == 0 else (height, width)
    box = Box(5, 5, 5 + size[0], 5 + size[1])
    for mark in set_label(LINES, box, angle):
        assert as_polygon(box).buffer(0.01).contains(as_polygon(text_box(mark)))


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("angle", [0.0, 89.0, 100.0, 135.0, 180.0, 217.0, 260.0, 271.0])
def test_words_that_would_stand_on_their_head_are_turned_where_they_are(angle: float, anchor: str) -> None:
    mark = TextMark(x_mm=31.0, y_mm=17.0, text="Back panel", size_mm=4.0, angle_deg=angle, anchor=anchor)
    kept = _keep_upright(mark)
    assert math.cos(math.radians(kept.angle_deg)) > -0.02
    places = []
    for each in (mark, kept):
        wide = text_width_mm(each.text, each.face, each.size_mm)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[anchor]
        level = shapely_box(left, 0.0, left + wide, 0.7 * each.size_mm)
        places.append(translate(rotate(level, each.angle_deg, origin=(0, 0)), each.x_mm, each.y_mm))
    assert places[0].symmetric_difference(places[1]).area < 1e-6
