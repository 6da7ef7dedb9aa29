"""Straps: cut length from what is worn or finished, holes from the tip, folds and outline."""

import math
from collections.abc import Callable

import pytest
from spec_text import Resolve

from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import end_point, path_area, path_box, path_length, points_at, start_point
from docgen.resolve import Strap

THICK = '[materials.thick]\nkind = "leather"\nthickness = "3 mm"\n'
RING = '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "26 mm"\nbar = "4 mm"\n'
TURNED = '{ shape = "turned", back = "40 mm", around = "ring" }'
HOLES = 'holes = { count = 5, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }\n'


def strap(lines: str, name: str = "a") -> str:
    return f'[straps.{name}]\nof = "thick"\nwidth = "20 mm"\n{lines}'


@pytest.fixture
def make(resolve_text: Resolve) -> Callable[[str], Strap]:
    return lambda lines: resolve_text(THICK + RING + lines).straps[0]


def test_a_square_strap_is_cut_as_long_as_it_is_finished(make: Callable[[str], Strap]) -> None:
    found = make(strap('finished = "300 mm"\n'))
    assert (found.cut_length_mm, found.finished_mm, found.worn_mm) == (300, 300, ())
    assert path_area(outline_path(found.piece.outline)) == pytest.approx(300 * 20)


def test_turned_ends_add_what_lies_back_and_what_goes_round(make: Callable[[str], Strap]) -> None:
    """300 + 2 x (40 + 10.996) = 401.991 mm (arithmetic)."""
    found = make(strap(f'finished = "300 mm"\nends = [{TURNED}, {TURNED}]\n'))
    assert found.cut_length_mm == pytest.approx(401.991, abs=0.0005)
    assert found.ends[0].takes_mm == pytest.approx(50.996, abs=0.0005)


def test_each_end_is_folded_as_far_in_as_it_lies_back_itself(make: Callable[[str], Strap]) -> None:
    """40 mm and 60 mm lie back, and half of the 10.996 mm round the bar on top: 45.498 and 65.498 mm (arithmetic)."""
    found = make(strap(f'finished = "300 mm"\nends = [{TURNED}, {TURNED.replace("40", "60")}]\n'))
    low, high = found.piece.marks.folds
    assert low.start.y == low.end.y == pytest.approx(45.498, abs=0.0005)
    assert found.cut_length_mm - high.start.y == pytest.approx(65.498, abs=0.0005)
    assert high.start.y == high.end.y
    assert (low.start.x, low.end.x, low.note) == (0, 20, "first end round the ring")
    assert high.note == "second end round the ring"


def test_a_strap_is_worn_at_its_middle_hole(make: Callable[[str], Strap]) -> None:
    """Holes 60, 80, 100, 120, 140 mm from the tip; 500 to the middle one: 600 finished; worn 460 to 540."""
    found = make(strap('wears = "500 mm"\n' + HOLES))
    assert found.hole_tips_mm == pytest.approx((60, 80, 100, 120, 140))
    assert found.finished_mm == pytest.approx(600)
    assert found.worn_mm == pytest.approx((460, 500, 540))
    assert sorted(hole.at.y for hole in found.piece.marks.holes) == pytest.approx([460, 480, 500, 520, 540])
    assert {hole.at.x for hole in found.piece.marks.holes} == {10}


def test_a_partner_takes_its_length_off(resolve_text: Resolve) -> None:
    """800 worn less 300 of the partner is 500 to the middle hole, and 100 on to the tip (arithmetic)."""
    build = resolve_text(
        THICK + RING + strap('wears = "800 mm"\npartner = "b"\n' + HOLES) + strap('finished = "300 mm"\n', "b")
    )
    first, second = build.straps
    assert (first.finished_mm, second.finished_mm) == pytest.approx((600, 300))
    assert first.worn_mm == pytest.approx((760, 800, 840))


def test_pitch_and_tip_have_usual_lengths(make: Callable[[str], Strap]) -> None:
    found = make(strap('wears = "500 mm"\nholes = { count = 3, punch = "4 mm" }\n'))
    assert found.hole_tips_mm == pytest.approx((76.2, 101.6, 127))


@pytest.mark.parametrize(("shape", "lost_mm2"), [("square", 0.0), ("pointed", 100.0), ("rounded", 200 - 50 * math.pi)])
def test_shaped_ends_lie_within_the_cut_length(make: Callable[[str], Strap], shape: str, lost_mm2: float) -> None:
    """A point over a strap of 20 mm leaves out two triangles of 10 x 10 / 2; a half circle 20 x 10 - pi 10^2 / 2."""
    found = make(strap(f'finished = "300 mm"\nends = [{{ shape = "{shape}" }}, {{ shape = "{shape}" }}]\n'))
    box = outline_box(found.piece.outline)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((0, 0, 20, 300))
    assert path_area(outline_path(found.piece.outline)) == pytest.approx(6000 - 2 * lost_mm2)


def test_a_strap_may_be_two_half_circles(make: Callable[[str], Strap]) -> None:
    found = make(strap('finished = "20 mm"\nends = [{ shape = "rounded" }, { shape = "rounded" }]\n'))
    assert path_area(outline_path(found.piece.outline)) == pytest.approx(100 * math.pi)


