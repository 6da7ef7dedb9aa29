"""Seams measured along their stitch line, and open lengths solved by them."""

import pytest
from built import piece_of
from spec_text import Resolve

from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.resolve import Build, Seam

PANEL = """\
<back>
round = { bottom-left = "30 mm", bottom-right = "30 mm" }
"""
SIDE = """\
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["60 mm", "120 mm"]
"""
BASE = SIDE.replace("side", "base").replace("cut = 2\n", "").replace("120 mm", "solve")
JOIN = """\
<join gusset: ["side", "base", "side"], 12 mm>
rows = 2
"""


def seam(*sides: str, name: str = "s", stitch: str = "main") -> str:
    return f'[seams.{name}]\nstitch = "{stitch}"\nmeet = [{", ".join(repr(side) for side in sides)}]\n'


def height(build: Build, name: str) -> float:
    return outline_box(piece_of(build, name).outline).height


def test_stitches_fill_the_length_exactly(resolve_text: Resolve) -> None:
    (found,) = resolve_text(PANEL + seam("back: left bottom right")).seams
    assert found.stitches == 115  # 461.68 / 4 = 115.4
    assert found.pitch_mm * found.stitches == pytest.approx(found.length_mm)


def test_a_seam_is_as_long_in_either_direction(resolve_text: Resolve) -> None:
    build = resolve_text(PANEL + "cut = 2\n" + seam("back: left bottom right", "back: right bottom left"))
    first, second = build.seams[0].sides
    assert first.edges == ("left", "bottom", "right")
    assert second.edges == ("right", "bottom", "left")
    assert first.length_mm == pytest.approx(second.length_mm)


def test_a_seam_may_go_all_the_way_round(resolve_text: Resolve) -> None:
    (found,) = resolve_text(PANEL.split("round")[0] + seam("back: all")).seams
    assert found.length_mm == pytest.approx(2 * (192 + 142))


def test_a_strap_can_be_a_partner(resolve_text: Resolve) -> None:
    build = resolve_text(
        PANEL
        + '[straps.binding]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\n'
        + seam("back: top", "binding: left")
    )
    assert [side.length_mm for side in build.seams[0].sides] == pytest.approx([200, 200])
    assert build.seams[0].stack_mm == pytest.approx(4)


def test_the_base_of_a_joined_gusset_takes_what_the_side_strips_leave(resolve_text: Resolve) -> None:
    """461.68 = 2 x 120 + base - 2 x 12, so that the base is 245.68 mm (arithmetic)."""
    build = resolve_text(PANEL + SIDE + BASE + JOIN + seam("back: left bottom right", "gusset: left"))
    assert height(build, "base") == pytest.approx(245.68, abs=0.005)
    assert build.joins[0].length_mm == pytest.approx(461.68, abs=0.005)
    assert build.joins[0].width_mm == pytest.approx(60)


def test_an_open_height_of_a_panel_counts_twice_in_a_seam_down_and_up(resolve_text: Resolve) -> None:
    build = resolve_text(
        PANEL.replace("150 mm", "solve")
        + BASE.replace("solve", "461.681 mm")
        + seam("base: left", "back: left bottom right")
    )
    assert height(build, "back") == pytest.approx(150, abs=0.001)


def test_one_solved_length_solves_the_next(resolve_text: Resolve) -> None:
    """The seams are written the other way round, so that it takes two rounds."""
    lining = BASE.replace("base", "lining")
    build = resolve_text(
        PANEL
        + BASE
        + lining
        + seam("base: left", "lining: left", name="t")
        + seam("back: left bottom right", "base: left")
    )
    assert height(build, "lining") == pytest.approx(height(build, "base"))


def test_two_open_strips_in_one_seam_both_take_its_length(resolve_text: Resolve) -> None:
    lining = BASE.replace("base", "lining")
    build = resolve_text(PANEL + BASE + lining + seam("back: left bottom right", "base: left", "lining: left"))
    assert height(build, "lining") == height(build, "base") == pytest.approx(461.68, abs=0.005)


def test_what_is_like_an_open_strip_is_as_long(resolve_text: Resolve) -> None:
    build = resolve_text(
        PANEL + BASE + '[pieces.spare]\nlike = "base"\ninset = "2 mm"\n' + seam("back: left bottom right", "base: left")
    )
    assert height(build, "spare") == pytest.approx(height(build, "base") - 4)
    assert piece_of(build, "spare").is_solved


def test_half_a_millimetre_between_the_sides_is_let_pass(resolve_text: Resolve) -> None:
    build = resolve_text(
        PANEL
        + '[pieces.f]\nlike = "back"\nsize = ["200.4 mm", "150 mm"]\n'
        + seam("back: left bottom right", "f: left bottom right")
    )
    assert build.seams[0].sides[1].length_mm - build.seams[0].length_mm == pytest.approx(0.4)


