"""The bytes of a photo -> its pixels, turned as the camera was held and made small enough to look through."""

import math
import warnings
from io import BytesIO
from typing import Any, Final

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps

from docgen.scan.words import ScanRefused

Pixels = npt.NDArray[np.float32]
"""Rows of columns of red, green and blue, 0 to 255."""

PIXELS_MOST: Final = 50_000_000
UNPACKED_MOST: Final = 120_000_000
SIDE_MOST: Final = 16_000
SIDE_LEAST: Final = 400
KEPT: Final = 2000
KEPT_IN_ALL: Final = 3_000_000
"""Pixels on the longer side, and in all, that are looked through at most: what memory there is room for."""

SCANS_MOST: Final = 30
SMALLER: Final = "save it smaller; 2,000 pixels wide is plenty"


def open_photo(source: bytes, name: str) -> "Image.Image":
    """The photo in colour, no longer than `KEPT`. Raises ScanRefused."""
    if source.count(b"\xff\xda") > SCANS_MOST and not source.startswith(b"\x89PNG"):
        raise ScanRefused(f"{name} is saved in too many scans", "save it again as plain JPEG")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of Pillow about size, which is judged below
        try:
            with Image.open(BytesIO(source), formats=("PNG", "JPEG")) as opened:
                _check_size(opened.size, name)
                opened.draft("RGB", (KEPT, KEPT))
                if opened.width * opened.height * len(opened.getbands()) > UNPACKED_MOST:
                    raise ScanRefused(f"{name} has too many pixels", SMALLER)
                return _make_small(opened)
        except (ScanRefused, MemoryError):
            raise
        except Image.DecompressionBombError as error:
            raise ScanRefused(f"{name} has too many pixels", SMALLER) from error
        except Exception as error:  # a damaged file makes the decoder raise nearly anything
            raise ScanRefused(f"{name} is damaged, or no PNG or JPEG", "save it again as PNG or JPEG") from error


def _check_size(size: tuple[int, int], name: str) -> None:
    columns, rows = size
    if columns * rows > PIXELS_MOST or max(size) > SIDE_MOST:
        what = f"{name} has {columns:,} x {rows:,} pixels; at most {PIXELS_MOST // 1_000_000} million are taken"
        raise ScanRefused(what, SMALLER)
    if max(size) < SIDE_LEAST:
        raise ScanRefused(f"{name} has only {columns} x {rows} pixels", "take it again, larger")


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
