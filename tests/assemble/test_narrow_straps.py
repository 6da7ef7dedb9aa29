"""A strap that is narrow on paper: a row between its two edges would run together with them."""

import pytest
from short_specs import piece, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.pages.pictures.article import set_article


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
    apart = TakenApart(build)
    found = set_article(apart.closed, build.space.kind, apart.lined)
    assert found is not None
    found.front.draw(1.0)  # hidden lines are found for that, and the drawing is only made smaller where that will do
    assert any(kind == "stitch" for kind, _, _ in found.front.draw(scale).legs) == is_row_drawn
