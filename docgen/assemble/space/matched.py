"""The movement on a plane that lays the lines of a part on those that its seams sew them to."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble.space.scene import Tie
from docgen.geometry.fitting import lay_on
from docgen.geometry.shapes import Point
from docgen.geometry.vector import Transform, distance, transform_point

MEETS_MM = 0.5


def match(ties: Sequence[Tie], ways: Sequence[tuple[bool, bool]]) -> tuple[Transform, float]:
    """The movement that lays the lines of a copy on those of one host, by the way that fits best, and how far they
    miss."""
    tries = []
    for is_turned, is_mirrored in ways:
        points: list[Point] = []
        under: list[Point] = []
        for tie in ties:
            mine = tie.mine.reversed() if is_turned else tie.mine
            shares = mine.share_marks(tie.its)
            points += mine.spread(shares)
            under += tie.its.spread(shares)
        tries.append(lay_on(points, under, is_mirrored=is_mirrored))
        if tries[-1][1] <= MEETS_MM:
            return tries[-1]
    return min(tries, key=lambda found: round(found[1], 6))


def fits(ties: Sequence[Tie], move: Transform) -> bool:
    """Whether a movement lays each line of a copy on one of those that its seam sews it to: several where a seam takes two
    lines of one part, as the sides of what is folded."""
    found: dict[tuple[str, tuple[Point, ...]], bool] = {}
    for tie in ties:
        shares = tie.mine.share_marks(tie.its)
        own = [transform_point(at, move) for at in tie.mine.spread(shares)]
        lines = (line.spread(shares) for line in (tie.its, tie.its.reversed()))
        is_on = any(all(distance(*pair) <= MEETS_MM for pair in zip(own, line, strict=True)) for line in lines)
        key = tie.seam.name, tie.mine.points
        found[key] = found.get(key, False) or is_on
    return all(found.values())
