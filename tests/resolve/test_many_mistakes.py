"""One spec with many mistakes of reading and resolving: each is told once, and nothing else is."""

from pathlib import Path

import pytest

from docgen.checks import resolve_build
from docgen.problems import SpecRejected, render_problems
from docgen.read import read_spec

SPEC = """\
[spec]
code = "Big Bag"
title = "Bag"
version = "1"
[measures]
width = "200 mn"
height = "width - 50 mm"
edge = "4 mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
[materials.lining]
kind = "cloth"
thickness = "0.5 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4"
inset = "edge"
[stitches.light]
by = "machine"
thread = "Tex 70 bonded nylon"
pitch = "3 mm"
inset = "ege"
[pieces.back]
of = "body"
shape = "rectangle"
size = ["width", "height"]
holes = [{ at = "edge from top, width from left", punch = "4 mm" }]
[pieces.front]
like = "back"
[pieces.lid]
of = "body"
shape = "rectangle"
size = ["120 mm", "80 mm"]
round = { top-lef = "10 mm" }
[pieces.flap]
of = "bdy"
shape = "rectangle"
size = ["120 mm", "80 mm"]
holes = [
  { at = "20 mm from top, 200 mm from left", punch = "4 mm" },
  { at = "20 mm form top, 20 mm from left", punch = "4 mm" },
  { at = "20 mm from top, 20 mm from lft", punch = 4 },
]
notches = [{ on = "bottm" }]
skives = [{ edges = "left right", width = "10 mm", to = "1 mm" }]
[pieces.flap-two]
like = "flap"
mirror = true
[pieces.gusset]
of = "body"
shape = "strip"
size = ["60 mm", "solve"]
[pieces.tongue]
of = "body"
shape = "circle"
[pieces.chicken]
like = "egg"
[pieces.egg]
like = "chicken"
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "100 mm"]
landings = [{ piece = "side", at = "centre, middle" }]
[joins.band]
of = ["side", "side"]
overlap = "10 mm"
stitch = "main"
[seams.one]
stitch = "main"
meet = ["flap: left", "gusset: left"]
[seams.two]
stitch = "mian"
meet = ["flap: left", "side: left"]
[seams.three]
stitch = "light"
meet = ["flp: left", "side: left"]
[straps.belt]
of = "body"
width = "30 mm"
wears = "800 mm"
holes = { count = 4, punch = "4 mm" }
[straps.loop]
of = "body"
width = "-5 mm"
finished = "100 mm"
[straps.tie]
of = "body"
width = "20 mm"
titel = "Tie"
[[steps]]
do = "Sew."
seams = ["one", "four"]
"""

EXPECTED = """\
a.toml:2: error: code "Big Bag" is not a short name
    written: "Big Bag"
    mend:    write "big-bag": small letters, digits and hyphens
a.toml:6: error: "mn" is not a unit known here
    written: "200 mn"
    mend:    did you mean "m"?
a.toml:13: error: kind cannot be "cloth"
    written: "cloth"
    mend:    it takes "leather", "fabric", "foam" or "board"
a.toml:18: error: 4 has no unit
    written: "4"
    mend:    write it like "6 per inch", "3.6 mm" or "French iron 8"
a.toml:24: error: unknown measure "ege"
    written: "ege"
    mend:    did you mean "edge"?
a.toml:36: error: there is no corner "top-lef" on this piece
    written: "10 mm"
    mend:    did you mean "top-left"?
a.toml:38: error: of = "bdy", but there is no [materials.bdy]
    written: "bdy"
    mend:    did you mean "body"?
a.toml:42: error: a hole lies outside the piece "flap"
    written: "20 mm from top, 200 mm from left"
    mend:    measure again; its centre must lie on the leather
a.toml:43: error: cannot tell where "20 mm form top" is
    written: "20 mm form top, 20 mm from left"
    mend:    write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"
a.toml:44: error: there is no edge "lft" on this piece
    written: "20 mm from top, 20 mm from lft"
    mend:    did you mean "left"?
a.toml:44: error: punch has no unit: 4
    written: 4
    mend:    write "4 in" or "4 mm", quotes and all
a.toml:46: error: there is no edge "bottm" on this piece
    written: "bottm"
    mend:    did you mean "bottom"?
a.toml:47: error: the skived band cannot run here: the edges 'left' and 'right' do not touch
    written: "left right"
    mend:    name neighbouring edges, in the order they are sewn
a.toml:55: error: the piece "tongue" has no diameter
    written: [pieces.tongue]
    mend:    add diameter = "3 in"
a.toml:61: error: pieces are like each other in a circle: chicken -> egg -> chicken
    written: "chicken"
    mend:    give one of them a shape of its own
a.toml:62: error: the joins take 2 of "side" for one make, and 1 is cut
    written: [pieces.side]
    mend:    write cut = 2
a.toml:66: error: "side" cannot land on itself
    written: "side"
    mend:    name another piece
a.toml:75: error: stitch = "mian", but there is no [stitches.mian]
    written: "mian"
    mend:    did you mean "main"?
a.toml:79: error: there is no piece, join or strap "flp"
    written: "flp: left"
    mend:    did you mean "flap"?
a.toml:84: error: 4 holes have no middle one
    written: 4
    mend:    use an odd number of holes
a.toml:87: error: this comes to -5 mm
    written: "-5 mm"
    mend:    a size must be more than nothing
a.toml:89: error: the strap "tie" has no length
    written: [straps.tie]
    mend:    add finished = "10 in", or wears = "44 in" with holes
a.toml:92: error: unknown key "titel" in [straps.tie]
    written: "Tie"
    mend:    did you mean "title"?
a.toml:95: error: seams = "four", but there is no [seams.four]
    written: "four"
    mend:    seams has "one", "two" and "three"
24 errors
"""


def test_each_mistake_is_told_once_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_text(SPEC, encoding="utf-8")
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec("a.toml"))
    assert render_problems(caught.value.problems) + "\n" == EXPECTED
