"""Very many holes: those that are cut into each other, and those that one rivet goes through, are found without holding
each against each."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from docgen.checks import resolve_build
from docgen.checks.trade import spots
from docgen.geometry.vector import distance
from docgen.read import read_spec
from docgen.resolve import Piece

HEAD = (
    '[spec]\ncode = "many"\ntitle = "Many"\nversion = "1"\n[materials.hide]\nkind = "leather"\nthickness = "4 oz"\n'
    '[pieces.panel]\nof = "hide"\nshape = "rectangle"\nsize = ["320 mm", "140 mm"]\n'
)
ROW = (
    '[[pieces.panel.hole-rows]]\nstart = "10 mm from left, {0} mm from top"\n'
    'end = "10 mm from right, {0} mm from top"\ncount = 50\npunch = "1.5 mm"\n'
)


THROUGH = """\
[pieces.beneath]
of = "hide"
like = "panel"
marks = false
[hardware.rivet]
what = "rivet"
count = 2000
"""


def write(folder: Path, rows: int = 40, takes: str = "") -> Path:
    path = folder / "many.toml"
    path.write_text(HEAD + "".join(ROW.format(10 + 3 * number) + takes for number in range(rows)))
    return path


def write_rivets(folder: Path, rows: int) -> Path:
    """Rows of holes for rivets that go through another piece with as many holes."""
    own = write(folder, rows).read_text().removeprefix(HEAD).replace("pieces.panel", "pieces.beneath")
    path = write(folder, rows, takes='takes = "rivet"\nthrough = ["beneath"]\n')
    path.write_text(path.read_text() + THROUGH + own)
    return path


def test_twice_as_many_rivets_through_a_part_take_twice_the_work(tmp_path: Path) -> None:
    few, twice = (count_calls(write_rivets(tmp_path, rows)) for rows in (6, 12))
    assert twice < 2.5 * few


def test_twice_as_many_holes_take_twice_the_work(tmp_path: Path) -> None:
    """Counted in calls, so that a busy machine changes nothing."""
    few, twice = (count_calls(write(tmp_path, rows)) for rows in (20, 40))
    assert twice < 2.5 * few


def count_calls(path: Path) -> int:
    count = 0

    def note(frame: object, event: str, given: object) -> None:
        nonlocal count
        count += 1

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        resolve_build(read_spec(path))
    finally:
        sys.setprofile(before)
    return count


@pytest.fixture
def panel(tmp_path: Path) -> Piece:
    return resolve_build(read_spec(write(tmp_path))).pieces[0]


@pytest.mark.parametrize("is_column", [False, True], ids=["rows", "one column"])
def test_only_holes_that_lie_near_are_held_against_each_other(panel: Piece, is_column: bool) -> None:
    holes = panel.marks.holes
    assert len(holes) == 2000
    if is_column:
        holes = tuple(replace(hole, at=replace_x(hole.at, 10.0, 0.06 * n)) for n, hole in enumerate(holes))
    piece = replace(panel, marks=replace(panel.marks, holes=holes))
    pairs = sum(1 for _ in spots._near_pairs(piece, ()))
    assert pairs <= 2000 * 200, "each against each would be two million"


def replace_x(at: object, x: float, y: float) -> object:
    return type(at)(x, y)  # type: ignore[call-arg]


@pytest.mark.parametrize("line", [1, 1000], ids=["written first", "written last"])
def test_a_large_hole_is_held_against_all_that_it_is_cut_into(panel: Piece, line: int) -> None:
    first = panel.marks.holes[0]
    large = replace(first, at=replace_x(first.at, 150.0, 70.0), diameter_mm=90.0, place=replace(first.place, line=line))
    piece = replace(panel, marks=replace(panel.marks, holes=(*panel.marks.holes, large)))
    met = {other.at for pair in spots._near_pairs(piece, ()) if large in pair for other in pair if other is not large}
    assert {hole.at for hole in panel.marks.holes if distance(hole.at, large.at) < 45.0} <= met
