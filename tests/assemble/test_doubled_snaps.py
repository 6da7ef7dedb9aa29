"""Snaps in a piece and one of its shape that is sewn to it all round, as leather that lines a tray: each post goes through
both. By hand; that a snap has two halves, each with a hole of its own, is plain from the work."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

HOLES = ", ".join(
    f'{{ at = "{across} mm from {side}, {up} mm from top", punch = "4 mm", takes = "snap", through = ["lining"] }}'
    for side in ("left", "right")
    for across, up in ((10, 32), (32, 10))
)
SNAP = '[hardware.snap]\nwhat = "line snap, 10 mm cap"\ncount = 2\nfinish = "solid brass"\nposts = ["6 mm"]\n'


@pytest.mark.parametrize(("edges", "stacks"), [("all", 2), ("left bottom right", 1)])
def test_a_snap_goes_through_what_is_sewn_on_all_round(resolve_text: Resolve, edges: str, stacks: int) -> None:
    """Sewn by three sides alone the other piece may come away from it at its top, and have the other halves."""
    text = (
        piece("tray", 200, 200, f"holes = [{HOLES}]\n")
        + '[pieces.lining]\nof = "body"\nlike = "tray"\n'
        + seam("round", f"tray: {edges}", f"lining: {edges}")
        + SNAP
        + step("Sew round.", seams="round")
        + step("Set the snaps.", hardware="snap")
    )
    build = resolve_text(text)
    set_ = build.assembly.fastened
    assert {len(one.stack.parts) for one in set_} == {stacks}
    assert sum(one.count for one in set_ if one.half == "cap") == 4 // stacks
    assert sum(one.count for one in set_ if one.half == "stud") == 4 // stacks
    assert [one.check for one in build.cautions if one.check == "hardware-count"] == ["hardware-count"] * (2 - stacks)
