"""A facing at the mouth, sewn face to face to the lining that hangs on it. Figures by hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import words_of

from docgen.assemble import Copy, TakenApart, pile_seam
from docgen.geometry.shapes import Point
from docgen.plan import plan_work

TURN = "Turn it right side out; the edges come to lie inside."
TURNED = "turned = true\n"
SIDES = ("left", "right"), ("right", "left"), ("bottom", "bottom")
POCKET = 'landings = [{ piece = "pocket", at = "50 mm from left, 30 mm from bottom" }]\n'
TOTE = (
    piece("front", 200, 150)
    + '[pieces.back]\nlike = "front"\n'
    + piece("facing", 200, 40, 'cut = 2\nlines = ["front", "back"]\n')
    + piece("lining", 200, 126, 'lines = ["front"]\n' + POCKET, "cloth")
    + piece("other", 200, 126, 'lines = ["back"]\n', "cloth")
    + piece("pocket", 60, 50, of="cloth")
    + seam("pocket", "pocket: left bottom right", "lining")
    + seam("one", "facing 1: bottom", "lining: top", more=TURNED)
    + seam("two", "facing 2: bottom", "other: top", more=TURNED)
    + "".join(seam(f"bag-{k}", f"lining: {a}", f"other: {b}", more=TURNED) for k, (a, b) in enumerate(SIDES))
    + "".join(seam(f"body-{k}", f"front: {a}", f"back: {b}", more=TURNED) for k, (a, b) in enumerate(SIDES))
    + seam("mouth-front", "front: top", "facing 1: top")
    + seam("mouth-back", "back: top", "facing 2: top")
    + step("Pocket.", seams="pocket")
    + step("Facings.", seams="one two")
    + step("Lining.", seams="bag-0 bag-1 bag-2")
    + step("Bag.", seams="body-0 body-1 body-2")
    + step("Mouth.", seams="mouth-front mouth-back")
)


def test_a_facing_lies_level_with_the_mouth_by_which_it_is_sewn(resolve_text: Resolve) -> None:
    """150 less 40 mm above the foot: the seam of the mouth sews the top of both, which are as wide."""
    build = resolve_text(TOTE)
    (move,) = (one.move for one in build.assembly.lies if (one.copy, one.host) == (Copy("facing", 1), Copy("front")))
    assert (move.e, move.f) == pytest.approx((0, 110))


def test_under_the_needle_a_facing_and_its_lining_lie_grain_sides_together(resolve_text: Resolve) -> None:
    """Whatever each of them comes to lie on once it is turned."""
    build = resolve_text(TOTE)
    for name in ("one", "two"):
        once = next(once for once in build.assembly.sewn if once.seam == name)
        (pile,) = pile_seam(build, once)
        assert (pile[0].part, pile[0].grain) == ("facing", "down"), name


def test_a_lining_with_a_pocket_on_it_is_not_turned(resolve_text: Resolve) -> None:
    """It hangs in its bag right side to the room: that alone is turned (common practice, no published source)."""
    steps = plan_work(resolve_text(TOTE)).steps
    told = [words_of(step.acts).count(TURN) for step in steps]
    assert told[:4] == [0, 0, 0, 1]


@pytest.mark.parametrize(("step", "absent"), [(2, ("facing",)), (4, ("lining", "other"))])
def test_what_hangs_on_a_lining_and_is_not_drawn_with_it_is_named(
    resolve_text: Resolve, step: int, absent: tuple[str, ...]
) -> None:
    """Both facings while the linings are sewn, both linings while the facings are; the pocket lies on one of them."""
    taken = TakenApart(resolve_text(TOTE))
    bodies, (heap,) = taken.heaps(step)
    assert taken.joined(heap, step, bodies).absent == absent


def test_facings_come_out_of_a_closed_bag_by_its_mouth(resolve_text: Resolve) -> None:
    """They lie between front and back, and were lifted through the back: 150 mm high, they leave along it and upward."""
    taken = TakenApart(resolve_text(TOTE))
    bodies, (heap,) = taken.heaps(4)
    front = bodies[Copy("front", 1)].placed.surface
    up = [b - a for a, b in zip(front.point(Point(0, 0)), front.point(Point(0, 1)), strict=True)]
    facings = [one for one in heap.moved if any(copy.part == "facing" for copy in one.copies)]
    assert facings
    for one in facings:
        assert sum(a * b for a, b in zip(one.way, up, strict=True)) == pytest.approx(1)
