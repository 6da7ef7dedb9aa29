"""Two welts between two panels, along a side each: they lie beside each other, and both are drawn between the panels."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart, UnsureError


def _sheath(*sides: str) -> str:
    """Two panels, each of the sides sewn through a welt of its own."""
    names = [f"welt-{k}" for k in range(len(sides))]
    return (
        piece("front", 80, 200)
        + piece("back", 80, 200)
        + "".join(piece(name, 12, 200) for name in names)
        + "".join(
            seam(f"side-{name}", f"front: {side}", f"{name}: left", f"back: {'right' if side == 'left' else 'left'}")
            for name, side in zip(names, sides, strict=True)
        )
        + step("Sew.", seams=" ".join(f"side-{name}" for name in names))
    )


def test_welts_along_two_sides_are_drawn_between_the_panels(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(_sheath("left", "right")))
    (heap,) = apart.heaps(0)[1]
    assert heap.copies == {Copy("front"), Copy("back"), Copy("welt-0"), Copy("welt-1")}
    assert [*apart.tell_withheld()] == []


def test_welts_that_lie_on_each_other_are_not(resolve_text: Resolve) -> None:
    text = _sheath("left").replace('"welt-0: left",', '"welt-0: left", "more: left",') + piece("more", 12, 200)
    with pytest.raises(UnsureError, match="several welts"):
        TakenApart(resolve_text(text)).heaps(0)
