"""Foam that says what it lines, two of it cut, and one step that has it in hand: one lies behind each part."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out

from docgen.assemble import Assembled

PADDED = write_out(
    '[materials.foam]\nkind = "foam"\nthickness = "3 mm"\n[pieces.pad]\nof = "foam"\nlike = "front"\ncut = 2\n'
    'inset = "8 mm"\nlines = ["front", "back"]\n'
)


@pytest.mark.parametrize(
    ("lines", "later", "hosts"),
    [
        ('lines = ["front", "back"]', "", {("front", 1), ("back", 2)}),
        ('lines = ["front", "back"]', " pad", {("front", 1), ("back", 2)}),
        ('lines = ["front"]', "", {("front", 1)}),
    ],
)
def test_what_one_step_has_in_hand_lies_behind_all_that_it_lines(
    resolve_text: Resolve, lines: str, later: str, hosts: set[tuple[str, int]]
) -> None:
    build = resolve_text(
        piece("front", 200, 150)
        + piece("back", 200, 150)
        + PADDED.replace('lines = ["front", "back"]', lines)
        + seam("round", "front: left bottom right", "back: left bottom right")
        + step("Glue the pad behind the front.", pieces="front pad")
        + step("Glue the other pad behind the back.", pieces=f"back{later}")
        + step("Sew.", seams="round")
    )
    assert isinstance(build, Assembled)
    assert {(lies.host.part, lies.copy.number) for lies in build.assembly.lies} == hosts
    assert build.space.unplaced == () or hosts == {("front", 1)}
