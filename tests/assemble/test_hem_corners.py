"""Hems that meet at a corner lie within each other's folds: what is cut there stood out of the finished edge."""

from short_specs import piece, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy
from docgen.geometry.outline import outline_box
from docgen.resolve import by_name

TURNED = ", ".join(f'{{ edges = "{edge}", turn = "9 mm" }}' for edge in ("left", "bottom", "right"))


def test_the_hem_of_a_foot_is_no_wider_than_the_piece_between_its_sides(resolve_text: Resolve) -> None:
    """Cut 200 wide with 9 turned at each side: 182 are left between the folds."""
    build = resolve_text(
        piece("flap", 200, 120, f"hems = [{TURNED}]\n", of="thin") + step("Turn the edges.", pieces="flap")
    )
    assert isinstance(build, Assembled)
    placed = build.space.part(Copy("flap"))
    assert placed is not None
    box = outline_box(by_name(build.pieces)["flap"].sewn_outline)
    assert len(placed.item.hems) == 3
    for ring in placed.item.hems:
        assert min(at[0] for at in ring) > box.left - 1e-6
        assert max(at[0] for at in ring) < box.right + 1e-6
        assert min(at[1] for at in ring) > box.bottom - 1e-6
