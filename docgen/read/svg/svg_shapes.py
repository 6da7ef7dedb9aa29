"""Elements of an SVG tree -> the traces they draw, where they stand, whether they show; mm per drawing unit.

Source: W3C, SVG 1.1 (second edition), chapters "Coordinate Systems" and "Basic Shapes", and CSS 2.1 for its
lengths (1 in = 96 px); from memory.
"""

import math
import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from docgen.geometry.shapes import Line, Point
from docgen.geometry.vector import Matrix, multiply
from docgen.read.svg.svg_file import DrawingError, Node
from docgen.read.svg.svg_path import (
    NUMBER,
    SvgError,
    Trace,
    TraceSegment,
    ellipse_trace,
    elliptic_arc,
    parse_numbers,
    parse_path,
    parse_transform,
)
from docgen.read.words import quote_word
from docgen.written.units.table import MM_PER_INCH, MM_PER_POINT

SHAPES: Final = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})
GROUPS: Final = frozenset({"svg", "g", "a", "switch"})
UNDRAWN: Final = frozenset(
    {"", "defs", "symbol", "marker", "pattern", "clipPath", "mask", "metadata", "title", "desc", "style", "filter"}
    | {"linearGradient", "radialGradient", "solidcolor", "view", "font", "cursor", "set", "animate"}
    | {"animateMotion", "animateTransform", "animateColor"}
)
REFUSED: Final = {
    "use": ("a clone", "unlink the clone in the drawing program"),
    "image": ("a picture", "trace it to a path, or take it out"),
    "foreignObject": ("an object of another kind", "take it out"),
    "script": ("a script", "take it out"),
    "text": ("text, which is not a path", "convert it to a path, hide it, or move it to another group"),
    "flowRoot": ("text, which is not a path", "convert it to a path, hide it, or move it to another group"),
    "svg": ("a drawing inside the drawing", "ungroup it"),
}
MM_PER_UNIT: Final = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, "pt": MM_PER_POINT, "pc": MM_PER_INCH / 6, "q": 0.25}
MM_PER_PX: Final = MM_PER_INCH / 96
LENGTH: Final = rf"\s*({NUMBER.pattern})\s*([A-Za-z]*)\s*"
PERCENT: Final = r"\+?[0-9.]{1,12}%"
PAGE_MEND: Final = "set both sides of the page in mm or inches in the drawing program"
LENGTH_LETTERS: Final = 60  # no length is written longer; the pattern above is slow on long words
CLASS: Final = r"\.([A-Za-z_][\w-]*)"

Sheet = dict[str, dict[str, str]]


def list_nodes(node: Node) -> Iterator[Node]:
    """The element and all inside it, in the order of the file."""
    yield node
    for child in node.children:
        yield from list_nodes(child)


def list_above(node: Node) -> Iterator[Node]:
    """The element and the groups around it, from the inside out."""
    above: Node | None = node
    while above is not None:
        yield above
        above = above.parent


def find_id(node: Node) -> str:
    """The id of an element, "" when it has none."""
    return node.attributes.get("id", "")


def describe(node: Node) -> str:
    """The element in words: by its id, or by its kind where it has none."""
    found = find_id(node)
    return quote_word(found) if found else f"a {node.tag} without an id"


def read_sheet(root: Node) -> Sheet:
    """Class -> property -> value, of the style rules for single classes; others are passed over."""
    sheet: Sheet = {}
    for node in list_nodes(root):
        if node.tag == "style":
            for block in "".join(node.text).split("}"):
                names, _, rules = block.rpartition("{")
                for name in names.split(","):
                    if re.fullmatch(CLASS, name.strip()):
                        sheet.setdefault(name.strip()[1:], {}).update(_split_rules(rules))
    return sheet


@lru_cache(maxsize=1024)
def _split_rules(text: str) -> dict[str, str]:
    pairs = (rule.split(":", 1) for rule in text.split(";") if ":" in rule)
    return {name.strip(): value.replace("!important", "").strip() for name, value in pairs}


