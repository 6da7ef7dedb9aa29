"""A zip in the mouth of a finished article is drawn: both tapes and the teeth between them, and a flat pouch stands up.

By hand: a tape reaches to half of the whole zip, less what of it lies beyond its row.
"""

import math

import pytest
from finished_article import article_of
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.pages.pictures.article import Article

ZIP = "<zip: coil zip, 32 mm, 0.7 mm>\n"
INSET_MM = 4


def pouch(tape: str, wide_mm: int = 32) -> str:
    """Two panels 200 x 115, sewn face to face round three sides, the zip along their tops."""
    return (
        ZIP.replace("32 mm", f"{wide_mm} mm")
        + piece("front", 200, 115)
        + piece("back", 200, 115)
        + seam("near", "front: top", "zip: left", more=tape)
        + seam("far", "back: top", "zip: right", more=tape)
        + seam("round", "front: left bottom right", "back: right bottom left", more="turned = true\n")
        + step("Sew the zip in.", seams="near far")
        + step("Sew it round.", seams="round")
    )


def drawn(resolve_text: Resolve, text: str) -> tuple[TakenApart, Article]:
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    apart = TakenApart(build)
    article = article_of(apart)
    return apart, article


@pytest.mark.parametrize("wide_mm", [32, 24])
def test_the_teeth_lie_half_a_zip_less_its_allowance_beyond_the_row(resolve_text: Resolve, wide_mm: int) -> None:
    """32 mm wide and sewn 4 mm in, 12 mm of each tape are seen."""
    apart, article = drawn(resolve_text, pouch("turned = true\n", wide_mm))
    (zip_,) = apart.closed.zips
    for row in zip_.rows:
        assert math.dist(row[0], zip_.middle[0]) == pytest.approx(wide_mm / 2 - INSET_MM)
    assert math.dist(zip_.middle[0], zip_.middle[-1]) == pytest.approx(200 - 2 * INSET_MM)
    assert article.notes == ()
    assert "coil zip" in [title for _, title in article.named]
    assert not any('"zip"' in line for line in apart.tell_withheld())


def test_a_flat_pouch_stands_with_its_zip_up(resolve_text: Resolve) -> None:
    """What is high on its panels is upright on paper, in full length, and the zip the highest of all."""
    apart, article = drawn(resolve_text, pouch("turned = true\n"))
    (zip_,) = apart.closed.zips
    body = next(body for body in apart.closed.bodies if body.copy.part == "front")
    left = sorted((at for face in body.faces for at in face.corners), key=lambda at: (at[0], at[1]))[:2]
    for view in (article.front.view, article.behind.view):
        (foot, low, _), (top, high, _) = (view.flat(at) for at in left)
        assert (top - foot, high - low) == pytest.approx((0, 115 - 2 * INSET_MM))
        teeth = min(view.flat(at)[1] - view.flat(row)[1] for at, row in zip(zip_.middle, zip_.rows[0], strict=True))
        assert teeth > 0


def test_an_edge_of_which_no_lap_is_told_lies_clear_of_the_teeth(resolve_text: Resolve) -> None:
    """By 5 mm, our choice; its row lies 4 mm in from it."""
    apart, _ = drawn(resolve_text, pouch(""))
    (zip_,) = apart.closed.zips
    assert math.dist(zip_.rows[0][0], zip_.middle[0]) == pytest.approx(5 + INSET_MM)


def box(wide_mm: int) -> str:
    """A box 32 mm deep between its stitch lines, with a zip over its mouth, sewn 4 mm in on both sides."""
    return (
        ZIP.replace("32 mm", f"{wide_mm} mm")
        + piece("front", 200, 115)
        + piece("back", 200, 115)
        + '<strip wall: ["40 mm", "solve"]>\n'
        + seam("one", "front: left bottom right", "wall: left", more="turned = true\n")
        + seam("two", "back: left bottom right", "wall: right", more="turned = true\n")
        + seam("near", "front: top", "zip: left", more="turned = true\n")
        + seam("far", "back: top", "zip: right", more="turned = true\n")
        + step("Sew it.", seams="near far one two")
    )


@pytest.mark.parametrize(("wide_mm", "high_mm"), [(50, math.sqrt(21**2 - 16**2)), (36, 0)])
def test_over_a_mouth_it_goes_from_wall_to_wall(resolve_text: Resolve, wide_mm: int, high_mm: float) -> None:
    """The teeth in the middle; tapes that are longer than half of the mouth stand up. Of 36 mm 28 are left, 4 less than
    the mouth is wide, which is too little."""
    apart, article = drawn(resolve_text, box(wide_mm))
    if not high_mm:
        assert apart.closed.zips == ()
        assert article.notes == ("not drawn: coil zip",)
        assert any('"zip"' in line for line in apart.tell_withheld())
        return
    (zip_,) = apart.closed.zips
    (one, other), at = zip_.rows, zip_.middle[0]
    assert [math.dist(row[0], at) for row in (one, other)] == pytest.approx([wide_mm / 2 - INSET_MM] * 2)
    assert at[2] - one[0][2] == pytest.approx(high_mm)


def test_a_zip_behind_a_window_lies_in_it(resolve_text: Resolve) -> None:
    """A window of 10 mm along the middle of the front: the teeth lie half way, 5 mm from both its sides."""
    laid = 'laid = [{ goods = "zip", at = "60 mm from bottom", stitch = "main", window = "10 mm", clear = "30 mm" }]\n'
    text = ZIP + piece("front", 200, 120, laid) + piece("back", 200, 120)
    text += seam("round", "front: left bottom right", "back: left bottom right")
    apart, article = drawn(resolve_text, text + step("Lay the zip.", pieces="front") + step("Sew.", seams="round"))
    (zip_,) = apart.closed.zips
    assert zip_.lies
    assert [math.dist(row[0], zip_.middle[0]) for row in zip_.rows] == pytest.approx([5, 5])
    assert math.dist(zip_.middle[0], zip_.middle[-1]) == pytest.approx(200 - 2 * 30)
    assert not any("coil zip" in note for note in article.notes)
