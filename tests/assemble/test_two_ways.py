"""A part with folds that run across each other, as those of a tray, is drawn as long as it lies flat, and no longer."""

from short_specs import piece, seam, step
from spec_text import Resolve, write_out

from docgen.assemble import Copy, TakenApart
from docgen.assemble.apart.two_ways import DARTED

TRAY = write_out("""\
[pieces.tray]
of = "body"
shape = "rectangle"
size = ["200 mm", "200 mm"]
folds = [
  { at = "40 mm from left", open = true, angle = 90 },
  { at = "40 mm from right", open = true, angle = 90 },
  { at = "40 mm from top", open = true, angle = 90 },
  { at = "40 mm from bottom", open = true, angle = 90 },
]
[pieces.lining]
like = "tray"
marks = false
lines = ["tray"]
[seams.round]
stitch = "main"
meet = ["tray: all", "lining: all"]
<step "Sew round.": seams = ["round"]>
""")


def test_a_tray_is_drawn_flat_and_not_as_if_it_bent_one_way(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(TRAY))
    ((base, *_),) = [heap.base for heap in apart.heaps(0)[1]]
    assert base == Copy("tray")
    assert len({round(at[2], 3) for face in apart.flat[base].faces for at in face.corners}) == 1
    assert (apart.closed.bodies, apart.closed.absent) == ((), ("tray",))
    assert '"tray": its folds run two ways, as those of a tray, and it is drawn flat alone' in [*apart.tell_withheld()]


def test_what_bends_along_folds_of_one_way_is_drawn_bent(resolve_text: Resolve) -> None:
    apart = TakenApart(
        resolve_text(TRAY, ("40 mm from top", "80 mm from right"), ("40 mm from bottom", "80 mm from left"))
    )
    assert {body.copy.part for body in apart.closed.bodies} == {"tray", "lining"}
    assert [*apart.tell_withheld()] == []


BOXED = (
    """\
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["30 mm", "0"], edge = "foot" },
  { at = ["170 mm", "0"], edge = "riser-right" },
  { at = ["170 mm", "30 mm"], edge = "step-right" },
  { at = ["200 mm", "30 mm"], edge = "right" },
  { at = ["200 mm", "160 mm"], edge = "top" },
  { at = ["0", "160 mm"], edge = "left" },
  { at = ["0", "30 mm"], edge = "step-left" },
  { at = ["30 mm", "30 mm"], edge = "riser-left" },
]
[pieces.back]
like = "front"
mirror = true
"""
    + piece("tab", 200, 60)
    + seam("left", "front: left", "back: left")
    + seam("right", "front: right", "back: right")
    + seam("foot", "front: foot", "back: foot")
    + "".join(
        seam(f"{name}-{side}", f"{name}: step-{side}", f"{name}: riser-{side}")
        for name in ("front", "back")
        for side in ("left", "right")
    )
    + seam("tab", "tab: top", "front: top")
    + step("Sew the sides and the foot.", seams="left right foot")
    + step("Sew the corners.", seams="front-left front-right back-left back-right")
    + step("Sew the tab on.", seams="tab")
)


def test_a_bag_with_boxed_corners_is_drawn_flat_until_these_are_sewn(resolve_text: Resolve) -> None:
    """Its sides and foot are sewn while it lies flat; from its corners on it has a form that no picture shows."""
    apart = TakenApart(resolve_text(BOXED))
    ((heap,), corners) = apart.heaps(0)[1], apart.heaps(1)[1]
    assert (heap.copies, corners) == ({Copy("front"), Copy("back")}, [])
    assert apart.closed.bodies == ()
    assert [*apart.tell_withheld()] == [f'"front", "back": {DARTED}', f"what step 3 joins: {DARTED}"]
