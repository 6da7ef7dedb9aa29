"""Strips that are joined by then are taken in hand, and lined, as what they are joined to."""

from pathlib import Path

import pytest
from spec_text import HEAD, write_out
from step_lines import lines

from docgen.checks import resolve_build
from docgen.pages.work.acts import tell
from docgen.plan import Plan, plan_work
from docgen.read import read_spec

SPEC = """\
<back>
<front>
[materials.cloth]
kind = "fabric"
thickness = "0.4 mm"
width = "1 m"
<strip side: ["60 mm", "160 mm"]>
cut = 2
holes = [{ at = "centre, 20 mm from end", punch = "3 mm", takes = "eyelet" }]
<strip base: ["60 mm", "solve"]>
<join gusset: ["side", "base", "side"], 15 mm>
<strip lining of cloth: ["60 mm", "solve"]>
lines = ["gusset"]
<hardware eyelet: 2, eyelet>
<seam first: ["side 1: end", "lining: start"]>
<seam last: ["side 2: end", "lining: end"]>
<seam to-back: ["back: left bottom right", "gusset: left", "lining: right"]>
<seam to-front: ["front: left bottom right", "gusset: right", "lining: left"]>
<step "Join the strips.": joins = ["gusset"]>
<step "Set the eyelets.": hardware = ["eyelet"]>
<step "Lay the lining on and sew both ends.": seams = ["first", "last"]>
<step "Sew it to back and front.": seams = ["to-back", "to-front"]>
"""


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    path = tmp_path / "a.toml"
    path.write_text(HEAD + write_out(SPEC), encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))


def taken(plan: Plan, number: int) -> list[str]:
    return [tell(one) for one in plan.steps[number - 1].takes]


def test_the_whole_is_taken_where_metal_is_set_in_a_strip_of_it(plan: Plan) -> None:
    assert "gusset (from step 1)" in taken(plan, 2)


def test_a_lining_is_laid_on_the_whole_by_the_seam_that_takes_one_strip_of_it(plan: Plan) -> None:
    assert taken(plan, 3) == ["gusset (from step 2)", "lining"]
    (at,) = [at for at, line in enumerate(lines(plan, 3)) if line.startswith("Lay lining on the flesh side of gusset")]
    assert at == 0
    assert not any(line.startswith("Lay lining") for line in lines(plan, 4))
