"""Walls that are sewn round one base and to each other: their rows go from side seam to side seam.

Held against shapely: the row round a base is the edge of the base shrunk by the inset, and what the walls are wider than
between their side seams is the inset once at each.
"""

import pytest
from built import piece_of
from shapely import Polygon
from shapely.geometry import box
from spec_text import Resolve

from docgen.geometry.outline import outline_box
from docgen.problems import SpecRejected

INSET_MM = 4.0  # of "main", the stitch of all of these seams
ROUND_BASE = '<rectangle base: ["300 mm", "120 mm"]>\nround = "45 mm"\n'
SIDES = '<seam side-left: ["front: left", "rear: right"]>\n<seam side-right: ["front: right", "rear: left"]>\n'
FEET = (
    '<seam one: ["base: left bottom right from top 60 mm to top 60 mm", "front: bottom"]>\n'
    '<seam two: ["base: right top left from bottom 60 mm to bottom 60 mm", "rear: bottom"]>\n'
)
REAR = '[pieces.rear]\nlike = "front"\n'


def walls(width: str) -> str:
    return f'{ROUND_BASE}<rectangle front: ["{width}", "200 mm"]>\n{REAR}{SIDES}{FEET}'


def row_round(base: Polygon) -> float:
    return float(base.buffer(-INSET_MM, join_style="mitre", quad_segs=256).length)


def rounded(width_mm: float, height_mm: float, radius_mm: float) -> Polygon:
    return box(radius_mm, radius_mm, width_mm - radius_mm, height_mm - radius_mm).buffer(radius_mm, quad_segs=256)


def test_two_walls_round_a_base_are_wider_by_their_side_seams(resolve_text: Resolve) -> None:
    build = resolve_text(walls("solve"))
    expected_mm = row_round(rounded(300, 120, 45)) / 2 + 2 * INSET_MM
    assert outline_box(piece_of(build, "front").outline).width == pytest.approx(expected_mm, abs=0.01)
    foot = next(seam for seam in build.seams if seam.name == "one")
    assert [side.lost_mm for side in foot.sides] == [(0.0, 0.0), (INSET_MM, INSET_MM)]
    assert len({round(side.length_mm, 3) for side in foot.sides}) == 1


def test_one_wall_that_closes_on_itself_is_wider_by_its_own_seam(resolve_text: Resolve) -> None:
    build = resolve_text(
        '<rectangle base: ["300 mm", "120 mm"]>\nround = "45 mm"\n<rectangle wall: ["solve", "200 mm"]>\n'
        '<seam side: ["wall: left", "wall: right"]>\n<seam foot: ["base: all", "wall: bottom"]>\n'
    )
    expected_mm = row_round(rounded(300, 120, 45)) + 2 * INSET_MM
    assert outline_box(piece_of(build, "wall").outline).width == pytest.approx(expected_mm, abs=0.01)


@pytest.mark.parametrize("edges", ["all", "left bottom right top", "top right bottom left"])
def test_a_base_named_by_all_its_edges_is_as_closed_as_all_of_it(resolve_text: Resolve, edges: str) -> None:
    build = resolve_text(
        '<rectangle base: ["300 mm", "120 mm"]>\n<rectangle wall: ["solve", "200 mm"]>\n'
        f'<seam side: ["wall: left", "wall: right"]>\n<seam foot: ["base: {edges}", "wall: bottom"]>\n'
    )
    expected_mm = row_round(box(0, 0, 300, 120)) + 2 * INSET_MM
    assert outline_box(piece_of(build, "wall").outline).width == pytest.approx(expected_mm, abs=0.01)


def test_walls_as_wide_as_the_row_of_the_base_are_too_narrow(resolve_text: Resolve) -> None:
    with pytest.raises(SpecRejected) as caught:
        resolve_text(walls(f"{row_round(rounded(300, 120, 45)) / 2:.2f} mm"))
    told = [problem for problem in caught.value.problems if problem.check == "unequal-partners"]
    (one,) = told  # the rear is like the front
    assert "between the rows of the seams beside it" in one.what
    assert "8 mm (5/16 in) longer" in one.mend


def test_a_row_that_is_told_to_end_at_the_side_seams_loses_nothing_more(resolve_text: Resolve) -> None:
    width_mm = row_round(rounded(300, 120, 45)) / 2 + 2 * INSET_MM
    text = walls(f"{width_mm:.3f} mm")
    for part in ("front", "rear"):
        text = text.replace(f'"{part}: bottom"', f'"{part}: bottom from left 4 mm to right 4 mm"')
    foot = next(seam for seam in resolve_text(text).seams if seam.name == "one")
    assert all(side.lost_mm == (0.0, 0.0) for side in foot.sides)


