"""The outlines of a drawing: closed lines that lie in no other, in the order of the file, and the words at each."""

import re
from collections.abc import Sequence
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import Matrix, multiply, transform_point
from docgen.read.svg.svg_file import Node
from docgen.read.svg.svg_inside import find_circle, make_judge, sample_line
from docgen.read.svg.svg_lines import WORDS, Shape
from docgen.read.svg.svg_path import NUMBER, SvgError, parse_numbers
from docgen.read.svg.svg_shapes import Sheet, find_matrix, find_property, is_drawn, is_hidden, list_nodes

BESIDE: Final = 0.25  # words stand no farther from an outline than this share of its longer side
WORDS_MOST: Final = 60
SAMPLES: Final = 12
FRAME_MM: Final = 0.2


@dataclass(frozen=True, slots=True)
class Words:
    """What is written at a place, and how large."""

    text: str
    place: Point
    size: float


def number_outline(number: int) -> str:
    """How the spec names an outline by its place in the file."""
    return f"outline {number}"


def name_outlines(root: Node, sheet: Sheet, unit_mm: float, shapes: Sequence[Shape]) -> tuple[tuple[Shape, str], ...]:
    """Each outline with the words that are its own alone: its title, else what is written in it or beside it; "" for
    none."""
    outlines = _find_outlines(shapes, _find_page(root, unit_mm))
    titles = [_find_title(shape.node) for shape in outlines]
    words = _share_words(_list_words(root, sheet, unit_mm), [path_box(shape.path) for shape in outlines])
    names = [title or word for title, word in zip(titles, words, strict=True)]
    return tuple((shape, name if names.count(name) == 1 else "") for shape, name in zip(outlines, names, strict=True))


def _find_outlines(shapes: Sequence[Shape], page: Box | None) -> list[Shape]:
    """Closed lines that lie in no other; a frame round the page is none."""
    closed = [shape for shape in shapes if shape.path.closed]
    frames = [shape for shape in closed if _is_frame(shape, closed, page)]
    kept = [shape for shape in closed if not any(shape is frame for frame in frames)]
    inner: set[int] = set()
    for shape in sorted(kept, key=lambda shape: -shape.size):
        if id(shape) not in inner:  # what lies in an inner one lies in the outer one as well
            inner |= {id(other) for other in _list_within(shape, kept)}
    return [shape for shape in kept if id(shape) not in inner]


def _list_within(shape: Shape, others: Sequence[Shape]) -> list[Shape]:
    """The closed lines that lie in this one."""
    box = path_box(shape.path)
    near = [other for other in others if other.size < shape.size and lies_in(path_box(other.path), box)]
    if not near:
        return []
    judge = make_judge(shape.path)
    found = []
    for other in near:
        points = sample_line(other.path, other.path)
        sides = {judge(point) for point in points[:: max(1, len(points) // SAMPLES)]}
        if 1 in sides and -1 not in sides:
            found.append(other)
    return found


def _is_frame(shape: Shape, closed: Sequence[Shape], page: Box | None) -> bool:
    """Whether it runs round the page, and several closed lines that are no circles lie side by side in it."""
    box = path_box(shape.path)
    if page is None or not (lies_in(page, box) and lies_in(box, page)):
        return False
    inner = [other for other in _list_within(shape, closed) if find_circle(other.path) is None]
    within = {id(one) for other in inner for one in _list_within(other, inner)}
    return len(inner) - len(within) >= 2


def _find_page(root: Node, unit_mm: float) -> Box | None:
    """The page in mm with y up, as the viewBox says it; None where there is none that can be read."""
    try:
        left, top, width, height = parse_numbers(root.attributes.get("viewBox", ""))
    except (SvgError, ValueError):
        return None
    return Box(left * unit_mm, -(top + height) * unit_mm, (left + width) * unit_mm, -top * unit_mm)


def lies_in(box: Box, other: Box) -> bool:
    """Whether a box lies in another one, within `FRAME_MM`."""
    return (
        other.left <= box.left + FRAME_MM
        and other.bottom <= box.bottom + FRAME_MM
        and box.right <= other.right + FRAME_MM
        and box.top <= other.top + FRAME_MM
    )


def _find_title(node: Node) -> str:
    return next((_collapse("".join(child.text)) for child in node.children if child.tag == "title"), "")


def _collapse(text: str) -> str:
    """Words on one line without what does not print; "" for too many, and for what has no letter to begin with."""
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return plain if len(plain) <= WORDS_MOST and re.match(r"[^\W\d_]", plain) else ""


def _list_words(root: Node, sheet: Sheet, unit_mm: float) -> list[Words]:
    """What is written in the drawing, in mm with y up."""
    found = []
    for node in list_nodes(root):
        if node.tag not in WORDS or not is_drawn(node) or is_hidden(node, sheet):
            continue
        inner = list(list_nodes(node))
        text = _collapse(" ".join("".join(each.text) for each in inner))
        try:
            matrix = multiply(find_matrix(node, sheet), Matrix(a=unit_mm, d=-unit_mm))
        except SvgError:
            continue
        if text:
            at = Point(*(_read_figure(inner, word) for word in ("x", "y")))
            size = re.match(r"\s*" + NUMBER.pattern, find_property(node, "font-size", sheet)[:WORDS_MOST])
            found.append(Words(text, transform_point(at, matrix), float(size[0]) if size else 0.0))
    return found


def _read_figure(nodes: Sequence[Node], word: str) -> float:
    """The first figure of x or y, of the text or else of a part of it."""
    for node in nodes:
        if found := re.match(r"\s*" + NUMBER.pattern, node.attributes.get(word, "")[:WORDS_MOST]):
            return float(found[0])
    return 0.0


def _share_words(words: Sequence[Words], boxes: Sequence[Box]) -> list[str]:
    """For each outline the words nearest to it, the largest of those inside; no words go to two."""
    pairs = []
    for k, each in enumerate(words):
        for n, box in enumerate(boxes):
            off = _distance(each.place, box)
            if off <= BESIDE * max(box.width, box.height):
                pairs.append((off, -each.size, box.width * box.height, k, n))
    names = [""] * len(boxes)
    used: set[int] = set()
    for *_, k, n in sorted(pairs):
        if k not in used and not names[n]:
            names[n] = words[k].text
            used.add(k)
    return names


def _distance(place: Point, box: Box) -> float:
    across = max(box.left - place.x, 0.0, place.x - box.right)
    up = max(box.bottom - place.y, 0.0, place.y - box.top)
    return float((across * across + up * up) ** 0.5)
