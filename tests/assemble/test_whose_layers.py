"""Whose the layers under a needle are, where several copies of one piece are sewn to each other: all by hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import pile_seam

HEM = 'cut = 2\nhems = [{ edges = "top", turn = "15 mm" }]\n'


@pytest.mark.parametrize("of", ["body", "cloth"])
def test_hems_of_two_copies_lie_on_the_inner_side_of_each(resolve_text: Resolve, of: str) -> None:
    """Sewn face to face: the hems lie outermost, each on the wrong side of its own copy, under a part of the seam."""
    build = resolve_text(
        piece("side", 200, 150, HEM, of=of)
        + seam("hem", "side: top", "side")
        + seam("left", "side 1: left", "side 2: left", more="turned = true\n")
        + step("Hem them.", seams="hem")
        + step("Sew them.", seams="left")
    )
    (once,) = (once for once in build.assembly.sewn if once.seam == "left")
    (pile,) = pile_seam(build, once)
    assert [ply.is_partial for ply in pile] == [True, False, False, True]
    assert [ply.grain for ply in pile] == (["up", "down", "up", "down"] if of == "body" else [""] * 4)


def test_copies_without_a_hem_have_a_layer_each(resolve_text: Resolve) -> None:
    build = resolve_text(
        piece("side", 200, 150, "cut = 2\n") + seam("left", "side 1: left", "side 2: left", more="turned = true\n")
    )
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [(ply.grain, ply.is_partial) for ply in pile] == [("down", False), ("up", False)]
