"""How what is marked on a piece goes with it: moved or turned over, and carried to a smaller piece. mm."""

from __future__ import annotations

from docgen.classes import dataclass
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import SWAPPED
from docgen.geometry.path import path_length, points_at, transform_path
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import Transform, subtract, transform_point


@dataclass(frozen=True, slots=True)
class Move:
    """A rigid move of a piece; `swaps_sides` where left and right change places in the names of its edges, as in a
    mirrored rectangle."""

    by: Transform
    swaps_sides: bool = False

    def point(self, at: Point) -> Point:
        return transform_point(at, self.by)

    def vector(self, way: Point) -> Point:
        return subtract(self.point(way), self.point(Point(0.0, 0.0)))

    def path(self, path: Path) -> Path:
        return transform_path(path, self.by)

    def edges(self, names: str) -> str:
        """Names of edges, with spaces between them."""
        return " ".join(SWAPPED.get(name, name) for name in names.split()) if self.swaps_sides else names


@dataclass(frozen=True, slots=True)
class Inset:
    """A piece smaller than its model by `by_mm` all round: its closed `shape`, in the model's coordinates."""

    shape: Path
    by_mm: float

    def holds(self, *points: Point) -> bool:
        """Whether all points lie on the smaller piece."""
        return all(is_inside(self.shape, at) for at in points)

    def holds_line(self, path: Path) -> bool:
        """Whether the line does, judged at 24 points of it."""
        step_mm = path_length(path) / 24
        return self.holds(*(at for at, _ in points_at(path, ((k + 0.5) * step_mm for k in range(24)))))
