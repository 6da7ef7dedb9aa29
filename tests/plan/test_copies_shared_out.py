"""Copies of a lining, foam or board that several steps name are laid one by each, on what that has in hand. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.checks.questions import ask_maker
from docgen.pages.work.acts import tell
from docgen.plan import plan_work
from docgen.read import read_spec

HEAD = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
show = "mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
[materials.thin]
kind = "leather"
thickness = "1 mm"
[materials.foam]
kind = "foam"
thickness = "3 mm"
[stitches.main]
by = "hand"
thread = "Tex 210 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
"""
PANELS = (
    piece("front", 200, 150)
    + '[pieces.back]\nlike = "front"\n'
    + '[pieces.foam]\nof = "foam"\nlike = "front"\ncut = 2\ninset = "10 mm"\n'
    + '[pieces.lining]\nof = "thin"\nlike = "front"\nlines = ["front"]\n'
    + seam("round", "front: left bottom right", "back: left bottom right")
    + seam("top", "front: top", "lining: top")
)
GLUE = "contact cement"


@pytest.fixture
def head() -> str:
    return HEAD


def glue(do: str, pieces: str, **more: str) -> str:
    return step(do, pieces=pieces, **more) + f'tools = ["{GLUE}"]\n'


ONE_EACH = glue("Glue foam to the front, and its lining.", "front foam lining", seams="top")
SECOND = glue("Glue foam to the back.", "back foam")
SEWN = step("Sew.", seams="round")


def laid(resolve_text: Resolve, text: str) -> list[tuple[str, int, int]]:
    """The host of each foam, its number and the step that lays it."""
    assembly = resolve_text(text).assembly
    found = [
        (host.part, copy.number, assembly.events[at].step + 1)
        for host, copy, at in assembly.laid
        if copy.part == "foam"
    ]
    return sorted(found, key=lambda one: one[1])


@pytest.mark.parametrize(
    ("steps", "found"),
    [
        (ONE_EACH + SECOND, [("front", 1, 1), ("back", 2, 2)]),
        (glue("Glue foam to both.", "front back foam"), [("front", 1, 1), ("back", 2, 1)]),
        (glue("Glue foam to both.", "front back foam") + SECOND, [("front", 1, 1), ("back", 2, 1)]),
        (ONE_EACH, [("front", 1, 1)]),
    ],
)
def test_each_step_lays_its_own(resolve_text: Resolve, steps: str, found: list[tuple[str, int, int]]) -> None:
    assert laid(resolve_text, PANELS + steps + SEWN) == found


def test_the_words_take_and_lay_one_each(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(PANELS + ONE_EACH + SECOND + SEWN))
    for number, host in ((1, "front"), (2, "back")):
        (line,) = [one for one in lines(plan, number) if one.startswith("Lay foam")]
        assert line.startswith(f"Lay foam on the flesh side of {host}, 10 mm within")
        takes = [tell(one) for one in plan.steps[number - 1].takes]
        assert any("foam" in one for one in takes)
        assert not any("2 × foam" in one or ("from step" in one and "foam" in one) for one in takes)


@pytest.mark.parametrize(
    ("steps", "what"), [(ONE_EACH, ['2 of "foam" are cut, and the steps lay 1']), (ONE_EACH + SECOND, [])]
)
def test_a_copy_that_no_step_lays_is_asked_about(resolve_text: Resolve, steps: str, what: list[str]) -> None:
    build = resolve_text(PANELS + steps + SEWN)
    assert [one.what for one in ask_maker(read_spec("a.toml"), [build]) if "foam" in one.what] == what
