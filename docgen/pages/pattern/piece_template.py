"""A piece -> the template that is printed: marks at full size, room on paper, and its label.

A strap longer than a sheet is shown as its two ends with a broken middle and its cut length in words.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain

from docgen.classes import dataclass
from docgen.geometry.measure import chords
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import box_path, box_union, boxes_overlap, path_box, polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import add
from docgen.pages.drawn.labels import (
    CLEAR_MM,
    FINEST_MM,
    READABLE_MM,
    LabelLine,
    Room,
    label_size,
    make_room,
    place_label,
    place_lines,
    set_label,
    shrink_lines,
    take_boxes,
    take_shapes,
    wrap_lines,
)
from docgen.pages.drawn.piece_drawing import draw_piece, piece_lines
from docgen.pages.looks.pattern_style import PatternStyle, load_pattern_style
from docgen.pages.marks.moving import mark_box, place_marks
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern.ends_named import ZIGZAG_MM, name_both_ends, name_top
from docgen.pages.pattern.shown_ends import BREAK_GAP_MM, ROOM_MM, is_broken, reach_at, show_ends
from docgen.pages.pattern.template_label import label_lines
from docgen.pages.setting.paging import hold_measures
from docgen.resolve import Build, Piece, lines_of
from docgen.written.units.telling import format_length

BESIDE_MM = 5.0  # from a small piece to its label
WIDTHS_BESIDE_MM = (72.0, 58.0, 46.0, 38.0)
BESIDE_SHARE, BROKEN_SHARE = 0.6, 0.75  # of a label's type, beside a piece and beside the ends of a strap
LEAST_WIDE_MM = 60.0  # of a label along a strap that shows less
LEADER_IN_MM = 3.0  # from the end of a strap's piece to the leader of its label
LEADER_CLEAR_MM = 0.4
LEADER_GAP_MM = 1.2  # from the end of a leader to the words of an upright label
LEADER = Stroke(0.18)
TINY_MM = 1e-6
ORIGIN = Point(0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """The line from a piece to the label beside it, right of it or left: where it ends at the label."""

    end: Point
    mark: PathMark
    is_right: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """`marks` with the lower left of the footprint at (0, 0). A template whose label goes inside carries its `piece`
    moved there, so that the label can be set once it is known where sheets meet, and the `room` inside it."""

    name: str
    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    outline: Path
    label: tuple[LabelLine, ...]
    label_box: Box | None  # where the label stands beside the piece; it runs up the box when that is higher than wide
    piece: Piece
    offset: Point
    room: Room | None = None
    apart: Room | None = None  # that room without what lies in the outlines of what lands on the piece
    is_broken: bool = False
    words: tuple[LabelLine, ...] = ()  # of a label beside the piece, in full size, not broken
    leaders: tuple[Leader, ...] = ()  # to that label, and to one at the other side
    ends: tuple[TextMark, ...] = ()  # of the marks, the names of both ends of what is drawn whole
    standing: tuple[TextMark, ...] = ()  # of the marks, the names of both ends that are shown apart
    turned: tuple[TextMark, ...] = ()  # these as they are set where the template is turned to the left


def make_template(
    build: Build,
    piece: Piece,
    style: PatternStyle,
    most_mm: tuple[float, float],
    *,
    is_whole: bool = False,
    is_mirrored: bool = False,
) -> Template:
    """The template of one piece; a strap longer than a sheet of `most_mm`, width and height, is shown broken unless
    `is_whole`. A label that has no room inside stands beside the piece, but where that would take a second sheet."""
    most_height_mm = most_mm[1]
    if not is_whole and is_broken(piece, most_height_mm):
        return _make_broken(build, piece, style, most_height_mm, is_mirrored)
    box = box_union(
        (outline_box(piece.outline), *(path_box(line.path) for line in lines_of(piece) if line.kind == "landing"))
    )
    offset = Point(ROOM_MM - box.left, ROOM_MM - box.bottom)
    marks = draw_piece(piece, style, build.show)
    ends = name_both_ends(piece, style, marks)
    marks = (*marks, *ends)
    lines = label_lines(build, piece, style, is_mirrored, marks)
    template = Template(
        name=piece.name,
        marks=place_marks(marks, *offset),
        width_mm=box.width + 2 * ROOM_MM,
        height_mm=box.height + 2 * ROOM_MM,
        outline=outline_path(piece.outline),
        label=lines,
        label_box=None,
        piece=piece,
        offset=offset,
        ends=tuple(mark for mark in place_marks(ends, *offset) if isinstance(mark, TextMark)),
    )
    room = find_room(template, ())
    shapes = _landed_shapes(piece)
    inside = replace(template, room=room, apart=take_shapes(room, shapes) if shapes else None)
    if place_label(room, template.label, (0.0, 90.0)):
        return inside
    beside = _label_beside(template, lines)
    return inside if _fits(inside, most_mm) and not _fits(beside, most_mm) else beside


def _fits(template: Template, most_mm: tuple[float, float]) -> bool:
    sides = template.width_mm - 1e-9, template.height_mm - 1e-9
    return any(wide <= most_mm[0] and high <= most_mm[1] for wide, high in (sides, sides[::-1]))


def find_room(template: Template, taken: tuple[Box, ...]) -> Room:
    """Room for the label inside the piece; `taken` boxes (in footprint coordinates) are kept clear."""
    if template.room is None:
        bands = [skive.band for skive in template.piece.marks.skives]
        room = make_room(template.outline, piece_lines(template.piece), bands)
        taken = (*taken, *(mark_box(mark) for mark in template.marks if isinstance(mark, TextMark)))
    else:
        room = template.room
    return _take(template, room, taken)


def _take(template: Template, room: Room, taken: tuple[Box, ...]) -> Room:
    return take_boxes(room, [_off(template, box) for box in taken])


def label_marks(template: Template, taken: tuple[Box, ...], *, is_turned: bool) -> tuple[Mark, ...]:
    """The label of a template that still needs one, readable after turning; clear of `taken` boxes when possible."""
    if template.label_box is not None:
        label = _set_beside(template.label, _slide(template, template.label_box, taken), is_turned=is_turned)
        leaders = template.leaders[:1]
        far = leaders if _runs_across(template.label, template.label_box) else ()
        reached = (mark for leader in far for mark in reach_words(leader.end, label))
        return (*(leader.mark for leader in leaders), *reached, *label)
    angles = (0.0, -90.0) if is_turned else (0.0, 90.0)  # upright as the piece is, where it has the room
    rooms = [find_room(template, boxes) for boxes in ((taken, ()) if taken else ((),))]
    apart = [_take(template, template.apart, boxes) for boxes in ((taken, ()) if taken else ((),)) if template.apart]
    ways = chain(
        (place_label(room, template.label, angles, shares=(1.0,)) for room in apart),
        (place_label(room, template.label, angles) for room in rooms),
        (place_lines(room, template.label, angles, size) for size in (READABLE_MM, FINEST_MM) for room in rooms),
    )
    inside = next(filter(None, ways), None) or _set_across(template)
    return place_marks(inside, *template.offset)


def finish_template(
    template: Template, taken: tuple[Box, ...], *, is_turned: bool
) -> tuple[Template, tuple[Mark, ...]]:
    """A template whose place is known, with the names of its ends as they read there, and its label. Where that does not
    read as the piece stands its top is named besides: with the label, or on the template where that stands beside it and
    may be set anew. The boxes `taken`, in footprint coordinates, are kept clear."""
    template = turn_names(template) if is_turned and template.turned else template
    template = replace(template, marks=keep_ends_whole(template, taken)) if template.ends else template
    label = label_marks(template, taken, is_turned=is_turned)
    reads = {mark.angle_deg for mark in label if isinstance(mark, TextMark)}
    if reads <= {0.0} and not (is_turned and template.label_box):
        return template, label
    dx, dy = template.offset
    own = place_marks((*template.marks, *label), -dx, -dy)
    found = name_top(template.piece, load_pattern_style(), own, [_off(template, box) for box in taken])
    top = place_marks(found, dx, dy)
    if template.label_box is None:
        return template, (*label, *top)
    return replace(template, marks=(*template.marks, *top)), label


def _off(template: Template, box: Box) -> Box:
    """A box of the footprint in the coordinates of the piece."""
    dx, dy = template.offset
    return Box(box.left - dx, box.bottom - dy, box.right - dx, box.top - dy)


def turn_names(template: Template) -> Template:
    """A template that will be turned to the left, with the lines of its names in the order of reading there."""
    rest = tuple(mark for mark in template.marks if mark not in template.standing)
    return replace(template, marks=(*rest, *template.turned), standing=template.turned, turned=template.standing)


def keep_ends_whole(template: Template, taken: tuple[Box, ...]) -> tuple[Mark, ...]:
    """The marks of a template whose sheets meet in the boxes `taken`, in footprint coordinates: where the name of an end
    lies in one, and would be cut there, both are set clear of them, where there is room."""
    if not any(boxes_overlap(mark_box(mark), box) for mark in template.ends for box in taken):
        return template.marks
    rest = tuple(mark for mark in template.marks if mark not in template.ends)
    dx, dy = template.offset
    own = place_marks(rest, -dx, -dy)
    ends = name_both_ends(template.piece, load_pattern_style(), own, [_off(template, box) for box in taken])
    return (*rest, *place_marks(ends, dx, dy)) if ends else template.marks


def _landed_shapes(piece: Piece) -> tuple[Path, ...]:
    """Where other parts lie on a piece: a label in there would seem to be theirs."""
    return (*(mark.outline for mark in piece.marks.landings), *(mark.outline for mark in piece.strap_landings))


def _set_across(template: Template) -> tuple[TextMark, ...]:
    """A label in the middle of a piece that has no room for words: lines run through it, but it names the piece."""
    return set_label(shrink_lines(template.label, 0.0, FINEST_MM), path_box(template.outline), 0.0)


def _set_beside(lines: tuple[LabelLine, ...], box: Box, *, is_turned: bool) -> tuple[TextMark, ...]:
    """A label beside its piece, never upside down once the template is turned to the left."""
    angle_deg = 0.0 if _runs_across(lines, box) else (-90.0 if is_turned else 90.0)
    return set_label(lines, box, angle_deg)


def _slide(template: Template, box: Box, taken: tuple[Box, ...]) -> Box:
    """The room of a label beside its piece; of one that runs along a strap moved along it, while its leader still meets
    it, to where it is clear of `taken` boxes."""
    if not template.is_broken or not taken or _runs_across(template.label, box):
        return box
    long_mm, level = label_size(template.label)[0], template.leaders[0].end.y
    for step in range(int(long_mm)):
        for middle in (box.centre.y - step, box.centre.y + step):
            own = Box(box.left, middle - long_mm / 2, box.right, middle + long_mm / 2)
            is_led = own.bottom + LEADER_IN_MM <= level <= own.top - LEADER_IN_MM
            is_inside = own.bottom >= box.bottom - TINY_MM and own.top <= box.top + TINY_MM
            if is_led and is_inside and not any(boxes_overlap(own, other) for other in taken):
                return own
    return box


def reach_words(end: Point, label: Sequence[TextMark]) -> Iterator[PathMark]:
    """A leader from its end on to the words at its level, where these are narrower than the label."""
    boxes = [mark_box(mark) for mark in label]
    near = [box for box in boxes if box.bottom - LEADER_GAP_MM <= end.y <= box.top + LEADER_GAP_MM]
    left, right = (min(box.left for box in near), max(box.right for box in near)) if near else (end.x, end.x)
    x = left - LEADER_GAP_MM if left > end.x else right + LEADER_GAP_MM
    if abs(x - end.x) > LEADER_GAP_MM + TINY_MM:
        path = polyline((end, Point(x, end.y)))
        yield PathMark(path=path, stroke=LEADER, layer="words")


def _runs_across(lines: tuple[LabelLine, ...], box: Box) -> bool:
    return label_size(lines)[0] <= box.width + 1e-6


def is_upright(template: Template) -> bool:
    """Whether the label beside a piece runs across the sheet while the piece is not turned."""
    return template.label_box is not None and _runs_across(template.label, template.label_box)


def _label_beside(template: Template, lines: tuple[LabelLine, ...]) -> Template:
    """A small piece with its label beside it, and a short leader from its edge, level with the label where that can
    be."""
    full, lines = lines, _wrap_beside(lines, template.height_mm - 2 * ROOM_MM)
    width_mm, height_mm = label_size(lines)
    left = template.width_mm + BESIDE_MM
    total_height = max(template.height_mm, height_mm + 2 * ROOM_MM)
    top = total_height - ROOM_MM
    box = Box(left, top - height_mm, left + width_mm, top)
    level = box.centre.y if total_height <= template.height_mm else template.height_mm / 2
    near, far = _edges(template, level)
    leaders = (
        _draw_leader(Point(left - CLEAR_MM, level), far, is_right=True),
        _draw_leader(Point(ROOM_MM - BESIDE_MM, level), near, is_right=False),
    )
    return replace(
        template,
        width_mm=left + width_mm + ROOM_MM,
        height_mm=total_height,
        label=lines,
        label_box=box,
        words=full,
        leaders=leaders,
    )


def _wrap_beside(lines: tuple[LabelLine, ...], high_mm: float) -> tuple[LabelLine, ...]:
    """The lines of a label beside a piece so high: as narrow as they are no higher than it, else as wide as may be."""
    small = shrink_lines(lines, BESIDE_SHARE)
    first, *others = (wrap_lines(small, wide) for wide in WIDTHS_BESIDE_MM)
    return next((way for way in reversed(others) if label_size(way)[1] <= high_mm), first)


def _edges(template: Template, y: float) -> tuple[Point, Point]:
    """Where the piece's outline is farthest to the left and to the right at a height of its footprint; at its middle when
    the height is above it."""
    level = y if ROOM_MM < y < template.height_mm - ROOM_MM else template.height_mm / 2
    found = chords(template.outline, Point(0.0, level - template.offset.y), Point(1.0, 0.0))
    across = [end.x + template.offset.x for pair in found for end in pair]
    near, far = min(across, default=ROOM_MM), max(across, default=template.width_mm - ROOM_MM)
    return Point(near, level), Point(far, level)


def _make_broken(build: Build, piece: Piece, style: PatternStyle, most_height_mm: float, is_mirrored: bool) -> Template:
    """Both ends of a long strap with break lines, one above the other, or side by side where that is too long; each with
    its name, and the cut length in words."""
    marks = draw_piece(piece, style, build.show)
    box, (low_mm, high_mm, *names) = outline_box(piece.outline), show_ends(piece, style, marks, most_height_mm)
    is_stacked = low_mm + BREAK_GAP_MM + high_mm + 2 * (ROOM_MM + ZIGZAG_MM) <= most_height_mm
    right = 0.0 if is_stacked else box.width + 2 * BREAK_GAP_MM
    foot = low_mm + BREAK_GAP_MM if is_stacked else 0.0
    total = max(low_mm, foot + high_mm)
    low = ClipMark(box=Box(-1, -1, box.width + 1, low_mm), marks=marks)
    high = ClipMark(
        box=Box(right - 1, foot, right + box.width + 1, foot + high_mm + 1),
        marks=marks,
        dx_mm=right,
        dy_mm=foot + high_mm - box.height,
    )
    breaks = (_break_line(box.width, low_mm, 0.0, style), _break_line(box.width, foot, right, style))
    shifts = (ORIGIN, Point(right, foot + high_mm - box.height))
    full = _broken_label(build, piece, style, is_mirrored, marks)
    lines = wrap_lines(shrink_lines(full, BROKEN_SHARE), max(total, LEAST_WIDE_MM))
    width_mm, height_mm = label_size(lines)
    left = right + box.width + BESIDE_MM
    offset = Point(ROOM_MM, ROOM_MM + ZIGZAG_MM + max((width_mm - total) / 2, 0.0))
    middle, half, foot_mm = total / 2, width_mm / 2, ROOM_MM + ZIGZAG_MM
    # the leader stands level with the label and with the end beside it
    level = min(max(middle, foot + LEADER_IN_MM), foot + high_mm - box.width / 2 - LEADER_IN_MM)
    level = min(max(level, middle - half), middle + half)
    low_level = min(level, low_mm - LEADER_IN_MM)
    near, far = (partial(reach_at, piece, pick) for pick in (min, max))
    leaders = (
        _draw_leader(
            Point(left - LEADER_CLEAR_MM, level), Point(right + far(level - shifts[1].y), level), offset, is_right=True
        ),
        _draw_leader(Point(-BESIDE_MM, low_level), Point(near(low_level), low_level), offset, is_right=False),
    )
    standing, turned = (
        tuple(mark.shifted(*add(by, offset)) for own, by in zip(name, shifts, strict=True) for mark in own)
        for name in ([name.standing for name in names], [name.turned for name in names])
    )
    return Template(
        name=piece.name,
        marks=(*place_marks((low, high, *breaks), *offset), *standing),
        width_mm=left + height_mm + 2 * ROOM_MM,
        height_mm=max(total, width_mm) + 2 * (ROOM_MM + ZIGZAG_MM),
        outline=box_path(Box(0, 0, box.width, total)),
        label=lines,
        piece=piece,
        offset=offset,
        label_box=Box(left + offset.x, foot_mm, left + height_mm + offset.x, foot_mm + max(total, width_mm)),
        is_broken=True,
        standing=standing,
        turned=turned,
        words=full,
        leaders=leaders,
    )


def _draw_leader(start: Point, end: Point, offset: Point = ORIGIN, *, is_right: bool) -> Leader:
    start, end = add(start, offset), add(end, offset)
    mark = PathMark(path=polyline((start, end)), stroke=LEADER, layer="words")
    return Leader(end=start, mark=mark, is_right=is_right)


def _broken_label(
    build: Build, piece: Piece, style: PatternStyle, is_mirrored: bool, marks: tuple[Mark, ...]
) -> tuple[LabelLine, ...]:
    """The label with the cut length after the name."""
    length_mm = outline_box(piece.outline).height
    name, *rest = label_lines(build, piece, style, is_mirrored, marks)
    cut = LabelLine(
        text=hold_measures(f"cut {format_length(length_mm, build.show)} long"), size_mm=style.label_type_mm, face="bold"
    )
    return name, cut, *rest


def _break_line(width_mm: float, y: float, left: float, style: PatternStyle) -> PathMark:
    """A zigzag across the strap, from 2 mm left of it to 2 mm right, where its middle is left out."""
    places = (
        (-2.0, 0.0),
        (0.35 * width_mm, 0.0),
        (0.45 * width_mm, ZIGZAG_MM),
        (0.55 * width_mm, -ZIGZAG_MM),
        (0.65 * width_mm, 0.0),
        (width_mm + 2.0, 0.0),
    )
    points = tuple(Point(left + x, y + rise) for x, rise in places)
    return PathMark(path=polyline(points), stroke=style["punch"], layer="marks")
