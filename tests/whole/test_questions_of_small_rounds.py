"""What `check` asks of round corners beside a turned seam, and of caps that are wider than their strap.

The row lies its inset within the edge, and a corner of it is rounded by so much less (plane geometry); a cap stands over
an edge that is nearer than half of it.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

TURNED = """\
<rectangle front: ["200 mm", "150 mm"]>
round = "3.9 mm"
[pieces.back]
like = "front"
<seam round: ["front: left bottom right", "back: left bottom right"]>
turned = true
"""
CAPPED = """\
<rectangle back: ["200 mm", "150 mm"]>
holes = [{ at = "centre, middle", punch = "4 mm", takes = "snap" }]
[straps.s]
of = "body"
width = "15.9 mm"
finished = "200 mm"
punches = [{ at = "centre, 20 mm from end", punch = "4 mm", takes = "snap" }]
<hardware snap: 1, snap, 16 mm cap>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("small_rounds")


def test_a_corner_that_is_rounded_by_less_than_its_turned_seam_lies_in_is_asked_about(ask: Ask) -> None:
    """The seam lies 4 mm in."""
    (told,) = ask(TURNED)
    assert told.startswith("18: the corner bottom-right of ")
    assert '"round" is sewn 4 mm (5/32 in) from the edge' in told
    assert ask(TURNED, ("3.9 mm", "4 mm")) == ask(TURNED, ("turned = true\n", "")) == []
    # of corners that no row goes past nothing is asked
    assert ask(TURNED, ('round = "3.9 mm"', 'round = { top-left = "3.9 mm" }')) == []


def test_a_cap_that_is_wider_than_its_strap_is_asked_about(ask: Ask) -> None:
    (told,) = ask(CAPPED)
    assert '"snap" is 16 mm (5/8 in) across, and "s" leaves 15.9 mm (5/8 in) for it' in told
    assert ask(CAPPED, ("15.9 mm", "16 mm")) == ask(CAPPED, ("16 mm cap", "line 24")) == []
