"""Corners that close by bends which nothing writes: panels that go round the ends of their base, a base whose own corners
are boxed. Right they are not told, wrong they are told once. By hand."""

import re
from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy

Resolve = Callable[[str], Assembled]

# A panel of 428 mm: 300 mm along the base, and 64 mm round each end of it, half of 120 mm and the 4 mm that the turned
# side seam takes.
PANEL = (
    '[pieces.front]\nof = "body"\nshape = "outline"\npoints = [\n'
    '{ at = ["0", "0"], edge = "out-left" }, { at = ["64 mm", "0"], edge = "foot" },\n'
    '{ at = ["364 mm", "0"], edge = "out-right" }, { at = ["428 mm", "0"], edge = "right" },\n'
    '{ at = ["428 mm", "300 mm"], edge = "mouth" }, { at = ["0", "300 mm"], edge = "left" }]\n'
    '[pieces.back]\nlike = "front"\n'
)
LAP = 'lap = "14 mm"\n'
TURNED = "turned = true\n"
FEET = seam("foot-front", "base: bottom", "front: foot", more=LAP) + seam(
    "foot-back", "base: top", "back: foot", more=LAP
)
SIDES = seam("sides-left", "front: left", "back: right", more=TURNED)
SIDES += seam("sides-right", "front: right", "back: left", more=TURNED)
ENDS = (
    seam("left-front", "base: left from bottom to bottom 60 mm", "front: out-left")
    + seam("right-front", "base: right from bottom to bottom 60 mm", "front: out-right")
    + seam("left-back", "base: left from top to top 60 mm", "back: out-right")
    + seam("right-back", "base: right from top to top 60 mm", "back: out-left")
)
WORK = step("Base.", seams="foot-front foot-back") + step("Sides.", seams="sides-left sides-right")
WORK += step("Ends.", seams="left-front right-front left-back right-back")
BAG = PANEL + piece("base", 300, 120) + FEET + SIDES + ENDS + WORK


def told(build: Assembled) -> list[str]:
    return [one.what for one in build.cautions if one.check == "edges-apart"]


@pytest.mark.parametrize("lap", [LAP, ""], ids=["lapped", "edge to edge"])
def test_panels_that_go_round_the_ends_of_their_base_are_not_told(resolve_text: Resolve, lap: str) -> None:
    """Placed flat, they are not drawn for that."""
    build = resolve_text(BAG.replace(LAP, lap))
    assert told(build) == []
    assert set(build.space.doubtful) == {Copy("front"), Copy("back"), Copy("base")}


def test_a_base_with_left_and_right_exchanged_is_told_once(resolve_text: Resolve) -> None:
    """Of one panel alone; its ends miss each other by the base's length, and by the bend."""
    exchanged = BAG.replace("base: left from bottom", "base: other from bottom")
    exchanged = exchanged.replace("base: right from bottom", "base: left from bottom").replace(
        "base: other", "base: right"
    )
    (what,) = told(resolve_text(exchanged))
    apart_mm = float(re.search(r"they lie ([\d.]+) mm", what)[1])  # type: ignore[index]
    assert apart_mm > 300
    assert what.count('the seam "') == 1
    assert re.search(r'; nor do those of "(left|right)-(front|back)" \(line \d+\)$', what)


CORNERS = ("right-front", "right-back", "left-back", "left-front")
BOX = (
    '[pieces.base]\nof = "body"\nshape = "outline"\npoints = [\n'
    '{ at = ["60 mm", "0"], edge = "front" }, { at = ["360 mm", "0"], edge = "up-right-front" },\n'
    '{ at = ["360 mm", "60 mm"], edge = "out-right-front" }, { at = ["420 mm", "60 mm"], edge = "right" },\n'
    '{ at = ["420 mm", "180 mm"], edge = "out-right-back" }, { at = ["360 mm", "180 mm"], edge = "up-right-back" },\n'
    '{ at = ["360 mm", "240 mm"], edge = "back" }, { at = ["60 mm", "240 mm"], edge = "up-left-back" },\n'
    '{ at = ["60 mm", "180 mm"], edge = "out-left-back" }, { at = ["0", "180 mm"], edge = "left" },\n'
    '{ at = ["0", "60 mm"], edge = "out-left-front" }, { at = ["60 mm", "60 mm"], edge = "up-left-front" }]\n'
    + piece("front", 300, 250)
    + '[pieces.back]\nlike = "front"\n'
    + piece("side", 120, 250, "cut = 2\n")
    + seam("foot-front", "base: front", "front: bottom")
    + seam("foot-back", "base: back", "back: bottom")
    + seam("foot-left", "base: left", "side 1: bottom")
    + seam("foot-right", "base: right", "side 2: bottom")
    + seam("up-left-front", "front: left", "side 1: right")
    + seam("up-right-front", "front: right", "side 2: left")
    + seam("up-left-back", "back: right", "side 1: left")
    + seam("up-right-back", "back: left", "side 2: right")
    + "".join(seam(f"corner-{name}", f"base: up-{name}", f"base: out-{name}") for name in CORNERS)
    + step("Box.", seams=" ".join(f"corner-{name}" for name in CORNERS))
    + step("Feet.", seams="foot-front foot-back foot-left foot-right")
    + step("Sides.", seams=" ".join(f"up-{name}" for name in CORNERS))
)


def test_walls_on_a_base_whose_corners_are_boxed_are_not_told(resolve_text: Resolve) -> None:
    assert told(resolve_text(BOX)) == []


def test_a_boxed_corner_sewn_to_another_is_told_once(resolve_text: Resolve) -> None:
    changed = BOX.replace('"base: out-right-front"', '"other"').replace(
        '"base: out-right-back"', '"base: out-right-front"'
    )
    (what,) = told(resolve_text(changed.replace('"other"', '"base: out-right-back"')))
    assert 'the edges of "base" and "base" do not come together' in what


ROUND = (
    piece("wall", 336, 120)
    + piece("base", 88, 88)
    + seam("side", "wall: left", "wall: right")
    + seam("three", "base: bottom right top", "wall: bottom from left to left 248 mm")
    + seam("fourth", "base: left", "wall: bottom from right to right 88 mm")
    + step("Side.", seams="side")
    + step("Foot.", seams="three fourth")
)


def test_a_wall_in_two_seams_round_its_base_is_not_told(resolve_text: Resolve) -> None:
    """Rows of 80 and twice 84 mm beside the three sides, 248 mm, and 88 mm from edge to edge along the fourth: it stands
    along three, and goes on round the fourth, where its own ends meet."""
    build = resolve_text(ROUND)
    assert told(build) == []
    assert Copy("wall") in build.space.doubtful
