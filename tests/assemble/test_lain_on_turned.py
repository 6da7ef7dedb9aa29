"""What is laid on panels that are turned right side out goes in with their seams. Figures by hand."""

from collections.abc import Callable, Iterable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Body, Copy, TakenApart, inner

Resolve = Callable[[str], Assembled]
FOOT = 'landings = [{ piece = "foot", at = "0 mm from left, 0 mm from bottom" }]\n'
BAG = (
    piece("front", 200, 150, FOOT)
    + piece("back", 200, 150, FOOT)
    + piece("foot", 200, 40, "cut = 2\n")
    + seam("rim", "foot 1: top", "front")
    + seam("rim-back", "foot 2: top", "back")
    + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
    + step("Sew both feet on.", seams="rim rim-back")
    + step("Sew it round and turn it.", seams="round")
)


def width_mm(bodies: Iterable[Body]) -> float:
    foot = next(body for body in bodies if body.copy == Copy("foot"))
    xs = [at[0] for face in foot.faces for at in face.corners]
    return max(xs) - min(xs)


def test_a_foot_of_a_turned_bag_ends_at_its_seam(resolve_text: Resolve) -> None:
    """200 mm wide, 4 mm of it go into the seam at each side: it stood out as fins. While it is sewn it is whole."""
    apart = TakenApart(resolve_text(BAG))
    assert width_mm(apart.closed.bodies) == pytest.approx(192)
    for step_ in (0, 1):
        assert width_mm(apart.heaps(step_)[0].values()) == pytest.approx(200)
    foot = next(body for body in apart.closed.bodies if body.copy == Copy("foot"))
    rows = {line.name for line in foot.lines if line.kind == "stitch" and not line.is_edge}
    assert rows == {"rim"}, "neither the turned row, nor that of the other foot"


def test_what_is_only_sewn_flat_on_others_is_not_begun_with(resolve_text: Resolve) -> None:
    """Nothing says where the foot of the back lies: the rest is drawn, and only that is not."""
    bare = BAG.replace(piece("back", 200, 150, FOOT), piece("back", 200, 150))
    space = resolve_text(bare).space
    assert space.front == Copy("front")
    assert [one.copy for one in space.unplaced] == [Copy("foot", 2)]


def test_two_turned_seams_that_meet_at_a_corner_leave_no_horns(resolve_text: Resolve) -> None:
    """200 x 150 mm, 4 mm turned in all round: the row of the sides ended at the old top, 4 mm over the new one."""
    text = (
        piece("front", 200, 150)
        + '[pieces.back]\nlike = "front"\n'
        + seam("top", "front: top", "back: top", more="turned = true\n")
        + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
        + step("Sew it round and turn it.", seams="round top")
    )
    for order in (text, text.replace('["round", "top"]', '["top", "round"]')):
        body = TakenApart(resolve_text(order)).closed.bodies[0]
        xs, ys = zip(*body.placed.ring, strict=True)
        assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((4, 196, 4, 146))


def test_a_lining_that_is_sewn_face_to_face_lies_on_the_outside_meanwhile(resolve_text: Resolve) -> None:
    """Turned with its panel alone it is laid on the grain side; in a seam with the back it lies behind."""
    lined = piece("front", 200, 150) + piece("lining", 200, 150, 'lines = ["front"]\n', "cloth")
    text = lined + seam("top", "front: top", "lining: top", more="turned = true\n") + step("Sew it on.", seams="top")
    apart = TakenApart(resolve_text(text))
    bodies, heaps = apart.heaps(0)
    (moved,) = heaps[0].moved
    front = bodies[Copy("front")].placed
    assert moved.copies == (Copy("lining"),)
    assert inner(moved.way, front.out(0)) == pytest.approx(1)
    assert not apart.joined(heaps[0], 0, bodies).is_turned
    done = next(body for body in apart.closed.bodies if body.copy == Copy("lining")).placed
    assert inner(done.lifts[0], front.out(0)) < 0, "behind it when all is done"


def test_of_what_is_turned_in_whole_no_row_is_drawn(resolve_text: Resolve) -> None:
    """A band of a wing lies wholly in what the seam turns in: nothing of it is seen, and a row was looked for there."""
    wings = "".join(f'{{ piece = "wing", at = "0 mm from {side}, 30 mm from bottom" }}, ' for side in ("left", "right"))
    text = (
        piece("front", 200, 150)
        + piece("back", 200, 150, f"landings = [{wings}]\n")
        + piece("wing", 80, 90, 'cut = 2\nfolds = [{ at = "60 mm from left" }]\n')
        + seam("wing", "wing: left", "back")
        + seam("round", "front: all", "back: all", more="turned = true\n")
        + step("Sew the wings on.", seams="wing")
        + step("Sew it round and turn it.", seams="round")
    )
    bodies = TakenApart(resolve_text(text)).closed.bodies
    assert {body.copy.part for body in bodies} >= {"front", "back"}
    for body in bodies:
        there = {face.band for face in body.faces}
        assert {band for line in body.lines for band in line.bands} <= there
        assert {hole.band for hole in body.holes} <= there
