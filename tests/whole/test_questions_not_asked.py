"""What `check` does not ask: builds that are right, beside the slip that is like them and is asked about."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

WELTED = """\
<leather thin: 0.8 mm>
[parts.edge-front]
use = "welt"
measures = { cord = "5 mm" }
instead = ["leather: thin", "stitch: main", "first: front: left bottom right", "second: back: left bottom right"]
[measures]
high = "6 in"
[pieces.front]
of = "body"
shape = "rectangle"
size = ["8 in", "high"]
round = { bottom-left = "1 in", bottom-right = "1 in" }
holes = [
  { at = "2 in from left, 2 in from top", punch = "4 mm" },
  { at = "2 in from right, 2 in from top", punch = "4 mm" },
]
<bare back>
<strap carry of body: 1 in>
finished = "12 in"
"""
WELT = """\
<back>
<bare front>
<strip welt: ["10 mm", "solve"]>
<seam a: ["back: left bottom right", "welt: left", "front: left bottom right"]>
"""
MADE_LATER = """\
<strap belt of body: 30 mm>
finished = "900 mm"
ends = [{ shape = "turned", back = "60 mm", around = "ring", keeper = "held" }, { shape = "square" }]
stitch = "main"
[straps.held]
title = "Keeper in the fold"
of = "body"
width = "12 mm"
keeper-for = "belt"
<hardware ring: 1, ring>
kind = "ring"
inside = "31 mm"
bar = "4 mm"
<step "Cut belt and keeper.": straps = ["held"]>
<step "Turn the belt round its ring.": straps = ["belt"]>
hardware = ["ring"]
"""
UNDER = """\
<fabric linen: 0.5 mm>
<rectangle back: ["300 mm", "240 mm"]>
landings = [
  { strap = "carry", at = "50 mm from top, centre", over = "50 mm", stitch = "main" },
  { piece = "inner", at = "centre, 40 mm from bottom" },
]
<rectangle inner of linen: ["200 mm", "170 mm"]>
<strap carry of body: 30 mm>
finished = "400 mm"
<seam inner: ["inner: left bottom right", "back"]>
<step "Sew the pocket on.": seams = ["inner"]>
<step "Sew the handle on.": straps = ["carry"]>
"""


def test_a_thin_welt_goes_round_a_cord(ask: Ask) -> None:
    text = WELTED.replace("<bare back>", '[pieces.back]\nlike = "front"\nmarks = false')
    told = ask(text)
    assert not [one for one in told if "lies between parts of" in one]
    assert not [one for one in told if '"5 mm" is in mm' in one]
    assert not [one for one in told if 'a seam "edge-front-run"' in one]


def test_a_thin_welt_without_a_cord_is_asked_about(ask: Ask) -> None:
    edit = ('<strip welt: ["10 mm", "solve"]>', '<leather thin: 0.8 mm>\n<strip welt of thin: ["10 mm", "solve"]>')
    assert not [one for one in ask(WELT) if "lies between parts of" in one]
    assert [one for one in ask(WELT, edit) if "lies between parts of" in one]


def test_a_keeper_is_called_by_its_title(ask: Ask) -> None:
    assert not [one for one in ask(MADE_LATER) if "its words speak of" in one]
    assert [one for one in ask(MADE_LATER, ("Cut belt and keeper.", "Cut belt.")) if "its words speak of" in one]


@pytest.mark.parametrize(("lines", "called"), [("", '"inner"'), ('lines = ["back"]\n', "the lining")])
def test_what_a_handle_is_sewn_through_is_called_what_it_is(ask: Ask, lines: str, called: str) -> None:
    told = ask(UNDER, ('size = ["200 mm", "170 mm"]\n', f'size = ["200 mm", "170 mm"]\n{lines}'))
    assert any(f"this step sews {called} to" in one for one in told), told
