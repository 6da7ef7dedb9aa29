"""Positions as a person measures them, on every kind of shape, and the marks that stand there."""

from collections.abc import Callable

import pytest
from spec_text import Resolve

from docgen.resolve import Piece

RECTANGLE = 'of = "body"\nshape = "rectangle"\nsize = ["200 mm", "150 mm"]\n'
STRIP = 'of = "body"\nshape = "strip"\nsize = ["60 mm", "300 mm"]\n'
CIRCLE = 'of = "body"\nshape = "circle"\ndiameter = "100 mm"\n'
WEDGE = """\
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["120 mm", "0"] },
  { at = ["120 mm", "80 mm"], edge = "top" },
  { at = ["60 mm", "80 mm"], edge = "slope" },
]
"""
Place = Callable[[str], Piece]


@pytest.fixture
def place(resolve_text: Resolve) -> Place:
    """The one piece of a build, with these lines."""
    return lambda lines: resolve_text("[pieces.a]\n" + lines).pieces[0]


@pytest.mark.parametrize(
    ("shape", "at", "expected"),
    [
        (RECTANGLE, "20 mm from top, 30 mm from left", (30, 130)),
        (RECTANGLE, "30 mm from left, 20 mm from top", (30, 130)),
        (RECTANGLE, "20 mm from bottom, 30 mm from right", (170, 20)),
        (RECTANGLE, "centre, 20 mm from bottom", (100, 20)),
        (RECTANGLE, "centre, middle", (100, 75)),
        (RECTANGLE, "center, 20 mm from bottom", (100, 20)),
        (RECTANGLE, "30 mm right of center, middle", (130, 75)),
        (RECTANGLE, "30 mm right of centre, 10 mm above middle", (130, 85)),
        (RECTANGLE, "30 mm left of centre, 10 mm below middle", (70, 65)),
        (RECTANGLE, "w / 2 from left, h - 1 in from bottom", (50, 74.6)),
        (RECTANGLE + 'round = "30 mm"\n', "20 mm from top, 30 mm from left", (30, 130)),
        (RECTANGLE + 'round = "75 mm"\n', "20 mm from left, 30 mm from bottom", (20, 30)),
        (STRIP, "20 mm from start, centre", (30, 20)),
        (STRIP, "20 mm from end, 10 mm from left", (10, 280)),
        (STRIP, "20 mm from top, 10 mm from right", (50, 280)),
        (CIRCLE, "20 mm from top, centre", (50, 80)),
        (CIRCLE, "40 mm from left, 30 mm from bottom", (40, 30)),
        (WEDGE, "10 mm from foot, 30 mm from right", (90, 10)),
        (WEDGE, "10 mm from top, 20 mm from edge-2", (100, 70)),
        # The slope falls 80 over 60: its own distance is measured square to it, so that on the line
        # y = 16 the point lies 12 + 20 / 0.8 across (plane geometry).
        (WEDGE, "20 mm from slope, 16 mm from bottom", (37, 16)),
        (WEDGE, "centre, middle", (60, 40)),
    ],
)
def test_a_hole_stands_where_it_is_measured(place: Place, shape: str, at: str, expected: tuple[float, float]) -> None:
    measures = '[measures]\nw = "100 mm"\nh = "100 mm"\n'
    piece = place(shape + f'holes = [{{ at = "{at}", punch = "3 mm" }}]\n' + measures)
    assert piece.marks.holes[0].at == pytest.approx(expected)


@pytest.mark.parametrize(("at", "x"), [("0.4 mm from left", 0.4), ("0.4 mm from right", 199.6), ("middle", 100.0)])
def test_a_notch_may_lie_anywhere_along_its_edge(place: Place, at: str, x: float) -> None:
    (notch,) = place(RECTANGLE + f'notches = [{{ on = "bottom", at = "{at}" }}]\n').marks.notches
    assert (notch.at, notch.inward) == (pytest.approx((x, 0)), pytest.approx((0, 1)))


def test_a_row_of_holes_is_even_and_counts_both_ends(place: Place) -> None:
    piece = place(
        RECTANGLE + 'hole-rows = [{ start = "20 mm from top, 20 mm from left", '
        'end = "20 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]\n'
    )
    assert [hole.at.x for hole in piece.marks.holes] == pytest.approx([20, 60, 100, 140, 180])
    assert {hole.diameter_mm for hole in piece.marks.holes} == {4.0}


@pytest.mark.parametrize(
    ("shape", "notch", "at", "inward"),
    [
        (RECTANGLE, 'on = "bottom"', (100, 0), (0, 1)),
        (RECTANGLE, 'on = "top"', (100, 150), (0, -1)),
        (RECTANGLE, 'on = "top", at = "40 mm from left"', (40, 150), (0, -1)),
        (RECTANGLE, 'on = "right", at = "40 mm from top"', (200, 110), (-1, 0)),
        (RECTANGLE + 'round = "30 mm"\n', 'on = "bottom", at = "40 mm from left"', (40, 0), (0, 1)),
        (RECTANGLE + 'round = "30 mm"\n', 'on = "bottom", at = "40 mm from right"', (160, 0), (0, 1)),
        (STRIP, 'on = "left", at = "40 mm from start"', (0, 40), (1, 0)),
        (CIRCLE, 'on = "edge"', (50, 100), (0, -1)),
        # 60 mm up from the foot along the square to it, on a slope of 80 over 60
        (WEDGE, 'on = "slope", at = "60 mm from foot"', (45, 60), (0.8, -0.6)),
    ],
)
def test_a_notch_stands_on_its_edge_and_points_inward(
    place: Place, shape: str, notch: str, at: tuple[float, float], inward: tuple[float, float]
) -> None:
    (found,) = place(shape + f"notches = [{{ {notch} }}]\n").marks.notches
    assert found.at == pytest.approx(at)
    assert found.inward == pytest.approx(inward)


def test_a_fold_runs_from_edge_to_edge(place: Place) -> None:
    (fold,) = place(WEDGE + 'folds = [{ at = "20 mm from bottom", note = "up" }]\n').marks.folds
    assert sorted([fold.start, fold.end]) == [pytest.approx((15, 20)), pytest.approx((120, 20))]
    assert fold.note == "up"


def test_a_skive_may_go_right_round_and_to_nothing(place: Place) -> None:
    (skive,) = place(RECTANGLE + 'skives = [{ edges = "all", width = "10 mm", to = "0" }]\n').marks.skives
    assert (skive.edges, skive.width_mm, skive.to_mm) == ("all", 10.0, 0.0)


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("centre, 20 mm from bottom", (90, 20)),
        ("10 mm from left, 15 mm from top", (10, 105)),
        ("10 mm from right, middle", (170, 60)),
    ],
)
def test_a_landing_measures_to_the_nearest_sides(resolve_text: Resolve, at: str, expected: tuple[float, float]) -> None:
    build = resolve_text(
        f'[pieces.a]\n{RECTANGLE}landings = [{{ piece = "tab", at = "{at}" }}]\n'
        '[pieces.tab]\nof = "body"\nshape = "rectangle"\nsize = ["20 mm", "30 mm"]\n'
    )
    (landing,) = build.pieces[0].marks.landings
    assert (landing.dx_mm, landing.dy_mm) == pytest.approx(expected)
