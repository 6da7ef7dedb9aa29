"""Where pages of steps are turned: on made up steps of so many units, each 10 mm high, on pages of 200 mm."""

from collections.abc import Sequence

import pytest

from docgen.geometry.shapes import Box
from docgen.pages.looks.words import load_page_style
from docgen.pages.setting.blocks import Block, Figure
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.work.build_step import SIDE_MM, StepBlocks, step_style
from docgen.pages.work.step_pages import pack_pages

STYLE = load_page_style()
FRAME = Box(0, 0, 180, 200)
SAID = {"step": "Step", "continued": "continued"}


def make_unit(high_mm: float) -> tuple[Block, ...]:
    return (Figure(50.0, high_mm, ()),)


def make_step(number: int, count: int) -> StepBlocks:
    units = tuple(make_unit(10.0) for _ in range(count))
    high = flow_height_mm(units[0], FRAME.width, step_style(STYLE))
    return StepBlocks(
        number=number,
        group="",
        head=make_unit(10.0),
        units=units,
        heights=((high, high),) * count,
        opening=0,
        tail=(),
        times=(),
        drawings=(),
        sections=(),
        width_mm=FRAME.width,
        side_mm=SIDE_MM,
        style=step_style(STYLE),
    )


def fill(front_mm: float, counts: Sequence[int]) -> list[float]:
    """How far down each page is filled, in mm."""
    steps = [make_step(number, count) for number, count in enumerate(counts, start=1)]
    pages = pack_pages([make_unit(front_mm)], steps, [], FRAME, STYLE, SAID, lambda step: None)
    return [flow_height_mm(page, FRAME.width, STYLE) for page in pages]


@pytest.mark.parametrize(
    ("front_mm", "is_divided"),
    [
        pytest.param(60.0, True, id="70 % of the front page would stay empty"),
        pytest.param(105.0, False, id="less than half of it does"),
    ],
)
def test_a_step_is_divided_before_more_than_half_a_page_stays_empty(front_mm: float, *, is_divided: bool) -> None:
    """Two steps, each too high for what is left of a page and none for a whole one: three pages either way."""
    filled = fill(front_mm, (15, 17))
    assert len(filled) == 3
    assert (filled[0] > front_mm + 50) == is_divided
    assert all(mm > 100 for mm in filled[:-1])
