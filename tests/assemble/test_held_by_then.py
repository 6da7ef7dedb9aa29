"""What a step finds held already: heads of rivets in their own holes alone, and what a dividing line holds to another."""

import pytest
from short_specs import piece, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart

RIVETED = """\
folds = [{ at = "40 mm from top", inside = "flesh" }]
holes = [
  { at = "50 mm from left, 10 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "50 mm from left, 70 mm from top", punch = "4 mm" },
  { at = "10 mm from left, 70 mm from bottom", punch = "4 mm", takes = "rivet" },
  { at = "10 mm from left, 40 mm from bottom", punch = "4 mm", takes = "rivet", through = ["small"] },
]
landings = [{ piece = "large", at = "0 from left, 0 from bottom" }]
"""
LARGE = """\
holes = [
  { at = "10 mm from left, 10 mm from top", punch = "4 mm" },
  { at = "10 mm from left, 40 mm from top", punch = "4 mm" },
]
landings = [{ piece = "small", at = "0 from left, 0 from bottom" }]
"""
DIVIDED = """\
holes = [{ at = "10 mm from left, 10 mm from top", punch = "4 mm" }]
dividers = [{ at = "centre", stitch = "main", on = "large" }]
"""
ROUND = '[seams.round]\nstitch = "main"\nmeet = ["large: left bottom right", "back"]\n'
RIVET = """\
<hardware rivet: 3, double-cap rivet>
posts = ["4 mm", "6 mm", "8 mm"]
"""


@pytest.fixture
def pouch(resolve_text: Resolve) -> Assembled:
    """A back that is riveted round a belt first, and a pocket on it last, which bears a smaller one by then."""
    return resolve_text(
        piece("back", 100, 200, RIVETED)
        + piece("large", 100, 80, LARGE)
        + piece("small", 100, 50, DIVIDED)
        + ROUND
        + RIVET
        + step("Rivet the fold.", pieces="back", hardware="rivet")
        + step("Divide the pocket.", pieces="small large")
        + 'order = ["small: dividers"]\n'
        + step("Sew it on.", pieces="large small back", seams="round", hardware="rivet")
    )


def test_the_head_of_a_rivet_is_drawn_from_the_step_on_that_sets_it_there(pouch: Assembled) -> None:
    apart = TakenApart(pouch)
    heaps = apart.heaps(2)
    (heap,) = heaps[1]
    assert sorted(is_new for _, is_new in apart.joined(heap, 2, heaps[0]).metal) == [False, True, True]


def test_what_a_dividing_line_holds_goes_on_with_it(pouch: Assembled) -> None:
    (heap,) = TakenApart(pouch).heaps(2)[1]
    assert {Copy("large"), Copy("small")} in [{*heap.base}, *({*one.copies} for one in heap.moved)]
