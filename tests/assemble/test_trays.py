"""Trays folded up of one piece, and small articles made several times: what is told, drawn and measured. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space.placed import FOLDS_TWO_WAYS
from docgen.plan import plan_work

# A floor of 120 by 80 with walls of 30.
CORNERS = (("fr", "rf"), ("rb", "br"), ("bl", "lb"), ("lf", "fl"))


def tray() -> str:
    corners = [
        (30, 0, "front"),
        (150, 0, "fr"),
        (150, 30, "rf"),
        (180, 30, "right"),
        (180, 110, "rb"),
        (150, 110, "br"),
    ]
    corners += [(150, 140, "back"), (30, 140, "bl"), (30, 110, "lb"), (0, 110, "left"), (0, 30, "lf"), (30, 30, "fl")]
    points = ", ".join(f'{{ at = ["{x} mm", "{y} mm"], edge = "{edge}" }}' for x, y, edge in corners)
    folds = ", ".join(
        f'{{ at = "{at}", open = true, angle = 90 }}'
        for at in ("30 mm from bottom", "110 mm from bottom", "30 mm from left", "30 mm from right")
    )
    return f'[pieces.tray]\nof = "body"\nshape = "outline"\npoints = [{points}]\nfolds = [{folds}]\n'


def made(resolve_text: Resolve, count: int = 4) -> Assembled:
    """With so many of its corners sewn."""
    corners = "".join(seam(f"corner-{one}", f"tray: {one}", f"tray: {other}") for one, other in CORNERS[:count])
    names = " ".join(f"corner-{one}" for one, _ in CORNERS[:count])
    build = resolve_text(
        tray()
        + piece("mat", 60, 60, "cut = 4\n")
        + piece("felt", 60, 60, "cut = 4\n", "cloth")
        + corners
        + seam("round", "mat: left bottom right", "felt: left bottom right")
        + step("Sew the mats.", seams="round")
        + step("Sew the corners.", seams=names)
    )
    assert isinstance(build, Assembled)
    return build


def test_a_tray_that_is_not_placed_is_told_with_its_own_reason(resolve_text: Resolve) -> None:
    """It is drawn by itself in the finished article alone."""
    apart = TakenApart(made(resolve_text))
    assert {copy.part: why for copy, why in apart.withheld.items()} == {"tray": FOLDS_TWO_WAYS}
    assert not [line for line in apart.tell_withheld() if line.startswith('"tray"')]


def test_of_several_small_articles_one_stands_for_all(resolve_text: Resolve) -> None:
    """Four mats, each with its felt: the first is drawn, and nothing is told of the others."""
    apart = TakenApart(made(resolve_text))
    assert not any('"mat"' in line or "step 1" in line for line in apart.tell_withheld())
    bodies, heaps = apart.heaps(0)
    assert [heap.copies for heap in heaps] == [{Copy("mat"), Copy("felt")}]
    assert heaps[0].copies <= bodies.keys()


@pytest.mark.parametrize(("count", "found"), [(4, ["120 mm", "30 mm", "80 mm"]), (3, [])])
def test_its_outside_is_told_once_all_its_corners_are_sewn(resolve_text: Resolve, count: int, found: list[str]) -> None:
    """Width, height, depth."""
    plan = plan_work(made(resolve_text, count))
    dues = [value for one in plan.finished for _, value in one.due if "tray" in str(one.values)]
    assert [due.split(" (")[0] for due in dues] == found
