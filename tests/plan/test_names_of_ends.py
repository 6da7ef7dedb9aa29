"""What edges and ends are called in the steps: as the template has them, by one pair of names in each piece."""

from pathlib import Path

import pytest
from demos import PATHS, demo_build, demo_plan
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import every_line

from docgen.checks import resolve_build
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.marks.page import TextMark
from docgen.pages.pattern.piece_template import make_template
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import by_name

STYLE = load_pattern_style()
CASE = (
    piece("body", 100, 170, 'folds = [{ at = "75 mm from bottom", open = true, angle = 180 }]\nlandings = [LANDINGS]\n')
    + '[pieces.welt]\nof = "body"\ncut = 2\nshape = "strip"\nsize = ["10 mm", "69 mm"]\n'
)
SIDES = ("left", "right")
LANDINGS = ", ".join(f'{{ piece = "welt", at = "0 from {side}, 0 from bottom", inside = true }}' for side in SIDES)


def test_a_strip_has_a_start_and_an_end_and_no_top() -> None:
    told = every_line(demo_plan("tote"))
    assert any(line.endswith("3 1/2 in from left and right, 1 3/4 in from the start.") for line in told)
    assert any("from left at the start to right at the start of Body" in line for line in told)


@pytest.mark.parametrize("edges", [("right", "left"), ("left", "right")])
def test_a_lining_is_told_by_the_edge_that_lies_there(tmp_path: Path, edges: tuple[str, str]) -> None:
    """Right side in sight on the flesh side, its right edge lies on the left one of its host, as whatever it is named."""
    text = PATHS["field-bag"].read_text(encoding="utf-8")
    for host, own, edge in (("left", "right", edges[0]), ("right", "left", edges[1])):
        old = f'["gusset: {host}", "gusset-lining: {own}"]'
        assert old in text
        text = text.replace(old, f'["gusset: {host}", "gusset-lining: {edge}"]')
    path = tmp_path / "a.toml"
    path.write_text(text, encoding="utf-8")
    told = [
        line
        for line in every_line(plan_work(resolve_build(read_spec(path))))
        if line.endswith("edge of Gusset lining.")
    ]
    assert ["right" in line for line in told] == [True, False]


@pytest.mark.parametrize(
    ("own", "told"),
    [
        (
            ("left", "right"),
            "Lay 2 × welt on the flesh side of body, grain side up: left edges level, its end edge level",
        ),
        (
            ("right", "left"),
            "Lay 2 × welt on the flesh side of body, grain side up, upright: its right edge level with",
        ),
    ],
)
def test_a_strip_alike_turned_round_lies_as_its_seams_name_it(
    resolve_text: Resolve, own: tuple[str, str], told: str
) -> None:
    text = write_out(CASE.replace("LANDINGS", LANDINGS))
    for number, (side, edge) in enumerate(zip(SIDES, own, strict=True), start=1):
        ends = (
            f"body: {side} from bottom {low} to bottom {high}" for low, high in (("0", "69 mm"), ("81 mm", "150 mm"))
        )
        text += seam(side, next(ends), f"welt {number}: {edge}", next(ends))
    text += step("Bend the body and sew both sides.", seams="left right")
    found = every_line(plan_work(resolve_text(text)))
    assert any(line.startswith(told) for line in found)


def test_a_piece_turned_over_is_told_by_the_sides_of_its_own_template(resolve_text: Resolve) -> None:
    points = '{ at = ["0", "0"], edge = "bottom" }, { at = ["200 mm", "0"], edge = "right" }, '
    points += '{ at = ["200 mm", "150 mm"], edge = "top" }, { at = ["0", "150 mm"], edge = "left-high" }, '
    points += '{ at = ["0", "100 mm"], edge = "left" }'
    text = f'[pieces.front]\nof = "body"\nshape = "outline"\npoints = [{points}]\n'
    text += '[pieces.back]\nlike = "front"\nmirror = true\n'
    text += seam("s", "front: left", "back: left") + step("Sew.", seams="s")
    found = every_line(plan_work(resolve_text(write_out(text))))
    assert any(line.startswith("Lay the left edge of front on the right edge of back, flesh sides") for line in found)


@pytest.mark.parametrize(
    ("name", "part", "names"),
    [
        ("field-bag", "gusset-side", {"start", "end"}),
        ("field-bag", "closing", {"first end", "second end"}),
        ("field-bag", "back", set()),
    ],
)
def test_the_template_names_both_ends(name: str, part: str, names: set[str]) -> None:
    build = demo_build(name)
    template = make_template(build, by_name(build.cut)[part], STYLE, (900.0, 900.0))
    found = {mark.text for mark in template.marks if isinstance(mark, TextMark)}
    assert found & {"start", "end", "first end", "second end"} == names
