"""What pictures of steps and of the finished article must show, each rule against the geometry of its parts: rows on what
the needle goes through, the side on which a seam is seen, walls flat until something bends them, small parts larger."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pypdfium2
import pytest
from built import built
from demos import demo_plan
from on_paper import make_setup, write_file
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
from short_specs import SHORT_HEAD

from docgen.assemble import Assembled, Body, Copy
from docgen.assemble.apart.heaps import find_heaps
from docgen.assemble.apart.turned import turn_in
from docgen.checks import resolve_build
from docgen.fonts import text_width_mm
from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_box, start_point
from docgen.geometry.shapes import Box
from docgen.geometry.shapes import Point as PlanePoint
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Page, PathMark, TextMark
from docgen.pages.pictures.article import view_of
from docgen.pages.pictures.detail import LEAST_MM2, ON_PAPER_MM
from docgen.pages.pictures.drawing import LEAST_WIDE_MM, Drawing, Shown
from docgen.pages.pictures.figure import draw_legs
from docgen.pages.pictures.leaders import DOT_MM, Marked, _share
from docgen.pages.pictures.legs import clear_hatching
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.pictures.starts import _find_arrow
from docgen.pages.pictures.step_drawing import WELL_SEEN
from docgen.pages.setting.blocks import Figure
from docgen.read import read_spec

COURIER = Path(__file__).parent / "courier.toml"
SHORT = {
    "catch": """
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["220 mm", "150 mm"]
holes = [{ at = "centre, 40 mm from bottom", punch = "4 mm", takes = "rivet", through = ["catch", "catch"] }]
landings = [{ piece = "catch", at = "centre, 25 mm from bottom" }]
[pieces.catch]
of = "hide"
shape = "rectangle"
size = ["24 mm", "100 mm"]
folds = [{ at = "middle", around = "ring" }]
holes = [{ at = "centre, 15 mm from bottom", punch = "4 mm" }, { at = "centre, 15 mm from top", punch = "4 mm" }]
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["220 mm", "150 mm"]
[pieces.wall]
of = "hide"
shape = "strip"
size = ["60 mm", "solve"]
[seams.one]
stitch = "main"
meet = ["front: left bottom right", "wall: left"]
[seams.two]
stitch = "main"
meet = ["back: left bottom right", "wall: right"]
[hardware.rivet]
what = "double-cap rivet"
count = 1
[hardware.ring]
what = "D ring"
count = 1
inside = "25 mm"
bar = "3 mm"
""",
    "three leaves": """
[pieces.leaf]
of = "hide"
shape = "rectangle"
size = ["170 mm", "190 mm"]
folds = [
  { at = "75 mm from bottom", open = true, angle = 180 },
  { at = "150 mm from bottom", open = true, angle = 180 },
]
""",
    "roll": """
[pieces.body]
of = "hide"
shape = "rectangle"
size = ["210 mm", "90 mm"]
holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]
[pieces.lining]
of = "hide"
shape = "rectangle"
size = ["210 mm", "90 mm"]
holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]
[seams.round]
stitch = "main"
meet = ["body: all", "lining: all"]
[[steps]]
do = "Glue the lining to the body and sew round."
seams = ["round"]
tools = ["contact cement"]
""",
    "slip": """
