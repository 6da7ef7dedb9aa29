"""A strap that is narrow on paper: a row between its two edges would run together with them."""

import pytest
from finished_article import article_of
from short_specs import piece, step
from spec_text import Resolve, write_out

from docgen.assemble import Assembled, TakenApart
from docgen.pages.pictures.step_drawing import set_scene


@pytest.mark.parametrize(("scale", "is_row_drawn"), [(0.12, False), (0.13, True)])
def test_its_rows_are_left_out_where_there_is_no_room_for_them(
    resolve_text: Resolve, scale: float, is_row_drawn: bool
) -> None:
    """20 mm wide, 2.4 and 2.6 mm on paper, sewn on to a panel that has no row of its own."""
    build = resolve_text(
        piece(
            "panel",
            200,
            150,
            'landings = [{ strap = "tongue", at = "centre, 70 mm from top", leads = "up", over = "60 mm" }]\n',
        )
        + '[straps.tongue]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\nstitch = "main"\n'
        + step("Sew the strap on.", pieces="panel", straps="tongue")
    )
    assert isinstance(build, Assembled)
    found = article_of(TakenApart(build))
    found.front.draw(1.0)  # hidden lines are found for that, and the drawing is only made smaller where that will do
    assert any(kind == "stitch" for kind, _, _ in found.front.draw(scale).legs) == is_row_drawn


def test_the_end_by_which_it_is_sewn_on_is_shown_once_more_larger(resolve_text: Resolve) -> None:
    """18 mm of a panel of 600 mm: of the strap of 215 mm the 75 mm that are sewn, and little more."""
    landing = '{ strap = "tongue", at = "centre, 90 mm from top", over = "75 mm", leads = "up", stitch = "main" }'
    build = resolve_text(
        piece("panel", 340, 600, f"landings = [{landing}]\n")
        + '[straps.tongue]\nof = "body"\nwidth = "18 mm"\nfinished = "215 mm"\n'
        + step("Sew the strap on.", pieces="panel", straps="tongue")
    )
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(0)
    scene = set_scene(bodies, heap, apart.joined(heap, 0, bodies))
    assert scene.detailed == "tongue"
    assert scene.detail is not None
    assert max(scene.detail.size) < 200


@pytest.mark.parametrize(
    ("more", "opened"), [("", ()), ('<hardware stud: 1, sam browne stud>\nkind = "other"\n', ("tongue",))]
)
def test_a_hole_for_what_is_no_part_of_the_build_opens_nothing(
    resolve_text: Resolve, more: str, opened: tuple[str, ...]
) -> None:
    """A tail with a hole for the button of an instrument was told as drawn open."""
    landing = '{ strap = "tongue", at = "centre, 60 mm from top", leads = "up", over = "50 mm", stitch = "main" }'
    build = resolve_text(
        piece("panel", 70, 300, f"landings = [{landing}]\n")
        + '[straps.tongue]\nof = "body"\nwidth = "30 mm"\nfinished = "180 mm"\n'
        + 'punches = [{ at = "centre, 22 mm from end", punch = "8 mm" }]\n'
        + write_out(more)
        + step("Sew the strap on.", pieces="panel", straps="tongue")
    )
    assert TakenApart(build).closed.opened == opened
