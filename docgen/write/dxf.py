"""Drawing -> DXF, release 12 (AC1009), ASCII: the release every machine reads. Coordinates are mm, y up.

Source of the format: Autodesk, DXF Reference, group codes of HEADER, TABLES and ENTITIES; from memory, and
read back by another library in the tests. Release 12 has no header variable for the unit, so text says it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from docgen.fonts import cap_height_mm, text_width_mm
from docgen.geometry import Arc, Curve, Path, Point, distance, flatten, segment_end, start_point
from docgen.pages.drawn.export import Drawing, Layer
from docgen.pages.marks.page import TextMark
from docgen.problems import shorten
from docgen.write.arcs import find_circle, short_arcs

Group = tuple[int, str | int | float]
"""A group code and its value: two lines of the file."""

CURVE_MM: Final = 0.005
"""How far a chord may lie from a Bezier curve, which release 12 does not know."""

SAME_MM: Final = 5e-5
MOST_BYTES: Final = 250
"""Of a text: release 12 takes 255."""

COLOURS: Final = {"cut": 7, "holes": 32, "pricks": 212, "stitch": 221, "marks": 116, "words": 8}
"""Layer -> colour number of the format; 7, black or white, for any other."""

DECIMAL: Final = 2
FIT: Final = 5
"""Values of $LUNITS, and of a text's group 72: set between two points."""


def write_dxf(drawing: Drawing) -> bytes:
    """The file's content, with the drawing's lower left at (0, 0). The same drawing gives the same bytes."""
    return "".join(f"{code}\n{_value(value)}\n" for code, value in _groups(drawing)).encode("ascii")


def _value(value: str | int | float) -> str:
    # adding nought turns -0.0 into 0.0
    return f"{round(value, 6) + 0.0:.6f}" if isinstance(value, float) else str(value)


def _groups(drawing: Drawing) -> Iterator[Group]:
    for remark in (drawing.title, *drawing.remarks):
        yield 999, plain_text(remark)
    yield from _section("HEADER", _header(drawing))
    yield from _section("TABLES", _tables(drawing))
    yield from _section("BLOCKS", iter(()))
    yield from _section("ENTITIES", _entities(drawing))
    yield 0, "EOF"


def _section(name: str, groups: Iterator[Group]) -> Iterator[Group]:
    yield from ((0, "SECTION"), (2, name))
    yield from groups
    yield 0, "ENDSEC"


def _header(drawing: Drawing) -> Iterator[Group]:
    yield from ((9, "$ACADVER"), (1, "AC1009"))
    yield from ((9, "$EXTMIN"), (10, 0.0), (20, 0.0), (30, 0.0))
    yield from ((9, "$EXTMAX"), (10, drawing.width_mm), (20, drawing.height_mm), (30, 0.0))
    yield from ((9, "$LIMMIN"), (10, 0.0), (20, 0.0))
    yield from ((9, "$LIMMAX"), (10, drawing.width_mm), (20, drawing.height_mm))
    yield from ((9, "$LUNITS"), (70, DECIMAL), (9, "$LUPREC"), (70, 4))


def _tables(drawing: Drawing) -> Iterator[Group]:
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, 1))
    yield from ((0, "LTYPE"), (2, "CONTINUOUS"), (70, 0), (3, "solid line"), (72, 65), (73, 0), (40, 0.0))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, len(drawing.layers) + 1))
    for name in ("0", *(layer.name for layer in drawing.layers)):
        yield from ((0, "LAYER"), (2, name), (70, 0), (62, COLOURS.get(name, 7)), (6, "CONTINUOUS"))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "STYLE"), (70, 1))
    yield from ((0, "STYLE"), (2, "STANDARD"), (70, 0), (40, 0.0), (41, 1.0), (50, 0.0), (71, 0), (42, 2.5))
    yield from ((3, "txt"), (4, ""), (0, "ENDTAB"))


def _entities(drawing: Drawing) -> Iterator[Group]:
    for layer in drawing.layers:
        for path in layer.paths:
            yield from _shape(path, layer)
        for text in layer.texts:
            yield from _words(text, layer)


def _shape(path: Path, layer: Layer) -> Iterator[Group]:
    circle = find_circle(path)
    if circle is not None:
        yield from _place("CIRCLE", layer, circle.centre)
        yield 40, circle.radius
        return
    vertices = list_vertices(path)
    if len(vertices) == 2 and vertices[0][1] == 0 and not path.closed:
        yield from _place("LINE", layer, vertices[0][0])
        yield from _at(11, vertices[1][0])
        return
    yield from _place("POLYLINE", layer, Point(0.0, 0.0))
    yield from ((66, 1), (70, int(path.closed)))
    for point, bulge in vertices:
        yield from _place("VERTEX", layer, point)
        if bulge:
            yield 42, bulge
    yield from ((0, "SEQEND"), (8, layer.name))


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
        for point in points:
            if distance(here, point) > SAME_MM:
                vertices.append((here, bulge))
                here = point
    if not path.closed or distance(here, vertices[0][0]) > SAME_MM:
        vertices.append((here, 0.0))
    return tuple(vertices)


def _words(text: TextMark, layer: Layer) -> Iterator[Group]:
    """One line of text, fitted between the ends that were planned for it."""
    wide, turn = text_width_mm(text.text, text.face, text.size_mm), math.radians(text.angle_deg)
    start = Point(text.x_mm, text.y_mm)
    end = Point(start.x + wide * math.cos(turn), start.y + wide * math.sin(turn))
    yield from _place("TEXT", layer, start)
    yield from ((40, cap_height_mm(text.size_mm, text.face)), (1, plain_text(text.text)))
    yield from ((50, text.angle_deg), (7, "STANDARD"), (72, FIT))
    yield from _at(11, end)


def _place(kind: str, layer: Layer, point: Point) -> tuple[Group, ...]:
    return ((0, kind), (8, layer.name), *_at(10, point))


def _at(code: int, point: Point) -> tuple[Group, ...]:
    return ((code, float(point.x)), (code + 10, float(point.y)), (code + 20, 0.0))


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
