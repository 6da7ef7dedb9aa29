"""Pricking irons of a fixed pitch: whole stitches, the last ones adjusted, and which length would come out whole.

How much the last stitches may change is common practice, no published source.
"""

from itertools import pairwise

import pytest
from pypdf import PdfReader
from spec_text import Resolve

from docgen import build_documents
from docgen.cli import main
from docgen.geometry.spacing import MOST_CHANGE, adjust_span, find_spans, space_stitches
from docgen.plan import iron_words, list_jobs, plan_work
from docgen.versions.compared.differences import list_changes

IRON = '[irons.six]\ntitle = "iron no. 6"\npitch = "4 mm"\nteeth = 6\n'
HAND = '[stitches.own]\nby = "hand"\nthread = "Tex 180 waxed polyester"\niron = "six"\ninset = "4 mm"\n'
BAG = IRON + HAND + '<back>\n<front>\n[seams.s]\nstitch = "own"\nmeet = ["back: left", "front: left"]\n'


@pytest.mark.parametrize(
    ("length_mm", "last", "step_mm"),
    [(100.0, 0, 4.0), (100.08, 0, 4.0), (101.2, 3, 4.4), (101.9, 5, 4.38), (98.1, 5, 3.62), (98.9, 3, 4 - 1.1 / 3)],
)
def test_as_few_of_the_last_stitches_change_as_keep_within_a_tenth(length_mm: float, last: int, step_mm: float) -> None:
    """25 stitches of 4 mm are 100 mm; 0.4 mm is the most that one may change."""
    assert adjust_span(length_mm, 4.0) == (last, pytest.approx(step_mm))


@pytest.mark.parametrize("length_mm", [3.0, 17.3, 99.9, 150.0, 521.27, 1800.4])
def test_holes_of_an_iron_stand_at_its_pitch_but_for_the_last(length_mm: float) -> None:
    holes = space_stitches(length_mm, (), 4.0, is_fixed=True)
    steps = [after - before for before, after in pairwise(holes)]
    last, _ = adjust_span(length_mm, 4.0)
    assert (holes[0], holes[-1]) == (0.0, length_mm)
    assert len(holes) == len(space_stitches(length_mm, (), 4.0))
    assert steps[: len(steps) - last] == pytest.approx([4.0] * (len(steps) - last), abs=0.1)
    if len(steps) > 5:
        assert max(abs(step - 4.0) for step in steps) <= 4.0 * MOST_CHANGE + 0.1


def test_each_span_between_corners_begins_whole() -> None:
    """Spans of 30 and 50.6 mm: seven stitches and a half come to 8, twelve and a half to 13."""
    assert find_spans(80.6, (30.0,), 4.0) == pytest.approx((30.0, 50.6))
    holes = space_stitches(80.6, (30.0,), 4.0, is_fixed=True)
    assert 30.0 in holes
    assert holes[:2] == (0.0, 4.0)
    assert holes[holes.index(30.0) + 1] == pytest.approx(34.0)


def test_the_words_tell_the_lengths_on_both_sides_that_come_out_whole() -> None:
    """150 mm are 37 stitches and a half: 152 mm are 38, 148 mm are 37."""
    assert iron_words([150.0], 4.0) == [
        "38 stitches, 33 whole, then 5 of 3.6 mm at its end; 2 mm longer gives 38 whole stitches, 2 mm shorter gives 37"
    ]
    assert iron_words([152.0], 4.0) == ["38 whole stitches"]
    told = iron_words([152.0, 150.0, 152.0], 4.0)
    assert told[0] == "parts 1 and 3 between corners: 38 whole stitches"
    assert told[1].startswith("part 2 between corners: 38 stitches, 33 whole")
    assert iron_words([152.0, 150.0, 152.0], 4.0, are_corners=False)[0] == "parts 1 and 3 of the row: 38 whole stitches"


def test_seams_take_the_iron_and_print_its_holes(resolve_text: Resolve) -> None:
    build = resolve_text(BAG)
    (seam,) = build.seams
    assert seam.stitches == 38
    assert seam.holes_mm[1:3] == pytest.approx((4.0, 8.0))
    assert seam.holes_mm[-2] == pytest.approx(150 - 3.6)
    (line,) = build.pieces[0].marks.stitch_lines
    gaps = [after - before for before, after in pairwise(line.holes_mm)]
    assert gaps[0] == pytest.approx(4.0)
    adjusting = resolve_text(BAG, (IRON, ""), ('iron = "six"', 'pitch = "4 mm"'))
    assert adjusting.seams[0].holes_mm[1] == pytest.approx(150 / 38)


def test_the_edges_of_a_strap_and_dividers_take_it_too(resolve_text: Resolve) -> None:
    """A strap of 310 mm, square at both ends, and a line across a pocket of 150 mm."""
    text = (
        IRON + HAND + '<back>\ndividers = [{ at = "centre", stitch = "own" }]\n<strap>\nfinished = "310 mm"\n'
        'ends = [{ shape = "square" }, { shape = "square" }]\nstitch = "own"\n'
    )
    jobs = {job.title: job for _, job in list_jobs(resolve_text(text))}
    assert jobs["s, along the edge"].spans_mm == pytest.approx((310,))
    assert iron_words(jobs["s, along the edge"].spans_mm, 4.0)[0].startswith("78 stitches, 73 whole, then 5 of 3.6 mm")
    assert jobs["back, dividing line"].spans_mm == pytest.approx((150,))


def test_check_tells_which_length_comes_out_whole_and_the_sheet_says_it(
    resolve_text: Resolve, tmp_path, capsys: pytest.CaptureFixture[str]
) -> None:
    resolve_text(BAG)
    assert main(["check", "a.toml"]) == 0
    told = (
        "38 stitches, 33 whole, then 5 of 3.6 mm at its end; 2 mm longer gives 38 whole stitches, 2 mm shorter gives 37"
    )
    assert capsys.readouterr().out.startswith(f'by the iron, "s": {told}\n')
    paths = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01").paths
    sheet = next(path for path in paths if path.stem == "build-sheet")
    text = " ".join(" ".join(page.extract_text() for page in PdfReader(sheet).pages).replace("\u00a0", " ").split())
    assert f"Pricked with iron no. 6, 4 mm (6.4 per inch), 6 teeth: {told}." in text
    assert "pricking iron, iron no. 6, 4 mm (6.4 per inch), 6 teeth" in plan_work(resolve_text(BAG)).tools


def test_a_comparison_tells_another_iron(resolve_text: Resolve) -> None:
    after = resolve_text(BAG, ("teeth = 6", "teeth = 8"))
    (change,) = list_changes(resolve_text(BAG), after)
    (fact,) = change.facts
    assert (change.part, fact.name) == ("stitch", "pricking iron")
    assert str(fact.after).endswith("8 teeth")
