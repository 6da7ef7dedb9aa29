"""Marks of a page in a web page: pictures and codes, held against what an own reader of SVG and Pillow find in them."""

import re
import xml.etree.ElementTree as ET
from base64 import b64decode
from io import BytesIO

import pytest
from PIL import Image

from docgen.geometry.path import polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.marks.page import CodeMark, ImageMark
from docgen.read.svg.name_mark import Picture, PictureShape
from docgen.write import write_on_web

BOX = Box(0.0, 0.0, 40.0, 30.0)
SVG = "{http://www.w3.org/2000/svg}"


def draw(mark: CodeMark | ImageMark) -> ET.Element:
    written = write_on_web([mark], BOX, "a page", 4.0)
    root = ET.fromstring(written)
    assert root.get("viewBox") == "0 -30 40 30"
    return root


def test_a_code_has_every_dark_module_once_on_a_white_ground() -> None:
    rows = ("1101", "0110", "1000", "1011")
    root = draw(CodeMark(x_mm=10.0, y_mm=5.0, size_mm=8.0, rows=rows, payload="SPEC:<A>"))
    ground, code = root.iter("rect"), root.iter("path")
    white = next(ground)
    # Four modules of white on every side (ISO/IEC 18004, 9.1), of 2 mm each.
    assert [float(white.get(name, "")) for name in ("x", "y", "width", "height")] == [2.0, -21.0, 24.0, 24.0]
    path = next(code)
    assert path.findtext("title") == "SPEC:<A>"
    assert path.get("transform") == "translate(10 -5) scale(2)"
    dark = set()
    for x, y, wide, high in re.findall(r"M(\d+) (-?\d+)h(\d+)v(\d+)h-\d+z", path.get("d", "")):
        cells = {(int(x) + i, int(y) + j) for i in range(int(wide)) for j in range(int(high))}
        assert not cells & dark
        dark |= cells
    assert dark == {(x, y - 4) for y, row in enumerate(rows) for x, held in enumerate(row) if held == "1"}


def test_a_picture_of_pixels_comes_with_them() -> None:
    picture = Picture(width_mm=0.3, height_mm=0.2, columns=3, rows=2, pixels=bytes((0, 50, 100, 150, 200, 250)))
    root = draw(ImageMark(picture=picture, x_mm=4.0, y_mm=6.0, height_mm=2.0, quarters=1))
    group, image = next(root.iter("g")), next(root.iter("image"))
    assert group.get("transform") == "translate(4 -6) rotate(-90) scale(10)"
    head, _, held = image.get("href", "").partition(",")
    assert head == "data:image/png;base64"
    with Image.open(BytesIO(b64decode(held))) as opened:
        assert (opened.size, opened.convert("L").tobytes()) == ((3, 2), picture.pixels)


@pytest.mark.parametrize(("width_mm", "look"), [(None, ("#808080", None)), (0.5, ("none", "#808080"))])
def test_a_picture_of_shapes_is_filled_or_drawn(width_mm: float | None, look: tuple[str, str | None]) -> None:
    line = polyline([Point(0, 0), Point(10, 0), Point(10, 5)])
    shape = PictureShape(paths=(line,), grey=128 / 255, width_mm=width_mm)
    root = draw(ImageMark(picture=Picture(width_mm=10, height_mm=5, shapes=(shape,)), x_mm=0, y_mm=0, height_mm=5))
    path = next(root.iter("path"))
    assert (path.get("fill"), path.get("stroke")) == look
    assert path.get("stroke-width") == (None if width_mm is None else "0.5")
