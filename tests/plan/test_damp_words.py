"""What is damped dries before glue comes on it, and what is glued by its edges begins at its ends where no notches tell
better. Common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

ROUND = 'round = { bottom-left = "35 mm", bottom-right = "35 mm" }\n'
WALL = '<strip wall of soft: ["60 mm", "solve"]>\n'
SOFT = '[materials.soft]\nkind = "leather"\ntannage = "TANNAGE"\nthickness = "THICK mm"\n'
TOOLS = 'tools = ["TOOL"]\n'
ENDS = "Press the ends together first, then between."


def made(resolve_text: Resolve, text: str, tool: str, tannage: str = "vegetable", thick: str = "2.5") -> list[str]:
    soft = SOFT.replace("TANNAGE", tannage).replace("THICK", thick)
    return lines(plan_work(resolve_text(write_out(soft + text) + TOOLS.replace("TOOL", tool))), 1)


@pytest.mark.parametrize(
    ("tool", "tannage", "first"),
    [
        (
            "contact cement",
            "vegetable",
            "wall: damp the edge with a sponge, stretch it round each corner, where it is ",
        ),
        ("contact cement", "chrome", "Put contact cement on both front and wall, "),
        ("clips", "vegetable", "Lay left, bottom and right of front on the left long edge of wall, "),
    ],
)
def test_a_wall_that_is_damped_dries_before_it_is_glued(
    resolve_text: Resolve, tool: str, tannage: str, first: str
) -> None:
    text = piece("front", 240, 200, ROUND) + WALL + seam("one", "front: left bottom right", "wall: left")
    told = made(resolve_text, text + step("Sew.", seams="one"), tool, tannage)
    assert told[0].startswith(first)
    assert len([line for line in told if "6.3 mm short" in line]) == 1, "pi / 2 x 4 mm, by plane geometry"
    assert (ENDS in told) == (tool == "contact cement")


BENT = piece("flap", 160, 200, 'folds = [{ at = "80 mm from top", open = true, angle = 90 }]\n', of="soft")


@pytest.mark.parametrize(
    ("tool", "thick", "do", "told"),
    [
        (
            "contact cement",
            "2.5",
            "Damp the flap and bend it.",
            "Let what was damped dry in that shape before glue goes on.",
        ),
        ("mallet", "2.5", "Damp the flap and bend it.", "Let what was damped dry in that shape."),
        ("mallet", "2.5", "Damp the flap, bend it and let it dry.", None),
        ("mallet", "1.2", "Bend the flap.", None),
    ],
)
def test_what_is_bent_damp_dries_so(resolve_text: Resolve, tool: str, thick: str, do: str, told: str | None) -> None:
    found = made(resolve_text, BENT + step(do, pieces="flap"), tool, thick=thick)
    assert [line for line in found if line.startswith("Let what")] == [told] * bool(told)


@pytest.mark.parametrize(
    ("edges", "told"), [("left bottom right", True), ("top", False), ("all", False)], ids=["long", "short", "round"]
)
def test_what_is_glued_by_its_edges_begins_at_its_ends(resolve_text: Resolve, edges: str, *, told: bool) -> None:
    """A short edge has ends that meet by themselves, and what goes all round has none."""
    text = piece("front", 160, 140) + piece("back", 160, 140) + seam("one", f"front: {edges}", f"back: {edges}")
    found = made(resolve_text, text + step("Sew.", seams="one"), "contact cement")
    assert (ENDS in found) == told
    assert ENDS not in made(resolve_text, text + step("Sew, ends clipped first: clip.", seams="one"), "contact cement")


@pytest.mark.parametrize("marks", ["", "marks = false\n"])
@pytest.mark.parametrize(("round_words", "told"), [(ROUND, 1), ("", 0)])
def test_a_wall_is_stretched_round_the_corners_of_a_facing_too(
    resolve_text: Resolve, marks: str, round_words: str, told: int
) -> None:
    """Of three partners the facing, which has no marks of its own, is the one that lies on the wall; round a quarter circle
    the edge is pi / 2 x 4 mm = 6.3 mm longer than the line that lies 4 mm in (plane geometry)."""
    text = piece("front", 240, 200, round_words) + f'[pieces.facing]\nlike = "front"\n{marks}' + WALL
    text += seam("one", "front: left bottom right", "facing: left bottom right", "wall: left")
    words = made(resolve_text, text + step("Sew.", seams="one"), "clips")
    stretched = [line for line in words if "stretch it round each corner: there it is 6.3 mm short" in line]
    assert len(stretched) == told