[pieces.cover]
of = "hide"
shape = "rectangle"
size = ["210 mm", "140 mm"]
landings = [{ piece = "slip", at = "0 mm from left, 0 mm from bottom", inside = true }]
[pieces.slip]
of = "hide"
shape = "rectangle"
size = ["70 mm", "140 mm"]
[pieces.cloth]
of = "silk"
like = "cover"
marks = false
[seams.slip]
title = "Sewing the slip on"
stitch = "main"
meet = ["slip: bottom left top", "cover"]
[[steps]]
do = "Glue the cloth to the cover."
pieces = ["cloth", "cover"]
tools = ["contact cement"]
[[steps]]
do = "Sew the slip on."
seams = ["slip"]
""",
}
LAYER_MM = 1.6  # by which layers are drawn apart


@cache
def pictures_of(name: str) -> Pictures:
    if name == "courier":
        return Pictures(resolve_build(read_spec(COURIER)))
    if name in SHORT:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "short.toml"
            path.write_text(SHORT_HEAD + SHORT[name], encoding="utf-8")
            return Pictures(resolve_build(read_spec(path)))
    is_by_hand = name.endswith(", by hand")
    build: Assembled = built(name.removesuffix(", by hand")).build if is_by_hand else demo_plan(name).build
    return Pictures(build)


def body_of(name: str, part: str, number: int = 1) -> Body:
    return next(body for body in pictures_of(name).apart.bodies if body.copy == Copy(part, number))


def figures_of_step(name: str, number: int, high_mm: float = 60.0) -> list[Figure]:
    pictures = pictures_of(name)
    numbers = {seam: k + 1 for k, seam in enumerate(sorted(seam.name for seam in pictures.build.seams))}
    draws = pictures.step_drawers(number, 66.0, make_setup().style, numbers)
    return [draw(high_mm) for draw in draws]


# ---- rows --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["satchel", "courier"])
def test_a_seam_shows_on_the_strip_that_the_needle_goes_through(name: str) -> None:
    """The row of the back that lies under the turned strip of the flap, and that on the strip, are one line: by shapely in
    the plane of the back."""
    back, flap = body_of(name, "back"), body_of(name, "flap")
    seam = "back" if name == "satchel" else "to-back"
    hidden = [line for line in back.lines if line.kind == "stitch" and line.name == seam]
    shown = [line for line in flap.lines if line.kind == "stitch" and line.name == seam]
    assert shown
    assert all(line.is_through for line in shown)
    strip = unary_union([Polygon([(x, z) for x, _, z in face.corners]) for face in flap.faces if _lies_behind(face)])
    row = unary_union([LineString([(x, z) for x, _, z in (line.start, line.end)]) for line in hidden])
    found = unary_union([LineString([(x, z) for x, _, z in (line.start, line.end)]) for line in shown])
    assert found.length == pytest.approx(row.intersection(strip).length, abs=0.5)
    assert found.hausdorff_distance(row.intersection(strip)) < 0.5
    assert {round(line.start[1] - back.faces[0].corners[0][1], 6) for line in shown} == {LAYER_MM}


def _lies_behind(face: object) -> bool:
    ys = [y for _, y, _ in face.corners]  # type: ignore[attr-defined]
    return max(ys) - min(ys) < 0.01 and min(ys) > 40


@pytest.mark.parametrize(("name", "part", "seam"), [("satchel", "flap", "flap"), ("courier", "front", "front-lining")])
def test_a_row_that_ends_on_the_outline_does_not_lie_on_it(name: str, part: str, seam: str) -> None:
    rows = [line for line in body_of(name, part).lines if line.kind == "stitch" and line.name == seam]
    assert rows
    assert not any(line.is_edge for line in rows)


def test_the_row_of_the_flap_is_seen_from_behind() -> None:
    """Rasterised at 300 dots an inch: along the row on the strip more than a third is black, and less than all, as dashes
    are."""
    pictures = pictures_of("satchel")
    closed = pictures.apart.closed
    shown = [Shown(body=body) for body in closed.bodies if not body.placed.is_inner]
    drawing = Drawing(shown, view_of(pictures.build.space.kind, "behind"))
    scale = drawing.scale_for(80.0, 70.0)
    drawn = drawing.draw(scale)
    row = next(line for line in body_of("satchel", "flap").lines if line.kind == "stitch" and line.name == "flap")
    start, end = (drawn.frame.put(*drawing.view.flat(at)[:2]) for at in (row.start, row.end))
    marks = tuple(draw_legs(drawn, make_setup().style))
    page = Page(width_mm=90.0, height_mm=80.0, marks=marks, label="", payload="")
    pixels = pypdfium2.PdfDocument(write_file(page))[0].render(scale=300 / 72, grayscale=True).to_numpy()
    black = np.squeeze(pixels) < 128
    count, found = 400, 0
    for k in range(count):
        share = 0.05 + 0.9 * k / count
        x, y = start.x + (end.x - start.x) * share, start.y + (end.y - start.y) * share
        column, line = round(x * 300 / 25.4), round((80.0 - y) * 300 / 25.4)
        found += bool(black[line - 2 : line + 3, column - 1 : column + 2].any())
    assert count / 3 < found < count


# ---- which side, and how many pictures ---------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["field-bag", "satchel", "crossbody", "bag", "sleeve", "tote", "wallet", "courier"])
def test_a_step_is_drawn_from_the_side_on_which_its_seams_are_seen(name: str) -> None:
    """Of every seam that a step sews enough is seen to follow it, and where it begins: by lengths on paper of what no face
    hides."""
    pictures = pictures_of(name)
    told = 0
    for step in range(len(pictures.build.assembly.steps)):
        for scene in pictures._scenes(step):
            for row in scene.drawing.rows:
                told += 1
                seen = sum(math.dist(at, to) for run in row.runs for at, to in pairwise(run))
                assert row.share > 0.3, (step + 1, row.seam)
                assert seen > 0
                assert row.is_begun or row.share < WELL_SEEN, (step + 1, row.seam)
    assert told


def test_a_flap_is_sewn_on_as_it_is_seen_from_outside() -> None:
    (scene,) = pictures_of("satchel")._scenes(2)
    assert scene.side == "behind"
    flap = next(one.body for one in scene.drawing.shown if one.body.copy == Copy("flap"))
    assert isinstance(flap, Body)
    grain = flap.faces[0].grain
    assert sum(a * b for a, b in zip(grain, scene.drawing.view.eye, strict=True)) > 0.5


def test_parts_that_are_joined_in_unlike_ways_have_a_picture_each() -> None:
    """The front gets a lining, the back a lining and a flap; alike ones stand once, with the other's name."""
    first, second = pictures_of("courier")._scenes(1)
    assert [title for _, title in first.named] == ["Front", "Lining"]
    assert [title for _, title in second.named] == ["Back", "Flap", "Lining"]
    assert len(figures_of_step("courier", 2)) == 2
    (alike,) = figures_of_step("bag", 2)
    assert "likewise: Back panel" in alike.caption


