"""Which of several copies a seam takes stands where it names them, and layers of one part are layers. By hand."""

from built import built
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

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
