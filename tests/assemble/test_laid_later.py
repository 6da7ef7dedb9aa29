"""What lies under a needle when: a pocket from the step that glues it, an end of a strap on its own panel, a caught tab."""

from short_specs import piece, seam, step
from spec_text import Resolve, write_out

from docgen.assemble import pile_run, pile_seam

FACE = """\
landings = [
  { piece = "upper", at = "0 from left, 30 mm from bottom" },
  { piece = "lower", at = "0 from left, 0 from bottom" },
]
"""
HANDLE = """\
[straps.handle]
of = "body"
cut = 2
width = "20 mm"
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""
ENDS = """\
landings = [
  { strap = "handle", at = "50 mm from left, 30 mm from top", over = "25 mm", stitch = "main" },
  { strap = "handle", at = "50 mm from right, 30 mm from top", end = "second", over = "25 mm", stitch = "main" },
]
"""
TAB = """\
<hardware ring: 1, D ring>
bar = "3 mm"
"""


def test_a_pocket_lies_there_from_the_step_that_glues_it_on(resolve_text: Resolve) -> None:
    """All are burnished together first; the lower pocket comes over the foot of the upper one only after that is sewn."""
    made = resolve_text(
        piece("face", 100, 120, FACE)
        + piece("upper", 100, 80)
        + piece("lower", 100, 80)
        + seam("foot", "upper: bottom", "face")
        + step("Burnish the mouths.", pieces="face upper lower")
        + step("Sew the foot of the upper pocket.", seams="foot")
        + step("Glue the lower pocket over it.", pieces="lower")
    )
    (once,) = made.assembly.sewn
    assert [layer.part for layer in once.stack.layers] == ["upper", "face"]
    assert [lies.copy.part for lies in made.assembly.lies] == ["upper", "lower"]


def test_ends_of_both_handles_lie_on_their_own_panels(resolve_text: Resolve) -> None:
    panels = piece("front", 200, 150, ENDS) + piece("back", 200, 150, ENDS)
    made = resolve_text(panels + HANDLE + step("Sew on the handles.", pieces="front back", straps="handle"))
    piles = [pile_run(made, run) for run in made.assembly.runs if run.kind == "landings"]
    told = sorted([ply.part for ply in pile or ()] for pile in piles)
    assert told == [["handle", "back"]] * 2 + [["handle", "front"]] * 2


def test_a_folded_tab_that_a_turned_seam_catches_is_not_turned_with_it(resolve_text: Resolve) -> None:
    """Its halves stay flesh to flesh round the ring, grain out on both sides."""
    tab = piece("tab", 70, 15, 'folds = [{ at = "centre", around = "ring" }]\n')
    made = resolve_text(
        piece("back", 200, 150)
        + tab
        + write_out(TAB)
        + seam("tab", "tab: left", "tab: right", "back: left from top 20 mm to top 35 mm", more="turned = true\n")
        + step("Fold the tab round its ring and sew it on.", pieces="back tab", seams="tab", hardware="ring")
    )
    (pile,) = pile_seam(made, made.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile][:2] == [("tab", "up"), ("tab", "down")]