# ---- at the bench ------------------------------------------------------------------------------------------------------


def test_a_wall_that_nothing_bends_yet_lies_flat_with_what_is_on_it() -> None:
    """Its flat parts lie in one plane, as long as the piece; the hole of each tab lies over its own; rings go along."""
    pictures = pictures_of("courier")
    bodies, (heap,) = pictures.apart.heaps(0)
    gusset, tabs = bodies[Copy("gusset")], [bodies[Copy("tab", k)] for k in (1, 2)]
    heights = {round(at[2], 6) for face in gusset.faces for at in face.corners}
    assert len(heights) == 1
    xs = [at[0] for face in gusset.faces for at in face.corners]
    piece = next(piece for piece in pictures.build.pieces if piece.name == "gusset")
    ys = [at.y for at in flatten(outline_path(piece.outline), 0.1)]
    assert max(xs) - min(xs) == pytest.approx(max(ys) - min(ys), abs=0.01)
    for tab in tabs:
        through = min(tab.holes, key=lambda hole: hole.middle[2])
        assert min(math.dist(through.middle[:2], own.middle[:2]) for own in gusset.holes) < 1e-6
        assert through.middle[2] > gusset.holes[0].middle[2]
    joined = pictures.apart.joined(heap, 0, bodies)
    assert joined.kind == "lying"
    rings = [one.metal for one, _ in joined.metal if one.metal.shape == "D ring"]
    assert len(rings) == 2
    assert all(abs(ring.axis[2]) > 0.999 for ring in rings)
    later = pictures.apart.heaps(2)[0][Copy("gusset")]
    assert len({round(at[2], 3) for face in later.faces for at in face.corners}) > 5


def test_a_part_that_is_small_in_its_picture_stands_larger_beside_it() -> None:
    (scene,) = pictures_of("courier")._scenes(0)
    detail = scene.detail
    assert detail is not None
    tab = next(one.body for one in scene.drawing.shown if one.body.copy.part == "tab")
    assert isinstance(tab, Body)
    small, large = scene.drawing.scale_for(*ON_PAPER_MM), detail.scale_for(*ON_PAPER_MM)
    flats = [Polygon([scene.drawing.view.flat(at)[:2] for at in face.corners]) for face in tab.faces]
    assert max(flat.area for flat in flats) * small * small < LEAST_MM2
    assert large > 1.6 * small
    (figure,) = figures_of_step("courier", 1)
    for mark in figure.marks:
        edges = mark_box(mark)
        assert edges.right < figure.width_mm + 0.05
        assert edges.top < figure.height_mm + 0.05


