"""A strap that tapers, shown by its two ends over several sheets: its label, its leader and the tag beside it. The strap is
38 mm wide, and 25 mm for 280 mm from its point on."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from docgen.checks import resolve_build
from docgen.geometry.path import boxes_overlap, end_point
from docgen.geometry.shapes import Box
from docgen.pages import load_pattern_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import ClipMark, Mark, TextMark
from docgen.pages.pattern.grid import Placed
from docgen.pages.pattern.moving import out_of_footprint
from docgen.pages.pattern.piece_template import Template, label_marks, make_template
from docgen.pages.pattern.tag_room import make_tag
from docgen.read import read_spec
from docgen.resolve import by_name

STYLE = load_pattern_style()
SHEET_MM = (197.3, 284.3)  # what an A4 sheet shows
SPEC = """\
[spec]
code = "carrier"
title = "Carrier"
version = "1"
[materials.butt]
kind = "leather"
thickness = "3 mm"
[straps.band]
of = "butt"
width = "38 mm"
finished = "805 mm"
ends = [{ shape = "square" }, { shape = "pointed", width = "25 mm", straight = "%s", taper = "60 mm" }]
"""


@cache
def template_of(straight: str) -> Template:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "carrier.toml"
        path.write_text(SPEC % straight, encoding="utf-8")
        build = resolve_build(read_spec(path))
    return make_template(build, by_name(build.cut)["band"], STYLE, SHEET_MM)


@pytest.mark.parametrize(("straight", "wide_mm"), [("280 mm", 25.0), ("20 mm", 38.0)])
def test_a_leader_ends_on_the_edge_of_a_strap_that_tapers(straight: str, wide_mm: float) -> None:
    """Its axis is 19 mm from the left edge; where the leader meets it, it is 25 mm wide, with a short taper 38 mm. The
    square end is whole."""
    template = template_of(straight)
    right, left = template.leaders
    shown = max(mark_box(mark).right for mark in template.marks if isinstance(mark, ClipMark)) - 1.0
    assert template.is_broken
    assert shown - end_point(right.mark.path).x == pytest.approx(19.0 - wide_mm / 2)
    assert end_point(left.mark.path).x == pytest.approx(template.offset.x)


@pytest.mark.parametrize(("above_mm", "is_clear"), [(4.0, True), (2.5, False)])
def test_a_label_beside_a_strap_moves_off_a_strip_where_sheets_meet(above_mm: float, is_clear: bool) -> None:
    """It goes along the strap as far as its leader still meets it: 3 mm inside of its words at least."""
    template = template_of("280 mm")
    level = template.leaders[0].end.y
    strip = Box(-2.0, level + above_mm, 200.0, level + above_mm + 13.0)
    before, after = (words_of(label_marks(template, taken, is_turned=True)) for taken in ((), (strip,)))
    assert any(boxes_overlap(mark_box(mark), strip) for mark in before)
    assert (not any(boxes_overlap(mark_box(mark), strip) for mark in after)) == is_clear
    assert (after == before) == (not is_clear)
    assert any(mark_box(mark).bottom < level < mark_box(mark).top for mark in after)


def words_of(marks: tuple[Mark, ...]) -> list[TextMark]:
    return [mark for mark in marks if isinstance(mark, TextMark)]


def test_a_tag_stands_beside_the_ends_of_a_strap_on_joined_sheets_clear_of_them() -> None:
    """Left of the short end, below the long one, as the strap lies over two sheets; on a sheet by itself the tag has its
    own place."""
    template = template_of("280 mm")
    tag = make_tag([template], (((99.4, 27.4), (53.0, 55.6)), ((56.9, 28.7), (28.7, 56.9))))
    placed = Placed(name="band", box=Box(0.0, 0.0, template.height_mm, template.width_mm), is_turned=True)
    sheet, strip = Box(0.0, 0.0, *SHEET_MM), Box(185.8, -2.0, 199.3, 286.3)
    spots = tag.held(placed, sheet, (strip,))
    assert [spot.block for spot in spots] == [0, 1]
    drawn = [*template.marks, *label_marks(template, (strip,), is_turned=True)]
    boxes = [out_of_footprint(mark_box(mark), placed) for mark in drawn]
    assert not any(boxes_overlap(spot.box, box) for spot in spots for box in (*boxes, strip))
    assert not tag.held(placed, sheet, ())
