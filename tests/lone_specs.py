"""Short specs in which all of a kind agree, for tests of what is asked where one of them does not."""

PLATE = """\
<rectangle plate: ["200 mm", "100 mm"]>
folds = [
  { at = "20 mm from left", open = true, angle = 90 },
  { at = "20 mm from right", open = true, angle = 90 },
  { at = "20 mm from top", open = true, angle = 90 },
  { at = "20 mm from bottom", open = true, angle = 90 },
]
holes = [
  { at = "30 mm from left, 30 mm from bottom", punch = "4 mm" },
  { at = "30 mm from right, 30 mm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 30 mm from bottom", punch = "4 mm" },
  { at = "60 mm from right, 30 mm from bottom", punch = "4 mm" },
  { at = "30 mm from left, 70 mm from bottom", punch = "4 mm" },
  { at = "30 mm from right, 70 mm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 70 mm from bottom", punch = "4 mm" },
  { at = "60 mm from right, 70 mm from bottom", punch = "4 mm" },
]
"""
CROSS = """\
[pieces.cross]
of = "body"
shape = "outline"
points = [
  { at = ["40 mm", "0 mm"] }, { at = ["160 mm", "0 mm"] }, { at = ["160 mm", "40 mm"] }, { at = ["200 mm", "40 mm"] },
  { at = ["200 mm", "110 mm"] },
  { at = ["160 mm", "110 mm"] }, { at = ["160 mm", "150 mm"] }, { at = ["40 mm", "150 mm"] }, { at = ["40 mm", "110 mm"] },
  { at = ["0 mm", "110 mm"] },
  { at = ["0 mm", "40 mm"], edge = "left-front" },
  { at = ["40 mm", "40 mm"], edge = "front-left" },
]
"""
TAB = """\
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ strap = "tab", at = "centre, 40 mm from top", over = "40 mm", stitch = "main" }]
<strap tab of body: 30 mm>
finished = "145 mm"
punches = [
  { at = "centre, 15 mm from end", punch = "4 mm", takes = "cap" },
  { at = "centre, 55 mm from start", punch = "4 mm" },
]
<hardware cap: 1, snap cap>
kind = "snap"
"""
CORNERS = """\
<rectangle body: ["300 mm", "200 mm"]>
holes = [
  { at = "30 mm from left, 30 mm from bottom", punch = "4 mm", takes = "rivet", through = ["corner"] },
  { at = "30 mm from right, 30 mm from bottom", punch = "4 mm", takes = "rivet", through = ["corner"] },
]
<rectangle corner: ["60 mm", "60 mm"]>
cut = 2
holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]
<hardware rivet: 2, double-cap rivet>
posts = ["6 mm"]
"""
HANDLES = """\
<rectangle front: ["300 mm", "250 mm"]>
landings = [
  { strap = "handle", at = "70 mm left of centre, 60 mm from top", leads = "up", over = "50 mm", stitch = "main" },
  { strap = "handle", end = "second", at = "70 mm right of centre, 60 mm from top", leads = "up", over = "50 mm" },
]
[pieces.back]
like = "front"
<strap handle of body: 25 mm>
finished = "500 mm"
stitch = "main"
cut = 2
"""
CLOTH = """\
<fabric linen: 0.5 mm>
<back>
<front>
<stitch hem: by machine, Tex 70 bonded nylon, 3 mm, 8 mm>
<rectangle pocket of linen: ["150 mm", "120 mm"]>
hems = [{ edges = "top", turn = "15 mm" }, { edges = "right", turn = "10 mm" }]
<seam s: ["back: left", "front: left"]>
[seams.pocket-hem]
stitch = "hem"
meet = ["pocket: top", "pocket"]
"""
POCKET = """\
<rectangle back: ["200 mm", "200 mm"]>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<rectangle pocket: ["120 mm", "100 mm"]>
<seam pocket: ["pocket: left bottom right", "back"]>
"""
FOAM = """\
<rectangle divider: ["120 mm", "100 mm"]>
cut = 2
[materials.foam]
kind = "foam"
thickness = "3 mm"
<rectangle divider-foam of foam: ["100 mm", "80 mm"]>
cut = 2
lines = ["divider"]
"""
PADS = """\
<back>
<front>
<fabric linen: 0.5 mm>
<rectangle lining of linen: ["200 mm", "150 mm"]>
cut = 2
lines = ["back", "front"]
"""
ORDER = """\
<fabric linen: 0.5 mm>
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ strap = "bar", at = "centre, 60 mm from top", over = "30 mm", stitch = "main" }]
<rectangle back: ["200 mm", "150 mm"]>
[pieces.front-linen]
of = "linen"
like = "front"
lines = ["front"]
<strap bar of body: 25 mm>
finished = "120 mm"
<seam mouth: ["front: top", "front-linen: top"]>
<seam round: ["front: left bottom right", "front-linen: left bottom right", "back: left bottom right"]>
<step "Punch front and back.": pieces = ["front", "back"]>
<step "Sew the bar on the front.": straps = ["bar"]>
pieces = ["front"]
<step "Lay in the linen and sew the mouth.": seams = ["mouth"]>
tools = ["contact cement"]
<step "Sew round.": seams = ["round"]>
"""
BARED = """\
<rectangle tray: ["100 mm", "80 mm"]>
[pieces.tray-lining]
like = "tray"
<rectangle lip: ["100 mm", "24 mm"]>
<rectangle far: ["100 mm", "24 mm"]>
<seam rim: ["tray: left", "tray-lining: left"]>
<seam lip: ["lip: bottom", "tray: bottom"]>
"""
TOPS = """\
<back>
<front>
<rectangle one: ["200 mm", "20 mm"]>
<rectangle two: ["200 mm", "20 mm"]>
<seam a: ["back: top", "one: bottom"]>
<seam b: ["front: top", "two: bottom"]>
<seam s: ["back: bottom", "front: bottom"]>
"""
PURSE = """\
<rectangle purse: ["90 mm", "240 mm"]>
folds = [{ at = "70 mm from bottom", open = true, angle = 180 }, { at = "165 mm from bottom", open = true, angle = 180 }]
holes = [
  { at = "12 mm from top, centre", punch = "3 mm", takes = "cap" },
  { at = "38 mm from bottom, centre", punch = "3 mm", takes = "stud" },
]
<hardware cap: 1, snap cap>
kind = "snap"
<hardware stud: 1, snap stud>
kind = "snap"
"""
THICK = """\
<leather sole: 4 mm>
<rectangle back: ["200 mm", "200 mm"]>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<rectangle pocket: ["120 mm", "100 mm"]>
<seam pocket: ["pocket: left bottom right", "back"]>
"""
HEMMED = """\
<rectangle back: ["200 mm", "200 mm"]>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<rectangle pocket: ["120 mm", "100 mm"]>
hems = [{ edges = "top", turn = "12 mm" }]
<seam pocket: ["pocket: left bottom right", "back"]>
<seam hem: ["pocket: top", "pocket"]>
"""
WORDS = """\
<back>
<front>
<seam s: ["back: left", "front: left"]>
<strap collar of body: 30 mm>
finished = "400 mm"
punches = [
  { at = "centre, 120 mm from start", punch = "3 mm", takes = "pin" },
  { at = "centre, 180 mm from start", punch = "3 mm", takes = "pin" },
]
<strap loop of body: 14 mm>
finished = "80 mm"
<rectangle tab: ["60 mm", "14 mm"]>
folds = [{ at = "centre" }]
<seam t: ["tab: left", "tab: right"]>
<hardware pin: 2, pin rivet>
kind = "rivet"
<step "Cut the collar and set its pins.": straps = ["collar"]>
hardware = ["pin"]
<step "Fold the tab and sew it.": pieces = ["tab"]>
seams = ["t"]
"""
SUMS = """\
[measures]
lap = "30 mm"
<rectangle flap: ["200 mm", "lap + 25 mm + 100 mm"]>
folds = [{ at = "lap + 25 mm from top", open = true, angle = 90 }]
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "flap", at = "centre, lap + 25 mm from top" }]
<seam s: ["flap: top", "back"]>
"""
ZIPPED = """\
<rectangle front: ["200 mm", "150 mm"]>
laid = [{ goods = "zip", at = "45 mm from top", stitch = "main", window = "12 mm", clear = "25 mm" }]
landings = [{ strap = "tab", at = "60 mm from left, 60 mm from bottom", leads = "left", over = "30 mm", stitch = "main" }]
<rectangle back: ["200 mm", "150 mm"]>
<strap tab of body: 20 mm>
finished = "90 mm"
<seam s: ["back: bottom left", "front: bottom left"]>
<zip: zip, 30 mm, 1 mm>
[inside]
width = "180 mm"
height = "130 mm"
depth = "4 mm"
"""
RIVETED = """\
<rectangle one: ["200 mm", "150 mm"]>
<rectangle far: ["200 mm", "150 mm"]>
[pieces.two]
like = "one"
holes = [{ at = "centre, 40 mm from top", punch = "4 mm", takes = "rivet", through = ["tab"] }]
<strap tab of body: 20 mm>
finished = "90 mm"
punches = [{ at = "centre, 12 mm from start", punch = "4 mm" }]
<seam round: ["one: left bottom", "far: left bottom", "two: left bottom"]>
<hardware rivet: 1, double-cap rivet>
posts = ["6 mm"]
"""
LINER = """\
<rectangle lining: ["200 mm", "200 mm"]>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom", inside = false }]
<rectangle pocket: ["120 mm", "100 mm"]>
<seam pocket: ["pocket: left bottom right", "lining"]>
"""
CORNERED = """\
<rectangle cover: ["200 mm", "150 mm"]>
round = "25 mm"
[pieces.back]
like = "cover"
<seam a: ["cover: left bottom right", "zip: left"]>
<seam b: ["back: left bottom right", "zip: right"]>
<zip: zip, 30 mm, 1 mm>
"""
