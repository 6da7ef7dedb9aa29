"""Holes that a pattern shows: along seams, oblong, in the middle of a row; and what else a piece can say."""

from itertools import pairwise

import pytest
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from spec_text import Resolve, Tell, write_out

from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten, path_length, points_at
from docgen.geometry.shapes import Point
from docgen.resolve.seams.seam import spread_over

PAIR = """\
[stitches.hand]
by = "hand"
thread = "Tex 180 waxed linen"
pitch = "3.85 mm"
inset = "4 mm"
[pieces.back]
of = "body"
shape = "rectangle"
size = ["100 mm", "60 mm"]
<strip strip: ["30 mm", "solve"]>
[seams.round]
stitch = "hand"
meet = ["back: left bottom right", "strip: left"]
"""


def test_partners_have_their_holes_at_the_same_distances(resolve_text: Resolve) -> None:
    build = resolve_text(PAIR)
    lines = [piece.marks.stitch_lines[0] for piece in build.pieces]
    assert lines[0].holes_mm == pytest.approx(lines[1].holes_mm)
    assert {56.0, 148.0} <= {round(at, 6) for at in lines[0].holes_mm}, "a hole on each sharp corner"
    assert build.seams[0].stitches == len(lines[0].holes_mm) + 1, "over the edge at both ends"
    assert lines[0].holes_mm == pytest.approx(build.seams[0].holes_mm[1:-1])
    assert build.seams[0].pitch_mm * build.seams[0].stitches == pytest.approx(build.seams[0].length_mm)


def test_no_hole_of_a_hand_stitch_breaks_out_of_the_leather(resolve_text: Resolve) -> None:
    """A round hole of 0.9 mm lies whole within its piece; shapely says so."""
    build = resolve_text(PAIR.replace("60 mm", "61.3 mm"))
    for piece in build.pieces:
        leather = Polygon(flatten(outline_path(piece.outline), 0.001))
        for line in piece.marks.stitch_lines:
            assert line.holes_mm
            for at, _ in points_at(line.path, line.holes_mm):
                assert leather.contains(ShapelyPoint(at).buffer(0.45))


def test_a_longer_partner_that_is_eased_in_keeps_its_holes_on_its_corners(resolve_text: Resolve) -> None:
    """The panel is 56 + 92 + 56 = 204 mm along its stitch line, the strip 200 mm: its corners lie at 56 and 148 mm."""
    shorter = PAIR.replace('"solve"', '"200 mm"').replace(
        '["back: left bottom right", "strip: left"]', '["strip: left", "back: left bottom right"]\nease = "4 mm"'
    )
    panel, strip = (piece.marks.stitch_lines[0].holes_mm for piece in resolve_text(shorter).pieces)
    assert {56.0, 148.0} <= {round(at, 6) for at in panel}
    assert len(panel) == len(strip)
    assert strip == pytest.approx([hole * 200 / 204 for hole in panel])


def test_an_inner_row_has_as_many_holes_as_the_outer(resolve_text: Resolve) -> None:
    build = resolve_text(PAIR.replace('inset = "4 mm"', 'inset = "4 mm"\nrows = 2\nrow-gap = "3 mm"'))
    outer, inner = build.pieces[0].marks.stitch_lines
    assert (outer.row, inner.row) == (0, 1)
    assert len(outer.holes_mm) == len(inner.holes_mm)
    assert inner.holes_mm[0] / outer.holes_mm[0] == pytest.approx(path_length(inner.path) / path_length(outer.path))


def test_joints_and_straps_are_spaced_for_themselves(resolve_text: Resolve) -> None:
    build = resolve_text('[straps.handle]\nof = "body"\nwidth = "25 mm"\nfinished = "200 mm"\nstitch = "main"\n')
    line = build.straps[0].piece.marks.stitch_lines[0]
    assert line.holes_mm[-1] == pytest.approx(path_length(line.path))
    steps = [after - before for before, after in pairwise(line.holes_mm)]
    assert steps == pytest.approx([4.0] * 50)


