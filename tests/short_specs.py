"""Short pieces of specs that tests put together: lengths in mm, stitch and materials by the names of the head."""

PANELS = """\
<back>
skives = [{ edges = "left bottom", width = "10 mm", to = "1.2 mm" }, { edges = "top", width = "3 mm", to = "0.5 mm" }]
<bare front>
"""
BUCKLE = """\
<hardware buckle: 1, buckle>
bar = "3 mm"
<hardware rivet: 9, double-cap rivet>
posts = ["6 mm", "8 mm", "10 mm"]
weight = "2 g"
"""
BELT = """\
[straps.belt]
of = "body"
width = "30 mm"
finished = "400 mm"
ends = [{ shape = "turned", back = "60 mm", around = "buckle", takes = "rivet", number = 2 }, { shape = "square" }]
"""
# One that is sewn along its edges, and what else is said of the end that goes round its buckle.
SEWN_BELT = """\
[straps.belt]
of = "body"
width = "30 mm"
finished = "400 mm"
stitch = "main"
ends = [{ shape = "turned", back = "60 mm", around = "buckle"%s }, { shape = "square" }]
"""
KEEPER = """\
[straps.loop]
of = "body"
width = "12 mm"
keeper-for = "belt"
"""
# What short specs of pictures begin with, and a wall between two panels that is sewn face to face and turned.
SHORT_HEAD = """\
[spec]
code = "short"
title = "Short"
version = "1"
[materials.hide]
kind = "leather"
thickness = "1.5 mm"
[materials.silk]
kind = "fabric"
thickness = "0.3 mm"
width = "1 m"
[materials.board]
kind = "board"
thickness = "1 mm"
[stitches.main]
by = "hand"
thread = "Tex 210 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
"""
TURNED_WALL = """\
[seams.one]
stitch = "main"
meet = ["front: left bottom right", "wall: left"]
turned = true
[seams.two]
stitch = "main"
meet = ["back: left bottom right", "wall: right"]
turned = true
"""
# A bag of two walls round a base, HIGH mm high, sewn inside out: its parts, its side seams and those of its base.
SHOPPER = """
<rectangle base: ["300 mm", "120 mm"]>
round = "36 mm"
<rectangle front: ["solve", "HIGH mm"]>
[pieces.back]
like = "front"
"""
SHOPPER_SIDES = """
<seam left: ["front: left", "back: right"]>
turned = true
<seam right: ["front: right", "back: left"]>
turned = true
"""
SHOPPER_FOOT = """
<seam foot-front: ["front: bottom", "base: left bottom right from top 60 mm to top 60 mm"]>
turned = true
<seam foot-back: ["back: bottom", "base: right top left from bottom 60 mm to bottom 60 mm"]>
turned = true
"""
SNAP_HALVES = "".join(
    f'[hardware.{half}]\nwhat = "snap, {half}"\nkind = "snap"\ncount = 1\n' for half in ("cap", "stud")
)
PATCH = """\
<spec patch: Patch, version 1>

<leather hide: 2 mm>

[pieces.patch]
of = "hide"
shape = "drawing"
file = "patch.svg"
scale = "1 mm"
"""
PATCH_DRAWING = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M0 0H80V60H0Z"/></svg>'


def piece(name: str, width: float, height: float, more: str = "", of: str = "body") -> str:
    return f'[pieces.{name}]\nof = "{of}"\nshape = "rectangle"\nsize = ["{width} mm", "{height} mm"]\n{more}'


def seam(name: str, *partners: str, more: str = "") -> str:
    listed = ", ".join(f'"{partner}"' for partner in partners)
    return f'[seams.{name}]\nstitch = "main"\nmeet = [{listed}]\n{more}'


def step(do: str, **keys: str) -> str:
    """One step; `keys` are lists of names, divided by spaces, in the order in which they are to stand."""
    lines = (
        f"{key} = [{', '.join(f'{chr(34)}{name}{chr(34)}' for name in names.split())}]" for key, names in keys.items()
    )
    return f'[[steps]]\ndo = "{do}"\n' + "".join(f"{line}\n" for line in lines)


SHOPPER_SEWN = step("Sew the sides.", seams="left right") + step("Sew it in.", seams="foot-front foot-back")


def rivet(count: int = 1, name: str = "rivet", what: str = "double-cap rivet") -> str:
    return f'[hardware.{name}]\nwhat = "{what}"\ncount = {count}\nposts = ["6 mm", "8 mm", "10 mm", "12 mm"]\n'


def hole(at: str, takes: str = "rivet", more: str = "") -> str:
    return f'holes = [{{ at = "{at}", punch = "4 mm", takes = "{takes}"{more} }}]\n'
