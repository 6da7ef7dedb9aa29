"""Where a template has room for a sheet's tag: inside the piece, or beside the ends of a strap that are shown apart; clear
of its lines and its label, and of the strips where sheets are joined."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import product

from docgen.geometry.path import box_path, boxes_overlap, grow_box
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import Room, find_free_box, make_room, take_boxes
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import PathMark
from docgen.pages.pattern.grid import Placed, Spot, Tag
from docgen.pages.pattern.moving import into_footprint, out_of_footprint
from docgen.pages.pattern.piece_template import Template, find_room, finish_template, label_marks

WORDS_CLEAR_MM = 3.0  # from the words of a piece to a tag
MATCH_ROOM_MM = 9.0, 5.5  # from a strip to the end of a match mark's number, across and up
LONGEST_TICK_MM = 6.0
EDGE_MM = 1.0  # from the rim of a footprint
FAR_MM = 1e5
Shapes = tuple[tuple[tuple[float, float], ...], ...]  # of each block: width and height of each shape


def make_tag(templates: Iterable[Template], shapes: Shapes) -> Tag:
    """What every sheet carries, with the room that these templates have for it."""
    by_name = {template.name: _beside_ends(_without_ticks(template), shapes) for template in templates}

    def held(placed: Placed, sheet: Box, strips: tuple[Box, ...]) -> tuple[Spot, ...]:
        return _find_spots(by_name[placed.name], placed, sheet, strips, shapes)

    return Tag(blocks=shapes, held=held)


def _without_ticks(template: Template) -> Template:
    """The template with a room that is clear also of the ticks of its stitch lines, which a label may come nearer to."""
    if template.room is None:
        return template
    ticks = [mark for mark in template.marks if isinstance(mark, PathMark) and mark.layer == "stitch" and mark.stroke]
    return replace(template, room=find_room(template, tuple(mark_box(mark) for mark in ticks if _is_short(mark))))


def _beside_ends(template: Template, shapes: Shapes) -> Template:
    """The template of a strap that is shown broken with the room beside its ends, where a block finds it there."""
    if not template.is_broken:
        return template
    dx, dy = template.offset
    inside = box_path(
        Box(EDGE_MM - dx, EDGE_MM - dy, template.width_mm - dx - EDGE_MM, template.height_mm - dy - EDGE_MM)
    )
    held = [
        grow_box(mark_box(mark), WORDS_CLEAR_MM)
        for mark in (*template.marks, *label_marks(template, (), is_turned=False))
    ]
    room = make_room(
        inside, (), (), [Box(box.left - dx, box.bottom - dy, box.right - dx, box.top - dy) for box in held]
    )
    has_room = any(
        find_free_box(room, *sides)
        for block in shapes
        for wide, high in block
        for sides in ((wide, high), (high, wide))
    )
    return replace(template, room=room) if has_room else template


def _is_short(mark: PathMark) -> bool:
    box = mark_box(mark)
    return max(box.width, box.height) < LONGEST_TICK_MM


def _find_spots(
    template: Template, placed: Placed, sheet: Box, strips: tuple[Box, ...], shapes: Shapes
) -> tuple[Spot, ...]:
    """Spots for all blocks, else for as many as find room, in the coordinates of the grid."""
    shown = _meet(placed.box, sheet)
    is_beside = template.is_broken and not strips  # a sheet by itself has its tag wherever it is free
    if template.room is None or is_beside or shown is None or not _may_hold(shown, shapes):
        return ()
    taken = tuple(into_footprint(strip, placed) for strip in strips)
    _, label = finish_template(template, taken, is_turned=placed.is_turned)
    words = [grow_box(mark_box(mark), WORDS_CLEAR_MM) for mark in label]
    joined = [into_footprint(_with_matches(strip), placed) for strip in strips]
    room = find_room(template, (*joined, *words, *_around(into_footprint(sheet, placed))))
    found: tuple[Spot, ...] = ()
    for own in product(*(range(len(block)) for block in shapes)):
        spots = tuple(_spots_of(template, placed, room, shapes, own))
        found = max(found, spots, key=len)
        if len(found) == len(shapes):
            break
    return found


def _spots_of(template: Template, placed: Placed, room: Room, shapes: Shapes, own: tuple[int, ...]) -> Iterable[Spot]:
    """A spot for each block in the shape that is tried, as near to the lower left as there is room."""
    corner = Point(room.box.left, room.box.top if placed.is_turned else room.box.bottom)
    dx, dy = template.offset
    for block, shape in enumerate(own):
        wide, high = shapes[block][shape]
        size = (high, wide) if placed.is_turned else (wide, high)
        free = find_free_box(room, *size, corner)
        if free is not None:
            room = take_boxes(room, (free,))
            inner = Box(free.left + dx, free.bottom + dy, free.left + dx + size[0], free.bottom + dy + size[1])
            yield Spot(block=block, shape=shape, box=out_of_footprint(inner, placed))


def _with_matches(strip: Box) -> Box:
    """A strip with the room of the match marks at its edge and of their numbers, which run across the page."""
    across, up = (MATCH_ROOM_MM[0], 0.0) if strip.height > strip.width else (0.0, MATCH_ROOM_MM[1])
    return Box(strip.left - across, strip.bottom - up, strip.right + across, strip.top + up)


def _meet(box: Box, sheet: Box) -> Box | None:
    if not boxes_overlap(box, sheet):
        return None
    return Box(
        max(box.left, sheet.left), max(box.bottom, sheet.bottom), min(box.right, sheet.right), min(box.top, sheet.top)
    )


def _may_hold(shown: Box, shapes: Shapes) -> bool:
    return any(wide < shown.width and high < shown.height for block in shapes for wide, high in block)


def _around(box: Box) -> tuple[Box, ...]:
    """All that lies outside a box, as boxes."""
    return (
        Box(-FAR_MM, -FAR_MM, box.left, FAR_MM),
        Box(box.right, -FAR_MM, FAR_MM, FAR_MM),
        Box(-FAR_MM, -FAR_MM, FAR_MM, box.bottom),
        Box(-FAR_MM, box.top, FAR_MM, FAR_MM),
    )
