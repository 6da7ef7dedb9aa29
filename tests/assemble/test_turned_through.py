"""What is sewn face to face but for an opening is turned through that, in the step that closes it. By hand."""

from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

BAG = """\
<back>
<front>
[seams.round]
stitch = "main"
turned = true
meet = ["front: left top right", "back: left top right"]
[seams.foot]
stitch = "main"
turned = true
meet = ["front: bottom from left to left 60 mm", "back: bottom from left to left 60 mm"]
[seams.gap]
stitch = "main"
meet = ["front: bottom from left 60 mm to right", "back: bottom from left 60 mm to right"]
<step "Sew it round, but for the opening.": seams = ["round", "foot"]>
"""
CLOSE = '<step "%s": seams = ["gap"]>\n'


def test_it_is_turned_by_the_step_that_closes_the_opening(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(BAG + CLOSE % "Close it."))
    assert not any("right side out" in line for line in lines(plan, 1))
    assert lines(plan, 2)[:2] == [
        "Turn it right side out through the opening.",
        "Turn the edges of the opening in by 4 mm, in line with the seam beside it.",
    ]


def test_a_step_whose_words_turn_it_is_not_told_to_twice(resolve_text: Resolve) -> None:
    told = lines(plan_work(resolve_text(BAG + CLOSE % "Turn it out and close it.")), 2)
    assert told[0].startswith("Turn the edges of the opening in")


def test_what_has_no_opening_is_turned_after_its_last_seam(resolve_text: Resolve) -> None:
    """What is left open is a mouth: no seam closes it."""
    text = BAG[: BAG.index("[seams.gap]")] + BAG[BAG.index("<step") :]
    assert any("right side out" in line for line in lines(plan_work(resolve_text(text)), 1))
