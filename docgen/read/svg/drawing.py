"""An SVG drawing beside the spec -> the outline of a piece, its holes and its marks, in mm.

The drawing is read as a person sees it: transforms are applied, what is hidden is not there, y goes up, and
the lower left of the outline's box is at (0, 0).
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.outline import check_simple
from docgen.geometry.path import (
    end_point,
    grow_box,
    path_area,
    path_box,
    path_length,
    reverse_path,
    start_point,
    transform_path,
)
from docgen.geometry.shapes import Box, GeometryError, Path, Point
from docgen.geometry.vector import translation
from docgen.problems import Place, suggest
from docgen.read.svg.outlines import name_outlines, number_outline
from docgen.read.svg.svg_file import DrawingError, Node, read_tree
from docgen.read.svg.svg_inside import OVER_MM, POINTS_MOST, find_circle, make_judge, sample_line
from docgen.read.svg.svg_lines import WORDS, Shape, gather_shapes
from docgen.read.svg.svg_shapes import (
    GROUPS,
    REFUSED,
    SHAPES,
    Sheet,
    describe,
    find_id,
    find_scale,
    is_drawn,
    is_hidden,
    list_above,
    list_nodes,
    read_sheet,
)
from docgen.read.words import list_words, quote_word

OUTLINE_MOST: Final = 2_000
WIDEST_MM: Final = 10_000.0
LONGEST_MM: Final = 100_000.0
FLAT_MM: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """What was drawn: `outline` closed and anticlockwise, lower left of its box at (0, 0); lengths in mm.

    `holes`: centre, diameter, id of each circle inside; `marks`: id and path of every other line inside.
    """

    outline: Path
    holes: tuple[tuple[Point, float, str], ...] = ()
    marks: tuple[tuple[str, Path], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing in its own units: bytes and name of the file, the id of what is drawn ("" for the whole), and where the
    spec names it."""

    source: bytes
    file: str
    element_id: str
    place: Place


@lru_cache(maxsize=64)
def draw_sketch(sketch: Sketch, scale_mm: float | None) -> Drawing:
    """The drawing in mm, by the size of one of its units where it gives no real ones. Raises DrawingError."""
    return parse_drawing(sketch.source, sketch.file, sketch.element_id or None, scale_mm)


class DrawingPage:
    """A drawing that is read: its elements, its style rules, what a unit is in mm, and its file's name."""

    def __init__(self, root: Node, sheet: Sheet, unit_mm: float, file: str) -> None:
        self.root = root
        self.sheet = sheet
        self.unit_mm = unit_mm
        self.file = file

    @cached_property
    def lines(self) -> list[Shape]:
        """All visible lines. Raises DrawingError."""
        return gather_lines(self)

    @cached_property
    def named(self) -> tuple[tuple[Shape, str], ...]:
        """The outlines, each with the words at it. Raises DrawingError."""
        return name_outlines(self.root, self.sheet, self.unit_mm, self.lines)


@lru_cache(maxsize=4)
def read_page(source: bytes, file: str, scale_mm: float | None) -> DrawingPage:
    """The elements in the bytes of an SVG file. Raises DrawingError.

    `scale_mm` is the size of one drawing unit, for a drawing that gives no real units.
    """
    root = read_tree(source, file)
    sheet = read_sheet(root)
    unit_mm = _pick_scale(find_scale(root, file), file, scale_mm)
    return DrawingPage(root=root, sheet=sheet, unit_mm=unit_mm, file=file)


def parse_drawing(source: bytes, file: str, element_id: str | None, scale_mm: float | None) -> Drawing:
    """The piece in the bytes of an SVG file, as `draw_element` finds it. Raises DrawingError."""
    return draw_element(read_page(source, file, scale_mm), element_id)


