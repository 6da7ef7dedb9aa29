"""Layers under a needle at the time it sews: every sum is worked out beside its check."""

import math
from collections.abc import Callable

import pytest
from built import range_of
from short_specs import SEWN_BELT, hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Assembly
from docgen.geometry.path import end_point, path_length, start_point

Put = Callable[[str], Assembly]


HEM = 'hems = [{ edges = "top", turn = "12 mm"%s }]\n'
POCKET = piece("pocket", 80, 60, of="thin")
LANDING = 'landings = [{ piece = "pocket", at = "centre, 0 from bottom" }]\n'


def test_a_mouth_with_a_hem_has_its_leather_twice(put_together: Put) -> None:
    """1.0 mm turned over on itself and a lining of 0.5: 2.5 mm, and not 1.5."""
    text = piece("front", 200, 150, HEM % "", of="thin") + piece("lining", 200, 138, of="cloth")
    stack = put_together(text + seam("mouth", "front: top", "lining: top")).stack("mouth")
    assert range_of(stack) == pytest.approx((2.5, 2.5, 2.5))
    assert [(layer.part, layer.thickness_mm) for layer in stack.layers] == [("front", 1), ("front", 1), ("lining", 0.5)]


def test_a_double_hem_has_three_layers(put_together: Put) -> None:
    text = piece("front", 200, 150, HEM % ", double = true", of="thin") + piece("lining", 200, 126, of="cloth")
    stack = put_together(text + seam("mouth", "front: top", "lining: top")).stack("mouth")
    assert stack.usual_mm == pytest.approx(3 * 1 + 0.5)


@pytest.mark.parametrize(("double", "most_mm"), [(", double = true", 6), ("", 3)])
def test_a_hem_turned_over_a_double_one_takes_its_layers_with_it(put_together: Put, double: str, most_mm: int) -> None:
    """At the ends of a double hem of 1.0 mm over which the sides are turned: three layers twice; of a single one, whose
    corner is cut away, itself and one of each."""
    hems = f'hems = [{{ edges = "top", turn = "12 mm"{double} }}, {{ edges = "left bottom right", turn = "10 mm" }}]\n'
    text = piece("front", 200, 150, hems, of="thin") + seam("mouth", "front: top", "front")
    stack = put_together(text).stack("mouth")
    assert (stack.usual_mm, stack.thickest_mm) == pytest.approx((3 if double else 2, most_mm))


def test_a_skived_hem_is_as_thin_as_its_band_where_the_needle_goes(put_together: Put) -> None:
    """Turned by 12 mm, sewn 4 mm in from the fold: the turned layer is met 8 mm from its cut edge, in a band of 10 mm
    skived to 0.6; that of 6 mm ends before."""
    skive = 'skives = [{ edges = "top", width = "%d mm", to = "0.6 mm" }]\n'
    for band_mm, sum_mm in ((10, 2 + 0.6 + 0.5), (6, 2 + 2 + 0.5)):
        text = piece("front", 200, 150, HEM % "" + skive % band_mm) + piece("lining", 200, 138, of="cloth")
        assert put_together(text + seam("mouth", "front: top", "lining: top")).stack("mouth").usual_mm == pytest.approx(
            sum_mm
        )


def test_a_side_seam_is_thicker_where_it_crosses_a_hem(put_together: Put) -> None:
    """2 + 2 mm, and 2 more over the 12 mm of the hem; the line is 138 mm long."""
    text = piece("front", 200, 150, HEM % "") + piece("back", 200, 138)
    stack = put_together(text + seam("side", "front: left", "back: left")).stack("side")
    assert range_of(stack) == pytest.approx((4, 4, 6))


def test_a_pocket_named_flat_in_the_seam_round_its_host_lies_under_a_part_of_it(resolve_text: Resolve) -> None:
    """Flush with the foot of the back: 2 mm all round, and 1 more over its 80 mm; it was counted all along."""
    text = piece("back", 200, 150, LANDING) + POCKET + piece("lining", 200, 150, of="cloth")
    build = resolve_text(text + seam("round", "pocket", "lining: all", "back: all"))
    stack = build.assembly.stack("round")
    assert range_of(stack) == pytest.approx((2.5, 2.5, 3.5))
    assert stack.landed == ("pocket",)
    assert not build.space.doubts


