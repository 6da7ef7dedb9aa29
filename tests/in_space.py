"""Parts in their places, and holes that meet, for the tests that measure there."""

import math
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from docgen.assemble import Copy
from docgen.assemble.space import Placed, Space
from docgen.geometry.shapes import Point

OTHER_HOLE_MM = 15.0  # a hole farther off is another hole


def part(space: Space, name: str, number: int = 1) -> Placed:
    found = space.part(Copy(name, number))
    assert found is not None
    return found


def at(placed: Placed, x: float, y: float) -> tuple[float, ...]:
    return tuple(placed.surface.point(Point(x, y)))


def near(x: float, y: float, z: float) -> object:
    return pytest.approx((x, y, z), abs=1e-6)


class Meeting(NamedTuple):
    """A hole that goes through another part, and how far from it the hole lies that is there for it."""

    part: str
    host: str
    apart_mm: float


def meetings(space: Space) -> list[Meeting]:
    """Of every hole whose hardware goes through another part: of several copies the one where that is nearest. Where the
    other part has none near, it has none for it."""
    hosts = [placed for placed in space.parts if placed.item.holes]
    return [one for placed in hosts for one in _meetings_of(placed, hosts)]


def _meetings_of(placed: Placed, hosts: list[Placed]) -> Iterator[Meeting]:
    for hole in (hole for hole in placed.item.holes if hole.takes):
        nearest: dict[str, float] = {}
        for host in (host for host in hosts if _goes_through(placed, hole.through, host)):
            spots = [host.surface.point(one.at) for one in host.item.holes if one.takes in ("", hole.takes)]
            off_mm = min((math.dist(placed.surface.point(hole.at), spot) for spot in spots), default=math.inf)
            nearest[host.copy.part] = min(off_mm, nearest.get(host.copy.part, OTHER_HOLE_MM))
        yield from (Meeting(placed.copy.part, name, off) for name, off in nearest.items() if off < OTHER_HOLE_MM)


def _goes_through(placed: Placed, through: tuple[str, ...], host: Placed) -> bool:
    """Whether the hardware of a part goes through another: as it says, or because it lands there."""
    if host.copy == placed.copy:
        return False
    names = {host.copy.part, *(strip.piece.name for strip in host.item.strips)}
    return not names.isdisjoint(through) or (placed.how == "lies on" and placed.host == host.copy)
