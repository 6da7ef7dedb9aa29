"""What `check` asks of what closes, is folded or lies in a corner: asked once, and silence where all is as usual.

That a slip of one word leaves such a build is plain from the work.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

FLAP = """\
<hardware snap: 1, snap, line 24>
<back>
<bare front>
holes = [{ at = "centre, 40 mm from top", punch = "4 mm", takes = "snap" }]
<rectangle flap: ["200 mm", "100 mm"]>
holes = [{ at = "centre, 20 mm from bottom", punch = "4 mm", takes = "snap" }]
<seam sides: ["back: left bottom right", "front: left bottom right"]>
<seam flap: ["flap: top", "back: top"]>
"""
LOOP = """\
<back>
landings = [{ piece = "loop", at = "centre, middle" }]
<bare front>
<rectangle loop: ["50 mm", "25 mm"]>
folds = [{ at = "centre" }]
<seam loop: ["loop: left", "back"]>
<seam>
"""
CORNER = """\
<back>
landings = [{ piece = "sleeve", at = "0 from left, 0 from bottom" }]
<bare front>
<rectangle sleeve: ["60 mm", "150 mm"]>
round = { bottom-left = "4 mm" }
<seam s: ["back: left bottom right", "front: left bottom right"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("closing")


def test_a_snap_near_the_edge_by_which_its_flap_is_sewn_is_asked_about(ask: Ask) -> None:
    assert ask(FLAP) == []
    assert ask(FLAP, ("20 mm from bottom", "50 mm from bottom")) == []
    (told,) = ask(FLAP, ("20 mm from bottom", "51 mm from bottom"))
    assert 'the snap of "flap" is 49 mm (1 15/16 in) from its top, by which it is sewn, and 51 mm' in told


def test_a_loop_that_is_sewn_across_its_fold_is_asked_about(ask: Ask) -> None:
    assert ask(LOOP) == []
    (told,) = ask(LOOP, ("loop: left", "loop: bottom"))
    assert told.endswith('"loop" is folded, and sewn by its bottom alone, across the fold')
    assert (
        ask(
            LOOP,
            ("loop: left", "loop: bottom"),
            ("folds = ", 'note = "flat"\nfolds = '),
            ('"centre" }]', '"centre", open = true }]'),
        )
        == []
    )


def test_a_round_corner_in_a_square_one_is_asked_about(ask: Ask) -> None:
    (told,) = ask(CORNER)
    assert told == '14: "sleeve" has a round corner where it lies in a square one of "back"'
    assert ask(CORNER, ("0 from left", "2 mm from left")) == []
    assert ask(CORNER, ("<back>\n", '<back>\nround = { bottom-left = "4 mm" }\n')) == []


HALF = """\
<hardware snap: 1, snap, line 24>
<rectangle front: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 40 mm from top", punch = "4 mm", takes = "snap" }]
[straps.tongue]
of = "body"
width = "20 mm"
finished = "200 mm"
punches = [{ at = "centre, 15 mm from end", punch = "4 mm" }]
"""


def test_a_snap_of_which_one_half_has_a_hole_is_asked_about(ask: Ask) -> None:
    assert ask(HALF, ('punch = "4 mm" }]\n', 'punch = "4 mm", takes = "snap" }]\n')) == []
    (told,) = ask(HALF)
    assert told.endswith('"front" takes one half of "snap", and nothing says where the other is set')


ONE_HALF = FLAP.replace("40 mm from top", "100 mm from top")


def test_a_snap_of_which_nothing_takes_the_other_half_is_told_as_that_alone(ask: Ask) -> None:
    """Beside it nothing is asked of how near to its edge the half that is there lies: the other one is lost."""
    assert len(ask(ONE_HALF)) == 1
    (told,) = ask(
        ONE_HALF, ('<rectangle flap: ["200 mm", "100 mm"]>\nholes', '<rectangle flap: ["200 mm", "100 mm"]>\n# ')
    )
    assert (
        told
        == '24: "front" has a hole for one half of "snap", and no other part has one for the half that closes on it'
    )


LIDDED = """\
<rectangle front: ["200 mm", "110 mm"]>
<rectangle back: ["200 mm", "280 mm"]>
folds = [
  { at = "114 mm from bottom", open = true, angle = 90 },
  { at = "196 mm from bottom", open = true, angle = 90 },
]
<strip wall: ["88 mm", "solve"]>
<seam fore: ["front: left bottom right", "wall: left"]>
<seam aft: ["back: left bottom right from bottom 110 mm to bottom 110 mm", "wall: right"]>
"""


def test_a_lid_that_bends_nearer_than_its_wall_is_wide_is_asked_about(ask: Ask) -> None:
    def told(*edits: tuple[str, str]) -> list[str]:
        return [one for one in ask(LIDDED, *edits) if "between its seams" in one]

    assert told() == told(('"88 mm"', '"98 mm"')) == told(('"88 mm"', '"60 mm"')) == []
    (near,) = told(('"88 mm"', '"101 mm"'))
    assert 'two folds of "back" lie 82 mm' in near
    assert told(('"88 mm"', '"45 mm"'))
