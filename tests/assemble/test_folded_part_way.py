"""What a step folds and sews to itself alone, as it is drawn: part way folded, seen from within. By hand, in mm."""

import math

import pytest
from short_specs import piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, Heap, TakenApart, inner
from docgen.geometry.shapes import Point
from docgen.pages.pictures.step_drawing import set_scene

FOLDS = """\
folds = [
  { at = "80 mm from bottom", open = true, angle = 180 },
  { at = "160 mm from bottom", open = true, angle = 180 },
]
"""
POCKET = 'landings = [{ piece = "pocket", at = "centre, 95 mm from bottom", inside = true }]\n'
BODY = (
    piece("body", 170, 210, FOLDS + POCKET)
    + piece("pocket", 80, 50)
    + seam("pocket", "pocket: left bottom right", "body")
)


def sides(more: str = "") -> str:
    low, high = "from bottom 80 mm to bottom 0 mm", "from bottom 80 mm to bottom 160 mm"
    return "".join(seam(edge, f"body: {edge} {low}", f"body: {edge} {high}", more=more) for edge in ("left", "right"))


PARTS = {"front": Point(85, 40), "back": Point(85, 120), "flap": Point(85, 190)}
SEWN = step("Sew the pocket on.", seams="pocket") + step("Fold it and sew both sides.", seams="left right")


def heap_of(apart: TakenApart, at: int) -> Heap | None:
    return next(iter(apart.heaps(at)[1]), None)


def test_the_front_stands_up_from_the_back_and_the_flap_lies_on_in_its_plane(resolve_text: Resolve) -> None:
    """By a third of its 180 degrees; the pocket stays on the back, 15 above the fold."""
    apart = TakenApart(resolve_text(BODY + sides() + SEWN))
    bodies, (heap,) = apart.heaps(1)
    body, pocket = (bodies[Copy(name)] for name in ("body", "pocket"))
    front, back, flap = (body.placed.out(body.placed.surface.band_of(at)) for at in PARTS.values())
    assert inner(flap, back) == pytest.approx(1)
    assert inner(front, back) == pytest.approx(math.cos(math.radians(60)))
    assert heap.folding is not None
    assert inner(heap.folding.inside, back) == pytest.approx(-1), "the flesh side comes inside"
    assert all(inner(face.grain, heap.folding.inside) == pytest.approx(1) for face in pocket.faces)
    assert heap.new == {Copy("body")}


def test_both_edges_are_linked_where_they_meet(resolve_text: Resolve) -> None:
    """Halves that stand 120 degrees open: 2 x 80 x sin 60 apart at the mouth, half of that in the middle of the row,
    nothing at the fold; 162 from side to side, as either row keeps 4 from its edge."""
    heap = heap_of(TakenApart(resolve_text(BODY + sides() + SEWN)), 1)
    assert heap is not None
    assert heap.folding is not None
    chords = sorted(round(math.dist(at, to)) for at, to in heap.folding.meets)
    apart = {round(at[0]) for at, _ in heap.folding.meets}
    assert max(apart) - min(apart) == 162
    assert all(at[0] == pytest.approx(to[0]) for at, to in heap.folding.meets)
    assert chords == [69, 69, 139, 139]


def test_it_is_seen_from_within_and_both_rows_from_end_to_end(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(BODY + sides() + SEWN))
    bodies, (heap,) = apart.heaps(1)
    scene = set_scene(bodies, heap, apart.joined(heap, 1, bodies))
    assert heap.folding is not None
    assert inner(heap.folding.inside, scene.drawing.view.eye) > 0.5
    assert inner(heap.folding.stands, scene.drawing.view.eye) < 0, "what stands up hides nothing"
    assert {row.seam: row.share for row in scene.drawing.rows} == pytest.approx({"left": 1, "right": 1}, abs=0.05)


@pytest.mark.parametrize(
    ("more", "steps"),
    [("turned = true\n", SEWN), ("", SEWN.replace(', "right"', "") + step("Sew the right side.", seams="right"))],
)
def test_what_is_sewn_inside_out_or_folded_before_is_not_drawn_part_way(
    resolve_text: Resolve, more: str, steps: str
) -> None:
    apart = TakenApart(resolve_text(BODY + sides(more) + steps))
    assert heap_of(apart, len(apart.build.assembly.steps) - 1) is None


@pytest.mark.parametrize("is_first", [False, True])
def test_what_was_folded_and_sewn_is_drawn_so_where_a_later_step_handles_it(
    resolve_text: Resolve, is_first: bool
) -> None:
    """Front and flap on the back, the way each looks: not flat, as it was cut; flat where the step comes first."""
    creased = step("Crease the flap over.", pieces="body")
    apart = TakenApart(resolve_text(BODY + sides() + (creased + SEWN if is_first else SEWN + creased)))
    found = apart.made_up(0 if is_first else 2)
    assert len(found) == (0 if is_first else 1)
    for one in found:
        body = one.bodies[Copy("body")]
        front, back, flap = (body.placed.out(body.placed.surface.band_of(at)) for at in PARTS.values())
        assert (inner(front, back), inner(flap, back)) == pytest.approx((-1, -1))
        assert one.heap.handled == {Copy("body")}
        assert one.heap.copies == {Copy("body"), Copy("pocket")}


@pytest.mark.parametrize("is_riveted", [True, False])
def test_a_piece_that_was_in_hand_with_its_host_before_is_drawn_as_it_is_riveted_on(
    resolve_text: Resolve, is_riveted: bool
) -> None:
    """Punched in one step with its host: nothing is in doubt where the step that has it in hand next rivets it on."""
    punched = '{{ at = "centre, {} mm from bottom", punch = "4 mm"{} }}'
    takes = ', takes = "rivet", through = ["tab"]'
    body = piece("body", 170, 210, 'landings = [{ piece = "tab", at = "centre, 80 mm from bottom" }]\n')
    body += f"holes = [{punched.format(100, takes)}]\n"
    tab = piece("tab", 60, 40, f"holes = [{punched.format(20, '')}]\n")
    text = body + tab + rivet() + step("Punch both.", pieces="body tab", tools="hole punch")
    text += step("Rivet the tab on.", pieces="tab", hardware="rivet") if is_riveted else step("Dye it.", pieces="tab")
    told = [*TakenApart(resolve_text(text)).tell_withheld()]
    assert any(line.startswith("what step 2 handles") for line in told) is not is_riveted


@pytest.mark.parametrize(
    ("made", "is_drawn"), [("Fold the body.", True), ("Dye the body.", False), ("Fold it.", False)]
)
def test_a_step_that_only_folds_what_has_others_on_it_is_drawn_part_way(
    resolve_text: Resolve, made: str, is_drawn: bool
) -> None:
    """Front and flap lean by a third of 180 degrees from the back; not where the step speaks of no folding, nor of a piece
    by itself, whose flat outline shows its fold lines."""
    by_itself = made == "Fold it."
    text = BODY.replace(POCKET, "").partition("[pieces.pocket]")[0] if by_itself else BODY
    first = step("Punch it.", pieces="body") if by_itself else step("Sew the pocket on.", seams="pocket")
    apart = TakenApart(resolve_text(text + first + step(made, pieces="body")))
    heap = heap_of(apart, 1)
    assert (heap is not None) is is_drawn
    if heap is not None:
        assert heap.folding is not None
        assert heap.folding.meets == ()
        body = apart.heaps(1)[0][Copy("body")]
        front, back, flap = (body.placed.out(body.placed.surface.band_of(at)) for at in PARTS.values())
        assert (inner(front, back), inner(flap, back)) == pytest.approx((0.5, 0.5))
