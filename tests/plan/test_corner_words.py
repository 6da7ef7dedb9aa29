"""Where an edge that goes round a corner is snipped: what lies under that needle, and the allowance of what is turned; and
how a corner cut out of a piece is sewn to itself."""

from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

ROUND = 'round = { bottom-left = "35 mm", bottom-right = "35 mm" }\n'
WALL = 'shape = "strip"\nsize = ["60 mm", "solve"]\n'
TURNED = "turned = true\n"


def test_a_lining_is_snipped_in_the_seam_that_it_lies_in(resolve_text: Resolve) -> None:
    """Sewn as a bag of its own it is short by pi / 2 x its inset of 4 mm at each corner (plane geometry), and lies in no
    seam of the leather, where it was told to be snipped."""
    text = '<fabric cloth: 0.5 mm>\nwidth = "1 m"\n' + piece("front", 240, 200, ROUND)
    text += f'[pieces.wall]\nof = "body"\n{WALL}' + seam("own", "front: left bottom right", "wall: left")
    text += piece("lining-front", 240, 200, ROUND + 'lines = ["front"]\n', of="cloth")
    text += f'[pieces.lining-wall]\nof = "cloth"\n{WALL}lines = ["wall"]\n'
    text += seam("bag", "lining-front: left bottom right", "lining-wall: left", more=TURNED)
    text += seam("mouth", "wall: start", "lining-wall: start")
    plan = plan_work(resolve_text(write_out(text) + step("A.", seams="bag mouth") + step("B.", seams="own")))
    assert [[line for line in lines(plan, number) if "snip" in line] for number in (1, 2)] == [
        [
            "lining wall: snip the edge round each corner every 6 mm, no nearer than 1.5 mm to the stitch line: there it "
            "is 6.3 mm short."
        ],
        [],
    ]
    assert any("stretch the edge, dry, round each corner" in line for line in lines(plan, 2))


def test_a_corner_cut_out_is_sewn_from_end_to_end_of_its_edge(resolve_text: Resolve) -> None:
    """Both ends of its row lie at the bottom left of the piece, and it is no other piece that it is laid on."""
    spots = (
        (40, 0, "foot"),
        (200, 0, "right"),
        (200, 150, "top"),
        (0, 150, "left"),
        (0, 40, "step"),
        (40, 40, "riser"),
    )
    points = ", ".join(f'{{ at = ["{x} mm", "{y} mm"], edge = "{edge}" }}' for x, y, edge in spots)
    text = f'[pieces.front]\nof = "body"\nshape = "outline"\npoints = [{points}]\n'
    text += seam("box", "front: step", "front: riser", more=TURNED)
    told = lines(plan_work(resolve_text(write_out(text) + step("Sew.", seams="box"))), 1)
    assert told[0] == "front: bring the step edge to the riser edge, grain sides together, edges level."
    assert told[-2].endswith("from the left to the right end of the step edge of front.")
