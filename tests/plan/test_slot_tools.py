"""The punch of a slot is told by its length, or by what comes nearest to it. That slot punches are sold in full millimetres
and in eighths of an inch is common practice, no published source."""

import pytest
from spec_text import HEAD, Resolve, write_out
from step_lines import words_of

from docgen.plan import plan_work

BELT = """\
<strap belt of body: 30 mm>
finished = "300 mm"
punches = [{ at = "centre, 100 mm from start", punch = "4 mm", long = "LONG" }]
<step "Cut the belt.": straps = ["belt"]>
tools = ["OWN", "mallet"]
"""


@pytest.mark.parametrize(
    ("long", "own", "tools"),
    [
        ("18 mm", "knife", ["18 mm slot punch"]),
        ("17.6 mm", "knife", ["slot punch nearest to 17.6 mm"]),
        ("17.6 mm", "slot punch", ["slot punch nearest to 17.6 mm"]),
        ("17.6 mm", "slot punch 17.6 mm", ["slot punch 17.6 mm"]),
        ("7/8 in", "knife", ["slot punch nearest to 22.2 mm"]),
    ],
)
def test_a_slot_asks_for_a_punch_that_is_sold(resolve_text: Resolve, long: str, own: str, tools: list[str]) -> None:
    text = write_out(BELT).replace("LONG", long).replace("OWN", own)
    (made,) = plan_work(resolve_text(text)).steps
    assert [tool for tool in made.tools if "punch" in tool] == tools
    by_holes = "A slot that no punch fits: a hole of 4 mm at each end, and cut between them."
    told = words_of(made.acts)
    assert (by_holes in told) == any("nearest" in tool for tool in tools)


@pytest.mark.parametrize("head", [HEAD.replace('show = "mm"', 'show = "in"')])
@pytest.mark.parametrize(
    ("long", "tool"), [("18.9 mm", "3/4 in slot punch"), ("27 mm", "slot punch nearest to 1 1/16 in")]
)
def test_in_inches_slot_punches_go_by_eighths(resolve_text: Resolve, long: str, tool: str) -> None:
    """18.9 mm is told as 3/4 in (19.05 mm); 1 1/16 in lies half way between two of them."""
    text = write_out(BELT).replace("LONG", long).replace("OWN", "knife")
    (made,) = plan_work(resolve_text(text)).steps
    assert [made_of for made_of in made.tools if "punch" in made_of] == [tool]
