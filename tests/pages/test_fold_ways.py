"""Which side of a fold lies inside, where edges meet at a corner, which end of a joint lies over which: what follows from a
spec by hand. That flesh lies inside of a fold unless it is said otherwise, and that walls folded up through the corner of a
notch meet edge to edge, is plain geometry; how a loop is folded is common practice, no published source."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from demos import demo_build

from docgen.assemble import Assembled, Copy, Placed, TakenApart, inner, pile_joints, pile_post, pile_seam, tell_sections
from docgen.assemble.space.vectors import minus
from docgen.checks import resolve_build
from docgen.checks.questions import ask_maker
from docgen.pages.pattern.template_label import fold_notes
from docgen.pages.pictures.stacks import list_stacks
from docgen.pages.work.acts import tell
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import by_name

HEAD = """
[spec]
code = "short"
title = "Short"
version = "1"
[materials.hide]
kind = "leather"
thickness = "2 mm"
[stitches.main]
by = "hand"
thread = "Tex 210 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
"""
# A pouch on a gusset, whose back goes on over a belt, and is folded and riveted behind.
POUCH = """
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["100 mm", "240 mm"]
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
folds = [{ at = "60 mm from top" }]
holes = [
  { at = "20 mm from left, 10 mm from top", punch = "4 mm" },
  { at = "20 mm from left, 110 mm from top", punch = "4 mm", takes = "rivet" },
]
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["100 mm", "110 mm"]
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
[pieces.gusset]
of = "hide"
shape = "strip"
size = ["40 mm", "solve"]
[seams.front]
stitch = "main"
meet = ["front: left bottom right", "gusset: left"]
[seams.back]
stitch = "main"
meet = ["back: left bottom right from bottom 110 mm to bottom 110 mm", "gusset: right"]
[hardware.rivet]
what = "double-cap rivet"
count = 1
posts = ["6 mm"]
[[steps]]
do = "Sew the gusset to the front, then to the back."
seams = ["front", "back"]
[[steps]]
do = "Fold the back over and rivet it."
pieces = ["back"]
hardware = ["rivet"]
"""
BACKWARD = POUCH.replace("from top" + '" }]\nholes', 'from top", inside = "grain" }]\nholes')
FORWARD = POUCH.replace("from top" + '" }]\nholes', 'from top", inside = "flesh" }]\nholes')
FLAT = """
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["100 mm", "200 mm"]
folds = [{ at = "50 mm from top" }]
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["100 mm", "80 mm"]
[seams.front]
stitch = "main"
meet = ["front: left bottom right", "back: left bottom right from bottom 80 mm to bottom 80 mm"]
"""


def cross(fold_mm: float) -> str:
    """A tray in one piece with walls 40 mm high, folded so far from its cut corners."""
    at = f"{40 - fold_mm} mm"
    return f"""
[pieces.box]
of = "hide"
shape = "outline"
points = [
  {{ at = ["40 mm", "0"], edge = "south" }}, {{ at = ["140 mm", "0"], edge = "south-east" }},
  {{ at = ["140 mm", "40 mm"], edge = "east-south" }}, {{ at = ["180 mm", "40 mm"], edge = "east" }},
  {{ at = ["180 mm", "140 mm"], edge = "north" }}, {{ at = ["40 mm", "140 mm"], edge = "west" }},
]
folds = [
  {{ at = "{at} from bottom", open = true, angle = 90 }}, {{ at = "{at} from right", open = true, angle = 90 }},
]
[seams.corner]
stitch = "main"
meet = ["box: south-east", "box: east-south"]
"""


# Folded in the middle, and sewn to itself by both halves of its left edge.
SLEEVE = """
[pieces.sleeve]
of = "hide"
shape = "rectangle"
size = ["100 mm", "140 mm"]
folds = [{ at = "70 mm from bottom" }]
[seams.side]
stitch = "main"
meet = ["sleeve: left from bottom to bottom 70 mm", "sleeve: left from bottom 70 mm to bottom 140 mm"]
"""
GUSSET = """
[pieces.side]
of = "hide"
cut = 2
shape = "strip"
size = ["40 mm", "100 mm"]
[pieces.base]
of = "hide"
shape = "strip"
size = ["40 mm", "80 mm"]
[joins.gusset]
of = ["side", "base", "side"]
overlap = "12 mm"
stitch = "main"
"""


@cache
def asked(text: str) -> tuple[Assembled, tuple[int, ...]]:
    """The build of a spec, and the lines of the folds that its maker is asked about."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "short.toml")
        path.write_text(HEAD + text, encoding="utf-8")
        spec = read_spec(path)
        build = resolve_build(spec)
        return build, tuple(q.place.line for q in ask_maker(spec, [build]) if "inside its fold" in q.what)


def built(text: str) -> Assembled:
    return asked(text)[0]


def fold_line(text: str) -> int:
    return next(number for number, line in enumerate((HEAD + text).splitlines(), 1) if line.startswith("folds"))


def said(text: str) -> Iterator[str]:
    for step in plan_work(built(text)).steps:
        yield from map(tell, step.acts)


def layers_over(text: str) -> float:
    """By how many layers what is folded over of the back lies over the outer side of the rest."""
    back = TakenApart(built(text)).lifted.part(Copy("back"))
    assert isinstance(back, Placed)
    low, top = sorted(range(2), key=lambda k: back.surface.bands[k].end_mm - back.surface.bands[k].begin_mm)[::-1]
    return inner(minus(back.lifts[top], back.lifts[low]), back.out(low))