def draw_element(page: DrawingPage, element_id: str | None) -> Drawing:
    """The piece on the page. Raises DrawingError.

    `element_id` names the outline, or a group whose largest closed line is the outline; None takes the whole drawing
    as that group. Holes and marks are looked for in the outline's group. Where nothing has that id, it may be the
    words at an outline, or "outline 2"; then they are looked for in the whole drawing.
    """
    asked = _find_asked(page, element_id)
    if asked is None:
        outline = _find_by_words(page, element_id or "")
        return draw_outline(page, outline)
    scope = asked.parent if asked.tag in SHAPES and asked.parent is not None else asked
    shapes = gather_lines(page, scope)
    outline = _pick_outline(shapes, asked, page.file)
    rivals = shapes if asked.tag in GROUPS else [shape for shape in shapes if shape.node is asked]
    return _make_drawing(page, shapes, outline, rivals)


def draw_outline(page: DrawingPage, outline: Shape, scope: Node | None = None) -> Drawing:
    """One of the outlines on the page with all that lies in it, or what a group has of that. Raises DrawingError."""
    shapes = [shape for shape in page.lines if scope is None or any(above is scope for above in list_above(shape.node))]
    return _make_drawing(page, shapes, outline, ())


def gather_lines(page: DrawingPage, scope: Node | None = None, passed: frozenset[str] = WORDS) -> list[Shape]:
    """The visible lines of a group, or of the whole page; words are passed over."""
    return gather_shapes(page.root, scope or page.root, page.file, page.sheet, page.unit_mm, passed)


def _make_drawing(page: DrawingPage, shapes: list[Shape], outline: Shape, rivals: Sequence[Shape]) -> Drawing:
    _check_outline(outline, page.file)
    others = [shape for shape in shapes if shape is not outline]
    inside = _pick_inside(others, outline, page.file, rivals)
    box = path_box(outline.path)
    move = translation(-box.left, -box.bottom)
    ring = outline.path if path_area(outline.path) > 0 else reverse_path(outline.path)
    inside = [replace(shape, path=transform_path(shape.path, move)) for shape in inside]
    round_ones = [(shape, circle) for shape in inside if (circle := find_circle(shape.path)) is not None]
    holed = {id(shape) for shape, _ in round_ones}
    return Drawing(
        outline=transform_path(ring, move),
        holes=tuple((centre, size, find_id(shape.node)) for shape, (centre, size) in round_ones),
        marks=tuple((find_id(shape.node), shape.path) for shape in inside if id(shape) not in holed),
    )


def _find_by_words(page: DrawingPage, words: str) -> Shape:
    named = page.named
    for k, (shape, own) in enumerate(named, 1):
        if words in (own, number_outline(k)):
            return shape
    drawn = (find_id(node) for node in list_nodes(page.root) if node.tag in SHAPES | GROUPS)
    known = [word for word in drawn if 0 < len(word) <= 60] + [own for _, own in named if own]
    mend = suggest(words, known[:200]) or (
        f"it has {list_words(map(quote_word, known), most=12)}"
        if known
        else "give the outline an id in the drawing program"
    )
    raise DrawingError(f"nothing in {quote_word(page.file)} has the id {quote_word(words)}", mend)


def _pick_scale(real_mm: float | None, file: str, scale_mm: float | None) -> float:
    name = quote_word(file)
    if real_mm is None and scale_mm is None:
        mend = 'set the page in mm or inches in the drawing program, or add scale = "1 mm" for one drawing unit'
        raise DrawingError(f"{name} does not say how large it is in mm or inches", mend)
    if real_mm is not None and scale_mm is not None:
        raise DrawingError(f"{name} says itself how large it is: one unit is {real_mm:.6g} mm", "leave out scale")
    unit_mm = real_mm if real_mm is not None else scale_mm
    assert unit_mm is not None
    if not 1e-6 <= unit_mm <= 1e4:
        raise DrawingError(f"one unit of {name} would be {unit_mm:.3g} mm", "check its page size, or scale")
    return unit_mm


