"""What `check` asks of a strap that goes over the edge of its panel and is too short for the stud, or the buckle with the
middle one of its holes, on the other one. The least way is that of the leather laid flat: plane geometry."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

# From 100 mm below the top of the back to 60 mm below that of the front: 160 mm, and the hole 15 mm from the tip.
STUD = """\
<rectangle back: ["160 mm", "200 mm"]>
landings = [{ strap = "tongue", at = "centre, 100 mm from top", leads = "up", over = "40 mm" }]
<rectangle front: ["160 mm", "200 mm"]>
holes = [{ at = "centre, 60 mm from top", punch = "4 mm", takes = "stud" }]
<strap tongue of body: 30 mm>
finished = "175 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
punches = [{ at = "centre, 15 mm from end", punch = "6 mm" }]
<hardware stud: 1, button stud>
kind = "screw-post"
<seam s: ["front: left bottom right", "back: left bottom right"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("straps_to_studs")


def test_a_strap_too_short_for_its_stud_is_asked_about(ask: Ask) -> None:
    assert ask(STUD) == []
    (told,) = ask(STUD, ('finished = "175 mm"', 'finished = "173 mm"'))
    assert told.split(": ", 1)[1] == (
        '"tongue" is 158 mm (6 7/32 in) long to the hole that closes it, and "stud" is farther away: '
        '100 mm (3 15/16 in) to the edge of "back", and 60 mm (2 3/8 in) from that of "front"'
    )


@pytest.mark.parametrize(
    "other",
    [
        ("centre, 60 mm from top", "20 mm from left, 60 mm from top"),
        (
            '<rectangle back: ["160 mm", "200 mm"]>',
            '<rectangle back: ["160 mm", "200 mm"]>\nfolds = [{ at = "40 mm from top", open = true }]',
        ),
        ('leads = "up"', 'leads = "left"'),
    ],
    ids=["a stud aside", "a flap", "led aside"],
)
def test_one_that_closes_otherwise_is_not(ask: Ask, other: tuple[str, str]) -> None:
    assert ask(STUD, ('finished = "175 mm"', 'finished = "173 mm"'), other) == []


# A flap over a wall of 40 mm: 80 mm of it hang on the front down to its hole.
DEEP = """\
<rectangle front: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 80 mm from top", punch = "4 mm", takes = "stud" }]
<rectangle back: ["200 mm", "300 mm"]>
folds = [
  { at = "150 mm from bottom", open = true, angle = 90 },
  { at = "190 mm from bottom", open = true, angle = 90 },
]
holes = [{ at = "centre, 30 mm from top", punch = "5 mm" }]
<strip wall: ["40 mm", "solve"]>
<seam front: ["front: left bottom right", "wall: left"]>
<seam back: ["back: left bottom right from top 150 mm to top 150 mm", "wall: right"]>
<hardware stud: 1, button stud>
"""


@pytest.fixture
def ask_near(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("straps_closing")


@pytest.mark.parametrize(("down", "is_asked"), [("72 mm", False), ("70 mm", True), ("90 mm", True), ("67 mm", False)])
def test_a_hole_that_nearly_comes_to_its_stud_is_asked_about(ask_near: Ask, down: str, is_asked: bool) -> None:
    """From more than 8 mm off; from more than 12 mm on a check tells it."""
    told = ask_near(DEEP, ("centre, 80 mm from top", f"centre, {down} from top"))
    assert len(told) == is_asked
    if is_asked:
        assert 'folded over, the hole of "back" lies 10 mm (13/32 in) from the stud in "front" (line 18)' in told[0]


def test_one_that_goes_over_in_one_bend_is_not(ask_near: Ask) -> None:
    """What thickness that bend takes is not said."""
    flat = (
        "folds = [\n"
        '  { at = "150 mm from bottom", open = true, angle = 90 },\n'
        '  { at = "190 mm from bottom", open = true, angle = 90 },\n'
        "]",
        'folds = [{ at = "150 mm from bottom", open = true, angle = 180 }]',
    )
    no_wall = (
        '<strip wall: ["40 mm", "solve"]>\n'
        '<seam front: ["front: left bottom right", "wall: left"]>\n'
        '<seam back: ["back: left bottom right from top 150 mm to top 150 mm", "wall: right"]>',
        '<seam s: ["front: left bottom right", "back: left bottom right from top 150 mm to top 150 mm"]>',
    )
    assert ask_near(DEEP, ("centre, 80 mm from top", "centre, 110 mm from top"), flat, no_wall) == []
