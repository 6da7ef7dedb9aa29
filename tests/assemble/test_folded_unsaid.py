"""What no step speaks of but has to be done or lies there: folds that close, a lining between what is sewn round, and the
allowances of turned seams, each once."""

from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

TURNED = "turned = true\n"


def test_a_fold_that_no_step_speaks_of_is_made_where_the_piece_is_first_worked(resolve_text: Resolve) -> None:
    text = (
        piece("panel", 200, 150)
        + piece("loop", 20, 80, 'folds = [{ at = "middle" }]\n')
        + seam("hold", "loop: top", "loop: bottom", "panel: left from top 40 mm to top 60 mm")
        + step("Punch all.", pieces="panel loop")
        + step("Sew the loop on.", seams="hold")
    )
    plan = plan_work(resolve_text(text))
    assert [sum(line.startswith("loop: fold on") for line in lines(plan, number)) for number in (1, 2)] == [0, 1]
    spoken = plan_work(resolve_text(text.replace("Punch all.", "Fold the loop.")))
    assert [sum(line.startswith("loop: fold on") for line in lines(spoken, number)) for number in (1, 2)] == [1, 0]


def test_a_sleeve_on_a_lining_does_not_lie_on_the_flesh_side_of_the_cover(resolve_text: Resolve) -> None:
    text = (
        piece("cover", 300, 200)
        + piece(
            "lining",
            300,
            200,
            'lines = ["cover"]\nlandings = [{ piece = "sleeve", at = "0 mm from left, 0 mm from bottom" }]\n',
            of="cloth",
        )
        + piece("sleeve", 100, 200)
        + seam("round", "cover: bottom from left to left 100 mm", "lining", "sleeve: bottom")
        + step("Sew it round.", seams="round", pieces="lining sleeve")
    )
    told = lines(plan_work(resolve_text(text)), 1)
    assert (
        "Edges level: the bottom edge (from the left to 100 mm off the left) of cover on the bottom edge of sleeve."
        in told
    )
    assert not any("flesh sides together" in line for line in told)


def test_of_a_hemmed_wall_the_allowances_lie_once_at_each_corner(resolve_text: Resolve) -> None:
    hem = 'hems = [{ edges = "top", turn = "20 mm" }]\n'
    text = (
        piece("base", 200, 100)
        + piece("front", 200, 150, hem)
        + piece("side", 100, 150, "cut = 2\n" + hem)
        + seam("one", "front: left", "side 1: right", more=TURNED)
        + seam("two", "front: right", "side 2: left", more=TURNED)
        + seam("foot", "base: bottom", "front: bottom", more=TURNED)
        + step("Fold the mouths.", pieces="front side")
        + step("Sew it up.", seams="one two foot")
    )
    foot = next(one for one in resolve_text(text).seams if one.name == "foot")
    assert [(layer.part, layer.most_mm) for layer in foot.layers] == [
        ("base", 2.0),
        *(("front", 2.0), ("front", 2.0), ("side", 2.0), ("side", 2.0)),
    ]
