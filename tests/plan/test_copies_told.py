"""Which of several copies a seam takes stands where it names them, and layers of one part are layers. By hand."""

from built import built
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines, words_of

from docgen.plan import plan_work

CUT = """\
[pieces.bag]
of = "body"
cut = 2
shape = "outline"
points = [
  { at = ["20 mm", "0"], edge = "left-low" }, { at = ["20 mm", "20 mm"], edge = "left-foot" },
  { at = ["0", "20 mm"], edge = "left" },
  { at = ["0", "120 mm"], edge = "top" }, { at = ["160 mm", "120 mm"], edge = "right" },
  { at = ["160 mm", "0"], edge = "bottom" },
]
"""


def test_a_corner_of_one_copy_is_brought_together_in_that_copy(resolve_text: Resolve) -> None:
    sides = seam("side", "bag 1: left", "bag 2: left", more="turned = true\n")
    corners = "".join(
        seam(f"corner-{k}", f"bag {k}: left-low", f"bag {k}: left-foot", more="turned = true\n") for k in (1, 2)
    )
    work = step("Sew sides.", seams="side") + step("Sew corners.", seams="corner-1 corner-2")
    plan = plan_work(resolve_text(CUT + sides + corners + work))
    assert any(line.startswith("Lay bag (1 of 2) on bag (2 of 2), grain sides together") for line in lines(plan, 1))
    brought = [line for line in lines(plan, 2) if "bring" in line]
    assert brought == [
        f"bag ({k} of 2): bring the left-low edge to the left-foot edge, grain sides together, edges level."
        for k in (1, 2)
    ]


def test_a_single_piece_bears_no_number(resolve_text: Resolve) -> None:
    text = piece("front", 160, 140) + piece("back", 160, 140) + seam("s", "front: left", "back: left")
    assert not any(
        " of " in line and "(1" in line for line in lines(plan_work(resolve_text(text + step("Sew.", seams="s"))), 1)
    )


def test_two_layers_of_one_part_are_told_as_layers() -> None:
    """A folded pipe in its seam: as `2 x pipe` it read as two of them."""
    plan = built("crossbody").plan
    told = " ".join(line for made in plan.steps for line in lines(plan, made.number))
    assert "2 layers of pipe" in told
    assert "2 × pipe;" not in told


LINED = (
    piece("front", 160, 140)
    + '[pieces.back]\nlike = "front"\n'
    + '[pieces.lining]\nlike = "front"\nlines = ["front", "back"]\ncut = 2\n'
    + 'landings = [{ piece = "slip", at = "centre, 40 mm from top" }]\n'
    + piece("slip", 80, 60)
    + seam("pocket", "slip: left bottom right", "LINING")
    + seam("mouth", "front: top", "lining 1: top")
    + seam("mouth-back", "back: top", "lining 2: top")
    + step("Sew the pocket on.", seams="pocket")
    + step("Sew the mouths.", seams="mouth mouth-back")
)


def test_of_two_linings_the_one_with_a_pocket_is_told_from_the_other(resolve_text: Resolve) -> None:
    """Before it bears the pocket it is the one for the back, since a seam names it by its number."""
    plan = plan_work(resolve_text(LINED.replace('"LINING"', '"lining 2"')))
    assert "lining (the one for back)" in words_of(plan.steps[0].takes)
    assert any(line.startswith("lining (the one for back) grain side up: lay slip on it") for line in lines(plan, 1))
    laid = [line.split(" on ")[0] for line in lines(plan, 2) if line.startswith("Lay lining")]
    assert laid == ["Lay lining (the one without slip)", "Lay lining (the one with slip)"]


def test_linings_that_are_alike_are_told_by_their_title(resolve_text: Resolve) -> None:
    """Each with a pocket, neither has what the other lacks."""
    text = LINED.replace('"LINING"', '"lining"').replace("[pieces.slip]", "[pieces.slip]\ncut = 2")
    plan = plan_work(resolve_text(text))
    assert "2 × lining" in words_of(plan.steps[0].takes)
    assert not any("the one" in line for number in (1, 2) for line in lines(plan, number))
