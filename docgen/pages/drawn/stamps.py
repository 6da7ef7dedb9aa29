"""Many equal holes in a row, drawn once and stamped: a panel may have ten thousand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from docgen.geometry.shapes import Point
from docgen.pages.marks.page import Mark, PathMark, StampMark
from docgen.resolve import Hole, PieceLine

MANY = 20


def runs_of(lines: Iterable[PieceLine]) -> Iterator[tuple[PieceLine, tuple[Point, ...]]]:
    """Each line in its order, without places; of many equal holes the first, with the places of all."""
    for shape, run in groupby(lines, lambda line: line.shape if isinstance(line, Hole) else None):
        held = tuple(run)
        places = tuple(line.at for line in held if isinstance(line, Hole)) if shape and len(held) >= MANY else ()
        yield from ((line, places) for line in (held[:1] if places else held))


def stamp(marks: Sequence[Mark], places: Sequence[Point]) -> Sequence[Mark]:
    """What is drawn at the first of the places, drawn at all of them; by itself where there are none."""
    if not places:
        return marks
    parts = tuple(mark for mark in marks if isinstance(mark, PathMark))
    x, y = places[0]
    return (StampMark(marks=parts, shifts=tuple(Point(at.x - x, at.y - y) for at in places)),)
