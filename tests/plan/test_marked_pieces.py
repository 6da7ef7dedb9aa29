"""What a step only lays on a piece, and glues along the edges that a later seam takes, is marked there before the glue goes
on. That cement holds on a smooth grain once it is roughened is common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

CORNER = '{ piece = "corner", at = "0 mm from right, 0 mm from bottom"INSIDE }'


@pytest.mark.parametrize(
    ("tool", "inside", "told"),
    [
        (
            "contact cement",
            "",
            [
                "base grain side up: lay corner on it, that side up too, upright: right edges level, bottom edges level.",
                "Mark round it, take it off, and roughen the grain inside the mark, where it is glued.",
                "Put contact cement inside the mark and on the flesh side of corner, "
                "in a band 4 mm wide along bottom and right.",
                "Wait 15 to 120 min, until dry to the touch (see the tin), "
                "then press corner down where marked; rub off glue that shows.",
            ],
        ),
        ("contact cement", ", inside = true", ["Mark round it, and take it off."]),
        ("double-sided tape", "", []),
        ("spray adhesive", "", []),
    ],
)
def test_what_is_glued_by_some_of_its_edges_is_marked_first(
    resolve_text: Resolve, tool: str, inside: str, told: list[str]
) -> None:
    text = piece("base", 200, 160, f"landings = [{CORNER.replace('INSIDE', inside)}]\n") + piece("shell", 200, 160)
    text += piece("corner", 60, 60) + seam("round", "base: all", "shell: all")
    text += (
        step("Glue the corner on.", pieces="base corner") + f'tools = ["{tool}"]\n' + step("Sew round.", seams="round")
    )
    made = lines(plan_work(resolve_text(write_out(text))), 1)
    marked = [line for line in made if line.startswith("Mark ")]
    assert (made if len(told) > 1 else marked) == told
