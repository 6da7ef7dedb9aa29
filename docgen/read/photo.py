"""A maker's own picture, a PNG or JPEG file beside the spec -> greys, turned right and made small."""

from typing import TYPE_CHECKING, Final

from docgen.photos import SMALLER, PhotoRefused, open_photo
from docgen.read.svg.name_mark import Picture
from docgen.read.svg.svg_file import DrawingError, FileKind
from docgen.read.words import quote_word

if TYPE_CHECKING:
    from PIL.Image import Image

BYTES_MOST: Final = 8 * 1024 * 1024
PIXELS_MOST: Final = 25_000_000
KEPT_PIXELS: Final = 720
"""On the longer side: some 200 to the inch as wide as a picture is ever printed."""
BAND_ROWS: Final = 64
"""Rows of what is kept that are made at a time."""
RATIO_MOST: Final = 8.0
PHOTO: Final = FileKind(
    noun="picture",
    endings=(".png", ".jpg", ".jpeg"),
    ask="a PNG or JPEG file",
    bytes_most=BYTES_MOST,
    too_large=SMALLER,
)


def parse_photo(source: bytes, file: str) -> Picture:
    """The picture in the bytes of a PNG or JPEG file, 0.1 mm a pixel. Raises DrawingError."""
    name = quote_word(file)
    try:
        with open_photo(source, name, PIXELS_MOST) as opened:
            _check_shape(opened.size, name)
            grey = _make_grey(opened)
    except PhotoRefused as error:
        raise DrawingError(error.what, error.mend) from error
    columns, rows = grey.size
    return Picture(width_mm=columns / 10, height_mm=rows / 10, columns=columns, rows=rows, pixels=grey.tobytes())


def _check_shape(size: tuple[int, int], name: str) -> None:
    if max(size) > RATIO_MOST * min(size):
        what = f"{name} is more than {RATIO_MOST:g} times as long as it is wide"
        raise PhotoRefused(what, "cut it to what matters")


def _make_grey(opened: "Image") -> "Image":
    """Small first, then turned as the camera was held, then on white paper."""
    from PIL import Image, ImageOps

    opened.draft("L", (2 * KEPT_PIXELS, 2 * KEPT_PIXELS))
    is_clear = opened.mode in ("LA", "PA", "RGBA") or "transparency" in opened.info
    small = _make_smaller(opened, "RGBA" if is_clear else "L")
    small.thumbnail((KEPT_PIXELS, KEPT_PIXELS), Image.Resampling.LANCZOS)
    small.info["exif"] = opened.info.get("exif", b"")
    turned = ImageOps.exif_transpose(small)
    if is_clear:
        paper = Image.new("RGBA", turned.size, "white")
        turned = Image.alpha_composite(paper, turned)
    return turned.convert("L")


def _make_smaller(opened: "Image", mode: str) -> "Image":
    """The picture in that mode, as small as whole pixels joined to one leave it twice what is kept, or larger. Band by
    band, so that a large one is in memory once, as it comes from its file, and never again in another mode."""
    from PIL import Image

    joined = max(1, max(opened.size) // (2 * KEPT_PIXELS))
    columns, rows = opened.size
    small = Image.new(mode, (-(-columns // joined), -(-rows // joined)))
    for top in range(0, rows, joined * BAND_ROWS):
        band = opened.crop((0, top, columns, min(rows, top + joined * BAND_ROWS)))
        if band.mode.startswith("I"):
            band = band.convert("I").point(lambda value: value / 256).convert("L")
        band = band.convert(mode)
        small.paste(band.reduce(joined) if joined > 1 else band, (0, top // joined))
    return small
