"""What a picture of a step may say: what lies between what, what is joined by then, which way a row goes, how wide a line
is; each on short builds of its kind, by the places of their parts."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise, permutations
from pathlib import Path

import pytest
from on_paper import make_setup
from short_specs import step
from step_lines import words_of

from docgen.assemble import Assembled, Body, Copy, MetalBody, TakenApart, UnsureError, inner
from docgen.assemble.space import place_parts
from docgen.assemble.space.vectors import length, minus, times
from docgen.checks import resolve_variants
from docgen.geometry.shapes import Point
from docgen.pages.marks.page import PathMark
from docgen.pages.pictures.drawing import Drawing
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.pictures.rows import Start
from docgen.pages.pictures.starts import _find_arrow, draw_starts
from docgen.pages.work.acts import tell
from docgen.plan import plan_work
from docgen.read import read_spec

Resolve = Callable[[str], Assembled]


MASK = """
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "mouth" },
  { at = ["60 mm", "0"], edge = "spine" },
  { at = ["60 mm", "180 mm"], edge = "tip", curve = ["40 mm", "200 mm", "10 mm", "160 mm"] },
  { at = ["0", "90 mm"], edge = "belly" },
]
[pieces.back]
like = "front"
mirror = true
[pieces.welt]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["10 mm", "0"], edge = "inner", curve = ["20 mm", "100 mm", "40 mm", "150 mm"] },
  { at = ["60 mm", "165 mm"], edge = "top" },
  { at = ["60 mm", "180 mm"], edge = "tip", curve = ["40 mm", "200 mm", "10 mm", "160 mm"] },
  { at = ["0", "90 mm"], edge = "belly" },
]
"""
SHEATH = """
<rectangle front: ["80 mm", "200 mm"]>
<rectangle back: ["80 mm", "200 mm"]>
<rectangle welt: ["14 mm", "200 mm"]>
"""
KINDS = {"mask": (MASK, "tip belly"), "sheath": (SHEATH, "right")}
ORDERS = [*permutations(("front", "welt", "back"))]


def welted(resolve_text: Resolve, kind: str, order: tuple[str, ...]) -> Assembled:
    text, edges = KINDS[kind]
    meet = ", ".join(f'"{part}: {edges}"' for part in order)
    return resolve_text(f"{text}\n<seam s: [{meet}]>\n" + step("Sew all three.", seams="s"))


@pytest.mark.parametrize("order", ORDERS, ids=" ".join)
@pytest.mark.parametrize("kind", KINDS)
def test_a_welt_lies_between_its_panels_wherever_its_seam_names_it(
    resolve_text: Resolve, kind: str, order: tuple[str, ...]
) -> None:
    """A welt is the layer between front and back that keeps the edge off the thread (a term of the trade)."""
    build = welted(resolve_text, kind, order)
    apart = TakenApart(build)
    heights = {body.copy.part: body.faces[0].corners[0][2] for body in apart.bodies}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"
    outs = {body.copy.part: body.placed.out(0)[2] for body in apart.bodies}
    top, foot = (pick(("front", "back"), key=lambda part: heights[part]) for pick in (max, min))
    assert outs[top] > 0 > outs[foot]


@pytest.mark.parametrize("order", ORDERS, ids=" ".join)
@pytest.mark.parametrize("kind", KINDS)
def test_a_welt_is_drawn_apart_between_its_panels_and_told_so(
    resolve_text: Resolve, kind: str, order: tuple[str, ...]
) -> None:
    build = welted(resolve_text, kind, order)
    (scene,) = Pictures(build)._scenes(0)
    heights = {one.body.copy.part: one.shift[2] for one in scene.drawing.shown}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"
    assert len({round(high, 3) for high in heights.values()}) == len(heights)
    acts = [line for line in map(tell, plan_work(build).steps[0].acts) if line.startswith(("Edges level", "Lay "))]
    assert len(acts) == 2
    assert all("welt" in line for line in acts)


def test_of_three_layers_of_one_shape_the_one_named_in_the_middle_lies_between(resolve_text: Resolve) -> None:
    """A welt that is cut as the whole panel cannot be told by its size, but by its place in the seam."""
    text = MASK.partition("[pieces.welt]")[0] + '[pieces.welt]\nlike = "front"\n'
    meet = '["front: tip belly", "welt: tip belly", "back: tip belly"]'
    apart = TakenApart(resolve_text(f"{text}\n<seam s: {meet}>\n" + step("Sew.", seams="s")))
    heights = {body.copy.part: body.faces[0].corners[0][2] for body in apart.bodies}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"


def test_both_ends_of_a_folded_loop_are_sewn_on_one_line(resolve_text: Resolve) -> None:
    """By hand: 120 mm folded in the middle; both ends lie on the back 4 mm over the foot of the loop, which lands 40 mm
    up: 44 mm; no line lies where the loop would reach unfolded."""
    build = resolve_text(
        """
