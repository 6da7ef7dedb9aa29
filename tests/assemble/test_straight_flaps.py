"""A messenger's bag whose flap is straight while its billets are sewn on, and that is sewn up in one step."""

from pathlib import Path

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, UnsureError, inner
from docgen.assemble.apart.straight import tell_crossing
from docgen.checks import resolve_build
from docgen.read import read_spec

BUILD = Path(__file__).parents[1] / "bench/slips/builds/messenger-bag.toml"


@pytest.fixture(scope="module")
def apart() -> TakenApart:
    return TakenApart(resolve_build(read_spec(str(BUILD))))


def test_billets_lie_along_a_flap_that_is_straight(apart: TakenApart) -> None:
    """On its grain side, where it was placed: they look the way that the flap does, and lead to its free edge."""
    bodies, _ = apart.heaps(2)
    flap, billet = (bodies[Copy(name)].placed for name in ("flap", "billet"))
    assert inner(flap.out(0), billet.out(0)) == pytest.approx(1)
    foot, off_mm = flap.surface.foot(flap.surface.bands[0], billet.surface.point(billet.anchor))
    assert foot is not None
    assert off_mm == pytest.approx(0, abs=0.01)
    assert inner(billet.lifts[0], flap.out(0)) == pytest.approx(inner(flap.lifts[0], flap.out(0)) + 1)


def test_six_parts_with_linings_between_are_no_picture(apart: TakenApart, tmp_path: Path) -> None:
    """Linings that are glued in before come with their panels, four things in all; else they come in between."""
    glued = apart.heaps(5)[1]
    assert [len(heap.moved) for heap in glued] == [3]
    text = BUILD.read_text("utf-8").replace('"back-foam", "back-lining", "front-lining"', '"back-foam"')
    (tmp_path / "late.toml").write_text(text, "utf-8")
    late = TakenApart(resolve_build(read_spec(str(tmp_path / "late.toml"))))
    with pytest.raises(UnsureError, match="6 parts come together at once"):
        late.heaps(5)


def test_a_tongue_stays_on_the_grain_of_a_flap_that_is_drawn_open(resolve_text: Resolve) -> None:
    """The flap's first fold comes to lie 16 below the top of the back, so that it would go through the gusset: it stands
    up, and its tongue with it, one layer over its grain side."""
    folds = ", ".join(f'{{ at = "{down} mm from top", open = true, angle = 90 }}' for down in (22, 62))
    tongue = 'landings = [{ strap = "tongue", at = "centre, 40 mm from bottom", leads = "down", over = "40 mm" }]\n'
    build = resolve_text(
        piece("front", 200, 150)
        + piece("back", 200, 150, 'landings = [{ piece = "flap", at = "centre, 30 mm from top" }]\n')
        + piece("flap", 200, 200, f"folds = [{folds}]\n{tongue}" + hole("centre, 20 mm from bottom", "rivet"))
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + '[straps.tongue]\nof = "body"\nwidth = "20 mm"\nfinished = "90 mm"\n'
        + 'punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]\n'
        + seam("on", "flap: top", "back")
        + seam("one", "front: left bottom right", "wall: left")
        + seam("two", "back: left bottom right", "wall: right")
        + rivet()
        + step("Rivet and sew.", straps="tongue", hardware="rivet", seams="on")
        + step("Close.", seams="one two")
    )
    assert isinstance(build, Assembled)
    found = {body.copy.part: body.placed for body in TakenApart(build).closed.bodies}
    flap, tongue_there = found["flap"], found["tongue"]
    assert inner(flap.out(0), tongue_there.out(0)) == pytest.approx(1)
    assert tongue_there.surface.point(tongue_there.anchor)[2] > 200
    assert inner(tongue_there.lifts[0], flap.out(0)) == pytest.approx(inner(flap.lifts[0], flap.out(0)) + 1)


def test_what_a_finished_article_leaves_out_is_told_once(apart: TakenApart) -> None:
    billets = {body.copy for body in apart.bodies if body.copy.part == "billet"}
    drawn = [body for body in apart.bodies if body.copy not in billets]
    assert [*tell_crossing(apart.bodies, drawn, ())] == [
        '"billet": it would go through other parts of the finished article'
    ]
    assert [*tell_crossing(apart.bodies, drawn, billets)] == []
    assert not any("go through other parts" in line for line in apart.tell_withheld())


def _with_grip(resolve_text: Resolve, steps: str = "") -> TakenApart:
    """Two rooms with a divider between, and a flap with a handle on its roof."""
    folds = ", ".join(f'{{ at = "{down} mm from top", open = true, angle = 90 }}' for down in (22, 62))
    held = ", ".join(
        f'{{ strap = "grip", end = "{end}", at = "100 mm from {side}, 52 mm from top", leads = "{way}", over = "48 mm" }}'
        for end, side, way in (("first", "left", "right"), ("second", "right", "left"))
    )
    walls = "".join(f'[pieces.wall-{name}]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n' for name in "ab")
    build = resolve_text(
        piece("front", 340, 150)
        + piece("divider", 340, 150)
        + piece("back", 340, 150, 'landings = [{ piece = "flap", at = "centre, 15 mm from top" }]\n')
        + piece("flap", 340, 150, f"folds = [{folds}]\nlandings = [{held}]\n")
        + walls
        + '[straps.grip]\nof = "body"\nwidth = "28 mm"\nfinished = "260 mm"\n'
        + 'punches = [{ at = "centre, 15 mm from start", punch = "4 mm", takes = "rivet" }, '
        + '{ at = "centre, 15 mm from end", punch = "4 mm", takes = "rivet" }]\n'
        + seam("on", "flap: top", "back")
        + seam("one", "front: left bottom right", "wall-a: left")
        + seam("two", "divider: left bottom right", "wall-a: right")
        + seam("three", "divider: left bottom right", "wall-b: left")
        + seam("four", "back: left bottom right", "wall-b: right")
        + rivet(2)
        + steps
    )
    assert isinstance(build, Assembled)
    return TakenApart(build)


def test_a_handle_stays_a_bow_over_a_divider_that_the_roof_lies_on(resolve_text: Resolve) -> None:
    """The roof lies 3 below the edge of the divider, as leather gives: its handle, which begins there, was laid open."""
    closed = _with_grip(resolve_text).closed
    grip = next(body.placed for body in closed.bodies if body.copy.part == "grip")
    assert (grip.how, closed.opened) == ("arches", ())


def test_a_handle_goes_with_the_flap_that_stands_up(resolve_text: Resolve) -> None:
    """While the back is sewn on: 52 mm from its top, 15 below that of the back of 150, and on its grain side."""
    apart = _with_grip(
        resolve_text,
        step("Sew the flap on.", seams="on")
        + step("Set the handle.", straps="grip", hardware="rivet")
        + step("Sew the walls on.", seams="one two three")
        + step("Sew the back on.", seams="four"),
    )
    bodies, _ = apart.heaps(3)
    flap, grip = (bodies[Copy(name)].placed for name in ("flap", "grip"))
    foot, off_mm = flap.surface.foot(flap.surface.bands[1], grip.surface.point(grip.anchor))
    assert foot is not None
    assert (150 - foot.y, off_mm) == pytest.approx((52, 0), abs=0.01)
    assert inner(grip.out(0), flap.out(0)) == pytest.approx(1)
