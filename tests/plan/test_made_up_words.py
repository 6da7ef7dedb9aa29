"""What is made up of several layers: how these are held, which side of a lining lies inside a bend, and the keeper that
lies in the fold of an end."""

import pytest
from short_specs import BUCKLE, KEEPER, piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines, words_of

from docgen.plan import plan_work

GRIP = """\
[straps.grip]
of = "body"
width = "20 mm"
finished = "300 mm"
doubled = true
stitch = "main"
ends = [{ shape = "square" }, { shape = "square" }]
"""
BELT = """\
[straps.belt]
of = "body"
width = "30 mm"
finished = "400 mm"
ends = [
  { shape = "turned", back = "70 mm", around = "buckle", takes = "rivet", number = 2, keeper = "loop" },
  { shape = "square" },
]
"""
BENT = "folds = [{}]\n".format(
    ", ".join(f'{{ at = "{mm} mm from left", open = true, angle = 90 }}' for mm in (95, 105))
)


@pytest.mark.parametrize(("tools", "is_clipped"), [("", True), ('tools = ["contact cement"]\n', False)])
def test_two_layers_of_a_strap_are_clipped_where_nothing_glues_them(
    resolve_text: Resolve, tools: str, *, is_clipped: bool
) -> None:
    plan = plan_work(resolve_text(write_out(GRIP) + step("Make.", straps="grip") + tools))
    assert ("grip: clip the layers, the ends first, then between them." in lines(plan, 1)) == is_clipped
    assert ("clips" in plan.steps[0].tools) == is_clipped


def test_a_keeper_is_in_hand_where_the_end_is_turned_that_it_lies_in(resolve_text: Resolve) -> None:
    text = write_out(BELT + BUCKLE + KEEPER)
    text += step("Cut.", straps="belt loop") + step("Turn.", hardware="buckle rivet")
    takes = [words_of(told.takes) for told in plan_work(resolve_text(text)).steps]
    assert takes[0][:2] == ["belt", "loop"]
    assert takes[1][0] == "loop, belt (from step 1)"


def test_a_lining_bends_with_its_outer_side_in_where_its_cover_has_it_out(resolve_text: Resolve) -> None:
    """Both lie wrong sides together, and the lining is cut like the cover, folds and all."""
    text = (
        piece("cover", 200, 150, BENT) + '[pieces.lining]\nlike = "cover"\n' + seam("rim", "cover: all", "lining: all")
    )
    text = write_out(text) + step("Bend the folds.", pieces="cover lining") + step("Sew.", seams="rim")
    told = [line for line in lines(plan_work(resolve_text(text)), 1) if "bend" in line]
    assert [line.rpartition(", ")[2] for line in told] == ["flesh side in.", "grain side in."]


def test_a_lining_that_is_glued_to_its_part_by_then_is_not_glued_in_its_seam(resolve_text: Resolve) -> None:
    text = '<fabric cloth: 0.5 mm>\nwidth = "1 m"\n' + piece("front", 200, 150) + piece("back", 200, 150)
    text += piece("lining", 200, 150, 'lines = ["front"]\n', of="cloth")
    text += seam("side", "lining: left", "front: left", "back: left", more="turned = true\n")
    glue = step("Glue.", pieces="front lining") + 'tools = ["contact cement"]\n'
    tape = step("Sew.", seams="side") + 'tools = ["double-sided tape"]\n'
    told = [
        next(line for line in lines(plan_work(resolve_text(write_out(text) + steps)), number) if "Put double" in line)
        for number, steps in ((1, tape), (2, glue + tape))
    ]
    assert [line.partition(", no more")[0] for line in told] == [
        "Put double-sided tape between lining, front and back",
        "Put double-sided tape between front and back",
    ]


def test_a_lining_whose_edge_is_painted_with_another_is_so_in_the_step_of_that(resolve_text: Resolve) -> None:
    """The cover is painted once its last seam is sewn, the lining of it only then."""
    text = '<leather suede: 1 mm>\nedges = "painted with the cover"\n' + piece("cover", 200, 150)
    text += piece("lining", 200, 150, of="suede") + piece("pocket", 100, 150)
    text += seam("one", "cover: top", "lining: top") + seam("two", "cover: left", "pocket: left")
    text = write_out(text) + step("One.", seams="one") + step("Two.", seams="two")
    plan = plan_work(resolve_text(text))
    assert [[line for line in lines(plan, number) if "cut edges" in line] for number in (1, 2)] == [
        [],
        ["lining: now finish the cut edges (painted with the cover)."],
    ]


@pytest.mark.parametrize("more_mm", [10, 40])
def test_a_cover_closes_with_its_flesh_in_over_a_smaller_panel_that_folds_too(
    resolve_text: Resolve, more_mm: int
) -> None:
    """The panel lies on the flesh of the cover, and is put together first: what is larger than it is no lining of it."""
    fold = 'folds = [{ at = "centre", open = true, angle = 180 }]\n'
    edges = f"left bottom right from top {more_mm} mm to top {more_mm} mm"
    lands = 'landings = [{ piece = "pocket", at = "0 from left, 0 from bottom" }]\n'
    text = piece("cover", 200, 82 + more_mm, fold) + piece("panel", 200, 82, fold + lands) + piece("pocket", 96, 56)
    text += (
        seam("in", "pocket: right", "panel")
        + '[pieces.lining]\nlike = "cover"\nmarks = false\n'
        + seam("top", "cover: top", "lining: top")
    )
    text += seam("round", "panel: left bottom right", f"lining: {edges}", f"cover: {edges}")
    text += step("Sew.", seams="in") + step("Sew.", seams="top") + step("Sew.", seams="round")
    told = lines(plan_work(resolve_text(text + step("Fold the wallet.", pieces="cover"))), 4)
    assert [line.rpartition(", ")[2] for line in told if line.startswith("cover: bend")] == ["flesh side in."]
