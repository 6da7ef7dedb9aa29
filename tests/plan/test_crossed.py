"""A row that crosses turned seams says where, and what of them may lie under it, once for rows beside each other."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Assembled, Pile, Ply, Sewn, pile_seam
from docgen.plan import plan_work

ZIP = "<zip: coil zip, 30 mm, 0.6 mm>\n"
HALVES = [("front", "a", "left"), ("back", "b", "right")]
PARTS = "".join(
    piece(half, 200, 150) + piece(f"{half}-lining", 200, 150, f'lines = ["{half}"]\n') for half, *_ in HALVES
)
POUCH = ZIP + PARTS
STEPS = step("Sew the zip.", seams="a b") + step("Close both.", seams="outside inside")


def pouch(run: str = "left bottom right", turned: str = "turned = true\n") -> str:
    text = POUCH + STEPS
    for half, name, tape in HALVES:
        text += seam(name, f"{half}: top", f"zip: {tape}", f"{half}-lining: top", more=turned)
    for name, part in (("outside", ""), ("inside", "-lining")):
        text += seam(name, *(f"{half}{part}: {run}" for half, *_ in HALVES), more="turned = true\n")
    return text


def crossing(resolve_text: Resolve, text: str) -> list[str]:
    return [line for line in lines(plan_work(resolve_text(text)), 2) if "crosses" in line]


def test_two_rows_across_the_same_seams_tell_what_lies_there_once(resolve_text: Resolve) -> None:
    first, again = crossing(resolve_text, pouch())
    assert first == (
        "At both ends the row crosses a; b: lay their allowances open or to either side; what comes under the row "
        "is sewn in "
        "(front; coil zip; "
        "front lining; back; coil zip; back lining)."
    )
    assert again.startswith("At both ends the row crosses the same seams: lay their allowances out of its way")


def test_seams_that_the_row_before_does_not_name_are_named(
    resolve_text: Resolve, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the first row the section is known, so that its layers are told in order, and no seam that it crosses."""

    def pile(build: Assembled, once: Sewn) -> tuple[Pile, ...]:
        layers = once.stack.layers
        plies = (
            Ply(part=one.part, material=one.material, thickness_mm=1.0, grain="", is_leather=True) for one in layers
        )
        return (tuple(plies),) if once.seam == "outside" else pile_seam(build, once)

    monkeypatch.setattr("docgen.plan.acts.layers.pile_seam", pile)
    (told,) = crossing(resolve_text, pouch())
    assert told.startswith("At both ends the row crosses a; b: lay their allowances open")


def test_a_row_from_one_end_says_so(resolve_text: Resolve) -> None:
    (first, *_) = crossing(resolve_text, pouch("left from top 0 mm to bottom"))
    assert first.startswith("At one end the row crosses a; b")


def test_a_row_that_stops_short_of_the_allowances_crosses_nothing(resolve_text: Resolve) -> None:
    """They lie 4 to 8 mm below the edge."""
    assert crossing(resolve_text, pouch("left from top 9 mm to bottom")) == []


def test_a_row_along_the_same_edge_crosses_nothing(resolve_text: Resolve) -> None:
    assert crossing(resolve_text, pouch("bottom")) == []
