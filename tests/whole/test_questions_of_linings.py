"""What `check` asks of a lining that does not go into what it lines.

A lining inside a wall that closes on itself goes round a smaller ring: shorter by pi times the thickness of both, as the
way round a circle tells. What leather gives, and what is trimmed, is our choice.
"""

from collections.abc import Callable
from math import pi

import pytest

Ask = Callable[..., list[str]]

# A wall of 2.8 mm, lined with 0.8 mm, both 311.2 mm round: 11.3 mm too long. The base has its row 4 mm in from
# its edge, 99.06 mm across.
KEG = """\
<leather butt: 2.8 mm>
<leather thin: 0.8 mm>
[pieces.base]
of = "butt"
shape = "circle"
diameter = "107.06 mm"
[pieces.base-lining]
of = "thin"
shape = "circle"
diameter = "99 mm"
lines = ["base"]
<strip wall of butt: ["130 mm", "323.2 mm"]>
<strip wall-lining of thin: ["130 mm", "323.2 mm"]>
lines = ["wall"]
<join body: ["wall"], 12 mm>
ring = true
<join liner: ["wall-lining"], 12 mm>
ring = true
<seam mouth: ["liner: right", "body: right"]>
<seam foot: ["base: edge", "body: left"]>
ease = "5 mm"
<seam low: ["base-lining: edge", "liner: left"]>
ease = "30 mm"
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("linings")


def test_a_leather_lining_as_long_as_the_wall_round_it_is_asked_about(ask: Ask) -> None:
    (told,) = ask(KEG)
    assert f"{311.2 - pi * 3.6:.1f} mm" in told
    assert told.split(": ", 1)[1].startswith('"liner" is 311.2 mm (12 1/4 in) round, and lies inside "body"')


def test_one_that_is_shorter_by_what_lies_between_is_not(ask: Ask) -> None:
    """6 mm shorter leaves 5.3 mm, less than a fiftieth of its length."""
    eased = (
        '<seam mouth: ["liner: right", "body: right"]>',
        '<seam mouth: ["liner: right", "body: right"]>\nease = "12 mm"',
    )
    end = '<strip wall-lining of thin: ["130 mm", "323.2 mm"]>'
    assert ask(KEG, eased, (end, end.replace("323.2", "317.2"))) == []
    assert len(ask(KEG, eased, (end, end.replace("323.2", "319.2")))) == 1


def test_thin_goods_are_eased_in(ask: Ask) -> None:
    assert ask(KEG, ("<leather thin: 0.8 mm>", "<fabric thin: 0.4 mm>")) == []
    assert ask(KEG, ("<leather butt: 2.8 mm>", "<leather butt: 1 mm>")) == []


def test_a_lining_between_base_and_mouth_is_as_high_as_its_wall(ask: Ask) -> None:
    cloth = ("<leather thin: 0.8 mm>", "<fabric thin: 0.4 mm>")
    end = '<strip wall-lining of thin: ["130 mm", "323.2 mm"]>'
    assert ask(KEG, cloth, (end, end.replace("130 mm", "122 mm"))) == []
    (told,) = ask(KEG, cloth, (end, end.replace("130 mm", "121 mm")))
    assert told.split(": ", 1)[1] == (
        '"wall-lining" is 121 mm (4 3/4 in) high, and "body", which it lines, 130 mm (5 1/8 in)'
    )
    hem = f'{end.replace("130 mm", "130 mm")}\nhems = [{{ edges = "right", turn = "12 mm" }}]'
    (told,) = ask(KEG, cloth, (end, hem))
    assert "118 mm (4 21/32 in) high once its hem is turned" in told
    assert ask(KEG, cloth, (end, hem.replace("130 mm", "142 mm"))) == []


BASE = """\
<leather thin: 0.8 mm>
<rectangle base: ["100 mm", "80 mm"]>
<rectangle base-lining of thin: ["99 mm", "79 mm"]>
lines = ["base"]
<rectangle back: ["100 mm", "80 mm"]>
<seam s: ["base: left", "back: left"]>
"""


def test_leather_larger_than_the_leather_that_it_lines_is_asked_about(ask: Ask) -> None:
    """What is sewn along the edge of that is cut larger and trimmed."""
    size = '["99 mm", "79 mm"]'
    assert ask(BASE, (size, '["101 mm", "80 mm"]')) == []
    (told,) = ask(BASE, (size, '["108 mm", "88 mm"]'))
    assert told.split(": ", 1)[1] == '"base-lining" is 8 mm (5/16 in) larger than "base", which it lines'
    sewn = ('["base: left", "back: left"]', '["base: left", "base-lining: left", "back: left"]\nease = "20 mm"')
    assert ask(BASE, (size, '["108 mm", "88 mm"]'), sewn) == []
    assert len(ask(BASE, (size, '["111 mm", "91 mm"]'), sewn)) == 1


PLATE = """\
<leather thin: 0.8 mm>
[materials.pad]
kind = "foam"
thickness = "4 mm"
<rectangle plate: ["140 mm", "220 mm"]>
landings = [{ piece = "tab", at = "centre, 65 mm from bottom", inside = true }]
holes = [{ at = "centre, 77 mm from bottom", punch = "5 mm", takes = "rivet", through = ["tab", "tab"] }]
<rectangle tab: ["25 mm", "110 mm"]>
folds = [{ at = "middle", around = "ring" }]
holes = [
  { at = "centre, 12 mm from bottom", punch = "5 mm" },
  { at = "centre, 12 mm from top", punch = "5 mm" },
]
[pieces.foam]
like = "plate"
of = "pad"
inset = "8 mm"
<rectangle lining of thin: ["140 mm", "220 mm"]>
lines = ["plate"]
<seam round: ["plate: all", "lining: all"]>
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "5 mm"
<hardware rivet: 1, tubular rivet>
<step "Rivet the tab round the ring to the plate.": pieces = ["tab", "plate"]>
hardware = ["ring", "rivet"]
<step "Glue the foam in, then the lining, and sew.": pieces = ["foam"]>
seams = ["round"]
"""


def test_foam_over_a_tab_with_its_ring_is_asked_about(ask: Ask) -> None:
    (told,) = ask(PLATE)
    assert told.split(": ", 1)[1] == '"foam" lies over "tab", folded round "ring", on "plate"'
    outside = ('at = "centre, 65 mm from bottom", inside = true', 'at = "centre, 65 mm from bottom"')
    assert ask(PLATE, outside) == []
    cut_out = ('inset = "8 mm"', 'inset = "8 mm"\nholes = [{ at = "centre, 85 mm from bottom", punch = "30 mm" }]')
    assert ask(PLATE, cut_out) == []
