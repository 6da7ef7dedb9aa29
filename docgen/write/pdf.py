"""Pages of marks -> PDF bytes: one function for each kind of mark, and the one place where mm become points.

Everything is written as operators (PDF 32000-1:2008, 8.5 and 9.4), several times faster than a call for each line.
"""

import math
import zlib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from typing import Final

from docgen.classes import dataclass
from docgen.fonts import THIN_SHARE, THIN_SPACE, ascent_mm, descent_mm
from docgen.geometry.path import box_union, boxes_overlap, grow_box, path_box
from docgen.geometry.segment import segment_start
from docgen.geometry.shapes import Arc, Box, Curve, Line, Path
from docgen.pages.marks.page import ClipMark, CodeMark, ImageMark, Mark, Page, PathMark, StampMark, Stroke, TextMark
from docgen.read import Picture
from docgen.write.layers import has_layers, layer_of
from docgen.write.letters import Letters

POINTS_PER_MM: Final = 72 / 25.4

QUIET_MODULES: Final = 4
"""White margin of a code on every side (ISO/IEC 18004)."""

ARC_ERROR_MM: Final = 1e-4
"""How far a drawn arc may stray from the true one."""

QUARTER_ERROR: Final = 2.73e-4
"""Error of one Bezier piece over a quarter circle of radius 1, measured by sampling. It falls with the sixth
power of the angle (measured too: within 1 % from 90 down to 10 degrees)."""

OVERHANG: Final = 0.3
"""How far, as a share of the type size, accents and overhanging letters may reach out of a line's own box
(the face's largest letter box reaches 0.24 above its stated ascent, read from the font file)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A page as it stands in a file: its operators, compressed, its size in points, its label, whether it has layers, and
    the pixels it shows, by name."""

    packed: bytes
    wide_pt: float
    high_pt: float
    label: str
    is_layered: bool
    pictures: tuple[tuple[str, Picture], ...] = ()


EVERYWHERE: Final = Box(-math.inf, -math.inf, math.inf, math.inf)


@dataclass(slots=True)
class Ink:
    """Where one page's operators go, and what the graphics state holds, so that nothing is set twice; `window` is what a
    clip shows."""

    letters: Letters
    operators: list[str]
    boxes: dict[int, tuple[Mark, Box]]
    pictures: dict[Picture, str]
    is_layered: bool
    stroke: Stroke | None = None
    grey: float | None = None
    window: Box = EVERYWHERE


def draw_pages(pages: Iterable[Page], letters: Letters) -> list[Drawn]:
    """All pages, taken one by one; the letters they use are noted in `letters`."""
    boxes: dict[int, tuple[Mark, Box]] = {}
    return [_draw_page(page, letters, boxes) for page in pages]


def _draw_page(page: Page, letters: Letters, boxes: dict[int, tuple[Mark, Box]]) -> Drawn:
    across, down = page.stretch
    place = "1 j" if page.stretch == (1.0, 1.0) else f"1 j {across:.8f} 0 0 {down:.8f} 0 0 cm"
    ink = Ink(letters=letters, operators=[place], boxes=boxes, pictures={}, is_layered=has_layers(page))
    draw_marks(ink, page.marks)
    return Drawn(
        packed=zlib.compress("\n".join(ink.operators).encode("ascii")),
        wide_pt=page.width_mm * across * POINTS_PER_MM,
        high_pt=page.height_mm * down * POINTS_PER_MM,
        label=page.label,
        is_layered=ink.is_layered,
        pictures=tuple((name, picture) for picture, name in ink.pictures.items()),
    )


def draw_marks(ink: Ink, marks: Iterable[Mark]) -> None:
    """Marks in their order, later ones over earlier ones; neighbours of one layer are marked as its content."""
    layer = ""
    for mark in marks:
        layer = _change_layer(ink, layer, layer_of(mark))
        match mark:
            case PathMark():
                draw_path(ink, mark)
            case StampMark():
                draw_stamp(ink, mark)
            case TextMark():
                draw_text(ink, mark)
            case CodeMark():
                draw_code(ink, mark)
            case ImageMark():
                draw_image(ink, mark)
            case ClipMark():
                draw_clip(ink, mark)
    _change_layer(ink, layer, "")


def _change_layer(ink: Ink, old: str, new: str) -> str:
    """Close one layer's content and open another's (PDF 32000-1:2008, 8.11.3.2)."""
    if ink.is_layered and old != new:
        ink.operators.extend((["EMC"] if old else []) + ([f"/OC /{new} BDC"] if new else []))
    return new


def draw_path(ink: Ink, mark: PathMark) -> None:
    """A path filled, then stroked; nothing when it has neither, or no segments."""
    if not mark.path.segments or (mark.stroke is None and mark.fill is None):
        return
    if mark.fill is not None:
        set_grey(ink, mark.fill)
    if mark.stroke is not None:
        set_stroke(ink, mark.stroke)
    paint = "f" if mark.stroke is None else "S" if mark.fill is None else "B"
    ink.operators.append(f"{path_operators(mark.path)} {paint}")