def test_what_is_sewn_on_later_is_under_no_earlier_needle(put_together: Put) -> None:
    """The pocket lies flush on the bottom of the back: 2 + 2 mm before it is sewn on, and 1 more after, over 80 of 200."""
    bag = piece("back", 200, 150, LANDING) + piece("front", 200, 150) + POCKET
    bag += seam("round", "back: bottom", "front: bottom") + seam("pocket", "pocket: left", "back")
    first = put_together(bag + step("Sew.", seams="round") + step("Sew.", seams="pocket")).stack("round")
    assert range_of(first) == pytest.approx((4, 4, 4))
    after = put_together(bag + step("Sew.", seams="pocket") + step("Sew.", seams="round")).stack("round")
    assert range_of(after) == pytest.approx((4, 4, 5))
    assert after.landed == ("pocket",)


def test_the_order_within_a_step_is_as_written(put_together: Put) -> None:
    bag = piece("back", 200, 150, LANDING) + piece("front", 200, 150) + POCKET
    bag += seam("round", "back: bottom", "front: bottom") + seam("pocket", "pocket: left", "back")
    assert put_together(bag + step("Sew.", seams="round pocket")).stack("round").thickest_mm == pytest.approx(4)
    assert put_together(bag + step("Sew.", seams="pocket round")).stack("round").thickest_mm == pytest.approx(5)


def test_piping_sewn_on_before_is_in_the_seam_that_shuts_it_in(put_together: Put) -> None:
    """A strip of 1 mm, 20 mm wide, folded along its middle: its edges lie on each other, 1 + 1 mm between 2 and 2."""
    pipe = piece("pipe", 20, 142, 'folds = [{ at = "centre" }]\n', of="thin")
    bag = piece("front", 200, 142) + piece("side", 60, 142) + pipe
    bag += seam("piping", "pipe: left", "front: left") + seam("close", "front: left", "side: left")
    made = put_together(bag + step("Pipe.", seams="piping") + step("Close.", seams="close"))
    assert range_of(made.stack("piping")) == pytest.approx((4, 4, 4))
    assert range_of(made.stack("close")) == pytest.approx((6, 6, 6))
    assert [layer.part for layer in made.stack("close").layers] == ["front", "pipe", "pipe", "side"]
    other = put_together(bag + step("Close.", seams="close") + step("Pipe.", seams="piping"))
    assert range_of(other.stack("close")) == pytest.approx((4, 4, 4))
    assert range_of(other.stack("piping")) == pytest.approx((6, 6, 6))


def test_what_hangs_on_a_part_of_the_edges_is_nothing_elsewhere(put_together: Put) -> None:
    """A cloth of 0.5 mm on the left edge, 150 mm of 500: the run left, bottom, right is mostly without it."""
    bag = piece("front", 200, 150) + piece("back", 200, 150) + piece("cloth", 30, 150, of="cloth")
    bag += seam("bind", "cloth: right", "front: left")
    bag += seam("round", "front: left bottom right", "back: left bottom right")
    made = put_together(bag + step("Bind.", seams="bind") + step("Sew.", seams="round"))
    assert range_of(made.stack("round")) == pytest.approx((4, 4, 4.5))


def test_a_lining_of_the_same_shape_lies_under_every_later_seam_of_its_leather(put_together: Put) -> None:
    lining = '[pieces.lining]\nlike = "front"\nof = "cloth"\n'
    bag = piece("front", 200, 150) + piece("back", 200, 150) + lining
    bag += seam("mouth", "front: top", "lining: top")
    bag += seam("round", "front: left bottom right", "back: left bottom right")
    made = put_together(bag + step("Line.", seams="mouth") + step("Sew.", seams="round"))
    assert range_of(made.stack("round")) == pytest.approx((4.5, 4.5, 4.5))
    smaller = bag.replace('of = "cloth"\n[', 'of = "cloth"\ninset = "6 mm"\n[').replace("front: top", "front")
    made = put_together(smaller + step("Line.", seams="mouth") + step("Sew.", seams="round"))
    assert range_of(made.stack("round")) == pytest.approx((4, 4, 4)), "6 mm in, it does not reach the needle at 4 mm"