def test_the_stack_counts_every_layer_and_the_joint_of_two_strips(resolve_text: Resolve) -> None:
    thick = '[materials.thick]\nkind = "leather"\nthickness = "3 mm"\n'
    text = thick + PANEL + SIDE.replace("body", "thick") + BASE + JOIN
    build = resolve_text(text + seam("back: left bottom right", "gusset: left"))
    (seam_made,) = build.seams
    assert [layer.material for layer in seam_made.layers] == ["body", "thick"]
    assert seam_made.stack_mm == pytest.approx(2 + 2)  # the base is the longest strip of the join
    assert (seam_made.thinnest_mm, seam_made.thickest_mm) == pytest.approx((2 + 2, 2 + 2 + 3))
    assert build.joins[0].stack_mm == pytest.approx(2 + 3)


def test_a_partner_without_edges_lies_flat_and_has_no_length(resolve_text: Resolve) -> None:
    tab = '[pieces.tab]\nof = "body"\nshape = "rectangle"\nsize = ["40 mm", "30 mm"]\n'
    build = resolve_text(
        tab
        + PANEL
        + 'landings = [{ piece = "tab", at = "centre, 20 mm from bottom" }]\n'
        + seam("tab: left bottom right", "back")
    )
    assert build.seams[0].sides[1].edges == ()
    assert build.seams[0].stack_mm == pytest.approx(4)
    (line,) = piece_of(build, "back").marks.stitch_lines
    assert path_box(line.path).left == pytest.approx(80 + 4)
    assert path_box(line.path).bottom == pytest.approx(20 + 4)


def lines_of(build: Build, name: str, run: str) -> list[float]:
    """Heights of the middles of the stitch lines of one run on a piece."""
    return [path_box(line.path).centre.y for line in piece_of(build, name).marks.stitch_lines if line.seam == run]


@pytest.fixture
def joined(resolve_text: Resolve) -> Build:
    return resolve_text(PANEL + SIDE + BASE + JOIN + seam("back: left bottom right", "gusset: left"))


def test_joints_lie_evenly_in_the_overlap_at_both_ends_of_an_inner_strip(joined: Build) -> None:
    base_mm = height(joined, "base")
    assert lines_of(joined, "base", "gusset") == pytest.approx([4, 8, base_mm - 4, base_mm - 8])


def test_a_strip_turned_round_for_the_other_end_has_one_joint(joined: Build, resolve_text: Resolve) -> None:
    assert lines_of(joined, "side", "gusset") == pytest.approx([4, 8])
    skived = SIDE + 'skives = [{ edges = "end", width = "12 mm", to = "1 mm" }]\n'
    build = resolve_text(PANEL + skived + BASE + JOIN + seam("back: left bottom right", "gusset: left"))
    assert lines_of(build, "side", "gusset") == pytest.approx([116, 112])


def test_a_joint_keeps_clear_of_the_sides_as_its_length_is_counted(joined: Build) -> None:
    line = next(line for line in piece_of(joined, "base").marks.stitch_lines if line.seam == "gusset")
    assert (path_box(line.path).left, path_box(line.path).right) == pytest.approx((4, 56))


def test_a_join_of_two_has_its_joint_where_they_meet(resolve_text: Resolve) -> None:
    text = SIDE + SIDE.replace("side", "base") + JOIN.replace(', "side"]', "]").replace("rows = 2\n", "")
    build = resolve_text(text)
    assert lines_of(build, "side", "gusset") == pytest.approx([114])
    assert lines_of(build, "base", "gusset") == pytest.approx([6])


def test_standing_rectangles_can_be_joined_too(resolve_text: Resolve) -> None:
    build = resolve_text(SIDE.replace('"strip"', '"rectangle"') + JOIN.replace('"base", ', ""))
    assert build.joins[0].length_mm == pytest.approx(228)
    assert lines_of(build, "side", "gusset") == pytest.approx([4, 8])


def test_rows_lie_inside_each_other(resolve_text: Resolve) -> None:
    double = (
        '[stitches.double]\nby = "machine"\nthread = "Tex 70 nylon"\npitch = "3 mm"\ninset = "4 mm"\n'
        'rows = 2\nrow-gap = "3 mm"\n'
    )
    build = resolve_text(double + PANEL + seam("back: left bottom right", stitch="double"))
    bottoms = [path_box(line.path).bottom for line in piece_of(build, "back").marks.stitch_lines]
    assert bottoms == pytest.approx([4, 7])


def test_seams_stand_in_the_order_of_the_spec(resolve_text: Resolve) -> None:
    build = resolve_text(PANEL + seam("back: top", name="z") + seam("back: left", name="a"))
    assert [(s.name, s.title) for s in build.seams] == [("z", "z"), ("a", "a")]
    assert isinstance(build.seams[0], Seam)
