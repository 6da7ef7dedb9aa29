"""How a zip lies on an edge is told before anything is laid over it, and what is sewn on already is not taken off. By
hand."""

from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

POUCH = """\
<back>
<front>
[pieces.lining]
like = "front"
<zip: coil zip, 30 mm, 1 mm>
[seams.near]
stitch = "main"
%smeet = ["front: top", "zip: left", "lining: top"]
[seams.far]
stitch = "main"
meet = [%s]
<seam round: ["front: left bottom right", "back: left bottom right"]>
<step "Sew the zip in.": seams = ["near", "far"]>
"""


def told(resolve_text: Resolve, turned: str, far: str) -> list[str]:
    return [line for line in lines(plan_work(resolve_text(POUCH % (turned, far))), 1) if line.startswith("Lay")]


def test_a_zip_that_is_sewn_face_to_face_lies_with_its_face_on_the_outer_side(resolve_text: Resolve) -> None:
    (first, *_) = told(resolve_text, "turned = true\n", '"back: top", "zip: right"')
    assert first == (
        "Lay coil zip on front first, its face on the grain side: the edge of its left tape level with the top edge."
    )


def test_a_zip_beneath_an_edge_looks_out_and_one_on_it_lies_on_it(resolve_text: Resolve) -> None:
    found = told(resolve_text, "", '"zip: right", "back: top"')
    assert found[0].startswith("Lay coil zip under front first, its face up: the left tape beneath the top edge")
    assert "Lay coil zip on back, its face up: the right tape along the top edge, the teeth beyond." in found


def test_how_much_of_its_tape_lies_under_the_edge_is_told_where_it_is_written(resolve_text: Resolve) -> None:
    found = told(resolve_text, 'lap = "8 mm"\n', '"zip: right", "back: top"')
    assert found[0].startswith("Lay coil zip under front first, its face up: 8 mm of the left tape beneath the top")
    on_it = told(resolve_text, "", '"zip: right", "back: top"]\nlap = "9 mm"\n#')
    assert "Lay coil zip on back, its face up: 9 mm of the right tape on the top edge, the teeth beyond." in on_it


POCKET = """\
<rectangle base: ["200 mm", "150 mm"]>
landings = [{ piece = "pocket", at = "centre, middle" }]
<rectangle pocket: ["90 mm", "80 mm"]>
<seam foot: ["pocket: bottom", "base"]>
<seam side: ["pocket: left", "base"]>
[[steps]]
do = "Glue the pocket on and sew it."
seams = [%s]
pieces = ["pocket"]
tools = ["contact cement"]
"""


def test_a_pocket_is_marked_and_taken_off_before_its_first_row_alone(resolve_text: Resolve) -> None:
    found = lines(plan_work(resolve_text(POCKET % '"foot", "side"')), 1)
    assert sum(line.startswith("Mark round it") for line in found) == 1
    again = next((k for k, line in enumerate(found) if "the left edge" in line and "Put" in line), 0)
    assert "beneath it" in found[again]
    assert "press pocket down there" in found[again + 1]


def test_a_pocket_that_a_seam_of_the_step_glues_is_not_glued_all_over(resolve_text: Resolve) -> None:
    """Its mouth stays open."""
    found = lines(plan_work(resolve_text(POCKET % '"foot", "side"')), 1)
    assert not any("all over" in line for line in found)
