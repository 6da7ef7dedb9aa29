"""Labels beside small pieces, set upright and larger where the sheet has room that no other template needs.

The template keeps its footprint, so that nothing moves: only the label reaches beyond it, from the end of its leader.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from docgen.geometry.path import boxes_overlap, grow_box, holds_box
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import LabelLine, label_size, set_label, shrink_lines, wrap_lines
from docgen.pages.marks.page import TextMark
from docgen.pages.pattern.grid import Placed
from docgen.pages.pattern.moving import out_of_footprint
from docgen.pages.pattern.piece_template import Template, is_upright
from docgen.written.units.table import MM_PER_POINT

READABLE_MM: Final = 10 * MM_PER_POINT  # no line is finer; at the bench no less is read without stooping
SHARES: Final = (0.7, 0.5)  # of the sizes inside a piece
WIDEST_MM: Final = (72.0, 56.0, 44.0)
LEADER_GAP_MM: Final = 1.2
LEVEL_IN_MM: Final = 2.0  # from a corner of the label to the level of its leader
STEP_MM: Final = 1.0
CLEAR_MM: Final = 2.5  # white round the label


Stood = tuple[tuple[TextMark, ...], Box]
"""A label, and the room that is kept for it whatever its version is."""


def stand_label(template: Template, placed: Placed, sheet: Box, taken: Sequence[Box]) -> Stood | None:
    """The label upright beside a placed piece, inside the sheet and clear of what is `taken`, in grid coordinates; None
    where there is no room for it, or none is better than the one that stands there."""
    if template.leader_end is None:
        return None
    at = template.leader_end
    leader = out_of_footprint(Box(at.x, at.y, at.x, at.y), placed).centre
    held = [grow_box(box, CLEAR_MM) for box in taken]
    inside = grow_box(sheet, -CLEAR_MM)
    for lines in _list_ways(template, is_turned=placed.is_turned):
        for box in _list_boxes(lines, leader, is_turned=placed.is_turned):
            if holds_box(inside, box) and not any(boxes_overlap(box, other) for other in held):
                return set_label(lines, box, 0.0), box
    return None


def _list_ways(template: Template, *, is_turned: bool) -> Iterator[tuple[LabelLine, ...]]:
    """The lines as large as they should be, ever narrower, the name never broken; as they are, where they do not stand
    upright."""
    for share in SHARES:
        small = shrink_lines(template.words, share)
        name, *rest = (replace(line, size_mm=max(line.size_mm, READABLE_MM)) for line in small)
        yield from ((name, *wrap_lines(rest, widest_mm)) for widest_mm in WIDEST_MM)
    if is_upright(template) == is_turned:
        yield template.label


def _list_boxes(lines: Sequence[LabelLine], leader: Point, *, is_turned: bool) -> Iterator[Box]:
    """Where the label may stand at the end of its leader, right of it or, of a piece that is turned, above it: first in
    the middle, then ever farther to both sides."""
    width_mm, height_mm = label_size(lines)
    most_mm = max((width_mm if is_turned else height_mm) / 2 - LEVEL_IN_MM, 0.0)
    for step in range(int(most_mm / STEP_MM) + 1):
        for aside in dict.fromkeys((-step * STEP_MM, step * STEP_MM)):
            if is_turned:
                left, bottom = leader.x + aside - width_mm / 2, leader.y + LEADER_GAP_MM
            else:
                left, bottom = leader.x + LEADER_GAP_MM, leader.y + aside - height_mm / 2
            yield Box(left, bottom, left + width_mm, bottom + height_mm)
