"""Build -> one drawing for each piece, in named layers at full size, for a die maker or a laser.

Skived bands are left out: they are worked by hand from the other side. Layers come in the order they are best
worked in; the outline comes last, so that a piece lies still until all else is done.
"""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.inset import inset_outline
from docgen.geometry.outline import outline_path
from docgen.geometry.path import box_union, flatten, part_of, path_box, path_length, polyline, transform_path
from docgen.geometry.shapes import Box, Curve, GeometryError, Outline, Path, Point, Segment
from docgen.geometry.vector import add, distance, scale, subtract, translation, unit
from docgen.pages.drawn.labels import LabelLine, label_size, make_room, place_label, set_label, shrink_lines
from docgen.pages.drawn.piece_drawing import PRICK_MM, piece_lines, prick_paths
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks, text_box
from docgen.pages.marks.page import TextMark
from docgen.pages.pattern.template_label import label_lines
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten
from docgen.resolve import Build, Hole, Piece, PieceLine, Slit, StitchLine, lines_of
from docgen.written.units.telling import format_mm

LAYERS: Final = ("words", "marks", "stitch", "pricks", "holes", "cut")
LAYER_OF: Final = {"hole": "holes", "slit": "cut", "cut": "cut"}
"""Kind of line -> layer; "marks" for any other."""

NOT_EXPORTED: Final = frozenset({"skive", "centre"})
MARGIN_MM: Final = 5.0
BELOW_MM: Final = 3.0
"""From a piece too small for its words to the words below it."""

