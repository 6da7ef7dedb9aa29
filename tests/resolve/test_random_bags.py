"""Made-up bags: a solved gusset meets its panels, whatever their sizes."""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.geometry.outline import outline_box
from docgen.plan import plan_work
from docgen.read import read_spec
from docgen.resolve import Build, StitchLine

HEAD = write_out("""\
<spec bag: Bag, version 1>
makes = {makes}
<leather body: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, {inset} mm>
<rectangle back: ["{width} mm", "{height} mm"]>
round = {{ bottom-left = "{left} mm", bottom-right = "{right} mm" }}
<front>
mirror = true
""")
SINGLE = write_out("""\
<strip gusset: ["{depth} mm", "solve"]>
""")
JOINED = write_out("""\
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["{depth} mm", "{side}"]
<strip base: ["{depth} mm", "{base}"]>
<join gusset: ["side", "base", "side"], {overlap} mm>
""")
SEAMS = write_out("""\
<seam to-back: ["back: left bottom right", "gusset: left"]>
<seam to-front: ["gusset: right", "front: right bottom left"]>
""")


@st.composite
def bags(draw: st.DrawFn) -> str:
    """The text of a bag with a gusset of one open strip, or of three with the base open or the sides open."""
    tenths = st.integers
    width, height = draw(tenths(1500, 5000)) / 10, draw(tenths(1200, 4000)) / 10
    sizes = {
        "width": width,
        "height": height,
        "makes": draw(tenths(1, 9)),
        "inset": draw(tenths(20, 80)) / 10,
        "left": draw(tenths(0, 550)) / 10,
        "right": draw(tenths(0, 550)) / 10,
        "depth": draw(tenths(300, 1200)) / 10,
        "overlap": draw(tenths(0, 250)) / 10,
    }
    gusset, side, base = draw(
        st.sampled_from(
            [(SINGLE, "", ""), (JOINED, f"{height * 0.6:.2f} mm", "solve"), (JOINED, "solve", f"{width * 0.7:.2f} mm")]
        )
    )
    return (HEAD + gusset + SEAMS).format(side=side, base=base, **sizes)


def build_of(text: str) -> Build:
    with TemporaryDirectory() as folder:
        path = Path(folder, "bag.toml")
        path.write_text(text, encoding="utf-8")
        return resolve_build(read_spec(path))


def panel_lines(build: Build, seam: str) -> list[StitchLine]:
    """The stitch lines of a seam on the pieces that are its partners whole, not through a join."""
    joined = {name for join in build.joins for name in join.pieces}
    return [
        line
        for piece in build.pieces
        if piece.name not in joined
        for line in piece.marks.stitch_lines
        if line.seam == seam
    ]


@settings(derandomize=True, max_examples=40, deadline=None)
@given(bags())
def test_a_solved_gusset_meets_both_panels(text: str) -> None:
    build = build_of(text)
    for seam in build.seams:
        for side in seam.sides:
            assert side.length_mm == pytest.approx(seam.length_mm, abs=0.01)
        assert len({side.stitches for side in seam.sides}) == 1
        # Holes are one more than stitches: OQLF, Grand dictionnaire terminologique, "griffe a frapper".
        holes = {len(line.holes_mm) for line in panel_lines(build, seam.name)}
        assert holes == {seam.stitches + 1}
    heights = {piece.name: outline_box(piece.outline).height for piece in build.pieces}
    for join in build.joins:
        strips_mm = sum(heights[name] for name in join.pieces)
        assert join.length_mm + 2 * join.overlap_mm == pytest.approx(strips_mm)
        assert join.length_mm == pytest.approx(build.seams[0].length_mm, abs=0.01)


@settings(derandomize=True, max_examples=20, deadline=None)
@given(bags())
def test_the_cutting_list_adds_up_to_the_pieces(text: str) -> None:
    build = build_of(text)
    (material,) = plan_work(build).materials
    assert sum(item.count for item in material.items) == build.makes * sum(p.cut for p in build.pieces)
    net_mm2 = sum(item.area_mm2 * item.count for item in material.items)
    assert material.net_mm2 == pytest.approx(net_mm2)
    assert material.gross_mm2 * 0.75 == pytest.approx(net_mm2)
