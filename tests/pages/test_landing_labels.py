"""What lands on a piece is drawn and named on its template."""

import pytest
from demos import demo_build

from docgen.geometry.path import path_box
from docgen.pages import draw_piece, load_pattern_style
from docgen.pages.drawn.landing_labels import names_left_out
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pattern.piece_template import make_template
from docgen.resolve import by_name


def test_straps_and_pieces_that_land_are_dotted_and_named_inside_their_outline() -> None:
    build = demo_build("field-bag")
    style = load_pattern_style()
    for name, titles, left_out in (
        ("back", ["Handle"] * 2, ("Closing strap",)),  # which lies beneath the handle
        ("front", ["Outer pocket", *["Buckle tab"] * 2], ()),
    ):
        piece = by_name(build.pieces)[name]
        marks = draw_piece(piece, style, "in")
        landings = [landing.outline for landing in (*piece.marks.landings, *piece.strap_landings)]
        dotted = [mark.path for mark in marks if isinstance(mark, PathMark) and mark.path in landings]
        assert len(dotted) == len(landings) == len(titles) + 2 * len(left_out)
        assert names_left_out(piece, (mark.text for mark in marks if isinstance(mark, TextMark))) == left_out
        parts = {word for title in titles for word in (title, *title.split())}
        names = [mark for mark in marks if isinstance(mark, TextMark) and mark.text in parts]
        told = " ".join(mark.text for mark in names)
        assert sorted(told.split()) == sorted(" ".join(titles).split())
        assert all(told.count(title) == titles.count(title) for title in titles)
        for mark in names:
            own = mark_box(mark)
            assert any(
                box.left < own.left and own.right < box.right and box.bottom < own.bottom and own.top < box.top
                for box in map(path_box, landings)
            )


def test_what_finds_no_room_is_named_in_the_label() -> None:
    piece = by_name(demo_build("field-bag").pieces)["front"]
    assert names_left_out(piece, ["Outer pocket"]) == ("Buckle tab",)
    assert names_left_out(piece, ["Outer pocket", "Buckle tab"]) == ()
    assert names_left_out(piece, ["5/32 in", "Outer", "pocket", "Buckle", "5/32 in", "tab"]) == ("Buckle tab",)


@pytest.mark.parametrize(("build_name", "name", "over_mm"), [("satchel", "back", 3.175), ("field-bag", "front", 0.0)])
def test_a_part_that_stands_over_the_edge_lies_whole_on_its_sheets(build_name: str, name: str, over_mm: float) -> None:
    """The flap of the satchel is 1/4 in wider than its back, and stands 1/8 in over at either side; 1.5 mm of white is kept
    round what is drawn, so that nothing is taken for the sheet's frame. The pocket of the field bag stands nowhere over."""
    build = demo_build(build_name)
    piece = by_name(build.pieces)[name]
    template = make_template(build, piece, load_pattern_style(), (200.0, 250.0))
    cut = path_box(template.outline)
    assert template.width_mm == pytest.approx(cut.width + 2 * over_mm + 3.0)
    assert cut.left + template.offset.x == pytest.approx(over_mm + 1.5)
    dotted = [path_box(mark.path) for mark in template.marks if isinstance(mark, PathMark) and mark.layer != "cut"]
    assert min(one.left for one in dotted) >= 1.5 - 1e-6
    assert max(one.right for one in dotted) <= template.width_mm - 1.5 + 1e-6
