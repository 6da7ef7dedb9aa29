"""Pictures of a cover that folds over panels and their pockets: what lies on what by how many layers, one row for one seam,
and the inside up where that is sewn on top. Layers and ways counted by hand."""

import math
from pathlib import Path

import pytest
from finished_article import article_of
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, inner, pile_seam, tell_sections
from docgen.assemble.space.placed import LAYER_MM
from docgen.checks import resolve_build
from docgen.pages.pictures.drawing import Drawing
from docgen.pages.pictures.pictures import Pictures
from docgen.read import read_spec

STARTER = Path(__file__).parents[2] / "docgen" / "starters" / "wallet.toml"
COVER = piece("cover", 210, 90, 'folds = [{ at = "centre", open = true, angle = 180 }]\n')
LANDS = 'landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom" }]\n'
PANELS = COVER + piece("left", 100, 90, LANDS) + piece("right", 100, 90) + piece("pocket", 100, 60)
PANELS += seam("mouth", "pocket: right", "left")
ROUND = (
    ("left: left bottom", "cover: bottom right from left 110 mm to top"),
    ("right: bottom right", "cover: left bottom from top to left 100 mm"),
)


def panels(*, is_cover_on_top: bool = False) -> str:
    """Two panels behind the halves of a cover, the left one with a pocket."""
    rows = [seam(f"round-{k}", *(pair[::-1] if is_cover_on_top else pair)) for k, pair in enumerate(ROUND)]
    steps = step("Sew the pocket on.", seams="mouth") + step("Sew the panels to the cover.", seams="round-0 round-1")
    return PANELS + "".join(rows) + steps


def levels(build: Assembled) -> dict[str, int]:
    return {one.copy.part: one.level for one in build.space.parts}


def test_pockets_on_two_halves_are_no_layers_of_each_other() -> None:
    """Folded, both halves lie in one place; each has its upper pocket on the inside and its lower one on that."""
    found = levels(resolve_build(read_spec(STARTER)))
    assert [found[part] for part in ("upper", "lower", "upper-right", "lower-right")] == [1, 2, 1, 2]


def test_pockets_on_one_half_are(resolve_text: Resolve) -> None:
    lands = (
        'landings = [{ piece = "one", at = "0 mm from left, 0 mm from bottom", inside = true },'
        ' { piece = "two", at = "TWO", inside = true }]\n'
    )
    text = piece("cover", 210, 90, 'folds = [{ at = "centre", open = true, angle = 180 }]\n' + lands)
    text += piece("one", 90, 60) + piece("two", 90, 40)
    text += seam("a", "one: left bottom", "cover") + seam("b", "two: left bottom", "cover")
    for place, level in (("0 mm from left, 0 mm from bottom", -2), ("0 mm from right, 0 mm from bottom", -1)):
        assert levels(resolve_text(text.replace("TWO", place)))["two"] == level


def test_a_cover_lies_next_to_the_panel_that_it_folds_round(resolve_text: Resolve) -> None:
    """Opened, left and right panel lie one layer off the cover: neither floats."""
    opened = TakenApart(resolve_text(panels())).closed.opened_out
    assert opened is not None
    lifts = {body.copy.part: body.placed.lifts[0] for body in opened.bodies}
    outs = {body.copy.part: body.placed.out(0) for body in opened.bodies}
    for part in ("left", "right"):
        off = [a - b for a, b in zip(lifts[part], lifts["cover"], strict=True)]
        assert inner(off, outs[part]) == pytest.approx(1)


def stitch_legs(drawing: Drawing, part: str) -> float:
    """How much of the rows on a part is drawn, in mm of space."""
    place = next(k for k, one in enumerate(drawing.shown) if one.body.copy == Copy(part))
    one, frame = drawing.shown[place], drawing.glance(1.0).frame
    lines = [line for line in one.body.lines if line.kind == "stitch" and line.name.startswith("round")]
    legs = [leg for line in lines for leg in drawing._draw_line(place, one, line, "stitch", frame)]
    return sum(math.dist(start, end) for _, start, end in legs)


