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
