"""What lies at a place and is named for it too is there once: a strip and the join that it is of, a keeper and the strap in
whose fold it lies. Figures by hand, leather of 2 mm."""

from pathlib import Path

import pytest
from short_specs import BUCKLE, KEEPER, SEWN_BELT, hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Fastened
from docgen.checks.questions import ask_maker
from docgen.read import read_spec

STRIPS = """\
<strip side: ["40 mm", "150 mm"]>
cut = 2
%s
<strip base: ["40 mm", "solve"]>
<join wall: ["side", "base", "side"], 10 mm>
"""
LANDING = 'landings = [{ piece = "tab", at = "centre, 20 mm from end" }]\n'
SEAM = seam("round", "back: left bottom right", "wall: left") + piece("back", 200, 150)


def tab(through: str) -> str:
    return piece("tab", 20, 60, "cut = 2\n" + hole("centre, 10 mm from bottom", more=f', through = ["{through}"]'))


def post_of(resolve_text: Resolve, through: str) -> Fastened:
    text = BUCKLE + STRIPS % LANDING + SEAM + piece("patch", 30, 30) + tab(through)
    steps = step("Join.", joins="wall") + step("Rivet the tab.", pieces="tab side patch", hardware="rivet buckle")
    build = resolve_text(text + steps + step("Sew.", seams="round"))
    return next(one for one in build.assembly.fastened if one.hardware == "rivet")


@pytest.mark.parametrize("through", ["wall", "side"])
def test_a_strip_on_which_a_tab_lies_is_there_once(resolve_text: Resolve, through: str) -> None:
    """Strip and tab."""
    assert post_of(resolve_text, through).stack.usual_mm == pytest.approx(2 + 2)


def test_what_a_hole_names_besides_is_one_layer_more(resolve_text: Resolve) -> None:
    stack = post_of(resolve_text, "patch").stack
    assert (sorted(stack.parts), stack.usual_mm) == (["patch", "side", "tab"], pytest.approx(3 * 2))


CUT = step("Cut both.", straps="belt loop")


def asked(resolve_text: Resolve, keeper: str) -> str:
    turned = step("Turn the end round the buckle with its loop, and sew it.", straps="belt", hardware="buckle")
    text = BUCKLE + SEWN_BELT % keeper + KEEPER + piece("back", 200, 150)
    build = resolve_text(text + CUT + turned)
    return "\n".join(one.what for one in ask_maker(read_spec(Path("a.toml")), [build]))


def test_a_step_that_turns_an_end_may_speak_of_the_keeper_in_it(resolve_text: Resolve) -> None:
    assert "its words speak of" not in asked(resolve_text, ', keeper = "loop"')


def test_a_step_that_speaks_of_another_strap_is_asked_about(resolve_text: Resolve) -> None:
    """The loop is a keeper that is closed by itself, and lies in no fold."""
    assert 'a step names "belt" in straps, and its words speak of "loop"' in asked(resolve_text, "")