def test_a_lining_that_is_a_partner_too_counts_once(put_together: Put) -> None:
    lining = '[pieces.lining]\nlike = "front"\nof = "cloth"\n'
    bag = piece("front", 200, 150) + piece("back", 200, 150) + lining
    bag += seam("mouth", "front: top", "lining: top")
    bag += seam("round", "front: left bottom right", "back: left bottom right", "lining")
    made = put_together(bag + step("Line.", seams="mouth") + step("Sew.", seams="round"))
    assert range_of(made.stack("round")) == pytest.approx((4.5, 4.5, 4.5))


def test_dividing_lines_are_sewn_through_both_layers(put_together: Put) -> None:
    """Three lines across pockets 80 mm high, from the seam at their foot, 4 mm up: 76 mm in stitches of 4 mm are 19,
    through 1 and 2 mm."""
    lines = ", ".join(f'{{ at = "{across} mm from left", stitch = "main", on = "body" }}' for across in (64, 128, 192))
    bag = piece("pocket", 256, 80, f"dividers = [{lines}]\n", of="thin") + piece("body", 256, 180)
    made = put_together(bag + seam("foot", "pocket: bottom", "body: bottom") + step("Sew between.", pieces="pocket"))
    (run,) = made.runs
    assert (run.kind, run.runs, run.stitches) == ("dividers", 3, 19)
    assert run.length_mm == pytest.approx(76)
    assert range_of(run.stack) == pytest.approx((3, 3, 3))


def test_a_rivet_set_before_its_piece_lands_goes_through_that_alone(put_together: Put) -> None:
    """The back's layer of 2 mm is no part of what a rivet holds that is set in the pocket of 1 mm on the bench."""
    pocket = piece("pocket", 80, 60, hole("centre, middle"), of="thin")
    bag = piece("back", 200, 150, LANDING) + pocket + rivet() + seam("pocket", "pocket: left", "back")
    setting = step("Set.", pieces="pocket", hardware="rivet")
    (before,) = put_together(bag + setting + step("Sew.", seams="pocket")).fastened
    (after,) = put_together(bag + step("Sew.", seams="pocket") + setting).fastened
    assert before.stack.usual_mm == pytest.approx(1)
    assert after.stack.usual_mm == pytest.approx(3)


def test_hardware_written_before_the_seams_of_its_step_is_set_before_them(put_together: Put) -> None:
    pocket = piece("pocket", 80, 60, hole("centre, middle"), of="thin")
    bag = piece("back", 200, 150, LANDING) + pocket + rivet() + seam("pocket", "pocket: left", "back")
    first = put_together(bag + step("Set, then sew.", hardware="rivet", seams="pocket"))
    assert [event.kind for event in first.events] == ["hardware", "seams"]
    last = put_together(bag + step("Sew, then set.", seams="pocket", hardware="rivet"))
    assert [event.kind for event in last.events] == ["seams", "hardware"]


def test_a_rivet_that_alone_holds_a_piece_goes_through_its_host(put_together: Put) -> None:
    """A tab of 1 mm folded over, on a front of 2 mm: 1 + 1 + 2."""
    tab = piece("tab", 20, 60, 'folds = [{ at = "middle" }]\n' + hole("centre, 10 mm from bottom"), of="thin")
    front = piece("front", 200, 150, 'landings = [{ piece = "tab", at = "centre, 20 mm from bottom" }]\n')
    (made,) = put_together(front + tab + rivet() + step("Rivet.", pieces="tab", hardware="rivet")).fastened
    assert [layer.part for layer in made.stack.layers] == ["front", "tab", "tab"]
    assert made.stack.usual_mm == pytest.approx(4)


