"""What `check` asks of a loop that is too short for the belt that a measure names: as long as that is wide, and 4 mm thick.

Common practice, no published source.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

HEAD = """\
[measures]
belt = "40 mm"
<rectangle back: ["100 mm", "150 mm"]>
LANDING
<bare front>
<seam>
"""
# Half of 120 mm, and the rivet 16 mm from its ends: 44 mm.
FOLDED = """\
<rectangle loop: ["30 mm", "120 mm"]>
folds = [{ at = "middle" }]
holes = [
  { at = "centre, 16 mm from bottom", punch = "4 mm" },
  { at = "centre, 16 mm from top", punch = "4 mm" },
]
"""
# Rows 4 mm from both ends of 52 mm: 44 mm.
FLAT = """\
<rectangle loop: ["30 mm", "52 mm"]>
<seam upper: ["loop: top", "back"]>
<seam lower: ["loop: bottom", "back"]>
"""
# Both ends of a strap of 84 mm lie on the back for 20 mm each: 44 mm.
HELD = """\
<strap loop of body: 20 mm>
finished = "84 mm"
ends = [{ shape = "square" }, { shape = "square" }]
"""
HELD_LANDINGS = """\
landings = [
  { strap = "loop", at = "50 mm from left, 40 mm from bottom", leads = "up", over = "20 mm" },
  { strap = "loop", end = "second", at = "50 mm from left, 84 mm from bottom", leads = "down", over = "20 mm" },
]"""
RIVET = 'holes = [{ at = "centre, 40 mm from top", punch = "4 mm", takes = "rivet", through = ["loop", "loop"] }]'
RIVETS = "<hardware rivet: 1, double-cap rivet>\n"


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("belt_loops")


@pytest.mark.parametrize(
    ("text", "figure", "less", "free"),
    [
        (
            HEAD.replace("LANDING", RIVET) + FOLDED + RIVETS,
            '"120 mm"',
            '"119 mm"',
            "43.5 mm (1 23/32 in) long from its fold",
        ),
        (
            HEAD.replace("LANDING", 'landings = [{ piece = "loop", at = "centre, middle" }]') + FLAT,
            '"52 mm"',
            '"51 mm"',
            "43 mm (1 11/16 in) long between what holds it",
        ),
        (
            HEAD.replace("LANDING", HELD_LANDINGS) + HELD,
            '"84 mm"',
            '"83 mm"',
            "43 mm (1 11/16 in) long between its ends",
        ),
    ],
    ids=["folded", "flat", "a strap"],
)
def test_a_loop_too_short_for_its_belt_is_asked_about(ask: Ask, text: str, figure: str, less: str, free: str) -> None:
    assert ask(text) == []
    (told,) = ask(text, (figure, less))
    assert f'"loop" is {free}' in told
    assert told.endswith(
        'and a belt of 40 mm (1 9/16 in), "belt" (line 15), takes 44 mm (1 23/32 in) with its thickness'
    )
    assert ask(text, (figure, less), ('belt = "40 mm"', 'long = "40 mm"')) == []