<rectangle back: ["100 mm", "300 mm"]>
landings = [{ piece = "loop", at = "centre, 40 mm from bottom" }]
<rectangle loop: ["30 mm", "120 mm"]>
folds = [{ at = "middle" }]
<seam s: ["loop: top", "loop: bottom", "back"]>
"""
        + step("Sew the loop on.", pieces="loop back", seams="s")
    )
    back = next(piece for piece in build.pieces if piece.name == "back")
    inset_mm = build.stitches[0].inset_mm
    (line,) = [line for line in back.marks.stitch_lines if line.seam == "s"]
    assert {round(segment.start.y, 3) for segment in line.path.segments} == {round(40 + inset_mm, 3)}


TUBE = """
<circle>
diameter = "90 mm"
<strip wall: ["160 mm", "solve"]>
landings = [{ piece = "patch", at = "60 mm from left, 130 mm from start" }]
<rectangle patch: ["40 mm", "50 mm"]>
<join tube: ["wall"], 12 mm>
ring = true
<seam patch: ["patch: all", "wall"]>
<seam base: ["a: edge", "tube: left"]>
"""


def test_a_ring_lies_flat_until_its_joint_is_sewn_and_keeps_what_is_on_it(resolve_text: Resolve) -> None:
    """In hand at step 1 is a flat strip with a patch; at step 3 a tube, with the patch still on it."""
    build = resolve_text(
        TUBE
        + step("Sew the patch on.", seams="patch")
        + step("Close the wall.", joins="tube")
        + step("Sew the base in.", seams="base")
    )
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(0)
    assert heap.copies == {Copy("tube"), Copy("patch")}
    grains = {tuple(round(part, 6) for part in face.grain) for face in bodies[Copy("tube")].faces}
    assert len(grains) == 1
    bodies, (heap,) = apart.heaps(2)
    assert heap.copies == {Copy("tube"), Copy("patch"), Copy("a")}
    assert len({tuple(round(part, 6) for part in face.grain) for face in bodies[Copy("tube")].faces}) > 8
    assert [*apart.tell_withheld()] == []


def test_what_is_closed_only_later_is_not_drawn_closed(resolve_text: Resolve) -> None:
    build = resolve_text(
        TUBE
        + step("Sew the patch on.", seams="patch")
        + step("Sew the base in.", seams="base")
        + step("Close the wall.", joins="tube")
    )
    apart = TakenApart(build)
    assert [*apart.tell_withheld()] == ["what step 2 joins: tube is closed or joined later, in step 3"]
    assert not Pictures(build).step_drawers(2, 66.0, make_setup().style, {})


@pytest.mark.parametrize(("first", "withheld"), [("joins", 0), ("seams", 1)])
def test_a_gusset_of_strips_is_drawn_once_they_are_joined(resolve_text: Resolve, first: str, withheld: int) -> None:
    steps = [step("Join.", joins="gusset"), step("Sew the front.", seams="front")]
    build = resolve_text(
        """
<back>
<front>
<strip bottom: ["50 mm", "180 mm"]>
<strip side: ["50 mm", "solve"]>
cut = 2
<join gusset: ["side", "bottom", "side"], 12 mm>
<seam front: ["front: left bottom right", "gusset: left"]>
<seam back: ["back: left bottom right", "gusset: right"]>
"""
        + "".join(steps if first == "joins" else steps[::-1])
        + step("Sew the back.", seams="back")
    )
    told = [*TakenApart(build).tell_withheld()]
    assert len(told) == withheld
    assert all(line.startswith("what step 1 joins: gusset is closed or joined later") for line in told)


def test_a_lining_stays_between_the_two_that_a_step_lifts_apart(resolve_text: Resolve) -> None:
    """By hand: the floor is lifted off the wall downwards, its lining lies on it and under the wall: of the three it is
    in the middle, also where each is drawn."""
    build = resolve_text(
        """