def test_a_detail_of_a_riveted_strap_shows_its_end_as_wide_as_it_is() -> None:
    """The handles of the open tote are a line each in the picture of the whole, and would be so beside it."""
    (scene,) = pictures_of("tote")._scenes(2)
    assert scene.detail is not None
    handle = next(one.body for one in scene.detail.shown if one.body.copy.part == "handle")
    assert isinstance(handle, Body)
    whole, larger = (handle.wide_mm * one.scale_for(24.0, 40.0) for one in (scene.drawing, scene.detail))
    assert whole < LEAST_WIDE_MM < larger / 1.5
    left, right, bottom, top = scene.detail.window or (0.0, 0.0, 0.0, 0.0)
    flats = [scene.detail.view.flat(hole.middle) for hole in handle.holes]
    assert any(left < x < right and bottom < y < top for x, y, _ in flats)


def test_a_detail_shows_the_face_that_is_worked_on() -> None:
    """The ring tabs of the demo bag are on its sides, edge-on in the picture of the whole."""
    scene = pictures_of("field-bag")._scenes(11)[0]
    assert scene.detail is not None
    moved = next(one for one in scene.detail.shown if one.body.copy.part == "ring-tab")
    assert isinstance(moved.body, Body)
    grain = moved.body.placed.out(0)
    whole, larger = (abs(sum(a * b for a, b in zip(grain, view.eye, strict=True))) for view in _views(scene))
    assert larger > 0.5 > whole


def _views(scene: object) -> tuple[object, object]:
    return scene.drawing.view, scene.detail.view  # type: ignore[attr-defined]


def test_what_lies_between_two_parts_is_drawn_between_them() -> None:
    """Front over welt over back over the loop, each at a height of its own; apart and lifted alike."""
    height = {part: _heights(body_of("sheath", part)) for part in ("front", "welt", "back", "loop")}
    assert min(height["front"]) > max(height["welt"]) > max(height["back"]) > max(height["loop"])
    assert min(height["front"]) - max(height["welt"]) == pytest.approx(LAYER_MM)
    assert min(height["back"]) - max(height["loop"]) == pytest.approx(LAYER_MM)


def _heights(body: Body) -> list[float]:
    return [at[2] for face in body.faces for at in face.corners]


def test_of_what_goes_the_same_way_the_inner_one_goes_less_far() -> None:
    """Welt and front, where one step brings both: the welt first. Its bond is put into the step of the seam."""
    pictures = pictures_of("sheath")
    apart = pictures.apart
    last = len(pictures.build.assembly.steps) - 1
    bonds = [replace(bond, step=last) if "welt" in (bond.one.part, bond.other.part) else bond for bond in apart.bonds]
    (heap,) = find_heaps(apart.flat, bonds, last)
    ranks = {one.copies[0].part: one.rank for one in heap.moved}
    assert ranks["welt"] == 0
    assert ranks["front"] == 1


def test_a_long_strap_is_lifted_off_the_piece_and_not_the_piece_off_it() -> None:
    pictures = pictures_of("toolroll, by hand")
    _, (heap,) = pictures.apart.heaps(1)
    assert Copy("body") in heap.base
    assert {copy.part for one in heap.moved for copy in one.copies} == {"tie"}


def test_a_folded_tab_lands_by_the_half_whose_hole_is_there() -> None:
    """The tab of a catch, its fold in its middle, lands with its lower half; the post goes through both and the panel."""
    pictures = pictures_of("catch")
    front, tab = body_of("catch", "front"), body_of("catch", "catch")
    for hole in tab.holes:
        assert min(_aside(hole.middle, own.middle) for own in front.holes) < 1e-6
    rings = [one for one in pictures.apart._metal if one.metal.shape == "D ring"]
    assert len(rings) == 1
    assert rings[0].metal.at[2] > max(hole.middle[2] for hole in tab.holes), (
        "the ring hangs in the fold, over the rivet"
    )
    assert rings[0].lines[0].start[1] < min(at[1] for face in front.faces for at in face.corners), (
        "outside of the panel"
    )


