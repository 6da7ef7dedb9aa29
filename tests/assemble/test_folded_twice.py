"""A pouch in one piece, folded twice: its front is sewn to its back, and its flap lies over both."""

from short_specs import piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Body, Copy, TakenApart

FOLDS = ", ".join(f'{{ at = "{at} mm from bottom", open = true, angle = 180 }}' for at in (150, 300))
SPOT = 'holes = [{ at = "30 mm from right, 285 mm from bottom", punch = "4 mm" }]\n'
POUCH = (
    piece("body", 260, 410, f"folds = [{FOLDS}]\n{SPOT}")
    + piece("tab", 12, 50, 'folds = [{ at = "middle" }]\n')
    + 'holes = [{ at = "10 mm from bottom, centre", punch = "4 mm", takes = "rivet", through = ["body"] },\n'
    + '{ at = "10 mm from top, centre", punch = "4 mm", takes = "rivet" }]\n'
    + rivet()
    + "".join(
        seam(side, *(f"body: {side} from bottom {at} mm to bottom 150 mm" for at in (0, 300)))
        for side in ("left", "right")
    )
    + step("Rivet the tab on.", pieces="tab", hardware="rivet")
    + step("Fold and sew.", seams="left right")
)


def heights(body: Body) -> list[float]:
    """How high each flat part of a part is drawn, from its bottom up."""
    faces = sorted(body.faces, key=lambda face: min(at.y for at in face.ring))
    return [sum(at[2] for at in face.corners) / len(face.corners) for face in faces]


def test_its_flap_lies_over_its_front_and_a_tab_on_its_back(resolve_text: Resolve) -> None:
    """The front reaches from the bottom to 150, the back to 300, the flap to 410: they lie over each other in the order
    back, front, flap, and the tab, its hole in the back, on the far side of that."""
    build = resolve_text(POUCH)
    assert isinstance(build, Assembled)
    closed = TakenApart(build).closed
    assert closed.opened == ()
    bodies = {body.copy: body for body in closed.bodies}
    front, back, flap = heights(bodies[Copy("body")])
    hand = 1 if front > back else -1
    assert hand * back < hand * front < hand * flap
    assert all(hand * at < hand * back for at in heights(bodies[Copy("tab")]))
