"""A finish of the mouth alone: no seam takes that edge, and it is done before the pocket lies there. Common practice, no
published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

LANDS = ", ".join(f'{{ piece = "{name}", at = "0 from left, 0 from bottom" }}' for name in ("low", "high"))


@pytest.mark.parametrize(("edges", "first"), [("creased at the mouth", "low and high"), ("painted", "low")])
def test_a_pocket_that_no_seam_names_is_creased_before_it_is_laid(
    resolve_text: Resolve, edges: str, first: str
) -> None:
    """The lower one is sewn by its right edge, the other caught in the row round both."""
    thin = f'[materials.fine]\nkind = "leather"\nthickness = "1 mm"\nedges = "{edges}"\n'
    text = thin + piece("base", 200, 150) + piece("panel", 200, 150, f"landings = [{LANDS}]\n")
    text += piece("low", 90, 120, of="fine") + piece("high", 90, 80, of="fine")
    text += seam("side", "low: right", "panel") + seam("round", "base: all", "panel: all")
    plan = plan_work(
        resolve_text(text + step("Lay and sew them.", pieces="low high", seams="side") + step("Sew.", seams="round"))
    )
    told = [[line for line in lines(plan, at) if edges in line and "finish" in line] for at in (1, 2)]
    assert [line.partition(":")[0] for line in told[0]] == [first]
    assert [line.partition(":")[0] for line in told[1]] == ([] if "mouth" in edges else ["high"])


@pytest.mark.parametrize(
    ("edges", "told"),
    [
        ("pocket mouth burnished before it is sewn", [("pocket", "pocket mouth burnished")]),
        ("burnished before they are sewn", [("pocket", "burnished"), ("lining", "burnished")]),
    ],
)
def test_what_is_done_at_a_mouth_alone_is_told_so_of_what_has_one(
    resolve_text: Resolve, edges: str, told: list[tuple[str, str]]
) -> None:
    """The lining is of the same leather, lands nowhere, and has no mouth."""
    pig = f'[materials.pig]\nkind = "leather"\nthickness = "1 mm"\nedges = "{edges}"\n'
    text = pig + piece("base", 200, 150) + piece("pocket", 200, 80, of="pig")
    text += '[pieces.lining]\nlike = "base"\nof = "pig"\nlines = ["base"]\n'
    text += 'landings = [{ piece = "pocket", at = "0 from left, 0 from bottom" }]\n'
    text += seam("foot", "pocket: bottom", "lining") + seam("round", "base: all", "lining: all")
    steps = step("Lay it on and sew it.", pieces="pocket", seams="foot") + step("Sew round.", seams="round")
    plan = plan_work(resolve_text(text + steps))
    found = [
        line for at in (1, 2) for line in lines(plan, at) if "finish the cut edges" in line and "burnished" in line
    ]
    assert found == [f"{name}: now finish the cut edges ({words})." for name, words in told]
