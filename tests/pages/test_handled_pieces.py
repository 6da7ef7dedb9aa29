"""What a picture shows of a piece that a step handles and does not join: as it is by then, with what lies on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from on_paper import make_setup
from shapely.geometry import Polygon
from short_specs import step

from docgen.assemble import Assembled, Copy, TakenApart, list_made_up
from docgen.geometry.path import flatten
from docgen.pages.marks.page import ClipMark, Mark, PathMark
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Figure
from docgen.pages.work.build_step import step_drawer
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]


BOX = """
<leather skin: 0.8 mm>
<back>
<front>
landings = [{ piece = "label", at = "centre, 40 mm from bottom" }]
<rectangle label: ["60 mm", "30 mm"]>
<strip gusset: ["50 mm", "solve"]>
<seam label: ["label: all", "front"]>
<seam front: ["front: left bottom right", "gusset: left"]>
<seam back: ["back: left bottom right", "gusset: right"]>
"""
LABEL = step("Sew the label on.", seams="label")
SEWN = step("Sew the front.", seams="front") + step("Sew the back.", seams="back")


def _draw(build: Assembled, number: int) -> tuple[Figure, ...]:
    plan, style = plan_work(build), make_setup().style
    return step_drawer(plan.steps[number - 1], plan, style, Pictures(build))(60.0)


def _closed_areas_mm2(marks: tuple[Mark, ...]) -> Iterator[float]:
    for mark in marks:
        if isinstance(mark, ClipMark):
            yield from _closed_areas_mm2(mark.marks)
        elif isinstance(mark, PathMark) and mark.path.closed:
            yield Polygon(flatten(mark.path)).area


@pytest.mark.parametrize(("before", "labels"), [(LABEL, 1), ("", 0)])
def test_a_flat_piece_has_on_its_face_what_was_laid_there_before(
    resolve_text: Resolve, before: str, labels: int
) -> None:
    """By hand: of a front of 200 x 150 mm the label, 60 x 30 mm, is 6 in 100."""
    build = resolve_text(BOX + before + step("Burnish it.", pieces="front") + ("" if before else LABEL) + SEWN)
    (figure,) = _draw(build, 2 if before else 1)
    whole, *inner = sorted(_closed_areas_mm2(figure.marks), reverse=True)
    assert [round(area / whole, 3) for area in inner if area / whole > 0.03] == [0.06] * labels


def test_a_piece_that_is_sewn_in_by_then_is_drawn_as_it_stands(resolve_text: Resolve) -> None:
    build = resolve_text(BOX + LABEL + step("Burnish.", pieces="front") + SEWN + step("Burnish.", pieces="back front"))
    assert list_made_up(build, 1) == ()  # a label alone lies on it
    assert list_made_up(build, 4) == ("back", "front")
    (found,) = TakenApart(build).made_up(4)
    assert found.heap.copies == {Copy(name) for name in ("back", "front", "label", "gusset")}
    assert found.heap.new == {Copy("back"), Copy("front")}
    assert not found.heap.moved
    (figure,) = _draw(build, 5)
    assert "cut" not in figure.kinds
    assert [*TakenApart(build).tell_withheld()] == []


TURNED = BOX.replace('"gusset: left"]>', '"gusset: left"]>\nturned = true').replace(
    '"gusset: right"]>', '"gusset: right"]>\nturned = true'
)


@pytest.mark.parametrize(
    ("piece", "withheld"), [("back", ["what step 4 handles: back is sewn inside out, and turned by then"]), ("", [])]
)
def test_what_was_turned_since_is_not_drawn_and_told(resolve_text: Resolve, piece: str, withheld: list[str]) -> None:
    build = resolve_text(
        TURNED + LABEL + SEWN + step("Press it.", **({"pieces": piece} if piece else {"tools": "iron"}))
    )
    assert [*TakenApart(build).tell_withheld()] == withheld
    assert _draw(build, 4) == ()
