"""A drawing of one hide, at full size, its grain side up -> outline, faults, good and poor parts, backbone, in mm.

By their ids: `hide` the outline, `backbone` a line from the tail to the neck, `fault-...` what is to be cut round, `best`
what is firm, `hidden-...` belly and shanks. Faults and parts may cross the edge of the hide.
A photo may lie behind them.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import end_point, flatten, path_area, path_box, start_point
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import distance
from docgen.read.svg.drawing import gather_lines, read_page
from docgen.read.svg.svg_file import DRAWING, DrawingError, read_file
from docgen.read.svg.svg_lines import PICTURES, WORDS, Shape
from docgen.read.svg.svg_shapes import find_id, list_above
from docgen.read.words import quote_word

HIDE: Final = "hide"
BACKBONE: Final = "backbone"
FAULT: Final = "fault"
BEST: Final = "best"
HIDDEN: Final = "hidden"
LEAST_MM2: Final = 1e4
MOST_MM: Final = 4000.0
MOST_SHAPES: Final = 500
NEAR_MM: Final = 0.2
SHOP_DRAWING: Final = replace(DRAWING, beside="shop file", bytes_most=2 * 1024 * 1024)


@dataclass(frozen=True, slots=True, kw_only=True)
class HideDrawing:
    """What was drawn, y up: closed outlines, and the two ends of the backbone, that at the tail first."""

    file: str
    outline: Path
    backbone: tuple[Point, Point]
    faults: tuple[Path, ...] = ()
    best: tuple[Path, ...] = ()
    hidden: tuple[Path, ...] = ()

    @property
    def area_mm2(self) -> float:
        return abs(path_area(self.outline))

    @property
    def back_mm(self) -> float:
        """How long the backbone is."""
        return distance(*self.backbone)

    @property
    def faults_share(self) -> float:
        return min(1.0, sum(abs(path_area(fault)) for fault in self.faults) / self.area_mm2)

    def firm_mm(self, *, has_edge: bool) -> float:
        """How wide the part is that is drawn as firm: from the backbone where that is the edge; 0 where none is."""
        (tail, neck) = self.backbone
        across = [
            ((p.x - tail.x) * (neck.y - tail.y) - (p.y - tail.y) * (neck.x - tail.x)) / self.back_mm
            for shape in self.best
            for p in flatten(shape, NEAR_MM)
        ]
        if not across:
            return 0.0
        return max(map(abs, across)) if has_edge else max(across) - min(across)


def read_hide(path: str | FilePath) -> HideDrawing:
    """The hide in an SVG file. Raises DrawingError."""
    place = FilePath(path)
    return parse_hide(read_file(place.parent, place.name), place.name)


def read_shop_hide(folder: FilePath, file: str) -> HideDrawing:
    """The hide in an SVG file that the shop's file names, in its folder or a folder in it. Raises DrawingError."""
    return parse_hide(read_file(folder, file, SHOP_DRAWING), file)


def parse_hide(source: bytes, file: str) -> HideDrawing:
    """The hide in the bytes of an SVG file. Raises DrawingError."""
    name = quote_word(file)
    lines = gather_lines(read_page(source, file, None), passed=WORDS | PICTURES)
    shapes = [(own, shape) for shape in lines for own in _names(shape)]
    if len(shapes) > MOST_SHAPES:
        raise DrawingError(f"{name} has more than {MOST_SHAPES} lines", "draw one hide, and its faults as outlines")
    (outline,) = _only(shapes, HIDE, name, "the outline of the hide")
    (backbone,) = _only(shapes, BACKBONE, name, "a line from the tail to the neck along the backbone")
    if not outline.closed or abs(path_area(outline)) < LEAST_MM2:
        raise DrawingError(f'the "{HIDE}" in {name} is no closed outline of a hide', "close it, at full size")
    if max(path_box(outline).width, path_box(outline).height) > MOST_MM:
        mend = "draw it at full size, in real units"
        raise DrawingError(f'the "{HIDE}" in {name} is larger than {MOST_MM / 1000:g} m', mend)
    ends = start_point(backbone), end_point(backbone)
    if ends[0] == ends[1]:
        raise DrawingError(f'the "{BACKBONE}" in {name} has no length', "draw it from the tail to the neck")
    return HideDrawing(
        file=FilePath(file).name,
        outline=outline,
        backbone=ends,
        faults=tuple(_closed(shapes, FAULT, name)),
        best=tuple(_closed(shapes, BEST, name)),
        hidden=tuple(_closed(shapes, HIDDEN, name)),
    )


def _names(shape: Shape) -> Iterator[str]:
    """The id of a line, or of the group that it is in, where it is one of those that are looked for."""
    for node in (shape.node, *list_above(shape.node)):
        name = find_id(node)
        if name.partition("-")[0] in (HIDE, BACKBONE, FAULT, BEST, HIDDEN):
            yield name
            return


def _only(shapes: list[tuple[str, Shape]], own: str, name: str, what: str) -> list[Path]:
    found = [shape.path for at, shape in shapes if at == own]
    if len(found) != 1:
        count = "no line" if not found else f"{len(found)} lines"
        raise DrawingError(f'{name} has {count} of the id "{own}"', f'give {what} the id "{own}"')
    return found


def _closed(shapes: list[tuple[str, Shape]], kind: str, name: str) -> Iterator[Path]:
    for own, shape in shapes:
        if own.partition("-")[0] == kind:
            if not shape.path.closed:
                raise DrawingError(f"{quote_word(own)} in {name} is an open line", "close it: it stands for an area")
            yield shape.path
