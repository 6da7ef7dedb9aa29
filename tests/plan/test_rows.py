"""Rows of pieces across a roll: closed sums, and every layout laid out anew and looked at by shapely."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as rectangle
from shapely.strtree import STRtree

from docgen.plan.rows import Box, Row, fit_rows, sum_rows

INCH = 25.4


def lay(rows: tuple[Row, ...]) -> list[tuple[float, float, float, float]]:
    """Left, low, right, high of each piece, row above row, 2 mm apart in a row."""
    placed, low = [], 0.0
    for row in rows:
        for _ in range(row.times):
            left = 0.0
            for across, along, count in row.cells:
                for _ in range(count):
                    placed.append((left, low, left + across, low + along))
                    left += across + 2.0
            low += row.along_mm
    return placed


def run(*boxes: Box, width_mm: float) -> float:
    return sum_rows(fit_rows(boxes, width_mm))


@pytest.mark.parametrize(
    ("across", "along", "count", "width", "run_mm"),
    [
        (30 * INCH, 10 * INCH, 3, 56 * INCH, 762.0),  # upright, three of 10 in beside each other: one row of 30 in
        (7 * INCH, 5 * INCH, 14, 54 * INCH, 254.0),  # seven of 7 in beside each other: two rows of 5 in
        (300, 300, 20, 1000, 2100.0),  # three beside each other, seven rows
        (1000, 400, 2, 1000, 800.0),  # as wide as the roll
        (1200, 100, 1, 1000, 1200.0),  # too long across: along the roll
        (100, 50, 1000, 1000, 5300.0),  # turned, nineteen of 50 beside each other, 53 rows of 100
    ],
)
def test_pieces_alike_take_so_many_rows(across: float, along: float, count: int, width: float, run_mm: float) -> None:
    assert run(Box(across_mm=across, along_mm=along, count=count), width_mm=width) == pytest.approx(run_mm)


@pytest.mark.parametrize(("lies", "run_mm"), [("up", 900.0), ("across", 100.0), ("", 100.0)])
def test_a_piece_lies_as_it_is_told(lies: str, run_mm: float) -> None:
    assert run(Box(across_mm=100, along_mm=900, count=1, lies=lies), width_mm=1000) == pytest.approx(run_mm)


def test_small_pieces_go_into_what_rows_leave() -> None:
    """600 beside 300 x 400 of what is left: three of 98 wide go in, and the fourth with a row of its own."""
    large = Box(across_mm=600, along_mm=400, count=1, lies="up")
    small = Box(across_mm=98, along_mm=380, count=3, lies="up")
    assert run(large, small, width_mm=1000) == pytest.approx(400)
    assert run(large, Box(across_mm=131, along_mm=380, count=4, lies="up"), width_mm=1000) == pytest.approx(780)


def test_a_piece_too_wide_either_way_still_takes_its_length() -> None:
    assert run(Box(across_mm=1200, along_mm=1100, count=2), width_mm=1000) == pytest.approx(2400)


def test_nothing_takes_nothing() -> None:
    assert fit_rows((), 1000) == ()


sides = st.floats(5, 1000).map(lambda value: round(value, 1))
boxes = st.lists(
    st.builds(
        Box, across_mm=sides, along_mm=sides, count=st.integers(1, 30), lies=st.sampled_from(["", "up", "across"])
    ),
    min_size=1,
    max_size=8,
)


@given(boxes)
@settings(max_examples=150, deadline=None)
def test_no_pieces_overlap_and_all_lie_within_the_width(found: list[Box]) -> None:
    width_mm = 1000.0
    rows = fit_rows(found, width_mm)
    assert fit_rows(found, width_mm) == rows
    placed = lay(rows)
    assert all(left >= 0 and right <= width_mm + 1e-3 for left, _, right, _ in placed)
    assert max(high for *_, high in placed) <= sum_rows(rows) + 1e-6
    shapes = [rectangle(*corners).buffer(-0.001) for corners in placed]
    for one, two in STRtree(shapes).query(shapes, predicate="intersects").T:
        assert one == two
    wanted: Counter[tuple[float, float]] = Counter()
    for box in found:
        wanted[min(box.across_mm, box.along_mm), max(box.across_mm, box.along_mm)] += box.count
    got = Counter(
        (min(cell[:2]), max(cell[:2])) for row in rows for cell in row.cells for _ in range(cell[2] * row.times)
    )
    assert got == wanted
    told = {(b.across_mm, b.along_mm) for b in found if b.lies != "across"}
    told |= {(b.along_mm, b.across_mm) for b in found if b.lies != "up"}
    assert {cell[:2] for row in rows for cell in row.cells} <= told


def test_a_thousand_makes_take_no_longer() -> None:
    found = tuple(Box(across_mm=90 + n, along_mm=40 + 7 * n, count=100_000) for n in range(20))
    rows = fit_rows(found, 1400)
    assert sum(cell[2] * row.times for row in rows for cell in row.cells) == 2_000_000
    assert len(rows) < 2000
