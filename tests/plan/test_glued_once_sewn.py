"""A piece that is only glued on another is laid there once what is sewn to it alone is sewn, and no sooner than a step has
that other in hand. By hand: sewn later, its hem would go through what it is glued on."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work
from docgen.resolve import Build

HEMMED = 'hems = [{ edges = "top", turn = "10 mm" }]\n'
PARTS = (
    piece("cover", 300, 200)
    + piece("lining", 300, 200, 'landings = [{ piece = "sleeve", at = "0 from left, 0 from bottom" }]\n')
    + piece("sleeve", 100, 210, HEMMED + 'landings = [{ piece = "card", at = "20 mm from left, 20 mm from bottom" }]\n')
    + piece("card", 60, 90)
    + seam("mouth", "sleeve: top", "sleeve")
    + seam("card", "card: left bottom right", "sleeve")
    + seam("round", "lining: all", "cover: all")
)
LAID = "lay sleeve on it"


def step_of(build: Build, words: str) -> list[tuple[int, int]]:
    """The step, and the line in it, of each line that holds these words."""
    plan = plan_work(build)
    told = [(one.number, k, line) for one in plan.steps for k, line in enumerate(lines(plan, one.number))]
    return [(number, k) for number, k, line in told if words in line]


def laid_and_sewn(build: Build) -> tuple[tuple[int, int], tuple[int, int]]:
    (laid,) = step_of(build, LAID)
    return laid, max(at for at in step_of(build, "Sew seam") if at[0] == 1)


def test_what_is_glued_on_a_piece_is_hemmed_and_sewn_on_first(resolve_text: Resolve) -> None:
    text = PARTS + step("Make the sleeve and glue it on.", pieces="sleeve lining", seams="mouth card", tools="glue")
    laid, sewn = laid_and_sewn(resolve_text(text + step("Sew.", seams="round")))
    assert laid[0] == sewn[0] == 1
    assert laid > sewn
    runs = [one for one in resolve_text(text).assembly.sewn if one.seam in ("mouth", "card")]
    assert [{*one.stack.parts} for one in runs] == [{"sleeve"}, {"card", "sleeve"}]


@pytest.mark.parametrize(("order", "is_first"), [("", False), ('order = ["sleeve", "mouth"]\n', True)])
def test_an_order_of_the_step_is_kept(resolve_text: Resolve, order: str, is_first: bool) -> None:
    text = PARTS + step("Make the sleeve, glue it on.", pieces="sleeve lining", seams="mouth card", tools="glue")
    laid, sewn = laid_and_sewn(resolve_text(text + order + step("Sew.", seams="round")))
    assert (laid < sewn) == is_first


@pytest.mark.parametrize(
    ("pieces", "more", "at"),
    [
        ("sleeve card", {"pieces": "lining"}, 2),  # glued where its host comes to hand
        ("sleeve card", {}, 2),  # which a seam brings
        ("sleeve card lining", {}, 1),  # or where both are in hand
    ],
)
def test_what_is_made_ready_waits_for_its_host(
    resolve_text: Resolve, pieces: str, more: dict[str, str], at: int
) -> None:
    text = PARTS + step("Make the sleeve.", pieces=pieces, seams="mouth card", tools="glue")
    text += step("Glue the sleeve in and sew round.", **more, seams="round", tools="glue")
    build = resolve_text(text)
    (laid,) = step_of(build, LAID)
    assert laid[0] == at
    (round_,) = [one for one in build.assembly.sewn if one.seam == "round"]
    assert "sleeve" in round_.stack.parts


def test_a_piece_glued_on_what_lies_there_already_is_laid_by_its_own_step(resolve_text: Resolve) -> None:
    """Its host is in hand before, and again later: a step that glues it names it alone."""
    text = (
        PARTS + step("Mark the lining.", pieces="lining") + step("Glue on the sleeve.", pieces="sleeve", tools="glue")
    )
    (laid,) = step_of(resolve_text(text + step("Sew.", seams="mouth card round")), LAID)
    assert laid[0] == 2
