"""Which notch of a ring meets which of the panel that it is sewn round, where there are two: told as they are placed."""

from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

OWN = 'notches = [{ on = "left" }, { on = "right" }]\n'
BOX = f"""\
<rectangle front: ["230 mm", "150 mm"]>
round = "38 mm"
NOTCHES
<rectangle rear: ["230 mm", "150 mm"]>
round = "38 mm"
NOTCHES
<strip over: ["90 mm", "260 mm"]>
{OWN}<strip under: ["90 mm", "solve"]>
{OWN}[joins.wall]
of = ["over", "under"]
overlap = "12 mm"
ring = true
stitch = "main"
<seam one: ["front: all", "wall: left"]>
<seam two: ["rear: all", "wall: right"]>
<step "Close the ring.": joins = ["wall"]>
<step "Sew.": seams = ["one", "two"]>
"""


def test_each_notch_is_told_with_its_mate(resolve_text: Resolve) -> None:
    """Two of each; with one of each they have no other mate, and nothing is told besides."""
    met = []
    for notches in ('{ on = "bottom" }, { on = "top" }', '{ on = "top" }'):
        plan = plan_work(resolve_text(BOX.replace("NOTCHES", f"notches = [{notches}]")))
        met.append([line for line in lines(plan, 2) if "meets" in line])
    assert met[1] == []
    assert {line.split(" meets that in the ")[0] for line in met[0]} == {"The notch of over", "The notch of under"}
    for name in ("front", "rear"):
        assert {line.split(" of ")[-2].split()[-1] for line in met[0] if line.endswith(f"{name}.")} == {"bottom", "top"}
