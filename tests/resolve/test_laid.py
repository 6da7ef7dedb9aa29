"""Goods by length that are laid flat on a piece: their stitching, the slot of a zip, what is cut, and the pages."""

import math
from pathlib import Path

import pytest
from pypdf import PdfReader
from spec_text import Resolve, Tell, write_out

from docgen import build_documents
from docgen.calls.asked import ExportCall
from docgen.calls.export import export_pieces
from docgen.plan import plan_work
from docgen.resolve import Build
from docgen.tables.defaults import LAID_CLEAR_MM
from docgen.written.units.telling import format_mm

POUCH = write_out("""\
<zip: coil zip, 32 mm, 0.6 mm>
[trimmings.tape]
what = "webbing"
kind = "webbing"
width = "25 mm"
thickness = "1.5 mm"
[pieces.end]
of = "body"
cut = 2
shape = "circle"
diameter = "160 mm"
<strip top: ["80 mm", "240 mm"]>
title = "Zip strip"
laid = [{ goods = "zip", at = "centre", stitch = "main", window = "10 mm", clear = "12 mm" }]
<strip base: ["80 mm", "solve"]>
laid = [{ goods = "tape", at = "30 mm from left", stitch = "main" }]
[joins.ring]
of = ["top", "base"]
overlap = "12 mm"
stitch = "main"
ring = true
[seams.left]
stitch = "main"
meet = ["end 1: edge", "ring: left"]
[seams.right]
stitch = "main"
meet = ["end 2: edge", "ring: right"]
""")
RING_MM = math.pi * (160 - 2 * 4)  # 4 mm in from the edge of the round ends
BASE_MM = RING_MM - 240 + 2 * 12  # two joints of 12 mm


def lines_of(build: Build, name: str) -> list[list[float]]:
    """Across and from the foot to the top, of each line of stitches that is no seam's."""
    piece = next(piece for piece in build.pieces if piece.name == name)
    return [[line.start.x, line.start.y, line.end.y] for line in piece.dividers]


def test_a_ring_of_a_zip_strip_and_a_base_strip(resolve_text: Resolve) -> None:
    build = resolve_text(POUCH)
    # The window is 10 mm wide, the stitches 4 mm beside it; 12 mm stay at each end of a strip 240 mm long.
    assert sorted(lines_of(build, "top")) == [pytest.approx([31, 12, 228]), pytest.approx([49, 12, 228])]
    # 4 mm in from both edges of webbing 25 mm wide whose middle lies 30 mm from the left.
    assert sorted(lines_of(build, "base")) == [
        pytest.approx([21.5, 0, BASE_MM], abs=1e-6),
        pytest.approx([38.5, 0, BASE_MM], abs=1e-6),
    ]
    top = next(piece for piece in build.pieces if piece.name == "top")
    corners = sorted((round(slit.start.x, 6), round(slit.start.y, 6)) for slit in top.marks.slits)
    assert corners == [(35, 12), (35, 228), (45, 12), (45, 228)]
    cuts = {item.name: item.cuts[0] for item in build.trimmings}
    # A zip of 216 mm has 25 mm more at each end, and its stops 5 mm in; common practice, no published source.
    assert (cuts["zip"].run_mm, cuts["zip"].length_mm, cuts["zip"].between_mm) == pytest.approx((216, 266, 206))
    assert (cuts["tape"].run_mm, cuts["tape"].length_mm) == pytest.approx((BASE_MM, BASE_MM + 50))
    runs = {run.part: run for run in build.assembly.runs if run.kind == "dividers"}
    assert (runs["top"].runs, runs["top"].length_mm, runs["top"].stack.usual_mm) == (2, 216, pytest.approx(2.6))
    assert (runs["base"].runs, runs["base"].stack.usual_mm) == (2, pytest.approx(3.5))
    assert build.cautions == ()


def test_a_piece_that_is_cut_twice_has_one_for_each(resolve_text: Resolve) -> None:
    flat = '[pieces.flat]\nof = "body"\ncut = 2\nshape = "rectangle"\nsize = ["150 mm", "100 mm"]\n'
    laid = 'laid = [{ goods = "tape", at = "middle", stitch = "main" }]\n'
    goods = POUCH.partition("[pieces.end]")[0].partition("[trimmings.tape]")
    build = resolve_text("[trimmings.tape]" + goods[2] + flat + laid)
    (cut,) = build.trimmings[0].cuts
    assert (cut.count, cut.run_mm, cut.where) == (2, pytest.approx(150), "flat")


