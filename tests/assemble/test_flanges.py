"""A divider with a flange at either end, sewn flat inside the front by one of them and inside the back by the other."""

from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.plan import plan_work

FOLDS = ", ".join(
    f'{{ at = "12 mm from {side}", open = true, angle = 90, inside = "grain" }}' for side in ("left", "right")
)


def bag(to_front: str, to_back: str) -> str:
    """Front and back 190 wide, 87 apart between the rows 4 in from the edges of a wall of 95; the flange from 89 to 101."""
    return (
        piece(
            "front",
            190,
            250,
            'landings = [{ piece = "inner", at = "89 mm from left, 10 mm from top", inside = true }]\n',
        )
        + piece("back", 190, 250)
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["95 mm", "solve"]\n'
        + piece("inner", 111, 225, f"folds = [{FOLDS}]\n")
        + seam("one", f"inner: {to_front}", "front")
        + seam("two", f"inner: {to_back}", "back")
        + seam("near", "front: left bottom right", "wall: left")
        + seam("far", "back: left bottom right", "wall: right")
        + step("Sew the divider in.", seams="one two")
        + step("Sew the wall.", seams="near far")
    )


def test_it_stands_between_front_and_back(resolve_text: Resolve) -> None:
    """Turned over inside, its right edge lies on the left: the flange at 89 to 101 from the left, the rest stands off it
    there, no half turn, and both flanges a layer inside of what they are sewn to."""
    build = resolve_text(bag("right", "left"))
    assert isinstance(build, Assembled)
    apart = TakenApart(build)
    (landing,) = next(piece for piece in build.pieces if piece.name == "front").marks.landings
    bodies = {body.copy: body for body in apart.closed.bodies}
    corners = [at for face in bodies[Copy("inner")].faces for at in face.corners]
    panels = [bodies[Copy(name)].faces[0].corners[0][1] for name in ("front", "back")]
    assert not landing.is_over
    assert panels[0] < min(y for _, y, _ in corners)
    assert max(y for _, y, _ in corners) < panels[1]
    assert {round(x) for x, _, _ in corners} == {89, 101}


def test_what_is_sewn_beside_its_host_is_not_drawn(resolve_text: Resolve) -> None:
    """Its left edge comes to lie at 89 + 111 = 200, and the row at 196: the front ends at 190."""
    build = resolve_text(bag("left", "right"))
    assert isinstance(build, Assembled)
    assert TakenApart(build).withheld[Copy("inner")] == "its seam lies beside the part that it is sewn flat on"


def test_what_is_not_drawn_is_not_measured(resolve_text: Resolve) -> None:
    """The front is 190 wide, and the flange would reach to 198 or 200: no width is told from a place that is in doubt."""
    for edges in (("left", "right"), ("right", "left")):
        build = resolve_text(bag(*edges))
        assert isinstance(build, Assembled)
        (wide,) = [dict(one.due)["length"] for one in plan_work(build).finished if one.case == "width"]
        assert wide.startswith("190 mm")


def test_rows_of_what_is_not_drawn_are_not_drawn_either(resolve_text: Resolve) -> None:
    """They were drawn on the front, or in the air beside it."""
    for edges, rows in ((("right", "left"), {"one", "near"}), (("left", "right"), {"near"})):
        build = resolve_text(bag(*edges))
        assert isinstance(build, Assembled)
        front = next(body for body in TakenApart(build).closed.bodies if body.copy == Copy("front"))
        assert {line.name for line in front.lines if line.kind == "stitch"} == rows