def _aside(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    return math.hypot(one[0] - other[0], one[2] - other[2])


def test_ends_that_are_folded_over_from_both_sides_are_drawn_open() -> None:
    closed = pictures_of("three leaves").apart.closed
    (leaf,) = closed.bodies
    assert closed.opened == ("leaf",)
    assert len({round(at[2], 6) for face in leaf.faces for at in face.corners}) == 1
    assert len(leaf.faces) == 3


def test_layers_behind_a_part_lie_in_the_order_in_which_they_came() -> None:
    """A lining that is glued in before a slip is sewn on lies between both; the slip, on the hidden side, on top."""
    stacks = pictures_of("slip").stacks
    pile = next(stack.pile for stack in stacks if stack.made[0][1] == "Sewing the slip on")
    assert [ply.part for ply in pile] == ["slip", "cloth", "cover"]


# ---- seams once sewn ---------------------------------------------------------------------------------------------------


def test_a_turned_seam_leaves_nothing_of_its_margin_outside() -> None:
    """The outline of the panel is that of the piece, its straight top aside, smaller by the inset: by shapely's offset."""
    panel = body_of("crossbody", "front")
    seams = {seam.name for seam in pictures_of("crossbody").build.seams if seam.is_turned}
    whole = pictures_of("crossbody").build.space.part(Copy("front"))
    assert whole is not None
    row = next(mark.path for mark in whole.item.marks if mark.kind == "stitch" and mark.name in seams)
    inset = start_point(row).x - min(at[0] for at in whole.ring) if start_point(row).x < 50 else None
    inset = inset or max(at[0] for at in whole.ring) - start_point(row).x
    left, low, right, top = Polygon(whole.ring).bounds
    taller = unary_union([Polygon(whole.ring), box(left, top - 60, right, top + 100)])
    wanted = taller.buffer(-inset).intersection(box(left, low, right, top))
    assert Polygon(panel.placed.ring).symmetric_difference(wanted).area < 0.002 * wanted.area
    assert all(line.is_edge for line in panel.lines if line.kind == "stitch" and line.name in seams)


@pytest.mark.parametrize("turns", [1, -1])
def test_a_row_leaves_the_larger_side_of_an_outline(turns: int) -> None:
    ring = [PlanePoint(0.0, 0.0), PlanePoint(100.0, 0.0), PlanePoint(100.0, 60.0), PlanePoint(0.0, 60.0)]
    row = [PlanePoint(5.0, 60.0), PlanePoint(5.0, 5.0), PlanePoint(95.0, 5.0), PlanePoint(95.0, 60.0)][::turns]
    assert Polygon(turn_in(ring, row)).symmetric_difference(box(5, 5, 95, 60)).area < 1e-9
    round_about = [*box(5, 5, 95, 55).exterior.coords]
    assert Polygon(turn_in(ring, [PlanePoint(*at) for at in round_about])).equals(box(5, 5, 95, 55))
    assert turn_in(ring, [PlanePoint(5, 5), PlanePoint(5, 5)]) == tuple(ring), "of a row a mere point is left"


def test_the_flesh_side_is_not_seen_where_the_edge_of_the_wall_lies_on_it() -> None:
    """The strips that are left out cover what lies between row and edge, and nothing else, by shapely."""
    back = body_of("satchel", "back")
    seams = pictures_of("satchel").apart.flanged[back.copy]
    assert seams == {"back"}
    row = next(mark.path for mark in back.placed.item.marks if mark.kind == "stitch" and mark.name == "back")
    ring = Polygon(back.placed.ring)
    margin = ring.difference(Polygon(turn_in(back.placed.ring, flatten(row, 0.1))))
    covered = unary_union([Polygon(quad) for quad in back.margins(seams)]).intersection(ring)
    assert covered.symmetric_difference(margin).area < 0.02 * margin.area
    assert not [*back.margins(frozenset({"flap"}))] or "flap" not in seams


def test_the_head_of_a_stud_stands_in_the_hole_of_the_flap() -> None:
    closed = pictures_of("satchel").apart.closed
    flap = next(body for body in closed.bodies if body.copy == Copy("flap"))
    studs = [one for one in closed.metal if one.metal.hardware == "stud"]
    assert len(studs) == 2
    for stud in studs:
        assert min(math.dist(stud.metal.at, hole.middle) for hole in flap.holes) < 5.0
    opened = pictures_of("satchel").apart._metal
    assert all(abs(one.metal.at[1]) < 1e-6 for one in opened), "before it is closed they stand on the front"


def test_a_cap_goes_on_with_the_outermost_part() -> None:
    """The rivets that hold the handle of the demo bag are lifted with the handle, not left on the panel."""
    pictures = pictures_of("field-bag")
    bodies, heaps = pictures.apart.heaps(10)
    heap = next(heap for heap in heaps if Copy("handle") in heap.copies)
    caps = [one for one, is_new in pictures.apart.joined(heap, 10, bodies).metal if is_new and one.metal.shape == "cap"]
    assert caps
    assert {one.copy.part for one in caps} == {"handle"}


# ---- on paper ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "step"), [("field-bag", 5), ("field-bag", 7), ("courier", 2), ("courier", 3), ("satchel", 4)]
)
def test_no_line_goes_through_the_number_of_a_seam(name: str, step: int) -> None:
    for high_mm in (60.0, 36.0):
        for figure in figures_of_step(name, step, high_mm):
            numbers = [mark for mark in figure.marks if isinstance(mark, TextMark) and mark.face == "bold"]
            assert numbers
            paths = [mark.path for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke is not None]
            lines = [LineString(flatten(path, 0.05)) for path in paths if max(_size(path_box(path))) > 0]
            for number in numbers:
                shape = _ink(number)
                assert not any(line.intersects(shape) for line in lines), number.text


