"""SVG path data and transform lists -> traces in drawing units, and matrices.

Source: W3C, Scalable Vector Graphics (SVG) 1.1 (second edition), chapters "Coordinate Systems" and "Paths",
the implementation notes on elliptical arcs (F.6), and the same chapters of SVG 2; from memory. Unlike a
browser, which draws up to the first error, a wrong figure stops here: leather is cut by the result.
"""

import math
import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.shapes import Curve, Line, Point
from docgen.geometry.vector import Matrix, multiply

NUMBER: Final = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
FLAG: Final = re.compile(r"[01]")
SPACE: Final = re.compile(r"[ \t\n\f\r]*")
COMMA: Final = re.compile(r"[ \t\n\f\r]*(?:,[ \t\n\f\r]*)?")
CALL: Final = re.compile(r"([A-Za-z]+)[ \t\n\f\r]*\(([^()]*)\)")
COMMAND_FIGURES: Final = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
LARGEST: Final = 1e9
LEAST_RADIUS: Final = 1e-9  # drawing units; below it an arc is a straight line, as at 0


class SvgError(ValueError):
    """Path data, a transform or a figure that cannot be read; the message says where, in plain words."""


@dataclass(frozen=True, slots=True)
class EllipticArc:
    """The points centre + across cos(angle) + up sin(angle), angle from `begin` on by `sweep` radians."""

    start: Point
    end: Point
    centre: Point
    across: Point
    up: Point
    begin: float
    sweep: float


TraceSegment = Line | Curve | EllipticArc


@dataclass(frozen=True, slots=True)
class Trace:
    """One stretch of path data in drawing units; `closed` when it was ended by Z."""

    segments: tuple[TraceSegment, ...]
    closed: bool


@lru_cache(maxsize=1024)
def parse_transform(text: str) -> Matrix:
    """A transform list as one matrix. SvgError for what is no such list, flattens, or stretches beyond 1e9."""
    matrix, at = Matrix(), _skip(SPACE, text, 0)
    while at < len(text):
        call = CALL.match(text, at)
        if call is None or call[1] not in TRANSFORMS:
            raise SvgError(f"the transform cannot be read at character {at + 1}")
        counts, make = TRANSFORMS[call[1]]
        figures = parse_numbers(call[2])
        if len(figures) not in counts:
            raise SvgError(f"the transform {call[1]} cannot have {len(figures)} figures")
        matrix = multiply(make(*figures), matrix)
        at = _skip(COMMA, text, call.end())
    if not all(abs(figure) <= LARGEST for figure in matrix):
        raise SvgError("the transform makes it too large")
    if not abs(matrix.a * matrix.d - matrix.b * matrix.c) > 1e-12:
        raise SvgError("the transform makes it flat")
    return matrix


def _rotate(degrees: float, x: float = 0.0, y: float = 0.0) -> Matrix:
    angle = math.radians(degrees)
    c, s = math.cos(angle), math.sin(angle)
    return Matrix(c, s, -s, c, x - c * x + s * y, y - s * x - c * y)


TRANSFORMS: Final[dict[str, tuple[tuple[int, ...], Callable[..., Matrix]]]] = {
    "matrix": ((6,), Matrix),
    "translate": ((1, 2), lambda x, y=0.0: Matrix(e=x, f=y)),
    "scale": ((1, 2), lambda x, y=None: Matrix(a=x, d=x if y is None else y)),
    "rotate": ((1, 3), _rotate),
    "skewX": ((1,), lambda degrees: Matrix(c=math.tan(math.radians(degrees)))),
    "skewY": ((1,), lambda degrees: Matrix(b=math.tan(math.radians(degrees)))),
}


def parse_numbers(text: str) -> tuple[float, ...]:
    """A list of numbers with blanks or single commas between them. SvgError for anything else in it."""
    figures: list[float] = []
    at = _skip(SPACE, text, 0)
    while at < len(text):
        figure, at = _read_figure(NUMBER, text, at)
        figures.append(figure)
        after = _skip(COMMA, text, at)
        # a comma at the very end is one too many
        at = after if after < len(text) else _skip(SPACE, text, at)
    return tuple(figures)


