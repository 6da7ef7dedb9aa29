"""Handles that go round rings in the folds of loops: in which step they hang there, with what, and what is told of it."""

from pathlib import Path

import pytest
from demos import demo_build
from short_specs import piece, rivet, seam, step
from spec_text import HEAD

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.checks import resolve_build
from docgen.geometry.path import end_point, start_point
from docgen.pages.pictures.drawing import Drawing, Shown
from docgen.pages.pictures.step_drawing import set_scene
from docgen.pages.pictures.view import dimetric
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

AT = [f'{{ at = "50 mm from {side}, 30 mm from top", punch = "4 mm", {{}} }}' for side in ("left", "right")]
PANEL = f"holes = [{', '.join(AT)}]\n".replace("{}", 'takes = "rivet", through = ["loop", "loop"]')
OWN = ", ".join(f'{{ at = "centre, 12 mm from {end}", punch = "4 mm" }}' for end in ("bottom", "top"))
LOOP = f'cut = 4\nfolds = [{{ at = "middle", around = "ring" }}]\nholes = [{OWN}]\n'
BAG = (
    piece("front", 200, 150, PANEL)
    + '[pieces.back]\nlike = "front"\n'
    + piece("loop", 20, 80, LOOP)
    + seam("round", "front: left bottom right", "back: left bottom right")
    + '[hardware.ring]\nwhat = "rectangular ring"\ncount = 4\ninside = "20 mm"\nbar = "3 mm"\n'
    + rivet(4)
    + """\
[straps.handle]
title = "Handle"
of = "body"
cut = 2
width = "20 mm"
finished = "280 mm"
stitch = "main"
ends = [{ shape = "turned", back = "30 mm", around = "ring" }, { shape = "turned", back = "30 mm", around = "ring" }]
"""
    + step("Make the handles, rivet the loops.", straps="handle", pieces="loop", hardware="ring rivet")
    + step("Sew.", seams="round")
)


@pytest.fixture(scope="module")
def build(tmp_path_factory: pytest.TempPathFactory) -> Assembled:
    path: Path = tmp_path_factory.mktemp("hung") / "a.toml"
    path.write_text(HEAD + BAG, encoding="utf-8")
    return resolve_build(read_spec(str(path)))


@pytest.fixture(scope="module")
def plan(build: Assembled) -> Plan:
    return plan_work(build)


def test_each_handle_hangs_in_the_two_rings_of_one_panel(build: Assembled) -> None:
    assert [(strap, build.space.part(tab).host) for strap, tab in build.space.hung] == [
        (Copy("handle"), Copy("front")),
        (Copy("handle"), Copy("front")),
        (Copy("handle", 2), Copy("back")),
        (Copy("handle", 2), Copy("back")),
    ]


def test_handles_go_on_with_their_loops_and_stay_there(build: Assembled) -> None:
    """In the first step two loops and a handle are lifted off each panel as one; in the second all is there."""
    apart = TakenApart(build)
    _, heaps = apart.heaps(0)
    moved = [sorted(copy.part for copy in one.copies) for heap in heaps for one in heap.moved]
    assert moved == [["handle", "loop", "loop"]] * 2
    assert all({"handle", "loop"} < {copy.part for copy in heap.new} for heap in heaps)
    (heap,) = apart.heaps(1)[1]
    assert sorted(copy.part for copy in heap.copies) == ["back", "front", "handle", "handle", *["loop"] * 4]


def test_the_step_tells_in_which_rings_they_hang(plan: Plan) -> None:
    (told,) = (dict(act.values) for act in plan.steps[0].acts if act.case.startswith("hung"))
    assert told == {"part": "2 × Handle", "hosts": "front, one on back"}
    assert not any(act.case.startswith("hung") for act in plan.steps[1].acts)


