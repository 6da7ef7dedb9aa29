"""Pictures of what folds and of what is lined: which half lies up, which side is in, what is folded at which step. Where a
part lies, and which way it looks, worked out by hand from its spec; how folded goods lie on a table is common practice, no
published source."""

import math
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from short_specs import SHORT_HEAD, TURNED_WALL

from docgen.assemble import Assembled, Body, Copy, TakenApart, UnsureError, Vec, inner
from docgen.assemble.space.placed import FACES_UNTOLD, LAYER_MM, PLACE_UNTOLD, Placed
from docgen.assemble.space.vectors import minus, plus, times
from docgen.checks import resolve_build
from docgen.geometry.shapes import Point
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.work.acts import tell
from docgen.plan import plan_work
from docgen.read import read_spec

BENCH = Path(__file__).parents[1] / "bench" / "slips" / "builds"
DUFFEL, SADDLE_BAGS = BENCH / "duffel.toml", BENCH / "saddle-bags.toml"
# A cover for a book 20 mm thick, lined, with a pocket at either end of its lining.
COVER = """
[pieces.cover]
of = "hide"
shape = "rectangle"
size = ["320 mm", "200 mm"]
folds = [
  { at = "10 mm left of centre", open = true, angle = 90 }, { at = "10 mm right of centre", open = true, angle = 90 },
]
[pieces.lining]
of = "silk"
like = "cover"
marks = false
landings = [
  { piece = "pocket-left", at = "0 from left, 0 from bottom" },
  { piece = "pocket-right", at = "0 from right, 0 from bottom" },
]
[pieces.pocket-left]
of = "hide"
shape = "rectangle"
size = ["60 mm", "200 mm"]
[pieces.pocket-right]
like = "pocket-left"
[seams.round]
stitch = "main"
meet = ["cover: all", "lining: all"]
[[steps]]
do = "Lay the pockets on the lining, lay it on the cover and sew."
pieces = ["pocket-left", "pocket-right"]
seams = ["round"]
"""
ODD_LINING = COVER.replace('size = ["320 mm", "200 mm"]', 'size = ["320 mm", "200 mm"]\nround = { top-left = "30 mm" }')
BOARDS = COVER.replace(
    "[seams.round]",
    """[pieces.stiff]
of = "board"
cut = 2
shape = "rectangle"
size = ["130 mm", "180 mm"]
lines = ["cover"]
[seams.round]""",
)
# A pouch for a belt: what is left of its back over its front is folded down and riveted to the back, and the front sewn on.
LOOP = """
[hardware.rivet]
what = "rivet"
kind = "rivet"
count = 1
posts = ["8 mm"]
hole = "4 mm"
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["90 mm", "300 mm"]
folds = [{ at = "60 mm from top", inside = "grain" }]
holes = [
  { at = "centre, 10 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "centre, 110 mm from top", punch = "4 mm" },
]
notches = [
  { on = "left", name = "up", at = "150 mm from bottom" }, { on = "right", name = "over", at = "150 mm from bottom" },
]
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["90 mm", "150 mm"]
[seams.round]
stitch = "main"
meet = ["back: left bottom right from notch up to notch over", "front: left bottom right"]
[[steps]]
do = "Fold the loop over and rivet it."
pieces = ["back"]
hardware = ["rivet"]
[[steps]]
do = "Sew the front on."
seams = ["round"]
"""
# A cover that bends at its spine, with a pocket sewn in on its flesh side at the left end of its template.
WRAP = """
[pieces.wrap]
of = "hide"
shape = "rectangle"
size = ["300 mm", "160 mm"]
folds = [{ at = "centre", open = true }]
notches = [{ on = "top", name = "up", at = "60 mm from left" }, { on = "bottom", name = "down", at = "60 mm from left" }]
landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom", inside = true }]
[pieces.pocket]
of = "hide"
shape = "rectangle"
size = ["60 mm", "160 mm"]
[seams.in]
stitch = "main"
meet = ["pocket: bottom right top", "wrap: top left bottom from notch up to notch down"]
[[steps]]
do = "Sew in the pocket."
seams = ["in"]
"""


@cache
def built(text: str) -> Assembled:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "short.toml"
        path.write_text(SHORT_HEAD + text)
        return resolve_build(read_spec(path))


def lies(text: str, part: str) -> Placed:
    """A part with its layers spread as it is drawn."""
    placed = TakenApart(built(text)).lifted.part(Copy(part))
    assert placed is not None
    return placed


