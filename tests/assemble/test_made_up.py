"""Hems, laps, rings, ease at its place, straps that land: what they do to lengths and lines, and what is told of them."""

import math
from collections.abc import Callable

import pytest
from built import piece_of
from short_specs import piece, seam, step

from docgen.assemble import Assembly, assemble
from docgen.geometry.outline import edge_path, outline_box
from docgen.geometry.path import end_point, path_length, start_point
from docgen.resolve import Build

Resolve = Callable[[str], Build]
Put = Callable[[str], Assembly]
Tell = Callable[[str], str]


HEM = 'hems = [{ edges = "top", turn = "20 mm"%s }]\n'
STRIP = '[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n'
ROUND = seam("round", "back: left bottom right", "gusset: left")


def test_a_row_along_a_hem_counts_from_the_fold(resolve_text: Resolve) -> None:
    """20 mm are turned over of 150: the fold lies at 130, the stitches 4 mm below it."""
    build = resolve_text(
        piece("back", 200, 150, HEM % "") + piece("lining", 200, 130) + seam("s", "back: top", "lining: top")
    )
    (line,) = piece_of(build, "back").marks.stitch_lines
    assert (start_point(line.path).y, end_point(line.path).y) == pytest.approx((126, 126))
    double = resolve_text(
        piece("back", 200, 150, HEM % ", double = true") + piece("l", 200, 110) + seam("s", "back: top", "l: top")
    )
    (line,) = piece_of(double, "back").marks.stitch_lines
    assert start_point(line.path).y == pytest.approx(150 - 2 * 20 - 4)


def test_a_gusset_is_as_long_as_the_panel_between_its_folds(resolve_text: Resolve) -> None:
    """Two sides of 130 mm, less 4 at the foot, and a foot of 200 less 8: 444 mm, and not 484."""
    build = resolve_text(piece("back", 200, 150, HEM % "") + STRIP + ROUND)
    assert build.seams[0].length_mm == pytest.approx(2 * 126 + 192)
    assert outline_box(piece_of(build, "gusset").outline).height == pytest.approx(444)
    assert outline_box(piece_of(build, "back").outline).height == pytest.approx(150), "it is cut with its hem"


def test_a_hem_beside_rounded_corners_ends_on_them(resolve_text: Resolve) -> None:
    """A fold 20 mm from a top with corners of 30 mm: the circle is there 30 - sqrt(30^2 - 10^2) mm in from the side."""
    back = piece("back", 200, 150, HEM % "" + 'round = { top-left = "30 mm", top-right = "30 mm" }\n')
    folded = piece_of(resolve_text(back), "back").sewn_outline
    fold = edge_path(folded, "top")
    across_mm = 30 - math.sqrt(30**2 - 10**2)
    assert start_point(fold) == pytest.approx((200 - across_mm, 130))
    assert end_point(fold) == pytest.approx((across_mm, 130))
    assert path_length(edge_path(folded, "top-left")) == pytest.approx(30 * math.asin(10 / 30))


def test_a_hem_round_a_corner_is_turned_along_both_edges(resolve_text: Resolve) -> None:
    back = piece(
        "back", 200, 150, 'hems = [{ edges = "left bottom", turn = "8 mm" }]\nround = { bottom-left = "20 mm" }\n'
    )
    folded = piece_of(resolve_text(back), "back").sewn_outline
    box = outline_box(folded)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((8, 8, 200, 150))
    assert path_length(edge_path(folded, "bottom-left")) == pytest.approx(12 * math.pi / 2), "20 mm less 8"


def test_a_hem_all_round_leaves_what_lies_inside_it(resolve_text: Resolve) -> None:
    disc = (
        '[pieces.disc]\nof = "body"\nshape = "circle"\ndiameter = "100 mm"\nhems = [{ edges = "all", turn = "8 mm" }]\n'
    )
    assert outline_box(piece_of(resolve_text(disc), "disc").sewn_outline).width == pytest.approx(84)


def test_a_pocket_lands_as_large_as_it_is_made_up(resolve_text: Resolve) -> None:
    """Cut 60 mm high with a hem of 20: its outline on the front is 40 mm high, and the seam runs along that."""
    bag = piece("pocket", 80, 60, HEM % "")
    bag += piece("front", 200, 150, 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]\n')
    build = resolve_text(bag + seam("s", "pocket: left bottom right", "front"))
    (landing,) = piece_of(build, "front").marks.landings
    ys = [segment.start.y for segment in landing.outline.segments]
    assert (min(ys), max(ys)) == pytest.approx((30, 70))
    assert build.seams[0].length_mm == pytest.approx(2 * (40 - 4) + 72)


