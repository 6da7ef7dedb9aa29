"""Builds that are right and were warned of: a strap that closes on one ring, the lining of a flap wider than its back."""

from spec_text import Tell

WRIST = """\
<back>
<front>
<seam>
[straps.wrist]
of = "body"
width = "14 mm"
finished = "330 mm"
ends = [{ shape = "turned", back = "30 mm", around = "hook" }, { shape = "turned", back = "30 mm", around = "hook" }]
stitch = "main"
<hardware hook: 1, swivel hook>
inside = "15 mm"
bar = "3 mm"
"""
FLAP = """\
<back>
<rectangle flap: ["208 mm", "180 mm"]>
<rectangle flap-lining: ["208 mm", "180 mm"]>
lines = ["flap"]
<seam round: ["flap: left bottom right", "flap-lining: left bottom right"]>
<seam hang: ["flap: top", "flap-lining: top", "back"]>
"""


def test_a_strap_may_close_on_one_ring(cautions: Tell) -> None:
    """Whether it does is asked; a count that neither fits is a mistake yet."""
    assert "hardware-count" not in cautions(WRIST)
    assert "hardware-count" not in cautions(WRIST, ("count = 1", "count = 2"))
    assert "write count = 2" in cautions(WRIST, ("count = 1", "count = 3"))


def test_a_lining_is_as_wide_as_the_flap_that_it_lines(cautions: Tell) -> None:
    told = cautions(FLAP)
    assert "flap-lining top is sewn" not in told
    assert "flap top is sewn 208 mm (8 3/16 in) long" in told


RING = """\
<stitch hem: by machine, Tex 135 bonded nylon, 4 mm, INSET mm>
<rectangle base: ["320 mm", "130 mm"]>
round = "30 mm"
<strip wall: ["330 mm", "solve"]>
cut = 2
hems = [{ edges = "right", turn = "30 mm" }]
<join tube: ["wall", "wall"], 12 mm>
ring = true
<seam base: ["base: all", "tube: left"]>
[seams.hem]
stitch = "hem"
meet = ["tube: right", "tube"]
"""


def test_the_row_of_a_hem_counts_from_the_fold_on_a_ring_too(cautions: Tell) -> None:
    """The hem of its strips is 30 mm deep: within it the row is right, beyond it no row is usual so far in."""
    assert "inset-unusual" not in cautions(RING.replace("INSET", "25"))
    assert "inset-unusual" in cautions(RING.replace("INSET", "31"))
