"""Holes of hand stitches on strips that are joined end to end: each strip has its share of the whole seam's."""

from itertools import pairwise

import pytest
from built import piece_of
from spec_text import Resolve

from docgen.geometry.path import end_point, points_at, start_point
from docgen.resolve import Build, StitchLine

PANEL = """\
[stitches.hand]
by = "{by}"
thread = "Tex 180 waxed linen"
pitch = "5 mm"
inset = "4 mm"
<back>
round = {{ {corners} }}
<front>
mirror = true
"""
SIDES = """\
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["60 mm", "120 mm"]
skives = [{{ edges = "{skived}", width = "20 mm", to = "1 mm" }}]
<strip base: ["60 mm", "solve"]>
[joins.gusset]
of = ["side", "base", "side"]
overlap = "15 mm"
stitch = "hand"
[seams.to-back]
stitch = "hand"
meet = ["back: left bottom right", "gusset: left"]
[seams.to-front]
stitch = "hand"
meet = ["gusset: right", "front: right bottom left"]
"""
ROUND = 'bottom-left = "30 mm", bottom-right = "30 mm"'
ONE_ROUND = 'bottom-left = "30 mm"'


def resolve_bag(resolve_text: Resolve, by: str = "hand", corners: str = ROUND, skived: str = "start") -> Build:
    return resolve_text(PANEL.format(by=by, corners=corners) + SIDES.format(skived=skived))


def find_line(build: Build, name: str, seam: str) -> StitchLine:
    piece = piece_of(build, name)
    return next(line for line in piece.marks.stitch_lines if line.seam == seam)


def test_holes_of_the_strips_laid_end_to_end_are_those_of_the_panel(resolve_text: Resolve) -> None:
    build = resolve_bag(resolve_text)
    side, base = (find_line(build, name, "to-back").holes_mm for name in ("side", "base"))
    base_mm = build.joins[0].length_mm - 2 * 120 + 2 * 15
    # The skived start of a side lies under the base: the first copy is turned, its free end where the seam begins.
    laid = [120 - at for at in side] + [105 + at for at in base] + [105 + base_mm - 15 + at for at in side]
    wanted = find_line(build, "back", "to-back").holes_mm
    found = sorted({round(at, 3) for at in laid})
    assert found == pytest.approx(sorted(wanted), abs=0.002)
    assert len(laid) > len(wanted), "holes in the overlaps are on both strips"


def test_skived_end_turns_the_other_copy(resolve_text: Resolve) -> None:
    at_start, at_end = (resolve_bag(resolve_text, skived=end) for end in ("start", "end"))
    first, second = (find_line(build, "side", "to-back").holes_mm for build in (at_start, at_end))
    assert first == pytest.approx(sorted(120 - at for at in second), abs=1e-6)


def test_strip_is_measured_from_its_start(resolve_text: Resolve) -> None:
    build = resolve_bag(resolve_text)
    for seam in ("to-back", "to-front"):
        line = find_line(build, "side", seam)
        assert start_point(line.path).y == pytest.approx(0)
        assert end_point(line.path).y == pytest.approx(120)
        # The free end of every side is an end of the seam, where the thread goes over the edge.
        assert points_at(line.path, line.holes_mm)[-1][0].y == pytest.approx(120 - build.seams[0].pitch_mm)
        assert [b - a for a, b in pairwise(line.holes_mm)] == pytest.approx(
            [build.seams[0].pitch_mm] * (len(line.holes_mm) - 1)
        )


def test_copies_that_need_other_holes_get_none(resolve_text: Resolve) -> None:
    # One square corner, whose hole is not as far from one end of the seam as from the other.
    build = resolve_bag(resolve_text, corners=ONE_ROUND)
    assert find_line(build, "side", "to-back").holes_mm == ()
    assert find_line(build, "back", "to-back").holes_mm
    assert find_line(build, "base", "to-back").holes_mm


def test_machine_ticks_count_from_the_start_of_the_whole_seam(resolve_text: Resolve) -> None:
    build = resolve_bag(resolve_text, by="machine")
    seam, base = build.seams[0], find_line(build, "base", "to-back")
    assert [(at + 105) / seam.pitch_mm for at in base.ticked_mm] == pytest.approx(list(range(30, 80, 10)))
    side = find_line(build, "side", "to-back")
    assert side.holes_mm
    assert side.ticked_mm == (), "one copy counts from the seam's start, the other from its end"


def test_a_join_that_lies_flat_beneath_a_seam_has_no_holes_of_it_on_its_edges(resolve_text: Resolve) -> None:
    build = resolve_text(
        '<back>\n[pieces.strap]\nof = "body"\ncut = 2\nshape = "strip"\nsize = ["200 mm", "200 mm"]\n'
        '[joins.whole]\nof = ["strap", "strap"]\noverlap = "10 mm"\nstitch = "main"\n'
        '[seams.s]\nstitch = "main"\nmeet = ["back: left", "whole"]\n'
    )
    (strip,) = [piece for piece in build.pieces if piece.name == "strap"]
    assert "s" not in {line.seam for line in strip.marks.stitch_lines}


def test_a_join_that_lies_flat_in_a_seam_has_no_holes_along_an_edge(resolve_text: Resolve) -> None:
    text = PANEL.format(by="hand", corners=ROUND) + SIDES.format(skived="start")
    flat = '[seams.flat]\nstitch = "hand"\nmeet = ["front: top", "gusset"]\n'
    build = resolve_text(text + flat)
    assert {line.seam for line in piece_of(build, "side").marks.stitch_lines} == {"gusset", "to-back", "to-front"}


@pytest.mark.parametrize(("said", "rows"), [("", 2), ("rows = 1\n", 1)])
def test_a_joint_is_sewn_with_the_rows_of_its_stitch(resolve_text: Resolve, said: str, rows: int) -> None:
    """15 mm lap: two rows share it in three, 5 mm apart."""
    text = PANEL.format(by="hand", corners=ROUND).replace('inset = "4 mm"\n', 'inset = "4 mm"\nrows = 2\n', 1)
    join = 'overlap = "15 mm"\nstitch = "hand"\n'
    build = resolve_text(text + SIDES.format(skived="start").replace(join, join + said))
    lines = [line for line in piece_of(build, "base").marks.stitch_lines if line.seam == "gusset"]
    away = sorted({round(start_point(line.path).y, 3) for line in lines})[:rows]
    assert len(lines) == 2 * rows
    assert away == pytest.approx([5, 10] if rows == 2 else [7.5])
