"""The light on a flat ground: a smooth surface for each colour, fitted to what belongs to it."""

from typing import Final

import numpy as np
import numpy.typing as npt

from docgen.scan.photo import Pixels

Mask = npt.NDArray[np.bool_]
ROUNDS: Final = 6
FAR: Final = 3.0
"""What is so many times as far off as is usual belongs to something else."""

LEAST_NOISE: Final = 1.0
SAMPLES: Final = 20_000
RIM: Final = 0.03
EVERYWHERE: Final = slice(None)


class Ground:
    """A colour that changes slowly over the picture, as light falls off: of second degree across and down; `noise` is
    how far pixels usually lie from it, in all three colours together."""

    def __init__(self, factors: npt.NDArray[np.float64], size: tuple[int, int], noise: float) -> None:
        self.factors, self.size, self.noise = factors, size, noise

    def at(self, rows: npt.NDArray[np.float64], columns: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """The colour at these places."""
        found: npt.NDArray[np.float64] = _terms(rows, columns, self.size) @ self.factors
        return found

    def within(self, rows: slice, columns: slice) -> Pixels:
        """The colour of a part of the picture."""
        high, wide = self.size
        y = (2 * np.arange(high)[rows] / (high - 1) - 1)[:, None, None]
        x = (2 * np.arange(wide)[columns] / (wide - 1) - 1)[None, :, None]
        one, across, down, squared, both, over = self.factors
        found = one + down * y + over * y * y + (across + both * y) * x + squared * x * x
        return np.asarray(found, dtype=np.float32)


def _terms(
    rows: npt.NDArray[np.float64], columns: npt.NDArray[np.float64], size: tuple[int, int]
) -> npt.NDArray[np.float64]:
    y, x = 2 * rows / (size[0] - 1) - 1, 2 * columns / (size[1] - 1) - 1
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)


def fit_ground(pixels: Pixels, mask: Mask) -> Ground:
    """The surface through the pixels of a mask; what lies far off it is left out, again and again."""
    rows, columns = np.nonzero(mask)
    step = max(1, len(rows) // SAMPLES)
    rows, columns = rows[::step], columns[::step]
    colours = pixels[rows, columns].astype(np.float64)
    terms = _terms(rows.astype(np.float64), columns.astype(np.float64), mask.shape)
    kept = np.ones(len(rows), dtype=bool)
    for _ in range(ROUNDS):
        factors = np.linalg.lstsq(terms[kept], colours[kept], rcond=None)[0]
        off = np.sqrt(((colours - terms @ factors) ** 2).sum(axis=1))
        noise = max(LEAST_NOISE, float(np.median(off[kept])))
        kept = off <= FAR * noise
    return Ground(np.asarray(factors, dtype=np.float64), (mask.shape[0], mask.shape[1]), noise)


def find_floor(pixels: Pixels) -> Ground:
    """The floor: what lies along the rim of the picture, then all that is like it."""
    high, wide = pixels.shape[:2]
    rim = max(4, round(RIM * min(high, wide)))
    mask = np.ones((high, wide), dtype=bool)
    mask[rim:-rim, rim:-rim] = False
    for _ in range(3):
        ground = fit_ground(pixels, mask)
        off = np.sqrt(((pixels - ground.within(EVERYWHERE, EVERYWHERE)) ** 2).sum(axis=2))
        mask = off <= FAR * ground.noise
    return ground