<fabric cloth: 0.5 mm>
<circle>
diameter = "90 mm"
[pieces.lining]
of = "cloth"
like = "a"
<strip wall: ["160 mm", "solve"]>
<join tube: ["wall"], 12 mm>
ring = true
<seam base: ["a: edge", "lining: edge", "tube: left"]>
"""
        + step("Close the wall and sew the base and its lining in.", joins="tube", pieces="lining", seams="base")
    )
    (scene,) = Pictures(build)._scenes(0)
    low = {
        one.body.copy.part: min(at[2] for face in one.body.faces for at in face.corners) + one.shift[2]
        for one in scene.drawing.shown
    }
    assert low["a"] < low["lining"] < low["tube"]


ROLL = """
<rectangle outer: ["400 mm", "280 mm"]>
landings = [{ piece = "tab", at = "30 mm from right, 40 mm from top"INSIDE }]
<rectangle tab: ["60 mm", "40 mm"]>
<seam tab: ["tab: all", "outer"]>
"""


@pytest.mark.parametrize("inside", ["", ", inside = true"])
def test_a_row_all_round_a_small_part_begins_and_leads_on_where_that_is_drawn_larger(
    resolve_text: Resolve, inside: str
) -> None:
    """The arrow of a row that goes round turns about the middle of the row the way that the row itself does."""
    build = resolve_text(ROLL.replace("INSIDE", inside) + step("Sew the tab on.", pieces="tab outer", seams="tab"))
    (scene,) = Pictures(build)._scenes(0)
    assert scene.drawing.draw(0.1).starts == ()
    assert scene.detail is not None
    (start,) = scene.detail.draw(scene.detail.scale_for(24.0, 40.0)).starts
    assert start.is_begun
    assert turn_of(start) == turn_about(start, *_find_arrow(start))


@pytest.mark.parametrize("side_mm", [0.8, 1.5, 2.5, 4.0, 8.0])
@pytest.mark.parametrize("hand", [1.0, -1.0])
def test_the_arrow_of_a_small_row_never_points_the_wrong_way_round(side_mm: float, hand: float) -> None:
    """A square on paper, gone round either way; an arrow beside it stands outside, where nothing else goes by."""
    corners = [(0.0, 0.0), (side_mm, 0.0), (side_mm, side_mm), (0.0, side_mm), (0.0, 0.0)]
    run = tuple(Point(x, y) for x, y in (corners if hand > 0 else corners[::-1]))
    start = Start(seam="s", at=run[0], runs=(run,), is_begun=True)
    marks, _ = draw_starts([start], (), (20.0, 20.0), make_setup().style, {})
    arrow = next(mark for mark in marks if isinstance(mark, PathMark) and len(mark.path.segments) == 3)
    tip, *feet = (segment.start for segment in arrow.path.segments)
    foot = Point((feet[0].x + feet[1].x) / 2, (feet[0].y + feet[1].y) / 2)
    assert turn_about(start, tip, Point(tip.x - foot.x, tip.y - foot.y)) == hand


def turn_about(start: Start, at: Point, way: Point) -> float:
    """1 where a way from a point goes anticlockwise about the middle of a row, -1 where clockwise."""
    points = {point for run in start.runs for point in run}
    middle = Point(sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    return math.copysign(1.0, (at.x - middle.x) * way.y - (at.y - middle.y) * way.x)


def turn_of(start: Start) -> float:
    ring = [point for run in start.runs for point in run]
    return math.copysign(1.0, sum(p.x * q.y - p.y * q.x for p, q in pairwise((*ring, ring[0]))))


@pytest.mark.parametrize("named", ["front", "back"])
def test_what_is_named_the_front_looks_at_us(resolve_text: Resolve, named: str) -> None:
    """In the finished article from the front, and nowhere upside down: the top of a panel is drawn over its foot."""
    build = resolve_text(f"{MASK}\n" + '<seam s: ["front: tip belly", "back: tip belly"]>\n' + step("Sew.", seams="s"))
    build = replace(build, front=named)
    article = Pictures(build)._article
    assert article is not None
    shown = {one.body.copy.part: one.body for one in article.front.shown if isinstance(one.body, Body)}
    assert inner(shown[named].placed.out(0), article.front.view.eye) > 0
    foot, top = (article.front.view.flat(shown[named].point(at, 0))[1] for at in (Point(30, 0), Point(30, 80)))
    assert top > foot


def test_a_flap_that_is_named_the_front_leaves_its_bag_upright(resolve_text: Resolve) -> None:
    build = resolve_text(
        """