def drawn_at(text: str, part: str, x: float, y: float) -> tuple[float, float, float]:
    """Where a point of a part is drawn when all is done."""
    (body,) = (body for body in TakenApart(built(text)).bodies if body.copy == Copy(part))
    at = Point(x, y)
    return body.point(at, body.placed.surface.band_at(body.placed.surface.measure(at)[0]))


def test_a_cover_lies_on_its_back_half_with_the_spine_at_the_left() -> None:
    """Its template is read grain side up: the right half is the front, and lies up; 20 mm beneath it lies the back."""
    cover = lies(COVER, "cover")
    bands = [cover.surface.band_at(cover.surface.measure(Point(x, 100.0))[0]) for x in (70.0, 160.0, 250.0)]
    assert [tuple(round(way, 6) for way in cover.out(band)) for band in bands] == [(0, 0, -1), (-1, 0, 0), (0, 0, 1)]
    front, back = (cover.surface.point(Point(x, 100.0)) for x in (250.0, 70.0))
    assert front == pytest.approx((back[0], back[1], back[2] + 20.0), abs=1e-6)


def test_what_is_folded_is_turned_over_to_be_seen_from_behind() -> None:
    """Else its front half would be seen twice, and the other one never."""
    article = Pictures(built(COVER))._article
    assert article is not None
    assert (article.front.view.eye[2] > 0, article.behind.view.eye[2] > 0) == (True, False)


def test_what_lies_on_a_lining_lies_inside_with_its_grain_to_the_inside() -> None:
    """The lining's right side is in sight from inside, so that its left end is at the right one of the cover."""
    cover, pocket = lies(COVER, "cover"), lies(COVER, "pocket-left")
    assert cover.surface.measure(Point(290.0, 100.0))[0] == pytest.approx(pocket.surface.measure(Point(30.0, 100.0))[0])
    (front_x, front_y, front_z), (x, y, z) = drawn_at(COVER, "cover", 290, 100), drawn_at(COVER, "pocket-left", 30, 100)
    assert (x, y) == pytest.approx((front_x, front_y), abs=1e-6)
    assert z < front_z, "under the front half, whose grain looks up"
    (face,) = (
        face for body in TakenApart(built(COVER)).bodies if body.copy == Copy("pocket-left") for face in body.faces
    )
    assert face.grain == pytest.approx((0.0, 0.0, -1.0), abs=1e-6)


def test_what_lies_on_a_lining_that_fits_only_face_down_is_withheld() -> None:
    """One round corner: the lining cut as its template reads lies with its right side to the leather, so that left and
    right of what lies on it are not those of the cover."""
    reasons = TakenApart(built(ODD_LINING)).withheld
    assert {copy.part: why for copy, why in reasons.items()} == {
        "pocket-left": FACES_UNTOLD,
        "pocket-right": FACES_UNTOLD,
    }


def test_two_boards_behind_one_cover_do_not_both_lie_in_its_middle() -> None:
    reasons = TakenApart(built(BOARDS)).withheld
    assert {(copy.part, copy.number, why) for copy, why in reasons.items()} == {
        ("stiff", 1, PLACE_UNTOLD),
        ("stiff", 2, PLACE_UNTOLD),
    }


def test_what_a_rivet_holds_folded_is_drawn_folded_from_then_on() -> None:
    bodies, (heap,) = TakenApart(built(LOOP)).heaps(1)
    below, loop = (bodies[Copy("back")].placed.out(band) for band in range(2))
    assert below == pytest.approx([-way for way in loop], abs=1e-6)
    assert {copy.part for copy in heap.copies} == {"back", "front"}


def test_what_nothing_holds_folded_lies_flat_while_it_is_sewn() -> None:
    bodies, _ = TakenApart(built(COVER)).heaps(0)
    for part in ("cover", "lining"):
        assert len({tuple(round(way, 6) for way in face.grain) for face in bodies[Copy(part)].faces}) == 1, part


def test_edges_that_meet_where_a_part_lies_face_down_on_its_host_bear_their_own_names() -> None:
    """The flesh side of the wrap is up: what is left on its template is at the right hand."""
    (step,) = plan_work(built(WRAP)).steps
    (line,) = (told for one in step.acts if (told := tell(one)).startswith("Lay pocket"))
    assert "its right edge level with the left edge of wrap" in line.replace("\u00a0", " ")


