"""What `check` asks of figures in another unit, and of those that have lost a digit or are measured from another end.

That a slip of one figure leaves such a build is plain from the work; from which figures on it is asked is our choice.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import HEAD, Edit, write_out

from docgen.checks import ask_maker, resolve_variants
from docgen.read import read_spec

Ask = Callable[..., list[str]]

INCHES = """\
<spec bag: Bag, version 1>
[measures]
wide = "8 in"
tall = "6 in"
[materials.body]
title = "goat skin"
kind = "leather"
thickness = "4 oz"
[stitches.main]
by = "hand"
thread = "Tex 300 waxed linen"
pitch = "6 per inch"
inset = "3/16 in"
[pieces.back]
of = "body"
shape = "rectangle"
size = ["wide", "tall"]
round = { bottom-left = "1 in", bottom-right = "1 in" }
holes = [
  { at = "2 in from left, 2 in from top", punch = "4 mm" },
  { at = "2 in from right, 2 in from top", punch = "4 mm" },
]
<bare front>
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
RING = """\
[measures]
inside = "80 mm"
<leather thin: 1 mm>
[pieces.floor]
of = "body"
shape = "circle"
diameter = "inside + 8 mm"
<strip wall: ["90 mm", "solve"]>
<join cup: ["wall"], 12 mm>
ring = true
<seam foot: ["floor: edge", "cup: left"]>
"""
HOOP = """\
<rectangle front: ["240 mm", "130 mm"]>
<strip top: ["72 mm", "240 mm"]>
<strip base: ["72 mm", "solve"]>
<join wall: ["top", "base"], 10 mm>
ring = true
<seam front: ["front: all", "wall: left"]>
"""
SPINE = """\
<rectangle cover: ["330 mm", "232 mm"]>
folds = [
  { at = "155 mm from left", open = true, angle = 90 },
  { at = "175 mm from left", open = true, angle = 90 },
]
<rectangle flap: ["80 mm", "232 mm"]>
<seam left: ["flap: bottom left top", "cover: bottom left top from left 80 mm to left 80 mm"]>
"""
FOLDS = """\
<rectangle body: ["200 mm", "500 mm"]>
folds = [
  { at = "150 mm from bottom", open = true, angle = 90 },
  { at = "180 mm from bottom", open = true, angle = 90 },
  { at = "150 mm from top", open = true, angle = 90 },
  { at = "120 mm from top", open = true, angle = 90 },
]
<rectangle pad: ["40 mm", "40 mm"]>
landings = []
<seam a: ["pad: left bottom right", "body"]>
"""
WELT = """\
<back>
landings = [{ piece = "welt", at = "0 mm from right, 0 mm from top", inside = true }]
<front>
<rectangle welt: ["10 mm", "140 mm"]>
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
KEPT = """\
<leather soft: 1 mm>
<strap belt of body: 30 mm>
finished = "900 mm"
<strap loop of body: 14 mm>
keeper-for = "belt"
layers = 2
overlap = "10 mm"
<strap handle of body: 20 mm>
finished = "450 mm"
<strap left of soft: 20 mm>
finished = "600 mm"
<strap right of body: 20 mm>
finished = "700 mm"
"""
BOX = """\
<rectangle front: ["200 mm", "150 mm"]>
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
<rectangle pocket: ["60 mm", "80 mm"]>
<strip wall: ["60 mm", "solve"]>
<strip pipe: ["16 mm", "480 mm"]>
folds = [{ at = "centre" }]
<stitch turn: by machine, Tex 70 bonded nylon, 3 mm, 8 mm>
<seam pocket: ["pocket: left bottom right", "front"]>
[seams.wall]
stitch = "turn"
meet = ["front: left bottom right", "wall: left"]
turned = true
"""
BAND = """\
[measures]
card = "86 mm"
<back>
landings = [
  { strap = "s", at = "40 mm from right, 60 mm from bottom", leads = "right", over = "30 mm", stitch = "main" },
  { strap = "s", at = "40 mm from right, 84 mm from bottom", leads = "right", over = "30 mm", stitch = "main" },
]
<bare front>
<rectangle flap: ["100 mm", "60 mm"]>
hems = [{ edges = "left", turn = "12 mm" }, { edges = "right", turn = "12 mm" }]
<seam flap: ["flap: top", "back"]>
<strap>
cut = 2
finished = "300 mm"
<seam a: ["back: bottom", "front: bottom"]>
[variants.small]
axis = "size"
measures = { card = "80 mm" }
[variants.large]
axis = "size"
measures = { card = "95 mm" }
"""
TURN = """\
<back>
skives = [{ edges = "left", width = "12 mm", to = "0.8 mm" }]
<bare front>
<strap belt of body: 30 mm>
wears = "850 mm"
holes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }
ends = [{ shape = "turned", back = "60 mm", around = "buckle", sewn = "main" }, { shape = "pointed" }]
<hardware buckle: 1, buckle 30 mm>
inside = "31 mm"
bar = "4 mm"
tongue = "3 mm"
[trimmings.zip]
what = "coil zip"
kind = "zip"
length = "200 mm"
width = "30 mm"
thickness = "0.8 mm"
ready = ["350 mm", "400 mm", "450 mm"]
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
STEPS = """\
<back>
landings = [
  { piece = "high", at = "0 mm from left, 0 mm from bottom" },
  { piece = "middle", at = "0 mm from left, 0 mm from bottom" },
  { piece = "low", at = "0 mm from left, 0 mm from bottom" },
]
<rectangle high: ["90 mm", "120 mm"]>
<rectangle middle: ["90 mm", "100 mm"]>
<rectangle low: ["90 mm", "80 mm"]>
<strip wall: ["40 mm", "490 mm"]>
[[pieces.wall.hole-rows]]
start = "9 mm from left, 40 mm from start"
end = "9 mm from left, 40 mm from end"
count = 6
punch = "4 mm"
<rectangle top: ["40 mm", "490 mm"]>
<seam wall: ["wall: left", "top: left"]>
<seam far: ["wall: right", "top: right"]>
"""
CASES = {
    "one of three that has lost a digit": (
        STEPS,
        ('["90 mm", "100', '["9 mm", "100'),
        "30:",
        "others in its corner",
        ('["90 mm", "100', '["46 mm", "100'),
    ),
    "a row nearer to one end": (
        STEPS,
        ('"9 mm from left, 40 mm from end"', '"9 mm from left, 34 mm from end"'),
        "41:",
        "from its end",
        ('"9 mm from left, 40 mm from end"', '"9 mm from left, 38 mm from end"'),
    ),
    "hardly anything between two rows": (
        STEPS,
        ('["40 mm", "490 mm"]\n[[pieces.wall', '["17.9 mm", "490 mm"]\n[[pieces.wall'),
        "38:",
        "between the rows",
        ('["40 mm", "490 mm"]\n[[pieces.wall', '["18.1 mm", "490 mm"]\n[[pieces.wall'),
    ),
    "a bar too thick": (
        TURN,
        ('bar = "4 mm"', 'bar = "11 mm"'),
        "32:",
        "its bar 11 mm",
        ('bar = "4 mm"', 'bar = "10 mm"'),
    ),
    "a strap that lies fast nearly whole": (
        BAND,
        ('"300 mm"', '"49 mm"'),
        "39:",
        "lies fast over 30 mm",
        ('"300 mm"', '"51 mm"'),
    ),
    "a strap hardly longer than what lies back": (
        TURN,
        (
            'wears = "850 mm"\nholes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }',
            'finished = "120 mm"',
        ),
        "25:",
        "lies back at its ends",
        (
            'wears = "850 mm"\nholes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }',
            'finished = "121 mm"',
        ),
    ),
    "the first length of a list": (
        TURN,
        ('"350 mm"', '"1351 mm"'),
        "40:",
        "in lengths that rise",
        ('"350 mm"', '"1350 mm"'),
    ),
    "a skive to nothing": (TURN, ('to = "0.8', 'to = "0.29'), "18:", "is skived to", ('to = "0.8', 'to = "0.3')),
    "holes in what lies back": (TURN, ('"850 mm"', '"100 mm"'), "25:", "at its first hole", ('"850 mm"', '"111 mm"')),
    "the last length of a list": (
        TURN,
        ('"450 mm"', '"45 mm"'),
        "40:",
        "in lengths that rise",
        ('"450 mm"', '"390 mm"'),
    ),
    "ends of straps out of line": (
        BAND,
        ("40 mm from right, 84 mm", "44 mm from right, 84 mm"),
        "22:",
        "up from each other",
        ("40 mm from right, 84 mm", "40 mm from left, 84 mm"),
    ),
    "corners hardly round": (
        BOX,
        ('"20 mm", bottom-right = "20 mm"', '"2 mm", bottom-right = "2 mm"'),
        "18:",
        "sews a strip round corners of 2 mm",
        ('"20 mm", bottom-right = "20 mm"', '"5 mm", bottom-right = "5 mm"'),
    ),
    "a pocket that has lost a digit": (
        BOX,
        ('["60 mm", "80', '["12 mm", "80'),
        "22:",
        "is 12 mm",
        ('["60 mm", "80', '["18 mm", "80'),
    ),
    "a strip that has lost a digit": (
        BOX,
        ('["60 mm", "solve', '["8.9 mm", "solve'),
        "26:",
        '"wall" is 8.9 mm',
        ('["60 mm", "solve', '["9 mm", "solve'),
    ),
    "piping without its fold": (
        BOX,
        ('folds = [{ at = "centre" }]\n', ""),
        "27:",
        "for piping",
        ("[pieces.pipe]", "[pieces.strap]"),
    ),
    "a turned seam with nothing beyond it": (
        BOX,
        ('inset = "8 mm"', 'inset = "2.9 mm"'),
        "36:",
        "are turned",
        ('inset = "8 mm"', 'inset = "3 mm"'),
    ),
    "places of a strap from opposite edges": (
        BAND,
        ("84 mm from bottom", "84 mm from top"),
        "22:",
        '"back" says 84 mm',
        ("84 mm from bottom", "60 mm from top"),
    ),
    "hems of one piece": (
        BAND,
        ('"right", turn = "12 mm"', '"right", turn = "21 mm"'),
        "31:",
        '"flap" says 21 mm',
        ('"right", turn = "12 mm"', '"right", turn = "12 mm", double = true'),
    ),
    "a strap as wide as it is long": (BAND, ('"300 mm"', '"30 mm"'), "37:", "is 20 mm", ('"300 mm"', '"50 mm"')),
    "a measure called by a thing": (
        BAND,
        ('card = "86 mm"', 'card = "8 mm"'),
        "15:",
        '"card" is 8 mm',
        ('card = "86 mm"', 'card = "54 mm"'),
    ),
    "a size of which nothing is said": (
        BAND,
        ('measures = { card = "80 mm" }\n', ""),
        "43:",
        'other in "small"',
        ("[variants.small]", "[variants.plain]"),
    ),
    "a long stitch in mm among inches": (
        INCHES,
        ('"6 per inch"', '"6 mm"'),
        "15:",
        "4.2 per inch",
        ('"6 per inch"', '"5 mm"'),
    ),
    "one length in mm among inches": (
        INCHES,
        ('["wide", "tall"]', '["wide + 2 mm", "tall"]'),
        "20:",
        "is in mm, and the",
        ('["wide", "tall"]', '["wide + 2 in", "tall"]'),
    ),
    "a leather thicker than its animal": (INCHES, ('"4 oz"', '"4 mm"'), "11:", "and goat mostly", ('"4 oz"', '"5 oz"')),
    "a ring as narrow as it is thick": (
        RING,
        ('"80 mm"', '"8 mm"'),
        "22:",
        "closes to a ring 8 mm",
        ('"80 mm"', '"20 mm"'),
    ),
    "a strip that its laps take up": (
        HOOP,
        ('["72 mm", "240', '["72 mm", "24'),
        "21:",
        "and its laps",
        ('["72 mm", "240', '["72 mm", "44'),
    ),
    "two folds nearer than they bend": (
        SPINE,
        ('"175 mm from', '"160 mm from'),
        "20:",
        "5 mm (3/16 in) apart (line 19)",
        ('"175 mm from', '"162 mm from'),
    ),
    "a cover that bends once": (
        SPINE,
        ('  { at = "155 mm from left", open = true, angle = 90 },\n', ""),
        "14:",
        "does not come down",
        ("angle = 90 },\n]", "angle = 180 },\n]"),
    ),
    "a fold out of its order": (
        FOLDS,
        ('"150 mm from top"', '"90 mm from top"'),
        "21:",
        "the folds of",
        ('"150 mm from top"', '"140 mm from top"'),
    ),
    "a welt that the row misses": (
        WELT,
        ('"10 mm", "140', '"4 mm", "140'),
        "24:",
        "the needle goes past it",
        ('"10 mm", "140', '"5 mm", "140'),
    ),
    "a keeper wider than its strap": (KEPT, ('"14 mm"', '"31 mm"'), "23:", "is 31 mm", ('"14 mm"', '"30 mm"')),
    "a keeper of another leather": (
        KEPT,
        ('[straps.loop]\nof = "body"', '[straps.loop]\nof = "soft"'),
        "22:",
        "the keeper",
        ('"900 mm"', '"950 mm"'),
    ),
    "a handle as long as a sling": (KEPT, ('"450 mm"', '"901 mm"'), "30:", "such handles", ('"450 mm"', '"900 mm"')),
    "straps left and right far apart": (
        KEPT,
        ('"700 mm"', '"200 mm"'),
        "38:",
        '"left" is 600 mm',
        ('"700 mm"', '"201 mm"'),
    ),
}


@pytest.fixture
def ask(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    monkeypatch.chdir(tmp_path)

    def ask(text: str, *edits: Edit) -> list[str]:
        head = "" if text.startswith("<spec") else HEAD
        Path("a.toml").write_text(head + write_out(text, *edits), encoding="utf-8")
        spec = read_spec("a.toml")
        return [f"{one.place.line}: {one.what}" for one in ask_maker(spec, resolve_variants(spec))]

    return ask


@pytest.mark.parametrize("name", CASES)
def test_a_figure_that_has_slipped_is_asked_about(name: str, ask: Ask) -> None:
    text, slip, line, words, twin = CASES[name]
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.startswith(line), told
    assert not [one for one in (*ask(text), *ask(text, twin)) if words in one]


def test_the_measures_of_a_figure_are_named_with_their_lines(ask: Ask) -> None:
    (told,) = [one for one in ask(RING, ('"80 mm"', '"8 mm"')) if "closes to a ring" in one]
    assert told.endswith('; "inside" on line 15')
