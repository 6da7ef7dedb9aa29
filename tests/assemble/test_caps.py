"""Caps that are drawn larger than they are stay within the narrowest part that their post goes through.

Widths follow from the specs; how far a cap may grow is our choice.
"""

from collections.abc import Callable
from math import dist

import pytest
from short_specs import hole, piece, rivet, step

from docgen.assemble import Assembled, TakenApart
from docgen.assemble.apart.metal_bodies import CAP_ROOM
from docgen.assemble.space.metal import shape_of
from docgen.resolve import Hardware

Resolve = Callable[[str], Assembled]

TAB = (
    piece("panel", 200, 160, 'landings = [{ piece = "tab", at = "centre, middle" }]\n' + hole("centre, middle"))
    + piece("tab", 15, 40, 'holes = [{ at = "centre, middle", punch = "4 mm" }]\n')
    + rivet(what="double-cap rivet, 7 mm cap")
    + step("Rivet the tab on.", pieces="panel tab", hardware="rivet")
)


@pytest.mark.parametrize("scale", [0.02, 0.05])
def test_a_cap_is_drawn_within_the_narrowest_part_under_it(resolve_text: Resolve, scale: float) -> None:
    """A tab 15 mm wide on a panel of 160 x 200 mm: a cap of 7 mm takes at most 0.6 of 15 mm, 9 mm."""
    caps = [one for one in TakenApart(resolve_text(TAB)).closed.metal if one.metal.shape == "cap"]
    assert caps
    for cap in caps:
        points = [line.start for line in cap.lines_for(scale)]
        wide_mm = max(dist(one, other) for one in points for other in points)
        assert wide_mm == pytest.approx(CAP_ROOM * 15, rel=0.02)


@pytest.mark.parametrize(
    ("what", "shape"),
    [("spring bar, 20 mm", "bar"), ("pin, 20 mm", "bar"), ("swivel snap hook, 20 mm", "hook"), ("barrel clip", "hook")],
)
def test_what_lies_in_a_fold_has_its_shape_by_its_words(what: str, shape: str) -> None:
    """A comma is no part of a word: a bar with its size behind it hung out of the fold as a hook."""
    item = Hardware(name="bar", what=what, count=1, finish="", inside_mm=20, bar_mm=1.8, posts_mm=(), note="")
    assert shape_of(item) == shape


def test_a_cap_goes_with_the_outer_part_where_its_holes_lie_apart_on_purpose(resolve_text: Resolve) -> None:
    """A loop of 22 x 88 mm that stands off: holes 68 mm apart over holes 65 mm apart, 3 mm off at one end."""
    spots = ("centre, 20 mm from bottom", "centre, 85 mm from bottom")
    own = ", ".join(f'{{ at = "{at}", punch = "4 mm", takes = "rivet", through = ["loop"] }}' for at in spots)
    text = (
        piece(
            "back", 160, 160, f'landings = [{{ piece = "loop", at = "centre, 10 mm from bottom" }}]\nholes = [{own}]\n'
        )
        + piece(
            "loop",
            22,
            88,
            'holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm" }, '
            '{ at = "centre, 10 mm from top", punch = "4 mm" }]\n',
        )
        + rivet(2, what="double-cap rivet, 7 mm cap")
        + step("Rivet the loop on.", pieces="back loop", hardware="rivet")
    )
    apart = TakenApart(resolve_text(text))
    bodies, (heap,) = apart.heaps(0)
    assert [one.copy.part for one, is_new in apart.joined(heap, 0, bodies).metal if is_new] == ["loop", "loop"]


WRAPPED = """\
[pieces.body]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "mouth" }, { at = ["112 mm", "0"], edge = "right" },
  { at = ["112 mm", "160 mm"], edge = "right-flap" }, { at = ["112 mm", "250 mm"], edge = "foot" },
  { at = ["0", "250 mm"], edge = "left-flap" }, { at = ["0", "160 mm"], edge = "left" },
]
folds = [{ at = "160 mm from bottom", open = true, angle = 90 }, { at = "190 mm from bottom", open = true, angle = 90 }]
holes = [%s]
[pieces.end]
of = "body"
cut = 2
shape = "rectangle"
size = ["30 mm", "solve"]
[seams.left]
stitch = "main"
meet = ["end 1: left bottom right", "body: left"]
[seams.right]
stitch = "main"
meet = ["end 2: left bottom right", "body: right"]
[hardware.snap]
what = "line 24 snap"
count = 1
"""
ON_FRONT, ON_FLAP = (
    f'{{ at = "centre, {up}", punch = "4 mm", takes = "snap" }}' for up in ("34 mm from bottom", "14 mm from top")
)


@pytest.mark.parametrize("holes", [f"{ON_FRONT}, {ON_FLAP}", f"{ON_FLAP}, {ON_FRONT}"])
def test_a_snap_that_closes_a_wrapped_body_has_its_cap_in_the_flap(resolve_text: Resolve, holes: str) -> None:
    """Whichever hole is written first: the flap lies over the front."""
    build = resolve_text(WRAPPED % holes)
    found = {one.half: one.place.words for one in build.assembly.fastened}
    assert "14 mm from top" in found["cap"]
    assert "34 mm from bottom" in found["stud"]
