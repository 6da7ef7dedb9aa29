"""Ends of a binding that a later seam catches are cut level with the edge, and lie beneath that seam. That, and 15 mm to
turn under at an end that stays free, is common practice, no published source; lengths and layers are sums."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

TAPE = '[trimmings.tape]\nwhat = "tape"\nkind = "binding"\nwidth = "24 mm"\nthickness = "0.5 mm"\n'
MOUTHS = seam("mouth", "tape", "front: top") + seam("mouth-back", "tape", "back: top")
TURNED = "turned = true\n"


def make(ends: str = "", sides: str = TURNED, other: str = TURNED, *, first: str = "mouth mouth-back") -> str:
    """Two panels with bound mouths and side seams; the steps in the order of their seams."""
    text = piece("front", 200, 150) + piece("back", 200, 150) + TAPE + ends + MOUTHS
    text += seam("left", "front: left", "back: right", more=sides) + seam(
        "right", "front: right", "back: left", more=other
    )
    then = "left right" if first.startswith("mouth") else "mouth mouth-back"
    return write_out(text) + step("First.", seams=first) + step("Then.", seams=then)


@pytest.mark.parametrize(
    ("text", "length_mm", "said"),
    [
        (make(), 200, "its ends level: the seams that cross them catch them"),
        (make(other=""), 215, "15 mm (19/32 in) over at one end, level at the other"),
        (make(sides="", other=""), 230, "15 mm (19/32 in) over at each end; "),
        (make(first="left right"), 230, "15 mm (19/32 in) over at each end; "),
        (make('ends = "10 mm"\n'), 220, "10 mm (13/32 in) over at each end; "),
    ],
)
def test_ends_that_a_later_turned_seam_catches_are_cut_level(
    resolve_text: Resolve, text: str, length_mm: float, said: str
) -> None:
    """200 mm along the mouth, and 15 mm or what is written at each end that stays free."""
    plan = plan_work(resolve_text(text))
    (item,) = plan.build.trimmings
    assert [cut.length_mm for cut in item.cuts] == pytest.approx([length_mm, length_mm])
    told = next(line for number in (1, 2) for line in lines(plan, number) if line.startswith("tape: "))
    assert said in told
    assert ("turn the ends under" in told) == (length_mm > 200)


def test_a_seam_that_crosses_two_bindings_sews_four_layers_of_tape_there(resolve_text: Resolve) -> None:
    """Half of 24 mm lies down each side of each panel: two layers of 0.5 mm on both, 2 mm more at the mouth alone."""
    seams = {one.name: one for one in resolve_text(make()).seams}
    assert seams["left"].thickest_mm - seams["left"].thinnest_mm == pytest.approx(2.0)
    before = {one.name: one for one in resolve_text(make(first="left right")).seams}
    assert before["left"].thickest_mm == pytest.approx(before["left"].thinnest_mm)
