"""Runs of stitching and the thread they take, from builds made by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from docgen.geometry import Line, Path, Point
from docgen.plan import job_thread_mm, plan_work
from docgen.plan.sewing import all_jobs, join_job, seam_job, strap_job
from docgen.resolve import StitchLine, Strap, StrapEnd

SQUARE = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)


@pytest.fixture
def handle(make_piece) -> Strap:
    """A strap of 20 x 400 mm, stitched along both edges."""
    lines = tuple(
        StitchLine(seam="handle", stitch="main", path=Path((Line(Point(x, 0), Point(x, 400)),)))
        for x in (5, 15)
    )
    piece = make_piece("handle", 20, 400, shape="strip", is_strap=True, stitch_lines=lines)
    return Strap(
        name="handle", title="Handle", material="body", cut=2, width_mm=20, cut_length_mm=400, finished_mm=400,
        worn_mm=(), hole_tips_mm=(), punch_mm=0.0, ends=(SQUARE, SQUARE), partner="", stitch="main", piece=piece,
        note="",
    )  # fmt: skip


def test_a_seam_is_one_run_of_its_length(make_build, make_seam, main) -> None:
    seam = make_seam("side", 400, "back", "front")
    job = seam_job(make_build(seams=(seam,), stitches=(replace(main, rows=2),)), seam)
    assert (job.length_mm, job.runs, job.rows, job.stitches, job.stack_mm) == (400, 1, 2, 100, 4.0)
    assert (job.title, job.parts, job.seam) == ("Side", ("back", "front"), seam)


def test_a_join_of_three_is_two_runs_across_two_layers(make_build, make_piece, make_join) -> None:
    """60 mm wide, 5 mm clear at each side: 50 mm, that is 12.5, so 13 stitches."""
    join = make_join("gusset", "side", "base", "side")
    build = make_build(pieces=(make_piece("side", 60, 100), make_piece("base", 60, 300)), joins=(join,))
    job = join_job(build, join)
    assert (job.length_mm, job.runs, job.rows, job.stitches, job.stack_mm) == (50, 2, 2, 13, 4.0)
    assert job.pitch_mm * job.stitches == pytest.approx(50)
    assert job.parts == ("side", "base")


def test_a_strap_is_sewn_along_both_edges_of_every_copy(make_build, handle) -> None:
    job = strap_job(make_build(straps=(handle,)), handle)
    assert job is not None
    assert (job.length_mm, job.runs, job.stitches, job.stack_mm) == (400, 4, 100, 2.0)


def test_a_plain_strap_is_not_sewn(make_build, handle) -> None:
    plain = replace(handle, stitch="")
    assert strap_job(make_build(straps=(plain,)), plain) is None
    assert list(all_jobs(make_build(straps=(plain,)))) == []


def test_thread_by_machine_has_back_tacks_tails_and_waste(make_build, make_seam) -> None:
    """(400 + 2 x 10) x 2 (1 + 4/4) x 1.15 + 4 x 100 = 2332 mm (docgen.tables.thread, lockstitch; arithmetic)."""
    (job,) = all_jobs(make_build(seams=(make_seam("side", 400, "back", "front"),)))
    assert job_thread_mm(job) == pytest.approx(2332)


def test_leather_of_three_at_six_stitches_per_inch_takes_this_much(make_build, make_seam, main) -> None:
    """Leather 3.0 mm at 6 per inch: 3.417 m of thread per m of seam (2 (1 + T/p); derived by hand)."""
    pitch_mm = 25.4 / 6
    stitch = replace(main, by="hand", type="saddle stitch", pitch_mm=pitch_mm, back_tack_mm=0.0)
    short, long = (
        next(all_jobs(make_build(stitches=(stitch,), seams=(make_seam("s", n, "a", pitch_mm=pitch_mm, stack_mm=3.0),))))
        for n in (1000, 2000)
    )  # fmt: skip
    assert (job_thread_mm(long) - job_thread_mm(short)) / 1000 == pytest.approx(3.417, abs=0.0005)


def test_needle_and_bobbin_share_a_lockstitch_evenly(make_build, make_seam) -> None:
    """Stitch type 301 interlaces in the middle, needle and bobbin thread one to one (ISO 4915)."""
    build = make_build(makes=3, seams=(make_seam("side", 400, "back", "front"),))
    (need,) = plan_work(build).threads
    assert need.needle_thread_mm == need.bobbin_thread_mm == pytest.approx(3 * 2332 / 2)
    assert need.total_mm == pytest.approx(3 * 2332)
    assert need.sewn_mm == pytest.approx(1200)


@pytest.mark.parametrize(("by", "kind"), [("hand", "saddle stitch"), ("machine", "209")])
def test_a_saddle_stitch_has_no_bobbin(make_build, make_seam, main, by: str, kind: str) -> None:
    """Stitch type 209 and the hand's saddle stitch need no bobbin (ISO 4915)."""
    build = make_build(
        stitches=(replace(main, by=by, type=kind),), seams=(make_seam("side", 400, "back", "front"),)
    )
    (need,) = plan_work(build).threads
    assert need.bobbin_thread_mm == 0
    assert need.needle_thread_mm > 1600


def test_thread_is_gathered_by_kind_and_hand(make_build, make_seam, main) -> None:
    stitches = (
        main,
        replace(main, name="other", needle_nm=160),
        replace(main, name="light", thread_words="Tex 70 polyester"),
        replace(main, name="hand", by="hand", type="saddle stitch"),
    )
    seams = tuple(make_seam(s.name, 400, "a", "b", stitch=s.name) for s in stitches)
    needs = plan_work(make_build(stitches=stitches, seams=seams)).threads
    assert [(need.thread_words, need.by, need.needles) for need in needs] == [
        ("Tex 135 bonded nylon", "machine", (130, 160)),
        ("Tex 70 polyester", "machine", (130,)),
        ("Tex 135 bonded nylon", "hand", (130,)),
    ]
    assert needs[0].sewn_mm == pytest.approx(800)


def test_nothing_sewn_takes_no_thread(make_build, make_piece) -> None:
    assert plan_work(make_build(pieces=(make_piece("a", 10, 10),))).threads == ()


def test_rows_and_runs_multiply_thread(make_build, handle, main) -> None:
    single, double = (
        strap_job(make_build(straps=(handle,), stitches=(replace(main, rows=rows),)), handle)
        for rows in (1, 2)
    )
    assert single is not None
    assert double is not None
    assert job_thread_mm(double) == pytest.approx(2 * job_thread_mm(single))
    assert job_thread_mm(replace(single, runs=1)) == pytest.approx(job_thread_mm(single) / 4)
