"""The thread that runs of stitching take, from builds made by hand."""

from dataclasses import replace

import pytest
from by_hand import MAIN
from hypothesis import given
from hypothesis import strategies as st

from docgen.plan import SewingJob, plan_work
from docgen.plan.sewing import cut_hand_threads, list_jobs
from docgen.plan.thread import job_thread_mm
from docgen.tables.limits import Limits


def test_thread_by_machine_has_back_tacks_tails_and_waste(make_build, make_seam) -> None:
    """(400 + 2 x 10) x 2 (1 + 4/4) x 1.15 + 4 x 100 = 2332 mm (docgen.tables.thread, lockstitch; arithmetic)."""
    ((_, job),) = list_jobs(make_build(seams=(make_seam("side", 400, "back", "front"),)))
    assert job_thread_mm(job, Limits()) == pytest.approx(2332)


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
    build = make_build(stitches=(replace(main, by=by, type=kind),), seams=(make_seam("side", 400, "back", "front"),))
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


def test_every_row_counts_as_sewn(make_build, make_seam, main) -> None:
    """Two rows of 400 mm are 800 mm, in each of three makes (arithmetic)."""
    build = make_build(makes=3, stitches=(replace(main, rows=2),), seams=(make_seam("side", 400, "back", "front"),))
    assert plan_work(build).threads[0].sewn_mm == pytest.approx(2400)


def test_nothing_sewn_takes_no_thread(make_build, make_piece) -> None:
    assert plan_work(make_build(pieces=(make_piece("a", 10, 10),))).threads == ()


def test_rows_and_runs_multiply_thread(make_build, handle, main) -> None:
    single, double = (
        list_jobs(make_build(straps=(handle,), stitches=(replace(main, rows=rows),)))[0][1] for rows in (1, 2)
    )
    assert job_thread_mm(double, Limits()) == pytest.approx(2 * job_thread_mm(single, Limits()))
    assert job_thread_mm(replace(single, runs=1), Limits()) == pytest.approx(job_thread_mm(single, Limits()) / 4)


def test_rows_and_runs_multiply_the_threads_cut_by_hand(make_build, handle, main) -> None:
    """Two handles with two long edges are four runs; each takes one thread a row (400 x 4 mm are under 2.5 m)."""
    for rows in (1, 2):
        stitch = replace(main, by="hand", type="saddle stitch", rows=rows)
        ((_, job),) = list_jobs(make_build(straps=(handle,), stitches=(stitch,)))
        assert job.hand_threads == 4 * rows
        assert job_thread_mm(job, Limits()) == pytest.approx(4 * rows * job.hand_thread_mm)


def test_bobbins_hold_three_grams_and_spools_four_ounces(make_build, make_seam) -> None:
    """Tex 135 weighs 135 g per 1,000 m (ISO 1144): 3 g are 22.2 m, 0.9 x 113.4 g are 756 m. Ten makes of 2332 mm
    take 11.66 m of each thread: one bobbin; forty take 46.64 m: three."""
    build = make_build(makes=10, seams=(make_seam("side", 400, "back", "front"),))
    (ten,) = plan_work(build).threads
    assert ten.bobbin_mm == pytest.approx(22222, abs=1)
    assert ten.spool_mm == pytest.approx(756000, abs=1)
    assert (ten.bobbins, ten.spools) == (1, 1)
    (forty,) = plan_work(replace(build, makes=40)).threads
    assert (forty.bobbins, forty.spools) == (3, 1)


def test_a_bobbin_and_a_spool_may_be_given(make_build, make_seam, main) -> None:
    """Two makes take 4664 mm together: 2332 on bobbins of 2 m, and spools of 1.5 m."""
    stitch = replace(main, bobbin_mm=2000.0, spool_mm=1500.0)
    build = make_build(makes=2, stitches=(stitch,), seams=(make_seam("side", 400, "back", "front"),))
    (need,) = plan_work(build).threads
    assert (need.bobbin_mm, need.bobbins) == (2000.0, 2)
    assert (need.spool_mm, need.spools) == (1500.0, 4)


