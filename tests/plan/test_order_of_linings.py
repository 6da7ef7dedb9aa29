"""Linings are laid, and a snap is set, where the order of the step names them. By hand."""

import json

import pytest
from short_specs import piece, seam, step
from spec_text import HEAD, Resolve
from step_lines import lines

from docgen.plan import plan_work

SNAP = '[hardware.magnet]\nwhat = "magnetic closure, 14 mm"\nkind = "other"\ncount = 1\n'
POUCH = (
    piece("back", 160, 140)
    + piece("front", 160, 140, 'holes = [{ at = "centre, 30 mm from top", punch = "4 mm", takes = "magnet" }]\n')
    + piece("back-lining", 160, 140, 'lines = ["back"]\n', "thin")
    + piece("front-lining", 160, 140, 'lines = ["front"]\n', "thin")
    + SNAP
)
ROUND = seam("round", "front: left bottom right", "front-lining", "back-lining", "back: left bottom right")
WORK = {"back-lining": "Lay back lining on", "front-lining": "Lay front lining on", "magnet": "Set 1 ×", "round": "Sew"}


@pytest.fixture
def head() -> str:
    return HEAD + '[materials.thin]\nkind = "leather"\nthickness = "1 mm"\n'


def told(resolve_text: Resolve, order: str, round_: str = ROUND) -> list[str]:
    work = step("Line it.", pieces="back front back-lining front-lining", hardware="magnet", seams="round")
    return lines(plan_work(resolve_text(POUCH + round_ + work + order + 'tools = ["contact cement"]\n')), 1)


@pytest.mark.parametrize(
    ("order", "layers"),
    [
        (["magnet", "back-lining", "front-lining", "round"], "2 mm of leather"),
        (["back-lining", "front-lining", "magnet", "round"], "2 layers, 3 mm"),
        (["front-lining", "magnet", "back-lining", "round"], "2 layers, 3 mm"),
    ],
)
def test_the_order_of_a_step_tells_when_linings_are_laid(resolve_text: Resolve, order: list[str], layers: str) -> None:
    """What is glued in by then is not glued to its panel again: at the seam the linings meet."""
    found = told(resolve_text, f"order = {json.dumps(order)}\n")
    at = {name: next(k for k, line in enumerate(found) if words in line) for name, words in WORK.items()}
    assert sorted(at, key=at.__getitem__) == order
    assert layers in found[at["magnet"]]
    assert [line for line in found if "that meet." in line] == [
        "Put contact cement on both front lining and back lining, in a band 4 mm wide along the edges that meet."
    ]


def test_without_an_order_the_seam_lays_them(resolve_text: Resolve) -> None:
    found = told(resolve_text, "")
    at = {name: next(k for k, line in enumerate(found) if words in line) for name, words in WORK.items()}
    assert sorted(at, key=at.__getitem__) == ["magnet", "front-lining", "back-lining", "round"]
    assert "2 mm of leather" in found[at["magnet"]]
    assert any("cement on front, front lining, back lining and back, in a band" in line for line in found)


def test_what_is_sewn_face_to_face_and_turned_is_laid_by_its_seam(resolve_text: Resolve) -> None:
    """Behind its panel it lies only once it is turned."""
    edges = "left bottom right top"
    turned = seam("round", f"front: {edges}", f"front-lining: {edges}", more="turned = true\n")
    for order in ("", 'order = ["front-lining", "round", "magnet"]\n'):
        found = told(resolve_text, order, turned)
        assert not any("front lining on the flesh side" in line for line in found)