def grains(text: str) -> list[tuple[str, str]]:
    """The layers under the rivet of a pouch from its outside on."""
    build = built(text)
    pile = pile_post(build, build.assembly.fastened[0])
    return [(ply.part, ply.grain) for ply in pile or ()]


def test_a_loop_folded_backward_lies_on_the_outer_side_of_its_back() -> None:
    """Between grain and grain there is the belt: what is folded over looks to the pouch with its grain side."""
    assert layers_over(BACKWARD) > 0
    assert grains(BACKWARD) == [("back", "down"), ("back", "up")]
    assert [line for line in said(BACKWARD) if "fold" in line and line.endswith("from the top, grain side in.")]


def test_folded_forward_it_lies_on_the_inner_side() -> None:
    assert layers_over(FORWARD) < 0
    assert grains(FORWARD) == [("back", "up"), ("back", "down")]
    assert any("flesh side in" in line for line in said(FORWARD))


def test_a_fold_that_may_go_either_way_is_asked_and_neither_drawn_nor_told() -> None:
    for text in (POUCH, FLAT):
        build = built(text)
        assert Copy("back") in TakenApart(build).unsure
        assert asked(text)[1] == (fold_line(text),)
    assert grains(POUCH) == []
    assert not any(" side in" in line for line in said(POUCH))
    assert asked(BACKWARD)[1] == asked(FORWARD)[1] == ()


def test_a_back_stands_straight_until_it_is_folded() -> None:
    """The first step sews, the second folds: 240 mm high, then 180."""
    apart = TakenApart(built(BACKWARD))
    heights = []
    for step in (0, 1):
        bodies = apart.heaps(step)[0]
        z = [corner[2] for face in bodies[Copy("back")].faces for corner in face.corners]
        heights.append(round(max(z) - min(z)))
    assert heights == [240, 180]


def test_what_lies_inside_is_on_the_label() -> None:
    assert fold_notes(by_name(built(BACKWARD).pieces)["back"], "mm") == ("fold, 60 mm turned: grain side in",)


def test_what_only_bends_is_called_so_on_the_label_with_all_that_are_alike() -> None:
    """Of the satchel's flap nothing is turned, though its first fold lies 1 3/8 in from the edge; a closed one is."""
    flap = by_name(demo_build("satchel").pieces)["flap"]
    first, second = flap.marks.folds
    assert fold_notes(flap, "in") == ("2 bends, 90°",)
    assert fold_notes(flap.with_marks(folds=(first, replace(second, angle_deg=180))), "in") == (
        "bend, 90°",
        "bend, 180°",
    )
    assert fold_notes(flap.with_marks(folds=(replace(first, angle_deg=0),)), "in") == ("bend",)
    closed = flap.with_marks(folds=(replace(first, is_open=False), replace(second, is_open=False)))
    assert fold_notes(closed, "in") == ("fold, 1 3/8 in turned",)


def test_edges_that_meet_at_a_corner_are_not_drawn_as_a_lap() -> None:
    """Walls folded through the corner of the notch stand at a right angle there, edge on edge; folded 4 mm farther in,
    as far as the row lies, their edges lie on each other."""
    meeting, pinched = built(cross(0)), built(cross(4))
    assert pile_seam(meeting, meeting.assembly.sewn[0]) == ()
    (told,) = tell_sections(meeting)
    assert told.startswith("a section of")
    assert "meet at a corner" in told
    assert not [*tell_sections(pinched)]
    (pile,) = pile_seam(pinched, pinched.assembly.sewn[0])
    assert len(pile) == 2


def test_a_section_of_joints_names_what_lies_over_what_at_each() -> None:
    """side over base, then base over side."""
    build = built(GUSSET)
    piles = pile_joints(build, build.assembly.runs[0])
    assert [[ply.part for ply in pile] for pile in piles] == [["side", "base"], ["base", "side"]]
    (stack,) = list_stacks(build)
    assert stack.names == (("side", "base"), ("base", "side"))


def test_a_section_of_joints_has_each_strip_as_thin_as_it_is_skived() -> None:
    """Of 1.2 and 1.5 mm, though both are cut from one hide: the sum was shared out by what they are before."""
    bands = """skives = [{{ edges = "start", width = "15 mm", to = "{0} mm" }},
  {{ edges = "end", width = "15 mm", to = "{0} mm" }}]
"""
    thin = GUSSET.replace("cut = 2\n", f"cut = 2\n{bands.format(1.2)}")
    thin = thin.replace('"80 mm"]\n', f'"80 mm"]\n{bands.format(1.5)}')
    build = built(thin)
    side, base = pile_joints(build, build.assembly.runs[0])[0]
    assert (side.thickness_mm, base.thickness_mm) == pytest.approx((1.2, 1.5))
    assert build.assembly.runs[0].stack.usual_mm == pytest.approx(2.7)


def test_a_sleeve_sewn_to_itself_is_two_layers_thick() -> None:
    """2 and 2 mm: the half that is folded over is the other partner."""
    build = built(SLEEVE)
    assert build.assembly.stack("side").usual_mm == 4.0
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [ply.grain for ply in pile] == ["up", "down"]
