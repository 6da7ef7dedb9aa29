"""A flap that is lined before it is laid on its back: the lining is what lies down, and how far its row lies from the edge
over which it goes is told too where it takes but a part of its own edge: turned about that, 40 + 4 and 40 + 2 x 4 mm."""

from pathlib import Path

import pytest
from spec_text import HEAD, write_out
from step_lines import lines

from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.read import read_spec

SPEC = """\
<back>
landings = [{ piece = "flap", at = "centre, 40 mm from top" }]
<rectangle flap: ["208 mm", "180 mm"]>
folds = [{ at = "44 mm from top", open = true }, { at = "80 mm from top", open = true }]
[materials.cloth]
kind = "fabric"
thickness = "0.4 mm"
width = "1 m"
<rectangle lining of cloth: ["208 mm", "180 mm"]>
lines = ["flap"]
<seam round: ["flap: left bottom right", "lining: left bottom right"]>
<seam hang: ["flap: top from left 10 mm to right 10 mm", "lining: top from left 10 mm to right 10 mm", "back"]>
<step "Sew the lining to the flap.": seams = ["round"]>
<step "Sew the flap on.": seams = ["hang"]>
tools = ["TOOL"]
"""


@pytest.mark.parametrize(
    ("tool", "words"),
    [
        (
            "contact cement",
            "Put contact cement on the right side of lining, in a band 4 mm wide along the top edge (from 10 mm off "
            "the left to 10 mm off the right), and on a strip from 44 mm to 48 mm below the top edge of back.",
        ),
        (
            "double-sided tape",
            "Put double-sided tape on the right side of lining, no more than 4 mm from the top edge (from 10 mm off "
            "the left to 10 mm off the right).",
        ),
    ],
)
def test_a_lined_flap_lies_on_its_lining(tmp_path: Path, tool: str, words: str) -> None:
    path = tmp_path / "a.toml"
    path.write_text(HEAD + write_out(SPEC).replace("TOOL", tool), encoding="utf-8")
    told = lines(plan_work(resolve_build(read_spec(path))), 2)
    assert words in told
    assert any("its own top edge lies 48 mm from there, its stitch line 44 mm" in line for line in told)


@pytest.mark.parametrize(
    ("inside", "side"), [("", "grain"), (', inside = "grain"', "flesh")], ids=["grain out", "flesh out"]
)
def test_a_flap_that_comes_over_from_inside_lies_with_the_side_down_that_shows_at_last(
    tmp_path: Path, inside: str, side: str
) -> None:
    """Its grain side on the flesh side of the back, so that it comes down on the front with that out; folded the other way
    it shows its flesh side there."""
    text = SPEC.split("[materials.cloth]")[0].replace('top" }]', 'top", inside = true }]', 1)
    text = text.replace("open = true }", f"open = true{inside} }}")
    text += (
        '<seam hang: ["flap: top", "back"]>\n<step "Sew the flap on.": seams = ["hang"]>\ntools = ["contact cement"]\n'
    )
    path = tmp_path / "a.toml"
    path.write_text(HEAD + write_out(text), encoding="utf-8")
    told = lines(plan_work(resolve_build(read_spec(path))), 1)
    assert any(line.startswith(f"Put contact cement on the {side} side of flap") for line in told)
    assert (told[1].startswith("back flesh side up: lay flap on it, that side up too")) == (side == "grain")
    assert any("Roughen the grain of flap" in line for line in told) == (side == "grain")


@pytest.mark.parametrize("seams", ['["round", "hang"]', '["round"]'])
def test_a_flap_lined_in_the_step_that_sews_it_on_is_marked_and_glued_there(tmp_path: Path, seams: str) -> None:
    """What is glued to its lining lies on that alone: the ground is glued too, and nothing is pressed down where nothing
    is marked. A grain that lies down is roughened as the ground is, and cloth is not: common practice, no published
    source."""
    steps = f'<step "Sew the lining to the flap, and that on.": seams = {seams}>\ntools = ["contact cement"]\n'
    steps += "" if "hang" in seams else '<step "Sew the flap on.": seams = ["hang"]>\n'
    for goods, is_rough in (("cloth", False), ("body", True)):
        path = tmp_path / "a.toml"
        text = SPEC.split("<step")[0].replace("lining of cloth", f"lining of {goods}")
        path.write_text(HEAD + write_out(text + steps), encoding="utf-8")
        told = lines(plan_work(resolve_build(read_spec(path))), 1)
        marked = [k for k, line in enumerate(told) if line.startswith("Mark round it, take it off")]
        glued = [
            k for k, line in enumerate(told) if line.startswith("Put contact cement") and "top edge of back" in line
        ]
        pressed = [k for k, line in enumerate(told) if "press flap down where marked" in line]
        assert [len(marked), len(glued), len(pressed)] == [int("hang" in seams)] * 3
        assert [*marked, *glued, *pressed] == sorted([*marked, *glued, *pressed])
        assert ("Roughen the grain of lining along the edges where it is glued." in told) == (is_rough and bool(marked))
