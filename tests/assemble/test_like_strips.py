"""A join that has a strip of one template at both ends: what is known of the first is known of the last. Faces by hand."""

import pytest
from short_specs import seam, step
from spec_text import Resolve

from docgen.assemble import Copy, pile_seam
from docgen.assemble.wholes import whole_of

STRIPS = """\
<strip side: ["50 mm", "160 mm"]>
cut = 2
<strip base: ["50 mm", "200 mm"]>
[joins.gusset]
of = ["side", "base", "side"]
overlap = "14 mm"
stitch = "main"
<strip lining of body: ["50 mm", "492 mm"]>
lines = ["gusset"]
"""
MOUTHS = seam("first", "side 1: end", "lining: start") + seam("last", "side 2: end", "lining: end")
STEPS = (
    step("Join the strips.", joins="gusset")
    + step("Lay the lining in.", pieces="lining", tools="glue")
    + step("Sew the mouths.", seams="first last")
)


def test_both_ends_of_a_join_show_how_their_lining_lies(resolve_text: Resolve) -> None:
    """520 mm less two overlaps of 14 mm; the lining lies behind all of it, flesh to flesh, at both ends."""
    build = resolve_text(STRIPS + MOUTHS + STEPS)
    told = {
        once.seam: [[(ply.part, ply.grain) for ply in pile] for pile in pile_seam(build, once)]
        for once in build.assembly.sewn
    }
    alike = [[("side", "up"), ("lining", "down")]]
    assert told == {"first": alike, "last": alike}


@pytest.mark.parametrize(
    ("copy", "whole"),
    [
        (Copy("side", 1), Copy("gusset", 1)),
        (Copy("side", 2), Copy("gusset", 1)),
        (Copy("base", 1), Copy("gusset", 1)),
        (Copy("side", 3), Copy("gusset", 2)),
        (Copy("base", 2), Copy("gusset", 2)),
        (Copy("lining", 2), Copy("lining", 2)),
    ],
)
def test_a_strip_is_of_the_join_whose_turn_it_is(resolve_text: Resolve, copy: Copy, whole: Copy) -> None:
    """Two sides and one base make each join."""
    assert (
        whole_of(resolve_text(STRIPS + STEPS.replace('seams = ["first", "last"]', 'pieces = ["side"]')), copy) == whole
    )
