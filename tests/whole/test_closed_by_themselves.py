"""Parts that are closed by seams to themselves: boxes of one piece, bags with boxed corners; and what hangs apart.

That the corner of a box or a dart closes along the two edges beside one corner, and that pieces sewn face to face and
turned both look out, is plane geometry and common practice, no published source.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import HEAD, Edit, write_out

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec

BOX = f"""\
{HEAD}[pieces.box]
of = "body"
shape = "outline"
points = [
  {{ at = ["40 mm", "0"], edge = "south" }},
  {{ at = ["140 mm", "0"], edge = "south-east" }},
  {{ at = ["140 mm", "40 mm"], edge = "east-south" }},
  {{ at = ["180 mm", "40 mm"], edge = "east" }},
  {{ at = ["180 mm", "140 mm"], edge = "north" }},
  {{ at = ["40 mm", "140 mm"], edge = "west" }},
]
folds = [
  {{ at = "40 mm from bottom", open = true, angle = 90 }},
  {{ at = "40 mm from right", open = true, angle = 90 }},
]
<seam corner: ["box: south-east", "box: east-south"]>
"""
BOXED = f"""\
{HEAD}<leather calf: 1.2 mm>
[pieces.front]
of = "calf"
shape = "outline"
points = [
  {{ at = ["60 mm", "0"], edge = "foot" }},
  {{ at = ["240 mm", "0"], edge = "up-right" }},
  {{ at = ["240 mm", "60 mm"], edge = "out-right" }},
  {{ at = ["300 mm", "60 mm"], edge = "right" }},
  {{ at = ["300 mm", "300 mm"], edge = "mouth" }},
  {{ at = ["0", "300 mm"], edge = "left" }},
  {{ at = ["0", "60 mm"], edge = "out-left" }},
  {{ at = ["60 mm", "60 mm"], edge = "up-left" }},
]
holes = [{{ at = "centre, 40 mm from top", punch = "4 mm" }}]
[pieces.back]
like = "front"
<seam left: ["front: left", "back: left"]>
turned = true
<seam right: ["front: right", "back: right"]>
turned = true
<seam foot: ["front: foot", "back: foot"]>
turned = true
<seam front-left: ["front: out-left", "front: up-left"]>
turned = true
<seam back-left: ["back: out-left", "back: up-left"]>
turned = true
<seam front-right: ["front: out-right", "front: up-right"]>
turned = true
<seam back-right: ["back: out-right", "back: up-right"]>
turned = true
"""
ONE_BODY = f"""\
{HEAD}[pieces.tote]
of = "body"
shape = "outline"
points = [
  {{ at = ["0", "0"], edge = "mouth-front" }},
  {{ at = ["300 mm", "0"], edge = "front-right" }},
  {{ at = ["300 mm", "250 mm"], edge = "in-right" }},
  {{ at = ["250 mm", "250 mm"], edge = "base-right" }},
  {{ at = ["250 mm", "350 mm"], edge = "out-right" }},
  {{ at = ["300 mm", "350 mm"], edge = "back-right" }},
  {{ at = ["300 mm", "600 mm"], edge = "mouth-back" }},
  {{ at = ["0", "600 mm"], edge = "back-left" }},
  {{ at = ["0", "350 mm"], edge = "out-left" }},
  {{ at = ["50 mm", "350 mm"], edge = "base-left" }},
  {{ at = ["50 mm", "250 mm"], edge = "in-left" }},
  {{ at = ["0", "250 mm"], edge = "front-left" }},
]
folds = [
  {{ at = "250 mm from bottom", open = true, angle = 90 }},
  {{ at = "350 mm from bottom", open = true, angle = 90 }},
]
<seam left: ["tote: front-left", "tote: back-left"]>
turned = true
<seam near: ["tote: base-left from in-left to middle", "tote: in-left"]>
turned = true
<seam far: ["tote: base-left from middle to out-left", "tote: out-left"]>
turned = true
"""
LOOSE = """\
<rectangle lid: ["60 mm", "60 mm"]>
landings = [{ piece = "roof", at = "centre, middle", inside = true }]
<rectangle roof: ["40 mm", "40 mm"]>
<rectangle plate: ["60 mm", "60 mm"]>
holes = [
  { at = "20 mm from left, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] },
  { at = "20 mm from right, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] },
]
<rectangle tab: ["40 mm", "60 mm"]>
folds = [{ at = "middle" }]
holes = [
  { at = "10 mm from left, 10 mm from bottom", punch = "4 mm" },
  { at = "10 mm from right, 10 mm from bottom", punch = "4 mm" },
  { at = "10 mm from left, 10 mm from top", punch = "4 mm" },
  { at = "10 mm from right, 10 mm from top", punch = "4 mm" },
]
<hardware rivet: 2, double-cap rivet>
"""
APART = 'the edges of "box" and "box" do not come together in the seam "corner"'
FACES = "which side of"

Told = Callable[..., list[str]]


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Told:
    """The words of all that is told and asked of a spec."""
    monkeypatch.chdir(tmp_path)

    def tell(text: str, *edits: Edit) -> list[str]:
        Path("a.toml").write_text(write_out(text, *edits), encoding="utf-8")
        found = check_spec(CheckCall(spec="a.toml"))
        return [*(one.what for one in found.cautions), *(one.what for one in found.asked)]

    return tell


def _saying(words: str, told: list[str]) -> list[str]:
    return [one for one in told if words in one]


def test_the_corner_of_a_box_closes_along_both_edges_beside_it(told: Told) -> None:
    assert not _saying("do not come together", told(BOX))


def test_edges_of_a_box_that_share_no_corner_are_told(told: Told) -> None:
    changed = told(BOX, ('["box: south-east", "box: east-south"]', '["box: south", "box: east"]'))
    assert _saying(APART, changed)


def test_a_bag_with_boxed_corners_is_right_as_both_panels_look_out(told: Told) -> None:
    found = told(BOXED)
    assert not _saying("do not come together", found)
    assert not _saying(FACES, found)


def test_a_body_of_one_piece_with_its_corners_cut_out_closes_at_its_base(told: Told) -> None:
    """Each half of an end of the base takes what is cut out beside it, and the sides close above: all by hand."""
    assert not _saying("do not come together", told(ONE_BODY))


def test_half_an_end_that_begins_away_from_its_corner_is_told(told: Told) -> None:
    """The other half of it: 50 mm of the base lie between."""
    swapped = told(
        ONE_BODY,
        ("base-left from in-left to middle", "base-left from middle to out-left.."),
        ('base-left from middle to out-left"', 'base-left from in-left to middle"'),
        ("out-left..", "out-left"),
    )
    assert _saying('in the seam "near"', _saying("do not come together", swapped))


def test_panels_that_are_not_turned_are_asked_about(told: Told) -> None:
    """Sewn flesh to grain they would both look one way."""
    assert _saying(FACES, told(BOXED.replace("turned = true\n", "")))


def test_a_hole_to_one_side_tells_the_front_from_the_back(told: Told) -> None:
    """Then the panel is not the same turned over."""
    assert _saying(FACES, told(BOXED, ("centre, 40 mm from top", "40 mm from left, 40 mm from top")))


def test_what_lies_on_a_loose_part_is_not_asked_about(told: Told) -> None:
    found = told(f"{HEAD}<back>\n<front>\n<seam>\n{LOOSE}")
    assert _saying("nothing joins", found)
    assert not _saying("nothing says where", found)


def test_a_part_whose_holes_are_nowhere_named_is_told_once_as_loose(told: Told) -> None:
    without = LOOSE.replace(', through = ["tab", "tab"]', "")
    found = told(f"{HEAD}<back>\n<front>\n<seam>\n{without}")
    assert _saying('nothing holds "tab"', found)
    assert not _saying('nothing says where "tab" lies', found)


def test_a_notch_is_measured_between_the_folds_of_hems(told: Told) -> None:
    """The strip goes up to the fold of the mouth, 30 mm below the cut edge: its middle is that of the foot."""
    bag = """\
<rectangle back: ["200 mm", "180 mm"]>
notches = [{ on = "bottom" }]
hems = [{ edges = "top", turn = "30 mm" }]
<strip wall: ["60 mm", "solve"]>
notches = [{ on = "left" }]
<seam s: ["back: left bottom right", "wall: left"]>
"""
    assert not _saying("notches", told(f"{HEAD}{bag}"))
    far = _saying(
        "notches",
        told(f"{HEAD}{bag}", ('notches = [{ on = "left" }]', 'notches = [{ on = "left", at = "200 mm from start" }]')),
    )
    assert far == [
        'in the seam "s" the notches of back left bottom right and wall left lie 42 mm (1 21/32 in) apart: '
        "242 mm (9 17/32 in) and 200 mm (7 7/8 in) from where it begins"
    ]


def test_a_part_sewn_to_itself_all_round_is_told_as_that(told: Told) -> None:
    found = told(f'{HEAD}<back>\n<front>\ncut = 2\n<seam s: ["front: all", "front: all"]>\n')
    assert _saying('"back"', found)
