"""Short specs in which names, places and words agree, for the questions of what does not agree any more."""

SIZES = """\
[measures]
wide = "100 mm"
tall = "84 mm"
<rectangle face: ["wide", "tall"]>
"""
YOKE = """\
[pieces.yoke]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["300 mm", "0"], edge = "arm-right" },
  { at = ["250 mm", "100 mm"], edge = "top-right" },
  { at = ["162 mm", "100 mm"], edge = "cut", curve = ["161 mm", "86 mm", "139 mm", "86 mm"] },
  { at = ["138 mm", "100 mm"], edge = "top-left" },
  { at = ["50 mm", "100 mm"], edge = "arm-left" },
]
slits = [{ start = "50 mm from left, 20 mm from bottom", end = "50 mm from left, 60 mm from bottom" }]
"""
SLIPS = """\
<back>
landings = [
  { piece = "one", at = "0 from left, 80 mm from bottom" },
  { piece = "two", at = "0 from left, 40 mm from bottom" },
  { piece = "three", at = "0 from left, 0 from bottom" },
]
<rectangle one: ["200 mm", "60 mm"]>
dividers = [{ at = "60 mm from left", stitch = "main" }, { at = "60 mm from right", stitch = "main" }]
<rectangle two: ["200 mm", "60 mm"]>
<rectangle three: ["200 mm", "60 mm"]>
<bare front>
<seam foot: ["one: bottom", "back"]>
title = "Foot of the first"
<seam two: ["two: bottom", "back"]>
<seam round: ["front: left bottom right", "back: left bottom right"]>
<step "Sew the first and second on.": seams = ["foot"]>
<step "Glue the third over them.": pieces = ["three"]>
<step "Sew round.": seams = ["round"]>
"""
LATE = SLIPS.replace("Glue the third over them", "Look at it") + '<step "Burnish the third.": pieces = ["three"]>\n'
ROWS = """\
<back>
holes = [
  { at = "60 mm from left, 60 mm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 99 mm from bottom", punch = "4 mm" },
]
[[pieces.back.hole-rows]]
start = "35 mm from left, 30 mm from top"
end = "35 mm from right, 30 mm from top"
count = 4
punch = "6 mm"
<bare front>
holes = [
  { at = "60 mm from left, 6 cm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 9.9 cm from bottom", punch = "4 mm" },
]
[[pieces.front.hole-rows]]
start = "35 mm from left, 30 mm from top"
end = "35 mm from right, 30 mm from top"
count = 4
punch = "6 mm" # of the front
<seam>
[inside]
width = "190 mm"
height = "140 mm"
depth = "12 mm"
[[holds]]
what = "tablet"
size = ["150 mm", "100 mm", "8 mm"]
"""
BUCKLED = """\
<leather butt: 3 mm>
<back>
<strap long of body: 20 mm>
finished = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
<strap chape of body: 20 mm>
finished = "90 mm"
ends = [{ shape = "turned", back = "40 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]
<hardware buckle: 1, buckle>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 1, double-cap rivet>
"""
LINED = """\
<leather thin: 1 mm>
<back>
hems = [{ edges = "top", turn = "10 mm" }]
<rectangle front: ["200 mm", "150 mm"]>
hems = [{ edges = "top", turn = "10 mm" }]
<rectangle in-b of thin: ["200 mm", "140 mm"]>
lines = ["back"]
<rectangle in-f of thin: ["200 mm", "140 mm"]>
lines = ["front"]
<seam hem: ["back: top", "back"]>
title = "Hem of the back"
<seam front-hem: ["front: top", "front"]>
<seam foot: ["front: bottom", "in-f: bottom"]>
<seam round: ["front: left bottom right", "in-f: left bottom right", "in-b: left bottom right", "back: left bottom right"]>
turned = true
<step "Glue the linings in.": pieces = ["in-f", "in-b"]>
<step "Sew.": seams = ["hem", "front-hem", "foot"]>
<step "Sew round, face to face, and turn.": seams = ["round"]>
"""
LINED_LATE = LINED.replace('<step "Glue the linings in.": pieces = ["in-f", "in-b"]>\n', "") + (
    '<step "Fold the linings in.": pieces = ["in-f", "in-b"]>\n'
)
ROLL = """\
<rectangle body: ["300 mm", "200 mm"]>
landings = [{ piece = "pockets", at = "0 from left, 0 from bottom", inside = true }]
<rectangle pockets: ["300 mm", "80 mm"]>
<seam round: ["pockets: left bottom right", "body"]>
<step "Lay the pockets on the inside of the body and sew.": seams = ["round"]>
"""
LOOP = """\
<rectangle back: ["200 mm", "260 mm"]>
folds = [{ at = "60 mm from top" }]
holes = [
  { at = "40 mm from left, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "centre, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "40 mm from right, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "40 mm from left, 105 mm from top", punch = "4 mm" },
  { at = "centre, 105 mm from top", punch = "4 mm" },
  { at = "40 mm from right, 105 mm from top", punch = "4 mm" },
]
<hardware rivet: 3, double-cap rivet>
"""
WALL = """\
<strip half: ["80 mm", "200 mm"]>
[pieces.half-b]
like = "half"
<join wall: ["half", "half-b"], 14 mm>
ring = true
"""
CROSS = """\
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["20 mm", "0"], edge = "foot" },
  { at = ["180 mm", "0"], edge = "right" },
  { at = ["200 mm", "100 mm"], edge = "top" },
  { at = ["0", "100 mm"], edge = "left" },
]
[pieces.back]
like = "front"
<seam sides: ["front: right", "back: left"]>
<seam others: ["front: left", "back: right"]>
<seam top: ["front: top", "back: top"]>
<seam foot: ["front: foot", "back: foot"]>
"""
COVER = """\
<rectangle cover: ["220 mm", "140 mm"]>
folds = [{ at = "centre", open = true }]
<rectangle one: ["70 mm", "140 mm"]>
<rectangle two: ["70 mm", "140 mm"]>
<seam left: ["cover: left", "one: left"]>
<seam right: ["cover: right", "two: right"]>
"""
WELTED = """\
<leather pig: 0.6 mm>
<back>
<bare front>
<strip welt: ["10 mm", "150 mm"]>
<seam side: ["back: left", "welt: left", "front: left"]>
<strap grip of body: 20 mm>
cut = 2
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet" }, { shape = "square" }]
<hardware ring: 2, ring>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 2, double-cap rivet>
"""
TABBED = """\
<back>
holes = [{ at = "30 mm from left, 40 mm from bottom", punch = "4 mm", through = ["tab"] }]
<bare front>
<rectangle tab: ["20 mm", "60 mm"]>
holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["back"] }]
<seam round: ["back: left bottom right", "front: left bottom right"]>
<hardware rivet: 1, double-cap rivet>
<rectangle loop: ["60 mm", "30 mm"]>
folds = [{ at = "centre" }]
<seam loop: ["front: top from left 20 mm to left 50 mm", "loop: left", "loop: right"]>
"""
CLASP = """\
<rectangle cover: ["240 mm", "140 mm"]>
folds = [{ at = "centre", open = true }]
holes = [{ at = "20 mm from right, middle", punch = "4 mm", takes = "snap" }]
landings = [{ strap = "clasp", at = "50 mm from left, middle", leads = "left", over = "30 mm", stitch = "main" }]
<strap clasp of body: 20 mm>
finished = "90 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
punches = [{ at = "centre, 15 mm from end", punch = "4 mm", takes = "snap" }]
<hardware snap: 1, line 20 snap>
"""
FLARED = """\
[pieces.pocket]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["200 mm", "0"], edge = "right" },
  { at = ["180 mm", "100 mm"], edge = "top" },
  { at = ["20 mm", "100 mm"], edge = "left" },
]
<step "Lay it in.": pieces = ["pocket"]>
"""
LINES = """\
<rectangle outer: ["200 mm", "150 mm"]>
<rectangle inner: ["200 mm", "150 mm"]>
landings = [{ piece = "row", at = "0 from left, 0 from bottom" }]
<rectangle row: ["200 mm", "60 mm"]>
dividers = [{ at = "centre", stitch = "main", on = "inner" }]
<seam round: ["inner: left bottom right", "outer: left bottom right"]>
<step "Sew the line of the row.": pieces = ["row", "inner"]>
<step "Sew round.": seams = ["round"]>
"""
CLOTH = """\
[materials.felt]
kind = "fabric"
thickness = "2 mm"
width = "90 cm"
edges = "bevelled, left raw"
<rectangle pad of felt: ["100 mm", "80 mm"]>
cut = 2
<step "Lay the pads in.": pieces = ["pad"]>
"""
HELD = """\
<back>
landings = [
  { strap = "tie", at = "40 mm from left, 30 mm from top", leads = "up", over = "25 mm" },
  { strap = "tie", end = "second", at = "40 mm from right, 30 mm from top", leads = "up", over = "30 mm" },
]
<bare front>
<seam>
<strap tie of body: 20 mm>
finished = "300 mm"
"""
