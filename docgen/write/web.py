"""Marks -> the SVG of a web page, one unit to the mm: what stands on paper, as a browser shows it.

Source of the format: W3C, Scalable Vector Graphics (SVG) 1.1, Second Edition, chapters 5, 7, 8, 9, 10 and 14; pictures
stand in it by RFC 2397.
"""

from base64 import b64encode
from collections.abc import Iterable, Iterator
from typing import Final

from docgen.geometry.shapes import Box, Path, Point
from docgen.pages.marks.page import ClipMark, CodeMark, ImageMark, Mark, PathMark, StampMark, Stroke, TextMark
from docgen.read import Picture
from docgen.write.pdf import merge_modules, quiet_box
from docgen.write.png import write_png
from docgen.write.svg import attribute, number, path_data, shown_text, text_element

GREYS: Final = 255


def draw_on_web(marks: Iterable[Mark], box: Box, title: str, px_per_mm: float) -> str:
    """One `svg` element that shows what lies in the box, so large; its title is what a reader for the blind says."""
    wide, high = number(box.width * px_per_mm), number(box.height * px_per_mm)
    view = _view(box)
    inner = "".join(line for mark in marks for line in _draw(mark))
    return (
        f'<svg width="{wide}" height="{high}" viewBox="{view}" role="img" aria-label="{attribute(title)}">{inner}</svg>'
    )


def _view(box: Box) -> str:
    return f"{number(box.left)} {number(-box.top)} {number(box.width)} {number(box.height)}"


def _draw(mark: Mark) -> Iterator[str]:
    """One mark; y is turned about 0, so that marks may be moved by a plain shift."""
    match mark:
        case PathMark():
            yield draw_path(mark.path, mark.stroke, mark.fill)
        case TextMark():
            yield text_element(mark, mark.start, 0.0, _grey(mark.grey))
        case StampMark():
            inner = "".join(draw_path(one.path, one.stroke, one.fill) for one in mark.marks)
            yield from (_moved(inner, shift) for shift in mark.shifts)
        case CodeMark():
            yield _draw_code(mark)
        case ClipMark(box=box):
            inner = "".join(line for one in mark.marks for line in _draw(one))
            size = f'width="{number(box.width)}" height="{number(box.height)}" viewBox="{_view(box)}"'
            moved = _moved(inner, Point(mark.dx_mm, mark.dy_mm))
            yield f'<svg x="{number(box.left)}" y="{number(-box.top)}" {size}>{moved}</svg>'
        case ImageMark():
            yield _draw_image(mark)


def _moved(inner: str, by: Point) -> str:
    return f'<g transform="translate({number(by.x)} {number(-by.y)})">{inner}</g>'


def draw_path(path: Path, stroke: Stroke | None, fill: float | None) -> str:
    """A path with its ink."""
    look = f'fill="{"none" if fill is None else _grey(fill)}"'
    if stroke is not None:
        look += f' stroke="{_grey(stroke.grey)}" stroke-width="{number(stroke.width_mm)}"'
        if stroke.dash_mm:
            look += f' stroke-dasharray="{" ".join(number(part) for part in stroke.dash_mm)}"'
    return f'<path d="{path_data(path, 0.0)}" {look}/>'


def _draw_code(mark: CodeMark) -> str:
    """A code on its white ground; what it says is its title."""
    white, module = quiet_box(mark), mark.size_mm / len(mark.rows)
    cells = "".join(f"M{x} {-y - high}h{wide}v{high}h{-wide}z" for x, y, wide, high in merge_modules(mark.rows))
    ground = f'<rect x="{number(white.left)}" y="{number(-white.top)}" width="{number(white.width)}" '
    place = f"translate({number(mark.x_mm)} {number(-mark.y_mm)}) scale({number(module)})"
    return (
        f'{ground}height="{number(white.height)}" fill="#fff"/>'
        f'<path d="{cells}" transform="{place}"><title>{shown_text(mark.payload)}</title></path>'
    )


def _draw_image(mark: ImageMark) -> str:
    """A picture moved, turned to the left by quarters, and scaled as a whole."""
    picture, scale = mark.picture, mark.height_mm / mark.picture.height_mm
    place = f"translate({number(mark.x_mm)} {number(-mark.y_mm)}) rotate({-90 * (mark.quarters % 4)})"
    return f'<g transform="{place} scale({number(scale)})">{"".join(_draw_picture(picture))}</g>'


def _draw_picture(picture: Picture) -> Iterator[str]:
    if picture.pixels:
        wide, high = number(picture.width_mm), number(picture.height_mm)
        held = b64encode(write_png(picture)).decode("ascii")
        yield f'<image y="-{high}" width="{wide}" height="{high}" href="data:image/png;base64,{held}"/>'
    for shape in picture.shapes:
        lines = " ".join(path_data(path, 0.0) for path in shape.paths)
        grey = _grey(shape.grey)
        if shape.width_mm is None:
            yield f'<path d="{lines}" fill="{grey}" fill-rule="evenodd"/>'
        else:
            yield f'<path d="{lines}" fill="none" stroke="{grey}" stroke-width="{number(shape.width_mm)}"/>'


def _grey(share: float) -> str:
    """From 0 (black) to 1 (white)."""
    return "#" + 3 * f"{round(share * GREYS):02x}"
