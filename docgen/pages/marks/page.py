"""What layout ends in: documents of pages of marks at fixed positions, in mm from the page's bottom left."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from docgen.classes import dataclass
from docgen.fonts import text_width_mm
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.read import Picture


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: width and dash pattern in mm; grey from 0 (black) to 1 (white)."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    grey: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PathMark:
    """A path, stroked, filled (grey 0 to 1), or both."""

    path: Path
    stroke: Stroke | None = None
    fill: float | None = None
    layer: str = "words"


@dataclass(frozen=True, slots=True, kw_only=True)
class StampMark:
    """The same marks many times: where they lie, shifted by each of the vectors."""

    marks: tuple[PathMark, ...]
    shifts: tuple[Point, ...]

    @property
    def layer(self) -> str:
        return self.marks[0].layer

    def spread(self, own: Box) -> Box:
        """The box that holds all, of the one that holds the marks where they lie."""
        across, up = zip(*self.shifts, strict=True)
        return Box(own.left + min(across), own.bottom + min(up), own.right + max(across), own.top + max(up))


@dataclass(frozen=True, slots=True, kw_only=True)
class TextMark:
    """One line of text; (x, y) is the baseline at its start, middle or end. Size is the type size in mm; `language` is
    that of the words where the file may be in another, as in BCP 47."""

    x_mm: float
    y_mm: float
    text: str
    size_mm: float
    face: str = "regular"  # or "bold"
    anchor: str = "start"  # or "middle", "end"
    angle_deg: float = 0.0
    grey: float = 0.0
    layer: str = "words"
    language: str = ""

    @property
    def start(self) -> Point:
        """Where the first letter's baseline begins, once anchor and angle are counted in."""
        if self.anchor == "start":
            return Point(self.x_mm, self.y_mm)
        back = text_width_mm(self.text, self.face, self.size_mm) * (0.5 if self.anchor == "middle" else 1.0)
        turn = math.radians(self.angle_deg)
        return Point(self.x_mm - back * math.cos(turn), self.y_mm - back * math.sin(turn))

    def shifted(self, dx_mm: float, dy_mm: float) -> TextMark:
        return replace(self, x_mm=self.x_mm + dx_mm, y_mm=self.y_mm + dy_mm)

    def box(self, low_mm: float, high_mm: float) -> Box:
        """The upright box about the line, from below its baseline (a negative number) to above it, at any angle."""
        start, turn = self.start, math.radians(self.angle_deg)
        wide_mm = text_width_mm(self.text, self.face, self.size_mm)
        if not turn:
            return Box(start.x, start.y + low_mm, start.x + wide_mm, start.y + high_mm)
        cos, sin = math.cos(turn), math.sin(turn)
        corners = [(along, up) for along in (0.0, wide_mm) for up in (low_mm, high_mm)]
        xs = [start.x + along * cos - up * sin for along, up in corners]
        ys = [start.y + along * sin + up * cos for along, up in corners]
        return Box(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeMark:
    """A QR code: rows of "1" (dark) and "0"; the symbol without its quiet zone is `size_mm` square, with its bottom
    left corner at (x, y). The writer clears a white box four modules wider on every side."""

    x_mm: float
    y_mm: float
    size_mm: float
    rows: tuple[str, ...]
    payload: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClipMark:
    """Marks shown only inside a box; they are moved by (dx, dy) first, the box is not."""

    box: Box
    marks: tuple[Mark, ...]
    dx_mm: float = 0.0
    dy_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageMark:
    """A picture in greys drawn in its own proportions, `height_mm` high when upright; its corner, the lower left when
    upright, at (x, y), then turned about it by quarters to the left."""

    picture: Picture
    x_mm: float
    y_mm: float
    height_mm: float
    quarters: int = 0

    @property
    def width_mm(self) -> float:
        return self.height_mm * self.picture.width_mm / self.picture.height_mm

    @property
    def box(self) -> Box:
        """The upright box that it fills."""
        wide, high = self.width_mm, self.height_mm
        x, y = self.x_mm, self.y_mm
        match self.quarters % 4:
            case 0:
                return Box(x, y, x + wide, y + high)
            case 1:
                return Box(x - high, y, x, y + wide)
            case 2:
                return Box(x - wide, y - high, x, y)
        return Box(x, y - wide, x + high, y)


Mark = PathMark | StampMark | TextMark | CodeMark | ClipMark | ImageMark


def level_line(left: float, right: float, y: float, width_mm: float) -> PathMark:
    """A level line from `left` to `right`, its middle at `y`; all in mm."""
    return PathMark(path=polyline((Point(left, y), Point(right, y))), stroke=Stroke(width_mm))


def text_lines(
    lines: Iterable[str],
    left: float,
    first: float,
    step: float,
    size_mm: float,
    face: str = "regular",
    grey: float = 0.0,
) -> tuple[TextMark, ...]:
    """Lines that begin at `left`: the first one's baseline at `first`, each further one `step` below; all in mm."""
    return tuple(
        TextMark(x_mm=left, y_mm=first - row * step, text=line, size_mm=size_mm, face=face, grey=grey)
        for row, line in enumerate(lines)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """A template on a sheet of the pattern: the lower left of its room on the page, which may lie outside of it."""

    name: str
    x_mm: float
    y_mm: float
    is_turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetContent:
    """What a sheet of the pattern holds: its name ("B2"), its templates, names and places of its match marks."""

    name: str
    parts: tuple[SheetPart, ...]
    matches: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of paper: size, marks, a label for the viewer's page list, and what its code says.

    `stretch` multiplies everything, the size too, across and down: the correction of a printer that stretches.
    `sheet` is there on sheets of the pattern only.
    """

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    label: str
    payload: str
    stretch: tuple[float, float] = (1.0, 1.0)
    sheet: SheetContent | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCount:
    """Sheets that carry pattern, joins between them, and the number of sheets that no placement can beat."""

    sheets: int
    joins: int
    bound: int


ENGLISH = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One file: name without ending, title, pages (never changed; they may be made as they are asked for); the pattern
    also counts its sheets. One that is apart is not in the packet. `language` is that of its words, as in BCP 47."""

    name: str
    title: str
    pages: Sequence[Page]
    count: SheetCount | None = None
    is_apart: bool = False
    language: str = ENGLISH


@dataclass(frozen=True, slots=True, kw_only=True)
class CsvTable:
    """One list for a spreadsheet: name without ending, headings with their units, rows of as many cells."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """All documents of a build, with what every file carries: the spec itself and the day it was made for."""

    documents: tuple[Document, ...]
    title: str
    author: str
    source_name: str
    source: bytes
    date: str  # YYYY-MM-DD
    files: tuple[tuple[str, bytes], ...] = ()  # drawings that the spec names