def draw_stamp(ink: Ink, mark: StampMark) -> None:
    """Its marks written once, and repeated at each place that lies in the window."""
    before, first = (ink.stroke, ink.grey), len(ink.operators)
    ink.stroke = ink.grey = None
    for part in mark.marks:
        draw_path(ink, part)
    drawn = " ".join(ink.operators[first:])
    own, window = box_union(map(mark_box, mark.marks)), ink.window
    low_x, high_x = window.left - own.right, window.right - own.left
    low_y, high_y = window.bottom - own.top, window.top - own.bottom
    ink.operators[first:] = [
        f"q 1 0 0 1 {x * POINTS_PER_MM:.4f} {y * POINTS_PER_MM:.4f} cm {drawn} Q"
        for x, y in mark.shifts
        if low_x < x < high_x and low_y < y < high_y
    ]
    ink.stroke, ink.grey = before


def draw_text(ink: Ink, mark: TextMark) -> None:
    """One line of text, turned about its anchor."""
    set_grey(ink, mark.grey)
    start, turn = mark.start, math.radians(mark.angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    place = "1 0 0 1" if not mark.angle_deg else f"{cos:.6f} {sin:.6f} {-sin:.6f} {cos:.6f}"
    size = _numbers(mark.size_mm)
    shown = [ink.letters.show(mark.face, words, size) for words in mark.text.split(THIN_SPACE)]
    thin = f" {100 * THIN_SHARE:g} Tz{ink.letters.show(mark.face, ' ', size)} 100 Tz" if len(shown) > 1 else ""
    drawn = f"BT {place} {_numbers(start.x, start.y)} Tm{thin.join(shown)} ET"
    # Words in another language than the file's are marked as such (PDF 32000-1:2008, 14.9.2).
    ink.operators.append(f"/Span <</Lang ({mark.language})>> BDC {drawn} EMC" if mark.language else drawn)


def draw_code(ink: Ink, mark: CodeMark) -> None:
    """A code on a white box; all dark modules are one path on a whole-number grid, so that no seam shows."""
    count = len(mark.rows)
    module = mark.size_mm / count
    white = quiet_box(mark)
    set_grey(ink, 1.0)
    ink.operators.append(f"{_numbers(white.left, white.bottom, white.width, white.height)} re f")
    set_grey(ink, 0.0)
    scale = module * POINTS_PER_MM
    place = f"{scale:.6f} 0 0 {scale:.6f} {_numbers(mark.x_mm, mark.y_mm)} cm"
    cells = " ".join(f"{x} {y} {width} {height} re" for x, y, width, height in merge_modules(mark.rows))
    ink.operators.append(f"q {place} {cells} f Q")


def draw_image(ink: Ink, mark: ImageMark) -> None:
    """A picture moved, turned and scaled as a whole: its pixels, or its shapes filled by the even-odd rule."""
    picture, scale = mark.picture, mark.height_mm / mark.picture.height_mm
    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[mark.quarters % 4]
    turn = f"{cos * scale:.6f} {sin * scale:.6f} {-sin * scale:.6f} {cos * scale:.6f}"
    ink.operators.append(f"q {turn} {_numbers(mark.x_mm, mark.y_mm)} cm")
    before = ink.stroke, ink.grey
    if picture.pixels:
        name = ink.pictures.setdefault(picture, f"I{len(ink.pictures) + 1}")
        ink.operators.append(f"q {_numbers(picture.width_mm)} 0 0 {_numbers(picture.height_mm)} 0 0 cm /{name} Do Q")
    for shape in picture.shapes:
        if shape.width_mm is None:
            set_grey(ink, shape.grey)
        else:
            set_stroke(ink, Stroke(shape.width_mm, grey=shape.grey))
        lines = " ".join(path_operators(path) for path in shape.paths)
        ink.operators.append(f"{lines} {'f*' if shape.width_mm is None else 'S'}")
    ink.stroke, ink.grey = before
    ink.operators.append("Q")


def draw_clip(ink: Ink, mark: ClipMark) -> None:
    """Inner marks moved, then cut off at the box; those that lie wholly outside are left out."""
    box, dx, dy = mark.box, mark.dx_mm, mark.dy_mm
    window = Box(box.left - dx, box.bottom - dy, box.right - dx, box.top - dy)
    seen = [inner for inner in mark.marks if _begins_in(inner, window) or boxes_overlap(_find_box(ink, inner), window)]
    if not seen:
        return
    frame = _numbers(box.left, box.bottom, box.width, box.height)
    ink.operators.append(f"q {frame} re W n 1 0 0 1 {_numbers(dx, dy)} cm")
    before = ink.stroke, ink.grey, ink.window
    ink.window = window
    draw_marks(ink, seen)
    ink.stroke, ink.grey, ink.window = before
    ink.operators.append("Q")


def set_grey(ink: Ink, grey: float) -> None:
    """The grey of fills and letters, 0 black to 1 white."""
    if ink.grey != grey:
        ink.grey = grey
        ink.operators.append(f"{grey:.3f} g")


def set_stroke(ink: Ink, stroke: Stroke) -> None:
    """Width, dashes and grey of the lines that follow."""
    if ink.stroke != stroke:
        ink.stroke = stroke
        dash = _numbers(*stroke.dash_mm)
        ink.operators.append(f"{_numbers(stroke.width_mm)} w [{dash}] 0 d {stroke.grey:.3f} G")


def path_operators(path: Path) -> str:
    """The path in PDF operators, without the one that paints it."""
    parts = [f"{_numbers(*segment_start(path.segments[0]))} m"]
    for segment in path.segments:
        if isinstance(segment, Line):
            x, y = segment.end
            parts.append(f"{x * POINTS_PER_MM:.4f} {y * POINTS_PER_MM:.4f} l")
        elif isinstance(segment, Curve):
            parts.append(f"{_numbers(*segment.handle_1, *segment.handle_2, *segment.end)} c")
        else:
            parts.append(_arc_operators(segment))
    return " ".join([*parts, "h"] if path.closed else parts)


def _arc_operators(arc: Arc) -> str:
    (x, y), radius = arc.centre, arc.radius * POINTS_PER_MM
    x, y = x * POINTS_PER_MM, y * POINTS_PER_MM
    return " ".join(
        f"{x + radius * a:.4f} {y + radius * b:.4f} {x + radius * c:.4f} {y + radius * d:.4f}"
        f" {x + radius * e:.4f} {y + radius * f:.4f} c"
        for a, b, c, d, e, f in _unit_arc(arc.begin, arc.sweep, count_pieces(arc.radius, arc.sweep))
    )


def count_pieces(radius_mm: float, sweep: float) -> int:
    """How many Bezier pieces an arc needs: quarter circles, or less where they would stray too far."""
    share: float = min(1.0, (ARC_ERROR_MM / (QUARTER_ERROR * max(radius_mm, 1e-6))) ** (1 / 6))
    return max(1, math.ceil(abs(sweep) / (share * math.pi / 2) - 1e-9))


@lru_cache(maxsize=1024)
def _unit_arc(begin: float, sweep: float, pieces: int) -> tuple[tuple[float, ...], ...]:
    """Both handles and the end of each piece of an arc of radius 1 about the origin."""
    step = sweep / pieces
    reach = 4 / 3 * math.tan(step / 4)
    points = [(math.cos(begin + i * step), math.sin(begin + i * step)) for i in range(pieces + 1)]
    return tuple(
        (x0 - reach * y0, y0 + reach * x0, x1 + reach * y1, y1 - reach * x1, x1, y1)
        for (x0, y0), (x1, y1) in pairwise(points)
    )


def merge_modules(rows: tuple[str, ...]) -> Iterator[tuple[int, int, int, int]]:
    """The dark modules of a code as rectangles (x, y, width, height) in modules, y up from the last row."""
    for row, cells in enumerate(rows):
        x = 0
        for run in cells.replace("10", "1 0").replace("01", "0 1").split():
            if run[0] == "1":
                yield x, len(rows) - 1 - row, len(run), 1
            x += len(run)


def quiet_box(mark: CodeMark) -> Box:
    """The white box of a code: four modules wider than the symbol on every side."""
    quiet = QUIET_MODULES * mark.size_mm / len(mark.rows)
    right, top = mark.x_mm + mark.size_mm, mark.y_mm + mark.size_mm
    return Box(mark.x_mm - quiet, mark.y_mm - quiet, right + quiet, top + quiet)


def _begins_in(mark: Mark, window: Box) -> bool:
    """True when a line begins inside: then its box need not be worked out."""
    if not isinstance(mark, PathMark) or not mark.path.segments:
        return False
    x, y = segment_start(mark.path.segments[0])
    return window.left < x < window.right and window.bottom < y < window.top


def _find_box(ink: Ink, mark: Mark) -> Box:
    """The box of a mark, kept while the file is drawn: a drawing comes back on every sheet it is cut into. The mark is
    kept with it, so that its id stays its own."""
    known = ink.boxes.get(id(mark))
    if known is None:
        known = ink.boxes[id(mark)] = mark, mark_box(mark)
    return known[1]


def mark_box(mark: Mark) -> Box:
    """A box that holds all a mark prints, line widths included, in mm."""
    match mark:
        case PathMark():
            if not mark.path.segments:
                return Box(math.inf, math.inf, -math.inf, -math.inf)
            return grow_box(path_box(mark.path), mark.stroke.width_mm / 2 if mark.stroke else 0.0)
        case StampMark():
            return mark.spread(box_union(map(mark_box, mark.marks)))
        case TextMark():
            low, high = -descent_mm(mark.size_mm, mark.face), ascent_mm(mark.size_mm, mark.face)
            return grow_box(mark.box(low, high), OVERHANG * mark.size_mm)
        case CodeMark():
            return quiet_box(mark)
        case ClipMark() | ImageMark():
            return mark.box


def _numbers(*values_mm: float) -> str:
    """Lengths in points to four decimals, which is a fifth of 0.0001 mm."""
    return " ".join([f"{value * POINTS_PER_MM:.4f}" for value in values_mm])
