"""Dividing lines of a pocket that run over what has landed on it: figures by hand. That the part above is pricked on the
same holes is common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Assembled, pile_run
from docgen.plan import plan_work
from docgen.resolve import StitchLine

HAND = '[stitches.hand]\nby = "hand"\nthread = "Tex 210 waxed polyester"\npitch = "4 mm"\ninset = "4 mm"\n'
LINES = ", ".join(f'{{ at = "{mm} mm from left", stitch = "hand", on = "body" }}' for mm in (60, 140))
LOW = 'landings = [{ piece = "low", at = "LEFT from left, 0 mm from bottom" }]\n'
ROWS = (
    HAND
    + piece("body", 200, 200, 'landings = [{ piece = "tall", at = "centre, 0 mm from bottom", inside = true }]\n')
    + piece("tall", 200, 150, f"dividers = [{LINES}]\n{LOW}", of="thin")
    + seam("low", "low: left bottom right", "tall")
    + seam("foot", "tall: bottom", "body: bottom")
    + step("Sew the foot.", seams="foot")
)
SEWN, LINED = step("Sew the low row on.", seams="low"), step("Sew the lines.", pieces="tall")


def rows(*, wide: float = 200, high: float = 80, left: str = "0 mm", first: bool = False) -> str:
    """A tall row on a body; a low one is sewn on the tall one before the lines of that or after."""
    steps = (LINED, SEWN) if first else (SEWN, LINED)
    return ROWS.replace("LEFT", left) + piece("low", wide, high, of="thin") + "".join(steps)


def divided(build: Assembled) -> tuple[float, float, float]:
    (stack,) = (run.stack for run in build.assembly.runs if run.kind == "dividers")
    return stack.usual_mm, stack.thinnest_mm, stack.thickest_mm


def crossing(build: Assembled, name: str = "low") -> list[StitchLine]:
    (own,) = (one for one in build.pieces if one.name == name)
    return [line for line in own.marks.stitch_lines if line.seam == "tall dividers"]


def test_a_line_goes_through_what_has_landed_where_that_lies(resolve_text: Resolve) -> None:
    """Of 146 mm, from the row at the foot to the top, 76 run over the low row: 1 and 1 and 2 mm there, else 1 and 2."""
    build = resolve_text(rows())
    assert divided(build) == pytest.approx((4, 3, 4))
    (run,) = (one for one in build.assembly.runs if one.kind == "dividers")
    pile = pile_run(build, run)
    assert pile is not None
    assert [(ply.part, ply.is_partial) for ply in pile] == [("low", True), ("tall", False), ("body", False)]
    assert any("through low and body." in line for line in lines(plan_work(build), 3))


def test_what_lands_later_or_beside_a_line_is_not_counted(resolve_text: Resolve) -> None:
    """Sewn first, the lines go through no low row; nor do they where it ends 1 mm beside the first, or reaches the second
    alone, which is told by the one that goes through more."""
    assert divided(resolve_text(rows(first=True))) == pytest.approx((3, 3, 3))
    assert not crossing(resolve_text(rows(first=True)))
    assert divided(resolve_text(rows(wide=59))) == pytest.approx((3, 3, 3))
    beside, over = (resolve_text(rows(wide=wide, left=f"{200 - wide} mm")) for wide in (59, 61))
    assert divided(beside) == pytest.approx((3, 3, 3))
    assert divided(over) == pytest.approx((4, 3, 4))
    assert (len(crossing(beside)), len(crossing(over))) == (0, 1)


def test_the_part_above_bears_the_line_with_the_same_holes(resolve_text: Resolve) -> None:
    """From 4 mm up to its top at 80 mm, with the holes that the tall row has there."""
    build = resolve_text(rows())
    lines_of = {name: crossing(build, name) for name in ("low", "tall")}
    assert [len(found) for found in lines_of.values()] == [2, 2]
    for low, tall in zip(lines_of["low"], lines_of["tall"], strict=True):
        (leg,), (whole,) = low.path.segments, tall.path.segments
        assert (leg.start, leg.end) == (pytest.approx(whole.start), pytest.approx((whole.start[0], 80)))
        wanted = [at for at in tall.holes_mm if at < 76 - 0.6]
        assert [*low.holes_mm] == pytest.approx(wanted)
        assert low.by == "hand"