def _skip(pattern: re.Pattern[str], text: str, at: int) -> int:
    found = pattern.match(text, at)
    return found.end() if found else at


def _read_figure(pattern: re.Pattern[str], text: str, at: int) -> tuple[float, int]:
    found = pattern.match(text, at)
    if found is None:
        wanted = "0 or 1" if pattern is FLAG else "a number"
        raise SvgError(f"{wanted} is missing at character {at + 1}")
    figure = float(found[0])
    if not abs(figure) <= LARGEST:
        raise SvgError(f"the number at character {at + 1} is too large")
    return figure, found.end()


def parse_path(text: str, most: int) -> tuple[Trace, ...]:
    """Path data as traces, those without a segment left out; quadratic curves as the same cubic ones.

    SvgError, with the character, for data that the grammar does not allow; for more than `most` segments.
    """
    pen = _Pen(most)
    for letter, figures in _split_commands(text):
        _draw(pen, letter, figures)
    pen.lift(closed=False)
    return tuple(pen.traces)


def _split_commands(text: str) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Letter and figures of every command, repeated figures as commands of their own."""
    at = first = _skip(SPACE, text, 0)
    while at < len(text):
        letter = text[at]
        if letter.upper() not in COMMAND_FIGURES or not letter.isascii():
            raise SvgError(f"{_quote(letter)} at character {at + 1} is no command")
        if at == first and letter not in "Mm":
            raise SvgError("the path data does not begin with M")
        at = _skip(SPACE, text, at + 1)
        if letter in "Zz":
            yield letter, ()
            continue
        more = at
        while True:
            figures, at = _read_group(text, more, letter)
            yield letter, figures
            letter = {"M": "L", "m": "l"}.get(letter, letter)
            more = _skip(COMMA, text, at)
            if NUMBER.match(text, more) is None:
                break
        at = _skip(SPACE, text, at)


def _quote(letter: str) -> str:
    return f'"{letter}"' if letter.isprintable() else f"the sign {ord(letter)}"


def _read_group(text: str, at: int, letter: str) -> tuple[tuple[float, ...], int]:
    figures = []
    for k in range(COMMAND_FIGURES[letter.upper()]):
        at = _skip(COMMA, text, at) if k else at
        pattern = FLAG if letter in "Aa" and k in (3, 4) else NUMBER
        figure, at = _read_figure(pattern, text, at)
        figures.append(figure)
    return tuple(figures), at


class _Pen:
    """Where the drawing of path data stands; `mirrored` is the handle a smooth curve would begin with."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.count = 0
        self.traces: list[Trace] = []
        self.segments: list[TraceSegment] = []
        self.start = self.at = Point(0.0, 0.0)
        self.mirrored: tuple[str, Point] = ("", self.at)

    def add(self, segment: TraceSegment, kind: str = "", handle: Point | None = None) -> None:
        self.count += 1
        if self.count > self.most:
            raise SvgError(f"the path has more than {self.most:,} segments")
        self.segments.append(segment)
        self.at = segment.end
        if handle is not None:
            self.mirrored = (kind, Point(2 * self.at.x - handle.x, 2 * self.at.y - handle.y))

    def lift(self, *, closed: bool) -> None:
        if self.segments:
            self.traces.append(Trace(tuple(self.segments), closed))
        self.segments = []

    def smooth_handle(self, kind: str) -> Point:
        return self.mirrored[1] if self.mirrored[0] == kind else self.at


