"""What the build sheet says of rows and lines is what the pattern shows, by the figures of both."""

import pytest
from demos import demo_build
from short_specs import piece, seam
from spec_text import Resolve

from docgen.geometry.outline import outline_box
from docgen.geometry.path import end_point, start_point
from docgen.plan.sewing import list_jobs
from docgen.resolve import by_name

IN_MM = 25.4


def test_rows_across_a_joint_share_the_overlap_on_the_sheet_as_on_the_pattern() -> None:
    """1/2 in of overlap and two rows: 12.7 / 3 = 4.23 mm from the end of the strip to the first, and on to the second."""
    build = demo_build("field-bag")
    (job,) = (job for (kind, _), job in list_jobs(build) if kind == "joins")
    assert (job.rows, job.inset_mm, job.row_gap_mm) == (2, pytest.approx(IN_MM / 6), pytest.approx(IN_MM / 6))
    strip = by_name(build.pieces)["gusset-side"]
    foot = outline_box(strip.outline).bottom
    rows = sorted(start_point(line.path).y - foot for line in strip.marks.stitch_lines if line.seam == "gusset")
    assert rows == pytest.approx([job.inset_mm, job.inset_mm + job.row_gap_mm])


@pytest.mark.parametrize(
    ("edges", "ends", "stitches"),
    [
        ("left bottom right", (4, 80), 19),  # 80 - 4 = 76 mm in stitches of 4 mm
        ("all", (4, 76), 18),  # 80 - 2 * 4
        ("left right", (0, 80), 20),  # no seam above or below
    ],
)
def test_a_dividing_line_runs_from_seam_to_seam_and_to_an_edge_that_is_not_sewn(
    resolve_text: Resolve, edges: str, ends: tuple[float, float], stitches: int
) -> None:
    lines = 'dividers = [{ at = "64 mm from left", stitch = "main", on = "body" }]\n'
    bag = piece("pocket", 256, 80, lines, of="thin") + piece("body", 256, 180)
    runs = (f"pocket: {edge}" for edge in (["left", "right"] if edges == "left right" else [edges]))
    sewn = "".join(seam(f"s{k}", run, "body") for k, run in enumerate(runs))
    build = resolve_text(bag + sewn)
    (line,) = (line for line in build.pieces[0].marks.stitch_lines if line.seam == "pocket dividers")
    assert (start_point(line.path).y, end_point(line.path).y) == pytest.approx(ends)
    (job,) = (job for _, job in list_jobs(build) if job.is_across)
    assert (job.length_mm, job.stitches) == (pytest.approx(ends[1] - ends[0]), stitches)
    assert len(line.holes_mm) == stitches + 1
