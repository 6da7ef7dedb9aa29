"""A zip, webbing or elastic among the strips of a join: lengths by hand, what is cut, errors, export and pages."""

import math
from pathlib import Path

import pytest
from pypdf import PdfReader
from spec_text import Resolve, Tell, write_out
from step_lines import every_line

from docgen import build_documents
from docgen.calls.asked import ExportCall
from docgen.calls.export import export_pieces
from docgen.geometry.outline import outline_box
from docgen.plan import plan_work
from docgen.versions.compared.differences import list_changes

TUBE = write_out("""\
<zip: coil zip, 32 mm, 0.6 mm>
weight = "20 g per m"
[pieces.end]
of = "body"
cut = 2
shape = "circle"
diameter = "160 mm"
<strip wall: ["240 mm", "solve"]>
[joins.tube]
of = ["wall", "zip"]
overlap = "10 mm"
stitch = "main"
ring = true
[seams.left]
stitch = "main"
meet = ["end 1: edge", "tube: left"]
[seams.right]
stitch = "main"
meet = ["end 2: edge", "tube: right"]
""")
ROUND_MM = math.pi * (160 - 2 * 4)  # 4 mm in from the edge of the round ends


def test_a_zip_counts_with_its_width_in_the_way_round(resolve_text: Resolve) -> None:
    """Wall and zip lie over each other twice by 10 mm: the wall is once round, less 32 mm, and 20 mm longer."""
    build = resolve_text(TUBE)
    wall = next(piece for piece in build.cut if piece.name == "wall")
    assert outline_box(wall.outline).height == pytest.approx(ROUND_MM - 32 + 20)
    assert build.joins[0].length_mm == pytest.approx(ROUND_MM)
    assert [piece.name for piece in build.cut] == ["end", "wall"], "it has no template"
    (cut,) = build.trimmings[0].cuts
    # Stops 5 mm in from the stitch lines of the ends, which lie 4 mm in, 25 mm of tape over at each end: common
    # practice, no published source.
    assert (cut.run_mm, cut.between_mm, cut.length_mm, cut.count) == (240, 222, 290, 1)
    assert build.cautions == ()


def test_layers_of_the_joint_are_the_strip_and_one_tape(resolve_text: Resolve) -> None:
    build = resolve_text(TUBE)
    (joint,) = [run for run in build.assembly.runs if run.part == "tube"]
    # Rows of 240 mm less 4 mm at both ends, at both tapes; leather 2 mm, tape 0.6 mm.
    assert (joint.runs, joint.length_mm, joint.stack.usual_mm) == (2, pytest.approx(232), pytest.approx(2.6))
    seam = next(seam for seam in build.seams if seam.name == "left")
    # End 2; over the bare zip 0.6, over the wall 2, over their lap both.
    assert (seam.thinnest_mm, seam.stack_mm, seam.thickest_mm) == pytest.approx((2.6, 4, 4.6))


def test_two_zips_are_cut_where_two_stand_in_it_and_for_each_copy(resolve_text: Resolve) -> None:
    two = TUBE.replace('["wall", "zip"]', '["wall", "zip", "wall", "zip"]').replace(
        '"240 mm", "solve"]', '"240 mm", "solve"]\ncut = 2'
    )
    build = resolve_text(two)
    wall = next(piece for piece in build.cut if piece.name == "wall")
    assert outline_box(wall.outline).height == pytest.approx(ROUND_MM / 2 - 32 + 20)
    assert build.trimmings[0].cuts[0].count == 2


def test_lists_weigh_and_buy_it_by_its_length_alone(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(TUBE))
    assert [item.material.name for item in plan.materials] == ["body"]
    assert {weight.name: weight.grams for weight in plan.build.weights}["zip"] == pytest.approx(0.29 * 20)
    assert len(plan.build.weights) == 2, "leather and zip"
    assert [(item.count, item.net_mm) for item in plan.trimmings] == [(1, 290)]
    assert {item.what for item in plan.build.trimmings} == {"coil zip"}


def test_steps_lay_the_strip_over_both_sides_of_it(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(TUBE))
    lines = every_line(plan)
    assert any(
        "end of wall over one side of coil zip, start of wall over the other side of coil zip" in it for it in lines
    )
    cut = [line for line in lines if line.startswith("coil zip: 1 of 290 mm")]
    assert len(cut) == 1
    assert "for tube" in cut[0]


def test_pages_and_export_have_no_template_of_it(resolve_text: Resolve, tmp_path: Path) -> None:
    resolve_text(TUBE)
    outcome = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01")
    text = {path.stem: "".join(page.extract_text() for page in PdfReader(path).pages) for path in outcome.paths}
    assert "coil zip" not in text["pattern"]
    assert "coil zip" in text["cutting-list"]
    assert "over one side of coil zip" in " ".join(text["build-sheet"].split())
    export_pieces(ExportCall(spec=Path("a.toml"), to="svg", out=tmp_path / "cut"))
    assert sorted(path.stem for path in (tmp_path / "cut").rglob("*.svg")) == ["bag-v1-end", "bag-v1-wall"]


def test_a_comparison_tells_it_as_goods_and_not_as_a_piece(resolve_text: Resolve) -> None:
    before, after = resolve_text(TUBE), resolve_text(TUBE.replace('"32 mm"', '"36 mm"'))
    told = {(change.part, change.name) for change in list_changes(before, after)}
    assert ("trimming", "zip") in told
    assert ("piece", "wall") in told
    assert not told & {("piece", "zip"), ("material", "coil zip by length")}


@pytest.mark.parametrize(
    ("edits", "what", "mend"),
    [
        (
            [('kind = "zip"', 'kind = "cord"')],
            '"zip" is no tape, and cannot be a strip of the join "tube"',
            "name a zip, webbing, elastic or binding, or name it in a seam",
        ),
        (
            [('width = "32 mm"\n', "")],
            '"zip" lies across the join "tube", and its width is not said',
            'add width = "32 mm", of a zip across both tapes, closed',
        ),
        (
            [('["wall", "zip"]', '["zip", "zip"]'), ("solve", "400 mm")],
            'the join "tube" has nothing that "zip" is sewn to',
            "name the strips on both sides of it, in order",
        ),
        (
            [('["wall", "zip"]', '["wall", "zipp"]')],
            'of = "zipp", but there is no [pieces.zipp] or [trimmings.zipp]',
            'did you mean "zip"?',
        ),
    ],
)
def test_what_cannot_lie_in_a_join_is_told_once(
    messages: Tell, edits: list[tuple[str, str]], what: str, mend: str
) -> None:
    text = TUBE
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    told = messages(text)
    assert told.count("error:") == 1, told
    assert what in told
    assert mend in told


def test_a_variant_may_leave_out_what_has_a_zip_in_it(resolve_text: Resolve, messages: Tell) -> None:
    told = messages(TUBE + '[variants.bare]\nwithout = ["zip"]\n')
    assert 'the variant "bare" leaves out "zip", and "tube" is joined of it' in told