def test_a_short_seam_by_hand_takes_one_thread(make_build, make_seam, main) -> None:
    """300 mm and two back-tacks of 10 mm at 2 (1 + 4/4) are 1280 mm, and two tails of 150 mm make 1580 mm; for two
    makes two such threads. The practice of four times the seam and a foot gives 1505 mm (trade forums)."""
    stitch = replace(main, by="hand", type="saddle stitch")
    build = make_build(makes=2, stitches=(stitch,), seams=(make_seam("side", 300, "back", "front"),))
    (need,) = plan_work(build).threads
    assert [(cut.title, cut.count, cut.length_mm) for cut in need.hand] == [("Side", 2, pytest.approx(1580))]
    assert need.needle_thread_mm == pytest.approx(2 * 1580)
    assert (need.bobbins, need.bobbin_thread_mm) == (0, 0)


def test_a_long_seam_by_hand_is_shared_out_among_threads(make_build, make_seam, main) -> None:
    """1000 x 2 (1 + 3/3) = 4000 mm are more than one handy thread of 2500: two sew 2000 mm each, with two tails of 150
    mm; nothing is added for waste. Common practice, no published source, is 3 to 4 times the seam and some
    more: 4000 mm and the four tails."""
    stitch = replace(main, by="hand", type="saddle stitch", back_tack_mm=0.0)
    seam = make_seam("side", 1000, "back", "front", stack_mm=3.0, pitch_mm=3.0)
    (need,) = plan_work(make_build(stitches=(stitch,), seams=(seam,))).threads
    assert [(cut.count, cut.length_mm) for cut in need.hand] == [(2, pytest.approx(2300))]
    assert need.total_mm == pytest.approx(4600)


@pytest.mark.parametrize(
    ("back_tack_mm", "threads", "each_mm"),
    [
        # 8 mm sewn at 4 mm take 2 (1 + 8/4) = 6 times their length. Of 2500 mm, two tails take 300 and two back-tacks
        # of 125 mm 1500: 700 are left, and 3000 mm of seam take 18000, 26 threads.
        (125.0, 26, 18000 / 26 + 1500 + 300),
        # Back-tacks of 200 mm take 2400, more than all of it: each thread still sews up to a quarter of 2500 (our
        # choice), 625 mm: 29 threads.
        (200.0, 29, 18000 / 29 + 2400 + 300),
    ],
)
def test_long_back_tacks_leave_less_of_a_thread_and_at_least_a_quarter(
    make_build, make_seam, main, back_tack_mm: float, threads: int, each_mm: float
) -> None:
    stitch = replace(main, by="hand", type="saddle stitch", back_tack_mm=back_tack_mm)
    seam = make_seam("side", 3000, "back", "front", stack_mm=8.0)
    (need,) = plan_work(make_build(stitches=(stitch,), seams=(seam,))).threads
    assert [(cut.count, cut.length_mm) for cut in need.hand] == [(threads, pytest.approx(each_mm))]


@given(
    st.floats(5, 20_000), st.floats(0.5, 12), st.floats(1.5, 8), st.floats(0, 40), st.integers(1, 3), st.integers(1, 4)
)
def test_threads_cut_by_hand_sew_the_whole_seam_and_stay_handy(
    length_mm: float, stack_mm: float, pitch_mm: float, back_tack_mm: float, rows: int, runs: int
) -> None:
    """What is left of all threads without tails and back-tacks is 2 (1 + T/p) of the seam."""
    stitch = replace(MAIN, by="hand", type="saddle stitch", pitch_mm=pitch_mm, rows=rows, back_tack_mm=back_tack_mm)
    job = SewingJob(
        title="",
        stitch=stitch,
        parts=(),
        length_mm=length_mm,
        runs=runs,
        stitches=1,
        pitch_mm=pitch_mm,
        stack_mm=stack_mm,
        rows=rows,
    )
    count, each_mm = cut_hand_threads(job, Limits())
    ratio = 2 * (1 + stack_mm / pitch_mm)
    assert count * (each_mm - 300 - 2 * back_tack_mm * ratio) == pytest.approx(length_mm * ratio)
    if 2 * back_tack_mm * ratio <= 1500:
        assert each_mm <= 2500 + 1e-6
