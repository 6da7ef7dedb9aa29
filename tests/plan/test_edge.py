"""What straps take of the straight edge: by hand, and against a plain first-fit over single straps."""

import math

import pytest
from by_hand import make_piece, make_strap
from hypothesis import given
from hypothesis import strategies as st

from docgen.geometry.outline import strip_outline
from docgen.plan import plan_work
from docgen.plan.edge import fill_rows
from docgen.resolve import Strap


def strap_of(name: str, width_mm: float, length_mm: float, **fields: object) -> Strap:
    piece = make_piece(name, strip_outline(width_mm, length_mm), title=name, shape="strip")
    return make_strap(piece, **fields)


def test_straps_of_a_bag_along_an_edge_as_long_as_the_longest(make_build) -> None:
    """By hand, edge 1000 mm: 1000 fills a row of 25, 500 + 500 the next, 300 a third; of 20 wide 400 + 400 a row."""
    straps = (
        strap_of("long", 25, 1000),
        strap_of("half", 25, 500, cut=2),
        strap_of("rest", 25, 300),
        strap_of("tie", 20, 400, cut=2),
    )
    (material,) = plan_work(make_build(straps=straps)).materials
    edge = material.edge
    assert edge is not None
    assert edge.least_mm == 1000
    assert edge.total_mm == 1000 + 2 * 500 + 300 + 2 * 400
    assert [(row.width_mm, row.rows, row.straps) for row in edge.rows] == [(25, 3, 4), (20, 1, 2)]
    assert (edge.count, edge.depth_mm) == (4, 3 * 25 + 20)


def test_without_straps_there_is_no_edge(make_build, make_piece) -> None:
    (material,) = plan_work(make_build(pieces=(make_piece("a", 10, 10),))).materials
    assert material.edge is None


def test_a_batch_of_a_thousand_counts_its_rows(make_build) -> None:
    """Three of 300 mm fit 1000 mm: 1000 straps take 334 rows."""
    straps = (strap_of("a", 20, 1000, cut=1), strap_of("b", 25, 300))
    (material,) = plan_work(make_build(makes=1000, straps=straps)).materials
    assert material.edge is not None
    assert [(row.width_mm, row.rows) for row in material.edge.rows] == [(25, 334), (20, 1000)]


def first_fit(lengths: list[int], edge: int) -> int:
    rows: list[int] = []
    for length in sorted(lengths, reverse=True):
        place = next((place for place, used in enumerate(rows) if used + length <= edge), None)
        if place is None:
            rows.append(length)
        else:
            rows[place] += length
    return len(rows)


@given(st.dictionaries(st.integers(1, 100), st.integers(1, 12), min_size=1, max_size=8))
def test_rows_are_those_of_first_fit_strap_by_strap(counts: dict[int, int]) -> None:
    """Lengths are whole mm, so that sums are exact. No fewer rows than the lengths together ask for."""
    edge = max(counts)
    lengths = [length for length, count in counts.items() for _ in range(count)]
    rows, _ = fill_rows({float(length): count for length, count in counts.items()}, edge)
    assert rows == first_fit(lengths, edge)
    assert rows >= math.ceil(sum(lengths) / edge)


@pytest.mark.parametrize(("counts", "rows"), [({}, 0), ({500.0: 0}, 0), ({1000.0: 2}, 2), ({333.3333333333: 3}, 1)])
def test_rows_of_few_straps(counts: dict[float, int], rows: int) -> None:
    assert fill_rows(counts, 1000.0)[0] == rows
