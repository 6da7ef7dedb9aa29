"""Proposed steps of a lined bag: what a lining hides, and posts through it, come before these are closed."""

from short_specs import hole, piece, seam
from spec_text import Resolve

from docgen.assemble import Assembled

BAG = (
    piece("front", 200, 150, hole("centre, 60 mm from top", "stud"))
    + piece("back", 200, 150, 'landings = [{ piece = "flap", at = "centre, 10 mm from top" }]\n')
    + '[pieces.inner]\nof = "body"\nlike = "front"\nmarks = false\nlines = ["front"]\n'
    + '[pieces.lining]\nof = "body"\nlike = "back"\nmarks = false\nlines = ["back"]\n'
    + 'landings = [{ piece = "bag", at = "centre, 20 mm from bottom", inside = true }]\n'
    + piece("bag", 180, 100)
    + piece("flap", 190, 120, 'folds = [{ at = "20 mm from top", open = true, angle = 90 }]\n')
    + '[hardware.stud]\nwhat = "snap, stud"\nkind = "snap"\ncount = 1\n'
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + seam("bag", "bag: left bottom right top", "lining")
    + seam("flap", "flap: top", "back")
    + seam("mouth-front", "front: top", "inner: top")
    + seam("mouth-back", "back: top", "lining: top")
    + seam("front", "wall: left", "inner: left bottom right", "front: left bottom right")
    + seam("back", "wall: right", "lining: left bottom right", "back: left bottom right")
)


def test_what_a_lining_hides_comes_before_it_and_posts_through_it_before_the_bag_is_closed(
    resolve_text: Resolve,
) -> None:
    """The flap's seam brought that of the mouth before it, and the pocket bag was sewn between lining and back; the stud
    came last, in the closed bag."""
    build = resolve_text(BAG)
    assert isinstance(build, Assembled)
    steps = [(*step.seams, *step.hardware) for step in build.assembly.steps if step.group != "Prepare"]
    assert [*map(" ".join, steps)] == ["bag", "mouth-back", "flap", "mouth-front", "stud", "front", "back"]
    (stud,) = build.assembly.fastened
    assert stud.stack.parts == ("front", "inner")
