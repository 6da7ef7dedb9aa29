"""Tabs that are folded round a ring and sewn in between two panels: between them when all is done, and leading inward while
they are sewn face to face. Figures by hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Body, Copy, TakenApart

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