<back>
<front>
marks = false
<strip gusset: ["60 mm", "solve"]>
<rectangle flap: ["200 mm", "160 mm"]>
folds = [{ at = "20 mm from top", open = true }, { at = "80 mm from top", open = true }]
<seam front: ["front: left bottom right", "gusset: left"]>
<seam back: ["back: left bottom right", "gusset: right"]>
<seam flap: ["flap: top", "back: top"]>
"""
        + step("Sew all.", seams="flap front back")
    )
    back = place_parts(replace(build, front="flap"), build.assembly).part(Copy("back"))
    assert back is not None
    assert back.surface.point(Point(100, 140))[2] > back.surface.point(Point(100, 10))[2]


@pytest.mark.parametrize("first", ["Turn one end.", "Skive and punch."])
def test_hardware_is_taken_in_hand_once_and_a_strap_is_punched_once(resolve_text: Resolve, first: str) -> None:
    """Eight rivets are there, and eight are laid out in all, whichever of two steps names them too."""
    rings = "rivet ring" if first == "Turn one end." else "rivet"
    end = '{ shape = "turned", back = "80 mm", around = "ring", takes = "rivet", number = 4 }'
    build = resolve_text(
        f"""
<back>
<strap>
finished = "600 mm"
ends = [{end}, {end}]
<hardware rivet: 8, double-cap rivet>
posts = ["6 mm", "8 mm", "10 mm"]
<hardware ring: 2, ring>
inside = "20 mm"
bar = "3 mm"
"""
        + step(first, straps="s", hardware=rings)
        + step("Turn the ends and rivet them.", straps="s", hardware="rivet ring")
    )
    steps = plan_work(build).steps
    taken = [line for one_step in steps for line in words_of(one_step.takes)]
    assert [line for line in taken if "rivet" in line] == ["8 × double-cap rivet"]
    acts = [tell(one) for one_step in steps for one in one_step.acts]
    assert sum("both ends to be turned" in line for line in acts) == 1


@pytest.mark.parametrize("wide_mm", [6.0, 12.0, 30.0])
@pytest.mark.parametrize("scale", [1 / 40, 1 / 15, 1 / 5])
def test_no_cap_is_drawn_wider_than_its_strap_and_no_strap_as_a_bar(
    resolve_text: Resolve, wide_mm: float, scale: float
) -> None:
    """Two lines of 0.5 mm stay 0.35 mm apart, or there is one; a cap is drawn larger than it is within its strap alone."""
    build = resolve_text(
        f"""