def test_a_lining_like_its_panel_has_no_hem_of_its_own(resolve_text: Resolve) -> None:
    build = resolve_text(piece("back", 200, 150, HEM % "") + '[pieces.lining]\nlike = "back"\nof = "cloth"\n')
    assert piece_of(build, "lining").hems == ()
    same = resolve_text(piece("back", 200, 150, HEM % "") + '[pieces.front]\nlike = "back"\n')
    assert len(piece_of(same, "front").hems) == 1


def test_a_lapped_seam_has_its_line_as_far_from_the_lower_edge_as_is_left_of_the_lap(resolve_text: Resolve) -> None:
    """12 mm over each other, sewn 4 mm in from the upper edge: 8 mm in from the lower one."""
    bag = piece("front", 200, 150) + piece("back", 200, 150)
    build = resolve_text(bag + seam("side", "front: right", "back: left", more='lap = "12 mm"\n'))
    assert start_point(piece_of(build, "front").marks.stitch_lines[0].path).x == pytest.approx(196)
    assert start_point(piece_of(build, "back").marks.stitch_lines[0].path).x == pytest.approx(8)


def test_two_rows_of_a_lap_cross_over(resolve_text: Resolve) -> None:
    """Rows 4 and 7 mm from the upper edge lie 8 and 5 mm from the lower one."""
    two = '[stitches.two]\nby = "machine"\nthread = "Tex 135 bonded nylon"\npitch = "4 mm"\ninset = "4 mm"\n'
    two += 'rows = 2\nrow-gap = "3 mm"\n'
    bag = two + piece("front", 200, 150) + piece("back", 200, 150)
    text = bag + seam("side", "front: right", "back: left", more='lap = "12 mm"\n').replace('"main"', '"two"')
    lines = piece_of(resolve_text(text), "back").marks.stitch_lines
    assert [start_point(line.path).x for line in lines] == pytest.approx([8, 5])


def test_a_ring_is_cut_longer_by_its_overlap(resolve_text: Resolve) -> None:
    """A wall round a base of 120 mm: once round its stitch line, pi (120 - 8), and 10 mm to lie over its beginning."""
    base = '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "120 mm"\n'
    wall = '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["80 mm", "solve"]\n'
    ring = '[joins.wall]\nof = ["strip"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
    build = resolve_text(base + wall + ring + seam("foot", "base: all", "wall: left"))
    assert outline_box(piece_of(build, "strip").outline).height == pytest.approx(math.pi * 112 + 10)
    assert build.joins[0].length_mm == pytest.approx(math.pi * 112)
    made = assemble(build)
    (joint,) = made.runs
    assert (joint.runs, joint.stack.usual_mm) == (1, pytest.approx(4))
    stack = made.stack("foot")
    assert (stack.thinnest_mm, stack.usual_mm, stack.thickest_mm) == pytest.approx((4, 4, 6))


def test_a_ring_of_two_strips_has_two_joints(put_together: Put) -> None:
    strips = piece("half", 60, 200, "cut = 2\n")
    ring = '[joins.wall]\nof = ["half", "half"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
    (run,) = put_together(strips + ring).runs
    assert run.runs == 2


EASED = seam("s", "a: left top", "b: left top", more='ease = "6 mm"\n%s')


def test_what_is_eased_in_at_a_place_leaves_the_other_holes_where_they_are(resolve_text: Resolve) -> None:
    """Both tops are alike, b's left is 6 mm longer: along the top, after the place, each hole of b is 6 mm farther on,
    as far from the end as that of a. Spread over the whole run the middle of the top would miss."""
    bag = piece("a", 200, 150) + piece("b", 200, 156)
    (made,) = resolve_text(bag + EASED % 'ease-at = "left"\n').seams
    whole_mm = made.sides[1].length_mm
    assert whole_mm - made.length_mm == pytest.approx(6)
    own, eased = made.holes_mm, made.holes_on(whole_mm)
    from_end = [(made.length_mm - hole, whole_mm - other) for hole, other in zip(own, eased, strict=True)]
    assert all(a == pytest.approx(b) for a, b in from_end if a <= 190)
    (spread,) = resolve_text(bag + EASED % "").seams
    middle = len(spread.holes_mm) * 3 // 4
    missed_mm = (made.length_mm - spread.holes_mm[middle]) - (whole_mm - spread.holes_on(whole_mm)[middle])
    assert abs(missed_mm) > 1