def test_its_step_cuts_and_sews_it_and_it_is_exported(resolve_text: Resolve, tmp_path: Path) -> None:
    plan = plan_work(resolve_text(POUCH))
    step = next(step for step in plan.steps if "coil zip" in step.do)
    assert step.jobs[0].title == "Zip strip, coil zip"
    build_documents("a.toml", tmp_path / "out", date="2026-03-31")
    pages = PdfReader(tmp_path / "out" / "build-sheet.pdf").pages
    said = " ".join(word for page in pages for word in page.extract_text().split())
    assert "1 of 266 mm (10 15/32 in), cut by the list, for Zip strip" in said
    assert "206 mm (8 1/8 in) between its stops" in said
    assert "Zip strip: lay coil zip behind the slot, its face in the slot, its middle under that of the slot." in said
    assert "Base: lay webbing midway over the two lines of stitches drawn for it." in said
    assert "dividing lines" not in said
    assert "Take: Zip strip (from step 1); coil zip." in said
    export_pieces(ExportCall(spec=Path("a.toml"), to="svg", out=tmp_path / "cut", pieces=("top",)))
    (drawing,) = (tmp_path / "cut").rglob("*top*.svg")
    layer = drawing.read_text(encoding="utf-8").partition('id="cut"')[2].partition("</g>")[0]
    assert layer.count("<path") == 4 + 1, "the slot, inside first, and the outline"


@pytest.mark.parametrize(
    ("was", "now", "line", "what", "mend"),
    [
        (
            'at = "30 mm from left"',
            'at = "90 mm from left"',
            39,
            "this line does not cross the piece",
            "measure again from the edge",
        ),
        (
            'clear = "12 mm"',
            'clear = "118 mm"',
            34,
            "the piece is 240 mm across here, which leaves 4 mm",
            "write less for clear, or lay it elsewhere",
        ),
        (
            'window = "10 mm"',
            'window = "24 mm"',
            34,
            '"zip" is 32 mm wide, and stitches 4 mm in from the window do not hold it',
            'look at the width of "zip" (line 17); else make the window or the inset of the stitch smaller',
        ),
        (
            'at = "30 mm from left"',
            'at = "30 mm from left", window = "8 mm"',
            39,
            'a window is cut over a zip, and "tape" is none',
            "name a zip, or leave window out",
        ),
        ('width = "25 mm"\n', "", 38, '"tape" is laid flat, and its width is not said', "write its width"),
        (
            'goods = "tape"',
            'goods = "tap"',
            39,
            'goods = "tap", but there is no [trimmings.tap]',
            'did you mean "tape"?',
        ),
    ],
)
def test_what_cannot_be_laid_so_is_told(was: str, now: str, line: int, what: str, mend: str, messages: Tell) -> None:
    told = messages(POUCH.replace(was, now, 1))
    assert f"a.toml:{line}: error: {what}\n" in told
    assert f"    mend:    {mend}\n" in told


def test_what_is_left_out_of_clear_is_what_docgen_keys_prints(resolve_text: Resolve) -> None:
    """Of the webbing, with the default written out, and with another length."""
    at = 'at = "30 mm from left"'
    as_left_out = lines_of(resolve_text(POUCH), "base")
    assert lines_of(resolve_text(POUCH, (at, f'{at}, clear = "{format_mm(LAID_CLEAR_MM)}"')), "base") == as_left_out
    assert lines_of(resolve_text(POUCH, (at, f'{at}, clear = "9 mm"')), "base") != as_left_out


BETWEEN = POUCH.replace('window = "10 mm", clear = "12 mm"', 'window = "10 mm"')


def test_a_zip_between_two_strips_of_a_gusset(resolve_text: Resolve, tmp_path: Path) -> None:
    """A window without clear goes from edge to edge: two cuts 10 mm apart along the whole strip of 240 mm, and no more."""
    build = resolve_text(BETWEEN)
    assert build.cautions == ()
    top = next(piece for piece in build.pieces if piece.name == "top")
    assert sorted((slit.start.x, abs(slit.end.y - slit.start.y)) for slit in top.marks.slits) == [
        (35, pytest.approx(240)),
        (45, pytest.approx(240)),
    ]
    (cut,) = next(item for item in build.trimmings if item.name == "zip").cuts
    assert (cut.run_mm, cut.length_mm, cut.between_mm) == pytest.approx((240, 290, 230))
    outcome = build_documents("a.toml", out=str(tmp_path / "out"), date="2026-01-01")
    text = {path.stem: "".join(page.extract_text() for page in PdfReader(path).pages) for path in outcome.paths}
    told = {name: " ".join(words.replace("\u00a0", " ").split()) for name, words in text.items()}
    assert "cut apart along 2 lines" in told["cutting-list"]
    assert "lay both its strips on coil zip" in told["build-sheet"]