def _size(found: Box) -> tuple[float, float]:
    return found.width, found.height


def _ink(mark: TextMark) -> Polygon:
    """The box round a digit: as wide as it is set, as high as capitals, a little less."""
    half = text_width_mm(mark.text, mark.face, mark.size_mm) / 2 - 0.1
    return box(mark.x_mm - half, mark.y_mm + 0.1, mark.x_mm + half, mark.y_mm + mark.size_mm * 0.6)


@pytest.mark.parametrize("name", ["field-bag", "satchel", "courier", "sheath"])
def test_every_dot_has_an_arrow_clear_of_it(name: str) -> None:
    """At each beginning that is seen a dot, and for each seam an arrow whose tip leads along what is seen of its row."""
    pictures = pictures_of(name)
    for step in range(len(pictures.build.assembly.steps)):
        for scene in pictures._scenes(step):
            drawn = scene.drawing.draw(scene.drawing.scale_for(40.0, 40.0))
            for start in drawn.starts:
                tip, way = _find_arrow(start)
                assert math.isclose(math.hypot(*way), 1.0, abs_tol=1e-6)
                if any(sum(math.dist(a, b) for a, b in pairwise(run)) >= 3.5 for run in start.runs):
                    seen = unary_union([LineString(run) for run in start.runs if len({*run}) > 1])
                    assert seen.distance(Point(tip)) < 0.05
                    assert math.dist(tip, start.at) > 2.9


def test_a_thread_keeps_clear_of_the_faces_that_it_lies_on() -> None:
    """ISO 128-20:1996, 4.4, wants 0.7 mm or twice the wider line between parallel lines (from memory): here the line of
    the flesh side, 0.25 mm, must not seem as heavy as that of the grain side, 0.5 mm."""
    pictures = pictures_of("satchel")
    section = pictures.sections(3, 66.0, make_setup().style)[0]
    levels = sorted(
        (path_box(mark.path).centre.y, mark.stroke.width_mm)
        for mark in section.marks
        if isinstance(mark, PathMark) and mark.stroke is not None and path_box(mark.path).height < 1e-6
    )
    low, wide = (
        levels[0][0],
        max(width for y, width in levels if y - levels[0][0] < 0.01),
    )  # the thread, black under white
    face, line = next(level for level in levels if level[0] - low > 0.01)
    assert face - line / 2 - (low + wide / 2) > 0.45


