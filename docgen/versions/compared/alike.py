"""Are two values the same to a maker? Lengths within 0.05 mm are; everything else must be equal.

Things of one kind before and after are paired with their likes.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields, is_dataclass
from itertools import pairwise
from typing import Any, Final, TypeVar

from docgen.geometry.crossing import distance_finder
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Arc, Path, Point
from docgen.problems import Place
from docgen.versions.compared.changes import Fact

T = TypeVar("T")

SLACK_MM: Final = 0.05
"""A move smaller than this is no change: a tenth of what a sharp pencil line is wide."""

FINE_MM: Final = 0.005
FAR_MM: Final = 5.0


def is_near(before: float, after: float) -> bool:
    """True when two lengths in mm are one to a maker."""
    return abs(before - after) <= SLACK_MM


def is_alike(before: Any, after: Any) -> bool:
    """True when two values are of one kind and all lengths in them are near.

    Dataclasses and tuples are walked; places in the file do not count.
    """
    if isinstance(before, float) and isinstance(after, float | int):
        return is_near(before, float(after))
    if type(before) is not type(after):
        return False
    if isinstance(before, Place):
        return True
    if isinstance(before, Arc):
        return _is_alike_arc(before, after)
    if isinstance(before, tuple):
        return len(before) == len(after) and all(map(is_alike, before, after))
    if is_dataclass(before):
        return all(is_alike(getattr(before, item.name), getattr(after, item.name)) for item in fields(before))
    return bool(before == after)


def is_equal(before: Any, after: Any) -> bool:
    """True when two values are the same but for rounding in the last places of a number."""
    if isinstance(before, float) and isinstance(after, float):
        return math.isclose(before, after, abs_tol=1e-9)
    return is_alike(before, after)


def _is_alike_arc(before: Arc, after: Arc) -> bool:
    """Angles count by how far they move the ends."""
    reach = max(before.radius, after.radius)
    turned = max(abs(before.begin - after.begin), abs(before.sweep - after.sweep)) * reach
    return is_alike(before.centre, after.centre) and is_near(before.radius, after.radius) and is_near(turned, 0)


def move_path(path: Path, by: Point) -> tuple[Point, ...]:
    """The path as points, moved."""
    return tuple(Point(x + by.x, y + by.y) for x, y in flatten(path, FINE_MM))


def deviation_mm(before: Sequence[Point], after: Sequence[Point]) -> float:
    """How far two lines of points lie apart at most, mm; infinity when only one of them has points."""
    if not before or not after:
        return 0.0 if len(before) == len(after) else math.inf
    return max(_one_way_mm(before, after), _one_way_mm(after, before))


def _one_way_mm(points: Sequence[Point], line: Sequence[Point]) -> float:
    if len(line) < 2:
        line = (*line, *line)
    how_far = distance_finder(line, FAR_MM)
    found = max(map(how_far, _with_middles(points)))
    if found <= FAR_MM:
        return found
    # Beyond its reach the finder may answer too much.
    widest = max(math.dist(point, other) for point in points for other in line)
    how_far = distance_finder(line, widest)
    return max(map(how_far, _with_middles(points)))


def _with_middles(points: Sequence[Point]) -> list[Point]:
    """The points and the middles of the legs: a long straight leg is not judged by its ends alone."""
    middles = [Point((a.x + b.x) / 2, (a.y + b.y) / 2) for a, b in pairwise(points)]
    return [*points, *middles]


def is_same_line(before: Sequence[Point], after: Sequence[Point]) -> bool:
    """True when two lines of points lie on each other."""
    if len(before) == len(after) and all(map(is_alike, before, after)):
        return True
    return deviation_mm(before, after) <= SLACK_MM


def take_pairs(old: list[T], new: list[T], fits: Callable[[T, T], bool]) -> list[tuple[T, T]]:
    """Take out of both lists those that fit, as pairs: each with the first that is left."""
    pairs = []
    for item in tuple(old):
        other = next((one for one in new if fits(item, one)), None)
        if other is not None:
            old.remove(item)
            new.remove(other)
            pairs.append((item, other))
    return pairs


def tell_alone(gone: Iterable[str], come: Iterable[str]) -> list[Fact]:
    """Names of what has no like on the other side."""
    facts = [Fact(name, "there", "gone", "words") for name in gone]
    return facts + [Fact(name, "none", "new", "words") for name in come]
