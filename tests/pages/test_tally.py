"""Numbers and boxes to tick."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.fonts import text_width_mm
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.pages.lists.tally import draw_tally
from docgen.pages.looks.words import load_page_style, words
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.setting.blocks import Figure
from docgen.pages.work.step_marks import MOST_MAKE_BOXES, draw_make_boxes

STYLE = load_page_style()


def boxes_of(figure: Figure) -> list[Box]:
    paths = [path_box(mark.path) for mark in figure.marks if isinstance(mark, PathMark)]
    return [box for box in paths if box.height > 0]


@given(st.integers(1, 12), st.floats(16, 60))
def test_up_to_twelve_there_is_a_box_for_each(count: int, width_mm: float) -> None:
    figure = draw_tally(count, width_mm, STYLE)
    boxes = boxes_of(figure)
    assert len(boxes) == count
    assert [mark.text for mark in figure.marks if isinstance(mark, TextMark)] == [str(count)]
    (number,) = (mark for mark in figure.marks if isinstance(mark, TextMark))
    after = number.x_mm + text_width_mm(number.text, number.face, number.size_mm)
    for place, box in enumerate(boxes):
        assert box.left >= after
        assert box.right <= width_mm
        assert box.bottom >= 0
        assert box.top <= figure.height_mm
        assert not any(
            box.left < other.right and other.left < box.right and box.bottom < other.top and other.bottom < box.top
            for other in boxes[:place]
        )


@pytest.mark.parametrize("count", [13, 24, 1000, 200_000])
def test_above_twelve_one_box_and_a_line_to_write_on(count: int) -> None:
    figure = draw_tally(count, 24.0, STYLE)
    assert len(boxes_of(figure)) == 1
    assert [mark.text for mark in figure.marks if isinstance(mark, TextMark)] == [str(count), f"of {count}"]
    lines = [path_box(mark.path) for mark in figure.marks if isinstance(mark, PathMark)]
    (line,) = (box for box in lines if box.height == 0)
    assert line.width >= 5
    (box,) = boxes_of(figure)
    number = next(mark for mark in figure.marks if isinstance(mark, TextMark))
    assert box.left >= number.x_mm + text_width_mm(number.text, number.face, number.size_mm)
    assert box.right <= 24.0 or count == 200_000
    assert line.top < box.bottom <= number.y_mm < box.top <= figure.height_mm, "level with the number, above the line"
    for mark in figure.marks:
        if isinstance(mark, TextMark):
            assert mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm) <= 24.0


@pytest.mark.parametrize("makes", [2, 3, 7, MOST_MAKE_BOXES])
def test_each_make_of_a_batch_has_a_box_with_its_number_in_it(makes: int) -> None:
    (figure,) = draw_make_boxes(makes, 180.0, STYLE, words("building"))
    boxes = boxes_of(figure)
    asked, *numbers = [mark for mark in figure.marks if isinstance(mark, TextMark)]
    assert [mark.text for mark in numbers] == [str(make) for make in range(1, makes + 1)]
    lefts = [asked.x_mm + text_width_mm(asked.text, asked.face, asked.size_mm), *(box.right for box in boxes)]
    for box, number, left in zip(boxes, numbers, lefts, strict=False):
        half = text_width_mm(number.text, number.face, number.size_mm) / 2
        assert left < box.left < number.x_mm - half
        assert number.x_mm + half < box.right <= 180.0
        assert 0 <= box.bottom < number.y_mm < box.top <= figure.height_mm