ZIP = """
[trimmings.zip]
what = "coil zip"
kind = "zip"
width = "32 mm"
thickness = "0.6 mm"
"""
# A flat pouch of two panels with a zip between their tops, each lined; the panels are sewn together after it.
ZIPPED = (
    ZIP
    + """
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["200 mm", "120 mm"]
[pieces.back]
like = "front"
[pieces.front-lining]
of = "silk"
like = "front"
marks = false
[seams.one]
stitch = "main"
meet = ["front: top", "zip: left", "front-lining: top"]
[seams.two]
stitch = "main"
meet = ["back: top", "zip: right"]
[seams.round]
stitch = "main"
meet = ["front: left bottom right", "back: left bottom right"]
[[steps]]
do = "Sew the zip in."
seams = ["one", "two"]
[[steps]]
do = "Sew front and back together."
seams = ["round"]
"""
)
# A box with a zip in a slot of its front.
WINDOW = (
    ZIP
    + """
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["200 mm", "120 mm"]
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
laid = [{ goods = "zip", at = "30 mm from top", stitch = "main", window = "12 mm", clear = "12 mm" }]
[pieces.back]
like = "front"
marks = false
[pieces.wall]
of = "hide"
shape = "strip"
size = ["40 mm", "solve"]
"""
    + TURNED_WALL
    + """
[[steps]]
do = "Lay the zip behind its slot."
pieces = ["front"]
[[steps]]
do = "Sew the wall to front and back, and turn."
seams = ["one", "two"]
"""
)


def absent(text: str, step: int) -> list[tuple[str, ...]]:
    """What each picture of a step (from 1) says that it does not draw."""
    apart = TakenApart(built(text))
    bodies, heaps = apart.heaps(step - 1)
    return [apart.joined(heap, step - 1, bodies).absent for heap in heaps]


def test_goods_by_length_are_named_below_the_pictures_of_steps() -> None:
    """A zip is drawn once all is done; webbing laid in its stead is named there too."""
    assert absent(ZIPPED, 1) == [("coil zip",)]
    assert absent(WINDOW, 2) == [("coil zip",)]
    assert TakenApart(built(WINDOW)).closed.absent == ()
    webbing = WINDOW.replace('kind = "zip"', 'kind = "webbing"').replace(', window = "12 mm", clear = "12 mm"', "")
    assert TakenApart(built(webbing)).closed.absent == ("coil zip",)


def test_what_a_zip_holds_together_is_not_drawn_apart() -> None:
    with pytest.raises(UnsureError, match="coil zip, which is not drawn, holds its parts together already"):
        TakenApart(built(ZIPPED)).heaps(1)


# A box whose wall is of two strips, turned right side out.
TURNED_BOX = (
    """
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["200 mm", "120 mm"]
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
landings = [{ piece = "label", at = "20 mm from left, 20 mm from bottom" }]
[pieces.back]
like = "front"
marks = false
[pieces.label]
of = "hide"
shape = "rectangle"
size = ["40 mm", "30 mm"]
[pieces.half]
of = "hide"
cut = 2
shape = "strip"
size = ["40 mm", "solve"]
[joins.wall]
of = ["half", "half"]
overlap = "10 mm"
stitch = "main"
[seams.on]
stitch = "main"
meet = ["label: all", "front"]
"""
    + TURNED_WALL
    + """
[[steps]]
do = "Sew the label on, and join the wall."
seams = ["on"]
joins = ["wall"]
[[steps]]
do = "Sew the wall to front and back, and turn."
seams = ["one", "two"]
"""
)


def off_plane(one: Vec, at: Vec, other: Vec) -> float:
    """How far a point lies the way that a face looks, from a point of it."""
    return inner(one, minus(other, at))


def test_what_is_turned_lies_inside_out_while_it_is_sewn() -> None:
    """All flesh sides look away from the middle of the box; what is sewn on the grain of the front lies inside; the left
    edge of that is at the right."""
    bodies, (heap,) = TakenApart(built(TURNED_BOX)).heaps(1)
    assert {copy.part for copy in heap.copies} == {"front", "back", "label", "wall"}
    front, back = (bodies[Copy(part)].placed for part in ("front", "back"))
    middle = times(plus(front.surface.point(Point(100, 60)), back.surface.point(Point(100, 60))), 0.5)
    for copy in heap.copies:
        for face in bodies[copy].faces if copy.part != "label" else ():
            assert off_plane(face.grain, face.corners[0], middle) > 0, copy.part
    left, right = (front.surface.point(Point(x, 60)) for x in (0, 200))
    assert (left[1], right[1]) == pytest.approx((right[1], left[1]))
    assert left[0] > right[0], "the flesh of the front looks at whoever stands before it"
    (label,), (panel,) = bodies[Copy("label")].faces, bodies[Copy("front")].faces
    assert off_plane(panel.grain, panel.corners[0], label.corners[0]) > 0
    ways = {one.copies[0].part: tuple(round(part, 6) for part in one.way) for one in heap.moved}
    assert ways == {"front": (0, -1, 0), "back": (0, 1, 0)}