def test_lining_and_foam_that_are_in_are_under_a_rivet(put_together: Put) -> None:
    """Back 2, foam 3, lining 0.5, handle 2: 7.5; before they are in, 4."""
    back = piece("back", 200, 150, hole("centre, 30 mm from top", more=', through = ["handle"]'))
    lining = '[pieces.lining]\nlike = "back"\nof = "cloth"\nmarks = false\n'
    foam = '[pieces.foam]\nlike = "back"\nof = "pad"\ninset = "8 mm"\n'
    handle = '[straps.handle]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
    bag = back + lining + foam + handle + rivet() + seam("mouth", "back: top", "lining: top")
    lining_in = step("Glue the foam in, sew the lining.", pieces="foam", seams="mouth")
    setting = step("Rivet.", pieces="back", hardware="rivet")
    (after,) = put_together(bag + lining_in + setting).fastened
    assert after.stack.usual_mm == pytest.approx(2 + 3 + 0.5 + 2)
    (before,) = put_together(bag + setting + lining_in).fastened
    assert before.stack.usual_mm == pytest.approx(2 + 2)


def test_each_half_of_a_snap_goes_through_its_own_piece(put_together: Put) -> None:
    """Flap 2 mm with a lining of 0.5, front 1 mm: cap through 2.5, stud through 1, never 3.5."""
    flap = piece("flap", 200, 80, hole("centre, 20 mm from bottom", "snap", ', through = ["front"]'))
    front = piece("front", 200, 150, hole("centre, 60 mm from top", "snap"), of="thin")
    lining = '[pieces.lining]\nlike = "flap"\nof = "cloth"\nmarks = false\n'
    bag = flap + front + lining + rivet(1, "snap", "snap, line 24") + seam("line", "flap: bottom", "lining: bottom")
    made = put_together(bag + step("Line.", seams="line") + step("Set.", pieces="flap front", hardware="snap"))
    assert [(one.part, one.half, one.stack.usual_mm) for one in made.fastened] == [
        ("flap", "cap", pytest.approx(2.5)),
        ("front", "stud", pytest.approx(1)),
    ]


@pytest.mark.parametrize("names", ["flap front", "flap"])
def test_of_two_pieces_that_do_not_name_each_other_the_later_has_the_stud(put_together: Put, names: str) -> None:
    parts = [piece(name, 200, 80, hole("centre, 20 mm from bottom", "snap")) for name in names.split()]
    made = put_together("".join(parts) + rivet(1, "snap", "snap, line 24"))
    halves = ["cap", "stud"] if len(parts) > 1 else [""]
    assert [(one.part, one.half) for one in made.fastened] == list(zip(names.split(), halves, strict=True))


@pytest.mark.parametrize(("fold_at", "half"), [("120 mm", "cap"), ("60 mm", "stud")])
def test_the_piece_that_bends_over_has_the_cap(put_together: Put, fold_at: str, half: str) -> None:
    """A back that is sewn at its foot and goes on as a flap; its hole lies in that, or below the fold."""
    fold = f'folds = [{{ at = "{fold_at} from top", open = true, angle = 180 }}]\n'
    front = piece("front", 200, 150, hole("centre, 60 mm from top", "snap"))
    back = piece("back", 200, 300, fold + hole("centre, 100 mm from top", "snap"))
    made = put_together(
        front + back + rivet(1, "snap", "snap, line 24") + seam("foot", "front: bottom", "back: bottom")
    )
    other = {"cap": "stud", "stud": "cap"}[half]
    assert {one.part: one.half for one in made.fastened} == {"back": half, "front": other}


def test_a_snap_on_a_pocket_does_not_go_through_the_panel_beneath(put_together: Put) -> None:
    pocket = piece("pocket", 80, 60, hole("centre, middle", "snap"), of="thin")
    bag = piece("back", 200, 150, LANDING) + pocket + rivet(1, "snap", "snap") + seam("pocket", "pocket: left", "back")
    (made,) = put_together(bag + step("Sew.", seams="pocket") + step("Set.", hardware="snap")).fastened
    assert made.stack.usual_mm == pytest.approx(1)


