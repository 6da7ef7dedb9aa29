"""A part with folds that run across each other, as those of a tray, is drawn as long as it lies flat, and no longer."""

from spec_text import Resolve, write_out

from docgen.assemble import Copy, TakenApart

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
