"""The map: every sheet once with its name, every join with its number, pieces at their place, all inside its room."""

import pytest
from on_paper import make_template

from docgen.geometry.measure import touch_test
from docgen.geometry.path import holds_box, path_box
from docgen.geometry.shapes import Box
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style, words
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pattern.grid import Window
from docgen.pages.pattern.sheet_map import EDGE, PIECE, map_figure
from docgen.pages.pattern.sheets import DrawnGrid, draw_grids

STYLE, PAGE = load_pattern_style(), load_page_style()
WINDOW = Window(width_mm=200.0, height_mm=260.0, across_mm=10.0, down_mm=10.0)


def draw(*sizes: tuple[float, float]) -> tuple[DrawnGrid, ...]:
    templates = [make_template(f"part-{index}", *size) for index, size in enumerate(sizes)]
    return draw_grids(tuple(templates), WINDOW, join="trim")


GRIDS = draw((300, 400), (300, 200), (190, 250), (190, 240))


def test_every_sheet_has_its_name_and_every_join_its_number() -> None:
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, 90.0, 120.0)
    texts = [mark.text for mark in figure.marks if isinstance(mark, TextMark)]
    names = [grid.sheet_name(cell) for grid in GRIDS for cell in grid.grid.sheets]
    joins = sum(len(grid.grid.joins) for grid in GRIDS)
    assert {"A1", "A2", "A3", "A4", "B"} <= set(names)
    assert joins >= 4
    assert sorted(texts) == sorted([*names, *(str(number) for number in range(1, joins + 1))])


@pytest.mark.parametrize(("width", "height"), [(90.0, 120.0), (60.0, 80.0), (180.0, 40.0)])
def test_map_fits_its_room(width: float, height: float) -> None:
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, width, height)
    assert figure.width_mm == width
    assert figure.height_mm <= height
    for mark in figure.marks:
        box = mark_box(mark)
        assert box.left >= -0.2
        assert box.right <= width + 0.2
        assert box.bottom >= -0.2
        assert box.top <= figure.height_mm + 0.2


def test_sheets_and_pieces_are_drawn_to_the_scale_of_the_caption() -> None:
    figure = map_figure(draw((190, 250)), WINDOW, STYLE, PAGE, 90.0, 120.0)
    assert figure.caption == f"{words('pattern')['map_scale']} 1 : 5"
    boxes = [path_box(mark.path) for mark in figure.marks if isinstance(mark, PathMark) and mark.fill is None]
    sizes = sorted((round(box.width, 6), round(box.height, 6)) for box in boxes)
    assert sizes == [(38.0, 50.0), (40.0, 52.0)]


def test_pieces_are_thinner_than_sheets_and_both_survive_a_copy() -> None:
    """Black, and 0.18 mm or wider: drawn for one bit and copied at 71 % such a line keeps 94 % of its length or more
    (measured in a model of a copier)."""
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, 90.0, 120.0)
    pieces = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke == PIECE]
    assert len(pieces) == 4 + sum(len(grid.grid.joins) for grid in GRIDS)  # and the rings of joins
    assert EDGE.width_mm > PIECE.width_mm >= 0.18
    assert EDGE.grey == PIECE.grey == 0.0
    sheets = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke == EDGE]
    assert len(sheets) == sum(len(grid.grid.sheets) for grid in GRIDS)


def test_more_sheets_make_a_smaller_map() -> None:
    def scale(grids: tuple[DrawnGrid, ...]) -> int:
        return int(map_figure(grids, WINDOW, STYLE, PAGE, 60.0, 60.0).caption.split()[-1])

    assert scale(GRIDS) > scale(GRIDS[:1])


def test_map_of_nothing_is_empty() -> None:
    assert map_figure((), WINDOW, STYLE, PAGE, 60.0, 60.0).marks == ()


def test_the_first_row_has_edges_as_thick_as_the_others() -> None:
    """What is shown of a figure ends with its height: all of an edge of 0.35 mm lies below that."""
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, 90.0, 120.0)
    edges = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke == EDGE]
    tops = [path_box(mark.path).top for mark in edges]
    assert max(tops) + EDGE.width_mm / 2 <= figure.height_mm
    assert max(tops) + EDGE.width_mm > figure.height_mm


@pytest.mark.parametrize("sizes", [((90.0, 250.0), (92.0, 120.0)), ((102.0, 133.0),)])
def test_the_name_of_a_sheet_wipes_no_outline_where_there_is_room(sizes: tuple[tuple[float, float], ...]) -> None:
    """Two pieces that meet near the middle of the sheet, and one whose corner lies there."""
    figure = map_figure(draw(*sizes), WINDOW, STYLE, PAGE, 90.0, 120.0)
    (name,) = (mark_box(mark) for mark in figure.marks if isinstance(mark, TextMark))
    lines = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.fill is None]
    assert not any(touch_test(line.path)(name) for line in lines)
    assert not any(isinstance(mark, PathMark) and mark.fill == 1.0 for mark in figure.marks)


def test_a_name_that_has_no_room_stands_on_a_patch() -> None:
    """A sheet full of strips of 8 mm: at 1:5 they are 1.6 mm wide, and a name is 3.9 mm high."""
    figure = map_figure(draw(*[(190.0, 8.0)] * 28), WINDOW, STYLE, PAGE, 90.0, 120.0)
    names = [mark for mark in figure.marks if isinstance(mark, TextMark)]
    patches = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.fill == 1.0]
    assert len(patches) == 1
    assert any(
        holds_box(path_box(patches[0].path), Box(x, y, x, y)) for x, y in ((one.x_mm, one.y_mm) for one in names)
    )
