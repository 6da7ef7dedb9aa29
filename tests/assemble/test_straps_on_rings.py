"""Handles on a strip that stands several times in a ring: which end lands on which of its copies. Figures by hand."""

import pytest
from in_space import part
from short_specs import seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart

TOTE = (
    """\
<rectangle base: ["300 mm", "100 mm"]>
round = "30 mm"
notches = [{ on = "bottom" }, { on = "top" }]
<strip wall: ["250 mm", "solve"]>
cut = 2
notches = [{ on = "left" }]
landings = [
  { strap = "grip", at = "60 mm from right, 50 mm below middle", leads = "right", over = "40 mm", stitch = "main" },
  { strap = "grip", end = "second", at = "60 mm from right, 50 mm above middle", leads = "right", over = "40 mm", \
stitch = "main" },
]
<join tube: ["wall", "wall"], 12 mm>
ring = true
<strap grip of body: 20 mm>
cut = 2
finished = "500 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""
    + seam("foot", "base: all", "tube: left")
    + step("Join the walls.", joins="tube")
    + step("Sew the handles on.", straps="grip")
    + step("Sew the base in.", seams="foot")
)


def ends_of(build: Assembled, number: int) -> list[tuple[float, ...]]:
    """Where the ends of a handle lie in space, mm."""
    surface = part(build.space, "grip", number).surface
    first, last = surface.bands[0], surface.bands[-1]
    far = last.end_mm - last.begin_mm
    return [first.at, tuple(at + way * far for at, way in zip(last.at, last.way, strict=True))]


def test_each_wall_of_a_ring_bears_both_ends_of_a_handle_of_its_own(resolve_text: Resolve) -> None:
    """Sewn 4 mm in on a base 100 mm deep the walls stand 92 mm apart; the ends lie 2 x 50 mm apart on each."""
    build = resolve_text(TOTE)
    assert not build.space.unplaced
    group = next(group for group in build.assembly.joined[-1] if Copy("tube") in group)
    assert {Copy("grip", 1), Copy("grip", 2)} <= {*group}
    (front, back) = (ends_of(build, number) for number in (1, 2))
    for ends, deep_mm in ((front, 4), (back, 96)):
        assert [deep for _, deep, _ in ends] == pytest.approx([deep_mm, deep_mm], abs=0.1)
        assert abs(ends[0][0] - ends[1][0]) == pytest.approx(100, abs=0.1)
    assert not [one for one in TakenApart(build).tell_withheld() if "grip" in one]


def test_one_handle_alone_goes_from_the_first_wall_to_the_last(resolve_text: Resolve) -> None:
    """One does not suffice for both walls: its first end lies on the first, its second on the last."""
    build = resolve_text(TOTE.replace("<strap grip of body: 20 mm>\ncut = 2\n", "<strap grip of body: 20 mm>\n"))
    assert [deep for _, deep, _ in ends_of(build, 1)] == pytest.approx([4, 96], abs=0.1)
