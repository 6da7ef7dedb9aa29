"""Straps that lie straight on far beyond what they are on are broken off in a picture. Lengths by hand: an isometric keeps
those along either way of the table, and puts them aslant by 30 degrees (ISO 5456-3, 5.1)."""

import math

import pytest
from finished_article import article_of
from short_specs import piece, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.pages.pictures.broken import KEPT, OVER

COS = math.cos(math.radians(30))
ROLL = piece(
    "roll",
    300,
    200,
    'landings = [{ strap = "tie", at = "40 mm from right, middle", leads = "right", over = "30 mm" }]\n',
)
TIE = '[straps.tie]\nof = "body"\nwidth = "14 mm"\nfinished = "{long} mm"\n'
SEW = 'stitch = "main"'
SIZE = (300 + 200) * COS  # of the roll on paper, across


def build_with(resolve_text: Resolve, long_mm: float, more: str = "") -> Assembled:
    text = ROLL.replace('over = "30 mm"', f'over = "30 mm", {SEW}') + TIE.format(long=long_mm) + more
    return resolve_text(text + step("Sew the tie on.", straps="tie", pieces="roll"))


# Its end lies 40 mm within the right edge, and 100 mm down the other way of the table from the corner that is farthest out.
LIMIT = OVER * SIZE / COS + 40 + 100


@pytest.mark.parametrize(("long_mm", "is_broken"), [(LIMIT + 20, True), (LIMIT - 20, False)])
def test_a_tie_is_broken_off_where_it_is_far_out(resolve_text: Resolve, long_mm: float, is_broken: bool) -> None:
    drawing = article_of(TakenApart(build_with(resolve_text, long_mm))).front
    assert [one.body.copy for one in drawing.broken.values()] == [Copy("tie")] * is_broken
    kinds = {kind for kind, _, _ in drawing.draw(1.0).legs}
    assert ("run on" in kinds) == is_broken
    beyond = drawing.size[0] - SIZE
    assert beyond == pytest.approx(
        KEPT * SIZE if is_broken else (long_mm - 140) * COS, abs=14
    )  # half its width, and more


def test_one_with_holes_at_its_free_end_is_drawn_whole(resolve_text: Resolve) -> None:
    """The end that is buckled is what matters of it."""
    holes = 'holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "40 mm" }\n'
    drawing = article_of(TakenApart(build_with(resolve_text, LIMIT + 100, holes))).front
    assert not drawing.broken
