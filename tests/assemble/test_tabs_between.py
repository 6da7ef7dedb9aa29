"""Tabs that are folded round a ring and sewn in between two panels: between them when all is done, and leading inward while
they are sewn face to face. Figures by hand."""

from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step

from docgen.assemble import Assembled, Body, Copy, TakenApart, inner
from docgen.pages.pictures import article

Resolve = Callable[[str], Assembled]
TAB, FRONT, BACK = Copy("tab"), Copy("front"), Copy("back")
PANELS = piece("front", 200, 150) + '[pieces.back]\nlike = "front"\n'
RING = '[hardware.ring]\nwhat = "D ring, 20 mm"\ncount = 1\ninside = "20 mm"\nbar = "3 mm"\n'
AT = "from top 20 mm to top 40 mm"


def bag(*between: str, more: str = "") -> str:
    return (
        PANELS
        + piece("tab", 20, 60, 'folds = [{ at = "middle", around = "ring" }]\n')
        + RING
        + seam("side", *between, more=more)
        + seam("round", "front: left bottom right", "back: left bottom right", more=more)
        + step(
            "Fold the tab round the ring, sew it in, and sew round.", pieces="tab", seams="side round", hardware="ring"
        )
    )


INSIDE = f"front: left {AT}", "tab: top", "tab: bottom", f"back: right {AT}"


def heights(body: Body) -> list[float]:
    return [round(at[2], 3) for face in body.faces for at in face.corners]


def reach(body: Body) -> tuple[float, float]:
    xs = [at[0] for face in body.faces for at in face.corners]
    return min(xs), max(xs)


def test_both_its_halves_lie_between_the_panels(resolve_text: Resolve) -> None:
    """Layers of 1.6 mm: front, two of the tab, back."""
    apart = TakenApart(resolve_text(bag(*INSIDE)))
    bodies = {body.copy: body for body in apart.closed.bodies}
    assert {*heights(bodies[FRONT])} == {0.0}
    assert {*heights(bodies[TAB])} == {-1.6, -3.2}
    assert {*heights(bodies[BACK])} == {-4.8}
    assert reach(bodies[TAB]) == pytest.approx((-22, 4 + 4)), "26 mm out of the row, its ends 4 mm in"
    heap = apart.heaps(0)[1][0]
    drawn = apart.heaps(0)[0]
    ways = {copy: one.way[2] for one in heap.moved for copy in one.copies} | dict.fromkeys(heap.base, 0.0)
    assert ways[TAB] * (ways[BACK] - ways[FRONT]) > 0 or ways[TAB] == 0, "it is lifted between them"
    assert len(drawn) == 3


def test_it_leads_inward_while_it_is_sewn_face_to_face(resolve_text: Resolve) -> None:
    """What led out of the left of the front leads from there over it, before the bag is turned."""
    apart = TakenApart(resolve_text(bag(*INSIDE, more="turned = true\n")))
    bodies = {body.copy: body for body in apart.closed.bodies}
    assert reach(bodies[TAB]) == pytest.approx((-22, 4)), "what lies in the seam is not seen"
    sewn, _ = apart.heaps(0)
    (left, right), (its_left, its_right) = reach(sewn[FRONT]), reach(sewn[TAB])
    assert left <= its_left
    assert its_right <= right
    assert sorted({*heights(sewn[TAB]), *heights(sewn[FRONT]), *heights(sewn[BACK])})[1:3] == sorted(
        {*heights(sewn[TAB])}
    )


ON_BACK = '[pieces.back]\nlike = "front"\nlandings = [{ piece = "tab", at = "0 mm from left, 20 mm from top" }]\n'
TACKED = (
    piece("front", 200, 150)
    + ON_BACK
    + piece("tab", 61, 20, 'folds = [{ at = "31 mm from left", around = "ring" }]\n')
    + RING
    + seam("tack", "tab: left", f"back: left {AT}")
    + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
    + step("Fold the tab round the ring and tack it on.", pieces="tab", seams="tack", hardware="ring")
    + step("Sew round, face to face, and turn.", seams="round")
)


def test_what_is_tacked_on_leading_inward_stands_out_once_it_is_turned(resolve_text: Resolve) -> None:
    """31 mm of tab lie on the grain of the back, 4 mm of them in the seam: 27 mm stand out, and its ring with them."""
    build = resolve_text(TACKED)
    assert build.space.doubts == ()
    apart = TakenApart(build)
    bodies = {body.copy: body for body in apart.closed.bodies}
    tab, back = reach(bodies[TAB]), reach(bodies[BACK])
    out = back[0] - tab[0] if tab[0] < back[0] else tab[1] - back[1]
    assert out == pytest.approx(27)
    assert tab[1] - tab[0] == pytest.approx(27), "what lies in the seam is not seen"
    (ring,) = (one.metal for one in apart.closed.metal)
    assert not back[0] <= ring.far[0] <= back[1]


