"""The line of a strap between two holds: lengths and ends of random ones, by numpy."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.assemble.space.arch import Hold, cut_line, find_arch, find_asides, line_mm

UNIT = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda way: math.hypot(*way) > 0.3)
SPOT = st.tuples(*[st.floats(-200, 200)] * 3)


def direction(way: tuple[float, ...]) -> tuple[float, float, float]:
    x, y, z = (one / math.hypot(*way) for one in way)
    return x, y, z


def square_to(way: tuple[float, float, float]) -> tuple[float, float, float]:
    first = np.cross(way, (1.0, 0.0, 0.0) if abs(way[0]) < 0.9 else (0.0, 1.0, 0.0))
    x, y, z = (float(one) for one in first / np.linalg.norm(first))
    return x, y, z


@settings(max_examples=80, deadline=None)
@given(SPOT, SPOT, UNIT, UNIT, st.floats(1.02, 4))
def test_an_arch_is_as_long_as_its_strap_and_leaves_both_ends_as_it_lies_there(
    start: tuple[float, float, float],
    end: tuple[float, float, float],
    way: tuple[float, float, float],
    its_way: tuple[float, float, float],
    share: float,
) -> None:
    far = math.dist(start, end)
    if far < 20:
        return
    way, its_way = direction(way), direction(its_way)
    holds = [Hold(at=at, way=to, out=square_to(to)) for at, to in ((start, way), (end, its_way))]
    line = find_arch(*holds, far * share, (0.0, 0.0))
    assert line is not None
    points = np.array(line)
    assert np.linalg.norm(np.diff(points, axis=0), axis=1).sum() == pytest.approx(far * share, abs=1e-4)
    assert (points[0], points[-1]) == (pytest.approx(start), pytest.approx(end))
    asides = np.array(find_asides(line, holds[0].out, holds[1].out))
    assert np.linalg.norm(asides, axis=1) == pytest.approx(np.ones(len(asides)))
    steps = np.diff(points, axis=0)
    for at, aside in ((0, asides[0]), (-1, asides[-1])):
        assert float(np.dot(aside, steps[at])) == pytest.approx(0, abs=1e-6)


def test_an_arch_longer_than_its_strap_is_none() -> None:
    one, other = (Hold(at=(x, 0.0, 0.0), way=(0.0, 0.0, 1.0), out=(0.0, 1.0, 0.0)) for x in (0.0, 100.0))
    assert find_arch(one, other, 99, (0.0, 0.0)) is None
    assert find_arch(one, other, 119, (10.0, 10.0)) is None
    assert find_arch(one, other, 121, (10.0, 10.0)) is not None


def test_a_line_is_cut_by_its_length_and_goes_on_beyond_its_end() -> None:
    line = ((0.0, 0.0, 0.0), (30.0, 0.0, 0.0), (30.0, 40.0, 0.0))
    assert cut_line(line, 10, 50) == ((10, 0, 0), (30, 0, 0), (30, 20, 0))
    assert cut_line(line, 50, 90)[-1] == (30, 60, 0)
    assert line_mm(cut_line(line, 10, 90)) == pytest.approx(80)
