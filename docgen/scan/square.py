"""Whether a patch is a square that is seen aslant, and where its corners are, to a small part of a pixel."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from docgen.scan.shapes import Points, area_of

LEAST_SIDE: Final = 30.0
"""Pixels. A shorter side tells too little of how the picture is tilted."""

AWAY: Final = 0.05
AWAY_PIXELS: Final = 4
"""So much of a side at either end is left out of its line, and so many pixels at least: corners are worn, and softened by
the picture. No more than that: the ends tell most of how a side is turned, and that of how the picture is tilted."""

CROOKED: Final = 0.012
CROOKED_PIXELS: Final = 0.8
MISSED: Final = 0.05
LONGEST: Final = 2.2
CROSSED: Final = 1.5
"""A side that crosses no more rows of pixels lies nearly as they do. Our choice."""

STRETCH, LEAST_STRETCHES = 8, 4
ALIKE: Final = 1.5
"""Points of a side that hold what one of its own would, at least: neighbours are softened into each other."""


@dataclass(frozen=True, slots=True)
class Quad:
    """Four sides as lines through `middles` along `ways`, in pixels; `off` is how far the points of a side usually lie
    from it, `counts` how many there are that do so each by itself, and `reaches` how far from first to last it is."""

    middles: Points
    ways: Points
    off: npt.NDArray[np.float64]
    counts: npt.NDArray[np.float64]
    reaches: npt.NDArray[np.float64]

    @property
    def corners(self) -> Points:
        return cross_sides(self.middles, self.ways)

    @property
    def sides(self) -> npt.NDArray[np.float64]:
        corners = self.corners
        found: npt.NDArray[np.float64] = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
        return found


def cross_sides(middles: Points, ways: Points) -> Points:
    """The corner at the end of each side, where the next one crosses it."""
    corners = []
    for k in range(4):
        (px, py), (ux, uy) = middles[k], ways[k]
        (qx, qy), (vx, vy) = middles[(k + 1) % 4], ways[(k + 1) % 4]
        across = ux * vy - uy * vx
        t = ((qx - px) * vy - (qy - py) * vx) / across
        corners.append((px + t * ux, py + t * uy))
    return np.array(corners)


def fit_quad(line: Points, covered: Points) -> Quad | None:
    """The four sides of a line that is closed, which `covered` gives in another way (`trace_edge`); None where it is no
    four straight ones."""
    ends = _rough_corners(line)
    if ends is None:
        return None
    middles, ways, off, counts, reaches = [], [], [], [], []
    for first, last in zip(ends, (*ends[1:], ends[0]), strict=True):
        across = np.abs(line[last] - line[first]).min()
        side = np.roll(line if across > CROSSED else covered, -first, axis=0)[: (last - first) % len(line) + 1]
        if len(side) < LEAST_SIDE / 2:
            return None
        cut = max(AWAY_PIXELS, round(AWAY * len(side)))
        side = side[cut : len(side) - cut]
        middle, way, usual, count = _fit_line(side)
        middles.append(middle)
        ways.append(way)
        off.append(usual)
        counts.append(count)
        reaches.append(float(np.hypot(*(side[-1] - side[0]))))
    quad = Quad(np.array(middles), np.array(ways), np.array(off), np.array(counts), np.array(reaches))
    return quad if _is_quad(quad, line) else None


def _rough_corners(line: Points) -> tuple[int, int, int, int] | None:
    """Where the corners are: two that are farthest apart, and on either side what is farthest from the line between."""
    thin = line[:: max(1, len(line) // 400)]
    apart = ((thin[:, None, :] - thin[None, :, :]) ** 2).sum(axis=2)
    one, other = divmod(int(apart.argmax()), len(thin))
    (ax, ay), (bx, by) = thin[one], thin[other]
    beside = (line[:, 0] - ax) * (by - ay) - (line[:, 1] - ay) * (bx - ax)
    found = sorted(
        {
            int(((line - thin[one]) ** 2).sum(axis=1).argmin()),
            int(((line - thin[other]) ** 2).sum(axis=1).argmin()),
            int(beside.argmin()),
            int(beside.argmax()),
        }
    )
    return (found[0], found[1], found[2], found[3]) if len(found) == 4 else None


def _fit_line(points: Points) -> tuple[Points, Points, float, float]:
    """The straight line nearest to the points, without those that lie far off: a point of it, its way, how far they
    usually lie off, how many of them do so each by itself."""
    kept = np.ones(len(points), dtype=bool)
    for _ in range(4):
        middle = points[kept].mean(axis=0)
        way = np.linalg.svd(points[kept] - middle, full_matrices=False)[2][0]
        off = (points - middle) @ np.array([-way[1], way[0]])
        usual = max(0.02, float(np.sqrt((off[kept] ** 2).mean())))
        kept = np.abs(off) <= 2.5 * usual
    along = points[-1] - points[0]
    return middle, way if float(way @ along) > 0 else -way, usual, float(kept.sum()) / _count_alike(off[kept])


def _count_alike(off: npt.NDArray[np.float64]) -> float:
    """How many neighbours lie off alike, as coarse texture makes them: by how much more the means of stretches scatter than
    they would, did each point by itself."""
    stretches = off[: len(off) // STRETCH * STRETCH].reshape(-1, STRETCH)
    if len(stretches) < LEAST_STRETCHES:
        return ALIKE
    return max(ALIKE, STRETCH * float(stretches.mean(axis=1).var()) / max(1e-9, float(stretches.var())))


def _is_quad(quad: Quad, line: Points) -> bool:
    sides = quad.sides
    if not np.isfinite(sides).all() or sides.max() > LONGEST * max(1e-9, sides.min()):
        return False
    if (quad.off > np.maximum(CROOKED_PIXELS, CROOKED * sides)).any():
        return False
    return abs(area_of(quad.corners) / max(1.0, area_of(line)) - 1) < MISSED


def find_plane(corners: Points, side_mm: float) -> npt.NDArray[np.float64]:
    """The matrix that takes pixels to mm on the floor, in which the corners are those of a square, y going up."""
    low_left = int(np.argmin(corners[:, 0] - corners[:, 1]))
    ordered = np.roll(corners, -low_left, axis=0)
    aims = np.array([(0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0)]) * side_mm  # clockwise, from below on the left
    rows = []
    for (x, y), (u, v) in zip(ordered, aims, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    system = np.array(rows)
    found = np.linalg.solve(system[:, :8], system[:, 8])
    return np.append(found, 1.0).reshape(3, 3)


def rectify(plane: npt.NDArray[np.float64], points: Points) -> Points:
    """The points on the floor, in mm."""
    flat = np.column_stack([points, np.ones(len(points))]) @ plane.T
    found: Points = flat[:, :2] / flat[:, 2:]
    return found


def stand_upright(plane: npt.NDArray[np.float64], about: Points) -> npt.NDArray[np.float64]:
    """The same plane, turned so that what is to the right of a place on the picture is to the right of it on the floor."""
    here, right = rectify(plane, np.array([about, about + np.array([1.0, 0.0])]))
    x, y = (right - here) / np.hypot(*(right - here))
    turned: npt.NDArray[np.float64] = np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, 1.0]]) @ plane
    return turned


UNEVEN: Final = 0.12
FOCAL: Final = tuple(0.45 * 1.1**k for k in range(25))
"""Focal lengths of cameras, in longer sides of the picture."""


def could_be_square(plane: npt.NDArray[np.float64], size: tuple[int, int]) -> bool:
    """Whether a camera that looks through the middle of the picture can have seen a square so: for some focal length
    its sides are about equal and at right angles (Zhang, "A flexible new technique for camera calibration", 2000; from
    memory)."""
    high, wide = size
    to_pixels = np.linalg.inv(plane)
    least = math.inf
    for share in FOCAL:
        focal = share * max(size)
        lens = np.array([[focal, 0, wide / 2], [0, focal, high / 2], [0, 0, 1.0]])
        one, other = (np.linalg.solve(lens, to_pixels[:, k]) for k in (0, 1))
        length, width = float(np.linalg.norm(one)), float(np.linalg.norm(other))
        least = min(least, max(abs(length / width - 1), abs(float(one @ other)) / (length * width)))
    return least <= UNEVEN
