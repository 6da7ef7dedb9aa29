"""Drawing -> SVG 1.1, one unit to the mm: no transforms of the shapes, one group to a layer.

Source of the format: W3C, Scalable Vector Graphics (SVG) 1.1, Second Edition, chapters 5, 7, 8, 9 and 10.
"""

from collections.abc import Iterator
from typing import Final

from docgen.fonts import text_width_mm
from docgen.geometry.path import start_point
from docgen.geometry.segment import segment_end
from docgen.geometry.shapes import Arc, Line, Path, Point, Segment
from docgen.pages.drawn.export import Drawing, Layer
from docgen.pages.marks.page import TextMark
from docgen.problems import shorten
from docgen.write.arcs import find_circle, short_arcs
from docgen.written.units.telling import format_number

PLACES: Final = 4
LINE_MM: Final = 0.1
COLOURS: Final = {
    "cut": "#000000",
    "holes": "#9a5200",
    "pricks": "#7a1f6d",
    "stitch": "#b06ac0",
    "marks": "#4f7d6d",
    "words": "#6b6b6b",
}
"""Layer -> colour, for programs that choose by it; black for any other."""

BLACK: Final = "#000000"
WEIGHTS: Final = {"regular": "400", "bold": "600"}

ESCAPES: Final = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
"""What markup is made of (XML 1.0, 2.4). The library's own function for it would load the modules of the net."""


def write_svg(drawing: Drawing) -> bytes:
    """The file's content; the same drawing gives the same bytes. SVG counts y downward, so y is turned."""
    return "".join(f"{line}\n" for line in _lines(drawing)).encode("utf-8")


def _lines(drawing: Drawing) -> Iterator[str]:
    width, height = number(drawing.width_mm), number(drawing.height_mm)
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    yield f"<title>{shown_text(drawing.title)}</title>"
    yield f"<desc>{shown_text('; '.join(drawing.remarks))}</desc>"
    for layer in drawing.layers:
        yield from _group(layer, drawing.height_mm)
    yield "</svg>"


def _group(layer: Layer, top_mm: float) -> Iterator[str]:
    colour = COLOURS.get(layer.name, BLACK)
    yield f'<g id="{attribute(layer.name)}" fill="none" stroke="{colour}" stroke-width="{LINE_MM}">'
    yield f"<title>{shown_text(layer.title)}</title>"
    for path in layer.paths:
        yield _shape(path, top_mm)
    for text in layer.texts:
        yield text_element(text, Point(text.x_mm, text.y_mm), top_mm, colour)
    yield "</g>"


def _shape(path: Path, top_mm: float) -> str:
    circle = find_circle(path)
    if circle is None:
        return f'<path d="{path_data(path, top_mm)}"/>'
    x, y = _pair(circle.centre, top_mm).split()
    return f'<circle cx="{x}" cy="{y}" r="{number(circle.radius)}"/>'


def path_data(path: Path, top_mm: float) -> str:
    """The `d` of a path: L, A and C commands in absolute coordinates, y counted down from `top_mm`."""
    parts = [f"M{_pair(start_point(path), top_mm)}"]
    parts += [_command(segment, top_mm) for segment in short_arcs(path)]
    return " ".join([*parts, "Z"] if path.closed else parts)


def _command(segment: Segment, top_mm: float) -> str:
    end = _pair(segment_end(segment), top_mm)
    if isinstance(segment, Line):
        return f"L{end}"
    if isinstance(segment, Arc):
        # anticlockwise stays anticlockwise to the eye, which is sweep 0 where y counts down
        radius, sweep = number(segment.radius), int(segment.sweep < 0)
        return f"A{radius} {radius} 0 0 {sweep} {end}"
    return f"C{_pair(segment.handle_1, top_mm)} {_pair(segment.handle_2, top_mm)} {end}"


def text_element(text: TextMark, start: Point, top_mm: float, colour: str) -> str:
    """One line of text whose baseline begins at `start`, y counted down from `top_mm`; any sans serif face is fitted to
    the width that was planned for it."""
    x, y = _pair(start, top_mm).split()
    wide = number(text_width_mm(text.text, text.face, text.size_mm))
    turn = f' transform="rotate({number(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    return (
        f'<text x="{x}" y="{y}" font-family="sans-serif" font-size="{number(text.size_mm)}" '
        f'font-weight="{WEIGHTS[text.face]}" fill="{colour}" stroke="none" '
        f'textLength="{wide}" lengthAdjust="spacingAndGlyphs"{turn}>{shown_text(text.text)}</text>'
    )


def shown_text(text: str) -> str:
    """Text as XML can hold it: one line, no control characters, no markup."""
    return shorten(text, most=1000).translate(ESCAPES)


def attribute(text: str) -> str:
    """The same, between quotation marks."""
    return shown_text(text).replace('"', "&quot;")


def _pair(point: Point, top_mm: float) -> str:
    return f"{number(point.x)} {number(top_mm - point.y)}"


def number(value: float) -> str:
    """A figure as files hold it, to `PLACES`."""
    return format_number(value, PLACES)