def test_a_strap_lands_with_the_end_that_is_held(resolve_text: Resolve) -> None:
    strap = '[straps.handle]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\n'
    places = ", ".join(
        f'{{ strap = "handle", end = "{end}", at = "{x} mm from left, 40 mm from top", over = "30 mm" }}'
        for end, x in (("first", 50), ("second", 150))
    )
    build = resolve_text(piece("front", 200, 150, f"landings = [{places}]\n") + strap)
    first, second = piece_of(build, "front").strap_landings
    assert [(landing.end, landing.at) for landing in (first, second)] == [
        (0, pytest.approx((50, 110))),
        (1, pytest.approx((150, 110))),
    ]
    corners = [segment.start for segment in first.outline.segments]
    assert sorted(corners) == [pytest.approx(at) for at in ((40, 110), (40, 140), (60, 110), (60, 140))]


def test_a_strap_that_landed_is_under_a_later_seam(put_together: Put) -> None:
    """A strap of 2 mm lies over the top edge, 20 mm of 200: 4 mm, and 6 where it is."""
    strap = '[straps.handle]\nof = "body"\nwidth = "20 mm"\nfinished = "300 mm"\n'
    place = '{ strap = "handle", at = "centre, 30 mm from top", over = "40 mm" }'
    bag = piece("front", 200, 150, f"landings = [{place}]\n") + piece("facing", 200, 30) + strap
    bag += seam("mouth", "front: top", "facing: top") + step("Tack the handle on.", pieces="front", straps="handle")
    stack = put_together(bag + step("Sew.", seams="mouth")).stack("mouth")
    assert (stack.thinnest_mm, stack.usual_mm, stack.thickest_mm) == pytest.approx((4, 4, 6))


WRONG = {
    "a hem along a curve": (
        '[pieces.flap]\nof = "body"\nshape = "outline"\npoints = [{ at = ["0", "0"] }, { at = ["100 mm", "0"] }, '
        '{ at = ["100 mm", "50 mm"], edge = "bow", curve = ["80 mm", "90 mm", "20 mm", "90 mm"] }, '
        '{ at = ["0", "50 mm"] }]\n'
        'hems = [{ edges = "bow", turn = "8 mm" }]\n',
        "this hem cannot be turned: the edge 'bow' is curved",
        "a hem begins and ends with a straight edge, or goes all round; turn less, or name other edges",
    ),
    "a hem of an edge that is not there": (
        piece("back", 200, 150, 'hems = [{ edges = "topp", turn = "8 mm" }]\n'),
        'there is no edge "topp" on this piece',
        'did you mean "top"?',
    ),
    "a lap that its stitch misses": (
        piece("a", 200, 150) + piece("b", 200, 150) + seam("s", "a: right", "b: left", more='lap = "3 mm"\n'),
        'the seam "s" laps 3 mm, and its stitch lies 4 mm from the edge',
        "lap farther over, or sew nearer to the edge",
    ),
    "ease along what is no side": (
        piece("a", 200, 150) + piece("b", 200, 156) + EASED % 'ease-at = "bottom"\n',
        '"bottom" is no part of the first side of the seam "s", left top',
        "name neighbouring edges of it, in its order",
    ),
    "an angle of a closed fold": (
        piece("a", 200, 150, 'folds = [{ at = "middle", angle = 90 }]\n'),
        "only an open fold bends by an angle; a closed one lies on itself",
        "write open = true, or leave angle out",
    ),
    "a landing of nothing": (
        piece("a", 200, 150, 'landings = [{ at = "centre, middle" }]\n'),
        "this landing names nothing that lands",
        "write piece = ..., or strap = ...",
    ),
    "a piece held by an end": (
        piece("b", 20, 20)
        + piece("a", 200, 150, 'landings = [{ piece = "b", end = "first", at = "centre, middle" }]\n'),
        "only a strap is held by an end",
        "leave it out, or write strap in place of piece",
    ),
    "a strap beside the piece": (
        '[straps.h]\nof = "body"\nwidth = "20 mm"\nfinished = "90 mm"\n'
        + piece("a", 200, 150, 'landings = [{ strap = "h", at = "centre, 160 mm from top" }]\n'),
        'the end of "h" would land beside this piece',
        "measure again; the middle of the end must lie on the leather",
    ),
    "one strip that is no ring": (
        piece("s", 60, 200) + '[joins.j]\nof = ["s"]\noverlap = "9 mm"\nstitch = "main"\n',
        'the join "j" has one strip only',
        "name two or more strips, in order, or write ring = true when it closes on itself",
    ),
    "a divider beside the piece": (
        piece("a", 200, 150, 'dividers = [{ at = "300 mm from left", stitch = "main" }]\n'),
        "the dividing line does not cross the piece",
        "measure again from the edge",
    ),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_cannot_be_made_up_is_told_once_with_its_mend(messages: Tell, case: str) -> None:
    text, what, mend = WRONG[case]
    told = messages(text)
    assert told.count("error:") == 1
    assert what in told
    assert f"mend:    {mend}" in told
    assert "written:" in told