def test_what_lies_back_is_sewn_through(build: Assembled) -> None:
    """Both rows of both ends, from where these lie back to the cut end, and between on the strap itself: none over the
    ring."""
    handle = build.space.part(Copy("handle"))
    end = build.straps[0].ends[0]
    back_mm, bent_mm = end.back_mm, 2 * (end.fold_mm - end.back_mm)
    rows = [line.path for line in handle.item.marks if line.kind == "stitch" and line.name == "handle"]
    spans = sorted(tuple(sorted((start_point(path).y, end_point(path).y))) for path in rows)
    cut_mm = build.straps[0].cut_length_mm
    free_mm = back_mm + bent_mm
    for found, wanted in zip(
        spans[::2], [(0, back_mm), (free_mm, cut_mm - free_mm), (cut_mm - back_mm, cut_mm)], strict=True
    ):
        assert found == pytest.approx(wanted, abs=0.01)


def test_caps_over_a_loop_are_no_wider_than_that_lets_them(build: Assembled) -> None:
    caps = [one for one in TakenApart(build).closed.metal if one.metal.shape == "cap"]
    assert [one.room_mm for one in caps] == pytest.approx([20] * 4)


def test_a_strap_between_rings_that_come_on_from_two_sides_is_told_as_hung_there() -> None:
    """The ring tabs of the field bag go on the two ends of its gusset, and its strap between them, in step 12: it is not
    lifted with them, and the finished article shows it."""
    bag = TakenApart(demo_build("field-bag"))
    bodies, heaps = bag.heaps(11)
    parts = [{copy.part for copy in heap.copies} for heap in heaps]
    assert any("ring-tab" in one for one in parts)
    assert not any({"shoulder", "shoulder-buckle"} & one for one in parts)
    (joined,) = (bag.joined(heap, 11, bodies) for heap in heaps)
    assert joined.hung == ("Buckle strap", "Hole strap")
    assert joined.absent == ()
    shown = {body.title for body in bag.closed.bodies}
    assert {*joined.hung} <= shown


def test_a_handle_that_is_lifted_high_is_not_broken_off_below_its_ends() -> None:
    """It arches 9 in over the mouth of the tote, and is broken off; lifted by 600 mm its ends are seen all the same."""
    view = dimetric("front")
    bodies = TakenApart(demo_build("tote")).closed.bodies

    def seen_mm(lifted_mm: float) -> float:
        """How much of the lowest handle lies below where it is broken off."""
        shifts = [(0.0, 0.0, lifted_mm if body.is_strap else 0.0) for body in bodies]
        drawing = Drawing([Shown(body=body, shift=at) for body, at in zip(bodies, shifts, strict=True)], view)
        low = min(view.flat((0.0, 0.0, 0.0))[1], *(y for flats in drawing.flats for _, y, _ in flats))
        feet = [
            min(view.flat(at)[1] for face in body.faces for at in face.corners) + lifted_mm
            for body in bodies
            if body.is_strap
        ]
        return low + drawing.size[1] - min(feet)

    assert seen_mm(0.0) > 0
    assert seen_mm(600.0) > 0


@pytest.mark.parametrize(("panel", "side"), [("back", "behind"), ("front", "front")])
def test_a_strap_is_drawn_from_the_side_that_shows_the_rings_it_hangs_in(tmp_path: Path, panel: str, side: str) -> None:
    """Loops are riveted to one panel before it is sewn to the other, and the handle comes round their rings last."""
    other = {"back": "front", "front": "back"}[panel]
    bag = BAG.replace("[pieces.front]", f"[pieces.{panel}]").replace(
        '[pieces.back]\nlike = "front"\n', piece(other, 200, 150), 1
    )
    bag = bag.replace("cut = 4", "cut = 2").replace("cut = 2\nwidth", "cut = 1\nwidth")
    bag = bag.replace("count = 4", "count = 2", 1).partition("[[steps]]")[0]
    bag += step("Rivet the loops.", pieces="loop", hardware="ring rivet") + step("Sew.", seams="round")
    path = tmp_path / "a.toml"
    path.write_text(HEAD + bag + step("Turn the handle round the rings and sew it.", straps="handle"), encoding="utf-8")
    apart = TakenApart(resolve_build(read_spec(str(path))))
    bodies, (heap,) = apart.heaps(2)
    scene = set_scene(bodies, heap, apart.joined(heap, 2, bodies))
    assert scene.side == side
