"""What is set through a lining: one post through both, and none where the lining ends short of it."""

import pytest
from short_specs import piece, seam, step
from spec_text import HEAD, Resolve, write_out

from docgen.assemble import Fastened

BODY = (
    "<leather pig: 0.8 mm>\n"
    + piece("back", 200, 300, 'folds = [{ at = "160 mm from bottom", open = true, angle = 90 }]\n' + "HOLES")
    + piece("front", 200, 150, 'holes = [{ at = "centre, 60 mm from bottom", punch = "4 mm", takes = "STUD" }]\n')
    + "LINING"
    + seam("round", "front: left bottom right", "back: left bottom right from bottom 150 mm to bottom 150 mm")
)
CAP = 'holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "cap", through = ["lining"] }]\n'
LINES = 'lines = ["back"]\nholes = [{ at = "centre, 20 mm from top", punch = "4 mm" }]\n'
SHORT = piece("lining", 200, 150, 'lines = ["back"]\n', of="pig") + seam(
    "lining", "back: left bottom right from bottom 150 mm to bottom 150 mm", "lining: left bottom right"
)
HALVES = '<hardware cap: 1, snap, cap and socket>\nposts = ["4 mm", "5 mm"]\n' + (
    '<hardware stud: 1, snap, stud and post>\nposts = ["4 mm", "5 mm"]\n'
)
WHOLE = '<hardware cap: 1, line 20 snap>\nposts = ["4 mm", "5 mm"]\n'


@pytest.fixture
def head() -> str:
    return HEAD


def caps(resolve_text: Resolve, holes: str, lining: str, hardware: str, stud: str) -> list[Fastened]:
    text = write_out(BODY.replace("LINING", lining).replace("HOLES", holes).replace("STUD", stud) + hardware)
    seams = "round lining" if "[seams.lining]" in text else "round"
    text += step("Line the back with glue.", pieces="back lining") + step("Sew.", seams=seams)
    build = resolve_text(text + step("Set.", hardware=" ".join({"cap", stud})))
    return [one for one in build.assembly.fastened if one.hardware == "cap"]


@pytest.mark.parametrize(("hardware", "stud"), [(HALVES, "stud"), (WHOLE, "cap")])
def test_a_hole_through_a_lining_is_one_post_and_no_other_half(resolve_text: Resolve, hardware: str, stud: str) -> None:
    """2 mm of leather and 0.8 mm of lining: 2.8 mm; the lining takes no half of its own."""
    lining = piece("lining", 200, 300, LINES, of="pig")
    found = caps(resolve_text, CAP, lining, hardware, stud)
    assert {one.part for one in found} == ({"back", "front"} if stud == "cap" else {"back"})
    own = next(one for one in found if one.part == "back")
    assert [layer.part for layer in own.stack.layers] == ["back", "lining"]
    assert own.stack.thickest_mm == pytest.approx(2.8)


def test_a_lining_that_ends_short_of_a_hole_lies_not_under_it(resolve_text: Resolve) -> None:
    """It is sewn along the lower 150 mm of the back, and the cap is 280 mm up."""
    holes = CAP.replace(', through = ["lining"]', "")
    found = [
        caps(resolve_text, holes.replace("20 mm from top", at), SHORT, HALVES, "stud")
        for at in ("20 mm from top", "200 mm from top")
    ]
    assert [[layer.part for layer in one[0].stack.layers] for one in found] == [["back"], ["back", "lining"]]