def test_what_is_turned_lies_right_side_out_when_all_is_done() -> None:
    bodies = {body.copy: body for body in TakenApart(built(TURNED_BOX)).closed.bodies}
    front, back = (bodies[Copy(part)].placed for part in ("front", "back"))
    middle = times(plus(front.surface.point(Point(100, 60)), back.surface.point(Point(100, 60))), 0.5)
    assert all(off_plane(face.grain, face.corners[0], middle) < 0 for body in bodies.values() for face in body.faces)


def test_edges_are_there_until_they_are_turned_in() -> None:
    """4 mm in from the edge on three sides: 120 high and 200 wide, 116 and 192 once turned."""
    apart = TakenApart(built(TURNED_BOX))
    (closed,) = (body for body in apart.closed.bodies if body.copy == Copy("front"))
    for step in range(2):
        assert _size(apart.heaps(step)[0][Copy("front")]) == pytest.approx((200, 120))
    assert _size(closed) == pytest.approx((192, 116))


def _size(body: Body) -> tuple[float, float]:
    xs, ys = zip(*body.placed.ring, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_no_line_of_a_wall_goes_beyond_what_is_seen_of_it() -> None:
    """The joint of its strips runs across 40 mm of leather, of which 32 are seen."""
    (wall,) = (body for body in TakenApart(built(TURNED_BOX)).bodies if body.copy == Copy("wall"))
    joints = [line for line in wall.lines if line.kind == "joint"]
    assert [math.dist(line.start, line.end) for line in joints] == pytest.approx([32.0])


# A pouch whose flap bends to the flesh side; its front lies on the grain side, where no snap can close, or on the other.
POUCH = """
[hardware.cap]
what = "snap, cap half"
kind = "snap"
count = 1
[hardware.stud]
what = "snap, stud half"
kind = "snap"
count = 1
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["90 mm", "210 mm"]
folds = [{ at = "110 mm from top", open = true, angle = 180 }]
holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "cap" }]
landings = [{ piece = "front", at = "centre, 0 from bottom", inside = SIDE }]
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["90 mm", "100 mm"]
holes = [{ at = "centre, 90 mm from bottom", punch = "4 mm", takes = "stud" }]
[seams.round]
stitch = "main"
meet = ["front: left bottom right", "back"]
[[steps]]
do = "Set both halves of the snap."
hardware = ["cap", "stud"]
[[steps]]
do = "Sew the front on."
seams = ["round"]
"""


def test_a_snap_whose_halves_look_away_from_each_other_withholds_its_parts() -> None:
    """The flap goes round the back, the stud looks out in front."""
    parts = {copy.part for copy in TakenApart(built(POUCH.replace("SIDE", "false"))).withheld}
    assert parts == {"back", "front"}
    assert not TakenApart(built(POUCH.replace("SIDE", "true"))).withheld


def test_edges_that_a_maker_names_as_seen_from_outside_keep_their_names() -> None:
    """The pocket is the same turned over, and its seam says left for what lies at the left of the wrap."""
    (step,) = plan_work(built(WRAP.replace("pocket: bottom right top", "pocket: top left bottom"))).steps
    (line,) = (told for one in step.acts if (told := tell(one)).startswith("Lay pocket"))
    assert "left edges level" in line.replace("\u00a0", " ")


def test_the_front_half_of_a_cover_stays_where_it_lies_when_it_is_laid_flat() -> None:
    bodies, _ = TakenApart(built(COVER)).heaps(0)
    folded, flat = (
        one.surface.point(Point(250.0, 100.0)) for one in (lies(COVER, "cover"), bodies[Copy("cover")].placed)
    )
    assert flat == pytest.approx(folded)


# A holder for cards, folded in its middle over a pocket that ends below the fold.
HOLDER = """
[pieces.cover]
of = "hide"
shape = "rectangle"
size = ["60 mm", "200 mm"]
folds = [{ at = "100 mm from bottom", open = true, angle = 180 }]
notches = [
  { on = "left", name = "up", at = "70 mm from bottom" }, { on = "right", name = "over", at = "70 mm from bottom" },
]
landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom", inside = true }]
[pieces.pocket]
of = "hide"
shape = "rectangle"
size = ["60 mm", "70 mm"]
[seams.in]
stitch = "main"
meet = ["pocket: left bottom right", "cover: left bottom right from notch up to notch over"]
[[steps]]
do = "Sew in the pocket."
seams = ["in"]
"""


@pytest.mark.parametrize("text", [HOLDER, LOOP], ids=["holder", "loop"])
def test_no_line_is_seen_through_the_half_that_lies_over_it(text: str) -> None:
    article = Pictures(built(text))._article
    assert article is not None
    for drawing in (article.front, article.behind):
        count = 0
        for place, one in enumerate(drawing.shown):
            for line in one.body.lines if isinstance(one.body, Body) else ():
                start, end, spans = drawing.seen(place, one, line)
                for low, high in spans:
                    x, y, near = (a + (b - a) * (low + high) / 2 for a, b in zip(start, end, strict=True))
                    over = [side for side in drawing.hider.sides if side is not None and side.depth_at(x, y) > 1.0]
                    assert all(side.near(x, y) <= near + 2 * side.margin for side in over), (one.body.title, line)
                    count += 1
        assert count > 10


def test_a_fold_over_layers_is_closed_round_them() -> None:
    """The leather of the fold runs from one half to the other, with the pocket between them."""
    (cover,) = (body for body in TakenApart(built(HOLDER)).bodies if body.copy == Copy("cover"))
    (bridge,) = cover.bridges
    heights = sorted(at[2] for at in bridge.corners)
    assert heights[:2] == pytest.approx([heights[0]] * 2)
    assert heights[2:] == pytest.approx([heights[3]] * 2)
    (_, _, low), (_, _, top) = sorted(cover.placed.lifts, key=lambda lift: lift[2])
    assert heights[3] - heights[0] == pytest.approx((top - low) * LAYER_MM)
    assert top - low >= 2
    assert {round(at[1], 6) for at in bridge.corners} == {round(cover.placed.surface.point(Point(30.0, 100.0))[1], 6)}


# A bucket: a tab is riveted to its wall, that is joined to a ring, and the base sewn in.
RING = """
[hardware.rivet]
what = "rivet"
kind = "rivet"
count = 1
posts = ["8 mm"]
hole = "4 mm"
[pieces.base]
of = "hide"
shape = "circle"
diameter = "120 mm"
[pieces.wall]
of = "hide"
shape = "strip"
size = ["150 mm", "solve"]
landings = [{ piece = "tab", at = "50 mm from left, 60 mm from start" }]
holes = [{ at = "60 mm from left, 80 mm from start", punch = "4 mm", takes = "rivet", through = ["tab"] }]
[pieces.tab]
of = "hide"
shape = "rectangle"
size = ["20 mm", "40 mm"]
holes = [{ at = "centre, middle", punch = "4 mm" }]
[joins.body]
of = ["wall"]
overlap = "10 mm"
ring = true
stitch = "main"
[seams.foot]
stitch = "main"
meet = ["base: edge", "body: left"]
[[steps]]
do = "Rivet the tab on."
pieces = ["tab", "wall"]
hardware = ["rivet"]
[[steps]]
do = "Close the wall."
joins = ["body"]
[[steps]]
do = "Sew the base in."
seams = ["foot"]
"""


def test_a_strap_on_what_is_sewn_inside_out_is_left_out_and_named() -> None:
    """It lies inside then, in a way that nothing tells; step 3 sews the ends of the duffel in face to face."""
    apart = TakenApart(resolve_build(read_spec(DUFFEL)))
    bodies, (heap,) = apart.heaps(2)
    assert {copy.part for copy in heap.copies} == {"tube", "end"}
    assert apart.joined(heap, 2, bodies).absent == ("grip",)


def test_parts_that_leave_only_upwards_and_lie_in_each_other_are_withheld() -> None:
    """The yoke bends so that both bags hang between its ends, where there is room for one."""
    apart = TakenApart(resolve_build(read_spec(SADDLE_BAGS)))
    with pytest.raises(UnsureError, match="Front and Gusset would lie in each other"):
        apart.heaps(4)


def test_a_ring_lies_flat_until_its_join_closes_it() -> None:
    """A tab is riveted to the body of a bucket before that is joined."""
    build = built(RING)
    bodies, (heap,) = TakenApart(build).heaps(0)
    assert {copy.part for copy in heap.copies} == {"body", "tab"}
    outs = {tuple(round(way, 6) for way in face.grain) for face in bodies[Copy("body")].faces}
    assert outs == {(0.0, 0.0, 1.0)}
    bodies, _ = TakenApart(build).heaps(2)
    assert len({tuple(round(way, 6) for way in face.grain) for face in bodies[Copy("body")].faces}) > 20
