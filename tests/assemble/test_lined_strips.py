"""Linings of single strips of a ring that is sewn face to face between panels: they lie on the inner side of their strip;
they bend with the ring. Thicknesses are sums: leather of 2 mm, cloth of 0.5 mm; a strip of 120 mm ends in a joint of 20 mm.
"""

from collections.abc import Callable, Sequence

import pytest
from in_space import part
from spec_text import Edit

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam, tell_sections

BUILD = """\
<rectangle front: ["200 mm", "150 mm"]>
round = "30 mm"
<strip top: ["60 mm", "300 mm"]>
landings = [
  { piece = "top-lining", at = "0 mm from left, 0 mm from start", inside = true },
  %s
]
<strip base: ["60 mm", "solve"]>
<strip top-lining of cloth: ["40 mm", "300 mm"]>
hems = [{ edges = "left", turn = "10 mm" }]
[pieces.base-lining]
of = "cloth"
like = "base"
%s
[joins.ring]
of = ["top", "base"]
overlap = "20 mm"
stitch = "main"
ring = true
<seam top-edge: ["top: left", "top-lining: right"]>
<seam one: ["base: left", "base-lining: %s"]>
<seam two: ["base: right", "base-lining: %s"]>
<seam round: ["front: all", "ring: left"]>
turned = true
[[steps]]
do = "Turn the hem over and sew the linings to their strips."
seams = ["top-edge", "one", "two"]
[[steps]]
do = "Join the ring."
joins = ["ring"]%s
[[steps]]
do = "Sew it in and turn it."
seams = ["round"]
"""
HEM = 'hems = [{ edges = "left", turn = "10 mm" }]\n'
PULL = (
    '{ piece = "pull", at = "centre, 0 mm from start" },',
    '<rectangle pull of thin: ["20 mm", "40 mm"]>\nfolds = [{ at = "middle" }]',
)


@pytest.fixture
def make(resolve_text: Callable[[str], Assembled]) -> Callable[..., Assembled]:
    """The build with the edges of the base's lining that meet its left and its right one, and a tab in a joint or none."""

    def build(
        left: str = "right", right: str = "left", tab: tuple[str, str] = ("", ""), more: Sequence[Edit] = ()
    ) -> Assembled:
        text = BUILD % (tab[0], tab[1], left, right, '\npieces = ["pull"]' if tab[0] else "")
        for old, new in more:
            assert old in text
            text = text.replace(old, new)
        return resolve_text(text)

    return build


@pytest.mark.parametrize(("left", "right"), [("right", "left"), ("left", "right")])
def test_linings_lie_on_the_inner_side_of_their_strip(make: Callable[..., Assembled], left: str, right: str) -> None:
    build = make(left, right)
    once = next(one for one in build.assembly.sewn if one.seam == "round")
    piles = [[(ply.part, ply.grain) for ply in pile] for pile in pile_seam(build, once)]
    strip = [("front", "down"), ("ring", "up")]
    assert [*strip, ("base-lining", "")] in piles
    assert [*strip, ("top-lining", "")] in piles
    assert once.stack.thinnest_mm == pytest.approx(2 + 2 + 0.5)
    assert once.stack.thickest_mm == pytest.approx(2 + 2 * 2 + 2 * 0.5)  # at a joint, where both linings reach


def test_they_bend_with_the_ring(make: Callable[..., Assembled]) -> None:
    build = make()
    assert build.space.unplaced == ()
    ring = part(build.space, "ring")
    for name in ("top-lining", "base-lining"):
        placed = part(build.space, name)
        assert placed.host == Copy("ring")
        assert placed.surface.bands == ring.surface.bands
        assert not placed.is_free
        assert placed.level < 0
    assert not any("base-lining" in words for words in TakenApart(build).tell_withheld())


def test_a_joint_without_a_section_says_what_lies_folded_in_it(make: Callable[..., Assembled]) -> None:
    def told(build: Assembled) -> list[str]:
        return [one for one in tell_sections(build) if '"ring"' in one]

    (words,) = told(make(tab=PULL))
    assert words.endswith(
        '"top-lining", "pull" lie folded in a joint, and a section is drawn there of flat layers alone'
    )
    assert told(make(more=[(HEM, "")])) == []
