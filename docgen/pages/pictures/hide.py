"""What is seen of lines among faces: each line against each face near it, exact on chords, in a fixed order.

A line is cut where it crosses the outline of a face on paper, and where it goes through its plane; a wrong judgement
spoils one piece of a line and no other. (The family of methods of Roberts 1963 and of Galimberti and Montanari, 1969.)
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise

from docgen.assemble import Flat, Side, Span
from docgen.geometry.path import ring_area

EDGE_ON = 1e-3  # the cosine of a face that is seen from its edge and hides nothing
LEAST_MM2 = 5e-4  # a face on paper that hides nothing
TINY = 1e-9
CELLS = 12  # along the longer side of the drawing


class Hider:
    """The faces of a drawing in a grid of cells, so that a line is only tried against faces near it."""

    def __init__(self, faces: Sequence[tuple[Sequence[Flat], float]]) -> None:
        """`faces`: corners on paper, and the cosine between the face and the ray; by their numbers they are named."""
        self.sides: list[Side | None] = [
            Side(points, cosine)
            if abs(cosine) > EDGE_ON and abs(ring_area([(x, y) for x, y, _ in points])) > LEAST_MM2
            else None
            for points, cosine in faces
        ]
        seen = [side for side in self.sides if side is not None]
        self.left = min((side.left for side in seen), default=0.0)
        self.bottom = min((side.bottom for side in seen), default=0.0)
        wide = max((side.right for side in seen), default=1.0) - self.left
        high = max((side.top for side in seen), default=1.0) - self.bottom
        self.cell = max(wide, high, 1.0) / CELLS
        self.grid: dict[tuple[int, int], list[tuple[int, Side]]] = {}
        for number, side in enumerate(self.sides):
            if side is not None:
                for cell in self._cells(side.left, side.bottom, side.right, side.top):
                    self.grid.setdefault(cell, []).append((number, side))

    def _cells(self, left: float, bottom: float, right: float, top: float) -> list[tuple[int, int]]:
        i0, i1 = int((left - self.left) // self.cell), int((right - self.left) // self.cell)
        j0, j1 = int((bottom - self.bottom) // self.cell), int((top - self.bottom) // self.cell)
        return [(i, j) for i in range(i0, i1 + 1) for j in range(j0, j1 + 1)]

    def _near(self, left: float, bottom: float, right: float, top: float) -> Collection[tuple[int, Side]]:
        cells = self._cells(left, bottom, right, top)
        if len(cells) == 1:
            return self.grid.get(cells[0], ())
        return {one[0]: one for cell in cells for one in self.grid.get(cell, ())}.values()

    def _at(self, x: float, y: float) -> Collection[tuple[int, Side]]:
        """What lies in the cell of a point."""
        return self.grid.get((int((x - self.left) // self.cell), int((y - self.bottom) // self.cell)), ())

    def seen(self, start: Flat, end: Flat, own: Collection[int] = ()) -> list[Span]:
        """The shares of a line, from where to where, that no face hides but those that it lies on itself."""
        (x1, y1, w1), (x2, y2, w2) = start, end
        left, right = (x1, x2) if x1 < x2 else (x2, x1)
        bottom, top = (y1, y2) if y1 < y2 else (y2, y1)
        hidden: list[Span] = []
        for number, side in self._near(left, bottom, right, top):
            if side.left > right or side.right < left or side.bottom > top or side.top < bottom:
                continue
            first = side.a * x1 + side.b * y1 + side.c - w1 - side.margin
            last = side.a * x2 + side.b * y2 + side.c - w2 - side.margin
            if (first <= 0 and last <= 0) or number in own:
                continue
            low, high = 0.0, 1.0
            if first < 0:
                low = first / (first - last)
            elif last < 0:
                high = first / (first - last)
            hidden += _within(side, x1, y1, x2 - x1, y2 - y1, low, high)
        return rest_of(hidden)

    def covers(self, x: float, y: float) -> bool:
        """Whether any face lies at a point on paper."""
        return any(side.holds(x, y) for _, side in self._at(x, y))

    def front_at(self, x: float, y: float, beyond: float) -> tuple[int, float] | None:
        """The number of the nearest face at a point on paper, and how near it is; None where none is nearer than what is
        given."""
        best: tuple[int, float] | None = None
        for number, side in self._at(x, y):
            near = side.near(x, y)
            if near > beyond and (best is None or near >= best[1]) and side.holds(x, y):
                best = number, near
        return best

    def is_hidden(self, number: int, own: Collection[int], beyond: float) -> bool:
        """Whether one face that is flat on paper without a hollow, none of its own part, lies before the whole of a face,
        nearer by more than what is given."""
        side = self.sides[number]
        if side is None:
            return True
        fronts = self._at((side.left + side.right) / 2, (side.bottom + side.top) / 2)
        return any(
            all(front.near(x, y) > side.near(x, y) + beyond and front.depth_at(x, y) > 0 for x, y in side.ring)
            for other, front in fronts
            if front.edges and other not in own
        )

    def margin(self, number: int) -> float:
        """How much nearer a face must be than what it hides."""
        side = self.sides[number]
        return side.margin if side is not None else 0.0


def _within(side: Side, x: float, y: float, dx: float, dy: float, low: float, high: float) -> list[Span]:
    """The shares of a line between two that lie inside of a ring."""
    if side.edges:
        return _within_convex(side.edges, x, y, dx, dy, low, high)
    cuts = [low, high]
    px, py = side.ring[-1]
    for qx, qy in side.ring:
        ex, ey = qx - px, qy - py
        turn = dx * ey - dy * ex
        if abs(turn) > TINY:
            share = ((px - x) * ey - (py - y) * ex) / turn
            if low < share < high:
                on = ((px - x) * dy - (py - y) * dx) / turn
                if -1e-6 <= on <= 1 + 1e-6:
                    cuts.append(share)
        px, py = qx, qy
    cuts.sort()
    return [
        (begin, end)
        for begin, end in pairwise(cuts)
        if end - begin > 1e-7 and side.holds(x + dx * (begin + end) / 2, y + dy * (begin + end) / 2)
    ]


def _within_convex(
    edges: Sequence[Flat], x: float, y: float, dx: float, dy: float, low: float, high: float
) -> list[Span]:
    """The one stretch inside of a convex ring (Cyrus and Beck, Computers & Graphics 3, 1978)."""
    for a, b, c in edges:
        inside, gain = a * x + b * y + c, a * dx + b * dy
        if -TINY < gain < TINY:
            if inside < 0:
                return []
            continue
        share = -inside / gain
        if gain > 0:
            if share > low:
                low = share
        elif share < high:
            high = share
        if high - low < 1e-7:
            return []
    return [(low, high)]


def rest_of(hidden: list[Span]) -> list[Span]:
    """What is left of the whole."""
    if not hidden:
        return [(0.0, 1.0)]
    hidden.sort()
    found, at = [], 0.0
    for begin, end in hidden:
        if begin > at + 1e-6:
            found.append((at, begin))
        at = max(at, end)
    if at < 1 - 1e-6:
        found.append((at, 1.0))
    return found
