"""Pictures, sections and lines tell one stack: a facing, a lining and a pocket behind a panel, in all orders.

What lies over what is worked out by hand from where a part lands and how the seam names it; that a lining is laid over
what lands on the inner side of its panel is common practice, no published source."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Assembled, Copy, TakenApart, UnsureError, inner, pile_seam
from docgen.assemble.apart.agreed import hold_agreed
from docgen.pages.pictures.pictures import Pictures
from docgen.plan import plan_work

FACING = '{{ piece = "facing", at = "centre, 0 mm from top"{} }}'
POCKET = '{{ piece = "pocket", at = "centre, 60 mm from top"{} }}'
INSIDE = ", inside = true"
ORDERS = [*permutations(("front", "facing", "lining"))]
LEATHERS = [("body", "cloth"), ("cloth", "cloth"), ("thin", "thin")]


def stack(order: Sequence[str], facing_on: str, pocket_on: str, facing_of: str, lining_of: str) -> str:
    """A panel with its lining, and a facing that lands on one of them, sewn at the mouth as the seam names them; a pocket
    sewn before on the panel or on the lining, on the hidden side of that too."""
    facing = FACING.format(INSIDE if facing_on == "front" else "")
    pocket = POCKET.format("" if pocket_on == "lining" else INSIDE)
    landed = {"front": [], "lining": []}
    landed[facing_on].append(facing)
    if pocket_on:
        landed["front" if pocket_on == "front" else "lining"].append(pocket)
    lands = {part: f"landings = [{', '.join(found)}]\n" for part, found in landed.items()}
    text = piece("front", 200, 150, lands["front"]) + piece("facing", 200, 30, of=facing_of)
    text += f'[pieces.lining]\nlike = "front"\nof = "{lining_of}"\nmarks = false\nlines = ["front"]\n{lands["lining"]}'
    if pocket_on:
        text += piece("pocket", 100, 60, of="cloth")
        text += seam("pocket", "pocket: left bottom right", "front" if pocket_on == "front" else "lining")
    text += seam("mouth", *(f"{part}: top" for part in order))
    text += step("Sew the pocket on.", seams="pocket") if pocket_on else ""
    return text + step("Sew the mouth.", seams="mouth")


def from_front(order: Sequence[str], facing_on: str) -> list[str]:
    """By hand: what lands on the lining lies on that; what lands on the inner side of the panel lies beneath the lining,
    unless the seam names it beyond that on the same side of the panel."""
    front, facing, lining = (order.index(part) for part in ("front", "facing", "lining"))
    is_one_side = (facing < front) == (lining < front)
    is_beyond = facing_on == "lining" or (is_one_side and abs(facing - front) > abs(lining - front))
    return ["front", "lining", "facing"] if is_beyond else ["front", "facing", "lining"]


def inward_mm(build: Assembled, number: int) -> dict[str, float]:
    """How far inward of the panel each part is drawn in the picture of a step."""
    (scene,) = Pictures(build)._scenes(number)
    drawn = {one.body.copy.part: (one.body, one.shift) for one in scene.drawing.shown}
    out = drawn["front"][0].placed.out(0)
    return {name: -inner(body.faces[0].corners[0], out) - inner(shift, out) for name, (body, shift) in drawn.items()}


CASES = [
    (order, facing_on, pocket_on, *LEATHERS[(k + len(pocket_on)) % 3])
    for k, order in enumerate(ORDERS)
    for facing_on in ("front", "lining")
    for pocket_on in ("", "front", "lining", "hidden")
]


@pytest.mark.parametrize(("order", "facing_on", "pocket_on", "facing_of", "lining_of"), CASES)
def test_picture_section_and_lines_tell_one_order(
    resolve_text: Resolve, order: Sequence[str], facing_on: str, pocket_on: str, facing_of: str, lining_of: str
) -> None:
    build = resolve_text(stack(order, facing_on, pocket_on, facing_of, lining_of))
    wanted, number = from_front(order, facing_on), 1 if pocket_on else 0
    once = next(one for one in build.assembly.sewn if one.seam == "mouth")
    (pile,) = ([ply.part for ply in pile] for pile in pile_seam(build, once))
    assert wanted in (pile, pile[::-1])
    deep = inward_mm(build, number)
    assert deep["front"] < deep[wanted[1]] < deep[wanted[2]]
    if "pocket" in deep:
        between = {"front": ("front", "lining"), "hidden": ("front", "lining"), "lining": ("lining", "")}[pocket_on]
        assert deep[between[0]] < deep["pocket"] < deep.get(between[1], 1e9)
    told = [line for line in lines(plan_work(build), number + 1) if "ay facing on" in line or "Lay lining on" in line]
    assert ["facing" if "ay facing on" in line else "lining" for line in told] == wanted[1:]
    (facing,) = (line for line in told if "ay facing on" in line)
    assert ("lining right side" in facing or "lining grain side" in facing or "of lining" in facing) == (
        wanted[1] == "lining"
    )


@pytest.mark.parametrize("order", [("front", "facing", "lining"), ("front", "lining", "facing")])
def test_a_later_seam_finds_the_same_order(resolve_text: Resolve, order: Sequence[str]) -> None:
    """Sewn to a back round the sides, which names neither: near the top a part of its row goes through all three."""
    text = stack(order, "front", "", "body", "cloth") + '[pieces.back]\nlike = "front"\nlandings = []\n'
    text += seam("round", "front: left bottom right", "back: right bottom left") + step("Sew round.", seams="round")
    build = resolve_text(text)
    once = next(one for one in build.assembly.sewn if one.seam == "round")
    piles = [[ply.part for ply in pile] for pile in pile_seam(build, once)]
    assert [*order, "back"] in piles


def test_an_order_drawn_otherwise_than_in_the_section_is_withheld(resolve_text: Resolve) -> None:
    """Of fabric no side tells which way it looks: the facing is lifted past the lining, or stays beneath it."""
    build = resolve_text(stack(("front", "facing", "lining"), "front", "", "cloth", "cloth"))
    bodies, heaps = TakenApart(build).heaps(0)
    hold_agreed(build, bodies, heaps, 0)
    ranks = {one.copies: one.rank for one in heaps[0].moved}
    assert ranks == {(Copy("facing"),): 0, (Copy("lining"),): 1}
    turned = tuple(replace(one, rank=1 - one.rank) for one in heaps[0].moved)
    with pytest.raises(UnsureError, match="would lie otherwise than in the section of"):
        hold_agreed(build, bodies, [replace(heaps[0], moved=turned)], 0)


def test_the_lines_of_each_copy_lay_all_that_lies_on_it(resolve_text: Resolve) -> None:
    """Two panels, each with a lining and a facing on that, sewn one after the other."""
    text = stack(("front", "lining", "facing"), "lining", "", "body", "cloth").replace('lines = ["front"]', "cut = 2")
    text = text.replace("[pieces.facing]", '[pieces.back]\nlike = "front"\n[pieces.facing]\ncut = 2')
    one, two = (
        seam(f"mouth-{part}", f"{part}: top", f"lining {k}: top", f"facing {k}: top")
        for k, part in ((1, "front"), (2, "back"))
    )
    text = text[: text.index("[seams.mouth]")] + one + two + step("Sew both.", seams="mouth-front mouth-back")
    told = [line for line in lines(plan_work(resolve_text(text)), 1) if line.startswith("Lay ")]
    assert [line.split(",")[0] for line in told] == [
        "Lay lining on the flesh side of front",
        "Lay facing on the right side of lining (the one for front)",
        "Lay lining on the flesh side of back",
        "Lay facing on the right side of lining (the one for back)",
    ]
