"""What is asked where one figure or name stands alone: each question by a spec that brings it, and its silent twin.

What a hem turns over lies inside, a handle behind its curve turns the edge back, and 4 stitches an inch are 6.35 mm: plane
geometry. The rest is common practice, no published source.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import HEAD, write_out

from docgen.calls.asked import CheckCall
from docgen.calls.check import check_spec

HEMMED = """\
<rectangle back: ["200 mm", "150 mm"]>
hems = [{ edges = "top", turn = "30 mm" }]
holes = [{ at = "centre, 20 mm from top", punch = "4 mm" }]
<rectangle front: ["200 mm", "120 mm"]>
<seam s: ["front: bottom", "back: bottom"]>
"""
ROW = """\
<back>
hole-rows = [{ start = "20 mm from left, middle", end = "120 mm from right, middle", count = 3, punch = "4 mm" }]
<bare front>
<seam>
"""
DIVIDED = """\
<back>
<front>
<seam>
<rectangle row: ["200 mm", "80 mm"]>
dividers = [
  { at = "40 mm from left", stitch = "main", on = "back" },
  { at = "80 mm from left", stitch = "main", on = "back" },
  { at = "12 mm from left", stitch = "main", on = "back" },
  { at = "160 mm from left", stitch = "main", on = "back" },
]
<seam row: ["row: left bottom right", "back"]>
"""
CURVED = """\
<back>
<front>
<seam>
[pieces.wing]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["150 mm", "0"], edge = "side", curve = ["150 mm", "60 mm", "120 mm", "-60 mm"] },
  { at = ["120 mm", "150 mm"], edge = "head" },
  { at = ["0", "150 mm"], edge = "spine" },
]
"""
FLAP = """\
<back>
<front>
<seam>
<rectangle flap: ["180 mm", "60 mm"]>
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
<seam flap: ["flap: bottom", "back"]>
"""
SLIP = """\
<rectangle back: ["180 mm", "150 mm"]>
landings = [{ piece = "slip", at = "centre, 0 from bottom" }]
<front>
<seam>
<rectangle slip: ["170 mm", "60 mm"]>
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
<seam slip: ["slip: bottom", "back"]>
"""
LINED = """\
<back>
<front>
<seam>
<leather suede: 1 mm>
<rectangle floor of suede: ["60 mm", "60 mm"]>
<rectangle roof of suede: ["60 mm", "60 mm"]>
<rectangle box: ["90 mm", "90 mm"]>
landings = [{ piece = "floor", at = "centre, middle" }]
<rectangle lid: ["90 mm", "90 mm"]>
landings = [{ piece = "roof", at = "centre, middle", inside = true }]
"""
CORD = """\
<back>
<front>
<seam>
[trimmings.cord]
what = "waxed cord"
kind = "cord"
thickness = "3 mm"
length = "99 mm"
"""
INCHES = """\
<back>
<front>
<seam>
<rectangle one: ["50 mm", "20 mm"]>
<rectangle two: ["50 mm", "20 mm"]>
<rectangle three: ["50 mm", "20 mm"]>
<stitch hand: by hand, 0.8 mm waxed polyester, 4 per inch, 4 mm>
<leather thin: 3 oz>
"""
CHANNEL = """\
<strip wall: ["80 mm", "300 mm"]>
hems = [{ edges = "left", turn = "20 mm" }]
<rectangle base: ["300 mm", "90 mm"]>
<seam channel: ["wall: left", "wall"]>
<seam base: ["base: bottom", "wall: left"]>
"""
AMID = """\
<back>
landings = [
  { piece = "large", at = "0 from left, 0 from bottom" },
  { piece = "small", at = "centre, 5 mm from bottom" },
]
<bare front>
<seam>
<rectangle large: ["200 mm", "100 mm"]>
<rectangle small: ["60 mm", "50 mm"]>
<seam large: ["large: left bottom right", "back"]>
<seam small: ["small: left bottom right", "back"]>
"""
PAIRS = """\
<back>
holes = [
  { at = "90 mm from left, middle", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] },
  { at = "90 mm from right, middle", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] },
]
<bare front>
<seam>
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