LEAST_PRICK_MM: Final = 0.1
SAME_MM: Final = 0.05
SMALL_SHARE: Final = 0.6
KERF_PLACES: Final = 3
CHORD_MM: Final = 0.002
END_MM: Final = 0.02
NOT_IN_NAMES: Final = re.compile(r"[^A-Za-z0-9._-]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """`name` is plain ASCII; a hole is a closed path of one full arc; a text is told by where it begins."""

    name: str
    title: str
    paths: tuple[Path, ...] = ()
    texts: tuple[TextMark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One file: its name without ending, its size, what it says of itself, and its layers.

    All lies inside, with the lower left at (0, 0); `origin` is where the piece's own (0, 0) comes to lie.
    """

    name: str
    title: str
    width_mm: float
    height_mm: float
    origin: Point
    remarks: tuple[str, ...]
    layers: tuple[Layer, ...]


def draw_pieces(build: Build, *, kerf_mm: float = 0.0, names: Sequence[str] = ()) -> tuple[Drawing, ...]:
    """A drawing of each piece, or of those named.

    The cut line lies half the kerf outside the piece; holes and slits are smaller by the kerf. Raises
    SpecRejected with all that the kerf leaves no room for.
    """
    problems: list[Problem] = []
    drawings = []
    for piece in build.cut:
        if names and piece.name not in names:
            continue
        found = list(_find_kerf_problems(piece, kerf_mm))
        problems += found
        if not found:
            drawings.append(_draw(build, piece, kerf_mm))
    if problems:
        raise SpecRejected(problems)
    return tuple(drawings)


def _find_kerf_problems(piece: Piece, kerf_mm: float) -> Iterable[Problem]:
    if kerf_mm == 0:
        return
    kerf = format_mm(kerf_mm, KERF_PLACES)
    try:
        _grow(piece.outline, kerf_mm / 2)
    except GeometryError:
        what = f'the outline of "{piece.name}" has a place too narrow for a kerf of {kerf}'
        yield make_error(piece.place, what, "use a smaller kerf, or widen the narrowest place of the outline")
    small = {(hole.diameter_mm, hole.place): hole for hole in piece.marks.holes if hole.diameter_mm <= kerf_mm}
    for hole in small.values():
        what = f'a hole of {format_mm(hole.diameter_mm, 2)} in "{piece.name}" is lost in a kerf of {kerf}'
        yield make_error(_place_of(hole, piece), what, "use a smaller kerf or a larger hole")
    for slit in piece.marks.slits:
        length_mm = distance(slit.start, slit.end)
        if length_mm <= kerf_mm:
            what = f'a slit of {format_mm(length_mm, 2)} in "{piece.name}" is lost in a kerf of {kerf}'
            yield make_error(piece.place, what, "use a smaller kerf or a longer slit")


def _place_of(hole: Hole, piece: Piece) -> Place:
    return hole.place if hole.place != Place() else piece.place


def _draw(build: Build, piece: Piece, kerf_mm: float) -> Drawing:
    said = words("export")
    paths = _piece_paths(piece, kerf_mm)
    kerf = f"{said['kerf']} {format_mm(kerf_mm, KERF_PLACES)}" if kerf_mm else said["no_kerf"]
    cut_box = path_box(paths["cut"][-1])
    texts = _set_words(build, piece, cut_box, (said["scale"], kerf))
    boxes = [path_box(path) for layer in paths.values() for path in layer]
    box = box_union([*boxes, *(text_box(text) for text in texts)])
    origin = Point(MARGIN_MM - box.left, MARGIN_MM - box.bottom)
    move = translation(*origin)
    layers = tuple(
        Layer(name=name, title=said[name], paths=tuple(transform_path(path, move) for path in paths.get(name, ())))
        for name in LAYERS
    )
    moved = tuple(mark for mark in place_marks(texts, *origin) if isinstance(mark, TextMark))
    return Drawing(
        name=file_name(build, piece),
        title=shorten(f"{piece.title} - {build.title}"),
        width_mm=box.width + 2 * MARGIN_MM,
        height_mm=box.height + 2 * MARGIN_MM,
        origin=origin,
        remarks=(f"{build.code} version {build.version} {build.digest}", said["scale"], kerf),
        layers=(replace(layers[0], texts=moved), *layers[1:]),
    )


def file_name(build: Build, piece: Piece) -> str:
    """`field-bag-v3-back`: whatever could lead out of a folder becomes a hyphen."""
    return NOT_IN_NAMES.sub("-", f"{build.code}-v{build.version}-{piece.name}").strip(".-")


def _piece_paths(piece: Piece, kerf_mm: float) -> dict[str, tuple[Path, ...]]:
    """The piece's lines by layer, in its own coordinates; the outline is the last path of the layer "cut"."""
    prick_mm = max(PRICK_MM - kerf_mm, LEAST_PRICK_MM)
    found: dict[str, list[Path]] = {name: [] for name in LAYERS}
    found["pricks"] = _once(path for line in piece.marks.stitch_lines for path in prick_paths(line, prick_mm))
    for line in lines_of(piece):
        if isinstance(line, StitchLine):
            found["stitch"] += line.own_parts
        elif line.kind not in NOT_EXPORTED:
            found[LAYER_OF.get(line.kind, "marks")].append(_allow_kerf(line, piece, kerf_mm))
    return {name: tuple(paths) for name, paths in found.items()}


def _once(circles: Iterable[Path]) -> list[Path]:
    """The circles without those that lie on an earlier one: a hole that two seams share is made once, and so is the one
    where a closed row begins and ends."""
    kept: dict[tuple[int, int], list[Point]] = {}
    found = []
    for path in circles:
        at = path_box(path).centre
        column, row = math.floor(at.x), math.floor(at.y)
        cells = ((column + x, row + y) for x in (-1, 0, 1) for y in (-1, 0, 1))
        if not any(distance(at, other) < SAME_MM for cell in cells for other in kept.get(cell, ())):
            kept.setdefault((column, row), []).append(at)
            found.append(path)
    return found


def _allow_kerf(line: PieceLine, piece: Piece, kerf_mm: float) -> Path:
    """A line that is cut, where the middle of the kerf goes; any other as it is."""
    if isinstance(line, Hole):
        return line.wider(-kerf_mm).path
    if isinstance(line, Slit):
        return _shorten_slit(line, kerf_mm)
    return outline_path(_grow(piece.outline, kerf_mm / 2)) if line.kind == "cut" else line.path


def _grow(outline: Outline, by_mm: float) -> Outline:
    """The outline `by_mm` larger all round. Curves become chords first: 0.002 mm from them, and so short at
    their ends that sharp corners beside a curve come out where its tangent takes them."""
    if by_mm == 0:
        return outline
    edges = [
        replace(edge, path=replace(edge.path, segments=tuple(c for s in edge.path.segments for c in _chords(s))))
        for edge in outline.edges
    ]
    return inset_outline(Outline(tuple(edges)), -by_mm)


def _chords(segment: Segment) -> tuple[Segment, ...]:
    curve = Path((segment,))
    if not isinstance(segment, Curve) or (length_mm := path_length(curve)) <= 3 * END_MM:
        return (segment,)
    middle = flatten(part_of(curve, END_MM, length_mm - END_MM), CHORD_MM)
    return polyline((segment.start, *middle, segment.end)).segments


def _shorten_slit(slit: Slit, kerf_mm: float) -> Path:
    """The slit shorter by half the kerf at each end, so that what is cut ends where it should."""
    back = scale(unit(subtract(slit.end, slit.start)), kerf_mm / 2)
    return polyline((add(slit.start, back), subtract(slit.end, back)))


def _set_words(build: Build, piece: Piece, cut_box: Box, remarks: Sequence[str]) -> tuple[TextMark, ...]:
    """The label inside the piece, clear of its lines; below it where the piece is too small."""
    style = load_pattern_style()
    small = [LabelLine(text=remark, size_mm=style.small_type_mm) for remark in remarks]
    lines = [
        replace(line, text=shorten(line.text))
        for line in (*label_lines(build, piece, style, is_mirrored=False), *small)
    ]
    room = make_room(outline_path(piece.outline), piece_lines(piece), ())
    label = place_label(room, lines, (0.0, 90.0))
    if not label:
        sized = shrink_lines(lines, SMALL_SHARE)
        width_mm, height_mm = label_size(sized)
        top = cut_box.bottom - BELOW_MM
        label = set_label(sized, Box(cut_box.left, top - height_mm, cut_box.left + width_mm, top), 0.0)
    return tuple(_begin_at_left(text) for text in label)


def _begin_at_left(text: TextMark) -> TextMark:
    """The same text in the same place, told by the start of its baseline."""
    return replace(text, x_mm=text.start.x, y_mm=text.start.y, anchor="start")
