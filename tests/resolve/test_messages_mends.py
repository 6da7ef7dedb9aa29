"""Mends that can be done: what the message asks for is written, and the spec is good."""

# ruff: noqa: E501 - messages stand here as they are printed

from pathlib import Path

import pytest
from spec_text import Resolve, Tell

from docgen.geometry.shapes import Point

BACK = "<back>\n"
LINED = (
    BACK
    + """\
<front>
[materials.cloth]
kind = "fabric"
thickness = "0.4 mm"
[pieces.lining]
like = "back"
of = "cloth"
inset = "3 mm"
<seam s: ["back: left bottom right", "front: left bottom right", "lining: left bottom right"]>
"""
)
STRAP = """\
[straps.belt]
of = "body"
width = "30 mm"
finished = "400 mm"
ends = [{{ shape = "square" }}, {{ shape = "rounded" }}]
punches = [{{ at = "{at}", punch = "4 mm" }}]
"""


@pytest.mark.parametrize("written", ["30", '"30"', '"30 each"'])
def test_an_hour_of_work_is_priced_per_hour(messages: Tell, resolve_text: Resolve, written: str) -> None:
    assert '"30 per hour"' in (told := messages(f"[costs]\nlabour = {written}\n" + BACK))
    assert "sq ft" not in told
    assert resolve_text('[costs]\nlabour = "30 per hour"\n' + BACK).costs.labour is not None


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (
            '[materials.x]\nkind = "leather"\nthickness = "2 mm"\nprice = 30\n',
            '"30 per sq ft", "30 per m" or "30 each"',
        ),
        ('[hardware.x]\nwhat = "ring"\ncount = 1\nprice = 30\n', '"30 each" or "30 per 100"'),
        (
            '[stitches.x]\nby = "hand"\nthread = "Tex 135 bonded nylon"\npitch = "4 mm"\ninset = "4 mm"\nthread-price = 30\n',
            '"30 per 100 m" or "30 each"',
        ),
    ],
)
def test_a_bare_price_is_answered_by_what_it_may_be_for(messages: Tell, table: str, said: str) -> None:
    assert f"    mend:    write {said}, quotes and all\n" in messages(table + BACK)


def test_an_inset_lining_with_edges_is_named_without_them(messages: Tell, resolve_text: Resolve) -> None:
    told = messages(LINED)
    assert (
        '    mend:    name "lining" without edges, meet = [..., "lining"], so that it lies beneath: it is an inset of "back", and its edges are shorter or longer by that\n'
        in told
    )
    assert "solve" not in told
    build = resolve_text(LINED.replace('"lining: left bottom right"', '"lining"'))
    assert build.seams[0].stack_mm == pytest.approx(4.4)


def test_a_piece_like_another_is_mended_at_its_model(messages: Tell) -> None:
    text = (
        BACK
        + """\
<front>
<rectangle pocket: ["200 mm", "140 mm"]>
<seam s: ["pocket: left", "front: left"]>
"""
    )
    assert (
        'mend:    make "back", which front is like, 10 mm (13/32 in) shorter, or write "solve" for the length of "back"'
        in messages(text)
    )


@pytest.mark.parametrize(
    ("at", "point"),
    [
        ("60 mm from start, middle", Point(15, 60)),
        ("60 mm from start, centre", Point(15, 60)),
        ("middle, 60 mm from end", Point(15, 340)),
        ("centre, 60 mm from end", Point(15, 340)),
        ("10 mm from left, centre", Point(10, 200)),
        ("10 mm from left, middle", Point(10, 200)),
        ("centre, middle", Point(15, 200)),
    ],
)
def test_either_middle_of_a_strap_crosses_the_other_measure(resolve_text: Resolve, at: str, point: Point) -> None:
    build = resolve_text(STRAP.format(at=at))
    assert build.straps[0].piece.marks.holes[0].at == pytest.approx(point)


@pytest.mark.parametrize("at", ["60 mm from start", "60 mm from start, 20 mm from end", "by the start"])
def test_a_place_on_a_strap_is_mended_with_one_that_works(messages: Tell, resolve_text: Resolve, at: str) -> None:
    mend = 'write for example "3 in from start, centre", or "1 in from end, 1/2 in from left"'
    assert mend in messages(STRAP.format(at=at))
    for form in mend.split('"')[1::2]:
        assert resolve_text(STRAP.format(at=form)).straps[0].piece.marks.holes


def test_a_rounded_corner_beside_a_curve_is_taken_away(messages: Tell, resolve_text: Resolve) -> None:
    text = """\
[pieces.flap]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"] },
  { at = ["100 mm", "0"] },
  { at = ["100 mm", "80 mm"], round = "10 mm", curve = ["80 mm", "100 mm", "20 mm", "100 mm"] },
  { at = ["0", "80 mm"] },
]
"""
    assert "    mend:    take round away at that corner, or draw it into the curve\n" in messages(text)
    assert resolve_text(text.replace(' round = "10 mm",', "")).pieces


def test_a_smooth_drawing_has_one_edge_until_corners_part_it(
    messages: Tell, resolve_text: Resolve, tmp_path: Path
) -> None:
    (tmp_path / "egg.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
        '<ellipse cx="50" cy="40" rx="50" ry="40"/></svg>',
        encoding="utf-8",
    )
    text = """\
[pieces.back]
of = "body"
shape = "drawing"
file = "egg.svg"
<front>
<seam s: ["back: edge-1 edge-2", "front: edge-1 edge-2"]>
"""
    told = messages(text)
    assert "did you mean" not in told
    assert 'the outline has no sharp corners and is one edge, "edge-1"; name points of it' in told
    assert 'corners = [{ at = ["0 mm", "10 mm"], edge = "left" }, ...]' in told
    corners = 'corners = [{ at = ["0 mm", "40 mm"] }, { at = ["50 mm", "0 mm"] }, { at = ["100 mm", "40 mm"] }]\n'
    assert resolve_text(text.replace('file = "egg.svg"\n', 'file = "egg.svg"\n' + corners)).seams