def _draw(pen: _Pen, letter: str, figures: tuple[float, ...]) -> None:
    """One command; figures of small letters count from where the pen stands."""
    x0, y0 = pen.at if letter.islower() else (0.0, 0.0)
    points = [Point(x0 + x, y0 + y) for x, y in zip(figures[::2], figures[1::2], strict=False)]
    if letter not in "CcSsQqTt":
        pen.mirrored = ("", pen.at)
    match letter.upper():
        case "M":
            pen.lift(closed=False)
            pen.start = pen.at = points[0]
        case "Z":
            if pen.at != pen.start:
                pen.add(Line(pen.at, pen.start))
            pen.lift(closed=True)
        case "L":
            pen.add(Line(pen.at, points[0]))
        case "H":
            pen.add(Line(pen.at, Point(x0 + figures[0], pen.at.y)))
        case "V":
            pen.add(Line(pen.at, Point(pen.at.x, y0 + figures[0])))
        case "A":
            _draw_arc(pen, figures, Point(x0 + figures[5], y0 + figures[6]))
        case "C":
            pen.add(Curve(pen.at, *points), "C", points[1])
        case "S":
            pen.add(Curve(pen.at, pen.smooth_handle("C"), *points), "C", points[0])
        case "Q":
            pen.add(raise_degree(pen.at, *points), "Q", points[0])
        case "T":
            handle = pen.smooth_handle("Q")
            pen.add(raise_degree(pen.at, handle, points[0]), "Q", handle)


def raise_degree(start: Point, handle: Point, end: Point) -> Curve:
    """A quadratic curve as the same line with two handles."""

    def two_thirds(a: Point) -> Point:
        return Point(a.x + 2 / 3 * (handle.x - a.x), a.y + 2 / 3 * (handle.y - a.y))

    return Curve(start, two_thirds(start), two_thirds(end), end)


def _draw_arc(pen: _Pen, figures: tuple[float, ...], end: Point) -> None:
    if end == pen.at:
        return
    rx, ry, degrees, large, sweep = figures[:5]
    if min(abs(rx), abs(ry)) < LEAST_RADIUS:
        pen.add(Line(pen.at, end))
    else:
        pen.add(elliptic_arc(pen.at, end, abs(rx), abs(ry), degrees, large == 1, sweep == 1))


def elliptic_arc(
    start: Point, end: Point, rx: float, ry: float, degrees: float, large: bool, sweep: bool
) -> EllipticArc:
    """An arc between two different points, radii above 0, by SVG 1.1 F.6.5; radii too small grow (F.6.6)."""
    turned = math.radians(degrees % 360)
    c, s = math.cos(turned), math.sin(turned)
    dx, dy = (start.x - end.x) / 2, (start.y - end.y) / 2
    # in the ellipse's own axes, with the radii as units
    x, y = (c * dx + s * dy) / rx, (c * dy - s * dx) / ry
    square = x * x + y * y
    if square > 1:
        rx, ry = rx * math.sqrt(square), ry * math.sqrt(square)
        x, y, square = x / math.sqrt(square), y / math.sqrt(square), 1.0
    off = math.sqrt((1 - square) / square) * (-1 if large == sweep else 1)
    across, up = Point(rx * c, rx * s), Point(-ry * s, ry * c)
    cx, cy = off * y, -off * x
    centre = Point((start.x + end.x) / 2 + across.x * cx + up.x * cy, (start.y + end.y) / 2 + across.y * cx + up.y * cy)
    begin = math.atan2(y - cy, x - cx)
    turn = math.atan2(-y - cy, -x - cx) - begin
    if sweep != (turn > 0):
        turn += math.tau if sweep else -math.tau
    return EllipticArc(start, end, centre, across, up, begin, turn)


def ellipse_trace(centre: Point, rx: float, ry: float) -> Trace:
    """A whole ellipse, closed, as two halves from its rightmost point."""
    right, left = Point(centre.x + rx, centre.y), Point(centre.x - rx, centre.y)
    halves = (elliptic_arc(a, b, rx, ry, 0, False, True) for a, b in ((right, left), (left, right)))
    return Trace(tuple(halves), closed=True)
