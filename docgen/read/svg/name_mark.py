"""The shop's name mark, a file beside the spec -> a picture in greys: pixels of a PNG file, or shapes of an SVG file."""

import math
import re
import struct
from collections.abc import Iterator
from io import BytesIO
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import box_union, grow_box, path_box, scale_path, transform_path
from docgen.geometry.shapes import Path
from docgen.geometry.vector import translation
from docgen.read.svg.svg_file import DrawingError, FileKind, Node, read_tree
from docgen.read.svg.svg_lines import Shape, gather_shapes
from docgen.read.svg.svg_shapes import Sheet, find_matrix, find_property, list_above, match_length, read_sheet
from docgen.read.words import quote_word

BYTES_MOST: Final = 2 * 1024 * 1024
PIXELS_MOST: Final = 4000
KEPT_PIXELS: Final = 1200
"""As many as 600 to the inch on two inches, which is wider than a mark is ever printed."""
RATIO_MOST: Final = 20.0
HIGH_MM: Final = 10.0
HEX: Final = r"(?a)#([0-9a-f]{3}|[0-9a-f]{6})"
FIGURES: Final = r"(?a)rgb\(\s*(\d{1,3})\s*,\s*(\d{1,3})\s*,\s*(\d{1,3})\s*\)"
PNG: Final = b"\x89PNG\r\n\x1a\n"
MARK: Final = FileKind(
    noun="name mark",
    endings=(".svg", ".png"),
    ask="an SVG or PNG file",
    bytes_most=BYTES_MOST,
    too_large="save it smaller; it is printed at the size of a thumb",
)
GREYS: Final = {
    "black": 0.0,
    "white": 1.0,
    "gray": 0.5,
    "grey": 0.5,
    "silver": 0.75,
    "red": 0.3,
    "green": 0.29,
    "blue": 0.11,
    "navy": 0.06,
    "maroon": 0.15,
    "brown": 0.37,
    "gold": 0.79,
}
"""Greys of the commonest colour names; any other colour that is not written in figures is printed black."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureShape:
    """Lines that are filled together (holes by the even-odd rule), or stroked `width_mm` wide; grey 0 black to 1."""

    paths: tuple[Path, ...]
    grey: float
    width_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture in greys, `width_mm` by `height_mm` before it is scaled, its lower left at (0, 0).

    Either `shapes`, or `columns` x `rows` pixels of one byte each (0 black), row by row from the top.
    """

    width_mm: float
    height_mm: float
    shapes: tuple[PictureShape, ...] = ()
    columns: int = 0
    rows: int = 0
    pixels: bytes = b""


def parse_name_mark(source: bytes, file: str) -> Picture:
    """The picture in the bytes of a PNG or SVG file. Raises DrawingError."""
    picture = _parse_png(source, file) if file.lower().endswith(".png") else _parse_svg(source, file)
    ratio = picture.width_mm / picture.height_mm
    if not 1 / RATIO_MOST <= ratio <= RATIO_MOST:
        what = f"{quote_word(file)} is more than {RATIO_MOST:g} times as long as it is wide"
        raise DrawingError(what, "draw it less long")
    return picture


def _parse_png(source: bytes, file: str) -> Picture:
    """Its size stands in the first chunk (PNG, ISO/IEC 15948, 11.2.2), so that nothing large is ever unpacked."""
    name = quote_word(file)
    if not source.startswith(PNG) or len(source) < 33 or source[12:16] != b"IHDR":
        raise DrawingError(f"{name} is no PNG picture", "save it as PNG, or as plain SVG")
    columns, rows = struct.unpack(">II", source[16:24])
    if not 1 <= columns <= PIXELS_MOST or not 1 <= rows <= PIXELS_MOST:
        mend = f"make it at most {PIXELS_MOST} pixels wide and high"
        raise DrawingError(f"{name} has {columns} x {rows} pixels", mend)
    return _unpack(source, name)