@pytest.mark.parametrize(
    ("text", "thickest_mm"),
    [
        (POUCH, 4 + 1.5 + 0.6),
        (BETWEEN, 4 + 1.5 + 0.6),
        (
            BETWEEN.replace('width = "25 mm"', 'width = "10 mm"').replace('"30 mm from left"', '"10 mm from left"'),
            4 + 1.5,
        ),
    ],
)
def test_what_is_laid_on_a_strip_lies_in_its_joint(text: str, thickest_mm: float, resolve_text: Resolve) -> None:
    """Two ends of 2 mm; webbing of 1.5 mm reaches into the joint, from 17.5 to 42.5 mm or from 5 to 15 mm from the left,
    the tape of the zip of 0.6 mm from 24 to 56 mm: it is cut 25 mm longer than its window, which ends 12 mm before the
    strip, or goes from end to end."""
    build = resolve_text(text)
    (joint,) = [run for run in build.assembly.runs if run.kind == "joins"]
    assert joint.stack.thinnest_mm == pytest.approx(4)
    assert joint.stack.thickest_mm == pytest.approx(thickest_mm)
    assert [layer.part for layer in joint.stack.layers][:2] == ["top", "base"]


def test_webbing_along_an_edge_lies_under_its_seam(resolve_text: Resolve) -> None:
    """Webbing from 0 to 25 mm from the left of the base, its seam 4 mm in: end 2, base 2, webbing 1.5, and over the joint
    2 more; along the right edge nothing of it."""
    build = resolve_text(POUCH.replace('"30 mm from left"', '"12.5 mm from left"'))
    seams = {seam.name: seam for seam in build.seams}
    assert seams["left"].thickest_mm == pytest.approx(2 + 4 + 1.5)
    assert seams["left"].thinnest_mm == pytest.approx(4)
    assert seams["right"].thickest_mm == pytest.approx(2 + 4)
    before = resolve_text(POUCH.replace('"30 mm from left"', '"12.5 mm from left"') + LATE)
    assert {seam.name: seam for seam in before.seams}["left"].thickest_mm == pytest.approx(6), "laid after it is sewn"


LATE = """
[[steps]]
do = "Sew the ring."
joins = ["ring"]
pieces = ["top"]
seams = ["left", "right"]
[[steps]]
do = "Lay the webbing on."
pieces = ["base"]
"""


HEMMED = write_out("""\
<zip: coil zip, 32 mm, 0.6 mm>
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "150 mm"]
hems = [{ edges = "top", turn = "12 mm" }]
laid = [{ goods = "zip", at = "90 mm from top", stitch = "main", window = "10 mm", clear = "25 mm" }]
dividers = [{ at = "40 mm from bottom", stitch = "main" }, { at = "110 mm from top", stitch = "main" }]
holes = [{ at = "90 mm from top, centre", punch = "4 mm" }]
[pieces.back]
like = "front"
marks = false
[seams.s]
stitch = "main"
meet = ["front: bottom", "back: bottom"]
""")


@pytest.mark.parametrize("hems", ['hems = [{ edges = "top", turn = "12 mm" }]\n', ""])
def test_from_the_top_counts_from_the_cut_edge_above_a_hem(hems: str, resolve_text: Resolve) -> None:
    """90 mm from the top of 150 lie 60 mm up, for the zip as for a hole: its stitches 5 + 4 mm above and below that. A
    line of stitches 110 mm from the top lies on that 40 mm from the bottom."""
    build = resolve_text(HEMMED.replace('hems = [{ edges = "top", turn = "12 mm" }]\n', hems))
    (front, *_) = build.pieces
    assert sorted(round(y, 6) for _, y, _ in lines_of(build, "front")) == [40, 40, 51, 69]
    assert [hole.at.y for hole in front.marks.holes] == [60]