def list_leaders(figure: Figure) -> list[LineString]:
    """Each from its name to the dot on its part: a straight line before a disc of 0.45 mm, in the order of the marks."""
    paths = [mark for mark in figure.marks if isinstance(mark, PathMark)]
    return [
        LineString([start_point(line.path), path_box(dot.path).centre])
        for line, dot in pairwise(paths)
        if dot.fill == 0.0 and dot.stroke is None and path_box(dot.path).width == pytest.approx(2 * DOT_MM)
    ]


def list_beginnings(figure: Figure) -> list[Polygon]:
    """The dots and arrows of seams: what is filled black and larger than the dot of a leader."""
    paths = [mark.path for mark in figure.marks if isinstance(mark, PathMark) and mark.fill == 0.0]
    return [Polygon(flatten(path, 0.02)) for path in paths if max(_size(path_box(path))) > 3 * DOT_MM]


@pytest.mark.parametrize(
    ("name", "step"), [("roll", 1), ("field-bag", 5), ("field-bag", 7), ("courier", 2), ("satchel", 4), ("wallet", 3)]
)
def test_no_leader_runs_into_the_beginning_of_a_seam(name: str, step: int) -> None:
    for high_mm in (60.0, 36.0):
        for figure in figures_of_step(name, step, high_mm):
            leaders, black = list_leaders(figure), unary_union(list_beginnings(figure))
            assert leaders
            assert all(Point(line.coords[-1]).distance(black) > DOT_MM for line in leaders)
            assert all(line.distance(black) > 0.1 for line in leaders)


def test_a_leader_would_run_into_the_beginning_of_a_seam(monkeypatch: pytest.MonkeyPatch) -> None:
    """The twin of the one above: the place nearest to the side of the drawing, whatever is marked there."""
    monkeypatch.setattr(Marked, "is_clear", lambda marked, at, side: True)
    figures = figures_of_step("roll", 1)
    assert any(line.distance(one) < 0.1 for f in figures for line in list_leaders(f) for one in list_beginnings(f))


@pytest.mark.parametrize(
    ("x", "y", "is_clear"),
    [(10, 1.1, False), (10, 1.2, True), (8.9, 0, False), (8.8, 0.8, True), (7, 0, True), (4, 9, False), (4, 8.8, True)],
)
def test_a_dot_keeps_clear_of_holes_and_beginnings(x: float, y: float, is_clear: bool) -> None:
    """A beginning at x = 10 and a hole at (4, 10): a dot of 0.45 mm keeps 0.7 mm from both, and its leader, that comes
    from x = 0, as far from the beginning alone."""
    marked = Marked(starts=((PlanePoint(10, -0.1), PlanePoint(10, 0.0)),), holes=(PlanePoint(4, 10),))
    assert marked.is_clear(PlanePoint(x, y), 0.0) == is_clear


def test_hatching_leaves_the_numbers_of_seams_free() -> None:
    """Of two lines 10 mm long, a box from 4 to 6 mm is taken out of the one that is hatching."""
    legs = [(kind, PlanePoint(0, 0), PlanePoint(10, 0)) for kind in ("old hatch", "old edge")]
    left = [(kind, start.x, end.x) for kind, start, end in clear_hatching(legs, [Box(4, -1, 6, 1)])]
    assert left == [("old hatch", 0, 4), ("old hatch", 6, 10), ("old edge", 0, 10)]


def test_names_change_sides_where_that_makes_leaders_shorter_and_no_column_higher() -> None:
    """Five names, the second of which no longer found room on its own side: it and the third change places."""
    highs = [5.0, 9.0, 9.0, 13.0, 13.0]
    reaches = [[4.6, 4.6], [12.4, 5.1], [12.0, 5.9], [4.2, 16.2], [3.8, 14.2]]
    chosen = _share(highs, reaches, 20.0)
    assert sum(reach[side] for reach, side in zip(reaches, chosen, strict=True)) == pytest.approx(23.6)
    assert _share([5.0, 5.0], [[4.0, 9.0], [4.0, 9.0]], 20.0) == [0, 0], "there is room for both"
    assert _share([], [], 20.0) == []
