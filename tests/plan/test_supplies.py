"""Hardware with its posts, needles, and what is used up, from builds made by hand."""

from dataclasses import replace

import pytest
from by_hand import make_hardware

from docgen.assemble import Fastened, Half, Stack
from docgen.plan import plan_work
from docgen.plan.supplies import plan_needles
from docgen.resolve import Step

RIVET = make_hardware("rivet", "rivet", 10, posts_mm=(6.0, 8.0, 10.0))


STACK = Stack(layers=(), usual_mm=4.0, thinnest_mm=4.0, thickest_mm=4.0)


def fit(post_mm: float, count: int, hardware: str = "rivet", half: Half = "") -> Fastened:
    return Fastened(hardware=hardware, part="back", count=count, event=0, stack=STACK, half=half, post_mm=post_mm)


def test_posts_are_counted_for_the_batch_and_the_rest_is_left_to_try(make_build) -> None:
    fittings = (fit(8.0, 4), fit(6.0, 2), fit(8.0, 1), fit(0.0, 1), fit(9.0, 5, "stud"))
    (item,) = plan_work(make_build(makes=3, hardware=(RIVET,), fastened=fittings)).hardware
    assert item.count == 30
    assert item.posts == ((6.0, 6), (8.0, 15), (0.0, 9))
    assert sum(count for _, count in item.posts) == item.count


def test_the_halves_of_a_snap_are_one_snap(make_build) -> None:
    """Four snaps: each has a cap in the one part and a stud in the other, each on a post of its own."""
    halves = (fit(8.0, 4, half="cap"), fit(6.0, 4, half="stud"))
    (item,) = plan_work(make_build(hardware=(replace(RIVET, count=4),), fastened=halves)).hardware
    assert item.posts == ((8.0, 4),)


@pytest.mark.parametrize("fittings", [(), (fit(0.0, 10),)])
def test_without_a_chosen_post_none_is_counted(make_build, fittings: tuple[Fastened, ...]) -> None:
    (item,) = plan_work(make_build(hardware=(RIVET,), fastened=fittings)).hardware
    assert item.posts == ()


def test_hardware_without_posts_has_none(make_build) -> None:
    ring = replace(RIVET, posts_mm=())
    (item,) = plan_work(make_build(hardware=(ring,), fastened=(fit(8.0, 4),))).hardware
    assert item.posts == ()


def test_shorter_posts_to_try_are_not_in_the_count(make_build) -> None:
    fittings = (replace(fit(10.0, 4), shorter_mm=(6.0, 8.0)), replace(fit(10.0, 2), shorter_mm=(8.0,)), fit(6.0, 4))
    (item,) = plan_work(make_build(makes=2, hardware=(RIVET,), fastened=fittings)).hardware
    assert item.posts == ((6.0, 8), (10.0, 12))
    assert item.tried == ((6.0, 8), (8.0, 12))


@pytest.mark.parametrize(
    ("count", "places", "makes", "wanted"), [(4, 4, 1, 2), (4, 4, 9, 4), (5, 4, 1, 0), (4, 0, 1, 0), (20, 20, 1, 2)]
)
def test_spares_are_wanted_where_none_is_counted(make_build, count: int, places: int, makes: int, wanted: int) -> None:
    """One in ten, at least two (common practice, no published source): 36 take 4 more."""
    fittings = (fit(8.0, places),) if places else ()
    (item,) = plan_work(
        make_build(makes=makes, hardware=(replace(RIVET, kind="rivet", count=count),), fastened=fittings)
    ).hardware
    assert item.wanted == wanted


def test_no_spares_are_wanted_of_what_is_not_spoiled_when_it_is_set(make_build) -> None:
    post = make_hardware("rivet", "screw post", 4, posts_mm=(6.0,), kind="screw-post")
    (item,) = plan_work(make_build(hardware=(post,), fastened=(fit(6.0, 4),))).hardware
    assert (item.hardware.kind, item.wanted) == ("screw-post", 0)


def test_goods_that_are_used_up_are_listed_once_with_their_steps(make_build) -> None:
    tools = (("contact cement", "bone folder"), ("glue brush",), ("contact cement", "edge dye", "mallet"))
    steps = tuple(Step(do="Do it.", tools=each) for each in tools)
    plan = plan_work(make_build(steps=steps))
    assert [(supply.what, supply.steps) for supply in plan.supplies] == [("contact cement", (1, 3)), ("edge dye", (3,))]


def test_needles_of_machine_and_hand(make_build, make_seam, main) -> None:
    stitches = (
        main,
        replace(main, name="thin", thread_words="Tex 70", needle_nm=110),
        replace(main, name="hand", by="hand", type="saddle stitch"),
    )
    seams = tuple(make_seam(stitch.name, 400, "a", "b", stitch=stitch.name) for stitch in stitches)
    plan = plan_work(make_build(stitches=stitches, seams=seams))
    assert [(needles.by, needles.sizes) for needles in plan.needles] == [("machine", (110, 130)), ("hand", ())]
    assert plan_needles((), ()) == ()
