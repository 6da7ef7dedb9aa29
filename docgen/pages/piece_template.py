"""A piece -> the template that is printed: marks at full size, room on paper, and its label.

A strap longer than a sheet is shown as its two ends with a broken middle and its cut length in words.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from docgen.geometry import Box, Path, Point, box_path, outline_box, outline_path, polyline
from docgen.pages.labels import (
    CLEAR_MM,
    LabelLine,
    Room,
    label_size,
    make_room,
    place_label,
    set_label,
    shrink_lines,
)  # fmt: skip
from docgen.pages.moving import mark_box, place_marks
from docgen.pages.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern_style import PatternStyle
from docgen.pages.piece_drawing import draw_piece, piece_lines
from docgen.resolve import Build, Material, Piece
from docgen.units import format_length, format_thickness

BESIDE_MM = 5.0  # from a small piece to its label
BREAK_GAP_MM = 9.0
BREAK_SHARE = 0.32  # of the sheet's height: each end of a strap shown
ROOM_MM = 1.5  # white round a piece, so that its line is never taken for the sheet's frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """`marks` with the lower left of the footprint at (0, 0). A template whose label goes inside carries its `piece`
    moved there, so that the label can be set once it is known where sheets meet."""

    name: str
    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    outline: Path
    label: tuple[LabelLine, ...]
    has_label: bool
    piece: Piece
    offset: Point


def label_lines(build: Build, piece: Piece, style: PatternStyle) -> tuple[LabelLine, ...]:
    """Name, number to cut, material and thickness, version and digest."""
    material = next(item for item in build.materials if item.name == piece.material)
    return (
        LabelLine(text=piece.title, size_mm=style.name_type_mm, face="bold"),
        LabelLine(text=cut_words(piece, build.makes), size_mm=style.label_type_mm, face="bold"),
        LabelLine(text=material_words(material), size_mm=style.label_type_mm),
        LabelLine(text=f"{build.code}  version {build.version}  {build.digest}", size_mm=style.small_type_mm),
    )


def cut_words(piece: Piece, makes: int) -> str:
    """`cut 2`, `cut 2: 1 + 1 mirrored`, `cut 2, for 12 makes 24`."""
    words = f"cut {piece.cut}"
    if piece.is_pair:
        words += f": {piece.cut // 2} + {piece.cut // 2} mirrored"
    return words if makes == 1 else f"{words}, for {makes} makes {piece.cut * makes}"


def material_words(material: Material) -> str:
    """`bridle leather, 5 oz (2 mm)`."""
    return f"{material.title}, {format_thickness(material.thickness_mm, material.kind)}"


def make_template(build: Build, piece: Piece, style: PatternStyle, most_height_mm: float) -> Template:
    """The template of one piece; `most_height_mm` is the sheet's height, for straps that are shown broken."""
    if piece.is_strap and outline_box(piece.outline).height > most_height_mm:
        return _make_broken(build, piece, style, most_height_mm)
    box = outline_box(piece.outline)
    offset = Point(ROOM_MM - box.left, ROOM_MM - box.bottom)
    marks = draw_piece(piece, style, build.show)
    template = Template(
        name=piece.name, marks=place_marks(marks, *offset), width_mm=box.width + 2 * ROOM_MM,
        height_mm=box.height + 2 * ROOM_MM, outline=outline_path(piece.outline),
        label=label_lines(build, piece, style), has_label=False, piece=piece, offset=offset,
    )  # fmt: skip
    if place_label(find_room(template, ()), template.label, (0.0, 90.0)):
        return template
    return _label_beside(template)


def find_room(template: Template, taken: tuple[Box, ...]) -> Room:
    """Room for the label inside the piece; `taken` boxes (in footprint coordinates) are kept clear."""
    piece, dx, dy = template.piece, template.offset.x, template.offset.y
    words = [mark_box(mark) for mark in template.marks if isinstance(mark, TextMark)]
    blocked = [Box(b.left - dx, b.bottom - dy, b.right - dx, b.top - dy) for b in (*taken, *words)]
    return make_room(template.outline, piece_lines(piece), [skive.band for skive in piece.skives], blocked)