def _unpack(source: bytes, name: str) -> Picture:
    """The picture on white paper, in greys."""
    from PIL import Image

    try:
        with Image.open(BytesIO(source), formats=("PNG",)) as opened:
            seen = opened.convert("RGBA")
    except Exception as error:  # a damaged file makes the decoder raise nearly anything
        raise DrawingError(f"{name} is damaged", "save it again as PNG") from error
    paper = Image.new("RGBA", seen.size, "white")
    grey = Image.alpha_composite(paper, seen).convert("L")
    grey.thumbnail((KEPT_PIXELS, KEPT_PIXELS), Image.Resampling.LANCZOS)
    columns, rows = grey.size
    wide, high = seen.size
    return Picture(width_mm=HIGH_MM * wide / high, height_mm=HIGH_MM, columns=columns, rows=rows, pixels=grey.tobytes())


def _parse_svg(source: bytes, file: str) -> Picture:
    """Every visible shape as it is painted; colours become greys."""
    root = read_tree(source, file)
    sheet = read_sheet(root)
    found = gather_shapes(root, root, file, sheet, 1.0)
    painted = [item for node, paths in _group(found) for item in _paint(node, paths, sheet)]
    if not painted:
        raise DrawingError(f"nothing in {quote_word(file)} is painted", "fill its shapes, and save it again")
    reach = (grow_box(path_box(path), (item.width_mm or 0.0) / 2) for item in painted for path in item.paths)
    box = box_union(reach)
    if not (box.width > 0 and box.height > 0):
        raise DrawingError(f"{quote_word(file)} has no area", "draw it as filled shapes")
    scale, move = HIGH_MM / box.height, translation(-box.left, -box.bottom)
    shapes = tuple(
        PictureShape(
            paths=tuple(scale_path(transform_path(path, move), scale) for path in item.paths),
            grey=item.grey,
            width_mm=None if item.width_mm is None else item.width_mm * scale,
        )
        for item in painted
    )
    return Picture(width_mm=box.width * scale, height_mm=HIGH_MM, shapes=shapes)


def _group(shapes: list[Shape]) -> Iterator[tuple[Node, tuple[Path, ...]]]:
    """Each element with all its lines: they are filled together, so that an inner one is a hole."""
    nodes = {id(shape.node): shape.node for shape in shapes}
    for key, node in nodes.items():
        yield node, tuple(shape.path for shape in shapes if id(shape.node) == key)


def _paint(node: Node, paths: tuple[Path, ...], sheet: Sheet) -> Iterator[PictureShape]:
    """What an element paints: its fill, black where none is named, then its stroke (SVG 1.1, 11.2 and 11.4)."""
    fill, stroke = _inherit(node, "fill", sheet) or "black", _inherit(node, "stroke", sheet) or "none"
    if fill != "none" and node.tag != "line":
        yield PictureShape(paths=paths, grey=read_grey(fill))
    if stroke != "none":
        width = match_length(_inherit(node, "stroke-width", sheet) or "1")
        matrix = find_matrix(node, sheet)
        enlarged = math.sqrt(abs(matrix.a * matrix.d - matrix.b * matrix.c))
        width_mm = float(width[1]) * enlarged if width else enlarged
        if width_mm > 0:
            yield PictureShape(paths=paths, grey=read_grey(stroke), width_mm=width_mm)


def _inherit(node: Node, name: str, sheet: Sheet) -> str:
    """A property of the element, or of the nearest group round it that has it; small letters, "" for none."""
    found = (find_property(above, name, sheet).strip().lower() for above in list_above(node))
    return next((word for word in found if word not in ("", "inherit")), "")


def read_grey(colour: str) -> float:
    """How light a colour is, 0 to 1 (ITU-R BT.601: 0.299 red, 0.587 green, 0.114 blue); black for what is not known."""
    figures = re.fullmatch(FIGURES, colour)
    hexed = re.fullmatch(HEX, colour)
    if figures:
        red, green, blue = (min(255, int(figure)) for figure in figures.groups())
    elif hexed:
        digits = hexed[1] if len(hexed[1]) == 6 else "".join(2 * digit for digit in hexed[1])
        red, green, blue = (int(digits[k : k + 2], 16) for k in (0, 2, 4))
    else:
        return GREYS.get(colour, 0.0)
    return round((0.299 * red + 0.587 * green + 0.114 * blue) / 255, 3)
