"""A back and flap in one piece: flat at the bench, its flap straight up while the bag is sewn; lined in part. By hand."""

from collections.abc import Callable, Iterator, Sequence

import pytest
from demos import demo_build
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Body, Copy, TakenApart, UnsureError
from docgen.assemble.apart import taken_apart
from docgen.geometry.path import ring_area

Resolve = Callable[[str], Assembled]
BACK, LINING = Copy("back"), Copy("lining")
FOLDS = """\
folds = [
  { at = "154 mm from bottom", open = true, angle = 90 },
  { at = "194 mm from bottom", open = true, angle = 90 },
]
"""
BAG = (
    piece("front", 200, 150)
    + piece("back", 200, 300, FOLDS)
    + piece("lining", 200, 100, 'lines = ["back"]\n')
    + '[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
    + seam("flap", "lining: left top right", "back: left top right from top 100 mm to top 100 mm")
    + seam("one", "front: left bottom right", "gusset: left")
    + seam("two", "back: left bottom right from bottom 150 mm to bottom 150 mm", "gusset: right")
    + step("Sew the lining under the flap.", seams="flap")
    + step("Sew the gusset to front and back.", seams="one two")
)


def heights(body: Body) -> tuple[float, float]:
    at = [corner[2] for face in body.faces for corner in face.corners]
    return min(at), max(at)


def test_it_lies_flat_while_nothing_bends_it(resolve_text: Resolve) -> None:
    """Its lining is lifted off it straight up, and not down out of the flap that it has when all is done."""
    apart = TakenApart(resolve_text(BAG))
    bodies, heaps = apart.heaps(0)
    low, high = heights(bodies[BACK])
    assert high - low < 2, "300 mm of it on the table"
    (moved,) = heaps[0].moved
    assert abs(moved.way[2]) == pytest.approx(1)
    assert apart.joined(heaps[0], 0, bodies).kind == "lying"


def test_its_flap_stands_up_where_it_would_be_in_the_way(resolve_text: Resolve) -> None:
    """The front comes on from before it: 300 mm stand straight, and nothing is lifted upwards alone."""
    bodies, heaps = TakenApart(resolve_text(BAG)).heaps(1)
    low, high = heights(bodies[BACK])
    assert high - low == pytest.approx(300)
    assert {abs(round(one.way[1], 6)) for one in heaps[0].moved} == {1.0}


def test_what_a_lining_leaves_free_shows_its_flesh_side(resolve_text: Resolve) -> None:
    """100 of 300 mm are covered; before the step nothing is."""
    apart = TakenApart(resolve_text(BAG))
    (ring,) = apart.lined.covered[BACK]
    assert abs(ring_area(ring)) == pytest.approx(200 * 100)
    assert (min(at.y for at in ring), max(at.y for at in ring)) == pytest.approx((200, 300))
    for number, rings in ((0, None), (1, (ring,))):
        bodies, heaps = apart.heaps(number)
        assert apart.joined(heaps[0], number, bodies).lined.covered.get(BACK) == rings
    whole = BAG.replace('size = ["200 mm", "100 mm"]', 'size = ["200 mm", "300 mm"]').replace(
        " from top 100 mm to top 100 mm", ""
    )
    whole = whole.replace("lining: left top right", "lining: top").replace("back: left top right", "back: top")
    assert TakenApart(resolve_text(whole)).lined.hides(BACK)


def test_a_flap_that_goes_through_the_front_is_not_drawn_so_in_a_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """What stays in its place is looked through as well as what is lifted."""
    flap = Copy("flap")

    def cross(bodies: Sequence[Body]) -> Iterator[tuple[Copy, Copy]]:
        yield from ((flap, Copy("front")) for body in bodies if body.copy == flap and body.is_bent)

    build = demo_build("satchel")
    last = len(build.assembly.steps) - 1
    assert TakenApart(build).heaps(last)[0][flap].is_bent
    monkeypatch.setattr(taken_apart, "find_crossing", cross)
    with pytest.raises(UnsureError, match="would lie in each other"):
        TakenApart(build).heaps(last)


BENDS = ", ".join(f'{{ at = "{mm} mm from right", open = true, angle = 90 }}' for mm in (40, 60))
TAB = f"folds = [{BENDS}]\n"


def test_a_tab_lies_straight_on_while_it_is_sewn_on_a_cover(resolve_text: Resolve) -> None:
    """Nothing bends it round the fore edge yet, as it is when all is done."""
    halves = ", ".join(f'{{ at = "{mm} mm from left", open = true, angle = 90 }}' for mm in (100, 120))
    landed = 'landings = [{ piece = "tab", at = "180 mm from right, middle" }]\n'
    text = piece("cover", 220, 150, f"folds = [{halves}]\n{landed}") + piece("tab", 110, 30, TAB)
    build = resolve_text(text + seam("root", "tab: right", "cover") + step("Sew the tab on.", seams="root"))
    apart = TakenApart(build)
    bodies, heaps = apart.heaps(0)
    (last,) = (body for body in apart.closed.bodies if body.copy.part == "tab")
    assert heaps
    assert bodies[last.copy].is_flat
    assert not last.is_flat
    ends = [at[0] for face in bodies[last.copy].faces for at in face.corners]
    assert max(ends) - min(ends) == pytest.approx(110)
