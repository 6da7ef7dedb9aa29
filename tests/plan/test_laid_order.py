"""A zip that is laid in a pocket is sewn in before the pocket closes over it, and an order may name it. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import Plan, plan_work
from docgen.problems import SpecRejected

ZIP = "<zip: coil zip, 30 mm, 0.6 mm>\n"
LAID = 'laid = [{ goods = "zip", at = "30 mm from top", stitch = "main", window = "10 mm", clear = "15 mm" }]\n'
PULL = """\
[straps.pull]
of = "body"
width = "20 mm"
finished = "60 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
"""
ON_POCKET = (
    'landings = [{ strap = "pull", at = "15 mm from bottom, centre", leads = "up", over = "15 mm", stitch = "main" }]\n'
)
PANEL = (
    piece("panel", 200, 160, 'landings = [{ piece = "pocket", at = "20 mm from left, 20 mm from bottom" }]\n')
    + seam("pocket", "pocket: all", "panel")
    + ZIP
)


def step_of(plan: Plan, words: str) -> int:
    (found,) = {step.number for step in plan.steps for line in lines(plan, step.number) if words in line}
    return found


@pytest.mark.parametrize("pulled", [False, True])
def test_a_zip_and_a_strap_are_sewn_on_a_pocket_before_that_is_closed(resolve_text: Resolve, pulled: bool) -> None:
    """The strap, whose proposed step speaks of sewing too, took the zip along behind the seam round the pocket."""
    text = PANEL + piece("pocket", 160, 110, LAID + ON_POCKET * pulled) + PULL * pulled
    plan = plan_work(resolve_text(text))
    closed = step_of(plan, "all round, from")
    assert step_of(plan, "Sew pocket, coil zip") < closed
    assert not pulled or step_of(plan, "Sew pull, first end") < closed


@pytest.mark.parametrize(
    ("order", "first"), [('order = ["zip"]\n', "zip"), ('order = ["pocket: seams", "zip"]\n', "pocket")]
)
def test_an_order_names_a_zip_where_it_is_laid(resolve_text: Resolve, order: str, first: str) -> None:
    text = PANEL + piece("pocket", 160, 110, LAID) + step("Lay it all.", pieces="pocket", seams="pocket") + order
    told = lines(plan_work(resolve_text(text)), 1)
    at = {"zip": next(k for k, line in enumerate(told) if "Sew pocket, coil zip" in line)}
    at |= {"pocket": next(k for k, line in enumerate(told) if "all round, from" in line)}
    assert min(at, key=at.__getitem__) == first


@pytest.mark.parametrize(
    ("goods", "what", "mend"),
    [
        (seam("mouth", "panel: top", "zip: left"), '"zip" goes in with its seam', 'name that in the order: "mouth"'),
        ("", 'no seam sews "zip"', "leave it out of the order: it is cut and fixed first"),
    ],
)
def test_a_zip_that_is_not_laid_is_no_work_of_an_order(resolve_text: Resolve, goods: str, what: str, mend: str) -> None:
    along = 'along = ["panel: top"]\n' * (not goods)
    text = PANEL + along + piece("pocket", 160, 110) + goods + step("Lay it.", seams="pocket") + 'order = ["zip"]\n'
    with pytest.raises(SpecRejected) as caught:
        resolve_text(text)
    assert (what, mend) in [(one.what, one.mend) for one in caught.value.problems]


def test_an_order_that_a_laid_zip_stands_in_twice_is_told(resolve_text: Resolve) -> None:
    text = PANEL + piece("pocket", 160, 110, LAID)
    text += step("Lay it.", pieces="pocket") + 'order = ["zip"]\n' + step("Sew.", seams="pocket")
    assert resolve_text(text).steps[0].timed == (("dividers", "pocket"),)
    with pytest.raises(SpecRejected) as caught:
        resolve_text(text + 'order = ["zip"]\n')
    assert [one.what for one in caught.value.problems] == ['an earlier step sews the dividing lines of "pocket"']