def test_the_middle_hole_of_a_row_is_marked(resolve_text: Resolve) -> None:
    row = """hole-rows = [{ start = "10 mm from top, 20 mm from left",
end = "10 mm from top, 20 mm from right", count = %d, punch = "3 mm" }]
""".replace(",\nend", ", end")
    piece = PAIR.split("[seams")[0].replace('"solve"', '"80 mm"')
    five = resolve_text(piece.replace('"60 mm"]\n', '"60 mm"]\n' + row % 5, 1)).pieces[0].marks.holes
    assert [hole.is_middle for hole in five] == [False, False, True, False, False]
    four = resolve_text(piece.replace('"60 mm"]\n', '"60 mm"]\n' + row % 4, 1)).pieces[0].marks.holes
    assert not any(hole.is_middle for hole in four)


OBLONG = """\
<rectangle back: ["100 mm", "60 mm"]>
centre-lines = "both"
least-stretch = "up"
folds = [{ at = "10 mm from top" }, { at = "middle" }]
holes = [{ at = "centre, middle", punch = "4 mm", long = "%s", lies = "across" }]
"""


def test_an_oblong_hole_lies_as_it_is_told(resolve_text: Resolve) -> None:
    piece = resolve_text(OBLONG % "20 mm").pieces[0]
    assert piece.marks.holes[0].slot == Point(8.0, 0.0)
    assert piece.centre_lines == ("up", "across")
    assert piece.least_stretch == "up"
    assert [fold.turned_mm for fold in piece.marks.folds] == [10.0, 0.0]


def test_an_oblong_hole_turns_over_with_its_piece(resolve_text: Resolve) -> None:
    text = OBLONG % "20 mm" + '[pieces.front]\nlike = "back"\nmirror = true\n'
    assert resolve_text(text).pieces[1].marks.holes[0].slot == Point(-8.0, 0.0)


def test_an_oblong_hole_no_longer_than_wide_is_told(messages: Tell) -> None:
    assert (
        messages(OBLONG % "4 mm")
        == """\
a.toml:21: error: an oblong hole 4 mm long is no longer than its width of 4 mm
    written: "4 mm"
    mend:    make it longer, or leave long out for a round hole
"""
    )


STRAP = write_out("""\
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "4 mm"
<strap loop of body: 25 mm>
finished = "200 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "rounded" }]
punches = [
  { at = "centre, 10 mm from start", punch = "4 mm" },
  { at = "centre, 24 mm from end", punch = "3 mm", long = "20 mm" },
]
""")


def test_further_holes_of_a_strap_are_measured_on_it_as_cut(resolve_text: Resolve) -> None:
    (strap,) = resolve_text(STRAP).straps
    first, second = strap.piece.marks.holes
    assert first.at == pytest.approx((12.5, 10.0))
    assert second.at == pytest.approx((12.5, strap.cut_length_mm - 24.0)), "from the tip of a rounded end"
    assert second.slot == Point(0.0, 8.5)
    assert strap.hole_tips_mm == ()


def test_a_hole_beside_its_strap_is_told(messages: Tell) -> None:
    assert (
        messages(STRAP.replace("centre, 10 mm from start", "30 mm from left, 10 mm from start"))
        == """\
a.toml:25: error: a hole lies outside the strap "loop"
    written: "30 mm from left, 10 mm from start"
    mend:    measure again; the hole's centre must lie on the leather
"""
    )


def test_turned_ends_that_run_into_each_other_are_told(messages: Tell) -> None:
    text = STRAP.split("punches")[0].replace('{ shape = "rounded" }', '{ shape = "turned", back = "170 mm" }')
    assert (
        messages(text)
        == """\
a.toml:22: error: the turned ends of "loop" lie back 210 mm in all, and it is 200 mm long when made up
    written: "200 mm"
    mend:    make it longer, or turn back less
"""
    )


def test_holes_are_carried_over_to_another_length_and_those_of_an_edge_without_any_lie_in_its_beginning() -> None:
    """By hand: half of 10 mm is half of 20 mm; a row of no length has one hole, and broke off the whole check."""
    assert spread_over((0.0, 5.0, 10.0), 20.0) == (0.0, 10.0, 20.0)
    assert spread_over((0.0,), 20.0) == (0.0,)
    assert spread_over((), 20.0) == ()
