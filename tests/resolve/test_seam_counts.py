"""Stitches of a seam: one count on all its sides, and the true length of a stitch in every span."""

import pytest
from spec_text import Resolve

from docgen.pages.work.runs import _pitch_facts
from docgen.plan.sewing import seam_job
from docgen.resolve import Build


def panels(back: str, front: str, edges: str, more: str = "", pitch: str = "4 mm") -> str:
    return f"""\
<stitch own: by machine, Tex 135 bonded nylon, {pitch}, 4 mm>
<rectangle back: [{back}]>
<rectangle front: [{front}]>
[seams.s]
stitch = "own"
meet = ["back: {edges}", "front: {edges}"]
{more}
"""


def counts(build: Build) -> list[int]:
    (seam,) = build.seams
    assert len(seam.holes_mm) == seam.stitches + 1
    return [seam.stitches, *(side.stitches for side in seam.sides)]


def test_a_panel_with_sharp_corners_has_the_count_of_its_seam(resolve_text: Resolve) -> None:
    # 146, 192 and 146 mm of 4 mm stitches: 37 + 48 + 37, where 484 mm in one would hold 121.
    build = resolve_text(panels('"200 mm", "150 mm"', '"200 mm", "150 mm"', "left bottom right"))
    assert counts(build) == [122, 122, 122]


@pytest.mark.parametrize(("back", "front"), [("109.9", "110.1"), ("110.1", "109.9"), ("110", "110.4")])
def test_sides_that_are_let_pass_as_equal_have_one_count(resolve_text: Resolve, back: str, front: str) -> None:
    build = resolve_text(panels(f'"60 mm", "{back} mm"', f'"60 mm", "{front} mm"', "left"))
    assert len(set(counts(build))) == 1


def test_a_side_that_is_eased_in_tells_its_own_count_with_its_corners(resolve_text: Resolve) -> None:
    build = resolve_text(panels('"200 mm", "150 mm"', '"206 mm", "150 mm"', "left bottom right", 'ease = "6 mm"'))
    own, first, eased = counts(build)
    assert own == first
    # 198 mm at the bottom, which 49.5 stitches would fill: halves are rounded up.
    assert eased == 37 + 50 + 37


def test_each_span_has_its_own_pitch(resolve_text: Resolve) -> None:
    build = resolve_text(panels('"151 mm", "17 mm"', '"151 mm", "17 mm"', "left bottom right", pitch="5 mm"))
    (seam,) = build.seams
    # 13 mm beside 143 mm beside 13 mm.
    assert seam.pitches_mm == pytest.approx((13 / 3, 143 / 29, 13 / 3))
    assert seam.pitch_mm == pytest.approx((13 + 143 + 13) / 35)
    (told,) = _pitch_facts(seam_job(build, seam), {"pitch": "stitch length"})
    assert told.replace("\u00a0", " ") == "stitch length 4.3 to 4.9 mm (5.9 to 5.2 per inch)"


def test_spans_that_are_nearly_alike_are_told_as_one(resolve_text: Resolve) -> None:
    build = resolve_text(panels('"200 mm", "150 mm"', '"200 mm", "150 mm"', "left bottom right"))
    (seam,) = build.seams
    assert seam.pitches_mm == pytest.approx((146 / 37, 4, 146 / 37))
    assert [*_pitch_facts(seam_job(build, seam), {"pitch": "stitch length"})] == [], "3.97 mm is what is set, 4"


def test_a_straight_seam_has_one_pitch(resolve_text: Resolve) -> None:
    (seam,) = resolve_text(panels('"60 mm", "110 mm"', '"60 mm", "110 mm"', "left")).seams
    assert seam.pitches_mm == pytest.approx((110 / 28,))
