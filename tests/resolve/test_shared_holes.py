"""Rows sewn by hand that end on another row share a hole with it. By hand, and by the holes of the demos."""

import math
from itertools import combinations

import pytest
from built import piece_of
from demos import PATHS
from spec_text import Resolve

from docgen.checks import resolve_build
from docgen.geometry.path import points_at
from docgen.geometry.shapes import Point
from docgen.read import read_spec
from docgen.resolve import Piece

SAME_MM = 0.1
HAND = '[stitches.saddle]\nby = "hand"\nthread = "Tex 135 waxed polyester"\npitch = "4 mm"\ninset = "4 mm"\n'
BAG = (
    HAND
    + """\
[pieces.inside]
of = "body"
shape = "rectangle"
size = ["200 mm", "90 mm"]
landings = [%s]
[pieces.cover]
like = "inside"
marks = false
[pieces.pocket]
of = "body"
shape = "rectangle"
size = ["90 mm", "60 mm"]
[seams.inner]
stitch = "saddle"
meet = ["pocket: right", "inside"]
[seams.round]
stitch = "saddle"
meet = ["inside: left bottom right", "cover: %s"]
"""
)
LEFT = '{ piece = "pocket", at = "0 from left, 0 from bottom" }'


def holes(piece: Piece, seam: str) -> list[Point]:
    lines = [line for line in piece.marks.stitch_lines if line.seam == seam and line.by == "hand"]
    return [at for line in lines for at, _ in points_at(line.path, line.holes_mm)]


def nearest_mm(piece: Piece, one: str, other: str) -> float:
    return min(math.dist(at, its) for at in holes(piece, one) for its in holes(piece, other))


@pytest.mark.parametrize("name", ["cable-roll", "wallet", "sleeve", "notebook-sleeve", "sheath"])
def test_holes_of_two_rows_are_one_or_lie_apart(name: str) -> None:
    """Nearer than half a pitch they tear into one."""
    build = resolve_build(read_spec(PATHS[name]))
    pitch_mm = min(stitch.pitch_mm for stitch in build.stitches if stitch.by == "hand")
    pairs = [
        math.dist(at, its)
        for piece in build.pieces
        for one, other in combinations(sorted({line.seam for line in piece.marks.stitch_lines}), 2)
        for at in holes(piece, one)
        for its in holes(piece, other)
    ]
    assert [mm for mm in pairs if SAME_MM < mm < pitch_mm / 2] == []


def test_a_row_that_begins_in_the_middle_of_another_shares_its_hole(resolve_text: Resolve) -> None:
    """86 mm from the left the pocket's row goes down over the row round, whose other side lies flat beneath."""
    build = resolve_text(BAG.replace('"cover: %s"', '"cover"') % LEFT)
    assert nearest_mm(piece_of(build, "inside"), "inner", "round") < SAME_MM


def test_two_sides_run_from_either_end_keep_the_holes_that_meet(resolve_text: Resolve) -> None:
    """The cover's left lies on the inside's left or right: a hole at one third would have no mate."""
    build = resolve_text(BAG % (LEFT, "left bottom right"))
    plain = resolve_text(BAG % ("", "left bottom right"))
    seam, bare = ({one.name: one for one in found.seams}["round"] for found in (build, plain))
    assert seam.holes_mm == bare.holes_mm


def test_what_lies_beneath_has_the_hole_of_a_stitch_that_goes_over_an_edge(resolve_text: Resolve) -> None:
    """The pocket's row of 15 stitches ends at its top edge, where the inside has the hole that the pocket has not, 60 mm
    up; at the foot, where the edges are level, neither has one."""
    build = resolve_text(BAG % (LEFT, "left bottom right"))
    own, under = (holes(piece_of(build, name), "inner") for name in ("pocket", "inside"))
    assert len(own) == 14
    assert len(under) == 15
    assert max(at.y for at in under) == pytest.approx(60)