# A spec after the head, what is asked of it, and the words exchanged after which it is not asked.
CASES = {
    "a hole in what is turned over": (
        HEMMED,
        'a hole of "back" lies 10 mm (13/32 in) beyond the fold of its hem, in what is turned over: it comes to lie inside',
        ("20 mm from top", "40 mm from top"),
    ),
    "a row from the far side": (
        ROW,
        'a row of holes in "back" is measured from both ends, and lies on one half of it',
        ("120 mm from right", "20 mm from right"),
    ),
    "a line out of its order": (
        DIVIDED,
        'the dividing lines of "row" stand in their order but for this one',
        ("12 mm from left", "120 mm from left"),
    ),
    "a handle behind the beginning": (
        CURVED,
        'a handle of this curve of "wing" lies beyond its ends, so that the edge turns back on itself',
        ("-60 mm", "90 mm"),
    ),
    "a flap sewn on by its round edge": (
        FLAP,
        '"flap" is sewn on by its bottom, where its corners are round, and its top is square',
        ("flap: bottom", "flap: top"),
    ),
    "a pocket narrower than its panel sewn on by its round edge": (
        SLIP,
        '"slip" is sewn on by its bottom, where its corners are round, and its top is square',
        ("170 mm", "180 mm"),
    ),
    "one lining outside": (
        LINED,
        '"roof" lies inside "lid", and "floor" outside "box"',
        ('at = "centre, middle" }]', 'at = "centre, middle", inside = true }]'),
    ),
    "a cord that is all ends": (
        CORD,
        '"cord" is 99 mm (3 29/32 in) long, and its ends take 50 mm (1 31/32 in)',
        ("99 mm", "100 mm"),
    ),
    "a stitch by the inch": (
        INCHES,
        '"4 per inch" is a stitch of 6.4 mm (1/4 in), and all lengths are in mm',
        ("4 per inch", "4 mm"),
    ),
    "a base sewn to the hem": (
        CHANNEL,
        'the left of "wall" is turned over and sewn, and sewn in here; its right stays free',
        ('bottom", "wall: left"', 'bottom", "wall: right"'),
    ),
    "a pocket amid another": (
        AMID,
        '"small" lies within "large" on "back", and the seams of both go through "back"',
        ("centre, 5 mm from bottom", "centre, 4 mm from bottom"),
    ),
    "a thickness in ounces": (INCHES, 'a thickness of "3 oz" stands alone among lengths in mm', ("3 oz", "1.2 mm")),
}
Ask = Callable[[str], list[str]]


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """The words of all that is asked of a spec."""
    monkeypatch.chdir(tmp_path)

    def ask(text: str) -> list[str]:
        Path("a.toml").write_text(HEAD + write_out(text), encoding="utf-8")
        return [one.what for one in check_spec(CheckCall(spec="a.toml")).asked]

    return ask


@pytest.mark.parametrize("name", CASES)
def test_a_question_is_asked_once_and_its_twin_is_silent(ask: Ask, name: str) -> None:
    text, what, (old, new) = CASES[name]
    assert text.count(old) == 1
    assert ask(text).count(what) == 1
    assert what not in ask(text.replace(old, new))


def test_a_skive_beside_the_hem_is_asked_about(ask: Ask) -> None:
    beside = HEMMED.replace(
        'punch = "4 mm" }]', 'punch = "4 mm" }]\nskives = [{ edges = "bottom", width = "32 mm", to = "1 mm" }]'
    )
    what = '"back" is skived along bottom, and turned over along top'
    assert what in ask(beside)
    assert what not in ask(beside.replace('edges = "bottom", width', 'edges = "top", width'))


def test_a_second_hole_across_the_fold_answers_for_the_first(ask: Ask) -> None:
    """A rivet that goes through hem and panel has a hole in each."""
    both = HEMMED.replace('punch = "4 mm" }]', 'punch = "4 mm" }, { at = "centre, 40 mm from top", punch = "4 mm" }]')
    assert not [one for one in ask(both) if "turned over" in one]


def test_pairs_of_holes_that_no_post_goes_through_are_asked_about(ask: Ask) -> None:
    what = '"tab" has 2 pairs of holes when folded, and posts go through 1'
    one = PAIRS.replace(
        '  { at = "90 mm from right, middle", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] },\n', ""
    )
    assert what in ask(one)
    assert not [told for told in ask(PAIRS) if "pairs of holes" in told]
