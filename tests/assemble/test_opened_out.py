"""What is folded over its pockets, as a wallet, is drawn opened too: what opens, and which way its inner side looks."""

import math
from pathlib import Path

import pytest
from finished_article import article_of
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, OpenedOut, TakenApart
from docgen.assemble.space import inner
from docgen.checks import resolve_build
from docgen.geometry.shapes import Point
from docgen.read import read_spec

BUILDS = Path(__file__).parent / "builds"
WALLET = (
    piece(
        "cover",
        200,
        90,
        'folds = [{{ at = "{fold}", open = true, angle = 180{side} }}]\n'
        'landings = [{{ piece = "pocket", at = "0 mm from right, 0 mm from bottom"{inside} }}]\n',
    )
    + piece("pocket", 90, 60)
    + seam("pocket", "pocket: left bottom right", "cover")
)
SHUT = seam("shut", "cover: bottom from left to middle", "cover: bottom from middle to right")


def wallet(fold: str = "centre", side: str = "", inside: str = ", inside = true") -> str:
    return WALLET.format(fold=fold, side=side, inside=inside)


def opened(build: Assembled) -> OpenedOut | None:
    return TakenApart(build).closed.opened_out


@pytest.mark.parametrize(
    "text", [wallet(), wallet(side=', inside = "grain"', inside="")], ids=["on its flesh side", "folded grain side in"]
)
def test_a_cover_with_a_pocket_within_opens(resolve_text: Resolve, text: str) -> None:
    """Opened it lies flat, 200 mm wide, with the pocket on the side that is seen."""
    build = resolve_text(text)
    found = opened(build)
    assert found is not None
    bodies = {body.copy.part: body for body in found.bodies}
    across = [x for face in bodies["cover"].faces for x, _, _ in face.corners]
    assert max(across) - min(across) == pytest.approx(200)
    heights = {part: {round(z, 3) for face in body.faces for _, _, z in face.corners} for part, body in bodies.items()}
    assert all(map(len, heights.values()))
    (cover_mm,), (pocket_mm,) = heights["cover"], heights["pocket"]
    assert (pocket_mm > cover_mm) == found.is_up
    article = article_of(TakenApart(build))
    assert article.inside is not None
    assert [title for _, title in article.named_inside] == ["pocket"]
    assert inner(article.inside.view.eye, (0.0, 0.0, 1.0 if found.is_up else -1.0)) > 0


@pytest.mark.parametrize(
    "text",
    [
        wallet(inside=""),
        wallet(fold="60 mm from left"),
        wallet() + SHUT + step("Sew it.", seams="pocket shut"),
        wallet().replace(", angle = 180", ", angle = 90"),
    ],
    ids=["its pocket is outside", "a flap alone", "sewn shut", "bent half way"],
)
def test_what_does_not_open_or_hides_nothing_is_not_drawn_so(resolve_text: Resolve, text: str) -> None:
    assert opened(resolve_text(text)) is None


def test_the_top_of_what_lies_is_its_top_from_behind(resolve_text: Resolve) -> None:
    """It is turned over as a page is: left and right change places on paper, top and foot do not."""
    build = resolve_text(wallet())
    article = article_of(TakenApart(build))
    for drawing, hand in ((article.front, 1), (article.behind, -1)):
        across, up, _ = drawing.view.flat((1.0, 0.0, 0.0))
        high = drawing.view.flat((0.0, 1.0, 0.0))
        assert across * hand > 0 > up * hand
        assert high[1] > 0


def test_two_sleeves_lie_within_their_cover() -> None:
    """The cover begins with one of them: it goes round both, one on each half."""
    build = resolve_build(read_spec(BUILDS.parent / "further" / "passport.toml"))
    bodies = {body.copy.part: body for body in TakenApart(build).closed.bodies}
    low, top = sorted(face.corners[0][2] for face in bodies["cover"].faces)
    for side in ("left", "right"):
        ((_, _, high),) = {at for face in bodies[f"{side}-sleeve"].faces for at in face.corners[:1]}
        assert low < high < top
    assert opened(build) is not None


@pytest.mark.parametrize("run_mm", [20, 24, 28])
def test_a_flap_round_the_fore_edge_comes_over_the_other_half(resolve_text: Resolve, run_mm: int) -> None:
    """It lands on the left half of a cover with a back of 24 mm, and its end lies on the outside of the right one, bent a
    little short, level with that or beyond it. Opened out it goes with the left half, on which it is sewn."""
    folds = ", ".join(f'{{ at = "115 mm from {side}", open = true, angle = 90 }}' for side in ("left", "right"))
    bends = ", ".join(f'{{ at = "{at} mm from right", open = true, angle = 90 }}' for at in (25, 25 + run_mm))
    lands = '{ piece = "flap", at = "229 mm from right, middle" }, { piece = "pocket", at = "9 mm from right, middle", '
    build = resolve_text(
        piece("cover", 254, 200, f"folds = [{folds}]\nlandings = [{lands}inside = true }}]\n")
        + piece("flap", 105, 60, f"folds = [{bends}]\n")
        + piece("pocket", 90, 120)
        + seam("flap", "flap: right", "cover")
        + seam("pocket", "pocket: left bottom right", "cover")
        + step("Sew both.", seams="flap pocket")
    )
    closed = TakenApart(build).closed
    cover, flap = (next(one for one in closed.bodies if one.copy == Copy(name)) for name in ("cover", "flap"))
    out = cover.placed.out(0)
    heights = [
        [inner(at, out) for face in body.faces if inner(body.placed.out(face.band), out) > 0.99 for at in face.corners]
        for body in (cover, flap)
    ]
    assert min(heights[1]) > max(heights[0])
    opened = closed.opened_out
    assert opened is not None
    by_copy = {one.copy: one.placed for one in opened.bodies}
    root, corner = (by_copy[Copy(name)].surface.point(Point(x, 0.0)) for name, x in (("flap", 105.0), ("cover", 25.0)))
    assert math.dist(root[:2], corner[:2]) == pytest.approx(70, abs=3)
