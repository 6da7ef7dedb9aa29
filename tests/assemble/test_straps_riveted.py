"""Two straps riveted to each other: a hole of the one names the other in through."""

import pytest
from short_specs import rivet, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work
from docgen.problems import SpecRejected

STRAPS = """\
<strap long of body: 30 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 15 mm from end", punch = "4 mm", takes = "rivet", through = ["short"] }]
<strap short of body: 30 mm>
finished = "200 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]
"""
WORK = rivet() + step("Rivet.", straps="long short", hardware="rivet")


def test_a_rivet_goes_through_both_straps(resolve_text: Resolve) -> None:
    """Twice 2 mm of leather."""
    build = resolve_text(STRAPS + WORK)
    (fit,) = build.assembly.fastened
    assert (fit.part, fit.stack.parts, fit.stack.usual_mm) == ("long", ("long", "short"), 4.0)
    assert {one.check for one in build.cautions}.isdisjoint({"strap-unfastened", "hole-not-in-partner"})
    told = " ".join(lines(plan_work(build), 1))
    assert "through long, short, 2 layers, 4 mm" in told


def test_a_strap_without_the_hole_is_told(resolve_text: Resolve) -> None:
    bare = STRAPS.replace('\npunches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]', "")
    assert "hole-not-in-partner" in {one.check for one in resolve_text(bare + WORK).cautions}


def test_a_part_that_is_not_there_is_an_error(resolve_text: Resolve) -> None:
    with pytest.raises(SpecRejected) as caught:
        resolve_text(STRAPS.replace('through = ["short"]', 'through = ["shrt"]') + WORK)
    (problem,) = caught.value.problems
    assert 'there is no piece, join or strap "shrt"' in problem.what
