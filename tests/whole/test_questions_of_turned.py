"""What `check` asks of seams of one step of which one is turned and the other not, and of notches that one of two like
panels has alone.

That a line left out leaves such a build is plain from the work.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

LINED = """\
<fabric cloth: 0.4 mm>
<back>
<bare front>
<rectangle lining of cloth: ["200 mm", "150 mm"]>
cut = 2
[seams.outer]
stitch = "main"
meet = ["back: left bottom right", "front: left bottom right"]
turned = true
[seams.inner]
stitch = "main"
meet = ["lining 1: left bottom right", "lining 2: left bottom right"]
turned = true
<step "Sew both round.": seams = ["outer", "inner"]>
"""
NOTCHED = """\
<rectangle front: ["200 mm", "150 mm"]>
notches = [{ on = "bottom" }]
[pieces.back]
like = "front"
marks = false
notches = [{ on = "bottom" }]
<seam s: ["front: left bottom right", "back: left bottom right"]>
"""
OWN = 'marks = false\nnotches = [{ on = "bottom" }]\n'


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("turned")


@pytest.mark.parametrize(("flat", "other"), [("outer", "inner"), ("inner", "outer")])
def test_one_seam_of_two_that_is_not_turned_is_asked_about(ask: Ask, flat: str, other: str) -> None:
    assert ask(LINED) == []
    parts = {"outer": '"back: left bottom right", "front: left bottom right"]\n'}
    parts["inner"] = '"lining 1: left bottom right", "lining 2: left bottom right"]\n'
    (told,) = ask(LINED, (parts[flat] + "turned = true\n", parts[flat]))
    words = f'"{other}" sews its parts face to face, to be turned, and "{flat}" of the same step does not'
    assert told.split(": ", 1)[1] == words


def test_seams_of_two_steps_or_with_fewer_edges_are_not(ask: Ask) -> None:
    flat = ('front: left bottom right"]\nturned = true', 'front: left bottom right"]')
    assert ask(LINED, flat)
    assert ask(LINED, flat, ('["outer", "inner"]', '["outer"]\n[[steps]]\ndo = "Line it."\nseams = ["inner"]')) == []
    assert (
        ask(LINED, flat, ('"back: left bottom right", "front: left bottom right"', '"back: bottom", "front: bottom"'))
        == []
    )


def test_a_notch_that_only_one_of_two_like_panels_has_is_asked_about(ask: Ask) -> None:
    assert ask(NOTCHED) == []
    (told,) = ask(NOTCHED, (OWN, "marks = false\n"))
    assert told == '18: "front" has a notch on bottom, and "back", which is like it and sewn to it by "s", has none'
    # on an edge that is not in the seam, or that another seam has too, it may meet something else
    assert (
        ask(NOTCHED, (OWN, "marks = false\n"), ('notches = [{ on = "bottom" }]\n[', 'notches = [{ on = "top" }]\n['))
        == []
    )
    hinge = NOTCHED + '<rectangle foot: ["200 mm", "50 mm"]>\n<seam t: ["foot: bottom", "front: bottom"]>\n'
    assert ask(hinge, (OWN, "marks = false\n")) == []


# A panel of 200 mm with rows 8 mm in: 184 mm are left between them (plane geometry).
FLAPPED = """\
[stitches.wide]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "8 mm"
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "flap", at = "centre, 20 mm from top" }]
<rectangle front: ["200 mm", "150 mm"]>
<rectangle flap: ["185 mm", "120 mm"]>
folds = [{ at = "25 mm from top", open = true, angle = 90 }]
<seam hang: ["flap: top from left 20 mm to right 20 mm", "back"]>
[seams.round]
stitch = "wide"
meet = ["back: left bottom right", "front: left bottom right"]
turned = true
<step "Sew the flap on.": seams = ["hang"]>
<step "Sew it round and turn it.": seams = ["round"]>
"""


def test_a_flap_wider_than_the_mouth_of_what_is_turned_is_asked_about(ask: Ask) -> None:
    (told,) = ask(FLAPPED)
    assert told.split(": ", 1)[1] == (
        '"flap" is 185 mm (7 9/32 in) wide where it comes out of the mouth at "back", and 184 mm (7 1/4 in) are left '
        "between the rows of its sides once they are turned"
    )
    assert ask(FLAPPED, ('"185 mm", "120 mm"', '"184 mm", "120 mm"')) == []
    # left as it is sewn, the sides stay in one plane with the flap; and one sewn on last is caught by nothing
    assert ask(FLAPPED, ("turned = true\n", "")) == []
    late = FLAPPED.replace('seams = ["hang"]', 'seams = ["x"]').replace('seams = ["round"]', 'seams = ["hang"]')
    assert ask(late.replace('seams = ["x"]', 'seams = ["round"]')) == []
