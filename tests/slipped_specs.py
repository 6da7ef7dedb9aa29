"""Specs in each of which one figure, name or line is made to slip, by what asks about it."""

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
LOOPS = """\
<rectangle back: ["200 mm", "150 mm"]>
holes = [
  { at = "50 mm from left, 100 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] },
  { at = "50 mm from right, 100 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] },
  { at = "50 mm from left, 40 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] },
  { at = "50 mm from right, 40 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] },
]
<bare front>
<rectangle loop: ["25 mm", "85 mm"]>
cut = 2
holes = [
  { at = "centre, 12 mm from top", punch = "4 mm" },
  { at = "centre, 13 mm from bottom", punch = "4 mm" },
]
<hardware rivet: 4, double-cap rivet>
posts = ["6 mm"]
<seam a: ["back: left bottom right", "front: left bottom right"]>
<step "Punch back and loops.": pieces = ["back", "loop"]>
<step "Rivet the two loops to the back.": pieces = ["back", "loop"]>
hardware = ["rivet"]
<step "Sew front and back.": seams = ["a"]>
"""
TAIL = """\
<strap pad of body: 50 mm>
finished = "800 mm"
punches = [
  { at = "centre, 20 mm from start", punch = "9 mm" },
  { at = "centre, 20 mm from end", punch = "5 mm" },
  { at = "centre, 40 mm from end", punch = "5 mm" },
]
<strap tail of body: 30 mm>
finished = "500 mm"
punches = [
  { at = "centre, 20 mm from start", punch = "5 mm" },
  { at = "centre, 40 mm from start", punch = "5 mm" },
  { at = "centre, 30 mm from end", punch = "9 mm" },
  { at = "centre, 80 mm from end", punch = "9 mm" },
  { at = "centre, 130 mm from end", punch = "9 mm" },
]
<hardware post: 2, screw post>
kind = "screw-post"
"""
RINGS = """\
<strap one of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 1 }, { shape = "square" }]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]
<strap two of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 1 }, { shape = "square" }]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]
<hardware ring: 2, ring>
kind = "ring"
inside = "21 mm"
bar = "4 mm"
<hardware rivet: 2, double-cap rivet>
posts = ["6 mm"]
<step "Make one.": straps = ["one"]>
hardware = ["ring", "rivet"]
<step "Make two.": straps = ["two"]>
hardware = ["ring", "rivet"]
"""
POCKET = """\
<fabric linen: 0.5 mm>
<rectangle body: ["300 mm", "300 mm"]>
folds = [{ at = "80 mm from top", open = true, angle = 180 }]
landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom" }]
<rectangle pocket: ["300 mm", "160 mm"]>
<seam pocket: ["pocket: left bottom right", "body"]>
<step "Sew the pocket to the body.": seams = ["pocket"]>
tools = ["contact cement"]
"""
SHEATH = """\
<back>
landings = [{ piece = "loop", at = "centre, 40 mm from bottom" }]
<bare front>
<rectangle welt: ["20 mm", "120 mm"]>
<rectangle loop: ["30 mm", "80 mm"]>
<seam loop: ["loop: bottom", "back"]>
<seam welt: ["welt: left", "front"]>
<seam round: ["back: left bottom right", "front: left bottom right"]>
<step "Sew the loop and the welt on.": seams = ["loop", "welt"]>
tools = ["contact cement"]
<step "Sew front to back.": pieces = ["front"]>
seams = ["round"]
"""
LINED = """\
<fabric linen: 0.5 mm>
<back>
<rectangle front: ["200 mm", "150 mm"]>
[pieces.back-cloth]
of = "linen"
like = "back"
lines = ["back"]
marks = false
[pieces.front-cloth]
of = "linen"
like = "front"
lines = ["front"]
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
COPIES = """\
<back>
<bare front>
<rectangle side: ["60 mm", "150 mm"]>
cut = 2
<seam left: ["back: left", "side 1: left"]>
<seam right: ["back: right", "side 2: right"]>
<seam a: ["front: left", "side 1: right"]>
<seam b: ["front: right", "side 2: left"]>
[[holds]]
what = "A5 notebook"
size = ["148 mm", "210 mm", "10 mm"]
[inside]
width = "220 mm"
height = "160 mm"
depth = "50 mm"
"""
TWIN = """\
<back>
<bare front>
<rectangle gusset: ["60 mm", "150 mm"]>
<rectangle tongue: ["50 mm", "150 mm"]>
<seam side-left: ["back: left", "gusset: left"]>
<seam side-right: ["back: right", "gusset: right"]>
"""
BOTH = """\
<strap sling of body: 20 mm>
finished = "900 mm"
ends = [
  { shape = "turned", back = "40 mm", around = "ring", sewn = "main" },
  { shape = "turned", back = "40 mm", around = "ring", sewn = "main" },
]
<hardware ring: 2, oval ring>
kind = "ring"
inside = "21 mm"
bar = "4 mm"
<hardware hook: 1, snap hook>
kind = "other"
inside = "21 mm"
bar = "4 mm"
"""
FLAP = """\
<back>
holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm", takes = "snap" }]
<rectangle flap: ["180 mm", "120 mm"]>
holes = [{ at = "centre, 20 mm from bottom", punch = "4 mm", takes = "snap" }]
<hardware snap: 1, snap line 20>
kind = "snap"
posts = ["4 mm"]
<seam flap: ["flap: top", "back"]>
<step "Fold the flap's end down and set the snap.": pieces = ["back", "flap"]>
hardware = ["snap"]
<step "Sew the flap to the back.": seams = ["flap"]>
tools = ["contact cement"]
"""
