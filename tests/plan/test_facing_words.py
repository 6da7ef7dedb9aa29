"""What is told of facings that a seam sews in between a panel and its wall. Round a quarter circle an edge is longer than
the line 4 mm within it by pi / 2 x 4 mm = 6.3 mm, whatever the radius (plane geometry)."""

from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
CASE = write_out(
    piece("front", 160, 100, ROUND)
    + '[pieces.back]\nlike = "front"\nmarks = false\n'
    + 'landings = [{ piece = "behind", at = "centre, 0 mm from bottom", inside = true }]\n'
    + '[materials.soft]\nkind = "leather"\ntannage = "vegetable"\nthickness = "1.8 mm"\n'
    + '[materials.suede]\nkind = "leather"\ntannage = "chrome"\nthickness = "0.8 mm"\n'
    + '[pieces.facing]\nlike = "front"\nof = "suede"\nmarks = false\n'
    + '[pieces.behind]\nlike = "front"\nof = "suede"\nmarks = false\nlines = ["back"]\n'
    + '<strip wall of soft: ["40 mm", "solve"]>\n'
    + seam("one", "front: left bottom right", "facing: left bottom right", "wall: left")
    + seam("two", "back: left bottom right", "behind: left bottom right", "wall: right")
    + step("Sew the front.", seams="one")
    + step("Sew the back.", seams="two")
)
STRETCHED = "wall: damp the edge with a sponge and stretch it round each corner: there it is 6.3 mm short."


def test_a_wall_is_stretched_round_the_corners_of_a_facing_as_of_a_panel(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(CASE))
    assert [lines(plan, number).count(STRETCHED) for number in (1, 2)] == [1, 1]
    square = plan_work(resolve_text(CASE.replace(ROUND, "")))
    assert not any("sponge" in line for number in (1, 2) for line in lines(square, number))


def test_a_lining_whose_place_is_written_is_laid_once(resolve_text: Resolve) -> None:
    laid = "behind on the flesh side of back"
    assert sum(laid in line for line in lines(plan_work(resolve_text(CASE)), 2)) == 1
    at = 'landings = [{ piece = "behind", at = "centre, 0 mm from bottom", inside = true }]\n'
    assert sum(laid in line for line in lines(plan_work(resolve_text(CASE.replace(at, ""))), 2)) == 1
