"""Photos of flat things on a floor, as a camera without faults sees them: known outlines by a known perspective, with
light that falls off, texture and noise.

A point of the floor goes to a pixel by the pinhole model (Hartley, Zisserman, "Multiple View Geometry", 2nd ed., 6.1; from
memory). How much of a pixel lies inside an outline is measured in 8 lines of it, exactly along each.
"""

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image

Shape = Sequence[tuple[float, float]]
LINES = 8


@dataclass(frozen=True)
class Camera:
    """Tilted by so many degrees towards `towards`, turned about its own axis, looking at `at` (mm) from a distance that
    shows `across_mm` on the longer side; `focal` in longer sides of the picture."""

    tilt: float = 0.0
    towards: float = 0.0
    turn: float = 0.0
    at: tuple[float, float] = (0.0, 0.0)
    across_mm: float = 3000.0
    focal: float = 0.8
    size: tuple[int, int] = (1200, 900)

    def see(self, points: Shape) -> np.ndarray:
        """Where points of the floor in mm come to lie, in pixels, y down, the middle of the first pixel at 0, 0."""
        wide, high = self.size
        focal = self.focal * max(self.size)
        away = self.across_mm * self.focal
        tilt, towards, turn = (math.radians(angle) for angle in (self.tilt, self.towards, self.turn))
        floor = np.asarray(points, dtype=float) - np.array(self.at)
        x, y = (floor @ _turning(towards).T).T
        u, v, deep = x, y * math.cos(tilt), away + y * math.sin(tilt)
        seen = np.stack([focal * u / deep, focal * v / deep], axis=1) @ _turning(turn).T
        return np.stack([(wide - 1) / 2 + seen[:, 0], (high - 1) / 2 - seen[:, 1]], axis=1)


def _turning(angle: float) -> np.ndarray:
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def cover(outline: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    """The share of every pixel that lies inside an outline in pixels."""
    wide, high = size
    found = np.zeros((high, wide))
    ax, ay = (outline + 0.5).T
    bx, by = np.roll(outline + 0.5, -1, axis=0).T
    for row in range(max(0, int(ay.min())), min(high, int(ay.max()) + 1)):
        for line in range(LINES):
            y = row + (line + 0.5) / LINES
            met = (ay <= y) != (by <= y)
            xs = np.sort(ax[met] + (y - ay[met]) / (by[met] - ay[met]) * (bx[met] - ax[met])).clip(0, wide - 1)
            for left, right in zip(xs[::2], xs[1::2], strict=True):
                first, last = int(left), int(right)
                found[row, first:last] += 1
                found[row, first] -= left - first
                found[row, last] += right - last
    return found / LINES


def photograph(
    camera: Camera,
    things: Sequence[tuple[Shape, tuple[float, float, float]]],
    floor: tuple[float, float, float] = (168.0, 165.0, 158.0),
    *,
    noise: float = 2.0,
    texture: float = 3.0,
    falloff: float = 0.15,
    seed: int = 1,
) -> np.ndarray:
    """The pixels of a photo; `things` are outlines in mm with their colours, `falloff` how much darker one side is."""
    wide, high = camera.size
    chance = np.random.default_rng(seed)
    picture = np.broadcast_to(np.array(floor, dtype=float), (high, wide, 3)).copy()
    picture += texture * _grain(chance, high, wide, 3)[..., None]
    for outline, colour in things:
        share = cover(camera.see(outline), camera.size)[..., None]
        own = np.array(colour) + texture * _grain(chance, high, wide, 5)[..., None]
        picture = picture * (1 - share) + own * share
    x, y = np.linspace(-0.5, 0.5, wide)[None, :], np.linspace(-0.5, 0.5, high)[:, None]
    picture *= (1 + falloff * (x + 0.6 * y))[..., None]
    picture += noise * chance.standard_normal(picture.shape)
    return np.clip(picture, 0, 255)


def _grain(chance: np.random.Generator, high: int, wide: int, coarse: int) -> np.ndarray:
    """Speckles some pixels wide."""
    small = chance.standard_normal((high // coarse + 2, wide // coarse + 2))
    return np.repeat(np.repeat(small, coarse, axis=0), coarse, axis=1)[:high, :wide]


def save_jpeg(picture: np.ndarray, quality: int = 90) -> bytes:
    written = io.BytesIO()
    Image.fromarray(np.rint(picture).astype(np.uint8)).save(written, "JPEG", quality=quality)
    return written.getvalue()


def square(side_mm: float, at: tuple[float, float], turn: float = 0.0) -> list[tuple[float, float]]:
    """A square about its middle, turned by some degrees."""
    half = side_mm / 2
    turned = np.array([(-half, -half), (half, -half), (half, half), (-half, half)]) @ _turning(math.radians(turn)).T
    return [(x + at[0], y + at[1]) for x, y in turned]