def test_a_box_with_sharp_corners_meets_edge_to_edge(resolve_text: Resolve) -> None:
    """The row of the base breaks at its corners as those of the walls do, so that all count from edge to edge."""
    build = resolve_text(
        '<rectangle base: ["300 mm", "120 mm"]>\n<rectangle front: ["300 mm", "200 mm"]>\n'
        f'{REAR}<rectangle end: ["120 mm", "200 mm"]>\ncut = 2\n'
        '<seam one: ["base: bottom", "front: bottom"]>\n<seam two: ["base: top", "rear: bottom"]>\n'
        '<seam three: ["base: left", "end 1: bottom"]>\n<seam four: ["base: right", "end 2: bottom"]>\n'
        '<seam a: ["front: left", "end 1: right"]>\n<seam b: ["front: right", "end 2: left"]>\n'
        '<seam c: ["rear: left", "end 2: right"]>\n<seam d: ["rear: right", "end 1: left"]>\n'
    )
    assert all(side.lost_mm == (0.0, 0.0) for seam in build.seams for side in seam.sides)


BOXED = """
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["40 mm", "0"], edge = "bottom" },
  { at = ["260 mm", "0"], edge = "right-foot" },
  { at = ["260 mm", "40 mm"], edge = "right-brow" },
  { at = ["300 mm", "40 mm"], edge = "right" },
  { at = ["300 mm", "250 mm"], edge = "top" },
  { at = ["0", "250 mm"], edge = "left" },
  { at = ["0", "40 mm"], edge = "left-brow" },
  { at = ["40 mm", "40 mm"], edge = "left-foot" },
]
"""


def test_a_foot_sewn_in_parts_is_as_long_as_its_edge_beside_boxed_corners(resolve_text: Resolve) -> None:
    """A boxed corner closes neighbouring edges of one piece, not two walls round what its foot is sewn to."""
    corners = "".join(
        f'<seam box-{part}-{side}: ["{part}: {side}-brow", "{part}: {side}-foot"]>\n'
        for part in ("front", "rear")
        for side in ("left", "right")
    )
    build = resolve_text(
        f"{BOXED}{REAR}{SIDES}{corners}"
        '<seam one: ["front: bottom from left-foot to left-foot 60 mm",'
        ' "rear: bottom from right-foot 60 mm to right-foot"]>\n'
        '<seam gap: ["front: bottom from left-foot 60 mm to right-foot",'
        ' "rear: bottom from left-foot to right-foot 60 mm"]>\n'
    )
    lengths = {seam.name: seam.length_mm for seam in build.seams}
    assert (lengths["one"], lengths["gap"]) == pytest.approx((60, 160)), "220 mm of foot in all"


def test_an_edge_that_a_part_of_a_run_names_twice_is_told(resolve_text: Resolve) -> None:
    twice = FEET.replace("left bottom right from top", "left right right from top")
    with pytest.raises(SpecRejected) as caught:
        resolve_text(f'{ROUND_BASE}<rectangle front: ["solve", "200 mm"]>\n{REAR}{SIDES}{twice}')
    assert "the edge 'right' is named twice" in caught.value.problems[0].what


def test_an_edge_that_is_not_there_shortens_no_row_beside_its_seam(resolve_text: Resolve) -> None:
    """The lining has no top: that alone is told, and not that the front is 0 mm long between two rows. With its own name
    of that edge nothing is."""
    points = '{ at = ["0", "0"], edge = "foot" }, { at = ["200 mm", "0"], edge = "right" }, '
    points += '{ at = ["200 mm", "150 mm"], edge = "right-flap" }, { at = ["200 mm", "210 mm"], edge = "tip" }, '
    points += '{ at = ["0", "210 mm"], edge = "left-flap" }, { at = ["0", "150 mm"], edge = "left" }'
    flap = "right-flap tip left-flap"
    text = (
        '<rectangle front: ["200 mm", "150 mm"]>\n[pieces.front-lining]\nlike = "front"\n'
        f'[pieces.back]\nof = "body"\nshape = "outline"\npoints = [{points}]\n[pieces.back-lining]\nlike = "back"\n'
        '<seam mouth: ["front: top", "back-lining: top"]>\n'
        '<seam round: ["front: left bottom right", "front-lining: left bottom right", "back-lining: left foot right", '
        f'"back: left foot right"]>\n<seam flap: ["back: {flap}", "back-lining: {flap}"]>\n'
    )
    with pytest.raises(SpecRejected) as told:
        resolve_text(text)
    assert [problem.what for problem in told.value.problems] == ['there is no edge "top" on this piece']
    build = resolve_text(text.replace('"back-lining: top"', '"front-lining: top"'))
    assert {side.lost_mm for seam in build.seams for side in seam.sides} == {(0.0, 0.0)}
