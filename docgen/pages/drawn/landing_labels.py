"""The names of what lands on a piece: inside its dotted outline, near the top or in the corner, clear of every line."""

from collections.abc import Iterable, Iterator

from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box, Path, Point
from docgen.pages.drawn.labels import CLEAR_MM, LabelLine, find_free_box, label_size, make_room, set_label, take_boxes
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import TextMark
from docgen.resolve import Landing, Piece, StrapLanding

CORNER_WIDTHS = (
    3.0  # in an outline so many times as wide as its name, that stands in the corner, apart from the piece's
)


def landing_labels(
    piece: Piece, lines: Iterable[Path | Box], style: PatternStyle, taken: Iterable[Box]
) -> Iterator[TextMark]:
    """The name of each piece and strap where it lands; `lines` and boxes that are `taken` are kept clear. One without
    room for it has none."""
    landings: tuple[Landing | StrapLanding, ...] = (*piece.marks.landings, *piece.strap_landings)
    lines, held = tuple(lines) if landings else (), list(taken)
    bands = [skive.band for skive in piece.marks.skives]
    for landing in landings:
        room = take_boxes(make_room(landing.outline, (outline_path(piece.outline), *lines), bands), held)
        words = (LabelLine(text=landing.title, size_mm=style.small_type_mm),)
        for angle in (0.0, 90.0):
            width_mm, height_mm = label_size(words)[:: 1 if angle == 0.0 else -1]
            box = path_box(landing.outline)
            is_wide = box.width > CORNER_WIDTHS * width_mm
            left = box.left if is_wide else box.centre.x - width_mm / 2 - CLEAR_MM
            near = Point(left, box.top - height_mm - 2 * CLEAR_MM)
            free = (
                find_free_box(room, width_mm + 2 * CLEAR_MM, height_mm + 2 * CLEAR_MM, near) if landing.title else None
            )
            if free is not None:
                mark = set_label(words, free, angle)[0]
                held.append(mark_box(mark))
                yield mark
                break


def names_left_out(piece: Piece, texts: Iterable[str]) -> tuple[str, ...]:
    """Titles of what lands on the piece that stand nowhere among the texts drawn on it."""
    said = set(texts)
    titles = [landing.title for landing in piece.marks.landings] + [landing.title for landing in piece.strap_landings]
    return tuple(title for title in dict.fromkeys(titles) if title and title not in said)
