"""Parallel lines against closed forms and shapely's buffer (256 chords to a quarter circle)."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint

from docgen.geometry.inset import inset_outline, inset_run, skive_band
from docgen.geometry.outline import (
    Corner,
    circle_outline,
    corner_names,
    corner_outline,
    edge_names,
    edge_path,
    outline_box,
    outline_path,
    rectangle_outline,
    strip_outline,
)
from docgen.geometry.path import end_point, flatten, path_area, path_length, reverse_path, start_point
from docgen.geometry.run import run_path
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Arc, Edge, GeometryError, Line, Outline, Path, Point
from docgen.geometry.turning import turn_edges
from docgen.geometry.vector import distance

few = settings(max_examples=60, derandomize=True, deadline=None)
PANEL = rectangle_outline(200, 150, {"bottom-left": 30, "bottom-right": 30})
U_RUN = ("left", "bottom", "right")


def polygon(outline):
    return Polygon(flatten(outline_path(outline), 0.0005))


def sharp(*points):
    return corner_outline([Corner(Point(*p)) for p in points])


def is_joined(path):
    ends = [segment_end(s) for s in path.segments]
    starts = [segment_start(s) for s in path.segments]
    gaps = [distance(ends[k - 1], starts[k]) for k in range(0 if path.closed else 1, len(starts))]
    return all(gap < 1e-6 for gap in gaps)


def rounded(path):
    """The corners of a path of straight lines, to a millionth of a mm."""
    return [(round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in flatten(path)]


def test_the_stitch_line_of_a_rounded_panel_has_its_closed_form():
    edge, stitches = run_path(PANEL, U_RUN), inset_run(PANEL, U_RUN, 4)
    # straight parts as before, two quarter circles of 26 instead of 30 mm: from the definitions
    assert path_length(stitches) == pytest.approx(380 + 26 * math.pi, rel=1e-12)
    assert round(path_length(edge), 2) == 474.25
    assert round(path_length(stitches), 2) == 461.68
    assert path_length(edge) - path_length(stitches) == pytest.approx(4 * math.pi)
    assert start_point(stitches) == pytest.approx((4, 150))
    assert end_point(stitches) == pytest.approx((196, 150))
    assert not stitches.closed
    assert is_joined(stitches)


def test_named_the_other_way_the_stitch_line_runs_the_other_way():
    assert inset_run(PANEL, U_RUN[::-1], 4) == reverse_path(inset_run(PANEL, U_RUN, 4))


def test_sharp_corners_are_mitred_and_free_ends_stay_flush():
    sheet = rectangle_outline(200, 150)
    assert rounded(inset_run(sheet, U_RUN, 4)) == [(4, 150), (4, 4), (196, 4), (196, 150)]
    assert path_length(inset_run(sheet, ("left",), 4)) == 150


def test_a_rounding_up_to_the_inset_comes_out_sharp():
    for radius in (3, 4, 4 + 1e-9):
        sheet = rectangle_outline(200, 150, {"bottom-left": radius})
        line = inset_run(sheet, ("left", "bottom"), 4)
        assert rounded(line) == [(4, 150), (4, 4), (200, 4)]


def test_concave_roundings_grow_and_concave_corners_are_mitred():
    points = [(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)]
    round_ell = corner_outline([Corner(Point(*p), radius=10 if p == (40, 40) else 0) for p in points])
    line = inset_run(round_ell, ("edge-3", "edge-4"), 5)
    (arc,) = [s for s in line.segments if isinstance(s, Arc)]
    assert (arc.radius, arc.sweep) == pytest.approx((15, -math.pi / 2))
    assert path_length(line) == pytest.approx(100 + 7.5 * math.pi)
    ell = sharp(*points)
    assert rounded(inset_run(ell, ("edge-3", "edge-4"), 5)) == [(100, 35), (35, 35), (35, 100)]


def test_all_gives_the_closed_parallel():
    ring = inset_run(PANEL, ("all",), 4)
    assert ring.closed
    assert is_joined(ring)
    assert path_area(ring) == pytest.approx(192 * 142 - 2 * (26 * 26 - 26 * 26 * math.pi / 4))
    disc = inset_run(circle_outline(50), ("edge",), 4)
    assert path_length(disc) == pytest.approx(42 * math.pi)
    assert disc.closed


def test_every_edge_named_gives_an_open_line_that_meets_itself():
    sheet = rectangle_outline(200, 150)
    line = inset_run(sheet, ("bottom", "right", "top", "left"), 4)
    assert not line.closed
    assert rounded(line) == [(4, 4), (196, 4), (196, 146), (4, 146), (4, 4)]


def test_a_rounded_strap_end_without_a_straight_part_has_a_stitch_line():
    strap = strip_outline(30, 300, {"end-left": 15, "end-right": 15})
    assert path_length(inset_run(strap, ("right", "end", "left"), 3)) == pytest.approx(570 + 12 * math.pi)


def test_an_inset_of_nothing_is_the_run_itself():
    assert inset_run(PANEL, U_RUN, 0) == run_path(PANEL, U_RUN)
    assert inset_outline(PANEL, 0) == PANEL


def test_beyond_a_corner_sharper_than_a_right_angle_the_line_stops_at_the_edge():
    wedge = sharp((0, 0), (100, 0), (100, 100))
    line = inset_run(wedge, ("edge-1",), 5)
    # the slope through (0, 0) and (100, 100) meets y = 5 at x = 5
    assert rounded(line) == [(5, 5), (100, 5)]
    back = inset_run(wedge, ("edge-2",), 5)
    assert rounded(back) == [(95, 0), (95, 95)]


def test_beyond_a_sharp_corner_with_a_curve_the_line_stops_at_the_curve():
    fin = corner_outline(
        [Corner(Point(0, 0)), Corner(Point(100, 0)), Corner(Point(100, 60), handles=(Point(60, 55), Point(20, 40)))]
    )
    line = inset_run(fin, ("edge-1",), 5)
    bow = LineString(flatten(edge_path(fin, "edge-3"), 0.0005))
    assert bow.distance(ShapelyPoint(start_point(line))) < 0.003
    assert end_point(line) == pytest.approx((100, 5))


def test_beside_a_blunt_corner_the_line_keeps_its_length():
    trapezium = sharp((20, 0), (80, 0), (100, 50), (0, 50))
    assert path_length(inset_run(trapezium, ("edge-1",), 5)) == pytest.approx(60)


CURVED = corner_outline(
    [
        Corner(Point(0, 0), edge="base"),
        Corner(Point(100, 0), edge="flank", handles=(Point(130, 30), Point(70, 60))),
        Corner(Point(100, 100), edge="crown", handles=(Point(70, 130), Point(30, 130))),
        Corner(Point(0, 100), edge="back"),
    ]
)


@pytest.mark.parametrize("inset", [0.5, 4, 12, 25])
def test_the_parallel_of_a_curved_outline_agrees_with_shapely(inset):
    ring = inset_run(CURVED, ("all",), inset)
    # outside check: shapely buffer inwards, mitred like ours
    expected = polygon(CURVED).buffer(-inset, join_style="mitre", mitre_limit=50)
    ours = Polygon(flatten(ring))
    assert ours.symmetric_difference(expected).area < 0.002 * expected.length
    assert is_joined(ring)


def test_the_parallel_of_one_curve_keeps_its_distance_all_along():
    line = inset_run(CURVED, ("crown",), 6)
    drawn = LineString(flatten(run_path(CURVED, ("crown",)), 0.0005))
    for place in flatten(line)[1:-1]:
        assert drawn.distance(ShapelyPoint(place)) == pytest.approx(6, abs=0.004)


widths = st.floats(40, 200).map(lambda x: round(x, 1))
radii = st.fixed_dictionaries(
    {name: st.sampled_from([0.0, 2.0, 6.5, 18.0]) for name in ("bottom-left", "bottom-right", "top-right")}
)


@few
@given(widths, widths, radii, st.floats(0.5, 15))
def test_inset_rectangles_agree_with_shapely(width, height, radii, inset):
    outline = rectangle_outline(width, height, radii)
    # outside check: a round-cornered shape buffered inwards keeps sharp corners sharp and concentric arcs
    expected = polygon(outline).buffer(-inset, quad_segs=256, join_style="mitre", mitre_limit=50)
    smaller = inset_outline(outline, inset)
    assert path_area(outline_path(smaller)) == pytest.approx(expected.area, rel=2e-4)
    assert path_length(outline_path(smaller)) == pytest.approx(expected.length, rel=2e-4)
    assert edge_names(smaller) == edge_names(outline)


@few
@given(
    st.lists(st.floats(30, 100), min_size=5, max_size=9),
    st.sampled_from([-6.0, -2.0, 1.0, 3.0, 5.0]),
    st.sampled_from([0.0, 1.5, 4.0]),
)
def test_inset_polygons_agree_with_shapely(spokes, inset, radius):
    turn = 2 * math.pi / len(spokes)
    corners = [
        Corner(Point(r * math.cos(k * turn), r * math.sin(k * turn)), radius=radius) for k, r in enumerate(spokes)
    ]
    outline = corner_outline(corners)
    moved = inset_outline(outline, inset)
    # outside check: each edge's parallel lies `inset` inside its own line
    for name in edge_names(outline):
        old, new = edge_path(outline, name), edge_path(moved, name)
        line = LineString(flatten(old))
        a, b = line.coords[0], line.coords[-1]
        along = ((b[0] - a[0]) / line.length, (b[1] - a[1]) / line.length)
        for place in (start_point(new), end_point(new)):
            off = along[0] * (place[1] - a[1]) - along[1] * (place[0] - a[0])
            assert off == pytest.approx(inset, abs=1e-6)
    assert is_joined(outline_path(moved))
    if radius == 0:
        expected = polygon(outline).buffer(-inset, join_style="mitre", mitre_limit=50)
        assert path_area(outline_path(moved)) == pytest.approx(expected.area, rel=1e-3)


def test_a_grown_outline_keeps_sharp_corners_sharp_and_widens_round_ones():
    grown = inset_outline(PANEL, -5)
    box = outline_box(grown)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-5, -5, 205, 155))
    assert edge_path(grown, "bottom-left").segments[0].radius == 35
    assert path_area(outline_path(grown)) == pytest.approx(210 * 160 - 2 * 35 * 35 * (1 - math.pi / 4))


def test_an_inset_outline_loses_small_roundings_and_keeps_names():
    smaller = inset_outline(rectangle_outline(200, 150, {"bottom-left": 30, "top-left": 3}), 4)
    assert corner_names(smaller) == ("bottom-left",)
    assert edge_names(smaller) == ("bottom", "right", "top", "left")
    assert path_length(edge_path(smaller, "right")) == pytest.approx(142)


def test_an_edge_without_length_stays_one_inside_and_outside():
    strap = strip_outline(30, 300, {"end-left": 15, "end-right": 15})
    for inset, top in ((3, 297), (-3, 303)):
        moved = inset_outline(strap, inset)
        assert edge_names(moved) == edge_names(strap)
        assert edge_path(moved, "end").segments[0].start == pytest.approx((15, top))
        assert path_length(edge_path(moved, "end")) == 0


def test_an_outline_of_a_circle_grows_and_shrinks():
    assert path_area(outline_path(inset_outline(circle_outline(50), 5))) == pytest.approx(400 * math.pi)
    assert path_area(outline_path(inset_outline(circle_outline(50), -5))) == pytest.approx(900 * math.pi)


def half_disc():
    """A half circle of 40 mm on a straight base: sharp corners between a line and an arc."""
    return Outline(
        (
            Edge("base", Path((Line(Point(-40, 0), Point(40, 0)),))),
            Edge("bow", Path((Arc(Point(0, 0), 40, 0, math.pi),))),
        )
    )


@pytest.mark.parametrize("inset", [2, 10, 19])
def test_a_sharp_corner_between_line_and_arc_is_cut_where_they_meet(inset):
    ring = inset_run(half_disc(), ("all",), inset)
    expected = polygon(half_disc()).buffer(-inset, quad_segs=256, join_style="mitre")
    assert path_area(ring) == pytest.approx(expected.area, rel=1e-3)
    assert is_joined(ring)


def test_growing_beside_an_arc_goes_straight_on_to_the_mitre():
    ring = outline_path(inset_outline(half_disc(), -5))
    # the half disc of 45 mm and the rectangle of 90 x 5 mm below it
    assert path_area(ring) == pytest.approx(45**2 * math.pi / 2 + 450)
    assert is_joined(ring)


def test_two_arcs_that_meet_in_a_point_are_cut_where_their_parallels_meet():
    lens = Outline(
        (
            Edge("lower", Path((Arc(Point(0, 30), 50, math.atan2(-30, -40), 2 * math.atan2(40, 30)),))),
            Edge("upper", Path((Arc(Point(0, -30), 50, math.atan2(30, 40), 2 * math.atan2(40, 30)),))),
        )
    )
    ring = inset_run(lens, ("all",), 5)
    expected = polygon(lens).buffer(-5, quad_segs=256, join_style="mitre")
    assert path_area(ring) == pytest.approx(expected.area, rel=1e-3)
    assert start_point(ring) == pytest.approx((-math.sqrt(45**2 - 900), 0))


def test_a_band_lies_between_the_run_and_its_parallel():
    band = skive_band(PANEL, U_RUN, 10)
    assert band.closed
    assert is_joined(band)
    # 380 mm straight, and two quarter rings between 30 and 20 mm
    assert abs(path_area(band)) == pytest.approx(3800 + (900 - 400) * math.pi / 2)
    assert Polygon(flatten(band)).is_valid
    assert abs(path_area(skive_band(PANEL, U_RUN[::-1], 10))) == pytest.approx(abs(path_area(band)))


def test_a_band_round_a_whole_outline_is_cut_open_once():
    band = skive_band(circle_outline(50), ("all",), 5)
    assert path_area(band) == pytest.approx((625 - 400) * math.pi)
    assert path_length(band) == pytest.approx(90 * math.pi + 10)


def dumb_bell():
    """Two squares of 40 mm joined by a bar 10 mm high."""
    lower = [(0, 0), (40, 0), (40, 15), (80, 15), (80, 0), (120, 0)]
    return sharp(*lower, *((x, 40 - y) for x, y in reversed(lower)))


def round_strap():
    return strip_outline(30, 90, {"end-left": 15, "end-right": 15})


SLIVER, NARROW = sharp((0, 0), (100, 0), (100, 5)), rectangle_outline(6, 100)
U_END, FOUR = ("right", "end", "left"), ("edge-1", "edge-2", "edge-3", "edge-4")


def slotted():
    """A sheet with a slot that ends 5 mm above its bottom."""
    return sharp((0, 0), (100, 0), (100, 60), (50, 60), (50, 5), (48, 5), (48, 60), (0, 60))


@pytest.mark.parametrize(
    ("inset", "call", "why"),
    [
        (12, lambda: inset_outline(rectangle_outline(100, 20), 12), "nothing is left of the edge 'right'"),
        (10, lambda: inset_outline(rectangle_outline(100, 20), 10), "nothing is left of the edge 'right'"),
        (10, lambda: inset_outline(circle_outline(20), 10), "nothing is left"),
        (6, lambda: inset_outline(dumb_bell(), 6), "its line crosses itself near (86.0, 21.0) mm"),
        (7, lambda: inset_run(rectangle_outline(100, 6), U_RUN, 7), "nothing is left of the edge 'left'"),
        (16, lambda: inset_run(round_strap(), U_END, 16), "its lines do not meet near (15.0, 75.0) mm"),
        (6, lambda: inset_run(SLIVER, ("edge-1",), 6), "it leaves the piece near (0.0, 6.0) mm"),
        (4, lambda: inset_run(slotted(), FOUR, 4), "its line comes too close to the edge near (50.0, 5.0) mm"),
        (4, lambda: inset_run(NARROW, U_RUN, 4), "nothing is left of the edge 'bottom'"),
        (8, lambda: inset_run(NARROW, ("left",), 8), "the line beside 'left' leaves the piece near (8.0, 100.0) mm"),
        (6, lambda: inset_run(NARROW, ("left",), 6), "the line beside 'left' leaves the piece near (6.0, 0.0) mm"),
    ],
)
def test_an_inset_that_is_too_large_says_why(inset, call, why):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == f"an inset of {inset} mm is too large for this shape: {why}"


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: inset_run(round_strap(), ("end",), 3), "the edge 'end' has no length to sew along"),
        (lambda: inset_run(PANEL, U_RUN, math.nan), "an inset of nan mm is not a length"),
        (lambda: inset_outline(PANEL, math.inf), "an inset of inf mm is not a length"),
        (lambda: skive_band(PANEL, U_RUN, 0), "a band needs a width above 0 mm, not 0 mm"),
        (lambda: inset_run(PANEL, ("side",), 4), "there is no edge 'side'; the edges are bottom, right, top, left"),
    ],
)
def test_parallels_that_do_not_exist_say_why(call, message):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == message


def test_the_parallel_of_many_curves():
    def at(k, radius):
        return Point(radius * math.cos(2 * math.pi * k / 100), radius * math.sin(2 * math.pi * k / 100))

    def ring_of(handles):
        return corner_outline(
            [Corner(at(k, 100), handles=(at(k + 0.3, handles), at(k + 0.7, handles))) for k in range(100)]
        )

    ring = inset_run(ring_of(100.3), ("all",), 4)
    expected = polygon(ring_of(100.3)).buffer(-4, join_style="mitre", mitre_limit=50)
    assert path_area(ring) == pytest.approx(expected.area, rel=1e-5)
    # bulges rounder than the inset: never nearer than shapely's round-cornered parallel
    tight = Polygon(flatten(inset_run(ring_of(102), ("all",), 4)))
    true = polygon(ring_of(102)).buffer(-4, quad_segs=256)
    assert tight.difference(true.buffer(0.005)).is_empty
    assert tight.area > 0.98 * true.area


@pytest.mark.parametrize(
    ("names", "box"),
    [
        (("left",), (5, 0, 100, 60)),
        (("left", "bottom"), (5, 5, 100, 60)),
        (("left", "bottom", "right"), (5, 5, 95, 60)),
        (("top", "left", "bottom"), (5, 5, 100, 55)),
    ],
)
def test_a_run_of_edges_that_is_turned_over_leaves_what_lies_between_its_folds(names, box):
    turned = turn_edges(rectangle_outline(100.0, 60.0), names, 5.0)
    left = outline_box(turned)
    assert (left.left, left.bottom, left.right, left.top) == pytest.approx(box)
    assert path_area(outline_path(turned)) == pytest.approx((box[2] - box[0]) * (box[3] - box[1]))