def test_both_long_edges_are_stitched_in_every_row(make: Callable[[str], Strap]) -> None:
    double = '[stitches.double]\nby = "hand"\nthread = "Tex 280 linen"\npitch = "4 mm"\ninset = "3 mm"\nrows = 2\n'
    found = make(double + strap('finished = "300 mm"\nstitch = "double"\n'))
    across = sorted(path_box(line.path).centre.x for line in found.piece.marks.stitch_lines)
    assert across == pytest.approx([3, 6.175, 13.825, 17])


SEWN = 'finished = "300 mm"\nstitch = "main"\n'
TIP = '[{ shape = "square" }, { shape = "%s" }]'


def test_two_layers_are_sewn_in_one_run_round_a_rounded_tip(make: Callable[[str], Strap]) -> None:
    """Up 290 mm, round a half circle of 10 - 4 = 6 mm, and down 290 mm: 580 + 6 pi = 598.850 mm (derived by hand)."""
    found = make(strap(SEWN + f"doubled = true\nends = {TIP % 'rounded'}\n"))
    (line,) = found.piece.marks.stitch_lines
    assert path_length(line.path) == pytest.approx(598.850, abs=0.001)
    assert path_box(line.path).top == pytest.approx(296)
    assert [start_point(line.path).y, end_point(line.path).y] == pytest.approx([0, 0])
    assert start_point(line.path).x == pytest.approx(4)


def test_a_stitch_stands_on_the_tip_of_a_pointed_end(make: Callable[[str], Strap]) -> None:
    """A point of a right angle with 4 mm of inset comes 4 x root 2 mm below the tip: at 294.343 mm (derived by hand)."""
    found = make(strap(SEWN + f"doubled = true\nends = {TIP % 'pointed'}\n"))
    (line,) = found.piece.marks.stitch_lines
    assert max(at.y for at, _ in points_at(line.path, line.holes_mm)) == pytest.approx(294.343, abs=0.001)


def test_two_layers_with_two_shaped_ends_are_sewn_all_round(make: Callable[[str], Strap]) -> None:
    """Twice 280 mm, and a whole circle of 6 mm: 560 + 12 pi = 597.699 mm (derived by hand)."""
    ends = '[{ shape = "rounded" }, { shape = "rounded" }]'
    found = make(strap(SEWN + f"doubled = true\nends = {ends}\n"))
    (line,) = found.piece.marks.stitch_lines
    assert line.path.closed
    assert path_length(line.path) == pytest.approx(597.699, abs=0.001)


def test_a_shaped_first_end_is_sewn_round_as_well(make: Callable[[str], Strap]) -> None:
    ends = '[{ shape = "rounded" }, { shape = "square" }]'
    (line,) = make(strap(SEWN + f"doubled = true\nends = {ends}\n")).piece.marks.stitch_lines
    assert path_box(line.path).bottom == pytest.approx(4)
    assert start_point(line.path).y == pytest.approx(300)


@pytest.mark.parametrize("lines", ["", "doubled = true\n", f"ends = {TIP % 'rounded'}\n"])
def test_square_ends_or_one_layer_leave_two_runs(make: Callable[[str], Strap], lines: str) -> None:
    assert len(make(strap(SEWN + lines)).piece.marks.stitch_lines) == 2


SLOT = 'punches = [{ at = "centre, %s", punch = "3 mm", long = "15 mm" }]\n'


def test_a_hole_stands_at_the_fold(make: Callable[[str], Strap]) -> None:
    """45.498 mm from the cut end of a strap of 350.996 mm, as the fold itself (worked out above)."""
    ends = f'finished = "300 mm"\nends = [{{ shape = "square" }}, {TURNED}]\n'
    (hole,) = make(strap(ends + SLOT % "at the fold")).piece.marks.holes
    assert (hole.at.x, hole.at.y) == pytest.approx((10, 350.996 - 45.498), abs=0.001)


@pytest.mark.parametrize(("words", "which"), [("at the first fold", 0), ("at second fold", 1)])
def test_each_of_two_folds_has_a_name(make: Callable[[str], Strap], words: str, which: int) -> None:
    piece = make(strap(f'finished = "300 mm"\nends = [{TURNED}, {TURNED}]\n' + SLOT % words)).piece
    assert piece.marks.holes[0].at.y == pytest.approx(piece.marks.folds[which].start.y)


def test_a_keeper_that_slides_may_be_as_narrow_as_the_end_that_it_is_put_on_over(resolve_text: Resolve) -> None:
    """14 mm inside, on a strap of 20 mm that tapers to 14 mm: round 14 x 3 layers of 3 mm, 2 x (14 + 9) + pi x 3 mm,
    2 mm of play, and 12.7 mm over each other where nothing else is said (arithmetic)."""
    ends = '[{ shape = "square" }, { shape = "pointed", width = "14 mm", taper = "60 mm" }]'
    loop = '[straps.loop]\nof = "thick"\nwidth = "10 mm"\nkeeper-for = "a"\ninside = "14 mm"\n'
    found = resolve_text(THICK + strap(f'finished = "300 mm"\nends = {ends}\n') + loop).straps[1]
    assert found.cut_length_mm == pytest.approx(2 * (14 + 9) + math.pi * 3 + 2 + 12.7)
