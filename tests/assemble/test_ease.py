"""A side that is eased in: how much and where is told at the step, and its corners lie on those of the first. By hand."""

import pytest
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

BAG = """\
<back>
<rectangle front: ["206 mm", "150 mm"]>
[seams.round]
stitch = "main"
meet = ["back: left bottom right", "front: left bottom right"]
ease = "6 mm"
%s
<step "Sew it.": seams = ["round"]>
"""


@pytest.mark.parametrize(
    ("where", "told"),
    [
        ('ease-at = "bottom"', "front is 6 mm longer than back along bottom: ease that in there, evenly."),
        ("", "front is 6 mm longer than back there: ease that in evenly all along."),
    ],
)
def test_what_is_eased_in_is_told_where_it_is_sewn(resolve_text: Resolve, where: str, told: str) -> None:
    """206 mm on 200 mm."""
    plan = plan_work(resolve_text(BAG % where))
    assert sum(line.startswith(told) for line in lines(plan, 1)) == 1


def test_nothing_is_told_of_sides_that_are_alike(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text((BAG % "").replace("206 mm", "200 mm")))
    assert not any("ease" in line for line in lines(plan, 1))


@pytest.mark.parametrize("where", ['ease-at = "bottom"', ""])
def test_corners_of_both_sides_share_one_hole(resolve_text: Resolve, where: str) -> None:
    """Down 146 mm, along 192 mm and up again at 4 mm a stitch, of the longer one 198 mm along: no stitch is much shorter,
    as where the corners of each had a hole of their own."""
    (seam,) = resolve_text(BAG % where).seams
    assert min(seam.pitches_mm) > 3.9
    assert {146.0, 146.0 + 192.0} <= {round(at, 6) for at in seam.holes_mm}
