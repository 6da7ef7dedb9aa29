"""A rivet through what lands on a lining, that lining and what it lines: each layer is there once. Sums by hand."""

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

TAB = piece("tab", 20, 30, hole("centre, 10 mm from bottom", more=', through = ["inner", "outer"]'))


@pytest.mark.parametrize("lines", ['lines = ["outer"]\n', ""])
def test_a_lining_with_a_tab_on_it_is_counted_once(resolve_text: Resolve, lines: str) -> None:
    """Body leather of 2 mm, the lining 1 mm: 2 + 1 + 2 = 5 mm, whether or not the lining is said to be one."""
    inner = '[pieces.inner]\nlike = "outer"\nof = "thin"\nmarks = false\n' + lines
    inner += 'landings = [{ piece = "tab", at = "centre, 20 mm from bottom" }]\n'
    inner += 'holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]\n'
    outer = piece("outer", 120, 80, 'holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]\n')
    text = outer + inner + TAB + rivet(1) + seam("round", "outer: all", "inner: all")
    build = resolve_text(text + step("Sew.", seams="round") + step("Rivet.", pieces="tab inner", hardware="rivet"))
    (fit,) = build.assembly.fastened
    assert sorted(layer.part for layer in fit.stack.layers) == ["inner", "outer", "tab"]
    assert fit.stack.usual_mm == pytest.approx(5)
