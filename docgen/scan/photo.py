"""The bytes of a photo -> its pixels, turned as the camera was held and made small enough to look through."""

import math
from typing import Any, Final

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps

from docgen.photos import SMALLER, PhotoRefused, open_photo
from docgen.scan.words import ScanRefused

Pixels = npt.NDArray[np.float32]
"""Rows of columns of red, green and blue, 0 to 255."""

PIXELS_MOST: Final = 50_000_000
UNPACKED_MOST: Final = 120_000_000
SIDE_LEAST: Final = 400
KEPT: Final = 2000
KEPT_IN_ALL: Final = 3_000_000
"""Pixels on the longer side, and in all, that are looked through at most: what memory there is room for."""


def read_photo(source: bytes, name: str) -> "Image.Image":
    """The photo in colour, no longer than `KEPT`. Raises ScanRefused."""
    try:
        with open_photo(source, name, PIXELS_MOST) as opened:
            _check_size(opened.size, name)
            opened.draft("RGB", (KEPT, KEPT))
            if opened.width * opened.height * len(opened.getbands()) > UNPACKED_MOST:
                raise PhotoRefused(f"{name} has too many pixels", SMALLER)
            return _make_small(opened)
    except PhotoRefused as error:
        raise ScanRefused(error.what, error.mend) from error


def _check_size(size: tuple[int, int], name: str) -> None:
    columns, rows = size
    if max(size) < SIDE_LEAST:
        raise PhotoRefused(f"{name} has only {columns} x {rows} pixels", "take it again, larger")


def _make_small(opened: "Image.Image") -> "Image.Image":
    """Each pixel the mean of those that it stands for, so that every edge stays where it is, then turned upright."""
    plain = opened.convert("RGB")
    columns, rows = plain.size
    share = min(1.0, KEPT / max(plain.size), math.sqrt(KEPT_IN_ALL / (columns * rows)))
    small = plain
    if share < 1:
        small = plain.resize((int(columns * share), int(rows * share)), Image.Resampling.BOX)
    small.info["exif"] = opened.info.get("exif", b"")
    turned: Any = ImageOps.exif_transpose(small)
    return Image.fromarray(np.asarray(turned))


def take_pixels(photo: "Image.Image") -> Pixels:
    return np.asarray(photo, dtype=np.float32)


def soften(pixels: Pixels, by: int) -> Pixels:
    """Every pixel the mean of those up to `by` away, across and down."""
    for axis in (0, 1):
        edged = np.pad(pixels, [(by + 1, by) if k == axis else (0, 0) for k in range(pixels.ndim)], mode="edge")
        sums = np.cumsum(edged, axis=axis, dtype=np.float64)
        size = pixels.shape[axis]
        high = np.take(sums, range(2 * by + 1, 2 * by + 1 + size), axis=axis)
        pixels = ((high - np.take(sums, range(size), axis=axis)) / (2 * by + 1)).astype(np.float32)
    return pixels
