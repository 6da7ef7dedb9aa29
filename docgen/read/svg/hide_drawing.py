"""A drawing of one hide, at full size, its grain side up -> outline, faults, good and poor parts, backbone, in mm.

By their ids: `hide` the outline, `backbone` a line from the tail to the neck, `fault-...` what is to be cut round, `best`
what is firm, `hidden-...` belly and shanks. Faults and parts may cross the edge of the hide.
A photo may lie behind them.
"""

from collections.abc import Iterator
from pathlib import Path as FilePath
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import end_point, path_area, path_box, start_point
from docgen.geometry.shapes import Path, Point
from docgen.read.svg.drawing import gather_lines, read_page
from docgen.read.svg.svg_file import DrawingError, read_file
from docgen.read.svg.svg_lines import PICTURES, WORDS, Shape
from docgen.read.svg.svg_shapes import find_id, list_above

HIDE: Final = "hide"
BACKBONE: Final = "backbone"
FAULT: Final = "fault"
BEST: Final = "best"
HIDDEN: Final = "hidden"
LEAST_MM2: Final = 1e4
MOST_MM: Final = 4000.0
MOST_SHAPES: Final = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class HideDrawing:
    """What was drawn, y up: closed outlines, and the two ends of the backbone, that at the tail first."""

    file: str
    outline: Path
    backbone: tuple[Point, Point]
    faults: tuple[Path, ...] = ()
    best: tuple[Path, ...] = ()
    hidden: tuple[Path, ...] = ()


def read_hide(path: str | FilePath, scale_mm: float | None = None) -> HideDrawing:
    """The hide in an SVG file. Raises DrawingError."""
    place = FilePath(path)
    page = read_page(read_file(place.parent, place.name), place.name, scale_mm)
    lines = gather_lines(page, passed=WORDS | PICTURES)
    shapes = [(name, shape) for shape in lines for name in _names(shape)]
    if len(shapes) > MOST_SHAPES:
        raise DrawingError(
            f'"{place.name}" has more than {MOST_SHAPES} lines', "draw one hide, and its faults as outlines"
        )
    (outline,) = _only(shapes, HIDE, place.name, "the outline of the hide")
    (backbone,) = _only(shapes, BACKBONE, place.name, "a line from the tail to the neck along the backbone")
    if not outline.closed or abs(path_area(outline)) < LEAST_MM2:
        raise DrawingError(f'the "{HIDE}" in "{place.name}" is no closed outline of a hide', "close it, at full size")
    if max(path_box(outline).width, path_box(outline).height) > MOST_MM:
        mend = "draw it at full size, in real units"
        raise DrawingError(f'the "{HIDE}" in "{place.name}" is larger than {MOST_MM / 1000:g} m', mend)
    ends = start_point(backbone), end_point(backbone)
    if ends[0] == ends[1]:
        raise DrawingError(f'the "{BACKBONE}" in "{place.name}" has no length', "draw it from the tail to the neck")
    return HideDrawing(
        file=place.name,
        outline=outline,
        backbone=ends,
        faults=tuple(_closed(shapes, FAULT, place.name)),
        best=tuple(_closed(shapes, BEST, place.name)),
        hidden=tuple(_closed(shapes, HIDDEN, place.name)),
    )


def _names(shape: Shape) -> Iterator[str]:
    """The id of a line, or of the group that it is in, where it is one of those that are looked for."""
    for node in (shape.node, *list_above(shape.node)):
        name = find_id(node)
        if name.partition("-")[0] in (HIDE, BACKBONE, FAULT, BEST, HIDDEN):
            yield name
            return


def _only(shapes: list[tuple[str, Shape]], name: str, file: str, what: str) -> list[Path]:
    found = [shape.path for at, shape in shapes if at == name]
    if len(found) != 1:
        count = "no line" if not found else f"{len(found)} lines"
        raise DrawingError(f'"{file}" has {count} of the id "{name}"', f'give {what} the id "{name}"')
    return found


def _closed(shapes: list[tuple[str, Shape]], kind: str, file: str) -> Iterator[Path]:
    for name, shape in shapes:
        if name.partition("-")[0] == kind:
            if not shape.path.closed:
                raise DrawingError(f'"{name}" in "{file}" is an open line', "close it: it stands for an area")
            yield shape.path
