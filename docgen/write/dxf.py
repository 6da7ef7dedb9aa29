"""Drawing -> DXF, release 2000 (AC1015), ASCII. Coordinates are mm, y up.

That is the first release whose header tells the unit ($INSUNITS), and importers take it from there; release 12, which
has none, was read as inches by some. Source of the format: Autodesk, DXF Reference for release 2000, group codes of
ENTITIES; from memory, and read back by another library in the tests.
"""

import math
from collections.abc import Iterator
from itertools import count
from typing import Final

from docgen.fonts import cap_height_mm, text_width_mm
from docgen.geometry.path import flatten, start_point
from docgen.geometry.segment import segment_end
from docgen.geometry.shapes import Arc, Curve, Path, Point
from docgen.geometry.vector import distance
from docgen.pages.drawn.export import Drawing
from docgen.pages.marks.page import TextMark
from docgen.problems import shorten
from docgen.write.arcs import find_circle, short_arcs
from docgen.write.dxf_frame import FIRST_HANDLE, SPACES, Group, begin, frame, point

CURVE_MM: Final = 0.005
"""How far a chord may lie from a Bezier curve: machines follow polylines, and few of them splines."""

SAME_MM: Final = 5e-5
MOST_BYTES: Final = 250
"""Of a text: the format takes 255."""

FIT: Final = 5
"""Value of a text's group 72: set between two points."""


def write_dxf(drawing: Drawing) -> bytes:
    """The file's content, with the drawing's lower left at (0, 0). The same drawing gives the same bytes."""
    return "".join(f"{code}\n{_value(value)}\n" for code, value in _groups(drawing)).encode("ascii")


def _value(value: str | int | float) -> str:
    # adding nought turns -0.0 into 0.0
    return f"{round(value, 6) + 0.0:.6f}" if isinstance(value, float) else str(value)


def _groups(drawing: Drawing) -> Iterator[Group]:
    for remark in (drawing.title, *drawing.remarks):
        yield 999, plain_text(remark)
    number = sum(len(layer.paths) + len(layer.texts) for layer in drawing.layers)
    yield from frame(drawing, _entities(drawing), number)


def _entities(drawing: Drawing) -> Iterator[Group]:
    handles = count(FIRST_HANDLE)
    for layer in drawing.layers:
        drawn = [*map(_shape, layer.paths), *map(_words, layer.texts)]
        for kind, kind_class, groups in drawn:
            yield from begin(kind, next(handles), SPACES["*Model_Space"], "AcDbEntity")
            yield from ((8, layer.name), (100, kind_class), *groups)


Entity = tuple[str, str, tuple[Group, ...]]
"""Kind, its class, and the groups of that class."""


def _shape(path: Path) -> Entity:
    circle = find_circle(path)
    if circle is not None:
        return "CIRCLE", "AcDbCircle", (*point(10, *circle.centre), (40, circle.radius))
    vertices = list_vertices(path)
    if len(vertices) == 2 and vertices[0][1] == 0 and not path.closed:
        return "LINE", "AcDbLine", (*point(10, *vertices[0][0]), *point(11, *vertices[1][0]))
    legs = ((*point(10, *at, None), *(((42, bulge),) if bulge else ())) for at, bulge in vertices)
    groups = ((90, len(vertices)), (70, int(path.closed)), (43, 0.0))
    return "LWPOLYLINE", "AcDbPolyline", (*groups, *(group for leg in legs for group in leg))


def list_vertices(path: Path) -> tuple[tuple[Point, float], ...]:
    """Vertices with the bulge of the leg that follows: the tangent of a quarter of its turn, 0 if straight.

    A closed path does not repeat its first vertex.
    """
    vertices: list[tuple[Point, float]] = []
    here = start_point(path)
    for segment in short_arcs(path):
        points = [segment_end(segment)]
        if isinstance(segment, Curve):
            points = list(flatten(Path((segment,)), CURVE_MM)[1:])
        bulge = math.tan(segment.sweep / 4) if isinstance(segment, Arc) else 0.0
        for following in points:
            if distance(here, following) > SAME_MM:
                vertices.append((here, bulge))
                here = following
    if not path.closed or distance(here, vertices[0][0]) > SAME_MM:
        vertices.append((here, 0.0))
    return tuple(vertices)


def _words(text: TextMark) -> Entity:
    """One line of text, fitted between the ends that were planned for it."""
    wide, turn = text_width_mm(text.text, text.face, text.size_mm), math.radians(text.angle_deg)
    start = Point(text.x_mm, text.y_mm)
    end = Point(start.x + wide * math.cos(turn), start.y + wide * math.sin(turn))
    size: tuple[Group, ...] = ((40, cap_height_mm(text.size_mm, text.face)), (1, plain_text(text.text)))
    style: tuple[Group, ...] = ((50, text.angle_deg), (7, "Standard"), (72, FIT))
    return "TEXT", "AcDbText", (*point(10, *start), *size, *style, *point(11, *end), (100, "AcDbText"))


def plain_text(text: str) -> str:
    """Text of one line in ASCII that no reader takes for a command.

    Other letters become \\U+XXXX; two percent signs are parted; a caret gets the space that makes it a caret.
    """
    written = ""
    for letter in shorten(text, most=MOST_BYTES).replace("%%", "% %").replace("%%", "% %"):
        code = _encode(letter)
        if len(written) + len(code) > MOST_BYTES:
            break
        written += code
    return written


def _encode(letter: str) -> str:
    if letter == "^":
        return "^ "
    if " " <= letter <= "~" and letter != "\\":
        return letter
    return f"\\U+{ord(letter):04X}" if ord(letter) <= 0xFFFF else "?"