def test_it_lies_on_the_panel_until_then(resolve_text: Resolve) -> None:
    """While it is tacked on, and while the bag is sewn, over the grain side of the back, within its outline."""
    apart = TakenApart(resolve_text(TACKED))
    for number in (0, 1):
        bodies, _ = apart.heaps(number)
        tab, back = bodies[TAB], bodies[BACK]
        assert reach(back)[0] - 0.01 <= reach(tab)[0]
        assert reach(tab)[1] <= reach(back)[1] + 0.01
        over = [round(at - heights(back)[0], 1) for at in sorted({*heights(tab)})]
        grain = back.faces[0].grain[2]
        assert all(at * grain > 0 for at in over), "on the grain side"


def test_what_another_row_holds_lies_on_the_panel_for_good(resolve_text: Resolve) -> None:
    """A second row, 20 mm in, holds the tab where it lies."""
    held = TACKED.replace(
        "folds = [", 'dividers = [{ at = "20 mm from left", stitch = "main", on = "back" }]\nfolds = ['
    )
    bodies = {body.copy: body for body in TakenApart(resolve_text(held)).closed.bodies}
    assert reach(bodies[BACK])[0] - 0.01 <= reach(bodies[TAB])[0]
    assert reach(bodies[TAB])[1] <= reach(bodies[BACK])[1] + 0.01


@pytest.mark.parametrize("rises_mm", [25.0, -1.0])
def test_its_front_is_seen_from_the_front_however_high_it_rises(
    resolve_text: Resolve, monkeypatch: pytest.MonkeyPatch, rises_mm: float
) -> None:
    """The back, on which the tab lands, is placed first, with the front below it."""
    monkeypatch.setattr(article, "RISES_MM", rises_mm)
    apart = TakenApart(resolve_text(TACKED))
    found = article.set_article(apart.closed, "lying", apart.lined)
    assert found is not None
    front = next(body for body in apart.closed.bodies if body.copy == FRONT)
    assert inner(front.placed.out(0), found.front.view.eye) > 0


@pytest.mark.parametrize("text", [bag(*INSIDE), TACKED])
def test_its_grain_looks_out_on_both_sides(resolve_text: Resolve, text: str) -> None:
    """Folded flesh side in, its upper half looks up and its lower one down, whichever end is tacked on."""
    bodies = {body.copy: body for body in TakenApart(resolve_text(text)).closed.bodies}
    upper, lower = sorted(bodies[TAB].faces, key=lambda face: -face.corners[0][2])
    assert upper.corners[0][2] > lower.corners[0][2]
    assert (upper.grain[2], lower.grain[2]) == pytest.approx((1, -1))


def test_a_seam_that_only_tacks_it_on_turns_nothing(resolve_text: Resolve) -> None:
    """Written as turned too, it leaves the back whole, and its step is not drawn inside out."""
    text = TACKED.replace(seam("tack", "tab: left", f"back: left {AT}"), "")
    text += seam("tack", "tab: left", f"back: left {AT}", more="turned = true\n")
    apart = TakenApart(resolve_text(text))
    bodies, heaps = apart.heaps(0)
    assert not apart.joined(heaps[0], 0, bodies).is_turned
    assert len({*bodies[BACK].placed.ring}) == 4


def test_both_its_halves_lie_on_the_inner_piece_on_which_it_lands(resolve_text: Resolve) -> None:
    """Front and inner back to back, grain out on either side, both bent over twice; the tab lies on the grain of the inner
    one: seen from the front first that, then inner, then both halves of the tab."""
    folds = ", ".join(f'{{ at = "50 mm from {side}", open = true, angle = 180 }}' for side in ("left", "right"))
    lands = 'landings = [{ piece = "tab", at = "centre, 8 mm from bottom" }]\n' + hole("centre, 16 mm from bottom")
    text = piece("front", 160, 90, f"folds = [{folds}]\n") + piece("inner", 160, 90, lands)
    text += piece("tab", 14, 60, 'folds = [{ at = "middle", around = "ring" }]\n' + PINNED) + RING + rivet(1)
    text += seam("round", "front: all", "inner: all") + step("Rivet.", pieces="tab inner", hardware="rivet ring")
    build = resolve_text(text + step("Sew.", seams="round"))
    lifted = {one.copy.part: one for one in TakenApart(build).lifted.parts}
    tab, under = lifted["tab"], lifted["inner"]
    out = under.out(1)
    assert len(tab.lifts) == 2
    assert all(inner(lift, out) > inner(under.lifts[1], out) for lift in tab.lifts)


PINNED = (
    'holes = [{ at = "centre, 8 mm from bottom", punch = "4 mm" }, { at = "centre, 8 mm from top", punch = "4 mm" }]\n'
)
