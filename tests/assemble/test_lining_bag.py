"""A lining that is sewn into a bag of its own and put into the outer one. Figures by hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, inner
from docgen.assemble.space.vectors import minus
from docgen.pages.pictures.step_drawing import set_scene

Resolve = Callable[[str], Assembled]


def bag(high_mm: float, more: str = "") -> str:
    """An outer bag 300 mm wide, 200 high and 80 deep, and a lining so high."""

    def wall(name: str, of: str, lines: str = "") -> str:
        return f'[pieces.{name}]\nof = "{of}"\nshape = "strip"\nsize = ["300 mm", "solve"]\n{lines}'

    def ends(name: str, high: float, of: str, lines: str = "") -> str:
        return piece(
            name, 80, high, f'cut = 2\nround = {{ bottom-left = "20 mm", bottom-right = "20 mm" }}\n{lines}', of
        )

    def sides(end: str, body: str, before: str, turned: str = "") -> str:
        return "".join(
            seam(before + edge, f"{end} {copy}: left bottom right", f"{body}: {edge}", more=turned)
            for copy, edge in ((1, "left"), (2, "right"))
        )

    return (
        wall("body", "body")
        + ends("end", 200, "body")
        + wall("inner", "cloth", 'lines = ["body"]\n')
        + ends("inner-end", high_mm, "cloth", 'lines = ["end"]\n')
        + sides("end", "body", "")
        + sides("inner-end", "inner", "inner-", more)
        + seam("front", "body: start", "inner: start")
        + seam("back", "body: end", "inner: end")
        + seam("ends", "end: top", "inner-end: top")
        + step("Sew the bag.", seams="left right")
        + step("Sew the lining.", seams="inner-left inner-right")
        + step("Put the lining in and sew the mouth.", seams="front back ends")
    )


@pytest.mark.parametrize("turned", ["", "turned = true\n"])
def test_the_sides_of_a_lining_go_on_from_its_outside(resolve_text: Resolve, turned: str) -> None:
    """Its ends stand 292 mm apart, at the stitch lines, less a layer of 1.6 mm each: each is lifted away from the other,
    right side in or out."""
    bodies, heaps = TakenApart(resolve_text(bag(200, turned))).heaps(1)
    ways = {one.copies[0]: one.way for one in heaps[0].moved}
    assert {copy.part for copy in ways} == {"inner-end"}
    places = {copy: bodies[copy].faces[0].corners[0][0] for copy in ways}
    left, right = sorted(ways, key=lambda copy: places[copy])
    assert places[right] - places[left] == pytest.approx(292 - 2 * 1.6)
    assert (ways[left][0], ways[right][0]) == pytest.approx((-1, 1))


def test_one_that_is_shorter_hangs_in_its_bag_and_is_left_out(resolve_text: Resolve) -> None:
    build = resolve_text(bag(170))
    assert build.space.doubts == ()
    assert [one.copy for one in build.space.unplaced] == [Copy("inner")]
    assert {body.copy.part for body in TakenApart(build).closed.bodies} >= {"body", "end"}


def test_it_is_drawn_right_side_in_with_its_pocket(resolve_text: Resolve) -> None:
    """Sewn face to face it is not turned: its ends look at each other, and the pocket on one of them lies between both,
    30 mm from the left of the end as from that of what it lines."""
    pocket = piece("pocket", 30, 60, of="cloth") + seam("pocket", "pocket: left bottom right", "inner-end 1")
    lands = 'landings = [{ piece = "pocket", at = "30 mm from left, 60 mm from bottom" }]\n'
    text = bag(200, "turned = true\n").replace('lines = ["end"]\n', f'lines = ["end"]\n{lands}')
    text = text.replace("[[steps]]", pocket + step("Sew the pocket on.", seams="pocket") + "[[steps]]", 1)
    apart = TakenApart(resolve_text(text))
    (bodies, (heap,)), at_last = apart.heaps(2), apart.flat
    assert Copy("pocket") in heap.copies
    ends = [bodies[Copy("inner-end", number)] for number in (1, 2)]
    for one, other in (ends, ends[::-1]):
        assert inner(one.faces[0].grain, minus(other.faces[0].corners[0], one.faces[0].corners[0])) > 0
    assert bodies[Copy("pocket")].faces == at_last[Copy("pocket")].faces
    joined = apart.joined(heap, 2, bodies)
    assert not joined.is_turned
    shown = {one.body.copy: one.is_new for one in set_scene(bodies, heap, joined).drawing.shown}
    assert shown[Copy("pocket")] is False


def tote(deep_mm: float) -> str:
    """A bag of two panels and a gusset, and a lining of as many parts that is sewn 4 mm farther in, so deep; a handle."""

    def panel(name: str, of: str, more: str = "") -> str:
        return piece(name, 200, 160, f'round = {{ bottom-left = "30 mm", bottom-right = "30 mm" }}\n{more}', of)

    def strip(name: str, of: str, wide_mm: float, lines: str = "") -> str:
        return f'[pieces.{name}]\nof = "{of}"\nshape = "strip"\nsize = ["{wide_mm} mm", "solve"]\n{lines}'

    def sides(before: str, stitch: str) -> str:
        found = "".join(
            seam(f"{before}{side}", f"{before}{side}: left bottom right", f"{before}gusset: {edge}")
            for side, edge in (("front", "left"), ("back", "right"))
        )
        return found.replace('stitch = "main"', f'stitch = "{stitch}"')

    lands = ", ".join(
        f'{{ strap = "handle", end = "{end}", at = "50 mm from {edge}, 40 mm from top", leads = "up", over = "30 mm", '
        'stitch = "main" }'
        for end, edge in (("first", "left"), ("second", "right"))
    )
    return (
        '[stitches.wide]\nby = "machine"\nthread = "Tex 70 bonded nylon"\npitch = "3 mm"\ninset = "8 mm"\n'
        + panel("front", "body", f"landings = [{lands}]\n")
        + panel("back", "body", f"landings = [{lands}]\n")
        + strip("gusset", "body", 70)
        + panel("inner-front", "cloth", 'lines = ["front"]\n')
        + panel("inner-back", "cloth", 'lines = ["back"]\n')
        + strip("inner-gusset", "cloth", deep_mm, 'lines = ["gusset"]\n')
        + '[straps.handle]\nof = "body"\ncut = 2\nwidth = "20 mm"\nfinished = "400 mm"\n'
        + 'ends = [{ shape = "square" }, { shape = "square" }]\n'
        + sides("", "main")
        + sides("inner-", "wide")
        + "".join(seam(f"mouth-{side}", f"{side}: top", f"inner-{side}: top") for side in ("front", "back"))
    )


def test_the_wall_of_a_lining_lies_along_the_wall_that_it_lines(resolve_text: Resolve) -> None:
    """Its own rows lie 4 mm farther in on both, and it is as long as they are: they miss those of its panels by no more
    than that besides what leather gives. What is too deep for its bag is left out."""
    build = resolve_text(tote(70))
    wall, lined = (build.space.part(Copy(name)) for name in ("inner-gusset", "gusset"))
    assert wall is not None
    assert lined is not None
    assert (wall.how, wall.host, wall.surface.bands) == ("lies behind", lined.copy, lined.surface.bands)
    assert max(gap.apart_mm for gap in build.space.gaps if gap.seam.startswith("inner")) < 8 + 4
    assert [*TakenApart(build).tell_withheld()] == []
    assert [one.copy.part for one in resolve_text(tote(100)).space.unplaced] == ["inner-gusset"]


def test_both_bags_are_sewn_before_the_one_is_put_into_the_other(resolve_text: Resolve) -> None:
    """The mouth came before the leather was closed, and handles were sewn through the lining."""
    steps = resolve_text(tote(70)).assembly.steps
    assert [*(name for step in steps for name in (*step.straps, *step.seams))] == [
        "handle",
        "inner-front",
        "inner-back",
        "front",
        "back",
        "mouth-front",
        "mouth-back",
    ]
