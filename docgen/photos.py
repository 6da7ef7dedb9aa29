"""A stranger's photo, a PNG or JPEG file, opened for what is done with its pixels: what it claims is held against the
bounds before anything is unpacked, and whatever a damaged file makes the decoder raise is told as that."""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from PIL.Image import Image

SIDE_MOST: Final = 16_000
SCANS_MOST: Final = 30
"""Of a JPEG that comes in finer and finer scans; a file of very many would take hours."""
SCAN: Final = b"\xff\xda"
SMALLER: Final = "save it smaller; 2,000 pixels wide is plenty"


class PhotoRefused(ValueError):
    """What is wrong with a photo, in `what`, and what would mend it, in `mend`."""

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(what, mend)
        self.what, self.mend = what, mend


@contextmanager
def open_photo(source: bytes, name: str, pixels_most: int) -> Iterator["Image"]:
    """The picture in the bytes of a file called `name`, with its size known and nothing unpacked yet.

    Raises PhotoRefused, also for what fails while it is used.
    """
    from PIL import Image

    if source.count(SCAN) > SCANS_MOST and not source.startswith(b"\x89PNG"):
        raise PhotoRefused(f"{name} is saved in too many scans", "save it again as plain JPEG")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of Pillow about size, which is judged below
        try:
            with Image.open(BytesIO(source), formats=("PNG", "JPEG")) as opened:
                _check_size(opened.size, name, pixels_most)
                yield opened
        except (PhotoRefused, MemoryError):
            raise
        except Image.DecompressionBombError as error:
            raise PhotoRefused(f"{name} has too many pixels", SMALLER) from error
        except Exception as error:  # a damaged file makes the decoder raise nearly anything
            what = f"{name} is damaged, or no PNG or JPEG"
            raise PhotoRefused(what, "save it again as PNG or JPEG") from error


def _check_size(size: tuple[int, int], name: str, pixels_most: int) -> None:
    columns, rows = size
    if columns * rows > pixels_most or max(size) > SIDE_MOST:
        most = f"at most {pixels_most // 1_000_000} million are taken"
        raise PhotoRefused(f"{name} has {columns:,} x {rows:,} pixels; {most}", SMALLER)
