"""A photo, a scan or a PDF's page as a picture -> the texts of all codes on it.

Needs the extra packages of `docgen[scan]`; nothing else of docgen does.
"""

from __future__ import annotations

import math
import time
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeVar

from docgen.bounded import SECONDS, TooMuch, run_within
from docgen.write import NotReadable, explain

if TYPE_CHECKING:
    from PIL.Image import Image

Found = TypeVar("Found")
PICTURES: Final = (".png", ".jpg", ".jpeg")
MOST_PIXELS: Final = 80_000_000
MOST_SIDE: Final = 65_535
"""Pixels of a side that the reader of codes takes."""

MOST_BYTES: Final = 160_000_000
"""Of a picture as it is unpacked, in all its colours."""

LAST_S: Final = 2
"""Processor seconds that are kept for the last page, before the time is up."""

LARGE_SIDE: Final = 9000
DPI: Final = 200
LEAST_DPI: Final = 75
"""Codes of ours are read from here on."""
MOST_PAGE: Final = 60_000_000
MOST_DRAWN: Final = 1_500_000_000
"""Pixels of one page of a PDF, and of all its pages; the latter are some 380 letters."""
TYPE_IT: Final = "type what is printed beside its code"


class ScanMissing(RuntimeError):
    """The packages that read pictures are not installed; the message says how to get them."""


def read_picture_codes(path: Path) -> tuple[str, ...]:
    """The texts of all codes on a picture, each once, in the order found. Raises NotReadable, ScanMissing."""
    return _within(_read_picture, path)


def _within(read: Callable[..., Found], path: Path, *given: float, seconds: float = SECONDS) -> Found:
    """What is read within what is given for one file. Raises NotReadable, and what `read` raises."""
    try:
        return run_within(read, path, *given, seconds=seconds)
    except TooMuch as error:
        raise NotReadable(
            f"{path} takes more {error} to read than docgen gives to one file; cut out the part with the code, or {TYPE_IT}"
        ) from error
    except OSError as error:
        raise NotReadable(f"no process can be had to read {path}: {explain(error)}; try again") from error


def _read_picture(path: Path) -> tuple[str, ...]:
    image_module, _ = _load()
    image_module.MAX_IMAGE_PIXELS = MOST_PIXELS
    too_large = (image_module.DecompressionBombError, image_module.DecompressionBombWarning)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", image_module.DecompressionBombWarning)
            with image_module.open(path, formats=("PNG", "JPEG")) as opened:
                _check_sides(path, opened.size)
                opened.draft("L", opened.size)  # a JPEG gives its greys at once
                if opened.width * opened.height * len(opened.getbands()) > MOST_BYTES:
                    raise NotReadable(
                        f"{path} has {opened.width:,} x {opened.height:,} pixels in colour, too many to be read; "
                        "save it smaller, or in greys"
                    )
                picture = opened.convert("L")
    except too_large as error:
        raise NotReadable(
            f"{path} is too large: docgen reads pictures of up to {MOST_PIXELS // 1_000_000} million pixels; "
            "save it smaller"
        ) from error
    except (NotReadable, MemoryError):
        raise
    except Exception as error:  # a damaged file makes the library raise nearly anything
        raise NotReadable(f"{path} is damaged, or no picture in PNG or JPEG") from error
    return read_codes(picture)


def _check_sides(path: Path, sides: tuple[int, int]) -> None:
    if max(sides) > MOST_SIDE:
        raise NotReadable(
            f"{path} has {sides[0]} x {sides[1]} pixels, and a side of at most {MOST_SIDE} can be read; "
            "cut out the part with the code"
        )


def read_codes(picture: Image) -> tuple[str, ...]:
    """The texts of all codes on a grey picture; tried again at twice the size when none is found."""
    _, reader = _load()
    for size in _sizes(picture):
        try:
            found = reader.read_barcodes(size, formats=reader.BarcodeFormat.QRCode)
        except TypeError as error:  # a picture that it has no memory for is none to it
            raise MemoryError from error
        texts = tuple(dict.fromkeys(code.text for code in found if code.text))
        if texts:
            return texts
    return ()


def _sizes(picture: Image) -> Iterator[Image]:
    """The picture as it is; at twice the size; and, of a sharp and large one, at half."""
    yield picture
    width, height = picture.size
    if max(width, height) * 2 <= LARGE_SIDE:
        yield picture.resize((width * 2, height * 2))
    if min(width, height) > 1500:
        yield picture.resize((width // 2, height // 2))


def read_page_codes(path: Path, pages: int, seconds: float = SECONDS) -> tuple[tuple[str, ...], int]:
    """The codes on the pages of a PDF, drawn as pictures, and how many pages were looked at before the time was up.
    Raises NotReadable, ScanMissing."""
    return _within(_read_pages, path, pages, seconds - LAST_S, seconds=seconds)


def _read_pages(path: Path, pages: int, seconds: float) -> tuple[tuple[str, ...], int]:
    _load()
    try:
        import pypdfium2
    except ImportError as error:
        raise ScanMissing(missing_words("the pages of this PDF")) from error
    texts: list[str] = []
    looked_at, began = 0, time.process_time()
    try:
        document = pypdfium2.PdfDocument(path)
        try:
            for number, scale in enumerate(_choose_scales(path, document, pages)):
                if number and time.process_time() - began > seconds:
                    break
                drawn = document[number].render(scale=scale, grayscale=True)
                texts += read_codes(drawn.to_pil().convert("L"))
                looked_at += 1
        finally:
            document.close()
    except pypdfium2.PdfiumError as error:
        raise NotReadable(f"{path} is damaged, or no PDF") from error
    return tuple(dict.fromkeys(texts)), looked_at


def _choose_scales(path: Path, document: Any, pages: int) -> tuple[float, ...]:
    """Pixels to a point for each page, all weighed before the first is drawn. Raises NotReadable."""
    scales, sum_of_pixels = [], 0.0
    for number in range(min(pages, len(document))):
        width, height = document.get_page_size(number)
        scale = choose_scale(width, height)
        if scale is None:
            size = " x ".join(f"{side / 72:,.0f} in" for side in (width, height))
            raise NotReadable(f"page {number + 1} of {path} is too large to be drawn: {size}; {TYPE_IT}")
        scales.append(scale)
        sum_of_pixels += width * height * scale * scale
    if sum_of_pixels > MOST_DRAWN:
        raise NotReadable(
            f"{path} has more pages than docgen draws to find a code on; save one page of it as a PDF, or {TYPE_IT}"
        )
    return tuple(scales)


def choose_scale(width: float, height: float) -> float | None:
    """Pixels to a point for a page of this size in points; None where too few would be left to read a code by."""
    most = math.sqrt(MOST_PAGE / max(width * height, 1.0))
    scale = min(DPI / 72, most)
    return scale if scale >= LEAST_DPI / 72 else None


def _load() -> tuple[Any, Any]:
    """The picture library and the code reader. Raises ScanMissing."""
    try:
        import zxingcpp
        from PIL import Image
    except ImportError as error:
        raise ScanMissing(missing_words("a picture")) from error
    return Image, zxingcpp


def missing_words(what: str) -> str:
    """What to do when the packages are not there."""
    return (
        f'to read codes from {what}, docgen needs three more packages; in its own folder: pip install ".[scan]"\n'
        "or type what is printed beside the code: docgen trace SPEC:..."
    )
