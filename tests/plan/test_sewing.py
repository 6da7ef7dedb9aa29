"""Runs of stitching, from builds made by hand."""

from dataclasses import replace

import pytest
from demos import demo_plan

from docgen.geometry.shapes import Line, Path, Point
from docgen.plan.sewing import list_jobs, number_seams, seam_job
from docgen.resolve import StitchLine


def test_a_seam_is_one_run_of_its_length(make_build, make_seam, main) -> None:
    seam = make_seam("side", 400, "back", "front")
    job = seam_job(make_build(seams=(seam,), stitches=(replace(main, rows=2),)), seam)
    assert (job.length_mm, job.runs, job.rows, job.stitches, job.stack_mm) == (400, 1, 2, 100, 4.0)
    assert (job.title, job.parts, job.seam) == ("Side", ("back", "front"), seam)


def test_seams_of_a_step_are_numbered_as_they_are_sewn_and_one_alone_has_no_number(make_build, make_seam) -> None:
    seams = make_seam("side", 400, "back", "front"), make_seam("foot", 200, "back", "front")
    build = make_build(seams=seams)
    side, foot = (seam_job(build, seam) for seam in seams)
    assert number_seams([foot, side]) == {"foot": 1, "side": 2}
    assert number_seams([side]) == {}


def test_a_join_of_three_is_two_runs_across_its_skived_ends(make_build, make_piece, make_join) -> None:
    """60 mm wide, 5 mm clear at each side: 50 mm, that is 12.5, so 13 stitches."""
    join = make_join("gusset", "side", "base", "side", stack_mm=3.2)
    build = make_build(pieces=(make_piece("side", 60, 100), make_piece("base", 60, 300)), joins=(join,))
    ((_, job),) = list_jobs(build)
    assert (job.length_mm, job.runs, job.rows, job.stitches, job.stack_mm) == (50, 2, 2, 13, 3.2)
    assert job.pitch_mm * job.stitches == pytest.approx(50)
    assert job.parts == ("side", "base")


def test_a_strap_is_sewn_along_both_edges_of_every_copy_through_all_its_layers(make_build, handle) -> None:
    ((_, job),) = list_jobs(make_build(straps=(handle,)))
    assert (job.length_mm, job.runs, job.stitches, job.stack_mm) == (400, 4, 100, 2.6)


def test_a_plain_strap_is_not_sewn(make_build, handle) -> None:
    plain = replace(handle, stitch="")
    assert list_jobs(make_build(straps=(plain,))) == ()


def test_a_strap_sewn_round_its_tip_is_one_run_of_each_copy(make_build, handle) -> None:
    """Up 400 mm, across 10 mm and down 400 mm, a stitch on each corner: 100 + 3 + 100 stitches (10 / 4 rounds up)."""
    path = Path(
        (Line(Point(5, 0), Point(5, 400)), Line(Point(5, 400), Point(15, 400)), Line(Point(15, 400), Point(15, 0)))
    )
    piece = handle.piece.with_marks(
        stitch_lines=(
            StitchLine(seam="handle", stitch="main", path=path, row=0),
            StitchLine(seam="handle", stitch="main", path=path, row=1),
        )
    )
    sewn = replace(handle, piece=piece)
    ((_, job),) = list_jobs(make_build(straps=(sewn,)))
    assert (job.length_mm, job.runs, job.stitches) == (810, 2, 203)


def test_at_how_many_ends_the_thread_goes_over_an_edge() -> None:
    """The wallet's rows end at cut edges, both; a dividing line of the cable roll at the mouth of its pockets alone; the
    patch of the sleeve is sewn all round, and by machine no end goes over."""
    crossed = {
        job.title: job.over_edges
        for name in ("wallet", "cable-roll", "notebook-sleeve", "tote")
        for step in demo_plan(name).steps
        for job in step.jobs
    }
    assert crossed["Top edges"] == 2
    assert crossed["Row of pockets, dividing line"] == 1
    assert crossed["Patch to front"] == 0
    assert crossed["Left side into the body"] == 0
