"""Layers that lie at different places along a seam are no stack: figures, sections and words. 2 mm panels, by hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step
from step_lines import lines

from docgen.assemble import Assembled, pile_seam
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]


def pouch(front: str, back: str, edges: str = "left bottom right", more: str = "") -> str:
    """Two panels of 200 x 120 mm back to back, with a tab of 40 x 50 mm on each so far from its own left or right."""

    def tabbed(name: str, tab: str, at: str) -> str:
        return piece(name, 200, 120, f'landings = [{{ piece = "{tab}", at = "{at}, 0 from bottom" }}]\n')

    panels = (
        piece("tab", 40, 50) + piece("badge", 40, 50) + tabbed("front", "tab", front) + tabbed("back", "badge", back)
    )
    sewn = seam("foot", f"front: {edges}", f"back: {edges}")
    steps = step("Lay the tabs on.", pieces="front back tab badge") + step("Sew the foot.", seams="foot")
    return panels + sewn + steps + more


@pytest.mark.parametrize(
    ("back", "most_mm", "places"),
    [
        ("20 mm from right", 8, [{"front", "back", "tab", "badge"}]),  # it lies behind the tab of the front
        ("20 mm from left", 6, [{"front", "back", "tab"}, {"front", "back", "badge"}]),
        ("61 mm from right", 6, [{"front", "back", "tab"}, {"front", "back", "badge"}]),  # right beside it
        ("50 mm from right", 8, [{"front", "back", "tab", "badge"}]),  # both lie under 10 mm of it
    ],
)
def test_what_lies_on_two_panels_is_one_stack_where_it_lies_at_one_place(
    resolve_text: Resolve, back: str, most_mm: float, places: list[set[str]]
) -> None:
    """Seen from its own outside the left of the back lies behind the right of the front."""
    build = resolve_text(pouch("20 mm from left", back))
    (once,) = build.assembly.sewn
    assert (once.stack.thinnest_mm, once.stack.usual_mm, once.stack.thickest_mm) == (4, 4, most_mm)
    assert [{ply.part for ply in pile} for pile in pile_seam(build, once)] == places
    assert {ply.part for pile in pile_seam(build, once) for ply in pile if ply.is_partial} == {"tab", "badge"}
    assert sum(layer.thickness_mm for layer in build.seams[0].at_most) == most_mm


def test_places_that_are_unlike_are_told_one_after_the_other(resolve_text: Resolve) -> None:
    build = resolve_text(pouch("20 mm from left", "20 mm from left"))
    told = lines(plan_work(build), 2)
    assert [line for line in told if "from the top" in line] == [
        "Under the needle, from the top: tab (in part); front; back.",
        "Elsewhere along the row, from the top: front; back; badge (in part).",
    ]


def test_what_is_tried_on_is_the_stack_of_the_thickest_place(resolve_text: Resolve) -> None:
    (scrap,) = plan_work(resolve_text(pouch("20 mm from left", "20 mm from left"))).scraps
    assert (len(scrap.materials), scrap.stack_mm) == (3, 6)


def test_where_places_do_not_tell_what_lies_outside_no_order_is_made_up(resolve_text: Resolve) -> None:
    """Sewn along one edge alone a part may lie on either side of the other."""
    build = resolve_text(pouch("20 mm from left", "20 mm from left", edges="bottom"))
    assert pile_seam(build, build.assembly.sewn[0]) == ()
    told = lines(plan_work(build), 2)
    assert "Under the needle, listed by part and not from the top: front; tab (in part); back; badge (in part)." in told


def test_where_a_ring_is_thicker_at_its_joint_does_not_hide_what_lies_on_the_other_side(resolve_text: Resolve) -> None:
    """Where the joint comes to lie is not known, and its layers are the same all along; the tab lies under some of it."""
    build = resolve_text(
        piece("front", 200, 120, 'landings = [{ piece = "tab", at = "centre, 0 from bottom" }]\n')
        + piece("tab", 40, 50)
        + '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + '[joins.wall]\nof = ["strip"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
        + seam("rim", "front: left bottom right top", "wall: left")
        + step("Lay the tab on and close the wall.", pieces="front tab", joins="wall")
        + step("Sew the rim.", seams="rim")
    )
    once = next(one for one in build.assembly.sewn if one.seam == "rim")
    assert (once.stack.thinnest_mm, once.stack.thickest_mm) == (4, 8)
    assert [{ply.part for ply in pile} for pile in pile_seam(build, once)] == [{"front", "tab", "wall"}]


@pytest.mark.parametrize("more", ["", ', { piece = "badge", at = "0 from left, 200 mm from start" }'])
def test_where_places_are_not_known_what_lies_side_by_side_is_not_tried_on_together(
    resolve_text: Resolve, more: str
) -> None:
    """Front and wall with a tab on the one and a badge on the other, 8 mm at most, as where the joint lies is not known. A
    second badge lies beside the first."""
    build = resolve_text(
        piece("front", 200, 120, 'landings = [{ piece = "tab", at = "centre, 0 from bottom" }]\n')
        + piece("tab", 40, 50)
        + piece("badge", 30, 20, "cut = 2\n" if more else "")
        + '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + f'landings = [{{ piece = "badge", at = "0 from left, 100 mm from start" }}{more}]\n'
        + '[joins.wall]\nof = ["strip"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
        + seam("rim", "front: left bottom right top", "wall: left")
        + step("Lay the tab and the badges on and close the wall.", pieces="front tab badge strip", joins="wall")
        + step("Sew the rim.", seams="rim")
    )
    once = next(one for one in build.assembly.sewn if one.seam == "rim")
    assert once.stack.is_vague
    (scrap,) = plan_work(build).scraps
    assert (len(scrap.materials), scrap.stack_mm) == (4, 8)
    assert sum(layer.thickness_mm for layer in once.stack.at_most) == 8


@pytest.mark.parametrize("tab", ["", 'landings = [{ piece = "tab", at = "20 mm from left, 0 from bottom" }]\n'])
def test_ends_of_hems_under_a_row_are_told_where_another_place_of_it_is(resolve_text: Resolve, tab: str) -> None:
    """Hems of 20 mm at the tops, whose ends both sides of the row go over: told of the partners alone in no line."""
    hem = 'hems = [{ edges = "top", turn = "20 mm" }]\n'
    text = piece("front", 200, 140, hem + tab) + piece("back", 200, 140, hem)
    text += piece("tab", 40, 50) if tab else ""
    text += seam("round", "front: left bottom right", "back: left bottom right")
    text += step("Turn the hems.", pieces="front back tab" if tab else "front back") + step("Sew it.", seams="round")
    told = lines(plan_work(resolve_text(text)), 2)
    places = ["front; front (in part); back (in part); back.", "tab (in part); front; back."]
    assert sorted(line.split(": ")[1] for line in told if "from the top" in line) == (places if tab else [])