<rectangle base: ["300 mm", "200 mm"]>
landings = [{{ strap = "s", at = "centre, 40 mm from top", leads = "up", over = "30 mm" }}]
holes = [{{ at = "centre, 20 mm from top", punch = "3 mm", takes = "rivet", through = ["s"] }}]
[straps.s]
of = "body"
width = "{wide_mm} mm"
finished = "300 mm"
ends = [{{ shape = "square" }}, {{ shape = "square" }}]
punches = [{{ at = "centre, 20 mm from start", punch = "3 mm" }}]
<hardware rivet: 1, double-cap rivet>
posts = ["6 mm", "8 mm", "10 mm"]
"""
        + step("Rivet the strap on.", straps="s", pieces="base", hardware="rivet")
    )
    (scene,) = Pictures(build)._scenes(0)
    shown = {one.body.copy.part: place for place, one in enumerate(scene.drawing.shown) if isinstance(one.body, Body)}
    (cap,) = (one.body for one in scene.drawing.shown if isinstance(one.body, MetalBody))
    lines = cap.lines_for(scale)
    across_mm = max(math.dist(one.start, other.start) for one in lines for other in lines) * scale
    assert across_mm <= max(cap.metal.wide_mm, 0.6 * wide_mm) * scale + 1e-6
    is_bar = wide_mm * scale < 0.85
    assert (shown["s"] in scene.drawing._thin_at(scale)) == is_bar


def test_a_cap_that_was_grown_in_a_small_picture_has_its_own_size_in_a_larger_one(resolve_text: Resolve) -> None:
    """A cap of 9 mm, our choice: more than twice as large as it is at 1:50, as large as it is at 1:2."""
    text = (
        '<rectangle base: ["300 mm", "200 mm"]>\n<rectangle tab: ["60 mm", "60 mm"]>\n'
        'holes = [{ at = "centre, middle", punch = "3 mm", takes = "rivet", through = ["base"] }]\n'
        '<hardware rivet: 1, double-cap rivet>\nposts = ["6 mm", "7 mm"]\n'
    ).replace('200 mm"]>\n', '200 mm"]>\nlandings = [{ piece = "tab", at = "centre, middle" }]\n', 1)
    build = resolve_text(text + step("Set it.", pieces="base tab", hardware="rivet"))
    (scene,), (fresh,) = (Pictures(build)._scenes(0) for _ in range(2))

    def across_mm(drawing: Drawing, scale: float) -> float:
        points = [at for kind, *ends in drawing.draw(scale).legs if kind == "metal" for at in ends]
        return max(math.dist(one, other) for one in points for other in points)

    small_mm, large_mm = (across_mm(scene.drawing, scale) for scale in (0.02, 0.5))
    assert small_mm > 2 * large_mm * 0.02 / 0.5
    assert large_mm == pytest.approx(across_mm(fresh.drawing, 0.5))


BUILDS = Path(__file__).parents[1] / "bench" / "slips" / "builds"


@pytest.mark.parametrize("name", ["clutch", "spectacle-case", "tool-case"])
def test_a_cap_goes_with_its_hole_where_a_folded_part_lies_flat(name: str) -> None:
    """Halves of a snap lie over each other when all is shut, and each in its own hole while the work lies open."""
    pictures = Pictures(resolve_variants(read_spec(BUILDS / f"{name}.toml"))[0])
    build, found = pictures.build, 0
    for number in range(len(build.assembly.steps)):
        try:
            scenes = pictures._scenes(number)
        except UnsureError:
            continue
        for scene in scenes:
            bodies = {one.body.copy: one.body for one in scene.drawing.shown if isinstance(one.body, Body)}
            for cap in (one.body for one in scene.drawing.shown if isinstance(one.body, MetalBody)):
                if cap.metal.shape == "cap" and cap.copy in bodies:
                    far = [minus(hole.middle, cap.metal.at) for hole in bodies[cap.copy].holes]
                    aside = [minus(way, times(cap.metal.axis, inner(way, cap.metal.axis))) for way in far]
                    assert min(length(way) for way in aside) < 3.0
                    found += 1
    assert found


HEMMED = """
<circle>
diameter = "90 mm"
<strip wall: ["160 mm", "solve"]>
hems = [{ edges = "right", turn = "20 mm" }]
holes = [{ at = "28 mm from right, 30 mm from start", punch = "4 mm" }]
<join tube: ["wall"], 12 mm>
ring = true
<seam hem: ["wall: right", "wall"]>
<seam base: ["a: edge", "tube: left"]>
"""


def test_a_ring_that_is_hemmed_is_drawn_as_a_ring_up_to_the_fold(resolve_text: Resolve) -> None:
    """160 mm without the 20 mm that are turned over and the 4 mm under the foot: 136 mm; the hole 28 mm from the cut edge
    is 8 mm below the mouth."""
    steps = [
        step("Close it.", joins="tube"),
        step("Hem it.", seams="hem", tools="glue"),
        step("Sew the base in.", seams="base"),
    ]
    apart = TakenApart(resolve_text(HEMMED + "".join(steps)))
    bodies, (heap,) = apart.heaps(1)
    assert heap.copies == {Copy("tube")}
    assert set(apart.joined(heap, 1, bodies).picked) == {"hem"}
    tube = bodies[Copy("tube")]
    heights = [z for face in tube.faces for *_, z in face.corners]
    assert max(heights) - min(heights) == pytest.approx(160 - 20 - 4)
    assert max(heights) - tube.holes[0].middle[2] == pytest.approx(28 - 20)
    assert [*apart.tell_withheld()] == []
    open_first = TakenApart(resolve_text(HEMMED + "".join((steps[1], steps[0], steps[2]))))
    assert open_first.heaps(0)[1] == [], "a wall that is flat yet is drawn flat"


def test_of_a_row_that_is_out_of_sight_no_arrow_is_drawn() -> None:
    """It would lie on what hides the row."""
    hidden = Start(seam="hidden", at=Point(10, 10), runs=(), is_begun=False)
    assert draw_starts([hidden], (), (40.0, 40.0), make_setup().style, {"hidden": 1}) == ([], 0)
