"""What is fast all over on another part bends with it: its fold is told once, at that part. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

FOLD = 'folds = [{ at = "middle", open = true, angle = 90 }]\n'


@pytest.mark.parametrize(("sewn", "told"), [("body: all", 1), ("other: all", 2)])
def test_a_lining_that_is_sewn_in_before_is_not_bent_by_itself(resolve_text: Resolve, sewn: str, told: int) -> None:
    text = (
        piece("body", 100, 200, FOLD)
        + '[pieces.lining]\nof = "body"\nlike = "body"\nshows = "flesh"\n'
        + piece("other", 100, 200)
        + seam("round", sewn, "lining: all")
        + step("Sew round.", seams="round")
        + step("Bend it on its fold.", pieces="body lining")
    )
    found = [line for line in lines(plan_work(resolve_text(text)), 2) if "bend" in line.lower()]
    assert len([line for line in found if line.startswith("body")]) == 1
    assert len([line for line in found if line.startswith("lining")]) == told - 1
