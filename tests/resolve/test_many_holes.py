"""Very many holes: those that are cut into each other are found without holding each against each."""

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.checks import resolve_build
from docgen.checks.trade import spots
from docgen.problems import SpecRejected
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


def write(folder: Path) -> Path:
    path = folder / "many.toml"
    path.write_text(HEAD + "".join(ROW.format(10 + 3 * number) for number in range(40)))
    return path


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


def test_a_large_hole_among_them_is_still_found(tmp_path: Path) -> None:
    path = write(tmp_path)
    large = 'holes = [{ at = "150 mm from left, 72 mm from top", punch = "90 mm" }]\n'
    path.write_text(path.read_text().replace('"140 mm"]\n', f'"140 mm"]\n{large}', 1))
    with pytest.raises(SpecRejected) as caught:
        resolve_build(read_spec(path))
    assert any("are cut into each other" in problem.what for problem in caught.value.problems)
