"""Parts in their places, for the tests that measure there."""

import pytest

from docgen.assemble import Copy
from docgen.assemble.space import Placed, Space
from docgen.geometry.shapes import Point


def part(space: Space, name: str, number: int = 1) -> Placed:
    found = space.part(Copy(name, number))
    assert found is not None
    return found


def at(placed: Placed, x: float, y: float) -> tuple[float, ...]:
    return tuple(placed.surface.point(Point(x, y)))


def near(x: float, y: float, z: float) -> object:
    return pytest.approx((x, y, z), abs=1e-6)