def test_a_row_through_a_pocket_is_seen_on_it_and_not_beside_it_on_the_panel(resolve_text: Resolve) -> None:
    """Along the side of the left panel the row goes on for 30 mm above the pocket; the pocket is drawn one layer higher,
    and hides as much of that. A length along either way of an isometric keeps its size on paper. The right panel has no
    pocket: 90 mm at its side and 100 mm at its foot are seen, less 4 mm at the corner twice."""
    build = resolve_text(panels())
    found = article_of(TakenApart(build))
    assert found.inside is not None
    assert stitch_legs(found.inside, "left") == pytest.approx(30 - LAYER_MM)
    assert stitch_legs(found.inside, "right") == pytest.approx(90 + 100 - 2 * 4)


@pytest.mark.parametrize("is_cover_on_top", [False, True])
def test_what_a_seam_has_on_top_is_drawn_on_top(resolve_text: Resolve, is_cover_on_top: bool) -> None:
    """The first partner of a seam is the top layer, as `docgen keys seams` says."""
    (scene,) = Pictures(resolve_text(panels(is_cover_on_top=is_cover_on_top)))._scenes(1)
    heights = {one.body.copy.part: inner(one.shift, scene.drawing.view.eye) for one in scene.drawing.shown}
    assert (heights["cover"] > heights["left"]) == is_cover_on_top
    assert (heights["cover"] > heights["right"]) == is_cover_on_top


@pytest.mark.parametrize("fold", ["open = true, angle = 180", "open = true, angle = 90"])
def test_a_panel_on_either_half_of_a_cover_has_its_section(resolve_text: Resolve, fold: str) -> None:
    """Flesh to flesh, grain up on top and down beneath, the pocket where it lies; folded right over, both halves lie in one
    place, and that half counts which the seam sews."""
    build = resolve_text(panels().replace("open = true, angle = 180", fold))
    piles = {once.seam: pile_seam(build, once) for once in build.assembly.sewn}
    told = {seam: [[(ply.part, ply.grain) for ply in pile] for pile in piles[seam]] for seam in ("round-0", "round-1")}
    assert told == {
        "round-0": [[("pocket", "up"), ("left", "up"), ("cover", "down")]],
        "round-1": [[("right", "up"), ("cover", "down")]],
    }
    assert not [line for line in tell_sections(build) if "round" in line]


@pytest.mark.parametrize(
    ("angle", "inside", "is_told"),
    [
        (", angle = 180", "", True),
        ("", "", True),
        (", angle = 180", ', inside = "flesh"', False),
        (", angle = 90", "", False),
    ],
    ids=["half", "no angle", "told otherwise", "bent by 90 degrees"],
)
def test_an_inside_with_a_fold_of_its_own_is_folded_as_its_cover_is(
    resolve_text: Resolve, angle: str, inside: str, *, is_told: bool
) -> None:
    """Flesh to flesh with the cover its grain, with the pockets on it, lies inside where the flesh of the cover does."""
    fold = f'folds = [{{ at = "centre", open = true{angle}%s }}]\n'
    lands = 'landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom" }]\n'
    text = piece("cover", 210, 90, fold % "") + f'[pieces.inner]\nlike = "cover"\nmarks = false\n{fold % inside}{lands}'
    text += piece("pocket", 100, 60) + seam("mouth", "pocket: right", "inner")
    text += seam("round", "inner: left bottom right", "cover: left bottom right")
    build = resolve_text(text + step("Sew the pocket on.", seams="mouth") + step("Sew round.", seams="round"))
    assert isinstance(build, Assembled)
    folds = {one.name: one.marks.folds[0] for one in build.pieces if one.name != "pocket"}
    assert folds["cover"].is_grain_in("grain") is False
    assert folds["inner"].is_grain_in("grain") is is_told
    if is_told:
        article = article_of(TakenApart(build))
        assert article.inside is not None
        assert "pocket" in [title for _, title in article.named_inside]