def test_a_rivet_through_both_halves_of_a_folded_loop_meets_each_as_thick_as_it_is(put_together: Put) -> None:
    """2 mm, skived to 1 mm at the one end: 2 + 1 mm on a back of 2 mm, from whichever half it is seen."""
    loop = """\
[pieces.loop]
of = "body"
shape = "rectangle"
size = ["30 mm", "120 mm"]
folds = [{ at = "middle" }]
skives = [{ edges = "top", width = "25 mm", to = "1 mm" }]
holes = [{ at = "centre, 12 mm from bottom", punch = "4 mm" }, { at = "centre, 12 mm from top", punch = "4 mm" }]
"""
    bag = piece("back", 200, 150, hole("centre, middle", more=', through = ["loop", "loop"]')) + loop + rivet()
    (made,) = put_together(bag + step("Rivet.", pieces="back loop", hardware="rivet")).fastened
    assert range_of(made.stack) == pytest.approx((5, 5, 5))
    assert sorted(layer.thickness_mm for layer in made.stack.layers) == [1, 2, 2]


BUCKLE = """\
[hardware.buckle]
what = "buckle"
count = 1
bar = "4 mm"
"""


def test_an_end_that_only_stitches_close_is_sewn_through_both_layers(put_together: Put) -> None:
    """Sewn from where the end lies back, beyond what goes round the bar, pi (4 + 2) / 2: 400 mm to the square end; where
    the end lies back through 2 + 2 mm, and through 2 + 1 where all of that is skived."""
    (run,) = put_together(BUCKLE + SEWN_BELT % "").runs
    assert run.is_after_turning
    assert run.length_mm == pytest.approx(400)
    assert range_of(run.stack) == pytest.approx((2, 2, 4))
    for over_mm, most_mm in ((60, 3), (50, 4)):
        (run,) = put_together(BUCKLE + SEWN_BELT % f', skive = {{ over = "{over_mm} mm", to = "1 mm" }}').runs
        assert range_of(run.stack) == pytest.approx((2, 2, most_mm))


def test_an_end_that_a_rivet_closes_is_sewn_before_it_is_turned(put_together: Put) -> None:
    text = BUCKLE + SEWN_BELT % ', takes = "rivet"' + rivet()
    sewn = step("Sew the edges.", straps="belt") + step("Turn and rivet.", straps="belt", hardware="buckle rivet")
    (run,) = put_together(text + sewn).runs
    assert not run.is_after_turning
    assert run.stack.thickest_mm == pytest.approx(2)
    turned = step("Put the buckle on.", hardware="buckle") + step("Sew, rivet.", straps="belt", hardware="rivet")
    (run,) = put_together(text + turned).runs
    assert run.is_after_turning
    assert run.stack.thickest_mm == pytest.approx(4)


SKIVED = piece("tab", 40, 60, 'skives = [{ edges = "top", width = "15 mm", to = "%s mm" }]\n%s')


@pytest.mark.parametrize(
    ("to", "own", "stack", "posts", "chosen"),
    [
        # 2 + 2 at most, 2 + 1 at least: a post of 4 + 2 or more, and of 3 + 3 or less: 6 mm.
        ("1", "", (3, 4), '"5 mm", "6 mm", "7 mm"', 6),
        ("1", "", (3, 4), '"7 mm"', 0),  # fits 4 mm alone: it misses 6 mm by more than its half millimetre
        # Down to 0.5 mm: 4 + 2 or more and 2.5 + 3 or less; 6 mm is half a millimetre too long at its thinnest.
        ("0.5", "", (2.5, 4), '"6 mm"', 6),
        # The tab's own hole says where: in the band, 2 + 0.5; 10 mm below it 2 + 2.
        ("0.5", hole("centre, 10 mm from top", ""), (2.5, 2.5), '"5 mm", "6 mm"', 5),
        ("0.5", hole("centre, 25 mm from top", ""), (4, 4), '"5 mm", "6 mm"', 6),
    ],
)
def test_a_rivet_goes_by_both_ends_of_what_it_goes_through(
    put_together: Put, to: str, own: str, stack: tuple[float, float], posts: str, chosen: float
) -> None:
    """A double-cap rivet wants 2 to 3 mm more than its stack, half a millimetre more or less (tables/hardware.py)."""
    bag = piece("back", 200, 150, hole("centre, middle", more=', through = ["tab"]'))
    drawer = rivet().partition("posts")[0] + f"posts = [{posts}]\n"
    bag += SKIVED % (to, own.replace(', takes = ""', "")) + drawer
    (made,) = put_together(bag + step("Rivet.", pieces="back tab", hardware="rivet")).fastened
    assert (made.stack.thinnest_mm, made.stack.thickest_mm) == pytest.approx(stack)
    assert made.post_mm == chosen


