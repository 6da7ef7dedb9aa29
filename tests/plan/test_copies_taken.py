"""How many copies of a part a step takes in hand, and from which step they come: those that it lays or sews."""

import pytest
from short_specs import piece
from spec_text import Resolve, write_out
from step_lines import words_of

from docgen.pages.work.acts import tell
from docgen.plan import plan_work

LANDINGS = """\
landings = [
{ strap = "grip", at = "60 mm from left, 50 mm from top", leads = "up", over = "40 mm", stitch = "main" },
{ strap = "grip", end = "second", at = "60 mm from right, 50 mm from top", leads = "up", over = "40 mm", stitch = "main" },
]
"""
GRIPS = (
    piece("front", 240, 200, LANDINGS)
    + '[pieces.back]\nlike = "front"\n'
    + '[straps.grip]\nof = "body"\ncut = 2\nwidth = "20 mm"\nfinished = "400 mm"\n'
    + 'ends = [{ shape = "square" }, { shape = "square" }]\n'
)


def test_one_of_two_grips_is_taken_for_each_panel(resolve_text: Resolve) -> None:
    """Both are made in step 1; the second one is not in hand while the first is sewn on."""
    plan = plan_work(resolve_text(write_out(GRIPS)))
    takes = [words_of(told.takes) for told in plan.steps]
    assert takes == [["2 × grip"], ["grip (from step 1)", "front"], ["grip (from step 1)", "back"]]


@pytest.mark.parametrize(
    ("last", "taken"),
    [
        ("Burnish the tops of both panels.", ["Front panel", "Flap", "Back panel"]),
        ("Burnish the top of the panel.", ["Front panel", "Flap"]),
        ("Burnish the mouth of the gusset.", ["Front panel", "Flap", "Gusset"]),
        ("Lay both panels beside the gusset.", ["Front panel", "Flap"]),
    ],
)
def test_what_a_line_of_the_maker_finishes_is_taken(resolve_text: Resolve, last: str, taken: list[str]) -> None:
    """Of a word that several parts bear, said of many, all; of one that is in hand, that."""
    names = ("Front panel", "Back panel", "Flap", "Gusset")
    text = "".join(piece(name.split()[0].lower(), 160, 140, f'title = "{name}"\n') for name in names)
    text += f'[[steps]]\ndo = "Look at the front and the flap."\npieces = ["front", "flap"]\nlast = ["{last}"]\n'
    (told,) = plan_work(resolve_text(write_out(text))).steps
    assert [tell(one) for one in told.takes] == taken