def find_property(node: Node, name: str, sheet: Sheet) -> str:
    """A property of the element: from its style, else its class, else the attribute; "" for none."""
    own = _split_rules(node.attributes.get("style", "")).get(name, "")
    if own:
        return own
    classes = (sheet.get(word, {}).get(name, "") for word in node.attributes.get("class", "")[:1000].split())
    return next((value for value in classes if value), "") or node.attributes.get(name, "")


def is_hidden(node: Node, sheet: Sheet) -> bool:
    """True when the element, or a group around it, is not shown."""
    if any(find_property(above, "display", sheet) == "none" for above in list_above(node)):
        return True
    seen = (find_property(above, "visibility", sheet) for above in list_above(node))
    return next(filter(None, seen), "") in ("hidden", "collapse")


def is_drawn(node: Node) -> bool:
    """False for what lies in definitions, clip paths and the like."""
    return not any(above.tag in UNDRAWN for above in list_above(node))


def find_matrix(node: Node, sheet: Sheet) -> Matrix:
    """The element's own transform with those of all groups around it. SvgError when one cannot be read."""
    matrix = Matrix()
    for above in list_above(node):
        matrix = multiply(matrix, _own_matrix(above, sheet))
    return matrix


def _own_matrix(node: Node, sheet: Sheet) -> Matrix:
    # the attribute is read below; a transform in a style has another grammar
    styled = find_property(node, "transform", sheet)
    written = node.attributes.get("transform", "")
    if styled not in ("", "none", written):
        raise SvgError("it is moved by a style; ungroup it, so that the transform is applied")
    return parse_transform(written) if written else Matrix()


def read_traces(node: Node, most: int) -> tuple[Trace, ...]:
    """What a shape draws, in its own units; nothing for one without size. SvgError when it cannot be read."""
    attributes = node.attributes
    if node.tag == "path":
        return parse_path(attributes.get("d", ""), most)
    if node.tag == "rect":
        return _read_rect(attributes)
    if node.tag in ("circle", "ellipse"):
        words = ("r", "r") if node.tag == "circle" else ("rx", "ry")
        rx, ry = (_read_size(attributes, word) for word in words)
        centre = Point(_read_length(attributes, "cx"), _read_length(attributes, "cy"))
        return (ellipse_trace(centre, rx, ry),) if rx and ry else ()
    if node.tag == "line":
        start, end = (Point(_read_length(attributes, f"x{k}"), _read_length(attributes, f"y{k}")) for k in (1, 2))
        return (Trace((Line(start, end),), closed=False),)
    return _read_points(attributes.get("points", ""), most, closed=node.tag == "polygon")


def _read_points(text: str, most: int, *, closed: bool) -> tuple[Trace, ...]:
    figures = parse_numbers(text)
    if len(figures) % 2:
        raise SvgError("its points have a figure too many or too few")
    points = [Point(x, y) for x, y in zip(figures[::2], figures[1::2], strict=True)]
    if len(points) > most:
        raise SvgError(f"the path has more than {most:,} segments")
    return (_join_points(points, closed=closed),) if len(points) > 1 else ()


def _join_points(points: list[Point], *, closed: bool) -> Trace:
    ends = [*points[1:], points[0]] if closed else points[1:]
    return Trace(tuple(Line(a, b) for a, b in zip(points, ends, strict=False)), closed)


def _read_rect(attributes: dict[str, str]) -> tuple[Trace, ...]:
    x, y = _read_length(attributes, "x"), _read_length(attributes, "y")
    wide, high = _read_size(attributes, "width"), _read_size(attributes, "height")
    if not wide or not high:
        return ()
    # one radius stands for both; none is more than half the side (SVG 1.1, 9.2)
    given = [word for word in ("rx", "ry") if attributes.get(word, "auto").strip() != "auto"]
    radii = {word: _read_size(attributes, word) for word in given}
    rx = min(radii.get("rx", radii.get("ry", 0.0)), wide / 2)
    ry = min(radii.get("ry", radii.get("rx", 0.0)), high / 2)
    if not rx or not ry:
        corners = [Point(x, y), Point(x + wide, y), Point(x + wide, y + high), Point(x, y + high)]
        return (_join_points(corners, closed=True),)
    right, low = x + wide, y + high
    stops = [
        (Point(x + rx, y), Point(right - rx, y)),
        (Point(right, y + ry), Point(right, low - ry)),
        (Point(right - rx, low), Point(x + rx, low)),
        (Point(x, low - ry), Point(x, y + ry)),
    ]
    segments: list[TraceSegment] = []
    for k, (start, end) in enumerate(stops):
        segments += [Line(start, end)] if start != end else []
        segments.append(elliptic_arc(end, stops[(k + 1) % 4][0], rx, ry, 0, False, True))
    return (Trace(tuple(segments), closed=True),)


