"""Edges that a closed fold crosses, sewn as the piece is folded: lengths, stitches and layers by hand, and by shapely."""

from collections.abc import Callable

import pytest
from shapely.geometry import LineString, Polygon
from short_specs import piece, seam
from spec_text import Resolve

from docgen.resolve import Build

ON_FRONT = 'landings = [{ piece = "pocket", at = "30 mm from left, 20 mm from bottom" }]\n'
SEW = seam("s", "pocket: left bottom right", "front")


@pytest.fixture
def sew(resolve_text: Resolve) -> Callable[[str], Build]:
    return lambda text: resolve_text(piece("front", 200, 250, ON_FRONT) + text)


def test_a_pocket_with_its_top_folded_down_is_sewn_up_to_the_fold(sew: Callable[[str], Build]) -> None:
    """100 by 150, folded 30 under the top: at 4 mm in, up 116, across 92, up 116: 324 mm, 81 stitches of 4. Two layers of
    the pocket lie on the front in the top 30 of each side, one elsewhere."""
    build = sew(piece("pocket", 100, 150, 'folds = [{ at = "30 mm from top" }]\n') + SEW)
    (found,) = build.seams
    side = found.sides[0]
    assert side.length_mm == pytest.approx(324)
    assert side.stitches == 81
    assert (found.thinnest_mm, found.stack_mm, found.thickest_mm) == pytest.approx((4, 4, 6))
    (line,) = [line for one in build.pieces if one.name == "pocket" for line in one.marks.stitch_lines]
    ends = {(round(at.x, 6), round(at.y, 6)) for at in (line.path.segments[0].start, line.path.segments[-1].end)}
    assert ends == {(4, 120), (96, 120)}


def test_a_piece_folded_in_the_middle_is_sewn_round_its_lower_half(sew: Callable[[str], Build]) -> None:
    """100 by 80, folded across at 40: up 36, across 92, up 36, everywhere through both halves."""
    (found,) = sew(piece("pocket", 100, 80, 'folds = [{ at = "middle" }]\n') + SEW).seams
    assert found.sides[0].length_mm == pytest.approx(36 + 92 + 36)
    assert (found.thinnest_mm, found.thickest_mm) == pytest.approx((6, 6))


def test_a_side_turned_in_is_left_out_of_the_run(sew: Callable[[str], Build]) -> None:
    """30 mm turned in along the right: the run ends there. By shapely: what of it lies on the half that is kept."""
    corner = '{ at = "30 mm from right", open = false }'
    (found,) = sew(piece("pocket", 100, 80, f"folds = [{corner}]\n") + SEW).seams
    run = LineString([(0, 80), (0, 0), (100, 0), (100, 80)]).parallel_offset(4, "left", join_style="mitre")
    kept = run.intersection(Polygon([(0, 0), (70, 0), (70, 80), (0, 80)]))
    assert found.sides[0].length_mm == pytest.approx(kept.length)


@pytest.mark.parametrize(
    ("front", "fold"),
    [
        (ON_FRONT + 'folds = [{ at = "centre" }]\n', 'folds = [{ at = "30 mm from top" }]\n'),
        (ON_FRONT, 'folds = [{ at = "30 mm from top", open = true }]\n'),
        (ON_FRONT, ""),
    ],
)
def test_what_folds_with_its_host_or_only_bends_is_sewn_flat(resolve_text: Resolve, front: str, fold: str) -> None:
    build = resolve_text(piece("front", 200, 250, front) + piece("pocket", 100, 150, fold) + SEW)
    assert build.seams[0].sides[0].length_mm == pytest.approx(146 + 92 + 146)


def test_two_pieces_that_fold_alike_are_sewn_flat_to_each_other(resolve_text: Resolve) -> None:
    fold = 'folds = [{ at = "middle" }]\n'
    text = piece("out", 100, 150, fold) + piece("in", 100, 150, fold)
    build = resolve_text(text + seam("s", "out: left bottom right", "in: left bottom right"))
    assert [side.length_mm for side in build.seams[0].sides] == pytest.approx([146 + 92 + 146] * 2)


def test_a_fold_in_the_middle_of_a_run_leaves_it_flat(sew: Callable[[str], Build]) -> None:
    """A tongue folded up from the bottom lies between both ends of the run: no one stretch is left of it."""
    (found,) = sew(piece("pocket", 100, 150, 'folds = [{ at = "30 mm from bottom" }]\n') + SEW).seams
    assert found.sides[0].length_mm == pytest.approx(146 + 92 + 146)
