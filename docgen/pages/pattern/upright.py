"""Labels beside small pieces, set upright and larger where the sheet has room that no other template needs.

The template keeps its footprint, so that nothing moves: only the label reaches beyond it, from the end of its leader, or
stands at the piece's other side with a leader there.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from docgen.geometry.path import box_union, boxes_overlap, grow_box, holds_box
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import LabelLine, label_size, set_label, shrink_lines, wrap_lines
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Mark
from docgen.pages.pattern.grid import Placed
from docgen.pages.pattern.moving import out_of_footprint
from docgen.pages.pattern.piece_template import LEADER_GAP_MM, Template, is_upright, reach_words

SHARES: Final = (0.7, 0.5)  # of the sizes inside a piece
WIDEST_MM: Final = (72.0, 56.0, 44.0)
LEVEL_IN_MM: Final = 2.0  # from a corner of the label to the level of its leader
STEP_MM: Final = 1.0
CLEAR_MM: Final = 2.5  # white round the label


Stood = tuple[Mark, tuple[Mark, ...], Box]
"""The leader of a label, the label with what leads on to its words, and the room that is kept for both whatever its
version is."""


def stand_label(template: Template, placed: Placed, sheet: Box, taken: Sequence[Box]) -> Stood | None:
    """The label upright beside a placed piece, inside the sheet and clear of what is `taken`, in grid coordinates, its
    leader in those of the footprint; None where there is no room for it, or none is better than the one that stands
    there."""
    if not template.leaders:
        return None
    held = [grow_box(box, CLEAR_MM) for box in taken]
    inside = grow_box(sheet, -CLEAR_MM)

    def is_free(box: Box) -> bool:
        return holds_box(inside, box) and not any(boxes_overlap(box, other) for other in held)

    for lines in _list_ways(template, is_turned=placed.is_turned):
        for leader in template.leaders:
            line = out_of_footprint(mark_box(leader.mark), placed)
            at = out_of_footprint(Box(leader.end.x, leader.end.y, leader.end.x, leader.end.y), placed).centre
            for box in _list_boxes(lines, at, is_turned=placed.is_turned, is_after=leader.is_right):
                if is_free(box) and (leader.is_right or is_free(line)):
                    label = set_label(lines, box, 0.0)
                    return (
                        leader.mark,
                        (*label, *(() if placed.is_turned else reach_words(at, label))),
                        box_union((box, line)),
                    )
    return None


def _list_ways(template: Template, *, is_turned: bool) -> Iterator[tuple[LabelLine, ...]]:
    """The lines as large as they should be, ever narrower, the name never broken; as they are, where they do not stand
    upright."""
    for share in SHARES:
        name, *rest = shrink_lines(template.words, share)
        yield from ((name, *wrap_lines(rest, widest_mm)) for widest_mm in WIDEST_MM)
    if is_upright(template) == is_turned:
        yield template.label


def _list_boxes(lines: Sequence[LabelLine], leader: Point, *, is_turned: bool, is_after: bool) -> Iterator[Box]:
    """Where the label may stand at the end of its leader, right of it (`is_after`) or left, of a piece that is turned
    above it or below: first with its name there, else in the middle, then ever farther to both sides."""
    width_mm, height_mm = label_size(lines)
    most_mm = max((width_mm if is_turned else height_mm) / 2 - LEVEL_IN_MM, 0.0)
    named_mm = 0.0 if is_turned else (label_size(lines[:1])[1] - height_mm) / 2
    steps = (way * step * STEP_MM for step in range(int(most_mm / STEP_MM) + 1) for way in (-1, 1))
    for aside in dict.fromkeys((named_mm, *steps)):
        if is_turned:
            left = leader.x + aside - width_mm / 2
            bottom = leader.y + LEADER_GAP_MM if is_after else leader.y - LEADER_GAP_MM - height_mm
        else:
            left = leader.x + LEADER_GAP_MM if is_after else leader.x - LEADER_GAP_MM - width_mm
            bottom = leader.y + aside - height_mm / 2
        yield Box(left, bottom, left + width_mm, bottom + height_mm)