def label_marks(template: Template, taken: tuple[Box, ...], *, is_turned: bool) -> tuple[Mark, ...]:
    """The label of a template that still needs one, readable after turning; clear of `taken` boxes when possible."""
    if template.has_label:
        return ()
    angles = (-90.0, 0.0) if is_turned else (0.0, 90.0)
    label = place_label(find_room(template, taken), template.label, angles)
    if not label and taken:
        label = place_label(find_room(template, ()), template.label, angles)
    return place_marks(label, *template.offset)


def _label_beside(template: Template) -> Template:
    """A small piece with its label beside it, and a leader to it."""
    lines = shrink_lines(template.label, 0.6)
    width_mm, height_mm = label_size(lines)
    left = template.width_mm + BESIDE_MM
    total_height = max(template.height_mm, height_mm)
    box = Box(left, total_height - height_mm, left + width_mm, total_height)
    # the leader ends at the middle of the piece's right side
    foot = Point(template.width_mm - ROOM_MM, template.height_mm / 2)
    leader = PathMark(
        path=polyline((Point(left - CLEAR_MM, min(box.centre.y, total_height)), foot)),
        stroke=Stroke(0.18),
        layer="words",
    )
    return replace(
        template, marks=(*template.marks, leader, *set_label(lines, box, 0.0)), width_mm=left + width_mm + ROOM_MM,
        height_mm=total_height, has_label=True,
    )  # fmt: skip


def _make_broken(build: Build, piece: Piece, style: PatternStyle, most_height_mm: float) -> Template:
    """Both ends of a long strap, one above the other, with break lines and the cut length in words between."""
    box = outline_box(piece.outline)
    part = most_height_mm * BREAK_SHARE
    words = f"cut {format_length(box.height, build.show)} long"
    marks = draw_piece(piece, style, build.show)
    low = ClipMark(box=Box(-1, -1, box.width + 1, part), marks=marks)
    lift = part + BREAK_GAP_MM - (box.height - part)
    high = ClipMark(
        box=Box(-1, part + BREAK_GAP_MM, box.width + 1, 2 * part + BREAK_GAP_MM + 1), marks=marks, dy_mm=lift
    )
    breaks = [_break_line(box.width, y, style) for y in (part, part + BREAK_GAP_MM)]
    lines = (
        LabelLine(text=words, size_mm=style.label_type_mm, face="bold"),
        *label_lines(build, piece, style),
    )
    lines = (lines[1], lines[2], lines[0], *lines[3:])
    sized = shrink_lines(lines, 0.75)
    width_mm, height_mm = label_size(sized)
    total = 2 * part + BREAK_GAP_MM
    left = box.width + BESIDE_MM + height_mm / 2
    label_box = Box(left - 1, total / 2 - 1, left + 1, total / 2 + 1)
    offset = Point(ROOM_MM, ROOM_MM)
    label = set_label(sized, label_box, 90.0)
    return Template(
        name=piece.name, marks=place_marks((low, high, *breaks, *label), *offset),
        width_mm=box.width + BESIDE_MM + height_mm + 2 * ROOM_MM, height_mm=max(total, width_mm) + 2 * ROOM_MM,
        outline=box_path(Box(0, 0, box.width, total)), label=lines, has_label=True, piece=piece, offset=offset,
    )  # fmt: skip


def _break_line(width_mm: float, y: float, style: PatternStyle) -> PathMark:
    """A zigzag across the strap where its middle is left out."""
    points = (
        Point(-2, y), Point(width_mm * 0.35, y), Point(width_mm * 0.45, y + 2), Point(width_mm * 0.55, y - 2),
        Point(width_mm * 0.65, y), Point(width_mm + 2, y),
    )  # fmt: skip
    return PathMark(path=polyline(points), stroke=style.punch, layer="marks")
