"""Seams that run on one line of a piece: drawn once, and their ticks told apart on the pattern."""

import itertools

import pytest

from docgen.geometry.path import path_length
from docgen.pages.drawn.export import draw_pieces
from docgen.pages.drawn.piece_drawing import SIGN_MM, draw_piece, kinds_of
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.marks.page import PathMark
from docgen.pages.pattern.template_label import tick_notes
from docgen.resolve import Build, Piece, StitchLine

STYLE = load_pattern_style()
# A pocket is sewn on the front along its foot with one stitch, then the front to the back all round three sides with
# another: along the foot both needles go through the same line.
BAG = """
[stitches.first]
by = "{first}"
thread = "Tex 135 bonded nylon"
pitch = "3 mm"
inset = "5 mm"
[stitches.second]
by = "{second}"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "5 mm"
<rectangle front: ["200 mm", "150 mm"]>
[pieces.back]
like = "front"
<rectangle pocket: ["200 mm", "60 mm"]>
[seams.foot]
title = "pocket to front"
stitch = "first"
meet = ["pocket: bottom", "front: bottom"]
[seams.round]
title = "front to back"
stitch = "second"
meet = ["front: left bottom right", "back: left bottom right"]
"""


def make(resolve_text, first: str = "machine", second: str = "machine") -> tuple[Build, Piece, tuple[StitchLine, ...]]:
    build = resolve_text(BAG.format(first=first, second=second))
    front = build.pieces[0]
    return build, front, front.marks.stitch_lines


def test_what_an_earlier_seam_has_drawn_of_a_line_is_known(resolve_text) -> None:
    """Round three sides, 5 mm in: 145 down, 190 across, 145 up; the foot, 200 long, covers the 190."""
    _, _, (foot, round_) = make(resolve_text)
    assert (foot.turn, foot.shared_mm) == (1, ())
    assert round_.turn == 2
    assert round_.shared_mm == (pytest.approx((145.0, 335.0)),)
    assert [path_length(part) for part in round_.own_parts] == pytest.approx([145.0, 145.0])


def test_a_line_of_its_own_is_no_ones_second(resolve_text) -> None:
    build, *_ = make(resolve_text)
    lines = [line for piece in build.pieces[1:] for line in piece.marks.stitch_lines]
    assert [(line.turn, line.shared_mm) for line in lines] == [(0, ())] * 2


def test_seams_whose_ticks_fall_together_need_no_telling_apart(resolve_text) -> None:
    """Both are counted from where the front's row begins, since each names that first."""
    text = BAG.format(first="machine", second="machine").replace('stitch = "second"', 'stitch = "first"')
    text = text.replace('"pocket: bottom", "front: bottom"', '"front: bottom", "pocket: bottom"')
    both = resolve_text(text.replace("left bottom right", "bottom")).pieces[0].marks.stitch_lines
    assert [line.turn for line in both] == [0, 0]
    assert both[1].own_parts == ()


@pytest.mark.parametrize(("first", "word"), [("machine", "bars"), ("hand", "dots")])
def test_the_second_seam_has_rings_and_the_label_says_which_is_which(resolve_text, first, word) -> None:
    build, front, (_, round_) = make(resolve_text, first)
    rings = [
        mark
        for mark in draw_piece(front, STYLE, "mm")
        if isinstance(mark, PathMark)
        and mark.layer == "stitch"
        and mark.path.closed
        and mark.fill is None
        and path_length(mark.path) == pytest.approx(2 * 3.14159265 * SIGN_MM)
    ]
    assert len(rings) == len(round_.ticked_mm) > 5
    assert tick_notes(build, front) == (f"{word}: pocket to front", "rings: front to back")
    assert [tick_notes(build, piece) for piece in build.pieces[1:]] == [(), ()]
    assert ["shared" in kinds_of(piece) for piece in build.pieces] == [True, False, False]


@pytest.mark.parametrize("way", list(itertools.product(("hand", "machine"), repeat=2)))
def test_no_stretch_and_no_hole_is_exported_twice(resolve_text, way) -> None:
    build, *_ = make(resolve_text, *way)
    (drawing,) = draw_pieces(build, names=("front",))
    paths = {layer.name: layer.paths for layer in drawing.layers}
    assert sum(map(path_length, paths["stitch"])) == pytest.approx(200.0 + 145.0 + 145.0)
    places = {tuple(round(x, 1) for x in path.segments[0].centre) for path in paths["pricks"]}
    assert len(places) == len(paths["pricks"])
    assert bool(places) == ("hand" in way)


def test_holes_of_two_seams_at_one_place_are_exported_once(resolve_text) -> None:
    text = BAG.format(first="hand", second="hand").replace('stitch = "second"', 'stitch = "first"')
    build = resolve_text(text.replace("left bottom right", "bottom"))
    (drawing,) = draw_pieces(build, names=("front",))
    pricks = next(layer.paths for layer in drawing.layers if layer.name == "pricks")
    assert len(pricks) == len(build.pieces[0].marks.stitch_lines[0].holes_mm)