def test_a_turned_seam_lies_in_a_later_one_with_both_its_allowances(put_together: Put) -> None:
    """Front and back of 1 mm sewn 4 mm in and turned: 4 to 8 mm from its left edge both allowances lie back on the front,
    so that a band of 2 mm across its top is sewn through 2 + 1 mm, and there through 2 more."""
    bag = piece("front", 200, 150, of="thin") + piece("back", 200, 150, of="thin") + piece("band", 200, 30)
    side = seam("side", "front: left", "back: left", more="turned = true\n")
    top = seam("top", "band: bottom", "front: top")
    sew = step("Sew.", seams="side") + step("Sew.", seams="top")
    stack = put_together(bag + side + top + sew).stack("top")
    assert range_of(stack) == pytest.approx((3, 3, 5))
    assert stack.landed == ("front", "back")
    plain = put_together(bag + side.replace("turned = true\n", "") + top + sew).stack("top")
    assert range_of(plain) == pytest.approx((3, 3, 3))
    before = put_together(bag + side + top + step("Sew.", seams="top") + step("Sew.", seams="side")).stack("top")
    assert range_of(before) == pytest.approx((3, 3, 3))


def test_a_line_beside_a_turned_seam_goes_through_its_allowances_all_along(put_together: Put) -> None:
    """6 mm from the edge, between 4 and 8: the front of 1 mm, its allowance and that of the back, a tape of 0.5 mm."""
    bag = piece("front", 200, 150, of="thin") + piece("back", 200, 150, of="thin") + piece("tape", 20, 150, of="cloth")
    bag += '[stitches.far]\nby = "machine"\nthread = "Tex 135 bonded nylon"\npitch = "4 mm"\ninset = "6 mm"\n'
    bag += seam("side", "front: left", "back: left", more="turned = true\n")
    bag += seam("beside", "tape: left", "front: left").replace('"main"', '"far"')
    made = put_together(bag + step("Sew.", seams="side") + step("Sew.", seams="beside"))
    assert range_of(made.stack("beside")) == pytest.approx((3.5, 3.5, 3.5))


def test_panels_that_still_lie_face_to_face_have_no_allowance_between_them(put_together: Put) -> None:
    bag = piece("front", 200, 150, of="thin") + piece("back", 200, 150, of="thin")
    for name in ("left", "bottom"):
        bag += seam(name, f"front: {name}", f"back: {name}", more="turned = true\n")
    made = put_together(bag + step("Sew.", seams="left") + step("Sew.", seams="bottom"))
    assert range_of(made.stack("bottom")) == pytest.approx((2, 2, 2))


@pytest.mark.parametrize(("second", "legs"), [("square", 2), ("rounded", 1)])
def test_the_pattern_shows_the_stitches_of_a_turned_strap_from_where_its_end_lies_back(
    resolve_text: Callable[[str], Assembled], second: str, legs: int
) -> None:
    """30 mm lie back round a bar of 4 mm, pi (4 + 2) / 2 = 9.4 mm long: no stitch lies over that."""
    strap = '[straps.s]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\nstitch = "main"\n'
    strap += "doubled = true\n" if legs == 1 else ""
    strap += f'ends = [{{ shape = "turned", back = "30 mm", around = "ring" }}, {{ shape = "{second}" }}]\n'
    build = resolve_text(strap + '[hardware.ring]\nwhat = "ring, 20 mm"\ncount = 1\nbar = "4 mm"\n')
    (made,), (run,) = build.straps, build.assembly.runs
    lines = made.piece.marks.stitch_lines
    begin_mm = 30 + math.pi * 3
    assert len(lines) == legs
    for line in lines:
        assert min(start_point(line.path).y, end_point(line.path).y) == pytest.approx(begin_mm)
        assert path_length(line.path) == pytest.approx(run.length_mm)
        assert len(line.holes_mm) == run.stitches + 1
        assert line.holes_mm[-1] == pytest.approx(run.length_mm)
