"""Which strip of a join lies over which: in its words, in its section, and where a step says otherwise. By hand."""

from collections.abc import Callable

import pytest
from short_specs import step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.assemble import pile_joints
from docgen.plan import plan_work

STRIPS = """\
<strip side: ["60 mm", "160 mm"]>
cut = 2
<strip base: ["60 mm", "200 mm"]>
<join g: ["side", "base", "side"], 12 mm>
"""
OVER = 'over = ["NAME"]\n'


@pytest.mark.parametrize(
    ("over", "told", "piles"),
    [
        ("", "start of side over start of base, end of base over start of side", [("side", "base"), ("base", "side")]),
        ("base", "start of base over start of side, end of base over start of side", [("base", "side")]),
        ("side", "start of side over start of base, start of side over end of base", [("side", "base")]),
    ],
)
def test_a_strip_lies_over_both_its_neighbours_where_it_says_so(
    resolve_text: Resolve, over: str, told: str, piles: list[tuple[str, str]]
) -> None:
    text = STRIPS + (OVER.replace("NAME", over) if over else "")
    build = resolve_text(write_out(text) + step("Join the strips.", joins="g"))
    found = [line for line in lines(plan_work(build), 1) if " over " in line]
    assert found == [f"g: lay the strips over each other by 12 mm, edges in line: {told}."]
    (run,) = (one for one in build.assembly.runs if one.kind == "joins")
    shown = [tuple(ply.part for ply in pile) for pile in pile_joints(build, run) if pile is not None]
    assert shown == piles


@pytest.mark.parametrize(
    ("do", "over", "asked"),
    [
        ("Glue the strips, the base on top, and sew both laps.", "", True),
        ("Glue the strips, the base on top, and sew both laps.", "base", False),
        ("Glue the strips, the sides on top, and sew both laps.", "side", False),
        ("Glue the strips and sew both laps.", "", False),
        ("Sew the base, its label on top.", "", False),
    ],
)
def test_what_a_step_says_of_a_joint_is_asked(
    ask_only: Callable[..., Callable[..., list[str]]], do: str, over: str, *, asked: bool
) -> None:
    text = STRIPS + (OVER.replace("NAME", over) if over else "")
    told = ask_only("said")(write_out(text) + step(do, joins="g"))
    assert [one.partition(": ")[2] for one in told] == [
        'a step says that "base" lies on top, and at a joint of "g" it lies beneath'
    ] * asked