def match_length(written: str) -> re.Match[str] | None:
    """Number and unit of a length; None when it is none."""
    return re.fullmatch(LENGTH, written) if len(written) <= LENGTH_LETTERS else None


def _read_size(attributes: dict[str, str], word: str) -> float:
    size = _read_length(attributes, word)
    if size < 0:
        raise SvgError(f"its {word} is below 0")
    return size


def _read_length(attributes: dict[str, str], word: str) -> float:
    """A length in drawing units; 0 where it is not given."""
    written = attributes.get(word, "0")
    found = match_length(written)
    unit = found[2].lower() if found else ""
    if found is None or unit not in ("", "px", *MM_PER_UNIT):
        raise SvgError(f"its {word} cannot be read: {quote_word(written)}")
    (figure,) = parse_numbers(found[1])
    return figure * (MM_PER_UNIT[unit] / MM_PER_PX if unit in MM_PER_UNIT else 1)


def find_scale(root: Node, file: str) -> float | None:
    """mm per drawing unit from width, height and viewBox; None when they give no real size. DrawingError.

    With both sides given the smaller scale counts, or with "slice" the larger (preserveAspectRatio); with
    "none" they must agree, because a drawing stretched one way has no arcs.
    """
    name = quote_word(file)
    box = _read_box(root, name)
    sides = [_read_side(root, word, name) for word in ("width", "height")]
    _check_sides(root, sides, name)
    if box is None or sides == [None, None]:
        return None
    scales = [side / size for side, size in zip(sides, box, strict=True) if side is not None]
    fit = root.attributes.get("preserveAspectRatio", "").split()
    if "none" in fit and max(scales) > min(scales) * 1.0001:
        what = f"{name} is stretched: its width and height do not go with its viewBox"
        raise DrawingError(what, "take out preserveAspectRatio, or set the page to the size of the drawing")
    return max(scales) if "slice" in fit else min(scales)


def _read_box(root: Node, name: str) -> tuple[float, float] | None:
    written = root.attributes.get("viewBox", "")
    if not written.strip():
        return None
    try:
        figures = parse_numbers(written)
    except SvgError:
        figures = ()
    if len(figures) != 4 or min(figures[2:]) <= 0:
        raise DrawingError(f"the viewBox of {name} cannot be read: {quote_word(written)}", "save it again as plain SVG")
    return figures[2], figures[3]


def _read_side(root: Node, word: str, name: str) -> float | None:
    """A side of the page in mm; None where it is left open, or given in px, which is no real size. DrawingError."""
    written = root.attributes.get(word, "").strip()
    found = match_length(written)
    if written in ("", "auto") or re.fullmatch(PERCENT, written):
        return None
    unit = found[2].lower() if found else ""
    figure = float(found[1]) if found else 0.0
    if not 0 < figure < math.inf or unit not in ("", "px", *MM_PER_UNIT):
        raise DrawingError(f"the {word} of {name} cannot be read: {quote_word(written)}", PAGE_MEND)
    return figure * MM_PER_UNIT[unit] if unit in MM_PER_UNIT else None


def _check_sides(root: Node, sides: list[float | None], name: str) -> None:
    """One side in real units and the other in px contradict each other. DrawingError."""
    for word, side, other in zip(("width", "height"), sides, reversed(sides), strict=True):
        written = root.attributes.get(word, "").strip()
        if side is None and other is not None and match_length(written):
            what = f"the {word} of {name} is {quote_word(written)}, and its other side is in real units"
            raise DrawingError(what, PAGE_MEND)