def _find_asked(page: DrawingPage, element_id: str | None) -> Node | None:
    """The element of that id, None when there is none; the root for no id."""
    root = page.root
    if element_id is None:
        return root
    name, word = quote_word(page.file), quote_word(element_id)
    found = [node for node in list_nodes(root) if find_id(node) == element_id]
    if not found:
        return None
    if len(found) > 1:
        raise DrawingError(f"{len(found)} things in {name} have the id {word}", "give each an id of its own")
    node = found[0]
    if node.tag in REFUSED and node is not root:
        what, mend = REFUSED[node.tag]
        raise DrawingError(f"{word} in {name} is {what}", mend)
    if not is_drawn(node) or node.tag not in SHAPES | GROUPS:
        raise DrawingError(f"{word} in {name} is not drawn", "name a path or a group of the drawing")
    if is_hidden(node, page.sheet):
        raise DrawingError(f"{word} in {name} is hidden", "show it in the drawing program, and save")
    return node


def _pick_outline(shapes: list[Shape], asked: Node, file: str) -> Shape:
    name = quote_word(file)
    mine = [shape for shape in shapes if shape.node is asked] if asked.tag in SHAPES else shapes
    closed = [shape for shape in mine if shape.path.closed]
    if closed:
        return max(closed, key=lambda shape: shape.size)
    place = f"the group {describe(asked)} in {name}" if asked.parent is not None else name
    if not mine:
        place = f"{describe(asked)} in {name}" if asked.tag in SHAPES else place
        raise DrawingError(f"there is no line in {place}", "draw the outline as one closed path")
    longest = max(mine, key=lambda shape: path_length(shape.path))
    gap_mm = math.dist(start_point(longest.path), end_point(longest.path))
    what = f"the outline {describe(longest.node)} in {name} is open: its ends lie {gap_mm:.3g} mm apart"
    raise DrawingError(what, "close the path in the drawing program")


def _check_outline(outline: Shape, file: str) -> None:
    name = f"the outline {describe(outline.node)} in {quote_word(file)}"
    count = len(outline.path.segments)
    if count > OUTLINE_MOST:
        mend = "simplify the path in the drawing program"
        raise DrawingError(f"{name} has {count:,} nodes; at most {OUTLINE_MOST:,} are allowed", mend)
    box = path_box(outline.path)
    long_mm = max(box.width, box.height)
    if not long_mm <= WIDEST_MM or not path_length(outline.path) <= LONGEST_MM:
        size = f"{box.width:,.0f} x {box.height:,.0f} mm"
        raise DrawingError(f"{name} is too large: {size}", "check the units of the drawing")
    if min(box.width, box.height) <= FLAT_MM:
        raise DrawingError(f"{name} has no area", "draw the outline as one closed path")
    try:
        check_simple(transform_path(outline.path, translation(-box.left, -box.bottom)))
    except GeometryError as error:
        words = str(error).removeprefix("the outline ")
        mend = "measured from the lower left of the outline; draw it as one line that does not cross itself"
        raise DrawingError(f"{name} {words}", mend) from None


def _pick_inside(others: list[Shape], outline: Shape, file: str, rivals: Sequence[Shape]) -> list[Shape]:
    """The shapes that lie inside the outline; one that lies half in is refused, and a closed rival
    that lies outside."""
    judge = make_judge(outline.path)
    reach = grow_box(path_box(outline.path), OVER_MM)
    inside = []
    left = POINTS_MOST
    for shape in others:
        name = f"{describe(shape.node)} in {quote_word(file)}"
        points = sample_line(shape.path, outline.path) if _meets(path_box(shape.path), reach) else []
        left -= len(points)
        if left < 0:
            raise DrawingError(f"{name} has too many nodes", "simplify the path in the drawing program")
        sides = {judge(point) for point in points} or {-1}
        if {1, -1} <= sides:
            what = f"{name} lies partly outside the outline {describe(outline.node)}"
            raise DrawingError(what, "end it at the outline, or move it to another group")
        if -1 not in sides:
            inside.append(shape)
        elif shape.path.closed and any(shape is rival for rival in rivals):
            raise DrawingError(
                f"there are several outlines in {quote_word(file)}: {describe(outline.node)} and "
                f"{describe(shape.node)} lie side by side",
                "name one of them with element, or put each piece in a group of its own",
            )
    return inside


def _meets(box: Box, other: Box) -> bool:
    across = box.left <= other.right and other.left <= box.right
    return across and box.bottom <= other.top and other.bottom <= box.top
