"""The tapes of a zip under the seam that closes a pouch: one on each half, however many layers that has. Worked out by
hand: leather of 2 mm, a tape of 0.6 mm."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Sewn, pile_seam

ZIP = "<zip: coil zip, 30 mm, 0.6 mm>\n"
TAB = piece("tab", 30, 20)
ON_FACE = 'landings = [{ piece = "tab", at = "30 mm from top, 0 mm from right" }]\n'
PANELS = ZIP + piece("front", 200, 150) + piece("back", 200, 150)
LININGS = "".join(piece(f"{name}-lining", 200, 150, f'lines = ["{name}"]\n') for name in ("front", "back"))
LAP = 'lap = "12 mm"\n'
STEPS = step("Sew the zip.", seams="a b") + step("Close it.", seams="round")


def zips(*, is_lined: bool, more: str = "") -> str:
    a, b = (
        [f"{name}: top", *([f"{name}-lining: top"] if is_lined else []), f"zip: {tape}"]
        for name, tape in (("front", "left"), ("back", "right"))
    )
    return seam("a", *a, more=more) + seam("b", *b, more=more)


def closing(*parts: str, run: str = "left bottom right") -> str:
    half = len(parts) // 2
    return seam("round", *(f"{part}: {run}" for part in parts[:half]), *(f"{part}: {run}" for part in parts[half:]))


def closed(build: Assembled) -> Sewn:
    return next(once for once in build.assembly.sewn if once.seam == "round")


def tapes(once: Sewn) -> int:
    return [layer.part for layer in once.stack.layers].count("zip")


LINED = PANELS + LININGS + closing("front", "front-lining", "back-lining", "back") + STEPS


@pytest.mark.parametrize("lap", ["", LAP])
def test_a_tape_beneath_a_panel_and_its_lining_is_one_layer(resolve_text: Resolve, lap: str) -> None:
    once = closed(resolve_text(LINED + zips(is_lined=True, more=lap)))
    assert tapes(once) == 2
    assert once.stack.thickest_mm == pytest.approx(4 * 2 + 2 * 0.6)


def test_tapes_lie_between_the_linings_and_a_tab_on_the_face(resolve_text: Resolve) -> None:
    text = LINED.replace(piece("front", 200, 150), piece("front", 200, 150, ON_FACE) + TAB)
    glued = step("Close it.", seams="round", pieces="tab")
    build = resolve_text(text.replace(step("Close it.", seams="round"), glued) + zips(is_lined=True, more=LAP))
    told = {tuple(ply.part for ply in pile) for pile in pile_seam(build, closed(build))}
    lined = ("front", "front-lining", "back-lining", "back")
    assert told == {(*lined[:2], "zip", "zip", *lined[2:]), ("tab", *lined)}


def test_a_lining_is_level_with_the_panel_that_lies_over_the_tape(resolve_text: Resolve) -> None:
    build = resolve_text(LINED + zips(is_lined=True, more=LAP))
    sides = {side.part: side for one in build.seams if one.name == "a" for side in one.sides}
    assert sides["front-lining"].lap_mm == 0


@pytest.mark.parametrize("lap", ["", LAP])
def test_a_panel_without_a_lining_has_its_tape(resolve_text: Resolve, lap: str) -> None:
    once = closed(resolve_text(PANELS + closing("front", "back") + STEPS + zips(is_lined=False, more=lap)))
    assert tapes(once) == 2
    assert once.stack.thickest_mm == pytest.approx(2 * 2 + 2 * 0.6)


@pytest.mark.parametrize(("below_mm", "count"), [(10, 2), (13, 0)])
def test_a_row_that_begins_below_the_tape_does_not_meet_it(resolve_text: Resolve, below_mm: int, count: int) -> None:
    """The tape reaches 12 mm in."""
    run = f"left from top {below_mm} mm to bottom"
    build = resolve_text(PANELS + closing("front", "back", run=run) + STEPS + zips(is_lined=False, more=LAP))
    assert tapes(closed(build)) == count
